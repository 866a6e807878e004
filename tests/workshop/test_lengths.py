"""Lengths read as the shop types them.

One inch is 25.4 mm exactly: NIST Handbook 44, appendix C (reference/units.csv). Spellings and refusals are
common practice, no source. Expected values are worked out here in inches or millimeters.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.calculations.lengths import read_length

INCH = 25_400_000
MM = 1_000_000
UNITS = ("in", "ft", "mm", "cm", "m")


def inches(text: str) -> int:
    return int(sum(Fraction(part) for part in text.split()) * INCH)


@pytest.mark.parametrize(
    ("typed", "in_inches"),
    [
        ("12'-3 1/2\"", "147 1/2"),
        ("12' 3 1/2\"", "147 1/2"),
        ("12'3 1/2\"", "147 1/2"),
        ("12'-3-1/2\"", "147 1/2"),
        ("12'-3 1/2", "147 1/2"),
        ("12'-3", "147"),
        ("12'3", "147"),
        ("12'-0\"", "144"),
        ("12'", "144"),
        ("0'-6\"", "6"),
        ('6"', "6"),
        ('6 "', "6"),
        ("6in", "6"),
        ("6 in.", "6"),
        ("12-3 1/2", "147 1/2"),
        ('12-3 1/2"', "147 1/2"),
        ("12-3 3/4", "147 3/4"),
        ("12-3-3/4", "147 3/4"),
        ("12-11 63/64", "155 63/64"),
        ("12'-3/4\"", "144 3/4"),
        ("12' - 3/4\"", "144 3/4"),
        ("12' 3/4\"", "144 3/4"),
        ("12' -3/4\"", "144 3/4"),
        ("12- 3/4", "12 3/4"),
        ("12-3/4", "12 3/4"),
        ('12-3/4"', "12 3/4"),
        ("12 - 3/4", "12 3/4"),
        ("1-1/2", "1 1/2"),
        ("1 1/2", "1 1/2"),
        ('1 1/2"', "1 1/2"),
        ("1 1 / 2 in", "1 1/2"),
        ("12ft 3.5in", "147 1/2"),
        ("12 FT 3.5 IN", "147 1/2"),
        ("12ft-3 1/2in", "147 1/2"),
        ("12ft3in", "147"),
        ("12 ft. 3 in.", "147"),
        ("12' 3 in", "147"),
        ("12' 3.5\"", "147 1/2"),
        ("1 1/2 ft", "18"),
        ("1.5'", "18"),
        ("147 1/2", "147 1/2"),
        ("147.5", "147 1/2"),
        (".5", "1/2"),
        ("3/4", "3/4"),
        ("9/8", "9/8"),
        ("8/8", "1"),
        ("6/2", "3"),
        ("63/64", "63/64"),
        ("½", "1/2"),
        ("1½", "1 1/2"),
        ("1 ½", "1 1/2"),
        ("1-½", "1 1/2"),
        ("23⅞", "23 7/8"),
        ("12′-3½″", "147 1/2"),
        ("12’-3 1/2”", "147 1/2"),
        ("12‘ 3“", "147"),
        ("12´ 3´´", "147"),
        ("12' 3''", "147"),
        ("12′–3 1⁄2″", "147 1/2"),
        ("12'—3∕4\"", "144 3/4"),
        ("12‑3/4", "12 3/4"),
        ("  12'\u00a0-\u20093\u202f1/2\t\" ", "147 1/2"),
        ("0012", "12"),
        ("3 0/8", "3"),
    ],
)
def test_a_length_in_feet_and_inches_is_read_exactly(typed: str, in_inches: str) -> None:
    assert read_length(typed) == inches(in_inches)


@pytest.mark.parametrize(
    ("typed", "decimal_mark", "in_mm"),
    [
        ("19 mm", ".", "19"),
        ("19MM", ".", "19"),
        ("19.05 mm", ".", "19.05"),
        ("1/2 mm", ".", "0.5"),
        ("1.2 m", ".", "1200"),
        ("1.2 M", ".", "1200"),
        (".75m", ".", "750"),
        ("120 cm", ".", "1200"),
        ("0.000001 mm", ".", "0.000001"),
        ("1,2 m", ",", "1200"),
        ("1,250 mm", ",", "1.25"),
        ("1250 mm", ",", "1250"),
        ("12ft 3,5in", ",", "3746.5"),
        ("1000 m", ".", "1000000"),
    ],
)
def test_a_metric_length_is_read_exactly(typed: str, decimal_mark: str, in_mm: str) -> None:
    assert read_length(typed, decimal_mark=decimal_mark) == Fraction(in_mm) * MM


@pytest.mark.parametrize(
    ("unit", "nm"),
    [("in", 12.5 * INCH), ("ft", 150 * INCH), ("mm", 12.5 * MM), ("cm", 125 * MM), ("m", 12_500 * MM)],
)
@pytest.mark.parametrize("typed", ["12 1/2", "12.5", "12½", "12-1/2"])
def test_a_bare_number_takes_the_unit_of_its_field(typed: str, unit: str, nm: float) -> None:
    assert read_length(typed, unit) == nm


@pytest.mark.parametrize("unit", UNITS)
def test_feet_and_inches_are_read_in_a_field_of_any_unit(unit: str) -> None:
    assert read_length("12'-3 1/2\"", unit) == read_length("12-3 1/2", unit) == inches("147 1/2")


@pytest.mark.parametrize("typed", ["-3 1/2", "−3 1/2", "- 3-1/2", '-3 1/2"', "-0'-3 1/2\""])
def test_a_leading_minus_is_read_where_the_field_holds_no_size(typed: str) -> None:
    assert read_length(typed) == -inches("3 1/2")


FEET = st.integers(0, 3000)
DENOMINATOR = st.sampled_from([2, 4, 8, 16, 32, 64])
PART = DENOMINATOR.flatmap(lambda lower: st.tuples(st.integers(0, lower - 1), st.just(lower)))
SPACE = st.sampled_from(["", " ", "\u00a0", "\u2009 "])
FOOT_MARK = st.sampled_from(["'", "′", "’", "ft", " FT", "ft. "])
INCH_MARK = st.sampled_from(['"', "″", "”", "''", "in", " IN", ""])
HYPHEN = st.sampled_from(["", "-", "–", "−"])


@given(FEET, st.integers(0, 11), PART, FOOT_MARK, INCH_MARK, HYPHEN, SPACE, SPACE, st.sampled_from(" -"))
def test_every_spelling_of_feet_inches_and_fraction_gives_the_sum(
    feet, whole, part, foot_mark, inch_mark, hyphen, before, after, joint
) -> None:
    typed = f"{feet}{foot_mark}{before}{hyphen}{after}{whole}{joint}{part[0]}/{part[1]}{inch_mark}"

    nm = read_length(typed)

    assert nm == (12 * feet + whole + Fraction(*part)) * INCH


@given(FEET, st.integers(0, 11), PART, SPACE, INCH_MARK)
def test_a_hyphen_parts_feet_from_inches_when_a_fraction_follows(feet, whole, part, space, inch_mark) -> None:
    nm = read_length(f"{feet}{space}-{space}{whole} {part[0]}/{part[1]}{inch_mark}", "mm")

    assert nm == (12 * feet + whole + Fraction(*part)) * INCH


@given(st.integers(0, 30_000), PART, SPACE, INCH_MARK)
def test_a_hyphen_before_a_bare_fraction_joins_it_to_the_whole(whole, part, space, inch_mark) -> None:
    nm = read_length(f"{whole}{space}-{space}{part[0]}/{part[1]}{inch_mark}")

    assert nm == (whole + Fraction(*part)) * INCH


@given(st.integers(0, 999_999), st.integers(0, 999_999), st.sampled_from(".,"))
def test_every_millimeter_with_six_places_is_read_exactly(whole, millionths, mark) -> None:
    nm = read_length(f"{whole}{mark}{millionths:06d} mm", decimal_mark=mark)

    assert nm == whole * MM + millionths
