"""Of plans that cost the same, the one that leaves more worth keeping."""

from random import Random

import pytest

from jobs.calculations.cutting.larger_offcut import with_larger_offcut
from jobs.calculations.cutting.offcuts import usable_offcuts
from jobs.calculations.cutting.problem import CuttingProblem, Part, Saw, StockSheet
from jobs.calculations.cutting.solve import first_answer
from tests.jobs.calculations.cutting.checking import faults


@pytest.mark.parametrize("seed", range(4))
def test_a_larger_offcut_costs_nothing_and_the_plan_can_still_be_sawn(seed: int) -> None:
    random = Random(seed)
    parts = tuple(Part(random.randint(15, 50), random.randint(8, 30), 2, bool(n % 2)) for n in range(10))
    problem = CuttingProblem((StockSheet(96, 48),), parts, Saw(kerf=1, trim=1))
    plan = first_answer(problem).plan

    better = with_larger_offcut(problem, plan, 0.6)

    assert faults(problem, better) == []
    assert better.cost == plan.cost
    assert usable_offcuts(better, 1, 1)[0].area >= usable_offcuts(plan, 1, 1)[0].area


def test_tone_sets_stay_apart_and_stages_within_the_limit() -> None:
    parts = tuple(Part(20 + n, 10 + n, 2, True, frozenset({n % 2})) for n in range(8))
    saw = Saw(kerf=1, most_stages=3)
    problem = CuttingProblem((StockSheet(96, 48), StockSheet(96, 48)), parts, saw)

    better = with_larger_offcut(problem, first_answer(problem).plan, 0.5)

    assert faults(problem, better) == []
