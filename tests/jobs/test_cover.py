"""Which supply serves which need. The rule is the house's own (DEVELOPERS.md, "Lead times")."""

from collections import Counter
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calculations.cover import Coming, Wanted, cover, still_to_come

DEC_1, DEC_7 = date(2026, 12, 1), date(2026, 12, 7)


def test_what_is_here_serves_the_earliest_need_first() -> None:
    wanted = [Wanted("late", "ash", 6, DEC_7, (1,)), Wanted("soon", "ash", 5, DEC_1, (2,))]

    result = cover(wanted, {"ash": 7}, [Coming("line", "ash", 10, DEC_1)])

    assert result.here == {"soon": 5, "late": 2}
    assert result.coming["late"] == [("line", 4)]
    assert result.missing == {"soon": 0, "late": 0}


def test_an_order_lists_the_need_with_the_earliest_date_first() -> None:
    wanted = [Wanted("b", "ash", 2, DEC_7, (1,)), Wanted("a", "ash", 2, DEC_1, (9,))]

    result = cover(wanted, {}, [Coming("line", "ash", 3, DEC_1)])

    assert result.served["line"] == [("a", 2), ("b", 1)]
    assert result.missing["b"] == 1


def test_the_order_expected_first_is_used_first() -> None:
    coming = [Coming("second", "ash", 4, DEC_7), Coming("first", "ash", 4, DEC_1)]

    result = cover([Wanted("a", "ash", 5, DEC_1, (1,))], {}, coming)

    assert result.coming["a"] == [("first", 4), ("second", 1)]


def test_a_need_without_a_date_comes_last() -> None:
    wanted = [Wanted("some day", "ash", 3, None, (1,)), Wanted("dated", "ash", 3, DEC_7, (2,))]

    result = cover(wanted, {"ash": 3}, [])

    assert result.here == {"dated": 3, "some day": 0}


def test_another_material_serves_nothing() -> None:
    result = cover([Wanted("a", "ash", 3, DEC_1, (1,))], {"oak": 9}, [Coming("line", "oak", 9, DEC_1)])

    assert result.missing["a"] == 3


@given(
    st.lists(st.tuples(st.sampled_from("xy"), st.integers(1, 9), st.dates(DEC_1, DEC_7)), max_size=8),
    st.dictionaries(st.sampled_from("xy"), st.integers(0, 9)),
    st.lists(st.tuples(st.sampled_from("xy"), st.integers(1, 9), st.dates(DEC_1, DEC_7)), max_size=6),
)
def test_nothing_is_given_twice_and_every_need_adds_up(needs: list, here: dict, orders: list) -> None:
    wanted = [Wanted(i, m, q, d, (i,)) for i, (m, q, d) in enumerate(needs)]
    coming = [Coming(i, m, q, d) for i, (m, q, d) in enumerate(orders)]

    result = cover(wanted, here, coming)

    for need in wanted:
        served = sum(q for _, q in result.coming[need.key])
        assert result.here[need.key] + served + result.missing[need.key] == need.quantity
    for supply in coming:
        assert sum(q for _, q in result.served[supply.key]) <= supply.quantity
    for material in "xy":
        assert sum(result.here[w.key] for w in wanted if w.material == material) <= here.get(material, 0)


# Shares of jobs


def test_what_is_for_a_job_serves_no_other_job() -> None:
    wanted = [Wanted("hall", "ash", 5, DEC_1, (1,), "hall"), Wanted("school", "ash", 5, DEC_7, (2,), "school")]

    result = cover(wanted, {}, [Coming("line", "ash", 10, DEC_1, {"school": 8})])

    assert result.served["line"] == [("hall", 2), ("school", 5)]
    assert result.missing == {"hall": 3, "school": 0}


def test_a_job_takes_its_own_share_before_what_is_here_for_all() -> None:
    wanted = [Wanted("school", "ash", 5, DEC_7, (1,), "school"), Wanted("hall", "ash", 5, DEC_7, (2,), "hall")]

    result = cover(wanted, {"ash": 5}, [Coming("line", "ash", 5, DEC_1, {"school": 5})])

    assert result.here == {"school": 0, "hall": 5}
    assert result.missing == {"school": 0, "hall": 0}


def test_a_share_that_comes_too_late_waits_behind_what_is_here() -> None:
    wanted = [Wanted("school", "ash", 5, DEC_1, (1,), "school")]

    result = cover(wanted, {"ash": 3}, [Coming("line", "ash", 5, DEC_7, {"school": 5})])

    assert (result.here["school"], result.coming["school"]) == (3, [("line", 2)])


def test_a_job_with_more_need_than_share_takes_of_stock_too_and_stands_once_on_the_line() -> None:
    wanted = [Wanted("school", "ash", 7, DEC_7, (1,), "school")]

    result = cover(wanted, {}, [Coming("line", "ash", 10, DEC_1, {"school": 5})])

    assert result.served["line"] == [("school", 7)]


@pytest.mark.parametrize(
    ("arrived", "left"),
    [
        (0, {"school": 20, "hall": 10}),
        (19, {"school": 1, "hall": 10}),
        (20, {"hall": 10}),
        (24, {"hall": 6}),
        (30, {}),
        (99, {}),
    ],
)
def test_what_came_counts_to_the_shares_in_their_order(arrived: int, left: dict) -> None:
    assert still_to_come({"school": 20, "hall": 10}, arrived) == left


@given(
    st.lists(st.tuples(st.sampled_from("jk"), st.integers(1, 9), st.dates(DEC_1, DEC_7)), max_size=8),
    st.integers(0, 9),
    st.lists(
        st.tuples(
            st.integers(1, 9), st.dates(DEC_1, DEC_7), st.dictionaries(st.sampled_from("jkl"), st.integers(1, 9))
        ),
        max_size=6,
    ),
)
def test_no_job_takes_more_of_a_line_than_is_for_it_and_for_stock(needs: list, here: int, orders: list) -> None:
    wanted = [Wanted(i, "ash", q, d, (i,), job) for i, (job, q, d) in enumerate(needs)]
    coming = [Coming(i, "ash", q, d, shares) for i, (q, d, shares) in enumerate(orders)]

    result = cover(wanted, {"ash": here}, coming)

    for need in wanted:
        served = sum(q for _, q in result.coming[need.key])
        assert result.here[need.key] + served + result.missing[need.key] == need.quantity
    for supply in coming:
        taken = Counter()
        for key, quantity in result.served[supply.key]:
            taken[wanted[key].job] += quantity
        rest = max(supply.quantity - sum(supply.shares.values()), 0)
        assert sum(max(taken[job] - supply.shares.get(job, 0), 0) for job in "jk") <= rest
        assert taken.total() <= supply.quantity
