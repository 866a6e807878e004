"""Sorting by tone: places on the stacks, setting aside, two people at one lot, what a room holds."""

from collections.abc import Iterator
from datetime import date

import pytest
from django.core.exceptions import ValidationError

from jobs.models import Given
from materials import pad, sorting
from materials.models import Lot, Sheet, ToneGroup
from materials.sorting import SortedMeanwhile
from tests.makers import hand, make_ladder, make_lot, make_room, make_sheets
from tests.together import at_once
from workshop import actions
from workshop.actions import Stale, undo
from workshop.models import Action, Person


@pytest.fixture
def lot(db: None) -> Lot:
    lot = make_lot(number=8)
    make_ladder(lot.material)
    make_sheets(lot, 10)
    return lot


def sheet(lot: Lot, number: int) -> Sheet:
    return Sheet.objects.select_related("lot__material", "tone_group", "sorted_by").get(lot=lot, number=number)


def group(lot: Lot, name: str) -> ToneGroup:
    return lot.material.tone_groups.get(name=name)


def sort(lot: Lot, number: int, name: str, person: Person, **options: object) -> Sheet:
    return sorting.sort(sheet=sheet(lot, number), group=group(lot, name), by=hand(person), **options)


def places(lot: Lot, name: str) -> dict[int, int]:
    """Of each sheet of a stack its number and its place from the bottom as shown."""
    stack = lot.sheets.filter(tone_group__name=name).order_by("place").select_related("tone_group")
    return {each.number: pad.place_of(each) for each in stack}


class TestStacks:
    def test_each_sheet_lies_on_the_one_before(self, lot: Lot, staff: Person) -> None:
        for number, name in [(1, "Pale"), (2, "Cream"), (3, "Pale"), (4, "Pale")]:
            sort(lot, number, name, staff)

        assert places(lot, "Pale") == {1: 1, 3: 2, 4: 3}
        assert places(lot, "Cream") == {2: 1}

    def test_the_place_shown_counts_the_sheets_that_really_lie_below(self, lot: Lot, staff: Person) -> None:
        for number in (1, 2, 3):
            sort(lot, number, "Pale", staff)

        sorting.set_aside(sheet=sheet(lot, 1), why="Edge split", by=hand(staff), version=sheet(lot, 1).version)

        assert places(lot, "Pale") == {2: 1, 3: 2}
        assert [s.shown_place for s in lot.sheets.with_shown_place().filter(number__in=[2, 3])] == [1, 2]

    def test_two_lots_of_a_material_have_stacks_of_their_own(self, lot: Lot, staff: Person) -> None:
        other = make_lot(material=lot.material)
        make_sheets(other, 1)
        sort(lot, 1, "Pale", staff)

        sort(other, 1, "Pale", staff)

        assert places(other, "Pale") == {1: 1}

    def test_the_trace_of_the_lot_tells_who_sorted_what(self, lot: Lot, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)

        told = actions.trace(lot).first()

        assert actions.sentence_of(told) == "Lot 8: sheet 1 to Pale"
        assert told.person == staff

    def test_a_group_of_another_material_is_refused(self, lot: Lot, staff: Person) -> None:
        foreign = make_ladder(make_lot().material)[0]

        with pytest.raises(ValidationError, match="of another material"):
            sorting.sort(sheet=sheet(lot, 1), group=foreign, by=hand(staff))

        assert sheet(lot, 1).tone_group is None


class TestAgain:
    def test_a_sheet_sorted_meanwhile_is_not_moved(self, lot: Lot, owner: Person, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)

        with pytest.raises(SortedMeanwhile) as meanwhile:
            sort(lot, 1, "Honey", owner)

        assert sheet(lot, 1).tone_group.name == "Pale"
        assert (
            pad.met(meanwhile.value.sheet) == "A. K. was first. Sheet 1 is on the Pale stack, place 1 from the bottom."
        )

    def test_a_sheet_set_aside_meanwhile_is_not_sorted(self, lot: Lot, owner: Person, staff: Person) -> None:
        sorting.set_aside(sheet=sheet(lot, 1), why="Edge split", by=hand(staff))

        with pytest.raises(SortedMeanwhile):
            sort(lot, 1, "Honey", owner)

    def test_a_sheet_is_sorted_again_onto_the_top_of_another_stack(self, lot: Lot, staff: Person) -> None:
        for number, name in [(1, "Pale"), (2, "Honey"), (3, "Pale")]:
            sort(lot, number, name, staff)

        sort(lot, 1, "Honey", staff, version=sheet(lot, 1).version)

        assert places(lot, "Pale") == {3: 1}
        assert places(lot, "Honey") == {2: 1, 1: 2}

    def test_a_sheet_handled_since_it_was_read_is_not_sorted_again(
        self, lot: Lot, owner: Person, staff: Person
    ) -> None:
        sort(lot, 1, "Pale", staff)
        read = sheet(lot, 1).version
        sort(lot, 1, "Honey", staff, version=read)

        with pytest.raises(Stale):
            sort(lot, 1, "Brown", owner, version=read)

        assert sheet(lot, 1).tone_group.name == "Honey"

    def test_a_sheet_put_back_waits_to_be_sorted(self, lot: Lot, staff: Person) -> None:
        sorting.set_aside(sheet=sheet(lot, 1), why="Edge split", by=hand(staff))

        sorting.put_back(sheet=sheet(lot, 1), by=hand(staff), version=sheet(lot, 1).version)

        assert sheet(lot, 1) in lot.sheets.unsorted()
        assert sheet(lot, 1).set_aside_why == ""

    def test_sorting_is_taken_back(self, lot: Lot, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)

        undo(action=Action.objects.get(), by=hand(staff))

        assert sheet(lot, 1) in lot.sheets.unsorted()

    def test_setting_aside_is_taken_back_to_the_stack(self, lot: Lot, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)
        sorting.set_aside(sheet=sheet(lot, 1), why="Edge split", by=hand(staff), version=sheet(lot, 1).version)

        undo(action=Action.objects.get(verb="sheet.set_aside"), by=hand(staff))

        assert places(lot, "Pale") == {1: 1}

    def test_a_place_taken_meanwhile_is_told(self, lot: Lot, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)
        sort(lot, 1, "Honey", staff, version=sheet(lot, 1).version)
        sort(lot, 2, "Pale", staff)

        with pytest.raises(ValidationError, match="Another sheet lies in this place of the stack now"):
            undo(action=Action.objects.filter(words__group="Honey").get(), by=hand(staff))

        assert places(lot, "Honey") == {1: 1}


class TestTwoPeople:
    def test_nobody_gets_the_sheet_another_has_in_hand(self, lot: Lot, owner: Person, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)

        assert sorting.next_sheet(lot, staff).number == 2
        assert sorting.next_sheet(lot, owner).number == 3

    def test_each_goes_on_with_a_sheet_of_their_own(self, lot: Lot, owner: Person, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)
        sort(lot, 3, "Cream", owner)
        sort(lot, 2, "Pale", staff)

        assert sorting.next_sheet(lot, staff).number == 5
        assert sorting.next_sheet(lot, owner).number == 4

    def test_the_last_sheet_is_shown_to_both(self, lot: Lot, owner: Person, staff: Person) -> None:
        for number in range(1, 10):
            sort(lot, number, "Pale", staff)

        assert sorting.next_sheet(lot, owner).number == 10

    def test_a_sheet_left_out_comes_at_the_end(self, lot: Lot, staff: Person) -> None:
        sort(lot, 5, "Pale", staff)
        for number in (6, 7, 8, 9, 10):
            sort(lot, number, "Pale", staff)

        assert sorting.next_sheet(lot, staff).number == 1

    def test_after_taking_back_the_same_sheet_is_next(self, lot: Lot, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)
        sort(lot, 2, "Pale", staff)

        undo(action=Action.objects.first(), by=hand(staff))

        assert sorting.next_sheet(lot, staff).number == 2

    @pytest.mark.django_db(transaction=True)
    def test_four_who_tap_at_once_lose_no_tap(self, owner: Person) -> None:
        lot = make_lot()
        make_ladder(lot.material)
        make_sheets(lot, 4)
        numbers = [1, 2, 3, 4]

        got = at_once(lambda: sort(lot, numbers.pop(), "Pale", owner), times=4)

        assert [type(each) for each in got] == [Sheet] * 4
        assert sorted(lot.sheets.values_list("place", flat=True)) == [1, 2, 3, 4]


class TestHeldByARoom:
    @pytest.fixture(autouse=True)
    def given(self, lot: Lot, staff: Person) -> None:
        sort(lot, 1, "Pale", staff)
        Given.objects.create(half=sheet(lot, 1).halves.first(), room=make_room(name="Practice 4"))

    def test_a_given_sheet_is_not_sorted_again(self, lot: Lot, staff: Person) -> None:
        with pytest.raises(ValidationError, match=r"Sheet 1 is given to .*Practice 4"):
            sort(lot, 1, "Honey", staff, version=sheet(lot, 1).version)

        assert sheet(lot, 1).tone_group.name == "Pale"

    def test_a_given_sheet_is_not_set_aside(self, lot: Lot, staff: Person) -> None:
        with pytest.raises(ValidationError, match=r"Sheet 1 is given to .*Practice 4"):
            sorting.set_aside(sheet=sheet(lot, 1), why="Warped", by=hand(staff), version=sheet(lot, 1).version)

        assert sheet(lot, 1).set_aside_on is None

    def test_its_sorting_is_not_taken_back(self, lot: Lot, staff: Person) -> None:
        with pytest.raises(ValidationError, match=r"Not taken back: sheet 1 is given to .*Practice 4"):
            undo(action=Action.objects.get(verb="sheet.sort"), by=hand(staff))

        assert sheet(lot, 1).tone_group.name == "Pale"


class TestHook:
    @pytest.fixture
    def asked(self) -> Iterator[list]:
        seen: list = []
        sorting.HELD_BY.append(lambda sheets: seen.append(sheets) or {})
        yield seen
        sorting.HELD_BY.pop()

    def test_an_app_above_is_asked_for_the_sheets(self, lot: Lot, asked: list) -> None:
        assert sorting.held([sheet(lot, 1)]) == {}
        assert asked == [[sheet(lot, 1)]]


def test_a_note_and_damage_are_kept_and_told(lot: Lot, staff: Person) -> None:
    read = sheet(lot, 1)

    sorting.describe(sheet=read, by=hand(staff), version=read.version, note="Mineral streak", is_damaged=True)

    kept = sheet(lot, 1)
    assert (kept.note, kept.is_damaged) == ("Mineral streak", True)
    assert actions.sentence_of(actions.trace(lot).first()) == "Lot 8: note on sheet 1"


def test_a_lot_is_to_sort_until_each_sheet_is_sorted_or_set_aside(lot: Lot, staff: Person) -> None:
    for number in range(1, 10):
        sort(lot, number, "Pale", staff)
    assert lot in Lot.objects.to_sort()

    sorting.set_aside(sheet=sheet(lot, 10), why="Warped", by=hand(staff))

    assert lot not in Lot.objects.to_sort()
    assert sheet(lot, 10).set_aside_on == date(2026, 11, 25)
