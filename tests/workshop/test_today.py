"""The first page: what needs somebody today, and for a new shop what to do first."""

from datetime import date, timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials.models import OrderPayment
from tests.makers import (
    make_delivery,
    make_job,
    make_ladder,
    make_lot,
    make_material,
    make_need,
    make_order,
    make_room,
    make_room_stage,
    make_sheets,
    make_stack,
    make_supplier,
)
from tests.queries import queries_of
from tests.workshop.chased import make_return, make_sample
from workshop import clock
from workshop.front import needing_me
from workshop.models import Person

pytestmark = pytest.mark.django_db
WEDNESDAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today() -> object:
    with clock.as_if(WEDNESDAY):
        yield


def first_page(browser: Browser) -> str:
    return " ".join(browser.get("/").content.decode().split())


def test_a_new_shop_is_led_to_its_first_job_and_to_its_settings(owner_client: Browser, staff_client: Browser) -> None:
    owners, staffs = first_page(owner_client), first_page(staff_client)

    assert all("Start the first job" in page and reverse("jobs:job_new") in page for page in (owners, staffs))
    assert "Set up the shop" in owners
    assert "Set up the shop" not in staffs


def test_on_a_quiet_day_every_list_says_so_in_words(owner_client: Browser) -> None:
    make_job()

    page = first_page(owner_client)

    for words in [
        "Nothing is late",
        "All is counted and sorted",
        "Nothing in the next two weeks",
        "No sample, return or credit is waited for",
        "No room is begun and not done",
    ]:
        assert f'<p class="none">{words}</p>' in page
    assert 'id="pay-head"' not in page
    assert "Start the first job" not in page
    assert "1 open" in page


def test_an_order_that_comes_after_its_material_is_needed_stands_under_late(owner_client: Browser) -> None:
    room = make_room(starts_on=date(2026, 12, 1))
    need = make_need(room=room)
    make_order(material=need.material, placed_on=date(2026, 11, 2), promised_on=date(2026, 12, 4), number=34)

    page = first_page(owner_client)

    late = page[page.index('id="late-head"') : page.index('id="handle-head"')]
    assert "order 34" in late.lower()
    assert '<span class="count">1</span>' in late


def test_a_delivery_waits_to_be_counted_until_it_is(owner_client: Browser) -> None:
    waiting = make_delivery(slip_number="4711", bundles=2)
    make_delivery(counted_on=WEDNESDAY, slip_number="4712")

    page = first_page(owner_client)

    assert reverse("materials:delivery_count", args=[waiting.pk]) in page
    assert "Slip 4711, taken in Tue, Nov 24, 2 bundles" in page
    assert "4712" not in page


def test_a_lot_waits_to_be_sorted_until_every_sheet_is_sorted_or_set_aside(owner_client: Browser) -> None:
    waiting, sorted_whole = make_lot(), make_lot()
    make_sheets(waiting, 3)
    make_sheets(waiting, 1, set_aside_on=WEDNESDAY)
    make_stack(make_ladder(sorted_whole.material)[0], 2, lot=sorted_whole)
    make_sheets(sorted_whole, 1, set_aside_on=WEDNESDAY)

    page = first_page(owner_client)

    assert [(lot.pk, lot.unsorted, lot.sheet_count) for lot in needing_me.lots_to_sort()] == [(waiting.pk, 3, 4)]
    assert "3 to sort" in page
    assert "of 4 sheets" in page
    assert reverse("materials:sort", args=[sorted_whole.pk]) not in page


def test_rooms_at_the_bench_are_those_begun_and_not_done_in_open_jobs(owner_client: Browser) -> None:
    begun = make_room(name="Practice 1")
    make_room_stage(room=begun, name="Cut", total=10, done=7)
    make_room_stage(room=begun, name="Drill", total=2)
    for name, done, closed in [("Lobby", 5, None), ("Hall", 0, None), ("Attic", 1, WEDNESDAY)]:
        make_room_stage(room=make_room(name=name, job=make_job(closed_on=closed)), total=5, done=done)

    page = first_page(owner_client)

    assert [room.name for room in needing_me.rooms_in_work()] == ["Practice 1"]
    assert "7 of 12" in page


def test_what_must_be_ordered_in_the_next_two_weeks_is_to_order_and_later_is_not(owner_client: Browser) -> None:
    supplier = make_supplier(lead_count=1, lead_unit="days")
    soon, later = (make_material(usual_supplier=supplier, name=name) for name in ("Ash for December", "Ash for May"))
    make_need(material=soon, room=make_room(starts_on=date(2026, 12, 10)))
    make_need(material=later, room=make_room(starts_on=date(2027, 5, 3)))

    page = first_page(owner_client)

    assert "Ash for December" in page
    assert "Ash for May" not in page


def test_what_to_order_is_told_in_what_it_is_bought_in(owner_client: Browser) -> None:
    boxes = {"unit": "piece", "buy_unit": "box", "buy_contains_micro": 500_000_000}
    screws = make_material(kind="fastener", usual_supplier=make_supplier(lead_count=3, lead_unit="days"), **boxes)
    make_need(material=screws, quantity_micro=1_600_000_000, room=make_room(starts_on=date(2026, 12, 10)))

    page = first_page(owner_client)

    assert "order 4 boxes (2000 pieces)" in page


def test_what_is_written_in_an_order_is_to_be_placed_and_not_to_be_ordered_twice(owner_client: Browser) -> None:
    supplier = make_supplier(name="Example Panels", lead_count=1, lead_unit="days")
    need = make_need(
        material=make_material(usual_supplier=supplier), room=make_room(name="Lobby", starts_on=date(2026, 12, 10))
    )
    order = make_order(material=need.material, number=34, quantity_micro=5_000_000)

    page = first_page(owner_client)

    assert f'id="to-place-{order.pk}"' in page
    assert "Place order 34, Example Panels" in page
    assert "Lobby needs it Mon, Dec 7" in page
    assert f'id="to-order-{need.material.pk}"' not in page


def test_an_order_that_holds_less_than_is_missing_leaves_the_rest_to_order(owner_client: Browser) -> None:
    supplier = make_supplier(lead_count=1, lead_unit="days")
    need = make_need(material=make_material(usual_supplier=supplier), room=make_room(starts_on=date(2026, 12, 10)))
    make_order(material=need.material, quantity_micro=4_000_000)

    page = first_page(owner_client)

    assert f'id="to-order-{need.material.pk}"' in page


def test_staff_who_place_no_orders_see_what_is_to_order(staff_client: Browser) -> None:
    supplier = make_supplier(lead_count=1, lead_unit="days")
    need = make_need(material=make_material(usual_supplier=supplier), room=make_room(starts_on=date(2026, 12, 10)))
    make_order(material=need.material, quantity_micro=5_000_000)

    page = first_page(staff_client)

    assert "Place order" not in page
    assert f'id="to-order-{need.material.pk}"' in page


def test_what_no_supplier_is_named_for_is_to_order_earlier(owner_client: Browser) -> None:
    soon, later = (make_material(usual_supplier=None, name=name) for name in ("Ash for January", "Ash for May"))
    make_need(material=soon, room=make_room(starts_on=date(2027, 1, 11)))
    make_need(material=later, room=make_room(starts_on=date(2027, 5, 3)))

    page = first_page(owner_client)

    assert "Ash for January" in page
    assert "Ash for May" not in page


def test_what_is_latest_stands_first_and_a_long_list_is_cut_with_a_way_to_all(owner_client: Browser) -> None:
    for days in range(needing_me.AT_MOST + 3):
        promised_on = date(2026, 11, 2) + timedelta(days=days)
        make_order(placed_on=date(2026, 10, 1), promised_on=promised_on, number=300 + days)

    page = first_page(owner_client)

    late = page[page.index('id="late-head"') : page.index('id="handle-head"')]
    assert late.count("<li") == needing_me.AT_MOST
    assert late.index("order 300") < late.index("order 301")
    assert f'<span class="count">{needing_me.AT_MOST + 3}</span>' in late
    assert f'<a href="{reverse("jobs:lead_times")}">3 more, all of them in the list</a>' in late


def test_the_room_wanted_first_stands_first_at_the_bench() -> None:
    for name, wanted_on in [("Lobby", None), ("Hall", date(2026, 12, 9)), ("Stage", date(2026, 12, 8))]:
        make_room_stage(room=make_room(name=name, wanted_on=wanted_on), total=5, done=2)

    assert [room.name for room in needing_me.rooms_in_work()] == ["Stage", "Hall", "Lobby"]


def test_a_full_shop_costs_no_more_queries_than_a_small_one(owner_client: Browser, owner: Person) -> None:
    def fill() -> None:
        for _number in range(4):
            room = make_room(starts_on=date(2026, 12, 1))
            need = make_need(room=room)
            make_order(material=need.material, placed_on=date(2026, 11, 2), promised_on=date(2026, 12, 4))
            make_sheets(make_lot(), 2)
            make_delivery()
            make_room_stage(room=room, total=5, done=2)
            make_order(material=need.material)
            late = make_order(placed_on=date(2026, 11, 2))
            OrderPayment.objects.create(order=late, what="Deposit", due_on=WEDNESDAY, amount_minor=100)
            make_sample(order=late)
            make_return()
            make_return(collected_on=WEDNESDAY)
            make_lot(quantity_micro=5, use_by_on=WEDNESDAY)

    fill()
    small = queries_of(owner_client, "/")
    fill()

    assert queries_of(owner_client, "/") <= small
