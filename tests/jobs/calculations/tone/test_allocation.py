"""Giving sheets to rooms: published instances, every plan tried, and what may be claimed."""

import pytest

from jobs.calculations.tone import proving
from jobs.calculations.tone.allocation import NoPlanFound, allocate, first_plan
from jobs.calculations.tone.plan import Plan, faults, plan
from jobs.calculations.tone.problem import CannotStandSo, Doorway, MoreNeedThanSheets, Problem, Room
from jobs.calculations.tone.runs import orders, runs
from tests.jobs.calculations.tone.lots import ALLOCATION, HALVES, told, whole
from tests.jobs.calculations.tone.small import best_by_trying, small_problem

COUNTEREXAMPLE = [6, 7, 7, 11, 15, 20]
"""Tones of the worked example in tests/reference/tone/README.md."""


def last(problem: Problem, seconds: float = 20, **how: object) -> Plan:
    *_, best = allocate(problem, seconds, **how)
    return best


def of_tones(tones: list[int], *rooms: Room, **asked: object) -> Problem:
    return Problem(differences=[[abs(a - b) for a in tones] for b in tones], rooms=rooms, **asked)


# Published instances (tests/reference/tone, answers computed by another program)


@pytest.mark.parametrize("name", ["A01", "A02", "A03", "A04", "A05", "A06", "A07", "A08"])
def test_the_best_known_values_are_reached_and_proven(name: str) -> None:
    problem, known = told(ALLOCATION, name)

    best = last(problem)

    assert faults(problem, best.rooms) == []
    assert best.value[:2] == (whole(known["bottleneck"]), whole(known["weighted_sum"]))
    assert best.largest_proven and best.weighted_proven


@pytest.mark.parametrize("name", ["A09", "A10"])
def test_of_larger_lots_the_smallest_largest_range_is_proven(name: str) -> None:
    problem, known = told(ALLOCATION, name)

    for best in allocate(problem, 20):
        if best.largest_proven:
            break

    assert faults(problem, best.rooms) == []
    assert (best.largest, best.largest_proven) == (whole(known["bottleneck"]), True)


@pytest.mark.parametrize("name", ["A11", "A12"])
def test_of_many_sheets_no_bound_is_above_the_best_known_answer(name: str) -> None:
    problem, known = told(ALLOCATION, name)

    plans = list(allocate(problem, 1.5))

    assert plans
    for found in plans:
        assert faults(problem, found.rooms) == []
        assert found.largest_at_least <= whole(known["bottleneck"])
    assert [one.value for one in plans] == sorted((one.value for one in plans), reverse=True)


@pytest.mark.parametrize("name", ["H01", "H02", "H03", "H04"])
def test_with_halves_all_three_aims_are_reached_and_proven(name: str) -> None:
    problem, known = told(HALVES, name)

    best = last(problem)

    assert faults(problem, best.rooms) == []
    assert best.value == (
        whole(known["bottleneck"]),
        whole(known["weighted_sum"]),
        known["sheets_shared_by_two_rooms"],
    )
    assert best.proven


# Every plan tried


@pytest.mark.parametrize("seed", range(60))
def test_what_is_proven_is_what_trying_every_plan_finds(seed: int) -> None:
    problem = small_problem(seed)
    truth = best_by_trying(problem)

    if truth is None:
        with pytest.raises(NoPlanFound, match="no plan keeps every condition"):
            list(allocate(problem, 20))
        return
    for found in allocate(problem, 20):
        assert faults(problem, found.rooms) == []
        assert found.largest_at_least <= truth[0]
        assert not found.weighted_proven or found.value[:2] == truth[:2]
        assert not found.proven or found.value == truth

    assert found.proven or problem.need == 0


@pytest.mark.parametrize("seed", range(12))
def test_without_the_solver_plans_keep_every_condition_and_nothing_false_is_proven(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(proving, "open_solver", lambda: None)
    problem = small_problem(seed)
    truth = best_by_trying(problem)

    try:
        plans = list(allocate(problem, 0.15))
    except NoPlanFound as nothing:
        assert nothing.impossible is False
        return

    for found in plans:
        assert faults(problem, found.rooms) == []
        assert found.largest_at_least <= truth[0]
        assert not found.largest_proven or found.largest == truth[0]
    assert not plans or plans[-1].solver is False or plans[-1].weighted_proven


# The worked example of one room inside the range of another (tests/reference/tone/README.md)


def test_runs_alone_give_a_sum_of_18_to_the_worked_example() -> None:
    problem = of_tones(COUNTEREXAMPLE, Room(2, 9), Room(2), Room(2))
    order = next(orders(problem))

    assert runs(problem, order) is not None
    assert first_plan(problem).largest == 5
    assert (
        min(
            plan(problem, ((order[a], order[a + 1]), (order[b], order[b + 1]), (order[c], order[c + 1]))).weighted
            for a, b, c in [(0, 2, 4), (2, 0, 4), (4, 0, 2)]
        )
        == 18
    )


def test_the_best_sum_of_the_worked_example_puts_one_room_inside_the_range_of_another() -> None:
    best = last(of_tones(COUNTEREXAMPLE, Room(2, 9), Room(2), Room(2)))

    assert (best.largest, best.weighted, best.proven) == (5, 10, True)
    assert best.rooms[0] == (1, 2)
    assert set(best.rooms[1:]) == {(0, 3), (4, 5)}


# Lots at the edge


def test_one_sheet_for_one_room_is_a_plan() -> None:
    best = last(of_tones([7], Room(1)))

    assert (best.rooms, best.value, best.proven) == (((0,),), (0, 0, 0), True)


def test_sheets_that_are_all_equal_have_a_range_of_nothing_at_once() -> None:
    best = last(of_tones([5] * 40, Room(20), Room(15)))

    assert (best.value, best.proven) == ((0, 0, 0), True)


def test_a_room_without_need_gets_nothing() -> None:
    best = last(of_tones([1, 2, 9], Room(2), Room(0)))

    assert best.rooms == ((0, 1), ())


def test_rooms_without_any_need_have_an_empty_plan() -> None:
    assert last(of_tones([1, 2], Room(0))).rooms == ((),)


def test_more_need_than_sheets_is_refused_with_the_numbers() -> None:
    with pytest.raises(MoreNeedThanSheets, match="the rooms need 5 sheets and 3 can be used; 2 more sheets") as refused:
        of_tones([1, 2, 3, 4], Room(3), Room(2), rejected=frozenset({3}))

    assert (refused.value.need, refused.value.usable) == (5, 3)


def test_a_fixed_sheet_that_is_rejected_is_refused() -> None:
    with pytest.raises(CannotStandSo, match="sheet 1 cannot stay in room 0: it is rejected"):
        of_tones([1, 2, 3], Room(1), fixed=((1, 0, 1),), rejected=frozenset({1}))


def test_a_doorway_that_cannot_be_kept_is_told_to_be_impossible() -> None:
    problem = of_tones([0, 0, 50, 50], Room(2, limit=5), Room(2, limit=5), doorways=(Doorway(0, 1, 20),))

    with pytest.raises(NoPlanFound, match="a wider limit or fewer fixed sheets would do") as nothing:
        list(allocate(problem, 20))

    assert nothing.value.impossible


def test_a_search_that_is_stopped_keeps_its_first_plan() -> None:
    problem, _ = told(ALLOCATION, "A12")

    plans = list(allocate(problem, 20, stop=lambda: True))

    assert faults(problem, plans[-1].rooms) == []
