"""The sorting pad: one tap a sheet, the next one in the answer, with script and without."""

import re

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from jobs.models import Given
from materials import sorting
from materials.models import Lot, Sheet, ToneGroup
from tests.makers import hand, make_ladder, make_lot, make_material, make_room, make_sheets, post
from tests.queries import queries_of
from workshop.actions import new_key
from workshop.models import Action, Person

PALE, CREAM, HONEY, BROWN = range(4)
INCH_NM = 25_400_000


@pytest.fixture
def lot(db: None) -> Lot:
    material = make_material(name="Ash-veneered plywood", species="ash", width_nm=49 * INCH_NM, length_nm=97 * INCH_NM)
    lot = make_lot(number=8, material=material)
    make_ladder(material)
    make_sheets(lot, 60)
    return lot


@pytest.fixture
def groups(lot: Lot) -> list[ToneGroup]:
    return list(lot.material.tone_groups.all())


def pad(lot: Lot, query: str = "") -> str:
    return reverse("materials:sort", args=[lot.pk]) + query


def sheet(lot: Lot, number: int) -> Sheet:
    return lot.sheets.select_related("lot__material", "tone_group").get(number=number)


def tap(browser: Browser, lot: Lot, number: int, group: ToneGroup, htmx: bool = True, **data: object) -> HttpResponse:
    url = reverse("materials:sheet_sort", args=[sheet(lot, number).pk])
    return post(browser, url, htmx=htmx, group=group.pk, **data)


def aside(browser: Browser, lot: Lot, number: int, **data: object) -> HttpResponse:
    return post(browser, reverse("materials:sheet_set_aside", args=[sheet(lot, number).pk]), htmx=True, **data)


def words(answer: HttpResponse) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def in_hand(answer: HttpResponse) -> int:
    return int(re.search(r'id="in-hand">.*?</span>(\d+)<', answer.content.decode())[1])


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
        assert reverse("jobs:jobs") in answer.content.decode()


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
