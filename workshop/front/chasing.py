"""What the shop waits for from others and what runs out: samples, returns, credits, payments, use-by dates."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from django.db.models import F, Sum
from django.db.models.functions import Coalesce
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from materials.calculations.sheet_numbers import show_sheet_numbers
from materials.models import Lot, Order, OrderPayment, Sample, SheetReturn
from workshop import clock
from workshop.templatetags.figures import amount, quantity

SOON_TO_PAY = timedelta(days=14)
SOON_TO_USE_UP = timedelta(days=30)


@dataclass(frozen=True)
class Waiting:
    """One thing to see to: where it is done, what it is about, and the figure that says how urgent it is."""

    mark: str
    state: str
    name: str
    more: str
    url: str
    fig: str
    fig_more: str

    @property
    def is_late(self) -> bool:
        return self.mark == "late"


def to_chase(*, for_owner: bool) -> list[Waiting]:
    """Samples without an answer, sheets not collected and, for the owner, credits not received."""
    return [*_samples(), *_returns(for_owner=for_owner)]


def to_pay() -> list[Waiting]:
    """Payments past their day and those due soon, the earliest first; one query."""
    until = clock.today() + SOON_TO_PAY
    due = OrderPayment.objects.filter(paid_on=None, order__cancelled_on=None, due_on__lte=until)
    return [_payment(payment) for payment in due.select_related("order__supplier").order_by("due_on", "pk")]


def to_use_up() -> list[Waiting]:
    """Lots of which something is not given yet and whose use-by date is near or just past; one query."""
    today = clock.today()
    near = Lot.objects.filter(use_by_on__range=(today - SOON_TO_USE_UP, today + SOON_TO_USE_UP))
    near = near.annotate(shared=Coalesce(Sum("shares__quantity_micro"), 0)).filter(quantity_micro__gt=F("shared"))
    return [_lot(lot, today) for lot in near.select_related("material").order_by("use_by_on", "number")]


def _samples() -> Iterator[Waiting]:
    """What holds an order first, then what was sent longest ago; one query."""
    refused = Sample.objects.holding().filter(is_approved=False, order__in=Order.objects.open())
    found = (Sample.objects.waiting() | refused).select_related("material", "order")
    for sample in sorted(found, key=lambda sample: (sample.order is None, sample.sent_on, sample.pk)):
        words = {"material": sample.material.name, "to": sample.sent_to, "day": clock.day_text(sample.sent_on)}
        more = _("%(material)s; sent to %(to)s %(day)s") % words
        if sample.is_approved is False:
            words["day"] = clock.day_text(sample.answered_on)
            more = _("%(material)s; refused by %(to)s %(day)s, no other sent") % words
        if sample.order:
            more += "; " + _("order %(number)s waits for it") % {"number": sample.order.number}
        since = sample.answered_on or sample.sent_on
        yield Waiting(
            mark="held" if sample.order else "in_work",
            state=_("Order held") if sample.order else _("Not answered"),
            name=sample.what,
            more=more,
            url=reverse("materials:sample", args=[sample.pk]),
            fig=_days((clock.today() - since).days),
            fig_more=_("since it was refused") if sample.answered_on else _("without an answer"),
        )


def _returns(*, for_owner: bool) -> Iterator[Waiting]:
    """Sheets that go back, told together for each lot; one query."""
    found = SheetReturn.objects.filter(collected_on=None)
    if for_owner:
        found = found | SheetReturn.objects.filter(credited_on=None, credit_expected_minor__gt=0)
    rows = found.select_related("sheet__lot__material", "sheet__lot__delivery_line__delivery__supplier")
    listed = rows.order_by(F("collected_on").desc(nulls_first=True), "sheet__lot__number", "sheet__number")
    for (lot, is_collected), of_lot in groupby(listed, key=lambda row: (row.sheet.lot, row.collected_on is not None)):
        yield _return(lot, list(of_lot), is_collected=is_collected, for_owner=for_owner)


def _return(lot: Lot, rows: list[SheetReturn], *, is_collected: bool, for_owner: bool) -> Waiting:
    numbers = show_sheet_numbers(row.sheet.number for row in rows)
    words = {"sheets": numbers, "lot": lot.number, "material": lot.material.name}
    line = getattr(lot, "delivery_line", None)
    who = [line.delivery.supplier.name] if line else []
    since = min(row.collected_on if is_collected else row.asked_on for row in rows)
    expected = sum(row.credit_expected_minor for row in rows)
    told = _("collected %(day)s, credit not received") if is_collected else _("goes back, told %(day)s, not collected")
    return Waiting(
        mark="in_work",
        state=_("Credit expected") if is_collected else _("To be collected"),
        name=ngettext("Sheet %(sheets)s of lot %(lot)s", "Sheets %(sheets)s of lot %(lot)s", len(rows)) % words,
        more=", ".join([*who, told % {"day": clock.day_text(since)}]),
        url=reverse("materials:return", args=[rows[0].pk]) if len(rows) == 1 else reverse("materials:returns"),
        fig=amount(expected, lot.currency) if is_collected and for_owner else _days((clock.today() - since).days),
        fig_more=_("credit expected") if is_collected and for_owner else _("since it was told"),
    )


def _payment(payment: OrderPayment) -> Waiting:
    order, left = payment.order, (payment.due_on - clock.today()).days
    words = {"what": payment.what, "supplier": order.supplier.name}
    about = {"number": order.number, "day": clock.day_text(payment.due_on)}
    return Waiting(
        mark="late" if left < 0 else "not_started",
        state=_("Late") if left < 0 else _("To pay"),
        name=_("%(what)s, %(supplier)s") % words,
        more=(_("Order %(number)s, was due %(day)s") if left < 0 else _("Order %(number)s, due %(day)s")) % about,
        url=f"{reverse('materials:order', args=[order.pk])}#payment-{payment.pk}",
        fig=amount(payment.amount_minor, order.currency),
        fig_more=_ahead(left, _("%(days)s past")),
    )


def _lot(lot: Lot, today: date) -> Waiting:
    left = (lot.use_by_on - today).days
    words = {"material": lot.material.name, "batch": lot.batch_number}
    free = quantity(lot.quantity_micro - int(lot.shared), lot.material.unit)
    about = {"lot": lot.number, "left": free, "day": clock.day_text(lot.use_by_on)}
    more = _("Lot %(lot)s, %(left)s not given; use by %(day)s")
    return Waiting(
        mark="late" if left < 0 else "not_started",
        state=_("Past its date") if left < 0 else _("To use up"),
        name=_("%(material)s, batch %(batch)s") % words if lot.batch_number else lot.material.name,
        more=(_("Lot %(lot)s, %(left)s not given; was to be used by %(day)s") if left < 0 else more) % about,
        url=reverse("materials:lot", args=[lot.pk]),
        fig=_days(abs(left)),
        fig_more=_("past its date") if left < 0 else _("left"),
    )


def _days(count: int) -> str:
    return ngettext("%(n)s day", "%(n)s days", count) % {"n": count}


def _ahead(left: int, past: str) -> str:
    """How far a day is: today, in 6 days, 2 days past."""
    if left == 0:
        return _("today")
    return _("in %(days)s") % {"days": _days(left)} if left > 0 else past % {"days": _days(-left)}
