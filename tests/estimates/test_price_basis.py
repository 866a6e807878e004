"""What the rate of a line rests on, in words; overhead for each hour; a discount in per cent; profit told both ways."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import Settings

from estimates import estimate as estimates
from estimates import filling, pricing
from estimates.models import Estimate, EstimateLine, OperationRate
from jobs.models import Room
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
from workshop.models import Person, Shop

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def shop(settings: Settings, db: None) -> Shop:
    settings.FIXED_TODAY = TODAY
    return Shop.objects.create(pk=1, hour_price_micro=65_000_000)


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


def ask(material: Material, supplier: Supplier, day: date) -> None:
    Price.objects.create(material=material, supplier=supplier, price_micro=71_500_000, currency="USD", from_on=day)


def fill(room: Room, owner: Person) -> list[EstimateLine]:
    estimate = filling.fill(job=room.job, by=hand(owner))
    return [line for part in pricing.priced(estimate).parts for line in part.lines]


def page_of(browser: Browser, room: Room) -> str:
    return " ".join(browser.get(reverse("estimates:estimate", args=[room.job_id])).content.decode().split())


def test_a_price_names_its_supplier_and_the_day_it_holds_from(
    room: Room, plywood: Material, supplier: Supplier, owner: Person, owner_client: Browser
) -> None:
    ask(plywood, supplier, date(2026, 7, 29))

    (line,) = fill(room, owner)

    assert line.basis_words == "Supplier A, from Wed, Jul 29"
    assert "from the room&#x27;s needs; Supplier A, from Wed, Jul 29" in page_of(owner_client, room)


def test_a_price_as_last_ordered_says_so(room: Room, plywood: Material, supplier: Supplier, owner: Person) -> None:
    make_order(material=plywood, supplier=supplier, placed_on=date(2026, 11, 2))

    assert fill(room, owner)[0].basis_words == "as ordered from Supplier A, Mon, Nov 2"


def test_hours_say_whether_the_rate_is_the_operations_own(room: Room, owner: Person) -> None:
    make_room_stage(room=room, name="Cut", planned_minutes=60)
    make_room_stage(room=room, name="Edge", planned_minutes=60)
    OperationRate.objects.create(lane="panels", name="Cut", price_micro=80_000_000, from_on=date(2026, 11, 2))

    _need, cut, edge = fill(room, owner)

    assert (cut.total_minor, cut.basis_words) == (8_000, "rate of the operation, from Mon, Nov 2")
    assert (edge.total_minor, edge.basis_words) == (6_500, "the shop's price of an hour")


def test_waste_rests_on_the_price_of_its_material(
    room: Room, plywood: Material, supplier: Supplier, owner: Person
) -> None:
    ask(plywood, supplier, date(2026, 7, 29))
    make_estimate(job=room.job, waste_ppm=100_000)

    need, waste = fill(room, owner)

    assert (waste.basis, waste.basis_supplier, waste.basis_on) == (need.basis, supplier, date(2026, 7, 29))


@pytest.mark.parametrize(("typed", "basis"), [(71_500_000, "quoted"), (70_000_000, "")])
def test_a_rate_that_was_typed_rests_on_no_price(
    room: Room, plywood: Material, supplier: Supplier, owner: Person, typed: int, basis: str
) -> None:
    ask(plywood, supplier, date(2026, 7, 29))
    (line,) = fill(room, owner)
    names = ("room", "klass", "description", "quantity_micro", "unit", "price_unit")
    same = {name: getattr(line, name) for name in names}

    estimates.change_line(line=line, by=hand(owner), version=line.version, price_micro=typed, **same)

    assert EstimateLine.objects.get().basis == basis


def test_materials_and_operations_without_a_rate_are_listed_once_each(
    room: Room, plywood: Material, owner: Person, owner_client: Browser
) -> None:
    Shop.objects.update(hour_price_micro=0)
    other = make_room(job=room.job)
    make_need(room=other, material=plywood)
    make_room_stage(room=room, name="Cut", planned_minutes=60)
    fill(room, owner)

    html = page_of(owner_client, room)

    assert "3 lines have no rate." in html
    assert html.count(f'<a href="{reverse("materials:material", args=[plywood.pk])}">') == 1
    assert f'<a href="{reverse("estimates:rates")}">Cut panels</a>' in html


@pytest.mark.parametrize(("day", "is_old"), [(date(2026, 5, 28), True), (date(2026, 5, 29), False)])
def test_prices_of_more_than_half_a_year_ago_are_listed(
    room: Room, plywood: Material, supplier: Supplier, owner: Person, owner_client: Browser, day: date, is_old: bool
) -> None:
    """180 days before Nov 25 are May 29."""
    ask(plywood, supplier, day)
    fill(room, owner)

    assert ("Old prices, from more than half a year ago:" in page_of(owner_client, room)) is is_old


def test_a_line_changed_when_a_lane_was_one_line_stands_for_all_its_operations(room: Room, owner: Person) -> None:
    make_room_stage(room=room, name="Cut", planned_minutes=60)
    make_room_stage(room=room, lane="trim", name="Mill", planned_minutes=60)
    lane = f"hours:{room.pk}:panels"
    make_line(make_estimate(job=room.job), 100, room=room, klass="labor", description="Panels", stands_for=lane)

    lines = fill(room, owner)

    assert {line.description for line in lines if line.klass == "labor"} == {"Mill trim", "Panels"}


def test_lines_are_gathered_by_class_with_their_hours_and_cost(room: Room, owner: Person) -> None:
    make_room_stage(room=room, name="Cut", planned_minutes=60)
    make_room_stage(room=room, name="Edge", planned_minutes=30)
    fill(room, owner)

    (part,) = pricing.priced(estimates.current(room.job)).parts

    assert [(str(one.name), one.cost_minor, one.minutes) for one in part.classes] == [
        ("Material", 0, 0),
        ("Labor", 9_750, 90),
    ]


def test_overhead_for_each_hour_is_reckoned_on_the_hours_of_labor(owner_client: Browser, room: Room) -> None:
    """18.00 an hour on 90 minutes is 27.00; on the material none."""
    estimate = make_estimate(job=room.job, overhead_way="hour", overhead_hour_micro=18_000_000, overhead_ppm=500_000)
    hours = {"quantity_micro": 90_000_000, "unit": "minute", "price_micro": 65_000_000, "price_unit": "hour"}
    make_line(estimate, 9_750, room=room, klass="labor", **hours)
    make_line(estimate, 60_000, room=room)

    html = page_of(owner_client, room)

    assert "Overhead, $18.00 for each of 1.5 h of labor</dt><dd>27.00</dd>" in html
    assert "Total, USD</dt><dd>724.50</dd>" in html


def test_a_discount_in_per_cent_is_taken_off_the_price(owner_client: Browser, room: Room) -> None:
    """5 % of 600.00 is 30.00."""
    make_line(make_estimate(job=room.job, discount_ppm=50_000), 60_000, room=room)

    html = page_of(owner_client, room)

    assert "Discount, 5%</dt><dd>−30.00</dd>" in html
    assert "Total, USD</dt><dd>570.00</dd>" in html


def test_two_discounts_are_refused(owner: Person, room: Room) -> None:
    estimate = make_estimate(job=room.job)
    make_line(estimate, 60_000, room=room)

    with pytest.raises(ValidationError, match="There is a discount in per cent and as an amount"):
        estimates.change_terms(job=room.job, by=hand(owner), version=1, discount_minor=1_000, discount_ppm=50_000)

    assert Estimate.objects.get().discount_minor == 0


@pytest.mark.parametrize(
    ("way", "ppm", "words"),
    [
        # tests/reference/money.csv: 50 % markup is 33.3 % margin, 20 % margin is 25 % markup
        ("markup", 500_000, "Profit, 50% on all above (markup), which is 33.3% of the price (margin)"),
        ("margin", 200_000, "Profit, 20% of the price (margin), which is 25% on all above (markup)"),
        ("markup", 0, "Profit, 0% on all above (markup), which is 0% of the price (margin)"),
    ],
)
def test_profit_is_told_as_markup_and_as_margin(
    owner_client: Browser, room: Room, way: str, ppm: int, words: str
) -> None:
    make_line(make_estimate(job=room.job, profit_way=way, profit_ppm=ppm), 60_000, room=room)

    assert words in page_of(owner_client, room)


@pytest.mark.parametrize(
    ("ppm", "words"),
    [
        # tests/reference/money.csv: 50 % markup is 33.3 % margin, 50 % margin is 100 % markup
        (500_000, "A cost of 100 becomes 150 with 50% as a markup, 200 with 50% as a margin."),
        (1_200_000, "A cost of 100 becomes 220 with 120% as a markup."),
    ],
)
def test_the_terms_tell_what_price_the_profit_makes_either_way(
    owner_client: Browser, room: Room, ppm: int, words: str
) -> None:
    make_estimate(job=room.job, profit_ppm=ppm)

    html = owner_client.get(reverse("estimates:estimate_terms", args=[room.job_id])).content.decode()

    assert words in html


def test_the_terms_say_in_words_what_profit_and_tax_are_put_on(owner_client: Browser, room: Room) -> None:
    html = owner_client.get(reverse("estimates:estimate_terms", args=[room.job_id])).content.decode()

    assert "a markup: put on top of cost, overhead and contingency" in html
    assert "a margin: a part of the price, before discount and tax" in html
    assert "Labor is taxed" in html
    assert "Ticked: the total stays, and the tax in it is told. Not ticked: the tax is added." in html


def test_a_delivery_is_a_line_of_loads(owner_client: Browser, room: Room) -> None:
    url = reverse("estimates:estimate_line_new", args=[room.job_id])

    html = owner_client.get(url, {"what": "delivery"}).content.decode()

    assert 'value="Delivery to site"' in html
    assert html.count('<option value="load" selected>') == 2
    assert '<option value="other" selected>' in html
