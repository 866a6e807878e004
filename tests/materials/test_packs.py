"""Bought and used units, whole packs: plain arithmetic, worked out by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calculations.packs import MICRO, bought_micro, next_step, used_micro, would_do

AMOUNTS = st.integers(0, 10**15)
STEPS = st.integers(1, 10**12)


@pytest.mark.parametrize(
    ("bought", "holds", "used"),
    [
        (4 * MICRO, 500 * MICRO, 2_000 * MICRO),
        (MICRO, 5 * MICRO, 5 * MICRO),
        (180_000, 1_000 * MICRO, 180 * MICRO),
        (2_500_000, 16 * MICRO, 40 * MICRO),
        (MICRO, 3_785_412, 3_785_412),
        (1, 500_000, 1),
        (1, 499_999, 0),
    ],
    ids=[
        "boxes of 500",
        "a pail of 5 gal",
        "0.18 MBF",
        "2 1/2 of 16 ft",
        "a gallon in liters",
        "half up",
        "below half",
    ],
)
def test_what_was_bought_is_told_in_the_used_unit(bought: int, holds: int, used: int) -> None:
    assert used_micro(bought, holds) == used


@pytest.mark.parametrize(
    ("wanted", "holds", "step", "least", "buys"),
    [
        (1_600, 500, 1, 0, 4),
        (2_000, 500, 1, 0, 4),
        (2_001, 500, 1, 0, 5),
        (1_600, 500, 5, 0, 5),
        (1_600, 500, 1, 6, 6),
        (37, 1, 30, 0, 60),
        (0, 500, 1, 0, 0),
    ],
)
def test_what_is_bought_holds_what_is_wanted_in_whole_packs(
    wanted: int, holds: int, step: int, least: int, buys: int
) -> None:
    assert bought_micro(wanted * MICRO, holds * MICRO, step * MICRO, least * MICRO) == buys * MICRO


@pytest.mark.parametrize(
    ("amount", "step", "least", "instead"),
    [
        (37, 30, 0, (30, 60)),
        (12, 30, 0, (30, 60)),
        (2, 1, 5, (5, 6)),
        (2, 4, 6, (8, 12)),
        (9, 4, 6, (8, 12)),
        (60, 30, 0, ()),
        (5, 1, 5, ()),
    ],
)
def test_two_amounts_that_are_sold_stand_for_one_that_is_not(
    amount: int, step: int, least: int, instead: tuple[int, ...]
) -> None:
    assert would_do(amount * MICRO, step * MICRO, least * MICRO) == tuple(each * MICRO for each in instead)


def test_where_any_amount_above_the_least_is_sold_the_second_is_one_more() -> None:
    assert would_do(99_500_000, 1, 100 * MICRO) == (100 * MICRO, 101 * MICRO)


@given(AMOUNTS, STEPS)
def test_a_step_up_is_the_nearest_multiple_not_below(amount: int, step: int) -> None:
    stepped = next_step(amount, step)

    assert stepped % step == 0
    assert amount <= stepped < amount + step


@given(AMOUNTS, st.integers(1, 10**12), STEPS)
def test_what_is_bought_is_never_less_than_what_is_wanted(wanted: int, holds: int, step: int) -> None:
    assert used_micro(bought_micro(wanted, holds, step), holds) >= wanted


@given(st.integers(1, 10**15), STEPS, st.integers(0, 10**12))
def test_what_would_do_is_sold(amount: int, step: int, least: int) -> None:
    assert all(would_do(each, step, least) == () for each in would_do(amount, step, least))
