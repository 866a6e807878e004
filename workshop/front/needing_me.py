"""What needs somebody today: late, to order, to count and sort, to chase, to pay, in work at the bench."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Generic, NamedTuple, TypeVar

from django.db.models import Count, F, Q, QuerySet, Sum
from django.urls import reverse

from jobs import lead_times
from jobs.lead_times import OrderRow, Outlook, ToOrderRow
from jobs.models import Job, Room
from materials import buying, inspection
from materials.inspection import TellBy
from materials.models import Delivery, Lot, Order
from workshop import clock
from workshop.front import chasing
from workshop.front.chasing import Waiting

SOON_DAYS = 14
SOON_WITHOUT_LEAD_DAYS = 56
"""Where no supplier is named, its lead time is not known yet."""
AT_MOST = 10

T = TypeVar("T")


@dataclass(frozen=True)
class Listed(Generic[T]):
    """The most urgent of many rows, and where all of them stand."""

    rows: Sequence[T]
    url: str

    @property
    def count(self) -> int:
        return len(self.rows)

    @property
    def shown(self) -> Sequence[T]:
        return self.rows[:AT_MOST]

    @property
    def more(self) -> int:
        return max(self.count - AT_MOST, 0)


class Late(NamedTuple):
    """An order that comes too late, or something that should have been ordered."""

    order: OrderRow | None
    to_order: ToOrderRow | None

    @property
    def days_late(self) -> int:
        return (self.order or self.to_order).days_late


@dataclass(frozen=True)
class ToPlace:
    """An order that is written and not placed, with what of it is waited for most."""

    order: Order
    what: str
    wanted: ToOrderRow | None


@dataclass(frozen=True)
class Today:
    late: Listed[Late]
    to_place: Listed[ToPlace]
    to_order: Listed[ToOrderRow]
    to_count: Listed[Delivery]
    to_sort: Listed[Lot]
    to_chase: Listed[Waiting]
    to_pay: Listed[Waiting]
    to_use_up: Listed[Waiting]
    at_the_bench: Sequence[Room]
    open_jobs: int

    @property
    def to_buy(self) -> int:
        return self.to_place.count + self.to_order.count

    @property
    def to_handle(self) -> int:
        return self.to_count.count + self.to_sort.count


def today(*, for_owner: bool) -> Today:
    """Everything that needs somebody, the most urgent first; staff see nothing of money, nor what they cannot do."""
    state = lead_times.outlook(clock.today(), lead_times.kept_stock())
    to_place = orders_to_place(state) if for_owner else []
    placing = {row.material.pk for row in state.to_order if _is_placed_soon(row, to_place)}
    soon = [row for row in state.to_order if not row.is_late and _is_soon(row) and row.material.pk not in placing]
    _tell_what_to_order(state, soon)
    lead_times_url = reverse("jobs:lead_times")
    return Today(
        late=Listed(late_rows(state), lead_times_url),
        to_place=Listed(to_place, reverse("materials:orders")),
        to_order=Listed(soon, lead_times_url),
        to_count=Listed(deliveries_to_count(), reverse("materials:deliveries")),
        to_sort=Listed(_soonest_first(lots_to_sort()), reverse("materials:lots")),
        to_chase=Listed(chasing.to_chase(for_owner=for_owner), reverse("materials:samples")),
        to_pay=Listed(chasing.to_pay() if for_owner else [], reverse("materials:orders")),
        to_use_up=Listed(chasing.to_use_up(), reverse("materials:lots")),
        at_the_bench=rooms_in_work(),
        open_jobs=Job.objects.filter(closed_on=None).count(),
    )


def late_rows(state: Outlook) -> list[Late]:
    """All that is late, what is latest first."""
    rows = [Late(row, None) for row in state.orders if row.is_late]
    rows += [Late(None, row) for row in state.to_order if row.is_late]
    return sorted(rows, key=lambda late: -late.days_late)


def orders_to_place(state: Outlook) -> list[ToPlace]:
    """Orders written and not placed, those that are waited for soonest first; two queries."""
    wanted = {row.material.pk: row for row in state.to_order}
    drafts = Order.objects.filter(placed_on=None, cancelled_on=None).select_related("supplier")
    found = []
    for order in drafts.prefetch_related("lines__material").order_by("number"):
        lines = list(order.lines.all())
        waiting = [wanted[line.material_id] for line in lines if line.material_id in wanted]
        words = "; ".join(f"{line.material.name}, {buying.line_text(line)}" for line in lines[:3])
        found.append(ToPlace(order, words, min(waiting, key=_last_day, default=None)))
    return sorted(found, key=lambda row: _last_day(row.wanted) if row.wanted else date.max)


def deliveries_to_count() -> list[Delivery]:
    """Each with `tell_by`, until when its faults must be told where that is soon; those come first."""
    found = list(Delivery.objects.to_count().select_related("supplier").order_by("arrived_on", "pk"))
    for delivery in found:
        by = inspection.tell_by(delivery)
        delivery.tell_by = by if by and by.is_soon else None
    return sorted(found, key=lambda delivery: _urgency(delivery.tell_by, delivery.arrived_on))


def lots_to_sort() -> QuerySet[Lot]:
    """Lots with sheets that have no tone group yet, with `unsorted` and `sheet_count`."""
    here = Q(sheets__left_on=None)
    unsorted = Q(sheets__tone_group=None, sheets__set_aside_on=None)
    return (
        Lot.objects.to_sort()
        .annotate(sheet_count=Count("sheets", filter=here), unsorted=Count("sheets", filter=here & unsorted))
        .select_related("material")
        .order_by("arrived_on", "number")
    )


def rooms_in_work() -> QuerySet[Room]:
    """Rooms of open jobs where something is done and something is left, with the counts; wanted soonest first."""
    return (
        Room.objects.filter(job__closed_on=None)
        .annotate(
            done=Sum("room_stages__done"),
            total=Sum("room_stages__total"),
        )
        .filter(done__gt=0, done__lt=F("total"))
        .select_related("job")
        .order_by(F("wanted_on").asc(nulls_last=True), "job__number", "place")[:AT_MOST]
    )


def _soonest_first(lots: QuerySet[Lot]) -> list[Lot]:
    """Each lot with `tell_by`, until when its faults must be told where that is soon; those come first."""
    to_look_at = inspection.to_look_at()
    for lot in lots:
        lot.tell_by = to_look_at.get(lot.pk)
    return sorted(lots, key=lambda lot: _urgency(lot.tell_by, lot.arrived_on))


def _urgency(tell_by: TellBy | None, arrived_on: date) -> tuple[bool, date]:
    return tell_by is None, tell_by.day if tell_by else arrived_on


def _is_soon(row: ToOrderRow) -> bool:
    soon = SOON_DAYS if row.last_day else SOON_WITHOUT_LEAD_DAYS
    return row.days_left is None or row.days_left <= soon


def _last_day(row: ToOrderRow) -> date:
    return row.last_day or row.needed_on or date.max


def _is_placed_soon(row: ToOrderRow, to_place: Sequence[ToPlace]) -> bool:
    """Whether orders that only wait to be placed hold all of what is missing, so that nobody orders it twice."""
    lines = [line for draft in to_place for line in draft.order.lines.all() if line.material_id == row.material.pk]
    return sum(buying.used_micro(line, line.quantity_micro) for line in lines) >= row.missing_micro > 0


def _tell_what_to_order(state: Outlook, soon: Sequence[ToOrderRow]) -> None:
    """Set what to order of the usual supplier, in what it is bought in, on all that is listed; one query."""
    listed = [*soon, *(row for row in state.to_order if row.is_late)]
    words = buying.order_words({row.material: row.missing_micro for row in listed})
    for row in listed:
        row.order_words = words.get(row.material.pk, "")
