"""Texts that are no length: each is refused with a reason and two lengths that can be typed instead.

The refusals are common practice, no source. One inch is 25.4 mm exactly: NIST Handbook 44, appendix C.
"""

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from workshop.calculations.lengths import MAX_NM, REASONS, LengthError, read_length

INCH = 25_400_000
UNITS = ("in", "ft", "mm", "cm", "m")
TWO_WAYS = "it can be read two ways, as feet and inches or as a slip for a fraction"

REFUSED = [
    ("12-3", TWO_WAYS, ("12′-3″", "12 3/4″")),
    ("21-2", TWO_WAYS, ("21′-2″", "21 1/2″")),
    ('12-3"', TWO_WAYS, ("12′-3″", "12 3/4″")),
    ("12 -3", TWO_WAYS, ("12′-3″", "12 3/4″")),
    ("12-0", TWO_WAYS, ("12′-0″", "12″")),
    ("-12-3", TWO_WAYS, ("-12′-3″", "-12 3/4″")),
    ("12-3 mm", TWO_WAYS, ("12.3 mm", "123 mm")),
    ("12-3.5", TWO_WAYS, ("12′-3.5″", "147 1/2″")),
    ("12 3", "two numbers stand side by side", ("12′-3″", "12 3/4″")),
    ("12' 13\"", "inches beside feet are less than 12", ("13′-1″", "157″")),
    ("12' 12\"", "inches beside feet are less than 12", ("13′-0″", "156″")),
    ("0' 12\"", "inches beside feet are less than 12", ("1′-0″", "12″")),
    ("12' 12.5\"", "inches beside feet are less than 12", ("13′-0 1/2″", "156 1/2″")),
    ("12' 13.37\"", "inches beside feet are less than 12", ("13′-1.37″", "157.37″")),
    ("12-13 1/2", "inches beside feet are less than 12", ("13′-1 1/2″", "157 1/2″")),
    ("3 9/8", "a fraction beside a whole number is smaller than 1", ("4 1/8″", "3 9/16″")),
    ("3-9/8", "a fraction beside a whole number is smaller than 1", ("4 1/8″", "3 9/16″")),
    ("3 8/8", "a fraction beside a whole number is smaller than 1", ("4″", "3 1/8″")),
    ("12' 3 9/8\"", "a fraction beside a whole number is smaller than 1", ("12′-4 1/8″", "148 1/8″")),
    ("12' 9/8\"", "a fraction beside a whole number is smaller than 1", ("12′-1 1/8″", "145 1/8″")),
    ("1/3", "fractions are halves, 4ths, 8ths, 16ths, 32nds or 64ths", ("5/16″", "21/64″")),
    ("⅓", "fractions are halves, 4ths, 8ths, 16ths, 32nds or 64ths", ("5/16″", "21/64″")),
    ("1 1/3 ft", "fractions are halves, 4ths, 8ths, 16ths, 32nds or 64ths", ("1′-4″", "406.4 mm")),
    ("1/128", "fractions are halves, 4ths, 8ths, 16ths, 32nds or 64ths", ("1/64″", "0.2 mm")),
    ("3/1", "fractions are halves, 4ths, 8ths, 16ths, 32nds or 64ths", ("3″", "76.2 mm")),
    ("1/0", "nothing can be divided by zero", ("12 1/2", "12′-3 1/2″")),
    ("2 1/0", "nothing can be divided by zero", ("2″", "50.8 mm")),
    ("4/4", "it is a nominal thickness of lumber", ("1″", "25.4 mm")),
    ("5/4", "it is a nominal thickness of lumber", ("1 1/4″", "31.75 mm")),
    ('16/4"', "it is a nominal thickness of lumber", ("4″", "101.6 mm")),
    ("+5", "it has a sign where none belongs", ("5", "5″")),
    ("12 + 3/4", "it has a sign where none belongs", ("12 3/4", "12 3/4″")),
    ("12'--3\"", "it has a sign where none belongs", ("12'-3\"", "12' 3\"")),
    ("3 1/-2", "it has a sign where none belongs", ("3 1/2", "3 1/2″")),
    ("12'-", "it has a sign where none belongs", ("12'", "144″")),
    ("1,250", "thousands are typed without a mark", ("1250", "1.250")),
    ("1 250", "thousands are typed without a mark", ("1250 in", "1.250 in")),
    ("1\u202f250 mm", "thousands are typed without a mark", ("1250 mm", "1.250 mm")),
    ("1 250 000 mm", "thousands are typed without a mark", ("1.250000 mm", "1.25 mm")),
    ("12 345 mm", "thousands are typed without a mark", ("12345 mm", "12.345 mm")),
    ("1,250.5", "thousands are typed without a mark", ("1250.5", "1250 1/2″")),
    ("1,2 m", "its decimal mark is that of another language", ("1.2 m", "1200 mm")),
    ("3 yd", "its unit is not one of in, ft, mm, cm or m", ("9 ft", "108 in")),
    ("12 inches", "its unit is not one of in, ft, mm, cm or m", ("12 in", "12 ft")),
    ("5 km", "its unit is not one of in, ft, mm, cm or m", ("5 in", "5 ft")),
    ("1e400", "its unit is not one of in, ft, mm, cm or m", ("12 1/2", "12′-3 1/2″")),
    ("49 x 97", "it is two sizes, and this field takes one", ("49", "97")),
    ("4x8", "it is two sizes, and this field takes one", ("4", "8")),
    ("0x10", "its unit is not one of in, ft, mm, cm or m", ("12 1/2", "12′-3 1/2″")),
    ("<b>12</b>", "its unit is not one of in, ft, mm, cm or m", ("12 1/2", "12′-3 1/2″")),
    ("1000.1 m", "it is more than 1 km", ("12 1/2", "12′-3 1/2″")),
    ("1" + "0" * 30, "it is more than 1 km", ("12 1/2", "12′-3 1/2″")),
    ("0.0000001 mm", "it is finer than can be kept exactly", ("12 1/2", "12′-3 1/2″")),
    ("0.3333333", "it is finer than can be kept exactly", ("5/16″", "21/64″")),
    ("12.", "its parts do not make one length", ("12", "12″")),
    ("1/2/4", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("½/2", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("1½½", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("2.5 1/2", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("1.5' 3\"", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("3\" 12'", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("5' 3 mm", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("1 m 20 cm", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("3 4 5", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("10^30", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("1_000", "its parts do not make one length", ("12 1/2", "12′-3 1/2″")),
    ("", "nothing was typed", ("12 1/2", "12′-3 1/2″")),
    (" \t\u00a0", "nothing was typed", ("12 1/2", "12′-3 1/2″")),
    ("NaN", "there is no number in it", ("12 1/2", "12′-3 1/2″")),
    ("-inf", "there is no number in it", ("12 1/2", "12′-3 1/2″")),
    ("mm", "there is no number in it", ("12 1/2", "12′-3 1/2″")),
    ("12\x00", "it has a character that does not belong in a number", ("12 1/2", "12′-3 1/2″")),
    ("12\u200b", "it has a character that does not belong in a number", ("12 1/2", "12′-3 1/2″")),
    ("١٢", "it has digits other than 0 to 9", ("12 1/2", "12′-3 1/2″")),
    ("１２", "it has digits other than 0 to 9", ("12 1/2", "12′-3 1/2″")),
    ("12²", "it has digits other than 0 to 9", ("12 1/2", "12′-3 1/2″")),
    ("x" * 100_000, "it is longer than a number can be", ("12 1/2", "12′-3 1/2″")),
    ("1" * 41, "it is longer than a number can be", ("12 1/2", "12′-3 1/2″")),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "reason", "would_do"), REFUSED, ids=[row[0][:20] for row in REFUSED])
def test_what_is_no_length_is_refused_with_two_that_are(typed: str, reason: str, would_do: tuple[str, str]) -> None:
    with pytest.raises(LengthError) as caught:
        read_length(typed)

    assert (caught.value.reason, caught.value.would_do) == (reason, would_do)
    assert reason in REASONS


@pytest.mark.parametrize(
    ("typed", "unit", "would_do"),
    [
        ("12-3", "ft", ("12′-3″", "12 3/4 ft")),
        ("12-3", "mm", ("12′-3″", "12,3 mm")),
        ("1/3", "mm", ("0,3 mm", "0,33 mm")),
        ("5/4", "cm", ("1,25 cm", "12,5 mm")),
        ("x", "mm", ("19", "19,5")),
        ("x", "m", ("1,2", "1200 mm")),
        ("1.2 m", "mm", ("1,2 m", "1200 mm")),
        ("1.250", "mm", ("1250", "1,250")),
        ("1.250,5", "mm", ("1250,5", "1250,5 mm")),
    ],
)
def test_suggestions_speak_the_unit_of_the_field_and_the_decimal_mark_of_the_person(
    typed: str, unit: str, would_do: tuple[str, str]
) -> None:
    with pytest.raises(LengthError) as caught:
        read_length(typed, unit, ",")

    assert caught.value.would_do == would_do


@pytest.mark.parametrize(
    ("typed", "would_do"),
    [
        ("0", ("12 1/2", "12′-3 1/2″")),
        ("-0", ("12 1/2", "12′-3 1/2″")),
        ("0'-0\"", ("12 1/2", "12′-3 1/2″")),
        ("-5", ("5″", "127 mm")),
        ("-12-3 1/2", ("147 1/2″", "3746.5 mm")),
    ],
)
def test_a_size_is_more_than_zero(typed: str, would_do: tuple[str, str]) -> None:
    with pytest.raises(LengthError, match="cannot be read as a size: a size is more than zero") as caught:
        read_length(typed, size=True)

    assert caught.value.would_do == would_do


def test_zero_is_read_where_the_field_holds_no_size() -> None:
    assert read_length("0") == 0


def test_the_message_tells_what_was_typed_why_and_what_to_do() -> None:
    with pytest.raises(LengthError) as caught:
        read_length("12-3")

    assert str(caught.value) == (
        "12-3 cannot be read as a length: it can be read two ways, as feet and inches or as a slip for a "
        "fraction. Type 12′-3″ or 12 3/4″."
    )


def test_the_message_quotes_at_most_40_characters_and_no_control_character() -> None:
    with pytest.raises(LengthError) as caught:
        read_length("\x00" + "<script>" * 20_000)

    assert len(caught.value.typed) == 40
    assert caught.value.typed.isprintable()
    assert len(str(caught.value)) < 250


@pytest.mark.parametrize("piece", ["1", " ", "1 ", "-", "'", "1'", "1/", "½", "1-1/2 ", "a", "٣", "\x00", "''"])
def test_a_hundred_thousand_characters_are_refused(piece: str) -> None:
    with pytest.raises(LengthError):
        read_length(piece * 100_000)


@pytest.mark.parametrize(("unit", "decimal_mark"), [("yd", "."), ("", "."), ("in", "٫"), ("in", "")])
def test_an_unknown_field_unit_or_decimal_mark_is_a_fault_of_the_program(unit: str, decimal_mark: str) -> None:
    with pytest.raises(ValueError, match=r"is not known; .* would do") as caught:
        read_length("12", unit, decimal_mark)

    assert not isinstance(caught.value, LengthError)


@given(st.integers(0, 4000), st.integers(12, 10_000))
def test_twelve_inches_or_more_beside_feet_are_always_refused(feet, whole) -> None:
    with pytest.raises(LengthError, match="inches beside feet are less than 12"):
        read_length(f"{feet}'-{whole}\"")


@given(st.integers(1, 200), st.integers(1, 200))
def test_only_binary_denominators_to_64_are_read_and_quarters_from_4_up_are_not(upper, lower) -> None:
    is_length = lower in (2, 4, 8, 16, 32, 64) and not (lower == 4 and upper >= 4)
    if is_length:
        assert read_length(f"{upper}/{lower}") == Fraction(upper, lower) * INCH
    else:
        with pytest.raises(LengthError):
            read_length(f"{upper}/{lower}")


SOUP = st.text(st.sampled_from("0123456789 '\"-/.,+½⅞⅓′″’”–−⁄ftinmcyd\u00a0x\x00٣²"), max_size=16)


@given(SOUP | st.text(), st.sampled_from(UNITS), st.sampled_from(".,"), st.booleans())
@example("1-1000000000", "in", ".", True)
@example("-1/128", "in", ".", False)
@example("3280' 13\"", "mm", ",", True)
def test_any_text_is_a_length_or_is_refused_with_two_that_are(text, unit, mark, size) -> None:
    try:
        nm = read_length(text, unit, mark, size=size)
    except LengthError as refused:
        first, second = refused.would_do
        assert first != second
        assert all(0 < abs(read_length(each, unit, mark, size=size)) <= MAX_NM for each in refused.would_do)
        assert refused.reason in REASONS
        assert len(refused.typed) <= 40
    else:
        assert isinstance(nm, int)
        assert abs(nm) <= MAX_NM
        assert nm > 0 or not size
