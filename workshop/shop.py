"""What the shop has settled once: its letterhead, its units, and the rates an estimate starts from."""

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from workshop import actions
from workshop.actions import Hand, recorded
from workshop.models import Shop


def change(*, shop: Shop, by: Hand, version: int, **fields: object) -> Shop:
    with recorded(by, "shop.change", shop) as record:
        record.answer = reverse("front:shop")
        record.save(shop, version=version, **fields)
    return shop


actions.say("shop.change", _("Shop settings changed"))
