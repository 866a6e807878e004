"""The whole shop's buying as it stands on a day."""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property

from jobs.calculations.cover import Coming, Cover, Wanted, cover
from jobs.lead_times.days import earlier_promise, expected_on, last_day, needed_on
from jobs.lead_times.rows import OrderRow, ToOrderRow
from jobs.lead_times.supply import free_stock, open_needs
from jobs.models import Need
from materials.models import OrderLine
from workshop.models import Shop

LOOK_BACK, LOOK_AHEAD = timedelta(weeks=26), timedelta(weeks=78)


@dataclass
class Outlook:
    """Orders on their way, materials to order, and the needs behind them with the days they are needed."""

    today: date
    orders: list[OrderRow] = field(default_factory=list)
    to_order: list[ToOrderRow] = field(default_factory=list)
    needs: list[Need] = field(default_factory=list)
    needed: dict[int, date | None] = field(default_factory=dict)
    cover: Cover = field(default_factory=Cover)

    @property
    def late(self) -> list[OrderRow | ToOrderRow]:
        return [row for row in [*self.orders, *self.to_order] if row.is_late]

    @cached_property
    def order_of(self) -> dict[int, OrderRow]:
        return {row.line.pk: row for row in self.orders}


def outlook(today: date) -> Outlook:
    """Everything on its way or still to order, against the needs of all open jobs; a constant number of queries."""
    orders, needs = _orders(today), open_needs()
    prepare = Shop.get().days_to_prepare
    needed = {need.pk: needed_on(need.room, prepare) for need in needs}
    covered = cover(
        [
            Wanted(n.pk, n.material_id, n.open_micro, needed[n.pk], (n.room.job.number, n.room.place, n.room_id))
            for n in needs
        ],
        free_stock(),
        [Coming(row.line.pk, row.line.material_id, row.outstanding_micro, row.expected_on) for row in orders],
    )
    by_pk = {need.pk: need for need in needs}
    for row in orders:
        if served := covered.served.get(row.line.pk):
            first, _quantity = served[0]
            row.room, row.needed_on = by_pk[first].room, needed[first]
    orders.sort(key=lambda row: (not row.is_late, row.expected_on, row.order.number))
    return Outlook(today, orders, _to_order(needs, needed, covered, today), needs, needed, covered)


def _orders(today: date) -> list[OrderRow]:
    lines = (
        OrderLine.objects.outstanding()
        .filter(order__placed_on__isnull=False, order__cancelled_on=None)
        .select_related("order__supplier", "material")
        .prefetch_related("order__promises")
        .order_by("order__number", "pk")
    )
    return [
        OrderRow(
            line,
            line.quantity_micro - line.arrived_micro,
            expected_on(line.order),
            earlier_promise(line.order),
            today,
        )
        for line in lines
    ]


def _to_order(needs: list[Need], needed: dict[int, date | None], covered: Cover, today: date) -> list[ToOrderRow]:
    missing: dict[int, list[Need]] = defaultdict(list)
    for need in needs:
        if covered.missing[need.pk]:
            missing[need.material_id].append(need)
    rows = []
    for wanting in missing.values():
        first = min(wanting, key=lambda n: (needed[n.pk] or date.max, n.room.job.number, n.room.place))
        total = sum(covered.missing[n.pk] for n in wanting)
        day = needed[first.pk]
        rows.append(ToOrderRow(first.material, total, first.room, day, last_day(first.material, day), today))
    return sorted(rows, key=lambda row: (row.last_day or row.needed_on or date.max, row.material.name))


def scale_of(state: Outlook) -> dict[str, date]:
    """The span all time bars share, bounded so that one forgotten order does not press all others together."""
    today, days = state.today, [state.today]
    for row in state.orders:
        days += [row.order.placed_on, row.expected_on, *([row.needed_on] if row.needed_on else [])]
    first, last = max(min(days), today - LOOK_BACK), min(max(days), today + LOOK_AHEAD)
    return {
        "first": first - timedelta(days=first.weekday()),
        "last": last + timedelta(days=7),
        "today": today,
    }
