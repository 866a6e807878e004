"""The first page: what needs somebody today, and for a new shop what to do first."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

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


def test_on_a_quiet_day_every_list_says_none(owner_client: Browser) -> None:
    make_job()

    page = first_page(owner_client)

    assert page.count('<p class="none">None</p>') >= 4
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


def test_what_no_supplier_is_named_for_is_to_order_earlier(owner_client: Browser) -> None:
    soon, later = (make_material(usual_supplier=None, name=name) for name in ("Ash for January", "Ash for May"))
    make_need(material=soon, room=make_room(starts_on=date(2027, 1, 11)))
    make_need(material=later, room=make_room(starts_on=date(2027, 5, 3)))

    page = first_page(owner_client)

    assert "Ash for January" in page
    assert "Ash for May" not in page


def test_a_full_shop_costs_no_more_queries_than_a_small_one(owner_client: Browser, owner: Person) -> None:
    def fill() -> None:
        for _number in range(4):
            room = make_room(starts_on=date(2026, 12, 1))
            need = make_need(room=room)
            make_order(material=need.material, placed_on=date(2026, 11, 2), promised_on=date(2026, 12, 4))
            make_sheets(make_lot(), 2)
            make_delivery()
            make_room_stage(room=room, total=5, done=2)

    fill()
    small = queries_of(owner_client, "/")
    fill()

    assert queries_of(owner_client, "/") <= small
