"""Taking sheets back from rooms, and the way back from giving and from taking."""

import pytest
from django.core.exceptions import ValidationError

from jobs import giving
from jobs.models import Given, Room
from materials import sorting
from materials.models import ToneGroup
from tests.jobs.handling import give, last_sentence, pieces
from tests.makers import (
    hand,
    make_room,
    make_stack,
)
from workshop import actions
from workshop.models import Action, Person


def test_what_is_taken_back_lies_free_on_its_stack(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 3)
    given = give(room, pale, 4, staff)

    giving.take_back(room=room, halves=[row.half for row in given[:3]], by=hand(staff))

    assert giving.stacks(pale.material)[0].free_halves == 5
    assert last_sentence() == "Practice 1: 1 1/2 Pale taken back"


def test_nothing_of_another_room_is_taken_back(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 1)
    lobby = make_room(job=room.job, name="Lobby")
    given = give(lobby, pale, 2, staff)

    with pytest.raises(ValidationError, match="None of these is in the room"):
        giving.take_back(room=room, halves=[row.half for row in given], by=hand(staff))

    assert Given.objects.filter(room=lobby).count() == 2


def test_a_giving_stands_in_the_trace_of_room_job_lot_and_sheet(room: Room, pale: ToneGroup, staff: Person) -> None:
    (sheet,) = make_stack(pale, 1)

    give(room, pale, 2, staff)

    for thing in (room, room.job, sheet.lot, sheet):
        assert [action.verb for action in actions.trace(thing)] == ["sheets.give"]


def test_a_giving_is_taken_back_by_undo(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 2)
    give(room, pale, 3, staff)

    actions.undo(action=Action.objects.get(), by=hand(staff))

    assert pieces(room) == []


def test_undo_of_taking_back_gives_the_same_halves_again(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 2)
    given = give(room, pale, 3, staff)
    giving.take_back(room=room, halves=[row.half for row in given], by=hand(staff))

    actions.undo(action=Action.objects.get(verb="sheets.take_back"), by=hand(staff))

    assert pieces(room) == ["1A", "2A", "2B"]


def test_undo_of_taking_back_stops_where_another_room_has_a_half_now(
    room: Room, pale: ToneGroup, staff: Person
) -> None:
    make_stack(pale, 1)
    given = give(room, pale, 2, staff)
    giving.take_back(room=room, halves=[row.half for row in given], by=hand(staff))
    give(make_room(job=room.job), pale, 1, staff)

    with pytest.raises(ValidationError, match="Not taken back"):
        actions.undo(action=Action.objects.get(verb="sheets.take_back"), by=hand(staff))

    assert pieces(room) == []


def test_undo_of_taking_back_stops_where_the_sheet_is_set_aside_now(room: Room, pale: ToneGroup, staff: Person) -> None:
    (sheet,) = make_stack(pale, 1)
    given = give(room, pale, 2, staff)
    giving.take_back(room=room, halves=[row.half for row in given], by=hand(staff))
    sheet.refresh_from_db()
    sorting.set_aside(sheet=sheet, why="Edge split", by=hand(staff), version=sheet.version)

    with pytest.raises(ValidationError, match="sheet 1 was set aside or went back since"):
        actions.undo(action=Action.objects.get(verb="sheets.take_back"), by=hand(staff))

    assert pieces(room) == []
