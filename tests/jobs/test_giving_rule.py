"""Giving sheets and halves to rooms, and taking them back.

That a count takes whole sheets from the top of a stack, older lots first, and the odd half from a sheet that is
open already, is a house rule, DEVELOPERS.md "Giving sheets".
"""

from datetime import date

import pytest
from django.core.exceptions import ValidationError

from jobs import giving, suggesting
from jobs.models import Given, Job, Room
from materials import sorting
from materials.models import Half, Material, Sheet, ToneGroup
from tests.makers import (
    hand,
    make_job,
    make_ladder,
    make_lot,
    make_material,
    make_need,
    make_room,
    make_sheets,
    make_stack,
)
from tests.together import at_once
from workshop import actions
from workshop.models import Action, Person

TODAY = date(2026, 11, 25)


@pytest.fixture
def plywood(db: None) -> Material:
    material = make_material()
    make_ladder(material)
    return material


@pytest.fixture
def pale(plywood: Material) -> ToneGroup:
    return plywood.tone_groups.get(name="Pale")


@pytest.fixture
def cream(plywood: Material) -> ToneGroup:
    return plywood.tone_groups.get(name="Cream")


@pytest.fixture
def room(plywood: Material) -> Room:
    room = make_room(name="Practice 1")
    make_need(room=room, material=plywood, quantity_micro=5_000_000)
    return room


def give(room: Room, group: ToneGroup, halves: int, person: Person) -> list[Given]:
    return giving.give(room=room, material=group.material, group=group, halves=halves, by=hand(person))


def open_sheet(sheet: Sheet, side: str = "A") -> None:
    """Give one half of a sheet to some other room."""
    Given.objects.create(half=sheet.halves.get(side=side), room=make_room())


def pieces(room: Room) -> list[str]:
    return [str(half) for half in giving.halves_of(room)]


def last_sentence() -> str:
    return actions.sentence_of(Action.objects.order_by("-pk").first())


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
        "1A is set aside; 2B went back to the supplier; 3A is in Lobby; 9A is not in this lot. "
        "Take them off the list, or free them first."
    ]
    assert pieces(room) == []


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


def test_a_giving_is_taken_back_by_undo_and_again(room: Room, pale: ToneGroup, staff: Person) -> None:
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


def test_a_given_sheet_is_not_sorted_again_or_set_aside(room: Room, pale: ToneGroup, staff: Person) -> None:
    (sheet,) = make_stack(pale, 1)
    give(room, pale, 1, staff)

    with pytest.raises(ValidationError, match="Sheet 1 is given to Practice 1"):
        sorting.set_aside(sheet=sheet, why="Edge split", by=hand(staff), version=sheet.version)


def test_a_sheet_in_two_rooms_names_both(room: Room, pale: ToneGroup) -> None:
    (sheet,) = make_stack(pale, 1)
    Given.objects.create(half=sheet.halves.get(side="A"), room=room)
    Given.objects.create(half=sheet.halves.get(side="B"), room=make_room(job=room.job, name="Lobby"))

    assert giving.rooms_of_sheets([sheet]) == {sheet.pk: "Practice 1 and Lobby"}
    assert giving.rooms_of_sheets(Sheet.objects.all()) == {sheet.pk: "Practice 1 and Lobby"}


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


@pytest.mark.django_db(transaction=True)
def test_a_half_is_in_one_room_when_eight_give_at_once(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 5)
    rooms = iter([make_room(job=room.job) for _number in range(8)])

    got = at_once(lambda: give(next(rooms), pale, 4, staff))

    refused = [one for one in got if isinstance(one, Exception)]
    assert (len(got), len(refused), Given.objects.count()) == (8, 6, 8)
    assert all(isinstance(one, ValidationError) for one in refused)


@pytest.mark.django_db(transaction=True)
def test_a_half_named_by_two_at_once_goes_to_one_of_them(room: Room, pale: ToneGroup, staff: Person) -> None:
    lot = make_lot(material=pale.material)
    make_stack(pale, 1, lot)
    rooms = iter([make_room(job=room.job) for _number in range(4)])

    got = at_once(lambda: giving.give_pieces(room=next(rooms), lot=lot, pieces=[(1, "A")], by=hand(staff)), times=4)

    assert sorted(isinstance(one, ValidationError) for one in got) == [False, True, True, True]
    assert Given.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_a_sheet_is_set_aside_or_given_but_not_both(room: Room, pale: ToneGroup, staff: Person) -> None:
    (sheet,) = make_stack(pale, 1)
    doing = iter(
        [
            lambda: give(room, pale, 2, staff),
            lambda: sorting.set_aside(sheet=sheet, why="Edge split", by=hand(staff), version=sheet.version),
        ]
    )

    got = at_once(lambda: next(doing)(), times=2)

    assert sorted(isinstance(one, ValidationError) for one in got) == [False, True]
    assert Half.objects.exclude(given=None).exclude(sheet__set_aside_on=None).count() == 0
