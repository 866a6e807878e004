"""The client's cost summary: it says what the estimate says, to the cent, on whole pages."""

from dataclasses import replace
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from estimates.documents.cost_summary import (
    CostSummary,
    MaterialLine,
    Named,
    RoomMaterials,
    RoomPrice,
    TaxLine,
    cost_summary,
)
from workshop.calculations.money import show_money
from workshop.documents import Letterhead, Tone

PALE, CREAM = Tone("Pale", "#eadfc9", 1), Tone("Cream", "#dfcca9", 2)
HEADS = {"Price by room": "Room\nMaterials\n", "Materials by room": "Room\nMaterial\n"}
SHEETS = "Ash-veneered plywood, 49″ × 97″"


def room_price(number: int) -> RoomPrice:
    materials, labor = 76_728 + 137 * number, 497_142 + 771 * number
    return RoomPrice(f"Practice {number}", materials + labor, materials, labor)


def room_materials(number: int, tones: tuple[Tone, ...] = (PALE,)) -> RoomMaterials:
    lines = (
        MaterialLine(SHEETS, f"{number + 4} sheets", "7", tones),
        MaterialLine("Solid ash trim", f"{number} ½ bd ft", "12"),
        MaterialLine("Clear finish", "¾ gal"),
    )
    return RoomMaterials(f"Practice {number}", lines)


def summary_of(count: int = 3, **changes: object) -> CostSummary:
    rooms = tuple(room_price(number) for number in range(1, count + 1))
    materials = sum(room.materials_minor for room in rooms)
    labor = sum(room.labor_minor for room in rooms)
    given = CostSummary(
        letterhead=Letterhead("Shop A", "Custom woodwork and panels", ("1 Example Street", "555-0100")),
        number="12-1",
        language="en-us",
        currency="USD",
        paper="letter",
        day=date(2026, 11, 25),
        valid_until=date(2026, 12, 28),
        client=Named("Client", "c/o Architect, 2 Example Street"),
        job=Named("12 Music school", "Ash panels and trim"),
        drawings=Named("Rev C, Nov 19, 2026", "Walls as drawn"),
        rooms=rooms,
        subtotal=RoomPrice("", materials + labor, materials, labor),
        taxes=(TaxLine("Sales tax", 82_500, "materials", materials, 4_363),),
        total_minor=materials + labor + 4_363,
        materials=tuple(room_materials(number) for number in range(1, count + 1)),
        material_totals=((SHEETS, "18 sheets"), ("Solid ash trim", "7 ½ bd ft")),
        exclusions=("Electrical work and light fixtures",),
        notes=("Wood varies.",),
    )
    return replace(given, **changes)


def texts_of(given: CostSummary) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(cost_summary(given))).pages]


def shown(minor: int) -> str:
    return show_money(minor, "USD", "en-us", symbol=False)


def text_of(given: CostSummary) -> str:
    return "\n".join(texts_of(given))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_amount_stands_on_paper_as_the_screen_writes_it(paper: str) -> None:
    given = summary_of(7, paper=paper)

    text = text_of(given)

    for price in (*given.rooms, given.subtotal):
        amounts = (price.materials_minor, price.labor_minor, price.total_minor)
        row = [price.room or "Subtotal", *map(shown, amounts)]
        assert "\n".join(row) in text


def test_the_total_stands_at_the_head_with_its_sign_and_at_the_foot_with_the_currency_named_once() -> None:
    text = text_of(summary_of(1, total_minor=6_239_119))

    assert "Total\n$62,391.19" in text
    assert "Total, US dollars\n62,391.19" in text
    assert text.count("US dollars") == 1


@pytest.mark.parametrize(
    ("currency", "amount", "name"),
    [("JPY", "62,391", "Japanese yen"), ("KWD", "62.391", "Kuwaiti dinars"), ("EUR", "623.91", "euros")],
)
def test_a_currency_is_shown_with_the_places_it_has(currency: str, amount: str, name: str) -> None:
    """Minor units of ISO 4217: yen none, euro two, Kuwaiti dinar three."""
    text = text_of(summary_of(1, currency=currency, total_minor=62_391))

    assert f"Total, {name}\n{amount}\n" in text


def test_tax_says_its_rate_and_what_it_is_on() -> None:
    taxes = (TaxLine("Sales tax", 82_500, "materials", 52_889, 4_363),)

    text = text_of(summary_of(taxes=taxes))

    assert "Sales tax, 8.25% on materials of 528.89\n43.63" in text


def test_tax_held_in_the_prices_says_so() -> None:
    taxes = (TaxLine("Sales tax", 82_500, "materials and labor", 9_238, 762, included=True),)

    text = text_of(summary_of(taxes=taxes))

    assert "In the prices: Sales tax, 8.25% on materials and labor of 92.38\n7.62" in text


def test_a_discount_is_a_line_of_its_own_below_zero() -> None:
    text = text_of(summary_of(discount_minor=-10_000))

    assert "Discount\n-100.00" in text
    assert "Discount" not in text_of(summary_of())


def test_a_class_nothing_is_charged_for_has_no_column() -> None:
    charged = summary_of(1)
    with_other = replace(charged, rooms=(replace(charged.rooms[0], other_minor=5_000),))

    assert "Other" not in text_of(charged)
    assert "Other\nRoom total" in text_of(with_other)
    assert "50.00" in text_of(with_other)


def test_a_room_at_a_fixed_price_shows_its_total_alone() -> None:
    given = summary_of(2)

    text = text_of(replace(given, rooms=(given.rooms[0], RoomPrice("Lobby", 150_000))))

    assert "Lobby\n1,500.00\n" in text


def test_materials_say_how_much_from_which_lot_and_tone_group_with_the_room_named_once() -> None:
    text = text_of(summary_of(1))

    materials = text[text.index("Materials by room") :]
    assert "Practice 1\nAsh-veneered plywood, 49″ × 97″\n5 sheets\n7\nPale\n" in materials
    assert "Solid ash trim\n1 ½ bd ft\n12\nClear finish\n¾ gal\n" in materials
    assert "All rooms\nAsh-veneered plywood, 49″ × 97″\n18 sheets" in materials
    assert materials.count("Practice 1") == 1


def test_two_tone_groups_of_one_room_stand_with_their_counts() -> None:
    tones = (replace(PALE, count="4"), replace(CREAM, count="2"))

    text = text_of(summary_of(1, materials=(room_materials(1, tones),)))

    assert "Pale 4\nCream 2" in text


def test_lots_and_tone_groups_have_no_column_where_no_line_names_them() -> None:
    lines = (MaterialLine("Clear finish", "¾ gal"),)

    text = text_of(summary_of(1, materials=(RoomMaterials("Lobby", lines),)))

    assert "Lot" not in text and "Tone group" not in text


def test_parties_exclusions_notes_and_validity_are_printed() -> None:
    text = text_of(summary_of(site=Named("Music school", "3 Example Street")))

    for words in (
        "Shop A",
        "1 Example Street",
        "For\nClient\nc/o Architect, 2 Example Street",
        "Job\n12 Music school",
        "Site\nMusic school\n3 Example Street",
        "Drawings\nRev C, Nov 19, 2026",
        "Not included\nElectrical work and light fixtures",
        "Notes\nWood varies.",
        "Valid until\nDec 28, 2026",
    ):
        assert words in text


def test_what_is_not_given_has_no_head() -> None:
    given = summary_of(1, exclusions=(), notes=(), materials=(), valid_until=None, drawings=None)

    text = text_of(given)

    assert all(head not in text for head in ("Not included", "Notes", "Materials by", "Valid", "Drawings"))


def test_the_file_is_titled_and_says_its_language() -> None:
    reader = PdfReader(BytesIO(cost_summary(summary_of())))

    assert reader.metadata.title == "Cost summary 12-1, 12 Music school"
    assert reader.metadata.author == "Shop A"
    assert reader.trailer["/Root"]["/Lang"] == "en-us"


@pytest.mark.parametrize("count", range(1, 61))
def test_no_head_is_left_alone_and_no_room_is_split_whatever_their_number(count: int) -> None:
    given = summary_of(count)

    texts = texts_of(given)

    for number, text in enumerate(texts, start=1):
        assert f"{number} of {len(texts)}" in text
        for head, columns in (
            ("Price by room", "Room\nMaterials\n"),
            ("Materials by room", "Room\nMaterial\n"),
        ):
            if head in text:
                _before, _head, after = text.partition(head)
                assert columns in after
                assert after.count("\nPractice ") >= 1
    for price in given.rooms:
        amounts = (price.materials_minor, price.labor_minor, price.total_minor)
        row = "\n".join([price.room, *map(shown, amounts)])
        assert sum(row in text for text in texts) == 1
    for room in given.materials:
        first = f"{room.room}\n{SHEETS}\n{room.lines[0].quantity}\n"
        assert sum(first in text for text in texts) == 1
    assert "\nPractice " in next(text for text in texts if "Subtotal" in text)


@pytest.mark.parametrize(
    "typed",
    ["<b>Lobby</b> & <i>", "Łódź é ½ ′ ″ Ω 12′-3″", "W" * 300, "nul\0 and\nline", "😀漢字", "%(name)s {x}"],
)
def test_whatever_is_typed_as_a_name_is_printed_and_breaks_nothing(typed: str) -> None:
    given = summary_of(
        2,
        letterhead=Letterhead(typed, typed, (typed,)),
        number=typed,
        client=Named(typed, typed),
        job=Named(typed, typed),
        rooms=(RoomPrice(typed, 1_00, 1_00),),
        materials=(RoomMaterials(typed, (MaterialLine(typed, typed, typed, (Tone(typed, typed, 3),)),)),),
        material_totals=((typed, typed),),
        exclusions=(typed,),
        notes=(typed * 40,),
    )

    text = text_of(given)

    assert "Total, US dollars" in text
    if typed.isascii() and typed.isprintable():
        assert typed.replace(" ", "") in text.replace("\n", "").replace(" ", "")
