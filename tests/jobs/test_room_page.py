"""The page of one room."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Given, LotShare, Room
from materials.models import Half
from tests.makers import (
    make_hours,
    make_lot,
    make_material,
    make_need,
    make_room,
    make_room_stage,
    make_sheets,
)
from workshop.models import Person


def url(room: Room) -> str:
    return reverse("jobs:room", args=[room.pk])


def test_a_room_shows_what_it_takes_and_has(staff_client: Browser) -> None:
    room, plywood = make_room(), make_material()
    ash = make_material(kind="lumber")
    make_need(room=room, material=plywood, quantity_micro=5_000_000)
    make_need(room=room, material=ash, quantity_micro=48_000_000)
    make_sheets(lot := make_lot(material=plywood), 3)
    for half in Half.objects.filter(sheet__lot=lot)[:5]:
        Given.objects.create(half=half, room=room)
    LotShare.objects.create(lot=make_lot(material=ash), room=room, quantity_micro=48_000_000)

    needs = staff_client.get(url(room)).context["needs"]

    assert [row.words for row in needs] == ["2 1/2 of 5 sheets", "48 of 48 bd ft"]
    assert [row.short_micro for row in needs] == [2_500_000, 0]


def test_a_room_shows_hours_planned_and_spent(staff_client: Browser, staff: Person) -> None:
    room = make_room_stage(planned_minutes=600).room
    make_hours(room=room, person=staff, minutes=90)

    assert "1.5 of 10 h" in staff_client.get(url(room)).content.decode()


@pytest.mark.parametrize(
    "name", ["jobs:need_new", "jobs:room_plan", "jobs:hours", "jobs:room_sheets", "jobs:room_edit"]
)
def test_a_room_leads_on(staff_client: Browser, name: str) -> None:
    room = make_room_stage().room

    assert reverse(name, args=[room.pk]) in staff_client.get(url(room)).content.decode()


def test_a_new_room_says_what_to_do_first(staff_client: Browser) -> None:
    page = staff_client.get(url(make_room_stage().room)).content.decode()

    assert "List what it takes" in page


def test_a_stage_of_one_is_ticked_and_one_of_many_counted(staff_client: Browser) -> None:
    row = make_room_stage(total=1)
    many = make_room_stage(room=row.room, name="Edge", total=10, done=7)

    page = staff_client.get(url(row.room)).content.decode()

    assert f'id="step-{row.pk}-do" name="do" value="all"' in page
    assert f'id="step-{many.pk}-do" name="do" value="more"' in page
    assert "7 of 10" in page


def test_the_room_page_costs_the_same_queries_for_many_rows(
    staff_client: Browser, django_assert_max_num_queries
) -> None:
    room = make_room()
    for at in range(30):
        make_room_stage(room=room, name=f"Stage {at}", total=4)
        make_need(room=room)
    staff_client.get(url(room))

    with django_assert_max_num_queries(24):
        staff_client.get(url(room))


def test_a_room_that_is_not_there_is_not_found(staff_client: Browser) -> None:
    assert staff_client.get(f"/rooms/{10**30}/").status_code == 404


@pytest.mark.parametrize("count", ["x", "9" * 50, "\0", ""])
def test_a_strange_count_in_the_address_opens_nothing(staff_client: Browser, count: str) -> None:
    assert staff_client.get(url(make_room_stage().room), {"count": count}).status_code == 200
