"""What is on its way, what must be ordered by when, and what of it is late.

The rules are the house's own, DEVELOPERS.md "Lead times": a promise counts before the lead time quoted; material is
needed before the first stage less the days to prepare, on an open day; arriving that day is in time; late is told
in calendar days with working days beside. Days are checked by hand on the calendar of 2026.
"""

from datetime import date

import pytest

from jobs import lead_times
from jobs.lead_times import OrderRow, ToOrderRow
from jobs.models import Given, LotShare, Room
from materials import orders
from materials.models import Material, Order, OrderLine, Supplier
from tests.makers import (
    hand,
    make_delivery,
    make_job,
    make_lot,
    make_material,
    make_need,
    make_order,
    make_room,
    make_sheets,
    make_supplier,
)
from workshop.models import Person, Shop

TODAY = date(2026, 11, 25)  # a Wednesday
OCT_26, NOV_23, DEC_1, DEC_4 = date(2026, 10, 26), date(2026, 11, 23), date(2026, 12, 1), date(2026, 12, 4)


@pytest.fixture(autouse=True)
def shop(db: None) -> Shop:
    shop = Shop.get()
    shop.days_to_prepare = 3
    shop.save()
    return shop


@pytest.fixture
def ash(db: None) -> Material:
    return make_material(kind="lumber", name="Solid ash 8/4", usual_supplier=make_supplier(name="Supplier B"))


def needing(material: Material, micro: int = 180_000_000, **room: object) -> Room:
    room = make_room(**{"name": "Practice 4", "starts_on": date(2026, 12, 4), **room})
    make_need(room=room, material=material, quantity_micro=micro)
    return room


def only_order() -> OrderRow:
    (row,) = lead_times.outlook(TODAY).orders
    return row


def only_to_order() -> ToOrderRow:
    (row,) = lead_times.outlook(TODAY).to_order
    return row


def test_an_order_that_slips_is_late_by_calendar_and_working_days(ash: Material, owner: Person) -> None:
    order = make_order(material=ash, quantity_micro=180_000_000)
    orders.place(order=order, placed_on=OCT_26, by=hand(owner))
    orders.promise(order=order, promised_on=DEC_4, told_on=TODAY, note="", by=hand(owner))
    room = needing(ash)

    row = only_order()

    assert (row.room.pk, row.needed_on, row.expected_on, row.was) == (room.pk, DEC_1, DEC_4, NOV_23)
    assert (row.is_late, row.days_late, row.working_days, row.days_out) == (True, 3, 3, 30)
    assert row.sentence == "Solid ash 8/4: placed Mon, Oct 26, expected Fri, Dec 4, needed Tue, Dec 1"


@pytest.mark.parametrize(
    ("promised", "in_hand", "working", "is_late"),
    [
        (date(2026, 11, 27), 4, 2, False),  # Friday: four days, Monday and Tuesday of them working
        (DEC_1, 0, 0, False),  # on the day itself
        (date(2026, 12, 2), -1, 1, True),
        (date(2026, 12, 5), -6, 4, True),  # a Saturday means Monday, December 7
    ],
)
def test_arriving_on_the_day_needed_is_in_time(
    ash: Material, promised: date, in_hand: int, working: int, is_late: bool
) -> None:
    make_order(material=ash, placed_on=OCT_26, promised_on=promised)
    needing(ash, 42_000_000)

    row = only_order()

    assert (row.days_in_hand, row.working_days, row.is_late) == (in_hand, working, is_late)


@pytest.mark.parametrize(
    ("count", "unit", "expected"),
    [
        (10, "working_days", date(2026, 11, 9)),
        (40, "days", date(2026, 12, 7)),  # a Saturday, so Monday
        (7, "weeks", date(2026, 12, 14)),
        (2, "months", date(2026, 12, 28)),  # a Saturday, so Monday
    ],
)
def test_without_a_promise_the_lead_time_says_when_it_comes(
    ash: Material, count: int, unit: str, expected: date
) -> None:
    make_order(material=ash, placed_on=OCT_26, lead_count=count, lead_unit=unit)

    assert only_order().expected_on == expected


@pytest.mark.parametrize(
    ("starts_on", "prepare", "needed_on"),
    [
        (date(2026, 12, 7), 2, DEC_4),  # two days before Monday is a Saturday, so Friday
        (date(2026, 12, 7), 0, date(2026, 12, 7)),
        (date(2026, 12, 5), 0, DEC_4),
        (None, 3, None),
    ],
)
def test_material_is_needed_before_the_first_stage_on_an_open_day(
    ash: Material, shop: Shop, starts_on: date | None, prepare: int, needed_on: date | None
) -> None:
    assert lead_times.needed_on(make_room(starts_on=starts_on), prepare) == needed_on


def test_a_room_without_a_start_needs_its_material_before_it_is_wanted() -> None:
    assert lead_times.needed_on(make_room(wanted_on=date(2026, 12, 4)), 3) == DEC_1


def test_an_order_past_its_promise_is_late_although_no_room_waits_for_it(ash: Material) -> None:
    make_order(material=ash, placed_on=OCT_26, promised_on=NOV_23)

    row = only_order()

    assert (row.room, row.is_late, row.days_late, row.days_in_hand) == (None, True, 2, None)


def test_an_order_past_its_promise_is_reckoned_to_come_today(ash: Material) -> None:
    make_order(material=ash, placed_on=OCT_26, promised_on=NOV_23)
    needing(ash, starts_on=date(2026, 12, 3))

    row = only_order()

    assert (row.needed_on, row.days_in_hand, row.days_late) == (date(2026, 11, 30), 5, 2)


def test_the_same_day_promised_again_is_no_change(ash: Material, owner: Person) -> None:
    order = make_order(material=ash, promised_on=DEC_4)
    orders.place(order=order, placed_on=OCT_26, by=hand(owner))
    orders.promise(order=order, promised_on=DEC_4, told_on=TODAY, note="", by=hand(owner))

    assert only_order().was is None


@pytest.mark.parametrize(
    "state",
    [{"placed_on": None}, {"placed_on": OCT_26, "cancelled_on": NOV_23}],
    ids=["not placed", "cancelled"],
)
def test_an_order_not_placed_or_cancelled_covers_nothing(ash: Material, state: dict) -> None:
    make_order(material=ash, **state)
    needing(ash)

    state_now = lead_times.outlook(TODAY)

    assert (state_now.orders, len(state_now.to_order)) == ([], 1)


def test_a_closed_line_is_waited_for_no_longer(ash: Material) -> None:
    make_order(material=ash, placed_on=OCT_26)
    OrderLine.objects.update(closed_on=NOV_23)

    assert lead_times.outlook(TODAY).orders == []


def test_a_need_is_covered_by_stock_then_by_orders_and_the_rest_is_to_order(ash: Material) -> None:
    make_lot(material=ash, quantity_micro=50_000_000)
    make_order(material=ash, placed_on=OCT_26, promised_on=NOV_23, quantity_micro=60_000_000)
    needing(ash)

    state = lead_times.outlook(TODAY)

    assert [row.missing_micro for row in state.to_order] == [70_000_000]
    (need,) = state.needs
    assert (state.cover.here[need.pk], state.cover.coming[need.pk][0][1]) == (50_000_000, 60_000_000)


def test_the_first_room_in_time_gets_what_is_here(ash: Material) -> None:
    make_lot(material=ash, quantity_micro=180_000_000)
    job = make_job()
    needing(ash, job=job, name="Lobby", starts_on=date(2027, 1, 11))
    needing(ash, job=make_job(), name="Practice 4")

    assert only_to_order().room.name == "Lobby"


def test_what_other_rooms_took_of_a_lot_is_not_here(ash: Material) -> None:
    lot = make_lot(material=ash, quantity_micro=100_000_000)
    LotShare.objects.create(lot=lot, room=make_room(), quantity_micro=90_000_000)
    needing(ash, 30_000_000)

    assert lead_times.free_stock() == {ash.pk: 10_000_000}
    assert only_to_order().missing_micro == 20_000_000


def test_what_the_room_has_is_needed_no_more(ash: Material) -> None:
    room = needing(ash, 30_000_000)
    LotShare.objects.create(lot=make_lot(material=ash, quantity_micro=30_000_000), room=room, quantity_micro=30_000_000)

    assert lead_times.outlook(TODAY).needs == []


def test_halves_given_set_aside_or_gone_are_not_here(db: None) -> None:
    plywood = make_material()
    sheets = make_sheets(make_lot(material=plywood), 4)
    Given.objects.create(half=sheets[0].halves.first(), room=make_room())
    type(sheets[0]).objects.filter(pk=sheets[1].pk).update(set_aside_on=TODAY)
    type(sheets[0]).objects.filter(pk=sheets[2].pk).update(left_on=TODAY)

    assert lead_times.free_stock() == {plywood.pk: 1_500_000}


def test_a_closed_job_needs_nothing(ash: Material) -> None:
    needing(ash, job=make_job(closed_on=NOV_23))

    assert lead_times.outlook(TODAY).to_order == []


@pytest.mark.parametrize(
    ("count", "unit", "last", "days_left"),
    [
        (7, "weeks", date(2026, 10, 13), -43),  # as in materials.calculations.lead_time
        (4, "working_days", TODAY, 0),
        (3, "days", date(2026, 11, 27), 2),  # three days before Tuesday is Saturday, so Friday
    ],
)
def test_the_last_day_to_order_follows_from_the_usual_suppliers_lead_time(
    ash: Material, count: int, unit: str, last: date, days_left: int
) -> None:
    Supplier.objects.update(lead_count=count, lead_unit=unit)
    needing(ash)

    row = only_to_order()

    assert (row.last_day, row.days_left, row.is_late) == (last, days_left, days_left < 0)


@pytest.mark.parametrize(("starts_on", "is_late"), [(date(2026, 12, 4), False), (date(2026, 11, 27), True)])
def test_without_a_usual_supplier_it_is_late_once_it_is_needed(db: None, starts_on: date, is_late: bool) -> None:
    needing(make_material(), starts_on=starts_on)

    row = only_to_order()

    assert (row.last_day, row.is_late) == (None, is_late)


def test_a_need_without_a_date_is_never_late(ash: Material) -> None:
    needing(ash, starts_on=None)

    row = only_to_order()

    assert (row.needed_on, row.last_day, row.days_left, row.is_late) == (None, None, None, False)


def test_the_same_material_is_ordered_for_all_rooms_at_once(ash: Material) -> None:
    job = make_job()
    needing(ash, 10_000_000, job=job, name="Lobby", starts_on=date(2027, 1, 11))
    needing(ash, 20_000_000, job=job, name="Practice 4")

    row = only_to_order()

    assert (row.missing_micro, row.room.name, row.needed_on) == (30_000_000, "Practice 4", DEC_1)


def test_a_service_that_came_is_needed_no_more(db: None, owner: Person) -> None:
    spraying = make_material(kind="service", unit="hour", name="Spraying")
    needing(spraying, 8_000_000)
    assert only_to_order().missing_micro == 8_000_000

    deliver(make_order(material=spraying, placed_on=OCT_26, quantity_micro=8_000_000), NOV_23)

    assert lead_times.outlook(TODAY).to_order == []


def deliver(order: Order, arrived_on: date) -> None:
    """All of an order's lines, on one slip of that day."""
    delivery = make_delivery(supplier=order.supplier, arrived_on=arrived_on, counted_on=arrived_on)
    for line in order.lines.all():
        delivery.lines.create(
            material=line.material, order_line=line, kept_micro=line.quantity_micro, price_micro=line.price_micro
        )
