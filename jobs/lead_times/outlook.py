"""The whole shop's buying as it stands on a day."""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property

from django.db.models import Exists, OuterRef

from jobs import fire, line_shares
from jobs.calculations.cover import Coming, Cover, Wanted, cover, still_to_come
from jobs.lead_times.days import last_day, needed_on
from jobs.lead_times.rows import OrderRow, ToOrderRow
from jobs.lead_times.supply import OpenNeed, OpenRoom, free_stock, open_needs
from materials import buying
from materials.models import OrderLine, Sample
from materials.orders import due
from workshop.models import Shop

LOOK_BACK, LOOK_AHEAD = timedelta(weeks=26), timedelta(weeks=78)


@dataclass
class Outlook:
    """Orders on their way, materials to order, and the needs behind them with the days they are needed."""

    today: date
    orders: list[OrderRow] = field(default_factory=list)
    to_order: list[ToOrderRow] = field(default_factory=list)
    needs: list[OpenNeed] = field(default_factory=list)
    needed: dict[int, date | None] = field(default_factory=dict)
    cover: Cover = field(default_factory=Cover)

    @property
    def late(self) -> list[OrderRow | ToOrderRow]:
        return [row for row in [*self.orders, *self.to_order] if row.is_late]

    @cached_property
    def order_of(self) -> dict[int, OrderRow]:
        return {row.line.pk: row for row in self.orders}


def outlook(today: date, stock: dict[int, int] | None = None) -> Outlook:
    """Everything on its way or still to order, against the needs of all open jobs; a constant number of queries.

    `stock` is what is here and free, where it is known already.
    """
    orders, needs = _orders(today), open_needs()
    prepare = Shop.get().days_to_prepare
    days = {room.pk: needed_on(room, prepare) for room in {need.room.pk: need.room for need in needs}.values()}
    needed = {need.pk: days[need.room.pk] for need in needs}
    covered = cover(
        [Wanted(n.pk, n.material.pk, n.open_micro, needed[n.pk], _rank(n.room), n.room.job.pk) for n in needs],
        free_stock() if stock is None else stock,
        [
            Coming(row.line.pk, row.line.material_id, row.outstanding_micro, row.expected_on, _shares(row.line))
            for row in orders
        ],
    )
    by_pk = {need.pk: need for need in needs}
    for row in orders:
        if served := covered.served.get(row.line.pk):
            first, _quantity = served[0]
            row.room, row.needed_on = by_pk[first].room, needed[first]
    orders.sort(key=lambda row: (not row.is_late, row.expected_on, row.order.number))
    return Outlook(today, orders, _to_order(needs, needed, covered, today), needs, needed, covered)


def _rank(room: OpenRoom) -> tuple[int, int, int]:
    return room.job.number, room.place, room.pk


def _shares(line: OrderLine) -> dict[int, int]:
    """What of a line is still to come for which open job, in the used unit."""
    shares = {share.job_id: share.quantity_micro for share in line.job_shares.all()}
    return {job: buying.used_micro(line, micro) for job, micro in still_to_come(shares, line.arrived_micro).items()}


def _orders(today: date) -> list[OrderRow]:
    lines = (
        OrderLine.objects.outstanding()
        .filter(order__placed_on__isnull=False, order__cancelled_on=None)
        .select_related("order__supplier", "material")
        .annotate(is_held=Exists(Sample.objects.holding().filter(order=OuterRef("order"))))
        .prefetch_related("order__promises", line_shares.OF_OPEN_JOBS)
        .order_by("order__number", "pk")
    )
    return [_row(line, today) for line in lines]


def _row(line: OrderLine, today: date) -> OrderRow:
    still = buying.used_micro(line, line.quantity_micro - line.arrived_micro)
    expected = due(line.order)
    return OrderRow(line, still, expected.day, expected.was, today)


def _to_order(needs: list[OpenNeed], needed: dict[int, date | None], covered: Cover, today: date) -> list[ToOrderRow]:
    missing: dict[int, list[OpenNeed]] = defaultdict(list)
    for need in needs:
        if covered.missing[need.pk]:
            missing[need.material_id].append(need)
    rows = []
    for wanting in missing.values():
        first = min(wanting, key=lambda n: (needed[n.pk] or date.max, n.room.job.number, n.room.place))
        total = sum(covered.missing[n.pk] for n in wanting)
        day = needed[first.pk]
        row = ToOrderRow(first.material, total, first.room, day, last_day(first.material, day), today)
        row.cautions = fire.cautions(first.material, [need.room for need in wanting])
        rows.append(row)
    _tell_drafted(rows)
    return sorted(rows, key=lambda row: (row.last_day or row.needed_on or date.max, row.material.name))


def _tell_drafted(rows: list[ToOrderRow]) -> None:
    """Lines of orders that are written and not placed, so that nobody orders the same twice; one query."""
    lines = OrderLine.objects.filter(order__placed_on=None, order__cancelled_on=None, closed_on=None)
    by_material: dict[int, list[OrderLine]] = defaultdict(list)
    for line in lines.filter(material__in=[row.material for row in rows]).select_related("order", "material"):
        by_material[line.material_id].append(line)
    for row in rows:
        row.drafted = by_material[row.material.pk]


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
