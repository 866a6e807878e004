"""Nominal thicknesses of lumber: 4/4 and every n/4 above (NHLA standard thicknesses)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.calculations.lengths import (
    QUARTER_NM,
    LengthError,
    read_length,
    read_nominal_thickness,
    show_nominal_thickness,
)


@pytest.mark.parametrize(
    ("typed", "quarters"), [("4/4", 4), ("5/4", 5), (" 6 / 4 ", 6), ("8⁄4", 8), ("16/4", 16), ("400/4", 400)]
)
def test_a_nominal_thickness_is_read_in_quarters(typed: str, quarters: int) -> None:
    assert read_nominal_thickness(typed) == quarters


def test_a_nominal_thickness_times_a_quarter_is_that_of_the_rough_board() -> None:
    assert read_nominal_thickness("5/4") * QUARTER_NM == read_length("1 1/4")


@pytest.mark.parametrize(
    ("typed", "reason", "would_do"),
    [
        ("9/8", "thicknesses of lumber are quarters of an inch", ("4/4", "5/4")),
        ("1 1/4", "thicknesses of lumber are quarters of an inch", ("5/4", "4/4")),
        ("1.5 in", "thicknesses of lumber are quarters of an inch", ("6/4", "4/4")),
        ("8", "thicknesses of lumber are quarters of an inch", ("8/4", "32/4")),
        ("3/4", "thicknesses of lumber begin at 4/4", ("4/4", "8/4")),
        ("0/4", "thicknesses of lumber begin at 4/4", ("4/4", "8/4")),
        ("401/4", "no board is that thick", ("4/4", "8/4")),
        ("5/0", "nothing can be divided by zero", ("5/4", "4/4")),
        ("", "nothing was typed", ("4/4", "8/4")),
        ("-5/4", "thicknesses of lumber are quarters of an inch", ("4/4", "8/4")),
        ("٥/٤", "it has digits other than 0 to 9", ("4/4", "8/4")),
        ("x" * 100_000, "it is longer than a number can be", ("4/4", "8/4")),
    ],
)
def test_what_is_no_nominal_thickness_is_refused_with_two_that_are(
    typed: str, reason: str, would_do: tuple[str, str]
) -> None:
    with pytest.raises(LengthError, match="cannot be read as a thickness of lumber") as caught:
        read_nominal_thickness(typed)

    assert (caught.value.reason, caught.value.would_do) == (reason, would_do)


@given(st.integers(4, 400))
def test_a_nominal_thickness_shown_is_read_again(quarters: int) -> None:
    assert read_nominal_thickness(show_nominal_thickness(quarters)) == quarters


@given(st.text(st.sampled_from('0123456789 /⁄½."in-'), max_size=10) | st.text())
def test_any_text_is_a_nominal_thickness_or_is_refused_with_two_that_are(text: str) -> None:
    try:
        assert 4 <= read_nominal_thickness(text) <= 400
    except LengthError as refused:
        assert len({read_nominal_thickness(each) for each in refused.would_do}) == 2
