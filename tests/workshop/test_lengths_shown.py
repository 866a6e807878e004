"""Lengths as pages and edit fields show them.

One inch is 25.4 mm exactly: NIST Handbook 44, appendix C. Rounding and spelling: common practice, no source.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.calculations.lengths import GRID_NM, MAX_NM, edit_length, read_length, show_length

INCH = 25_400_000
MM = 1_000_000
UNITS = ("in", "ft", "mm", "cm", "m")
STEPS = st.integers(-(MAX_NM // GRID_NM), MAX_NM // GRID_NM)


def inches(text: str) -> int:
    return int(sum(Fraction(part) for part in text.split()) * INCH)


@pytest.mark.parametrize(
    ("nm", "shown"),
    [
        (inches("147 1/2"), "12′-3 1/2″"),
        (inches("144"), "12′-0″"),
        (inches("144 1/2"), "12′-0 1/2″"),
        (inches("12"), "1′-0″"),
        (inches("11 63/64"), "11 63/64″"),
        (inches("1/2"), "1/2″"),
        (0, "0″"),
        (-inches("147 1/2"), "−12′-3 1/2″"),
        (19 * MM, "≈ 3/4″"),
        (1, "≈ 0″"),
    ],
)
def test_a_length_shows_in_feet_and_inches(nm: int, shown: str) -> None:
    assert show_length(nm) == shown


@pytest.mark.parametrize(
    ("nm", "precision", "shown"),
    [
        (inches("23 13/16"), INCH // 16, "23 13/16″"),
        (inches("23 25/32"), INCH // 16, "≈ 23 13/16″"),
        (-inches("23 25/32"), INCH // 16, "≈ −23 13/16″"),
        (inches("23 25/32") - 1, INCH // 16, "≈ 23 3/4″"),
        (inches("23 31/32"), INCH // 8, "≈ 24″"),
        (inches("23 1/2"), INCH, "≈ 24″"),
        (inches("147 1/2"), None, "147 1/2″"),
    ],
)
def test_inches_round_to_the_precision_with_ties_away_from_zero(nm: int, precision: int, shown: str) -> None:
    assert show_length(nm, precision_nm=precision, style="inches") == shown


@pytest.mark.parametrize(
    ("nm", "precision", "mark", "shown"),
    [
        (3_746_500_000, None, ".", "3746.5 mm"),
        (3_746_500_000, None, ",", "3746,5 mm"),
        (3_746_500_000, MM, ".", "≈ 3747 mm"),
        (-3_746_500_000, MM, ".", "≈ −3747 mm"),
        (3_746_499_999, MM, ".", "≈ 3746 mm"),
        (19_250_000, MM // 2, ".", "≈ 19.5 mm"),
        (19_000_000, None, ".", "19 mm"),
        (19_050_000, None, ".", "≈ 19.1 mm"),
        (19_050_001, 1, ".", "19.050001 mm"),
        (0, None, ".", "0 mm"),
    ],
)
def test_millimeters_round_to_the_precision_with_ties_away_from_zero(
    nm: int, precision: int, mark: str, shown: str
) -> None:
    assert show_length(nm, "metric", precision, decimal_mark=mark) == shown


@given(st.integers(-MAX_NM + INCH, MAX_NM - INCH), st.integers(0, 6), st.sampled_from(["feet", "inches"]))
def test_what_is_shown_in_inches_is_the_nearest_step_and_says_when_it_is_rounded(nm, halvings, style) -> None:
    step = INCH // 2**halvings

    shown = show_length(nm, precision_nm=step, style=style)

    value = read_length(shown.removeprefix("≈ "))
    assert value % step == 0
    assert abs(value - nm) * 2 <= step
    assert shown.startswith("≈ ") == (value != nm)


@given(st.integers(-MAX_NM + INCH, MAX_NM - INCH), st.sampled_from([1, 10, MM // 10, MM // 2, MM, 5 * MM]))
def test_what_is_shown_in_millimeters_is_the_nearest_step_and_says_when_it_is_rounded(nm, step) -> None:
    shown = show_length(nm, "metric", step)

    value = read_length(shown.removeprefix("≈ "))
    assert value % step == 0
    assert abs(value - nm) * 2 <= step
    assert shown.startswith("≈ ") == (value != nm)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("imperial",), "system 'imperial' is not known; us or metric would do"),
        (("us", None, "yards"), "style 'yards' is not known; feet or inches would do"),
        (
            ("us", MM),
            r"precision 1000000 nm is not a step .*; 1587500 \(1/16 in\) or 1000000 \(1 mm\) would do",
        ),
        (("metric", 0), "precision 0 nm is not a step"),
    ],
)
def test_an_unknown_way_of_showing_is_a_fault_of_the_program(arguments: tuple, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        show_length(INCH, *arguments)


@pytest.mark.parametrize(
    ("nm", "system", "mark", "unit", "text"),
    [
        (inches("147 1/2"), "us", ".", None, "147 1/2"),
        (inches("147 1/2"), "us", ".", "in", "147 1/2"),
        (inches("147 1/2"), "us", ".", "ft", "12′-3 1/2″"),
        (inches("1/64"), "us", ".", None, "1/64"),
        (-inches("147 1/2"), "us", ".", None, "-147 1/2"),
        (0, "us", ".", None, "0"),
        (3_746_600_000, "us", ".", None, "3746.6 mm"),
        (3_746_600_000, "us", ",", None, "3746,6 mm"),
        (inches("147 1/2"), "metric", ".", None, "3746.5 mm"),
        (inches("147 1/2"), "metric", ",", "mm", "3746,5"),
        (inches("147 1/2"), "metric", ".", "m", "3746.5 mm"),
        (1, "metric", ".", "mm", "0.000001"),
    ],
)
def test_an_edit_field_shows_the_exact_length(nm: int, system: str, mark: str, unit: str, text: str) -> None:
    assert edit_length(nm, system, mark, unit=unit) == text


@given(
    st.integers(-MAX_NM, MAX_NM) | STEPS.map(lambda step: step * GRID_NM),
    st.sampled_from(["us", "metric"]),
    st.sampled_from(".,"),
    st.sampled_from(UNITS),
)
def test_an_edit_field_read_again_gives_the_same_length(nm, system, mark, unit) -> None:
    assert read_length(edit_length(nm, system, mark, unit=unit), unit, mark) == nm
    assert read_length(edit_length(nm, system, mark), "in", mark) == nm
