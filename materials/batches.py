"""The batch number and use-by date of a finish lot, told at the count or later."""

from datetime import date

from django.urls import reverse
from django.utils.translation import gettext_lazy

from materials.models import Lot
from workshop import actions
from workshop.actions import Hand, recorded


def describe(*, lot: Lot, by: Hand, version: int, batch_number: str, use_by_on: date | None) -> Lot:
    with recorded(by, "lot.batch", lot, about=[lot.material], lot=lot.number) as record:
        record.answer = reverse("materials:lot", args=[lot.pk])
        record.save(lot, version=version, batch_number=batch_number, use_by_on=use_by_on)
    return lot


actions.say("lot.batch", gettext_lazy("Lot %(lot)s: batch or use-by date changed"))
