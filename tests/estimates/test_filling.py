"""Estimate lines from needs and planned hours.

Which price a need is filled at, and that a changed line is kept, is a house rule, DEVELOPERS.md "Estimates".
"""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from pytest_django import Settings

from estimates import estimate as estimates
from estimates import filling, pricing, rates
from estimates.models import Estimate, EstimateLine
from jobs.models import Need, Room
from materials.models import Material, Price, Supplier
from tests.makers import (
    hand,
    make_estimate,
    make_line,
    make_material,
    make_need,
    make_order,
    make_room,
    make_room_stage,
    make_supplier,
)
from workshop import actions
from workshop.models import Action, Person, Shop

TODAY, YESTERDAY, TOMORROW = date(2026, 11, 25), date(2026, 11, 24), date(2026, 11, 26)


@pytest.fixture(autouse=True)
def shop(settings: Settings, db: None) -> Shop:
    settings.FIXED_TODAY = TODAY
    shop = Shop.get()
    shop.hour_price_micro = 65_000_000
    shop.save()
    return shop


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A")


@pytest.fixture
def plywood(supplier: Supplier) -> Material:
    return make_material(name="Ash-veneered plywood", usual_supplier=supplier)


@pytest.fixture
def room(plywood: Material) -> Room:
    room = make_room(name="Practice 1")
    make_need(room=room, material=plywood, quantity_micro=5_000_000)
    return room


def ask(material: Material, supplier: Supplier, micro: int, day: date, currency: str = "USD") -> Price:
    return Price.objects.create(material=material, supplier=supplier, price_micro=micro, from_on=day, currency=currency)


def fill(room: Room, owner: Person) -> list[EstimateLine]:
    estimate = filling.fill(job=room.job, by=hand(owner))
    return [line for part in pricing.priced(estimate).parts for line in part.lines]


def told(lines: list[EstimateLine]) -> list[tuple[str, int, int, str]]:
    return [(line.description, line.quantity_micro, line.total_minor, line.source) for line in lines]


def change(line: EstimateLine, owner: Person, **fields: object) -> None:
    names = ("room", "klass", "description", "quantity_micro", "unit", "price_micro", "price_unit")
    values = {name: getattr(line, name) for name in names}
    estimates.change_line(line=line, by=hand(owner), version=line.version, **{**values, **fields})


def test_a_need_is_a_line_at_its_suppliers_latest_price(
    room: Room, plywood: Material, supplier: Supplier, owner: Person
) -> None:
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    ask(plywood, supplier, 71_500_000, TODAY)
    ask(plywood, supplier, 80_000_000, TOMORROW)

    lines = fill(room, owner)

    assert told(lines) == [("Ash-veneered plywood", 5_000_000, 35_750, "need")]
    assert (lines[0].klass, lines[0].unit, lines[0].room, lines[0].material) == ("material", "sheet", room, plywood)
    assert actions.sentence_of(Action.objects.get()) == "Estimate filled from needs and planned hours"


def price_micro(plywood: Material) -> int:
    return rates.of_materials([plywood], "USD")[plywood.pk].price_micro


def test_the_usual_suppliers_price_counts_before_an_order_and_before_others(
    plywood: Material, supplier: Supplier
) -> None:
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    ask(plywood, make_supplier(), 60_000_000, TODAY)
    make_order(material=plywood, placed_on=TODAY, price_micro=65_000_000)

    assert price_micro(plywood) == 70_000_000


def test_without_a_price_of_the_usual_supplier_the_last_order_counts(plywood: Material, supplier: Supplier) -> None:
    ask(plywood, make_supplier(), 60_000_000, YESTERDAY)
    ask(plywood, supplier, 80_000_000, TOMORROW)
    make_order(material=plywood, placed_on=date(2026, 10, 26), price_micro=66_000_000)
    make_order(material=plywood, placed_on=YESTERDAY, price_micro=65_000_000)
    make_order(material=plywood, placed_on=None, price_micro=1_000_000)
    make_order(material=plywood, placed_on=TODAY, cancelled_on=TODAY, price_micro=2_000_000)

    assert price_micro(plywood) == 65_000_000


def test_else_another_suppliers_price_counts(plywood: Material) -> None:
    ask(plywood, make_supplier(), 60_000_000, YESTERDAY)

    assert price_micro(plywood) == 60_000_000


def test_without_a_usual_supplier_the_latest_price_of_any_counts(supplier: Supplier) -> None:
    plywood = make_material()
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    ask(plywood, make_supplier(), 60_000_000, TODAY)

    assert price_micro(plywood) == 60_000_000


def test_a_price_in_another_currency_does_not_count(room: Room, plywood: Material, supplier: Supplier) -> None:
    ask(plywood, supplier, 70_000_000, YESTERDAY, currency="EUR")
    make_order(material=plywood, placed_on=YESTERDAY, currency="EUR")

    assert price_micro(plywood) == 0


def test_a_need_without_any_price_is_a_line_of_nothing_that_is_told(room: Room, owner: Person) -> None:
    assert told(fill(room, owner)) == [("Ash-veneered plywood", 5_000_000, 0, "need")]

    assert pricing.priced(estimates.current(room.job)).unpriced == 1


def test_waste_is_a_line_of_its_own_under_its_material(
    room: Room, plywood: Material, supplier: Supplier, owner: Person
) -> None:
    ask(plywood, supplier, 71_500_000, TODAY)
    make_need(room=room, material=make_material(name="Battens"), quantity_micro=1_000_000)
    make_estimate(job=room.job, waste_ppm=100_000)

    lines = fill(room, owner)

    # a tenth of 5 sheets is half a sheet, 35.75
    assert told(lines)[:2] == [
        ("Ash-veneered plywood", 5_000_000, 35_750, "need"),
        ("Ash-veneered plywood, waste", 500_000, 3_575, "waste"),
    ]
    assert [line.source for line in lines] == ["need", "waste", "need", "waste"]


def test_planned_hours_are_a_line_for_each_operation_priced_exactly_as_planned(room: Room, owner: Person) -> None:
    Need.objects.all().delete()
    make_room_stage(room=room, lane="panels", name="Cut", planned_minutes=12)
    make_room_stage(room=room, lane="panels", name="Edge", planned_minutes=8)
    make_room_stage(room=room, lane="site", name="Walls", planned_minutes=90)
    make_room_stage(room=room, lane="trim", name="Mill", planned_minutes=60)
    make_room_stage(room=room, lane="trim", name="Drill", planned_minutes=0)

    lines = fill(room, owner)

    # 12 minutes at 65.00 an hour are 13.00, 8 are 8.666..., half up 8.67
    assert told(lines) == [
        ("Cut panels", 12_000_000, 1_300, "hours"),
        ("Edge panels", 8_000_000, 867, "hours"),
        ("Mill trim", 60_000_000, 6_500, "hours"),
        ("Walls", 90_000_000, 9_750, "hours"),
    ]
    assert {(line.klass, line.unit, line.price_unit) for line in lines} == {("labor", "minute", "hour")}


def test_hours_of_a_job_in_another_currency_have_no_rate(room: Room, owner: Person) -> None:
    make_room_stage(room=room, planned_minutes=60)
    type(room.job).objects.update(currency="JPY")
    room.job.refresh_from_db()

    assert [line.price_micro for line in fill(room, owner)] == [0, 0]


def test_filling_anew_follows_what_changed_and_keeps_typed_lines(
    room: Room, plywood: Material, supplier: Supplier, owner: Person
) -> None:
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    fill(room, owner)
    make_line(estimates.current(room.job), 9_900, room=room, description="Delivery", place=1000)
    Need.objects.update(quantity_micro=6_000_000)

    lines = fill(room, owner)

    assert told(lines) == [
        ("Ash-veneered plywood", 6_000_000, 42_000, "need"),
        ("Delivery", 1_000_000, 9_900, "typed"),
    ]


def test_a_changed_line_is_kept_and_not_written_a_second_time(
    room: Room, plywood: Material, supplier: Supplier, owner: Person
) -> None:
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    make_room_stage(room=room, planned_minutes=60)
    make_estimate(job=room.job, waste_ppm=100_000)
    need, _waste, hours = fill(room, owner)
    change(need, owner, quantity_micro=8_000_000, description="Ash panels, select face")
    change(hours, owner, quantity_micro=30_000_000)

    lines = fill(room, owner)

    assert told(lines) == [
        ("Ash panels, select face", 8_000_000, 56_000, "typed"),
        ("Ash-veneered plywood, waste", 800_000, 5_600, "waste"),
        ("Cut panels", 30_000_000, 3_250, "typed"),
    ]


def test_changed_waste_is_kept_too(room: Room, plywood: Material, supplier: Supplier, owner: Person) -> None:
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    make_estimate(job=room.job, waste_ppm=100_000)
    _need, waste = fill(room, owner)
    change(waste, owner, quantity_micro=1_000_000)

    assert [line.quantity_micro for line in fill(room, owner)] == [5_000_000, 1_000_000]


def test_a_filled_line_taken_out_comes_back_when_filled_anew(room: Room, owner: Person) -> None:
    (line,) = fill(room, owner)
    estimates.remove_line(line=line, by=hand(owner))

    assert len(fill(room, owner)) == 1


def test_a_job_without_needs_and_hours_is_refused(owner: Person) -> None:
    with pytest.raises(ValidationError, match="No room says yet what it needs or how many hours are planned"):
        fill(make_room(), owner)

    assert Estimate.objects.count() == 0


def test_a_filling_that_makes_no_price_is_refused_whole(
    room: Room, plywood: Material, supplier: Supplier, owner: Person
) -> None:
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    fill(room, owner)
    Estimate.objects.update(discount_minor=35_000)
    Need.objects.update(quantity_micro=4_000_000)

    with pytest.raises(ValidationError, match="The discount is more than the price"):
        fill(room, owner)

    assert EstimateLine.objects.get().total_minor == 35_000


def test_one_undo_takes_a_filling_back(room: Room, plywood: Material, supplier: Supplier, owner: Person) -> None:
    fill(room, owner)
    ask(plywood, supplier, 70_000_000, YESTERDAY)
    fill(room, owner)

    actions.undo(action=Action.objects.first(), by=hand(owner))

    assert [line.total_minor for line in EstimateLine.objects.all()] == [0]


def test_rooms_stand_in_their_order_and_the_whole_job_last(room: Room, owner: Person) -> None:
    first = make_room(job=room.job, name="Lobby", place=0)
    make_need(room=first)
    fill(room, owner)
    make_line(estimates.current(room.job), 100)

    parts = pricing.priced(estimates.current(room.job)).parts

    assert [part.room and part.room.name for part in parts] == ["Lobby", "Practice 1", None]
