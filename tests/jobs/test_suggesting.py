"""What is suggested for the rooms of a job, in words, and given in one action. How it is found: test_giving.py."""

import pytest
from django.core.exceptions import ValidationError

from jobs import giving, suggesting
from jobs.models import Given, Job, Room
from materials.models import Material, ToneGroup
from tests.jobs.handling import give, last_sentence
from tests.makers import (
    hand,
    make_job,
    make_need,
    make_room,
    make_stack,
)
from workshop import actions
from workshop.models import Action, Person


def test_a_need_of_two_and_a_half_sheets_is_five_halves(plywood: Material, pale: ToneGroup, staff: Person) -> None:
    room = make_room()
    make_need(room=room, material=plywood, quantity_micro=2_500_000)
    make_stack(pale, 9)

    table = suggesting.table(room.job, plywood)

    assert [(told.row.need_halves, told.first_gift) for told in table.rooms] == [(5, (pale, "2 1/2"))]


def test_a_room_with_two_groups_is_warned_of(room: Room, pale: ToneGroup, cream: ToneGroup, staff: Person) -> None:
    make_stack(pale, 4)
    make_stack(cream, 2)
    give(room, pale, 8, staff)
    give(room, cream, 3, staff)

    table = suggesting.table(room.job, pale.material)

    assert table.rooms[0].warning == "Practice 1 holds 2 tone groups: Pale 4, Cream 1 1/2."


def test_the_suggestion_says_what_it_does_and_what_it_leaves(plywood: Material, pale: ToneGroup) -> None:
    job = make_job()
    for name, sheets in (("Practice 1", 5), ("Recital room", 18)):
        make_need(room=make_room(job=job, name=name), material=plywood, quantity_micro=sheets * 1_000_000)
    make_stack(pale, 7)
    make_stack(plywood.tone_groups.get(name="Cream"), 6)

    words = suggesting.table(job, plywood).words

    assert words == [
        "Practice 1 gets 5 Pale.",
        "Recital room gets 2 Pale and 6 Cream. It then holds groups 1 step apart.",
        "Recital room still lacks 10 sheets.",
    ]


@pytest.fixture
def job_of_three(plywood: Material) -> Job:
    job = make_job()
    for number, sheets in enumerate((5, 5, 2.5), 1):
        room = make_room(job=job, name=f"Practice {number}")
        make_need(room=room, material=plywood, quantity_micro=int(sheets * 1_000_000))
    for group, sheets in zip(plywood.tone_groups.all(), (6, 6, 3), strict=False):
        make_stack(group, sheets)
    return job


def test_the_suggestion_is_given_in_one_action(job_of_three: Job, plywood: Material, staff: Person) -> None:
    plan = suggesting.table(job_of_three, plywood).plan

    giving.give_suggested(job=job_of_three, material=plywood, plan=plan, by=hand(staff))

    assert [row.short_halves for row in giving.room_rows(job_of_three, plywood)] == [0, 0, 0]
    assert all(not row.has_two_groups for row in giving.room_rows(job_of_three, plywood))
    assert last_sentence() == f"{plywood.name} given as suggested to Practice 1, Practice 2, Practice 3"


def test_one_undo_takes_all_of_a_suggestion_back(job_of_three: Job, plywood: Material, staff: Person) -> None:
    plan = suggesting.table(job_of_three, plywood).plan
    giving.give_suggested(job=job_of_three, material=plywood, plan=plan, by=hand(staff))

    actions.undo(action=Action.objects.get(), by=hand(staff))

    assert Given.objects.count() == 0


def test_a_suggestion_of_which_something_is_gone_gives_nothing(
    job_of_three: Job, plywood: Material, pale: ToneGroup, staff: Person
) -> None:
    plan = suggesting.table(job_of_three, plywood).plan
    give(make_room(), plan[-1][1], 4, staff)
    give(make_room(), plan[0][1], 4, staff)

    with pytest.raises(ValidationError, match="free"):
        giving.give_suggested(job=job_of_three, material=plywood, plan=plan, by=hand(staff))

    assert Given.objects.filter(room__job=job_of_three).count() == 0


def test_an_empty_suggestion_is_refused(job_of_three: Job, plywood: Material, staff: Person) -> None:
    with pytest.raises(ValidationError, match="Nothing is suggested now"):
        giving.give_suggested(job=job_of_three, material=plywood, plan=[], by=hand(staff))
