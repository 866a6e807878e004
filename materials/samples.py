"""Samples and finish panels sent to client or architect; an order that waits for one is held until it is approved."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.models import Material, Order, Sample
from workshop import actions, clock, photos
from workshop.actions import Hand, Record, recorded
from workshop.photos import Picture


def holding(orders: Iterable[Order]) -> dict[int, list[Sample]]:
    """The samples that hold these orders, by order; one query."""
    found: dict[int, list[Sample]] = defaultdict(list)
    for sample in Sample.objects.holding().filter(order__in=list(orders)):
        found[sample.order_id].append(sample)
    return found


def add(
    *, material: Material, by: Hand, what: str, sent_to: str, sent_on: date, order: Order | None = None, note: str = ""
) -> Sample:
    words = {"what": what, "to": sent_to}
    with recorded(by, "sample.add", about=[material], **words) as record:
        _check_order(order)
        _check_sent(sent_on)
        sample = Sample(material=material, order=order, what=what, sent_to=sent_to, sent_on=sent_on, note=note)
        record.add(sample)
        _file(record, sample)
    return sample


def change(*, sample: Sample, by: Hand, version: int, **fields: object) -> Sample:
    """Another word, day or order; the answer is not changed here."""
    before = sample.order
    with recorded(by, "sample.change", sample, what=fields["what"]) as record:
        if fields["order"] != before:
            _check_order(fields["order"])
        _check_sent(fields["sent_on"])
        if sample.answered_on and fields["sent_on"] > sample.answered_on:
            message = _("It was answered on %(day)s. Type that day, or one before.")
            day = clock.day_text(sample.answered_on)
            raise ValidationError({"sent_on": ValidationError(message, params={"day": day})})
        record.save(sample, version=version, **fields)
        _file(record, sample)
        record.about(*([before] if before else []))
    return sample


def answer(
    *,
    sample: Sample,
    by: Hand,
    is_approved: bool,
    answered_on: date,
    note: str = "",
    pictures: Sequence[Picture] = (),
) -> Sample:
    """Approved or refused, with the day and, where there is one, a photo of what was signed."""
    said = _("approved") if is_approved else _("refused")
    words = {"what": sample.what, "who": sample.sent_to, "answer": said}
    with photos.stored(pictures[:1], by.person) as rows, recorded(by, "sample.answer", sample, **words) as record:
        sample = Sample.objects.select_for_update().get(pk=sample.pk)
        if sample.answered_on:
            message = _("It was answered on %(day)s. Take that back first, or send another sample.")
            raise ValidationError(message, params={"day": clock.day_text(sample.answered_on)})
        if answered_on > clock.today():
            message = _("%(day)s is still to come. Type the day of the answer.")
            raise ValidationError(
                {"answered_on": ValidationError(message, params={"day": clock.day_text(answered_on)})}
            )
        if answered_on < sample.sent_on:
            message = _("It was sent on %(day)s. Type that day, or a later one.")
            day = clock.day_text(sample.sent_on)
            raise ValidationError({"answered_on": ValidationError(message, params={"day": day})})
        photo = record.add(rows[0]) if rows else sample.photo
        changes = {"is_approved": is_approved, "answered_on": answered_on, "note": note or sample.note}
        record.save(sample, photo=photo, **changes)
        _file(record, sample)
    return sample


def _file(record: Record, sample: Sample) -> None:
    record.about(sample.material, *([sample.order] if sample.order else []))
    record.answer = reverse("materials:sample", args=[sample.pk])


def _check_order(order: Order | None) -> None:
    if order and order.cancelled_on:
        message = _("Order %(number)s is cancelled. Choose another, or none.")
        raise ValidationError({"order": ValidationError(message, params={"number": order.number})})


def _check_sent(sent_on: date) -> None:
    if sent_on > clock.today():
        message = _("%(day)s is still to come. Type the day it was sent.")
        raise ValidationError({"sent_on": ValidationError(message, params={"day": clock.day_text(sent_on)})})


actions.say("sample.add", gettext_lazy("Sample sent to %(to)s: %(what)s"))
actions.say("sample.change", gettext_lazy("Sample changed: %(what)s"))
actions.say("sample.answer", gettext_lazy("Sample %(what)s: %(answer)s by %(who)s"))
