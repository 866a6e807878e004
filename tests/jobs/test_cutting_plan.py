"""The cutting plan of a job's panels: enough sheets, each drawn, with the fence settings in their order."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import cutting
from jobs.models import Room
from jobs.surfaces import writing
from materials.models import Material
from tests.makers import hand, make_material, make_room
from tests.queries import queries_of
from workshop.models import Person

INCH = 25_400_000
KERF, CLEANUP = INCH // 8, INCH // 4


@pytest.fixture
def ash(db: None) -> Material:
    return make_material(
        name="Ash-veneered plywood", width_nm=49 * INCH, length_nm=97 * INCH, thickness_nm=INCH * 3 // 4
    )


@pytest.fixture
def room(ash: Material, staff: Person) -> Room:
    """A wall of eight panels of 23 13/16 by 96 in and two of 14 29/32: as in the pages of walls."""
    room = make_room(name="Practice 1")
    sizes = {"width_nm": 222 * INCH, "height_nm": 96 * INCH, "module_nm": 24 * INCH, "reveal_nm": INCH * 3 // 16}
    writing.add(room=room, by=hand(staff), name="B", material=ash, **sizes)
    return room


def url(room: Room) -> str:
    return reverse("jobs:cutting_plan", args=[room.job_id])


def test_two_panels_come_from_a_sheet_ordered_oversize(room: Room) -> None:
    (plan,) = cutting.plans(room.job, kerf_nm=KERF, cleanup_nm=CLEANUP)

    # By hand: 48 1/2 in are left of 49; two strips of 23 13/16 and a kerf take 47 3/4. Both ends share the fifth sheet.
    assert (plan.panels, plan.sheets, plan.is_proven) == (10, 5, True)
    assert plan.waits == ["Practice 1 B"]
    assert len(plan.cuts) == 5


def test_every_width_has_its_fence_setting(room: Room) -> None:
    (plan,) = cutting.plans(room.job, kerf_nm=KERF, cleanup_nm=CLEANUP)

    assert {"clean up: 1/4", "rip: 23 13/16", "rip: 14 29/32", "cross cut: 96"} <= set(plan.settings)


def test_panels_no_sheet_gives_are_named_and_the_rest_is_planned(room: Room, ash: Material, staff: Person) -> None:
    sizes = {"width_nm": 60 * INCH, "height_nm": 120 * INCH, "module_nm": 30 * INCH, "reveal_nm": 0}
    writing.add(room=room, by=hand(staff), name="C", material=ash, **sizes)

    (plan,) = cutting.plans(room.job, kerf_nm=KERF, cleanup_nm=CLEANUP)

    # By hand: 60 in less the 3/4 in panel of the wall before it, in two.
    assert plan.too_large == ["Practice 1 C1, 29 5/8 × 120", "Practice 1 C2, 29 5/8 × 120"]
    assert (plan.panels, plan.sheets) == (10, 5)


def test_a_kerf_larger_than_a_panel_says_what_would_do(room: Room) -> None:
    (plan,) = cutting.plans(room.job, kerf_nm=15 * INCH, cleanup_nm=0)

    assert "A thinner blade would do" in plan.refusal


def test_the_page_plans_for_the_saw_that_is_typed(staff_client: Browser, room: Room) -> None:
    usual = staff_client.get(url(room)).content.decode()
    wide = staff_client.get(url(room), {"kerf": "1", "cleanup": "0"}).content.decode()

    assert "10 panels from 5 sheets" in usual
    assert "Fewer than 5 is impossible." in usual
    assert "10 panels from 5 sheets" in wide


@pytest.mark.parametrize("typed", ["", "12-3", "-1", "\x00", "1e400", "<b>"])
def test_a_saw_that_cannot_be_read_is_told_at_the_field(staff_client: Browser, room: Room, typed: str) -> None:
    answer = staff_client.get(url(room), {"kerf": typed, "cleanup": "1/4"})

    assert answer.status_code == 422
    assert "error" in answer.content.decode()


def test_a_job_without_walls_says_what_to_do(staff_client: Browser, db: None) -> None:
    assert "No panels yet." in staff_client.get(url(make_room())).content.decode()


def test_the_plan_costs_the_same_queries_for_one_room_and_for_six(
    staff_client: Browser, room: Room, ash: Material, staff: Person
) -> None:
    one = queries_of(staff_client, url(room))
    for number in range(5):
        other = make_room(job=room.job, name=f"Lobby {number}")
        sizes = {"width_nm": 99 * INCH, "height_nm": 96 * INCH, "module_nm": 33 * INCH}
        writing.release(
            surface=writing.add(room=other, by=hand(staff), name="A", material=ash, **sizes), by=hand(staff)
        )

    assert queries_of(staff_client, url(room)) == one


def test_the_plan_costs_the_same_queries_for_one_wall_and_for_six(
    staff_client: Browser, room: Room, ash: Material, staff: Person
) -> None:
    one = queries_of(staff_client, url(room))
    for name in "CDEFG":
        writing.add(
            room=room,
            by=hand(staff),
            name=name,
            material=ash,
            width_nm=99 * INCH,
            height_nm=96 * INCH,
            module_nm=33 * INCH,
        )

    assert queries_of(staff_client, url(room)) == one
