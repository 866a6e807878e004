"""Plans for whole problems: published ones, and small ones against trying everything."""

import sys
import threading
from pathlib import Path
from random import Random

import pytest

from jobs.calculations.cutting import solve
from jobs.calculations.cutting.instance import instance_of
from jobs.calculations.cutting.pattern_bound import PatternBound
from jobs.calculations.cutting.problem import CuttingProblem, Part, Saw, StockSheet, TooFewSheets
from jobs.calculations.cutting.solve import Answer, answers, first_answer
from tests.benchmarks.sheets import problem_of, read
from tests.jobs.calculations.cutting.brute import cheapest
from tests.jobs.calculations.cutting.checking import faults, stages

PUBLISHED = read(Path(__file__).parents[3] / "reference" / "cutting" / "sheets.json")
"""Sources: tests/reference/cutting/sheets_SOURCES.md."""


def last(problem: CuttingProblem, seconds: float) -> Answer:
    *_, answer = answers(problem, seconds)
    return answer


def small(seed: int) -> CuttingProblem:
    """A problem small enough for trying everything: up to five parts, one or two kinds of sheets."""
    random = Random(seed)
    stock = [StockSheet(random.randint(5, 8), random.randint(4, 7), 10)]
    if random.random() < 0.5:
        stock.append(
            StockSheet(
                random.randint(3, 5), random.randint(3, 5), random.choice((3, 4, 6)), random.choice((None, 1, 2))
            )
        )
    parts = tuple(
        Part(random.randint(1, stock[0].length), random.randint(1, stock[0].width), 1, random.random() < 0.4)
        for _ in range(random.randint(3, 5))
    )
    return CuttingProblem(tuple(stock), parts)


@pytest.mark.parametrize("published", PUBLISHED, ids=lambda published: published["id"])
def test_a_plan_for_a_published_problem_can_be_sawn_and_no_bound_is_above_the_best_known(published: dict) -> None:
    problem, _ = problem_of(published)

    answer = last(problem, 1.0)

    assert faults(problem, answer.plan) == []
    assert (
        answer.lower_bound <= published["best_known"] <= answer.plan.cost or answer.plan.cost < published["best_known"]
    )
    assert answer.plan.cost >= published["lower_bound"]
    assert answer.is_proven == (answer.plan.cost == answer.lower_bound)


@pytest.mark.parametrize("published", PUBLISHED, ids=lambda published: published["id"])
def test_a_first_answer_is_a_whole_plan_that_can_be_sawn(published: dict) -> None:
    problem, _ = problem_of(published)

    answer = first_answer(problem)

    assert faults(problem, answer.plan) == []
    assert answer.lower_bound <= published["best_known"]


@pytest.mark.parametrize("seed", range(120))
def test_bounds_and_proofs_hold_against_trying_everything(seed: int) -> None:
    problem = small(seed)
    cheapest_cost = cheapest(problem)
    instance = instance_of(problem)

    prices = PatternBound(instance, [], lambda bound: False, lambda: False)
    answer = last(problem, 0.02)
    prices.thread.join()

    assert faults(problem, answer.plan) == []
    assert max(answer.lower_bound, prices.bound) <= cheapest_cost <= answer.plan.cost
    assert not answer.is_proven or answer.plan.cost == cheapest_cost


def test_large_sheets_are_bounded_on_a_coarse_grid_that_stays_below_every_plan() -> None:
    random = Random(5)
    for _ in range(2):
        parts = tuple(Part(random.randint(3000, 9000), random.randint(2500, 5000), 2, True) for _ in range(8))
        problem = CuttingProblem((StockSheet(24_391, 12_209),), parts)

        answer = last(problem, 0.2)
        prices = PatternBound(instance_of(problem), [], lambda bound: False, lambda: False)
        prices.thread.join()

        assert prices.bound <= answer.plan.cost


def test_answers_get_better_and_bounds_never_fall() -> None:
    problem, _ = problem_of(next(row for row in PUBLISHED if row["id"] == "MB_Class_1_21_O"))

    found = list(answers(problem, 2.5))

    costs, bounds = [answer.plan.cost for answer in found], [answer.lower_bound for answer in found]
    assert costs == sorted(costs, reverse=True)
    assert bounds == sorted(bounds)


def test_a_search_ends_where_it_is_told_to_stop() -> None:
    problem, _ = problem_of(next(row for row in PUBLISHED if row["id"] == "MB_Class_1_21_O"))

    found = list(answers(problem, 600, stop=lambda: True))

    assert len(found) == 1


def test_without_the_optimizer_a_first_answer_still_comes_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    problem, _ = problem_of(next(row for row in PUBLISHED if row["id"] == "MB_Class_1_21_O"))
    monkeypatch.setitem(sys.modules, "ortools", None)
    monkeypatch.setattr(solve, "find_spec", lambda name: None)

    answer = last(problem, 1.2)

    assert faults(problem, answer.plan) == []
    assert not answer.is_searched


def test_kerf_clean_up_and_grain_are_kept_in_nanometers() -> None:
    saw = Saw(kerf=3_175_000, trim=6_350_000)
    parts = (Part(604_837_500, 1_200_000_000, 7, name="A"), Part(300_000_000, 200_000_000, 11, True))
    problem = CuttingProblem((StockSheet(2_438_400_000, 1_219_200_000),), parts, saw)

    answer = first_answer(problem)

    assert faults(problem, answer.plan) == []


def test_parts_that_fill_the_cleaned_sheet_exactly_need_no_last_cut() -> None:
    problem = CuttingProblem((StockSheet(104, 54),), (Part(49, 24, 4),), Saw(kerf=2, trim=2))

    answer = first_answer(problem)

    assert (len(answer.plan.sheets), answer.is_proven) == (1, True)
    assert answer.plan.sheets[0].rests == ()


def test_parts_of_a_room_come_only_from_its_own_sheets() -> None:
    stock = (StockSheet(96, 48, name="light"), StockSheet(96, 48, name="dark"))
    parts = tuple(Part(30 + n, 20 + n, 3, True, frozenset({n % 2}), room=f"room {n % 2}") for n in range(6))
    problem = CuttingProblem(stock, parts, Saw(kerf=1))

    answer = last(problem, 0.5)

    assert faults(problem, answer.plan) == []


def test_too_few_sheets_are_told_with_the_parts_that_have_no_place() -> None:
    problem = CuttingProblem((StockSheet(96, 48, quantity=1),), (Part(96, 24, 3),))

    with pytest.raises(TooFewSheets, match="1 parts have no place on the sheets there are") as told:
        first_answer(problem)

    assert told.value.parts == {0: 1}


@pytest.mark.parametrize(("most", "seed"), [(most, seed) for most in (2, 3) for seed in range(4)])
def test_no_more_stages_are_cut_than_the_shop_allows(most: int, seed: int) -> None:
    random = Random(seed)
    parts = tuple(Part(random.randint(10, 50), random.randint(8, 30), 2, True) for _ in range(10))
    problem = CuttingProblem((StockSheet(96, 48),), parts, Saw(kerf=1, most_stages=most))

    answer = last(problem, 0.4)

    grown = [
        [(part.x, part.y, part.x + part.length + 1, part.y + part.width + 1) for part in sheet.parts]
        for sheet in answer.plan.sheets
    ]
    assert faults(problem, answer.plan) == []
    assert max(_depth(sheet.usable) for sheet in answer.plan.sheets) <= most
    assert max(map(stages, grown)) <= most


@pytest.mark.parametrize("seed", range(4))
def test_sheets_are_ripped_first_and_every_fence_setting_is_within_reach(seed: int) -> None:
    random = Random(seed)
    parts = tuple(Part(random.randint(10, 90), random.randint(8, 30), 2) for _ in range(10))
    problem = CuttingProblem((StockSheet(96, 48),), parts, Saw(kerf=1, fence_reach=40, rips_first=True))

    answer = last(problem, 0.4)

    assert faults(problem, answer.plan) == []
    for sheet in answer.plan.sheets:
        assert (
            sheet.usable.cut == "along" or len(sheet.parts) == 1 or sheet.usable.pieces[0].width == sheet.usable.width
        )
        for piece in sheet.usable.below():
            kids = [kid for kid in piece.pieces if not kid.is_rest]
            sides = sorted(kid.width if piece.cut == "along" else kid.length for kid in kids)
            assert all(side <= 40 for side in sides[:-1])


def test_large_costs_and_few_cheap_sheets_keep_the_bound_below_the_plan() -> None:
    random = Random(2)
    stock = (StockSheet(96, 48, 18_450_000), StockSheet(60, 48, 4_000_000, 2), StockSheet(48, 24, 1, 3))
    for _ in range(3):
        parts = tuple(Part(random.randint(5, 48), random.randint(5, 24), 2, True) for _ in range(12))
        problem = CuttingProblem(stock, parts, Saw(kerf=1))

        answer = last(problem, 0.3)
        prices = PatternBound(instance_of(problem), [], lambda bound: False, lambda: False)
        prices.thread.join()

        assert faults(problem, answer.plan) == []
        assert max(answer.lower_bound, prices.bound) <= answer.plan.cost


def test_a_search_that_is_left_leaves_nothing_running() -> None:
    problem, _ = problem_of(next(row for row in PUBLISHED if row["id"] == "MB_Class_1_21_O"))
    before = threading.active_count()
    search = answers(problem, 600)

    for answer in search:
        if answer.is_searched:
            break
    search.close()

    assert threading.active_count() == before


def test_no_parts_need_no_sheets() -> None:
    assert next(answers(CuttingProblem((StockSheet(96, 48),), ()), 1)).plan.sheets == ()


def _depth(piece) -> int:
    return max((1 + _depth(kid) for kid in piece.pieces), default=0)
