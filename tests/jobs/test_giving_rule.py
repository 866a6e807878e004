"""Giving sheets and halves to rooms, and taking them back.

That a count takes whole sheets from the top of a stack, older lots first, and the odd half from a sheet that is
open already, is a house rule, DEVELOPERS.md "Giving sheets".
"""

from datetime import date

import pytest
from django.core.exceptions import ValidationError

from jobs import giving
from jobs.models import Given, Room
from materials import sorting
from materials.models import Material, Sheet, ToneGroup
from tests.jobs.handling import give, last_sentence, open_sheet, pieces
from tests.makers import (
    hand,
    make_lot,
    make_room,
    make_sheets,
    make_stack,
)
from workshop.models import Action, Person

TODAY = date(2026, 11, 25)


def test_a_count_takes_whole_sheets_from_the_top_of_the_stack(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 9)

    give(room, pale, 10, staff)

    assert pieces(room) == [f"{number}{side}" for number in (5, 6, 7, 8, 9) for side in "AB"]
    assert last_sentence() == "Practice 1: 5 Pale given"


def test_the_stack_of_an_older_lot_is_taken_first(room: Room, pale: ToneGroup, staff: Person) -> None:
    older, newer = make_stack(pale, 2), make_stack(pale, 4)

    give(room, pale, 6, staff)

    taken = Sheet.objects.filter(halves__given__room=room).distinct()
    assert set(taken) == {*older, newer[-1]}


def test_an_odd_count_opens_the_last_sheet(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 4)

    give(room, pale, 5, staff)

    assert pieces(room) == ["2A", "3A", "3B", "4A", "4B"]
    assert last_sentence() == "Practice 1: 2 1/2 Pale given"


def test_the_odd_half_comes_from_a_sheet_that_is_open_already(room: Room, pale: ToneGroup, staff: Person) -> None:
    sheets = make_stack(pale, 4)
    open_sheet(sheets[0])

    give(room, pale, 5, staff)

    assert pieces(room) == ["1B", "3A", "3B", "4A", "4B"]


def test_an_open_sheet_of_a_newer_lot_is_used_before_another_is_opened(
    room: Room, pale: ToneGroup, staff: Person
) -> None:
    make_stack(pale, 3)
    newer = make_stack(pale, 2)
    open_sheet(newer[0])

    give(room, pale, 1, staff)

    assert Given.objects.get(room=room).half.sheet == newer[0]


def test_a_whole_count_leaves_open_sheets_alone_while_there_are_whole_ones(
    room: Room, pale: ToneGroup, staff: Person
) -> None:
    sheets = make_stack(pale, 4)
    open_sheet(sheets[3])
    open_sheet(sheets[2])

    give(room, pale, 4, staff)

    assert pieces(room) == ["1A", "1B", "2A", "2B"]


def test_open_sheets_serve_where_whole_ones_are_too_few(room: Room, pale: ToneGroup, staff: Person) -> None:
    for sheet in make_stack(pale, 3):
        open_sheet(sheet)

    give(room, pale, 2, staff)

    assert pieces(room) == ["2B", "3B"]


def test_more_than_is_free_is_refused_with_what_is_free(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 4)

    with pytest.raises(ValidationError) as refused:
        give(room, pale, 10, staff)

    assert refused.value.message_dict == {
        "count": ["Pale has 4 sheets free. Type that or less, or choose another tone group."]
    }
    assert (Given.objects.count(), Action.objects.count()) == (0, 0)


def test_a_group_with_none_free_is_refused(room: Room, pale: ToneGroup, staff: Person) -> None:
    with pytest.raises(ValidationError, match="Pale has none free"):
        give(room, pale, 2, staff)


@pytest.mark.parametrize("gone", ["set_aside_on", "left_on"])
def test_sheets_set_aside_or_gone_are_not_counted_as_free(
    room: Room, pale: ToneGroup, staff: Person, gone: str
) -> None:
    sheets = make_stack(pale, 2)
    out = {"tone_group": None, "place": None} if gone == "set_aside_on" else {}
    Sheet.objects.filter(pk=sheets[1].pk).update(**{gone: TODAY}, **out)

    with pytest.raises(ValidationError, match="Pale has 1 sheet free"):
        give(room, pale, 4, staff)


def test_single_sheets_and_halves_are_given_by_their_numbers(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 3, lot := make_lot(material=pale.material))

    giving.give_pieces(room=room, lot=lot, pieces=[(1, "B"), (3, "A"), (3, "B")], by=hand(staff))

    assert pieces(room) == ["1B", "3A", "3B"]
    assert last_sentence() == "Practice 1: 1 1/2 Pale given"


def test_a_sheet_not_sorted_yet_can_be_given_by_its_number(room: Room, plywood: Material, staff: Person) -> None:
    make_sheets(lot := make_lot(material=plywood), 1)

    giving.give_pieces(room=room, lot=lot, pieces=[(1, "A"), (1, "B")], by=hand(staff))

    assert last_sentence() == "Practice 1: 1 not sorted given"


def test_all_numbers_that_cannot_be_given_are_named(room: Room, pale: ToneGroup, staff: Person) -> None:
    lot = make_lot(material=pale.material)
    sheets = make_stack(pale, 3, lot)
    Sheet.objects.filter(pk=sheets[0].pk).update(set_aside_on=TODAY, tone_group=None, place=None)
    Sheet.objects.filter(pk=sheets[1].pk).update(left_on=TODAY)
    Given.objects.create(half=sheets[2].halves.get(side="A"), room=make_room(name="Lobby"))

    with pytest.raises(ValidationError) as refused:
        giving.give_pieces(
            room=room, lot=lot, pieces=[(1, "A"), (2, "B"), (3, "A"), (9, "A"), (3, "B")], by=hand(staff)
        )

    assert refused.value.message_dict["pieces"] == [
        "1A is set aside; 2B is back at the supplier; 3A is in Lobby; 9A is not in this lot. "
        "Take them off the list, or free them first."
    ]
    assert pieces(room) == []


def test_a_run_of_sheets_that_cannot_be_given_is_named_as_a_run(room: Room, pale: ToneGroup, staff: Person) -> None:
    lot, lobby = make_lot(material=pale.material), make_room(name="Lobby")
    sheets = make_stack(pale, 6, lot)
    Given.objects.bulk_create(Given(half=half, room=lobby) for sheet in sheets[:5] for half in sheet.halves.all())

    with pytest.raises(ValidationError) as refused:
        giving.give_pieces(room=room, lot=lot, pieces=[(n, side) for n in range(2, 7) for side in "AB"], by=hand(staff))

    words = "2-5 are in Lobby. Take them off the list, or free them first."
    assert refused.value.message_dict["pieces"] == [words]


def test_numbers_the_room_has_already_are_passed_over(room: Room, pale: ToneGroup, staff: Person) -> None:
    lot = make_lot(material=pale.material)
    sheets = make_stack(pale, 2, lot)
    Given.objects.create(half=sheets[0].halves.get(side="A"), room=room)

    giving.give_pieces(room=room, lot=lot, pieces=[(1, "A"), (1, "B")], by=hand(staff))

    assert pieces(room) == ["1A", "1B"]


def test_only_numbers_the_room_has_already_are_refused(room: Room, pale: ToneGroup, staff: Person) -> None:
    lot = make_lot(material=pale.material)
    Given.objects.create(half=make_stack(pale, 1, lot)[0].halves.get(side="A"), room=room)

    with pytest.raises(ValidationError, match="These are in Practice 1 already"):
        giving.give_pieces(room=room, lot=lot, pieces=[(1, "A")], by=hand(staff))


def test_a_given_sheet_is_not_sorted_again_or_set_aside(room: Room, pale: ToneGroup, staff: Person) -> None:
    (sheet,) = make_stack(pale, 1)
    give(room, pale, 1, staff)

    with pytest.raises(ValidationError, match="Sheet 1 is given to Practice 1"):
        sorting.set_aside(sheet=sheet, why="Edge split", by=hand(staff), version=sheet.version)


def test_a_sheet_of_which_a_room_has_one_half_says_so(room: Room, pale: ToneGroup) -> None:
    (sheet,) = make_stack(pale, 1)
    Given.objects.create(half=sheet.halves.get(side="A"), room=room)

    assert giving.rooms_of_sheets([sheet]) == {sheet.pk: "Practice 1 (one half)"}


def test_a_sheet_in_two_rooms_names_both(room: Room, pale: ToneGroup) -> None:
    (sheet,) = make_stack(pale, 1)
    Given.objects.create(half=sheet.halves.get(side="A"), room=room)
    Given.objects.create(half=sheet.halves.get(side="B"), room=make_room(job=room.job, name="Lobby"))

    assert giving.rooms_of_sheets([sheet]) == {sheet.pk: "Practice 1 and Lobby"}
    assert giving.rooms_of_sheets(Sheet.objects.all()) == {sheet.pk: "Practice 1 and Lobby"}
