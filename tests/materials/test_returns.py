"""Sheets that go back: asked, out of every room's reach, collected."""

# ruff: noqa: F401, F811 - fixtures are imported by name and asked for by name

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import giving
from jobs.models import Given
from materials import returns, sorting
from materials.models import Lot, Sheet, SheetReturn, ToneGroup
from tests.makers import hand, make_room
from tests.materials.returning import DAY, ask, collect, credit, delivery, in_room, lot, pale, sheet, supplier
from tests.together import at_once
from tests.typed import DAYS, TEXTS
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person


class TestAsking:
    def test_the_sheets_leave_their_stacks_and_are_set_aside(
        self, staff_client: Browser, staff: Person, lot: Lot, pale: ToneGroup
    ) -> None:
        sorting.sort(sheet=sheet(3), group=pale, by=hand(staff))

        answer = ask(staff_client, lot)

        assert answer.url == reverse("materials:returns")
        assert (sheet(3).tone_group, sheet(3).place) == (None, None)
        assert sheet(17).set_aside_why == "Goes back: Veneer loose"
        assert [row.asked_on for row in SheetReturn.objects.all()] == [DAY, DAY]
        told = f"Lot {lot.number}: sheets 3, 17 go back: Veneer loose"
        assert actions.sentence_of(actions.trace(sheet(17)).first()) == told

    def test_no_room_gets_a_sheet_that_goes_back(
        self, staff_client: Browser, staff: Person, lot: Lot, pale: ToneGroup
    ) -> None:
        sorting.sort(sheet=sheet(3), group=pale, by=hand(staff))
        ask(staff_client, lot, "3")

        with pytest.raises(ValidationError, match="3A is set aside"):
            giving.give_pieces(room=make_room(), lot=lot, pieces=[(3, "A")], by=hand(staff))

        assert not Given.objects.exists()

    def test_it_is_not_sorted_and_not_put_back_meanwhile(
        self, staff_client: Browser, staff: Person, lot: Lot, pale: ToneGroup
    ) -> None:
        ask(staff_client, lot, "3")
        gone = sheet(3)

        with pytest.raises(ValidationError, match="Sheet 3 goes back to the supplier"):
            sorting.sort(sheet=gone, group=pale, by=hand(staff), version=gone.version)
        with pytest.raises(ValidationError, match="Sheet 3 goes back to the supplier"):
            sorting.put_back(sheet=gone, by=hand(staff), version=gone.version)

        assert sheet(3).set_aside_on == DAY

    def test_a_sheet_in_a_room_does_not_go_back(self, staff_client: Browser, lot: Lot) -> None:
        in_room(17, make_room(name="Practice 4"))

        answer = ask(staff_client, lot)

        words = "Sheet 17 is in Practice 4 (one half). Take them off the list, or free them first."
        assert answer.status_code == 422
        assert answer.context["form"].errors["numbers"] == [words]
        assert not SheetReturn.objects.exists()
        assert sheet(3).set_aside_on is None

    def test_a_sheet_goes_back_once(self, staff_client: Browser, lot: Lot) -> None:
        ask(staff_client, lot, "3")

        answer = ask(staff_client, lot, "2-4")

        assert "Sheet 3 is going back already" in answer.content.decode()
        assert SheetReturn.objects.count() == 1

    def test_the_credit_expected_is_the_price_where_none_is_told(self, staff_client: Browser, lot: Lot) -> None:
        ask(staff_client, lot, "3")

        assert SheetReturn.objects.get().credit_expected_minor == 7_150

    def test_the_owner_may_expect_something_else(self, owner_client: Browser, lot: Lot) -> None:
        ask(owner_client, lot, "3", credit_expected_minor="60")

        assert SheetReturn.objects.get().credit_expected_minor == 6_000

    @pytest.mark.parametrize("numbers", ["", "43", "0", "x", "3\x00", "a" * 100_000, "1e400", "-1"])
    def test_sheets_that_are_not_there_are_refused(self, staff_client: Browser, lot: Lot, numbers: str) -> None:
        answer = ask(staff_client, lot, numbers)

        assert answer.status_code == 422
        assert answer.context["form"].errors["numbers"]
        assert not SheetReturn.objects.exists()

    @pytest.mark.parametrize("value", DAYS)
    def test_a_day_that_is_none_is_refused(self, staff_client: Browser, lot: Lot, value: str) -> None:
        assert ask(staff_client, lot, asked_on=value).context["form"].errors["asked_on"]

    @pytest.mark.parametrize("value", TEXTS)
    def test_a_reason_that_cannot_be_kept_is_refused(self, staff_client: Browser, lot: Lot, value: str) -> None:
        assert ask(staff_client, lot, why=value).context["form"].errors["why"]
        assert not SheetReturn.objects.exists()

    def test_a_long_reason_is_kept_whole_on_the_return(self, staff_client: Browser, lot: Lot) -> None:
        ask(staff_client, lot, "3", why="a" * 200)

        assert len(SheetReturn.objects.get().why) == 200
        assert len(sheet(3).set_aside_why) == 120

    def test_the_same_form_sent_twice_asks_once(self, staff_client: Browser, lot: Lot) -> None:
        key = new_key()

        ask(staff_client, lot, key=key)
        answer = ask(staff_client, lot, key=key)

        assert answer.url == reverse("materials:returns")
        assert SheetReturn.objects.count() == 2

    @pytest.mark.django_db(transaction=True)
    def test_asked_back_and_given_at_once_only_one_of_them_happens(
        self, staff: Person, staff_client: Browser, lot: Lot
    ) -> None:
        room = make_room()
        todo = [
            lambda: returns.ask(lot=lot, numbers=[3], why="Veneer loose", asked_on=DAY, by=hand(staff)),
            lambda: giving.give_pieces(room=room, lot=lot, pieces=[(3, "A")], by=hand(staff)),
        ]

        at_once(lambda: todo.pop()(), times=2)

        assert SheetReturn.objects.count() + Given.objects.count() == 1

    def test_taking_it_back_puts_the_sheet_on_its_stack_again(
        self, staff_client: Browser, staff: Person, lot: Lot, pale: ToneGroup
    ) -> None:
        sorting.sort(sheet=sheet(3), group=pale, by=hand(staff))
        ask(staff_client, lot, "3")

        undo(action=Action.objects.get(verb="return.ask"), by=hand(staff))

        assert (sheet(3).tone_group, sheet(3).set_aside_on) == (pale, None)
        assert not SheetReturn.objects.exists()

    def test_setting_aside_before_is_not_taken_back_under_a_return(
        self, staff_client: Browser, staff: Person, lot: Lot, pale: ToneGroup
    ) -> None:
        sorting.sort(sheet=sheet(3), group=pale, by=hand(staff))
        sorted_one = sheet(3)
        sorting.set_aside(sheet=sorted_one, why="Warped", by=hand(staff), version=sorted_one.version)
        ask(staff_client, lot, "3")

        with pytest.raises(ValidationError, match="was changed since"):
            undo(action=Action.objects.get(verb="sheet.set_aside"), by=hand(staff))


class TestCollecting:
    @pytest.fixture
    def rows(self, staff_client: Browser, lot: Lot) -> list[SheetReturn]:
        ask(staff_client, lot)
        return list(SheetReturn.objects.order_by("pk"))

    def test_what_the_driver_took_leaves_the_lot(
        self, staff_client: Browser, lot: Lot, rows: list[SheetReturn]
    ) -> None:
        answer = collect(staff_client, *rows)

        assert answer.url == reverse("materials:returns")
        assert sheet(17).left_on == date(2026, 11, 27)
        assert lot.sheets.here().count() == 40
        told = f"Collected by the supplier: lot {lot.number}, sheets 3, 17"
        assert actions.sentence_of(actions.trace(lot).first()) == told

    def test_only_the_marked_ones_leave(self, staff_client: Browser, rows: list[SheetReturn]) -> None:
        collect(staff_client, rows[0])

        assert (sheet(3).left_on, sheet(17).left_on) == (date(2026, 11, 27), None)

    @pytest.mark.parametrize(
        ("typed", "field"),
        [
            ({"rows": []}, "rows"),
            ({"rows": ["999999"]}, "rows"),
            ({"rows": ["x"]}, "rows"),
            ({"rows": [str(10**30)]}, "rows"),
            ({"collected_on": "2026-11-24"}, "collected_on"),
            ({"collected_on": "2026-02-30"}, "collected_on"),
            ({"collected_on": ""}, "collected_on"),
        ],
    )
    def test_what_does_not_fit_is_refused_and_nothing_leaves(
        self, staff_client: Browser, rows: list[SheetReturn], typed: dict, field: str
    ) -> None:
        answer = collect(staff_client, *rows, **typed)

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not Sheet.objects.filter(left_on__isnull=False).exists()

    def test_a_sheet_is_collected_once(self, staff_client: Browser, rows: list[SheetReturn]) -> None:
        collect(staff_client, rows[0])

        answer = collect(staff_client, *rows)

        assert "was collected before. Leave it out." in answer.content.decode()
        assert sheet(17).left_on is None

    def test_taking_it_back_brings_the_sheet_into_the_shop_again(
        self, staff_client: Browser, staff: Person, rows: list[SheetReturn]
    ) -> None:
        collect(staff_client, *rows)

        undo(action=Action.objects.get(verb="return.collect"), by=hand(staff))

        assert sheet(3).left_on is None
        assert not SheetReturn.objects.filter(collected_on__isnull=False).exists()

    def test_asking_is_not_taken_back_once_it_is_collected(
        self, staff_client: Browser, staff: Person, rows: list[SheetReturn]
    ) -> None:
        collect(staff_client, *rows)

        with pytest.raises(ValidationError, match="was changed since"):
            undo(action=Action.objects.get(verb="return.ask"), by=hand(staff))
