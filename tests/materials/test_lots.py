"""Lots and single sheets: what is to sort, what is free, notes and damage."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Given
from materials import sorting
from materials.models import DeliveryLine, Lot, ToneGroup
from tests.makers import hand, make_delivery, make_lot, make_material, make_room, make_sheets, post
from tests.materials.tapping import PALE, aside, pad, sheet, tap, words
from tests.queries import queries_of
from workshop.models import Person


class TestNote:
    def test_a_note_leads_back_to_the_sheet_on_the_pad(self, staff_client: Browser, lot: Lot) -> None:
        url = reverse("materials:sheet_note", args=[sheet(lot, 3).pk])

        answer = post(staff_client, url, note="Mineral streak", is_damaged="on", version="1")

        assert answer.url == pad(lot, "?sheet=3")
        assert "Damaged: Mineral streak" in words(staff_client.get(answer.url))

    def test_a_note_written_meanwhile_is_shown_beside_the_new_one(self, staff_client: Browser, lot: Lot) -> None:
        url = reverse("materials:sheet_note", args=[sheet(lot, 3).pk])
        post(staff_client, url, note="Mineral streak", version="1")

        answer = post(staff_client, url, note="Knot", version="1")

        assert answer.status_code == 422
        assert "Stored now: Mineral streak" in words(answer)
        assert 'value="Knot"' in answer.content.decode()


class TestSheetPage:
    def test_it_tells_where_the_sheet_is_and_leads_to_its_trace(
        self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])

        page = staff_client.get(reverse("materials:sheet", args=[sheet(lot, 1).pk]))

        assert "Sheet 1 is on the Pale stack, place 1 from the bottom" in words(page)
        assert reverse("front:trace", args=[f"materials.sheet:{sheet(lot, 1).pk}"]) in page.content.decode()

    def test_a_sheet_is_no_longer_set_aside(self, staff_client: Browser, lot: Lot) -> None:
        aside(staff_client, lot, 1, why="Warped")

        post(staff_client, reverse("materials:sheet_put_back", args=[sheet(lot, 1).pk]), version="2")

        assert sheet(lot, 1).set_aside_on is None

    def test_putting_back_what_was_moved_meanwhile_is_refused(self, staff_client: Browser, lot: Lot) -> None:
        aside(staff_client, lot, 1, why="Warped")

        answer = post(staff_client, reverse("materials:sheet_put_back", args=[sheet(lot, 1).pk]), version="1")

        assert answer.status_code == 422
        assert sheet(lot, 1).set_aside_on is not None

    def test_only_the_owner_sees_what_it_cost(self, staff_client: Browser, owner_client: Browser, lot: Lot) -> None:
        lot.sheets.update(landed_minor=7_900)
        url = reverse("materials:sheet", args=[sheet(lot, 1).pk])

        assert "79.00" in words(owner_client.get(url))
        assert "79.00" not in words(staff_client.get(url))

    def test_a_given_sheet_says_where_it_belongs(self, staff_client: Browser, lot: Lot) -> None:
        Given.objects.create(half=sheet(lot, 1).halves.first(), room=make_room(name="Practice 4"))

        page = words(staff_client.get(reverse("materials:sheet", args=[sheet(lot, 1).pk])))

        assert "Practice 4" in page
        assert "Take it back from there" in page


class TestLots:
    def test_the_list_tells_what_is_to_sort_and_what_is_free(
        self, staff_client: Browser, staff: Person, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        sorting.sort(sheet=sheet(lot, 1), group=groups[PALE], by=hand(staff))
        Given.objects.create(half=sheet(lot, 2).halves.first(), room=make_room())

        page = words(staff_client.get(reverse("materials:lots")))

        assert "59 to sort of 60" in page
        assert "59 free of 60 sheets" in page

    def test_the_page_of_a_lot_draws_its_stacks_and_lists_its_sheets(
        self, staff_client: Browser, staff: Person, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        for number in (1, 2):
            sorting.sort(sheet=sheet(lot, number), group=groups[PALE], by=hand(staff))
        Given.objects.create(half=sheet(lot, 1).halves.first(), room=make_room(name="Practice 4"))

        page = staff_client.get(reverse("materials:lot", args=[lot.pk]))

        assert "1 free of 2" in words(page)
        assert "Pale, place 2" in words(page)
        assert "Practice 4" in words(page)

    def test_the_list_costs_the_same_with_one_row_and_with_fifty(self, staff_client: Browser, lot: Lot) -> None:
        few = queries_of(staff_client, reverse("materials:lots"))

        for _ in range(50):
            make_sheets(make_lot(), 2)

        assert queries_of(staff_client, reverse("materials:lots")) <= few

    def test_a_lot_costs_the_same_with_few_sheets_and_with_many(self, staff_client: Browser, lot: Lot) -> None:
        small = make_lot(material=lot.material)
        make_sheets(small, 2)

        few, many = (queries_of(staff_client, reverse("materials:lot", args=[each.pk])) for each in (small, lot))

        assert many <= few

    @pytest.mark.parametrize("words_asked", ["8", "veneered"])
    def test_a_lot_is_found_by_number_and_material(self, staff_client: Browser, lot: Lot, words_asked: str) -> None:
        make_lot(number=9902, material=make_material(name="Solid ash"))

        page = words(staff_client.get(reverse("materials:lots"), {"q": words_asked}))

        assert "Lot 8, Ash-veneered plywood" in page
        assert "Lot 9902" not in page

    def test_the_empty_list_says_what_to_do_first(self, staff_client: Browser) -> None:
        assert "Take in a delivery first" in words(staff_client.get(reverse("materials:lots")))


class TestWhatComesNextForADelivery:
    def test_it_is_the_next_lot_to_sort_and_then_the_first_to_give(self, staff_client: Browser) -> None:
        delivery = make_delivery(counted_on="2026-11-25")
        first, second = lots = [make_lot(), make_lot()]
        for lot in lots:
            make_sheets(lot, 1)
            DeliveryLine.objects.create(
                delivery=delivery, material=lot.material, lot=lot, kept_micro=1_000_000, price_micro=1
            )
        page = reverse("materials:delivery", args=[delivery.pk])
        seen = []

        for lot in lots:
            seen.append(staff_client.get(page).context["to_sort"])
            lot.sheets.update(set_aside_on="2026-11-25", set_aside_why="Warped")
        last = staff_client.get(page)

        assert seen == [first, second]
        assert last.context["to_give"] == first
        assert f'id="give" href="{reverse("jobs:lot_give", args=[first.pk])}"' in last.content.decode()
