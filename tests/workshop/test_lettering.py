"""The typeface and the setting of text on paper."""

from pathlib import Path

import pytest
from babel.numbers import get_currency_symbol, list_currencies
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from workshop.documents.columns import GAP, Column, measured
from workshop.documents.lettering import (
    FONTS,
    MEDIUM,
    MISSING,
    MORE_REGULAR,
    MORE_SEMIBOLD,
    REGULAR,
    SEMIBOLD,
    Style,
    fitted,
    in_fonts,
    printable,
    shortened,
    typeface,
    width_of,
    wrapped,
)
from workshop.documents.marks import stroke_color, swatch_width, tally

WEIGHTS = [REGULAR, MEDIUM, SEMIBOLD]
SIGNS = "′″–—‘’“”„…•⁄−×€≈Ω"
NEEDED = [*map(chr, (*range(0x21, 0x7F), *range(0xA1, 0xAD), *range(0xAE, 0x180))), *SIGNS]
FURTHER = "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨαβγδεζηθικλμνξοπρσςτυφχψωάέήίόύώϊϋΐΰ"
FURTHER += "АБВГДЕЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯабвгдежзийклмнопрстуфхцчшщъыьэюяёЁіїєґ₡₦₩₪₫₭₮₱₲₴₵₸₹₼₾\ufffd"
SCREEN_FONTS = FONTS.parent / "static" / "workshop" / "fonts"


@pytest.mark.parametrize("weight", WEIGHTS)
def test_the_typeface_has_an_outline_for_every_latin_letter_and_every_sign(weight: str) -> None:
    held = typeface(weight).face.charToGlyph
    drawn = ImageFont.truetype(FONTS / f"{weight}.ttf", 40)

    missing = [char for char in NEEDED if ord(char) not in held]
    empty = [char for char in NEEDED if not drawn.getmask(char).getbbox()]

    assert (missing, empty) == ([], [])


@pytest.mark.parametrize("weight", [MORE_REGULAR, MORE_SEMIBOLD])
def test_further_alphabets_and_currency_signs_have_an_outline(weight: str) -> None:
    """The alphabets of modern Greek, Russian and Ukrainian, and signs of currencies in Unicode (from memory)."""
    drawn = ImageFont.truetype(FONTS / f"{weight}.ttf", 40)

    empty = [char for char in FURTHER if not drawn.getmask(char).getbbox()]

    missing = [char for char in FURTHER if ord(char) not in typeface(weight).face.charToGlyph]

    assert (missing, empty) == ([], [])


def test_the_sign_of_every_currency_prints() -> None:
    """Signs as the Unicode CLDR writes them for American English (through Babel)."""
    signs = {currency: get_currency_symbol(currency, "en_US") for currency in list_currencies("en_US")}

    assert len(signs) > 150
    assert [currency for currency, sign in signs.items() if MISSING in printable(sign)] == []


def test_a_text_is_set_in_the_fonts_that_hold_its_letters() -> None:
    runs = list(in_fonts("Ωδείο, 12", SEMIBOLD))

    assert runs == [(SEMIBOLD, "Ω"), (MORE_SEMIBOLD, "δείο"), (SEMIBOLD, ", 12")]


def test_a_borrowed_letter_is_as_wide_as_its_own_font_makes_it() -> None:
    borrowed = typeface(MORE_REGULAR).face.charWidths[ord("Ж")]

    assert width_of("Ж", Style(10)) == pytest.approx(borrowed / 100)


@pytest.mark.parametrize("weight", WEIGHTS)
def test_all_figures_are_equally_wide(weight: str) -> None:
    widths = {round(width_of(figure, Style(10, weight)), 6) for figure in "0123456789"}

    assert len(widths) == 1


@pytest.mark.parametrize("weight", WEIGHTS)
def test_the_foot_mark_holds_feet_and_inches_together(weight: str) -> None:
    assert width_of("′", Style(10, weight)) < width_of("″", Style(10, weight))


@pytest.mark.parametrize(("folder", "sources"), [(FONTS, 3), (SCREEN_FONTS, 2)])
def test_the_license_of_every_source_lies_beside_the_fonts(folder: Path, sources: int) -> None:
    texts = [path.read_text(encoding="utf-8") for path in folder.glob("OFL-*.txt")]

    assert len(texts) == sources
    assert all("SIL OPEN FONT LICENSE Version 1.1" in text for text in texts)


def test_the_fonts_of_the_screen_weigh_less_than_20_kilobytes_each() -> None:
    sizes = [path.stat().st_size for path in SCREEN_FONTS.glob("*.woff2")]

    assert len(sizes) == 3
    assert max(sizes) < 20_000


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("Łódź, é ½ ′ ″ Ω", "Łódź, é ½ ′ ″ Ω"),
        ("23⅞″", "23 7/8″"),
        ("⅝ of a sheet", "5/8 of a sheet"),
        ("1\u202f234,50", "1\u00a0234,50"),
        ("ﬁnish", "finish"),
        ("Ａ", "A"),
        ("№ 5", "No 5"),
        ("Cafe\u0301", "Café"),
        ("kṣatra, Ωδείο, Школа, ₹", "kṣatra, Ωδείο, Школа, ₹"),
        ("room\u200b 1\ufeff", "room 1"),
        ("one\r\ntwo", "one\ntwo"),
        ("漢字 😀 ﷼", "\ufffd\ufffd \ufffd \ufffd"),
        ("nul\0", "nul"),
        ("\ud800", "\ufffd"),
    ],
)
def test_a_letter_without_an_outline_is_written_otherwise_or_as_the_sign_for_a_missing_one(
    typed: str, printed: str
) -> None:
    assert printable(typed) == printed


@given(st.text(max_size=200), st.floats(min_value=12, max_value=300))
@settings(max_examples=150, deadline=None)
def test_wrapped_text_keeps_every_letter_and_no_line_is_too_wide(text: str, width: float) -> None:
    style = Style(10)

    lines = wrapped(text, style, width)

    assert "".join(lines).replace(" ", "") == printable(text).replace("\n", "").replace(" ", "")
    assert all(width_of(line, style) <= width + 1e-6 for line in lines if len(line) > 1)


def test_text_cut_to_a_number_of_lines_says_so_with_an_ellipsis() -> None:
    lines = wrapped("one two three four five six seven eight nine ten", Style(10), 50, most=2)

    assert len(lines) == 2
    assert lines[-1].endswith("…")
    assert width_of(lines[-1], Style(10)) <= 50


def test_text_that_fits_its_lines_is_not_cut() -> None:
    assert wrapped("one two", Style(10), 500, most=1) == ["one two"]


def test_a_name_too_long_for_one_line_is_cut_with_an_ellipsis() -> None:
    line = shortened("Recital room on the second floor", Style(10), 60)

    assert line.startswith("Recital") and line.endswith("…")
    assert width_of(line, Style(10)) <= 60


def test_a_figure_gets_smaller_rather_than_broken() -> None:
    style = fitted("10,000,000,000.000", Style(22, SEMIBOLD), 100)

    assert width_of("10,000,000,000.000", style) == pytest.approx(100)


@pytest.mark.parametrize(
    ("color", "stroke"),
    [
        ("#eadfc9", "#2b1f10"),
        ("#dfcca9", "#2b1f10"),
        ("#d1b487", "#2b1f10"),
        ("#b7946a", "#2b1f10"),
        ("#836443", "#ffffff"),
        ("#000000", "#ffffff"),
    ],
)
def test_strokes_are_dark_or_white_whichever_stands_out_more(color: str, stroke: str) -> None:
    assert stroke_color(color) == stroke


@pytest.mark.parametrize(("place", "upright", "crossing"), [(1, 1, 0), (4, 4, 0), (5, 4, 1), (12, 10, 2)])
def test_the_fifth_stroke_of_a_tally_crosses_the_four_before(place: int, upright: int, crossing: int) -> None:
    strokes = [crosses for _x, crosses in tally(place)]

    assert (strokes.count(False), strokes.count(True)) == (upright, crossing)


def test_a_swatch_is_as_long_as_its_tally_needs() -> None:
    assert swatch_width(1) == swatch_width(5) == 22
    assert swatch_width(12) > 22


@given(st.lists(st.floats(min_value=0, max_value=400), min_size=1, max_size=6), st.integers(0, 5))
@settings(deadline=None)
def test_columns_fill_the_width_and_names_keep_three_tenths(natural: list[float], names: int) -> None:
    columns = [Column("", right=number >= names) for number in range(len(natural))]
    room = 522 - GAP * (len(natural) - 1)

    widths = [wide for _left, wide in measured(columns, natural, 522)]

    assert sum(widths) == pytest.approx(room)
    assert not names or sum(widths[:names]) >= 0.3 * room - 1e-6
