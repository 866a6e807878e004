"""The sorting pad: one tap a sheet, the next one in the answer, with script and without."""

import re

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from materials.models import Lot, ToneGroup
from tests.makers import make_ladder, make_lot, make_material, make_sheets, post
from tests.materials.tapping import BROWN, CREAM, HONEY, PALE, aside, in_hand, pad, sheet, tap, words
from workshop.actions import new_key
from workshop.models import Action


class TestPage:
    def test_the_first_sheet_stands_with_its_size_and_what_is_left(self, staff_client: Browser, lot: Lot) -> None:
        answer = staff_client.get(pad(lot))

        assert in_hand(answer) == 1
        assert "Sheet 1 of 60" in words(answer)
        assert "49″ × 97″, ash" in words(answer)
        assert "60 left" in words(answer)

    def test_each_group_is_a_button_with_its_swatch_name_count_and_key(self, staff_client: Browser, lot: Lot) -> None:
        page = staff_client.get(pad(lot)).content.decode()

        assert page.count('<button class="tone"') == 4
        assert re.findall(r'data-key="(\d)"', page) == ["1", "2", "3", "4"]
        assert re.findall(r'data-tone="(\w+)"', page)[:4] == ["Pale", "Cream", "Honey", "Brown"]

    def test_a_part_is_asked_for_alone(self, staff_client: Browser, lot: Lot) -> None:
        part = staff_client.get(pad(lot), headers={"HX-Request": "true"}).content.decode()

        assert part.startswith('<div class="pad cols is-wide-right" id="pad">')
        assert "<html" not in part

    def test_a_lot_without_sheets_has_no_pad(self, staff_client: Browser) -> None:
        lot = make_lot(material=make_material(kind="lumber", unit="board_foot"))

        assert staff_client.get(pad(lot)).status_code == 404

    def test_without_tone_groups_the_page_says_what_to_do_first(self, staff_client: Browser) -> None:
        lot = make_lot()
        make_sheets(lot, 1)

        assert "Name the tone groups" in words(staff_client.get(pad(lot)))

    @pytest.mark.parametrize(
        "query", ["?sheet=x", "?sheet=99", "?sheet=-1", f"?sheet={10**30}", "?sheet=%00", "?aside=7"]
    )
    def test_an_address_that_names_no_sheet_shows_the_next(self, staff_client: Browser, lot: Lot, query: str) -> None:
        answer = staff_client.get(pad(lot, query))

        assert answer.status_code == 200
        assert in_hand(answer) == 1


class TestTap:
    def test_the_answer_is_the_next_sheet(self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]) -> None:
        answer = tap(staff_client, lot, 1, groups[CREAM])

        assert answer.status_code == 200
        assert in_hand(answer) == 2
        assert "<html" not in answer.content.decode()
        assert sheet(lot, 1).tone_group == groups[CREAM]

    def test_it_says_where_the_sheet_is_now(self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]) -> None:
        tap(staff_client, lot, 1, groups[CREAM])

        answer = tap(staff_client, lot, 2, groups[CREAM])

        assert "Sheet 2 is on the Cream stack, place 2 from the bottom" in words(answer)
        assert 'data-say="Lot 8: sheet 2 to Cream. Next: 3."' in answer.content.decode()

    def test_counts_grow_as_one_goes(self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]) -> None:
        tap(staff_client, lot, 1, groups[CREAM])

        answer = tap(staff_client, lot, 2, groups[PALE])

        assert "Pale 1 sheet" in words(answer)
        assert "2 of 60 sheets sorted" in words(answer)
        assert "58 left" in words(answer)

    def test_without_script_the_pad_is_shown_again(
        self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        answer = tap(staff_client, lot, 1, groups[CREAM], htmx=False)

        assert (answer.status_code, answer.url) == (303, pad(lot))

    def test_a_tap_sent_twice_sorts_once(self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]) -> None:
        key = new_key()
        tap(staff_client, lot, 1, groups[CREAM], key=key)

        again = tap(staff_client, lot, 1, groups[CREAM], key=key)

        assert (again.status_code, again.url) == (303, pad(lot))
        assert Action.objects.filter(verb="sheet.sort").count() == 1

    def test_a_sheet_another_sorted_meanwhile_is_told_and_the_next_is_shown(
        self, staff_client: Browser, owner_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(owner_client, lot, 1, groups[PALE])

        answer = tap(staff_client, lot, 1, groups[BROWN])

        assert answer.status_code == 409
        assert "R. M. was first. Sheet 1 is on the Pale stack, place 1 from the bottom." in words(answer)
        assert in_hand(answer) == 3
        assert sheet(lot, 1).tone_group == groups[PALE]

    @pytest.mark.parametrize("value", ["", "x", "999999", str(10**30), "\0", "-1"])
    def test_a_group_that_is_not_there_is_refused(self, staff_client: Browser, lot: Lot, value: str) -> None:
        url = reverse("materials:sheet_sort", args=[sheet(lot, 1).pk])

        answer = post(staff_client, url, htmx=True, group=value)

        assert answer.status_code == 422
        assert in_hand(answer) == 1
        assert sheet(lot, 1).tone_group is None

    def test_a_group_of_another_material_is_refused(self, staff_client: Browser, lot: Lot) -> None:
        foreign = make_ladder(make_material())[0]

        assert tap(staff_client, lot, 1, foreign).status_code == 422

    def test_sorting_asks_for_a_post(self, staff_client: Browser, lot: Lot) -> None:
        for name in ("sheet_sort", "sheet_set_aside", "sheet_put_back"):
            assert staff_client.get(reverse(f"materials:{name}", args=[sheet(lot, 1).pk])).status_code == 405

    def test_a_tap_costs_the_same_at_the_first_sheet_and_at_the_last(
        self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])
        with CaptureQueriesContext(connection) as early:
            tap(staff_client, lot, 2, groups[PALE])
        for number in range(3, 59):
            tap(staff_client, lot, number, groups[number % 4])

        with CaptureQueriesContext(connection) as late:
            tap(staff_client, lot, 59, groups[PALE])

        assert len(late) == len(early)


class TestUndo:
    def test_the_last_tap_is_taken_back_and_the_sheet_is_in_hand_again(
        self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])
        page = tap(staff_client, lot, 2, groups[CREAM]).content.decode()
        undo_url = re.search(r'hx-post="(/actions/\d+/undo/)"', page)[1]

        answer = post(staff_client, undo_url, htmx=True)

        shown = staff_client.get(answer.url, headers={"HX-Request": "true"})
        assert answer.url == pad(lot)
        assert in_hand(shown) == 2
        assert "Sheet 1 is on the Pale stack, place 1 from the bottom" in words(shown)
        assert "Taken back: Lot 8: sheet 2 to Cream" in words(shown)

    def test_each_takes_back_their_own(
        self, staff_client: Browser, owner_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])
        tap(owner_client, lot, 2, groups[CREAM])

        assert "Sheet 1 is on the Pale stack" in words(staff_client.get(pad(lot)))
        assert "Sheet 2 is on the Cream stack" in words(owner_client.get(pad(lot)))


class TestBack:
    def test_a_former_sheet_is_shown_where_it_is(
        self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])

        answer = staff_client.get(pad(lot, "?sheet=1"))

        assert in_hand(answer) == 1
        assert "Sheet 1 is on the Pale stack, place 1 from the bottom" in words(answer)
        assert 'name="version" value="2"' in answer.content.decode()

    def test_a_former_sheet_is_sorted_again_and_the_next_is_shown(
        self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])

        answer = tap(staff_client, lot, 1, groups[HONEY], version="2")

        assert in_hand(answer) == 2
        assert sheet(lot, 1).tone_group == groups[HONEY]
        assert answer.headers["HX-Replace-Url"] == pad(lot)

    def test_a_former_sheet_moved_meanwhile_is_not_moved_again(
        self, staff_client: Browser, owner_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])
        tap(owner_client, lot, 1, groups[HONEY], version="2")

        answer = tap(staff_client, lot, 1, groups[BROWN], version="2")

        assert answer.status_code == 422
        assert "Somebody handled this sheet meanwhile." in words(answer)
        assert sheet(lot, 1).tone_group == groups[HONEY]

    def test_one_can_step_back_from_sheet_to_sheet(
        self, staff_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])

        assert "Back to 1" in words(staff_client.get(pad(lot)))


class TestSetAside:
    def test_the_first_tap_shows_the_reasons_and_the_second_sets_aside(self, staff_client: Browser, lot: Lot) -> None:
        page = staff_client.get(pad(lot, "?sheet=1&aside=1")).content.decode()
        answer = aside(staff_client, lot, 1, why="Edge split")

        assert '<button class="btn is-glove" name="why" value="Edge split"' in page
        assert in_hand(answer) == 2
        assert "Sheet 1 is set aside: Edge split" in words(answer)
        assert sheet(lot, 1).set_aside_why == "Edge split"

    def test_another_reason_is_typed(self, staff_client: Browser, lot: Lot) -> None:
        aside(staff_client, lot, 1, why="Edge split", other="Fork lift went through")

        assert sheet(lot, 1).set_aside_why == "Fork lift went through"

    def test_a_sheet_another_sorted_meanwhile_is_not_set_aside(
        self, staff_client: Browser, owner_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(owner_client, lot, 1, groups[PALE])

        answer = aside(staff_client, lot, 1, why="Warped")

        assert answer.status_code == 409
        assert "R. M. was first." in words(answer)
        assert sheet(lot, 1).set_aside_on is None

    def test_a_sheet_moved_since_it_was_read_is_not_set_aside(
        self, staff_client: Browser, owner_client: Browser, lot: Lot, groups: list[ToneGroup]
    ) -> None:
        tap(staff_client, lot, 1, groups[PALE])
        tap(owner_client, lot, 1, groups[HONEY], version="2")

        answer = aside(staff_client, lot, 1, why="Warped", version="2")

        assert answer.status_code == 422
        assert sheet(lot, 1).tone_group == groups[HONEY]

    @pytest.mark.parametrize("other", ["", "a" * 100_000, "a\0b"])
    def test_a_reason_that_cannot_be_is_refused_and_kept(self, staff_client: Browser, lot: Lot, other: str) -> None:
        answer = aside(staff_client, lot, 1, other=other)

        assert answer.status_code == 422
        assert 'name="other"' in answer.content.decode()
        assert sheet(lot, 1).set_aside_on is None


class TestDone:
    def test_when_all_are_sorted_the_page_counts_them_and_leads_on(
        self, staff_client: Browser, groups: list[ToneGroup], lot: Lot
    ) -> None:
        lot.sheets.filter(number__gt=2).update(set_aside_on="2026-11-25", set_aside_why="Warped")
        tap(staff_client, lot, 1, groups[PALE])

        answer = tap(staff_client, lot, 2, groups[PALE])

        assert "all 60 sheets are sorted" in words(answer)
        assert "Pale 2" in words(answer)
        assert "Set aside 58" in words(answer)
        assert reverse("jobs:lot_give", args=[lot.pk]) in answer.content.decode()
