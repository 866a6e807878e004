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
