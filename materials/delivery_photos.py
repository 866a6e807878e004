"""Photos of a delivery: added at the truck or later, and taken out again. A file stays, so that it can come back."""

from collections.abc import Sequence

from django.urls import reverse
from django.utils.translation import gettext_lazy, ngettext

from materials.models import Delivery, DeliveryPhoto
from workshop import actions, photos
from workshop.actions import Hand, recorded
from workshop.photos import Picture


def add(*, delivery: Delivery, pictures: Sequence[Picture], by: Hand) -> list[DeliveryPhoto]:
    count = len(pictures)
    what = ngettext("%(count)s photo", "%(count)s photos", count) % {"count": count}
    words = {"number": delivery.number, "what": what}
    with photos.stored(pictures, by.person) as taken, recorded(by, "delivery_photo.add", delivery, **words) as record:
        record.answer = reverse("materials:delivery", args=[delivery.pk])
        return [record.add(DeliveryPhoto(delivery=delivery, photo=record.add(photo))) for photo in taken]


def remove(*, photo: DeliveryPhoto, by: Hand) -> None:
    delivery = photo.delivery
    with recorded(by, "delivery_photo.remove", delivery, number=delivery.number) as record:
        record.answer = reverse("materials:delivery", args=[delivery.pk])
        record.remove(photo)
        record.remove(photo.photo)


actions.say("delivery_photo.add", gettext_lazy("Delivery %(number)s: %(what)s added"))
actions.say("delivery_photo.remove", gettext_lazy("Delivery %(number)s: photo taken out"))
