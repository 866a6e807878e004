"""The pull list of a job: which sheets come off which stack for each room."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import giving, pulling
from jobs.models import Job, Room
from materials.models import ToneGroup
from tests.makers import hand, make_job, make_lot, make_room, make_sheets, make_stack
from workshop.models import Person


@pytest.fixture
def job(db: None) -> Job:
    return make_job()


def page_url(job: Job) -> str:
    return reverse("jobs:giving", args=[job.pk])


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def test_the_pull_list_goes_down_each_stack_and_names_halves(
    staff_client: Browser, room: Room, pale: ToneGroup, staff: Person
) -> None:
    make_stack(pale, 7)
    giving.give(room=room, material=pale.material, group=pale, halves=5, by=hand(staff))

    html = words_of(staff_client.get(reverse("jobs:pull_list", args=[room.job_id])))

    assert "7, 6, 5A" in html
    assert "Ash-veneered plywood" in html
    assert "Two people, or a cart." in html
    assert f'id="to-rooms" href="{reverse("jobs:job", args=[room.job_id])}"' in html


def test_an_empty_pull_list_leads_to_the_giving(staff_client: Browser, job: Job) -> None:
    html = words_of(staff_client.get(reverse("jobs:pull_list", args=[job.pk])))

    assert page_url(job) in html
    assert "No sheet is given to a room yet." in html


def test_rooms_stand_in_the_order_of_installation_and_stacks_by_lot(
    room: Room, pale: ToneGroup, cream: ToneGroup, staff: Person
) -> None:
    first = make_room(job=room.job, name="Lobby", place=0)
    older, newer = make_lot(material=pale.material), make_lot(material=pale.material)
    make_stack(cream, 1, newer)
    make_stack(pale, 2, older)
    make_sheets(older, 1)
    giving.give(room=room, material=pale.material, group=cream, halves=1, by=hand(staff))
    giving.give(room=room, material=pale.material, group=pale, halves=4, by=hand(staff))
    giving.give_pieces(room=first, lot=older, pieces=[(3, "B")], by=hand(staff))

    lists = pulling.pull_lists(room.job)

    assert [(room.name, [(row.lot, row.group, row.pieces) for row in rows]) for room, rows in lists] == [
        ("Lobby", [(older, None, ["3B"])]),
        ("Practice 1", [(older, pale, ["2", "1"]), (newer, cream, ["1A"])]),
    ]


# Stack by stack


def test_stack_by_stack_each_sheet_stands_once_with_where_its_halves_go(
    room: Room, pale: ToneGroup, cream: ToneGroup, staff: Person
) -> None:
    lobby = make_room(job=room.job, name="Lobby")
    older, newer = make_lot(material=pale.material, number=8), make_lot(material=pale.material, number=9)
    make_stack(pale, 3, older)
    make_stack(cream, 1, newer)
    giving.give_pieces(room=room, lot=older, pieces=[(1, "A"), (1, "B"), (3, "A")], by=hand(staff))
    giving.give_pieces(room=lobby, lot=older, pieces=[(3, "B"), (2, "A")], by=hand(staff))
    giving.give_pieces(room=lobby, lot=newer, pieces=[(1, "A"), (1, "B")], by=hand(staff))

    stacks = pulling.pull_stacks(room.job)

    assert [(s.lot, s.group, [(sheet.number, rooms) for sheet, rooms in s.sheets]) for s in stacks] == [
        (older, pale, [(3, "A Practice 1, B Lobby"), (2, "A Lobby"), (1, "Practice 1")]),
        (newer, cream, [(1, "Lobby")]),
    ]


def test_sheets_that_are_not_sorted_stand_by_their_number(room: Room, pale: ToneGroup, staff: Person) -> None:
    lot = make_lot(material=pale.material)
    make_sheets(lot, 2)
    giving.give_pieces(room=room, lot=lot, pieces=[(2, "A"), (1, "A")], by=hand(staff))

    (stack,) = pulling.pull_stacks(room.job)

    assert (stack.group, [sheet.number for sheet, _rooms in stack.sheets]) == (None, [1, 2])


def test_both_orders_lead_to_each_other(staff_client: Browser, room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 2)
    giving.give(room=room, material=pale.material, group=pale, halves=2, by=hand(staff))
    url = reverse("jobs:pull_list", args=[room.job_id])

    by_room, by_stack = words_of(staff_client.get(url)), words_of(staff_client.get(f"{url}?by=stack"))

    assert f'href="{url}?by=stack"' in by_room
    assert f'href="{url}"' in by_stack
    assert "Goes to" in by_stack
    assert "Two people, or a cart." in by_stack


def test_an_empty_pull_list_by_stack_leads_to_the_giving(staff_client: Browser, job: Job) -> None:
    html = words_of(staff_client.get(reverse("jobs:pull_list", args=[job.pk]) + "?by=stack"))

    assert "No sheet is given to a room yet." in html


def test_sixty_rooms_cost_one_query(room: Room, pale: ToneGroup, staff: Person, django_assert_num_queries) -> None:
    lot = make_lot(material=pale.material)
    make_stack(pale, 60, lot)
    for number in range(1, 61):
        other = make_room(job=room.job)
        giving.give_pieces(room=other, lot=lot, pieces=[(number, "A")], by=hand(staff))

    with django_assert_num_queries(1):
        pulling.pull_stacks(room.job)
