"""All sheets of the shop: found, sorted, paged; the same work for a few and for twenty thousand."""

from datetime import date

import pytest
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Given
from materials import sheet_list
from materials.models import Half, Lot, SheetReturn
from tests.makers import make_ladder, make_lot, make_material, make_room, make_sheets, make_stack
from tests.queries import queries_of

LIST = "/sheets/"
DAY = date(2026, 11, 25)


@pytest.fixture
def lot(db: None) -> Lot:
    """Sheets 1 to 8 of lot 8: two Pale, one Cream, of which sheet 1 is given; one set aside, one back, one left."""
    material = make_material(name="Ash-veneered plywood")
    pale, cream, *_rest = make_ladder(material)
    lot = make_lot(number=8, material=material)
    make_stack(pale, 2, lot)
    make_stack(cream, 1, lot)
    make_sheets(lot, 5)
    lot.sheets.filter(number__in=[4, 5, 6]).update(set_aside_on=DAY, set_aside_why="Warped")
    lot.sheets.filter(number=6).update(left_on=DAY)
    for number in (5, 6):
        SheetReturn.objects.create(sheet=lot.sheets.get(number=number), why="Veneer loose", asked_on=DAY)
    lot.sheets.filter(number=7).update(is_damaged=True, flitch="F3")
    Given.objects.create(half=Half.objects.get(sheet__lot=lot, sheet__number=1, side="A"), room=make_room())
    return lot


@pytest.fixture
def other(lot: Lot) -> Lot:
    other = make_lot(number=31, material=make_material(name="Oak-veneered plywood"))
    make_sheets(other, 8)
    return other


def found(**asked: str) -> list[str]:
    return [f"{sheet.lot.number}-{sheet.number}" for sheet in sheet_list.find(**asked)]


@pytest.mark.parametrize(
    ("state", "numbers"),
    [
        ("", [1, 2, 3, 4, 5, 7, 8]),
        ("free", [2, 3]),
        ("given", [1]),
        ("unsorted", [7, 8]),
        ("aside", [4]),
        ("back", [5]),
        ("left", [6]),
        ("damaged", [7]),
    ],
)
def test_each_state_holds_its_sheets(lot: Lot, state: str, numbers: list[int]) -> None:
    assert found(state=state) == [f"8-{number}" for number in numbers]


@pytest.mark.parametrize(
    ("words", "pieces"),
    [
        ("8-3", ["8-3"]),
        ("8-3A", ["8-3"]),
        ("31", [f"31-{number}" for number in range(1, 9)]),
        ("8", ["31-8", *[f"8-{number}" for number in (1, 2, 3, 4, 5, 7, 8)]]),
        ("oak", [f"31-{number}" for number in range(1, 9)]),
        ("f3", ["8-7"]),
        ("8-99", []),
        ("999999999", []),
        ("x" * 80, []),
    ],
)
def test_it_is_found_by_lot_and_number_material_and_flitch(other: Lot, words: str, pieces: list[str]) -> None:
    assert found(words=words) == pieces


def test_a_tone_group_is_found_by_its_name(lot: Lot) -> None:
    assert found(group="Pale") == ["8-1", "8-2"]
    assert found(group="Nothing of the kind") == []


@pytest.mark.parametrize(
    ("order", "first", "last"),
    [("newest", "31-1", "8-8"), ("oldest", "8-1", "31-8"), ("tone", "8-1", "31-8"), ("nothing", "31-1", "8-8")],
)
def test_it_is_sorted_as_asked(other: Lot, order: str, first: str, last: str) -> None:
    pieces = found(order=order)

    assert (pieces[0], pieces[-1]) == (first, last)


def test_the_page_names_each_sheet_with_its_room_and_group(staff_client: Browser, lot: Lot) -> None:
    shown = staff_client.get(LIST).content.decode()

    assert f'<a href="{reverse("materials:sheet", args=[lot.sheets.get(number=1).pk])}">8-1</a>' in shown
    assert "Practice" in shown
    assert "Pale" in shown


def test_staff_see_no_money(staff_client: Browser, owner_client: Browser, lot: Lot) -> None:
    lot.sheets.update(landed_minor=7_900)

    assert "79.00" not in staff_client.get(LIST).content.decode()
    assert "$79.00" in owner_client.get(LIST).content.decode()


@pytest.mark.parametrize("name", ["q", "state", "tone", "order", "page"])
@pytest.mark.parametrize(
    "value", ["", "x", "0", "-1", "3\x00", "<b>", "1e400", "9" * 200, "8-" + "9" * 30, "'; --", "%"]
)
def test_whatever_stands_in_the_address_is_answered(staff_client: Browser, lot: Lot, name: str, value: str) -> None:
    assert staff_client.get(LIST, {name: value}).status_code == 200


def test_with_no_sheets_it_says_where_they_come_from(staff_client: Browser, db: None) -> None:
    assert "A delivery makes them when it is counted." in staff_client.get(LIST).content.decode()


def test_fifty_stand_on_a_page_and_the_search_goes_along(staff_client: Browser, other: Lot) -> None:
    make_sheets(other, 60)

    shown = staff_client.get(LIST, {"q": "oak", "order": "oldest"})

    assert len(shown.context["page"]) == 50
    assert "q=oak" in shown.content.decode()


@pytest.mark.parametrize("query", ["", "?state=free", "?state=given", "?q=ash", "?tone=Pale&order=tone"])
def test_it_costs_the_same_with_few_and_with_many(staff_client: Browser, lot: Lot, query: str) -> None:
    few = queries_of(staff_client, LIST + query)

    for _ in range(4):
        make_stack(lot.material.tone_groups.first(), 40, make_lot(material=lot.material))

    assert queries_of(staff_client, LIST + query) <= few


def plan(**asked: str) -> str:
    if connection.vendor != "sqlite":
        pytest.skip("the words of the plan are SQLite's")
    return sheet_list.find(**asked)[:50].explain()


@pytest.mark.parametrize("asked", [{}, {"order": "oldest"}, {"words": "31"}, {"words": "ash"}, {"state": "free"}])
def test_the_first_page_is_read_along_an_index_and_not_by_sorting_all(other: Lot, asked: dict[str, str]) -> None:
    assert "USE TEMP B-TREE FOR ORDER BY" not in plan(**asked)


def test_one_sheet_is_looked_up_by_its_lot_and_number(other: Lot) -> None:
    assert "SEARCH materials_sheet USING INDEX sqlite_autoindex_materials_sheet_1 (lot_id=? AND number=?)" in plan(
        words="8-31"
    )


def test_lots_to_sort_are_found_by_index(lot: Lot) -> None:
    if connection.vendor != "sqlite":
        pytest.skip("the words of the plan are SQLite's")

    assert (
        "USING INDEX sqlite_autoindex_materials_sheet_2 (lot_id=? AND tone_group_id=?)"
        in Lot.objects.to_sort().explain()
    )
