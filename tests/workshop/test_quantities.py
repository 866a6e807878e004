"""Amounts read as the shop types them and shown as it reads them.

1 gal is 3.785411784 L, 1 ft is 0.3048 m: NIST Handbook 44 App. C (reference/units.csv). 1 MBF is a thousand
board feet: FAO forest products conversion table. The rest is common practice, no source.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.calculations.units import (
    MAX_AMOUNT,
    REASONS,
    UNITS,
    QuantityError,
    UnknownUnit,
    edit_quantity,
    from_micro,
    read_quantity,
    show_quantity,
)

CODES = st.sampled_from(sorted(UNITS))


@pytest.mark.parametrize(
    ("typed", "code", "amount"),
    [
        ("12", "sheet", "12"),
        ("0", "sheet", "0"),
        ("2.5", "board_foot", "2.5"),
        (".5", "board_foot", "0.5"),
        ("2 1/2", "board_foot", "2.5"),
        ("2-1/2", "board_foot", "2.5"),
        ("1/2", "gallon", "0.5"),
        ("9/8", "gallon", "1.125"),
        ("½", "gallon", "0.5"),
        ("2½", "gallon", "2.5"),
        ("0.000001", "gallon", "0.000001"),
        ("1000000000", "sheet", "1000000000"),
        ("180 bd ft", "board_foot", "180"),
        ("180 BF", "board_foot", "180"),
        ("180 bd. ft.", "board_foot", "180"),
        ("1 board foot", "board_foot", "1"),
        ("6 gal", "gallon", "6"),
        ("2 1/2gal", "gallon", "2.5"),
        ("8 sheets", "sheet", "8"),
        ("1 sheet", "sheet", "1"),
        ("32 sq ft", "square_foot", "32"),
        ("32 ft²", "square_foot", "32"),
        ("3 m²", "square_meter", "3"),
        ("3 m2", "square_meter", "3"),
        ("5 lb", "pound", "5"),
        ("4 h", "hour", "4"),
        ("20 sq ft of coat", "square_foot_coat", "20"),
        ("90 min", "hour", "1.5"),
        ("1.2 MBF", "board_foot", "1200"),
        ("2 cu ft", "board_foot", "24"),
        ("10 ft", "meter", "3.048"),
        ("3 qt", "gallon", "0.75"),
    ],
)
def test_an_amount_is_read_exactly(typed: str, code: str, amount: str) -> None:
    assert read_quantity(typed, code) == Fraction(amount)


@pytest.mark.parametrize(
    ("typed", "code", "exact"),
    [
        ("20 L", "gallon", 20 / Fraction("3.785411784")),
        ("20 min", "hour", Fraction(1, 3)),
        ("40 min", "hour", Fraction(2, 3)),
        ("1 m", "foot", 1 / Fraction("0.3048")),
    ],
)
def test_an_amount_in_another_unit_is_converted_and_rounded_to_the_millionth(typed, code, exact) -> None:
    read = read_quantity(typed, code)

    assert (read * 10**6).denominator == 1
    assert abs(read - exact) <= Fraction(1, 2 * 10**6)


def test_a_decimal_comma_is_read_where_the_language_has_one() -> None:
    assert read_quantity("2,5", "liter", ",") == Fraction(5, 2)


REFUSED = [
    ("1,250", "sheet", "thousands are typed without a mark", ("1250", "1.250")),
    ("1 250", "sheet", "thousands are typed without a mark", ("1250", "1.250")),
    ("2,5", "liter", "its decimal mark is that of another language", ("2.5", "2 1/2")),
    ("-5", "sheet", "an amount is not less than zero", ("5", "12")),
    ("−5", "sheet", "an amount is not less than zero", ("5", "12")),
    ("-1", "hour", "an amount is not less than zero", ("1", "2.5")),
    ("+5", "sheet", "it has a sign where none belongs", ("5", "12")),
    ("2-3", "sheet", "it has a sign where none belongs", ("5", "12")),
    ("1e400", "sheet", "its parts do not make one amount", ("5", "12")),
    ("10^30", "sheet", "its parts do not make one amount", ("5", "12")),
    ("4 x 8", "square_foot", "its parts do not make one amount", ("2.5", "2 1/2")),
    ("12.", "sheet", "its parts do not make one amount", ("12", "5")),
    ("5 ft 3", "foot", "its parts do not make one amount", ("2.5", "2 1/2")),
    ("3 4", "foot", "two numbers stand side by side", ("3.4", "2.5")),
    ("2 9/8", "gallon", "a fraction beside a whole number is smaller than 1", ("3 1/8", "3.13")),
    ("1/0", "gallon", "nothing can be divided by zero", ("2.5", "2 1/2")),
    ("1/3", "gallon", "it is finer than a millionth", ("0.33", "0.333333")),
    ("0.0000001", "gallon", "it is finer than a millionth", ("2.5", "2 1/2")),
    ("5 1/3", "sheet", "they are counted, not measured", ("5", "6")),
    ("1/3", "piece", "they are counted, not measured", ("1", "5")),
    ("1/3 L", "gallon", "it is finer than a millionth", ("0.33", "0.333333")),
    ("1000000001", "sheet", "it is more than a thousand million", ("5", "12")),
    ("1" + "0" * 30, "sheet", "it is more than a thousand million", ("5", "12")),
    ("1000000000 cu ft", "board_foot", "it is more than a thousand million", ("2.5", "2 1/2")),
    ("20 L", "board_foot", "its unit measures something else", ("20", "20 bd ft")),
    ("5 sq ft", "foot", "its unit measures something else", ("5", "5 ft")),
    ("5 sheets", "board", "its unit measures something else", ("5", "5 boards")),
    ("5 zz", "foot", "its unit is not known here", ("5", "5 ft")),
    ("NaN", "sheet", "there is no number in it", ("5", "12")),
    ("inf", "sheet", "there is no number in it", ("5", "12")),
    ("", "sheet", "nothing was typed", ("5", "12")),
    ("12\x00", "sheet", "it has a character that does not belong in a number", ("5", "12")),
    ("<b>12</b>", "sheet", "its parts do not make one amount", ("5", "12")),
    ("١٢", "sheet", "it has digits other than 0 to 9", ("5", "12")),
    ("5²", "square_foot", "it has digits other than 0 to 9", ("2.5", "2 1/2")),
    ("x" * 100_000, "sheet", "it is longer than a number can be", ("5", "12")),
]


@pytest.mark.parametrize(("typed", "code", "reason", "would_do"), REFUSED, ids=[row[0][:20] for row in REFUSED])
def test_what_is_no_amount_is_refused_with_two_that_are(
    typed: str, code: str, reason: str, would_do: tuple[str, str]
) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(typed, code)

    assert (caught.value.reason, caught.value.would_do) == (reason, would_do)
    assert reason in REASONS


def test_the_message_tells_what_was_typed_why_and_what_to_do() -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity("1/3", "gallon")

    assert str(caught.value) == (
        "1/3 cannot be read as an amount in gal: it is finer than a millionth. Type 0.33 or 0.333333."
    )


@pytest.mark.parametrize("piece", ["1", "1 ", "1/", "½", "a", "a.", "bd ft ", "٣", "\x00", "."])
def test_a_hundred_thousand_characters_are_refused(piece: str) -> None:
    with pytest.raises(QuantityError):
        read_quantity(piece * 100_000, "board_foot")


SOUP = st.text(st.sampled_from("0123456789 /.,-+½⅓bdftgalLmin²³x\u00a0\x00٣"), max_size=14)


@given(SOUP | st.text(), CODES, st.sampled_from(".,"))
def test_any_text_is_an_amount_or_is_refused_with_two_that_are(text, code, mark) -> None:
    try:
        amount = read_quantity(text, code, mark)
    except QuantityError as refused:
        first, second = refused.would_do
        assert first != second
        assert all(0 <= read_quantity(each, code, mark) <= MAX_AMOUNT for each in refused.would_do)
        assert refused.reason in REASONS
        assert len(refused.typed) <= 40
    else:
        assert 0 <= amount <= MAX_AMOUNT
        assert (amount * 10**6).denominator == 1


@given(st.integers(0, MAX_AMOUNT * 10**6), CODES, st.sampled_from(".,"))
def test_an_edit_field_read_again_gives_the_same_amount(micro, code, mark) -> None:
    amount = from_micro(micro)

    assert read_quantity(edit_quantity(amount, code, mark), code, mark) == amount


@given(st.integers(0, 10**9), CODES, st.sampled_from(".,"))
def test_the_unit_shown_beside_an_amount_is_read_again(micro, code, mark) -> None:
    shown = show_quantity(from_micro(micro), code, mark, places=6)

    assert read_quantity(shown, code, mark) == from_micro(micro)


@pytest.mark.parametrize(
    ("amount", "code", "shown"),
    [
        (41, "board_foot", "41 bd ft"),
        (Fraction(25, 2), "board_foot", "12 1/2 bd ft"),
        (Fraction(1, 8), "board_foot", "1/8 bd ft"),
        (Fraction(25, 3), "board_foot", "≈ 8.33 bd ft"),
        (Fraction(1, 16), "gallon", "≈ 0.06 gal"),
        (Fraction("8.005"), "gallon", "≈ 8.01 gal"),
        (Fraction("8.2"), "gallon", "8.2 gal"),
        (1, "sheet", "1 sheet"),
        (54, "sheet", "54 sheets"),
        (0, "sheet", "0 sheets"),
        (Fraction(1, 2), "sheet", "1/2 sheet"),
        (Fraction(3, 2), "sheet", "1 1/2 sheets"),
        (2, "box", "2 boxes"),
        (1, "hole", "1 hole"),
        (1, "lump", "1 lump"),
        (Fraction(5, 2), "hour", "2.5 h"),
        (Fraction(5, 2), "liter", "2.5 L"),
        (Fraction("0.001"), "liter", "≈ 0 L"),
        (3, "square_meter", "3 m²"),
        (1250, "foot", "1250 ft"),
        (Fraction(-5, 2), "foot", "−2 1/2 ft"),
        (Fraction(-1, 3), "hour", "≈ −0.33 h"),
    ],
)
def test_an_amount_shows_with_its_unit(amount: Fraction, code: str, shown: str) -> None:
    assert show_quantity(amount, code) == shown


def test_an_amount_shows_with_the_decimal_mark_of_the_language() -> None:
    assert show_quantity(Fraction(5, 2), "liter", ",") == "2,5 L"


def test_places_limit_what_is_shown() -> None:
    assert show_quantity(Fraction(25, 3), "hour", places=0) == "≈ 8 h"


@pytest.mark.parametrize("call", [show_quantity, edit_quantity])
def test_a_code_that_no_column_holds_is_refused(call) -> None:
    with pytest.raises(UnknownUnit, match="unit 'cord' is not known"):
        call(1, "cord")
    with pytest.raises(UnknownUnit, match="unit 'cord' is not known"):
        read_quantity("1", "cord")
