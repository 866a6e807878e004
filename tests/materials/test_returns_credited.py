"""Sheets that go back: credited, or kept after all, and their list."""

# ruff: noqa: F401, F811 - fixtures are imported by name and asked for by name

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from materials import sorting
from materials.models import Bill, Delivery, Lot, SheetReturn
from tests.makers import hand, post
from tests.materials.returning import DAY, ask, collect, credit, delivery, in_room, lot, pale, sheet, supplier
from tests.queries import queries_of
from tests.typed import NUMBERS
from workshop import actions
from workshop.actions import undo
from workshop.models import Action, Person


class TestCredit:
    @pytest.fixture
    def row(self, owner_client: Browser, lot: Lot) -> SheetReturn:
        ask(owner_client, lot, "3")
        return SheetReturn.objects.get()

    def test_the_credit_lowers_the_sheet_and_with_it_the_delivery(
        self, owner_client: Browser, lot: Lot, delivery: Delivery, row: SheetReturn
    ) -> None:
        # 3,318.00 less 71.50 is 3,246.50; sheet 3 keeps its freight, 7.50.
        answer = credit(owner_client, row)

        row.refresh_from_db()
        lot.refresh_from_db()
        assert answer.url == reverse("materials:return", args=[row.pk])
        assert (row.credit_received_minor, row.credited_on) == (7_150, date(2026, 11, 30))
        assert (sheet(3).landed_minor, sheet(4).landed_minor) == (750, 7_900)
        assert lot.landed_minor == 324_650
        assert (Bill.objects.get().sheet, Bill.objects.get().kind) == (sheet(3), "credit")
        assert "$3,246.50" in owner_client.get(reverse("materials:delivery", args=[delivery.pk])).content.decode()

    def test_the_trace_names_no_money(self, owner_client: Browser, lot: Lot, row: SheetReturn) -> None:
        credit(owner_client, row)

        told = actions.sentence_of(actions.trace(row).first())
        assert told == f"Lot {lot.number}: credit note C 81 came for sheet 3"

    @pytest.mark.parametrize("amount", ["79.01", "0", *NUMBERS])
    def test_a_credit_that_cannot_be_stores_nothing(self, owner_client: Browser, row: SheetReturn, amount: str) -> None:
        answer = credit(owner_client, row, amount_minor=amount)

        assert answer.status_code == 422
        assert not Bill.objects.exists()
        assert sheet(3).landed_minor == 7_900

    def test_it_is_credited_once(self, owner_client: Browser, row: SheetReturn) -> None:
        credit(owner_client, row)

        answer = credit(owner_client, row, number="C 82")

        assert answer.status_code == 422
        assert "The credit for this sheet came before." in answer.content.decode()
        assert Bill.objects.count() == 1

    def test_its_bill_is_not_changed_behind_its_back(self, owner_client: Browser, row: SheetReturn) -> None:
        credit(owner_client, row)

        answer = post(owner_client, reverse("materials:bill_remove", args=[Bill.objects.get().pk]))

        assert answer.status_code == 422
        assert "This is the credit of a return." in answer.content.decode()

    def test_taking_it_back_raises_the_cost_again(self, owner_client: Browser, owner: Person, row: SheetReturn) -> None:
        credit(owner_client, row)

        undo(action=Action.objects.get(verb="return.credit"), by=hand(owner))

        row.refresh_from_db()
        assert (row.credited_on, sheet(3).landed_minor) == (None, 7_900)
        assert not Bill.objects.exists()

    def test_staff_see_no_credit_and_enter_none(self, staff_client: Browser, row: SheetReturn) -> None:
        pages = [reverse("materials:returns"), reverse("materials:return", args=[row.pk])]

        shown = " ".join(staff_client.get(url).content.decode() for url in pages)

        assert "71.50" not in shown
        assert "Credit" not in shown
        assert credit(staff_client, row).status_code == 403


class TestStaying:
    @pytest.fixture
    def row(self, staff_client: Browser, lot: Lot) -> SheetReturn:
        ask(staff_client, lot, "3")
        return SheetReturn.objects.get()

    def stays(self, browser: Browser, row: SheetReturn) -> object:
        return post(browser, reverse("materials:return_cancel", args=[row.pk]))

    def test_a_sheet_that_stays_after_all_waits_set_aside(
        self, staff_client: Browser, staff: Person, row: SheetReturn
    ) -> None:
        answer = self.stays(staff_client, row)

        assert answer.url == reverse("materials:sheet", args=[row.sheet_id])
        assert not SheetReturn.objects.exists()
        sorting.put_back(sheet=sheet(3), by=hand(staff), version=sheet(3).version)
        assert sheet(3).set_aside_on is None

    def test_it_does_not_stay_once_it_is_collected(self, staff_client: Browser, row: SheetReturn) -> None:
        collect(staff_client, row)

        answer = self.stays(staff_client, row)

        assert answer.status_code == 422
        assert "This sheet was collected or credited. Take that back first." in answer.content.decode()

    def test_a_return_does_not_come_back_over_a_sheet_in_use(
        self, staff_client: Browser, staff: Person, row: SheetReturn
    ) -> None:
        self.stays(staff_client, row)
        sorting.put_back(sheet=sheet(3), by=hand(staff), version=sheet(3).version)

        with pytest.raises(ValidationError, match="sheet 3 is not set aside any more"):
            undo(action=Action.objects.get(verb="return.cancel"), by=hand(staff))

        assert not SheetReturn.objects.exists()


class TestList:
    def test_what_is_still_expected_is_summed(self, owner_client: Browser, lot: Lot) -> None:
        ask(owner_client, lot, "1-3")
        credit(owner_client, SheetReturn.objects.first())

        shown = owner_client.get(reverse("materials:returns")).content.decode()

        assert "$143.00" in shown

    def test_with_none_it_says_where_they_begin(self, staff_client: Browser, db: None) -> None:
        shown = staff_client.get(reverse("materials:returns")).content.decode()

        assert "Sheets are sent back from the page of their lot." in shown

    def test_it_costs_the_same_with_one_and_with_forty(self, owner_client: Browser, lot: Lot) -> None:
        ask(owner_client, lot, "1")
        collect(owner_client, SheetReturn.objects.get(), collected_on="2026-11-25")
        ask(owner_client, lot, "2")
        few = queries_of(owner_client, reverse("materials:returns"))

        ask(owner_client, lot, "3-40")
        collect(owner_client, *SheetReturn.objects.filter(sheet__number__in=range(3, 20)))

        assert queries_of(owner_client, reverse("materials:returns")) <= few
