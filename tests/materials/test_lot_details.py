"""What is told of a lot later: flitch, set and top end of a run of sheets; the batch of a finish."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials.models import Lot, Sheet
from tests.makers import hand, make_lot, make_material, make_sheets, post
from tests.queries import queries_of
from tests.typed import DAYS
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person


@pytest.fixture
def lot(db: None) -> Lot:
    lot = make_lot(number=8)
    make_sheets(lot, 30)
    return lot


def write(browser: Browser, lot: Lot, **typed: object) -> object:
    values = {"numbers": "1-12", "flitch": "F3", "set_name": "A", "first_number": "1", "direction": "up"}
    return post(browser, reverse("materials:lot_veneer", args=[lot.pk]), **{**values, **typed})


def told(lot: Lot) -> list[tuple]:
    return list(lot.sheets.values_list("flitch", "set_name", "sequence_number", "is_top_marked"))


class TestVeneer:
    def test_a_run_of_sheets_gets_its_numbers(self, staff_client: Browser, lot: Lot) -> None:
        answer = write(staff_client, lot, is_top_marked="on")

        assert answer.url == reverse("materials:lot", args=[lot.pk])
        assert told(lot)[:12] == [("F3", "A", number, True) for number in range(1, 13)]
        assert told(lot)[12:] == [("", "", None, False)] * 18
        words = "Lot 8: sheets 1-12 are flitch F3, set A, number 1 to 12, top end marked"
        assert actions.sentence_of(actions.trace(lot).first()) == words

    def test_a_bundle_unpacked_from_its_end_counts_down(self, staff_client: Browser, lot: Lot) -> None:
        write(staff_client, lot, numbers="4-6", first_number="12", direction="down")

        assert [row[2] for row in told(lot)[3:6]] == [12, 11, 10]

    def test_the_order_typed_is_the_order_of_the_mill(self, staff_client: Browser, lot: Lot) -> None:
        write(staff_client, lot, numbers="9, 2", first_number="5")

        assert (lot.sheets.get(number=9).sequence_number, lot.sheets.get(number=2).sequence_number) == (5, 6)

    def test_what_is_left_empty_takes_the_place_of_what_was_there(self, staff_client: Browser, lot: Lot) -> None:
        write(staff_client, lot, is_top_marked="on")

        write(staff_client, lot, numbers="1", set_name="", first_number="")

        assert told(lot)[0] == ("F3", "", None, False)

    def test_lot_and_sheet_show_it(self, staff_client: Browser, lot: Lot) -> None:
        write(staff_client, lot, is_top_marked="on")

        sheet = lot.sheets.get(number=3)
        words = "flitch F3, set A, number 3, top end marked"
        assert words in staff_client.get(reverse("materials:lot", args=[lot.pk])).content.decode()
        assert words in staff_client.get(reverse("materials:sheet", args=[sheet.pk])).content.decode()

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("numbers", ""),
            ("numbers", "29-31"),
            ("numbers", "0"),
            ("numbers", "3\x00"),
            ("numbers", "a" * 100_000),
            ("numbers", "1-99999"),
            ("flitch", "a" * 100_000),
            ("set_name", "A\x00"),
            ("first_number", "0"),
            ("first_number", "-1"),
            ("first_number", "1e400"),
            ("first_number", str(10**30)),
            ("first_number", "99999"),
            ("direction", "sideways"),
            ("direction", ""),
        ],
    )
    def test_what_cannot_be_is_refused_at_its_field_and_nothing_is_written(
        self, staff_client: Browser, lot: Lot, field: str, value: str
    ) -> None:
        answer = write(staff_client, lot, **{field: value})

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert told(lot) == [("", "", None, False)] * 30

    def test_numbers_do_not_run_below_one(self, staff_client: Browser, lot: Lot) -> None:
        answer = write(staff_client, lot, first_number="11", direction="down")

        words = "12 sheets counted down from 11 run below 1. Begin higher, or count up."
        assert answer.context["form"].errors["first_number"] == [words]

    def test_taking_it_back_leaves_what_was_there(self, staff_client: Browser, staff: Person, lot: Lot) -> None:
        write(staff_client, lot, numbers="1-3", flitch="F1")
        write(staff_client, lot)

        undo(action=Action.objects.filter(verb="sheets.veneer").first(), by=hand(staff))

        assert [row[0] for row in told(lot)[:4]] == ["F1", "F1", "F1", ""]

    def test_the_same_form_sent_twice_is_one_action(self, staff_client: Browser, lot: Lot) -> None:
        key = new_key()

        write(staff_client, lot, key=key)
        write(staff_client, lot, key=key, flitch="F9")

        assert told(lot)[0][0] == "F3"
        assert Action.objects.filter(verb="sheets.veneer").count() == 1

    def test_sheets_only(self, staff_client: Browser) -> None:
        finish = make_lot(material=make_material(kind="finish", unit="gallon"))

        assert staff_client.get(reverse("materials:lot_veneer", args=[finish.pk])).status_code == 404

    def test_the_lot_costs_the_same_with_and_without(self, staff_client: Browser, lot: Lot) -> None:
        few = queries_of(staff_client, reverse("materials:lot", args=[lot.pk]))

        write(staff_client, lot)

        assert queries_of(staff_client, reverse("materials:lot", args=[lot.pk])) <= few + 1

    def test_a_sheet_noted_meanwhile_keeps_its_note(self, staff_client: Browser, lot: Lot) -> None:
        Sheet.objects.filter(lot=lot, number=1).update(note="Pin knot")

        write(staff_client, lot)

        assert lot.sheets.get(number=1).note == "Pin knot"


class TestBatch:
    @pytest.fixture
    def finish(self, db: None) -> Lot:
        return make_lot(number=9, material=make_material(kind="finish", unit="gallon", name="Water-based finish"))

    def save(self, browser: Browser, lot: Lot, **typed: object) -> object:
        values = {"batch_number": "B 2211", "use_by_on": "2027-05-31", "version": lot.version}
        return post(browser, reverse("materials:lot_batch", args=[lot.pk]), **{**values, **typed})

    def test_batch_and_use_by_date_are_told_later(self, staff_client: Browser, finish: Lot) -> None:
        self.save(staff_client, finish)

        finish.refresh_from_db()
        assert (finish.batch_number, finish.use_by_on) == ("B 2211", date(2027, 5, 31))
        assert actions.sentence_of(actions.trace(finish).first()) == "Lot 9: batch or use-by date changed"

    @pytest.mark.parametrize("value", DAYS)
    def test_a_day_that_is_none_is_refused(self, staff_client: Browser, finish: Lot, value: str) -> None:
        answer = self.save(staff_client, finish, use_by_on=value)

        assert answer.context["form"].errors["use_by_on"]
        assert Lot.objects.get().use_by_on is None

    def test_a_form_somebody_overtook_shows_both(self, staff_client: Browser, finish: Lot) -> None:
        self.save(staff_client, finish)

        answer = self.save(staff_client, finish, batch_number="B 9")

        assert answer.status_code == 422
        assert answer.context["form"].errors["batch_number"] == ["Stored now: B 2211"]

    def test_taking_it_back_empties_it(self, staff_client: Browser, staff: Person, finish: Lot) -> None:
        self.save(staff_client, finish)

        undo(action=Action.objects.get(verb="lot.batch"), by=hand(staff))

        assert Lot.objects.get().batch_number == ""
