"""Taking sheets off a stack: from the top down, an opened sheet first (house rule, see DEVELOPERS.md)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calculations.giving import HalvesNotToTake, StackedSheet, TooFewHalves, pull_order

# 31 lies lowest, 36 on top
STACK = [StackedSheet(number, place) for place, number in enumerate((31, 32, 34, 35, 36), start=1)]

some_stack = st.lists(st.integers(0, 2), max_size=12).map(
    lambda halves: [StackedSheet(100 + i, i + 1, free) for i, free in enumerate(halves)]
)


@pytest.mark.parametrize(
    ("halves", "taken"),
    [
        (0, []),
        (1, [(36, 1)]),
        (2, [(36, 2)]),
        (5, [(36, 2), (35, 2), (34, 1)]),
        (10, [(36, 2), (35, 2), (34, 2), (32, 2), (31, 2)]),
    ],
)
def test_sheets_are_taken_from_the_top_down_and_an_odd_count_opens_the_last(
    halves: int, taken: list[tuple[int, int]]
) -> None:
    assert [(pull.key, pull.halves) for pull in pull_order(STACK, halves)] == taken


def test_a_half_left_over_is_used_before_a_sheet_is_opened() -> None:
    stack = [*STACK[:2], StackedSheet(34, 3, free_halves=1), *STACK[3:]]

    pulls = pull_order(stack, 4)

    assert [(pull.key, pull.place, pull.halves) for pull in pulls] == [(34, 3, 1), (36, 5, 2), (35, 4, 1)]


def test_a_sheet_that_is_used_up_is_passed_over() -> None:
    stack = [*STACK[:4], StackedSheet(36, 5, free_halves=0)]

    assert [pull.key for pull in pull_order(stack, 2)] == [35]


def test_the_order_in_which_the_sheets_are_told_does_not_matter() -> None:
    assert pull_order(STACK[::-1], 5) == pull_order(STACK, 5)


@given(stack=some_stack, share=st.integers(0, 100))
def test_exactly_what_is_asked_is_taken_and_at_most_one_sheet_is_opened(stack: list[StackedSheet], share: int) -> None:
    free = {sheet.key: sheet.free_halves for sheet in stack}
    asked = sum(free.values()) * share // 100

    pulls = pull_order(stack, asked)

    assert sum(pull.halves for pull in pulls) == asked
    assert all(0 < pull.halves <= free[pull.key] for pull in pulls)
    assert sum(free[pull.key] == 2 and pull.halves == 1 for pull in pulls) <= 1


def test_more_than_is_free_is_refused_with_what_there_is() -> None:
    with pytest.raises(TooFewHalves, match="11 halves are asked of a stack that has 10 free: take 10") as refused:
        pull_order(STACK, 11)

    assert (refused.value.asked, refused.value.free) == (11, 10)


def test_fewer_than_no_halves_are_refused() -> None:
    with pytest.raises(HalvesNotToTake, match="-1 halves cannot be taken: write 0 for none"):
        pull_order(STACK, -1)
