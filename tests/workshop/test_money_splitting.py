"""Splitting by the largest remainder against published apportionments."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.calculations.money import MAX_MINOR, SplitError, split

REFERENCE = Path(__file__).parents[1] / "reference"
APPORTIONMENTS = json.loads((REFERENCE / "apportionment_examples.json").read_text(encoding="utf-8"))["examples"]


@pytest.mark.parametrize("case", APPORTIONMENTS, ids=lambda case: case["id"])
def test_published_apportionments_come_out(case: dict) -> None:
    """apportionment_examples.json: Hamilton's method, US House of 1790 and a legislature of 42 seats."""
    parts = split(case["total_units"], list(case["shares"].values()))

    assert dict(zip(case["shares"], parts, strict=True)) == case["published"]["final"]


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (10000, [60000, 30000], [6667, 3333]),
        (-10000, [60000, 30000], [-6667, -3333]),
        (100, [1, 1, 1], [34, 33, 33]),
        (-100, [1, 1, 1], [-34, -33, -33]),
        (101, [1, 1], [51, 50]),
        (5, [0, 0, 0], [2, 2, 1]),
        (7, [0, 1, 0], [0, 7, 0]),
        (0, [3, 4], [0, 0]),
        (1, [Fraction(1, 3), Fraction(1, 3), Fraction(1, 3)], [1, 0, 0]),
        (10, [Fraction(1, 2), Fraction(1, 3)], [6, 4]),
        (10**13, [10**30, 10**30 + 1], [5 * 10**12, 5 * 10**12]),
    ],
)
def test_units_left_over_go_to_the_largest_remainder_of_equal_ones_to_the_earlier(
    total: int, weights: list, parts: list[int]
) -> None:
    assert split(total, weights) == parts


@given(
    st.integers(min_value=-MAX_MINOR, max_value=MAX_MINOR),
    st.lists(st.integers(0, 10**13) | st.fractions(min_value=0, max_value=1000), min_size=1, max_size=40),
)
def test_parts_add_up_and_lie_within_a_unit_of_their_exact_share(total: int, weights: list) -> None:
    parts = split(total, weights)

    shares = weights if sum(weights) else [1] * len(weights)
    assert sum(parts) == total
    assert split(-total, weights) == [-part for part in parts]
    for part, share in zip(parts, shares, strict=True):
        assert abs(part - Fraction(total) * share / sum(shares)) < 1


@pytest.mark.parametrize(
    ("total", "weights", "message"),
    [
        (100, [], "there is no line to split over"),
        (100, [3, -1], "-1 cannot be read as a weight: it is below zero. Type 0 or 1."),
        (100, [0.5, 0.5], "0.5 cannot be read as a weight: it is not a whole number or a fraction"),
        (
            Fraction(1, 2),
            [1],
            "1/2 cannot be read as a total to be split: it is not a whole number of minor units",
        ),
        (100.0, [1], "it is not a whole number of minor units"),
    ],
)
def test_what_cannot_be_split_is_refused(total: object, weights: list, message: str) -> None:
    with pytest.raises(SplitError, match=message):
        split(total, weights)
