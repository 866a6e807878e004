"""Lists of sheet numbers, as they are written on a slip: read, refused with what would do, and shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calculations.sheet_numbers import (
    REASONS,
    SheetNumbersError,
    read_sheet_numbers,
    show_sheet_numbers,
)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("3", [3]),
        ("3, 17", [3, 17]),
        ("3 17", [3, 17]),
        ("3;17", [3, 17]),
        ("17, 3", [17, 3]),
        ("20-22", [20, 21, 22]),
        ("20 - 22", [20, 21, 22]),
        ("20–22, 3", [20, 21, 22, 3]),
        ("3, 3, 2-4", [3, 2, 4]),
        ("007", [7]),
    ],
)
def test_a_list_is_read_in_the_order_written_each_once(text: str, numbers: list[int]) -> None:
    assert read_sheet_numbers(text) == numbers


@pytest.mark.parametrize(
    "text", ["", "  ", ",", "0", "-3", "3-", "1-2-3", "3A", "x", "1.5", "9-3", "1-9999", "1234567"]
)
def test_what_is_no_list_is_refused_with_two_that_are(text: str) -> None:
    with pytest.raises(SheetNumbersError) as refused:
        read_sheet_numbers(text)

    assert refused.value.reason in REASONS
    assert all(read_sheet_numbers(other) for other in refused.value.would_do)


def test_runs_of_three_are_drawn_together() -> None:
    assert show_sheet_numbers([3, 22, 17, 20, 21]) == "3, 17, 20-22"
    assert show_sheet_numbers([1, 2, 5]) == "1, 2, 5"
    assert show_sheet_numbers([]) == ""


@given(st.sets(st.integers(1, 400), min_size=1, max_size=60))
def test_what_is_shown_reads_back_as_the_same_sheets(numbers: set[int]) -> None:
    assert read_sheet_numbers(show_sheet_numbers(numbers)) == sorted(numbers)


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused_and_nothing_else(text: str) -> None:
    try:
        assert all(number > 0 for number in read_sheet_numbers(text))
    except SheetNumbersError as error:
        assert error.typed
