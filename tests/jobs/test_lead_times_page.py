"""The lead-time page, the count of what is late, what is late for each room, and how suppliers keep their word."""

from datetime import date
from fractions import Fraction

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import Settings

from jobs import lead_times
from jobs.models import Job, Need, Room
from materials import orders, suppliers
from materials.models import Material, Order, Supplier
from tests.makers import (
    hand,
    make_delivery,
    make_job,
    make_material,
    make_need,
    make_order,
    make_room,
    make_supplier,
)
from tests.queries import queries_of
from workshop.models import Person, Shop

TODAY = date(2026, 11, 25)
OCT_26, NOV_23, DEC_1, DEC_4 = date(2026, 10, 26), date(2026, 11, 23), date(2026, 12, 1), date(2026, 12, 4)
URL = "/buying/"


@pytest.fixture(autouse=True)
def today(settings: Settings, db: None) -> date:
    settings.FIXED_TODAY = TODAY
    Shop.get()
    return TODAY


@pytest.fixture
def ash(db: None) -> Material:
    return make_material(kind="lumber", name="Solid ash 8/4", usual_supplier=make_supplier(name="Supplier B"))


@pytest.fixture
def practice_4(ash: Material) -> Room:
    room = make_room(job=make_job(name="Music school"), name="Practice 4", starts_on=DEC_4)
    make_need(room=room, material=ash, quantity_micro=180_000_000)
    return room


def deliver(order: Order, arrived_on: date) -> None:
    delivery = make_delivery(supplier=order.supplier, arrived_on=arrived_on, counted_on=arrived_on)
    for line in order.lines.all():
        delivery.lines.create(
            material=line.material, order_line=line, kept_micro=line.quantity_micro, price_micro=line.price_micro
        )


def page(browser: Browser, **headers: str) -> str:
    return browser.get(URL, headers=headers).content.decode()


def test_the_page_says_what_slipped_and_which_room_waits(
    ash: Material, practice_4: Room, owner: Person, staff_client: Browser
) -> None:
    order = make_order(material=ash, quantity_micro=180_000_000, supplier=ash.usual_supplier)
    orders.place(order=order, placed_on=OCT_26, by=hand(owner))
    orders.promise(order=order, promised_on=DEC_4, told_on=TODAY, note="", by=hand(owner))

    html = " ".join(page(staff_client).split())

    assert "Solid ash 8/4, 180 bd ft" in html
    assert "Promised Fri, Dec 4, was Mon, Nov 23; Practice 4 needs it Tue, Dec 1 (Music school)" in html
    assert "3 days late" in html
    assert "3 working" in html


def test_the_title_block_of_every_page_counts_what_is_late(
    ash: Material, practice_4: Room, staff_client: Browser
) -> None:
    make_order(placed_on=OCT_26, promised_on=NOV_23)
    Supplier.objects.filter(pk=ash.usual_supplier_id).update(lead_count=7)

    answer = staff_client.get(reverse("jobs:jobs"))

    assert answer.context["block"].late == 2


def test_what_is_late_is_counted_anew_after_an_action(ash: Material, practice_4: Room, owner: Person) -> None:
    assert lead_times.late_count() == 1

    suppliers.change(
        supplier=ash.usual_supplier, by=hand(owner), version=1, name="Supplier B", lead_count=1, lead_unit="days"
    )

    assert lead_times.late_count() == 0


def test_staff_see_neither_prices_nor_a_way_to_order(ash: Material, practice_4: Room, staff_client: Browser) -> None:
    make_order(material=ash, placed_on=OCT_26, quantity_micro=1_000_000)

    html = page(staff_client)

    assert reverse("materials:order_new") not in html
    assert "$" not in html
    assert "71.5" not in html


def test_the_owner_orders_what_is_missing_in_one_step(ash: Material, practice_4: Room, owner_client: Browser) -> None:
    link = f"{reverse('materials:order_new')}?material={ash.pk}&quantity_micro=180000000"

    assert link.replace("&", "&amp;") in page(owner_client)
    form = owner_client.get(link).context["form"]
    assert (form["quantity_micro"].value(), form["material"].value()) == ("180", ash.pk)


def test_htmx_gets_the_fragment_alone(staff_client: Browser) -> None:
    html = page(staff_client, HX_Request="true")

    assert html.lstrip().startswith('<div id="lead_times">')


@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_the_page_is_only_read(owner_client: Browser, method: str) -> None:
    assert getattr(owner_client, method)(URL).status_code == 405


def test_a_new_shop_is_told_what_to_do_first(owner_client: Browser) -> None:
    html = page(owner_client)

    assert "No order is out" in html
    assert "No order has come whole yet." in html


def test_markup_in_names_is_shown_as_typed(db: None, owner_client: Browser) -> None:
    make_order(material=make_material(name="<b>Ash</b>"), placed_on=OCT_26)

    assert "&lt;b&gt;Ash&lt;/b&gt;" in page(owner_client)


@pytest.mark.parametrize("unit", ["working_days", "days", "weeks", "months", "fortnights"])
def test_a_lead_time_no_form_takes_leaves_the_page_standing(
    ash: Material, practice_4: Room, owner_client: Browser, unit: str
) -> None:
    Supplier.objects.update(lead_count=32767, lead_unit=unit)
    make_order(material=make_material(), placed_on=OCT_26, lead_count=32767, lead_unit=unit)
    arrived = make_order(material=make_material(), placed_on=OCT_26, lead_count=32767, lead_unit=unit)
    deliver(arrived, NOV_23)

    assert owner_client.get(URL).status_code == 200


def test_days_to_prepare_no_form_takes_leave_the_page_standing(
    ash: Material, practice_4: Room, owner_client: Browser
) -> None:
    Shop.objects.update(days_to_prepare=32767)

    assert owner_client.get(URL).status_code == 200


@pytest.mark.parametrize("day", [date(1990, 1, 1), date(2100, 12, 31)])
def test_the_first_and_the_last_day_a_form_takes_leave_the_page_standing(
    ash: Material, owner_client: Browser, day: date
) -> None:
    make_need(room=make_room(starts_on=day), material=ash)
    make_order(material=ash, placed_on=day, lead_count=36, lead_unit="months")
    make_order(placed_on=day, promised_on=day)

    assert owner_client.get(URL).status_code == 200


def test_what_comes_too_late_is_told_for_each_room(ash: Material, practice_4: Room) -> None:
    make_order(material=ash, placed_on=OCT_26, promised_on=DEC_4, quantity_micro=180_000_000)
    on_time = make_room(job=practice_4.job, starts_on=date(2027, 3, 1))
    make_need(room=on_time, material=make_material(usual_supplier=ash.usual_supplier))

    assert lead_times.late_by_room(practice_4.job, TODAY) == {practice_4.pk: "Solid ash 8/4 3 days late"}


def test_only_the_room_whose_last_day_to_order_is_past_is_late(ash: Material, practice_4: Room) -> None:
    Supplier.objects.update(lead_count=7)
    later = make_room(job=practice_4.job, name="Lobby", starts_on=date(2027, 3, 1))
    make_need(room=later, material=ash)

    assert lead_times.late_by_room(practice_4.job, TODAY) == {practice_4.pk: "Solid ash 8/4 not ordered"}


def test_the_latest_of_a_rooms_material_is_told(ash: Material, practice_4: Room) -> None:
    plywood = make_material(name="Ash-veneered plywood", usual_supplier=ash.usual_supplier)
    make_need(room=practice_4, material=plywood)
    make_order(material=ash, placed_on=OCT_26, promised_on=date(2026, 12, 2), quantity_micro=180_000_000)
    make_order(material=plywood, placed_on=OCT_26, promised_on=DEC_4)

    assert lead_times.late_by_room(practice_4.job, TODAY) == {practice_4.pk: "Ash-veneered plywood 3 days late"}


def test_suppliers_are_told_by_what_they_quoted_and_what_it_took(db: None) -> None:
    supplier = make_supplier(name="Supplier A")
    for arrived_on in (date(2026, 11, 25), date(2026, 12, 6), date(2026, 11, 28), date(2026, 11, 23)):
        deliver(make_order(supplier=supplier, placed_on=OCT_26, lead_count=4, lead_unit="weeks"), arrived_on)
    make_order(supplier=supplier, placed_on=OCT_26)

    (row,) = lead_times.supplier_records()

    # 30, 41, 33 and 28 days, as in materials.calculations.lead_time: the middle two are 30 and 33
    assert (row.record.count, row.record.quoted_median) == (4, 28)
    assert (row.record.median, row.record.worst) == (Fraction(63, 2), 41)


def test_an_order_of_which_a_part_came_is_not_counted_yet(db: None) -> None:
    order = make_order(placed_on=OCT_26)
    deliver(order, NOV_23)
    order.lines.update(quantity_micro=43_000_000)

    assert lead_times.supplier_records() == []


def test_a_supplier_of_one_order_stands_on_the_page(db: None, staff_client: Browser) -> None:
    deliver(make_order(supplier=make_supplier(name="Supplier A"), placed_on=OCT_26), date(2026, 11, 26))

    html = page(staff_client)

    assert "31 d" in html
    assert "28 d" in html


def make_volume(rooms: int) -> Job:
    job = make_job()
    materials = [make_material(usual_supplier=make_supplier()) for _number in range(12)]
    made = Room.objects.bulk_create(
        Room(job=job, name=f"Practice {n}", place=n, starts_on=date(2027, 1, 4)) for n in range(1, rooms + 1)
    )
    Need.objects.bulk_create(Need(room=room, material=m, quantity_micro=5_000_000) for room in made for m in materials)
    for material in materials:
        make_order(material=material, placed_on=OCT_26, quantity_micro=rooms * 1_000_000)
    return job


def test_the_page_costs_the_same_queries_for_one_room_and_for_sixty(staff_client: Browser) -> None:
    deliver(make_order(placed_on=OCT_26), NOV_23)
    make_volume(1)
    of_one = queries_of(staff_client, URL)

    make_volume(60)

    assert queries_of(staff_client, URL) == of_one
