"""Answers to a cutting problem, the first at once and then every better one, each with what no plan can beat."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.util import find_spec
from math import gcd

from jobs.calculations.cutting.bounds import least_cost
from jobs.calculations.cutting.cover import Cover
from jobs.calculations.cutting.instance import Instance, instance_of
from jobs.calculations.cutting.pattern_bound import PatternBound
from jobs.calculations.cutting.plan import CuttingPlan, plan_of
from jobs.calculations.cutting.problem import CuttingProblem, TooFewSheets, check
from jobs.calculations.cutting.search import Search
from workshop.calculations.deadline import Deadline

FIRST_SECONDS = 0.4
FIRST_BOUND, SHARE_OF_BOUND, SHARE_OF_ONE_SIZE, MOST_FIRST_PATTERNS = 0.8, 0.3, 0.5, 1_500
FIRST_COVER, COVER_SECONDS, LEAST_COVER, PATTERNS_BETWEEN_COVERS = 1.2, 1.5, 0.4, 150


@dataclass(frozen=True)
class Answer:
    """A plan, and how good it is known to be.

    Attributes:
        plan: sheets with their cuts; it holds every part [-]
        lower_bound: no plan can cost less [minor]
        is_proven: whether this plan costs that little [-]
        is_searched: whether the optimizer took part; false where it is not installed [-]
    """

    plan: CuttingPlan
    lower_bound: int
    is_proven: bool
    is_searched: bool


def first_answer(problem: CuttingProblem, seed: int = 1) -> Answer:
    """Return a good plan in well under half a second, without the optimizer.

    Args:
        problem: sheets, parts and saw [-]
        seed: of the random choices [-]

    Returns:
        A plan that holds every part.

    Raises:
        CuttingProblemError: as `check` does, and TooFewSheets where the sheets there are did not hold the parts

    Example: four halves of a sheet.

        >>> from jobs.calculations.cutting.problem import Part, StockSheet
        >>> answer = first_answer(CuttingProblem((StockSheet(96, 48),), (Part(96, 24, 4),)))
        >>> len(answer.plan.sheets), answer.lower_bound, answer.is_proven
        (2, 2, True)

    Source: house rule.
    """
    return next(iter(answers(problem, seconds=FIRST_SECONDS, seed=seed)))


def answers(
    problem: CuttingProblem, seconds: float, seed: int = 1, stop: Callable[[], bool] | None = None
) -> Iterator[Answer]:
    """Return answers as they are found: the first at once, every later one better or with a better bound.

    Args:
        problem: sheets, parts and saw [-]
        seconds: time box in seconds; the search ends earlier where a plan is proven best [-]
        seed: of the random choices [-]
        stop: asked now and then; true ends the search [-]

    Returns:
        An iterator; its last answer is the best.

    Raises:
        CuttingProblemError: as `check` does, and TooFewSheets where the sheets there are did not hold the parts

    Example: `for answer in answers(problem, seconds=10): show(answer)`

    Source: see `search`, `cover` and `bounds`.
    """
    check(problem)
    if not problem.parts:
        yield Answer(CuttingPlan((), 0), 0, True, False)
        return
    run = _Run(problem, Deadline(seconds), seed, stop or (lambda: False))
    try:
        yield from run.answers()
    finally:
        run.end()


class _Run:
    def __init__(self, problem: CuttingProblem, deadline: Deadline, seed: int, stop: Callable[[], bool]) -> None:
        self.problem, self.deadline, self.stop = problem, deadline, stop
        self.instance = instance_of(problem)
        self.sizes = [
            (sheet.length - 2 * problem.saw.trim, sheet.width - 2 * problem.saw.trim) for sheet in problem.stock
        ]
        self.bound = rounded_up(self.instance, least_cost(self.instance))
        self.search = Search(self.instance, seed)
        self.has_optimizer = find_spec("ortools") is not None
        self.is_searched = False
        self.cover: Cover | None = None
        self.prices: PatternBound | None = None
        self.patterns_then = 0
        self.has_ended = False

    def answers(self) -> Iterator[Answer]:
        self.search.build()
        first = min(FIRST_SECONDS, self.deadline.left + self.deadline.used)
        while self.search.run(lambda: self.stop() or self.deadline.used >= first, self.bound):
            pass
        if self.search.best is not None:
            yield self._answer()
        elif self._is_too_little():
            self._tell_shortage()
        while not (self._is_over() or self._is_proven()):
            if self._step():
                yield self._answer()
        if self.search.best is None:
            self._tell_shortage()

    def _is_too_little(self) -> bool:
        """Whether all the sheets there are have less area than the parts."""
        sheets, kinds = self.instance.sheets, self.instance.kinds
        there = sum(sheet.area * sheet.quantity for sheet in sheets)
        return all(sheet.limited for sheet in sheets) and there < sum(kind.area * len(kind.items) for kind in kinds)

    def _tell_shortage(self) -> None:
        left: dict[int, int] = {}
        for kind in self.search.bag:
            item = self.instance.kinds[kind].items[0]
            left[item] = left.get(item, 0) + 1
        raise TooFewSheets(left)

    def end(self) -> None:
        """Leave nothing running behind."""
        self.has_ended = True
        if self.cover is not None:
            self.cover.end()
        if self.prices is not None:
            self.prices.thread.join()

    def _step(self) -> bool:
        """Go on until there is something to tell, or something else to do."""
        if self.cover is not None and self.cover.is_over:
            sheets, self.cover = self.cover.sheets, None
            if sheets is not None and self._cost(sheets) < self.search.best_cost and self.search.adopt(sheets):
                return True
        if self._raise_bound():
            return True
        self._begin_cover()
        until = self.deadline.used + 0.2
        return self.search.run(
            lambda: self._is_over() or (self.cover is not None and self.cover.is_over) or self.deadline.used > until,
            self.bound,
        )

    def _raise_bound(self) -> bool:
        """Look for a better bound in the background; true where there is one."""
        if self.prices is None:
            share = SHARE_OF_BOUND if len(self.instance.sheets) > 1 else SHARE_OF_ONE_SIZE
            seconds = share * (self.deadline.left + self.deadline.used)
            if self.has_optimizer and self.search.best is not None and self.deadline.used > FIRST_BOUND:
                self.is_searched = True
                box, known = Deadline(seconds), self.search
                self.prices = PatternBound(
                    self.instance,
                    list(known.patterns)[-MOST_FIRST_PATTERNS:],
                    lambda bound: rounded_up(self.instance, bound) >= known.best_cost,
                    lambda: box.passed or self._is_over(),
                )
            return False
        bound = rounded_up(self.instance, self.prices.bound)
        if bound <= self.bound:
            return False
        self.bound = bound
        return True

    def _begin_cover(self) -> None:
        """Start choosing among the sheets found so far, where there are enough new ones and time is left."""
        seconds = min(COVER_SECONDS, self.deadline.left - 0.3)
        fresh = len(self.search.patterns) - self.patterns_then
        if (
            self.has_optimizer
            and self.cover is None
            and self.prices is not None
            and self.prices.is_over
            and self.search.best is not None
            and self.deadline.used > FIRST_COVER
            and seconds > LEAST_COVER
            and fresh >= PATTERNS_BETWEEN_COVERS
        ):
            self.patterns_then = len(self.search.patterns)
            self.is_searched = True
            self.cover = Cover(self.instance, self.search.patterns, self.search.best, seconds)

    def _cost(self, sheets: list[tuple[int, tuple]]) -> int:
        return sum(self.instance.sheets[stock].cost for stock, _ in sheets)

    def _is_over(self) -> bool:
        return self.has_ended or self.deadline.passed or self.stop()

    def _is_proven(self) -> bool:
        return self.search.best_cost is not None and self.search.best_cost <= self.bound

    def _answer(self) -> Answer:
        plan = plan_of(self.instance, self.search.best, self.sizes)
        return Answer(plan, self.bound, self._is_proven(), self.is_searched)


def rounded_up(instance: Instance, cost: int) -> int:
    """Return the least cost that sheets can add up to and that is not below a bound.

    Args:
        instance: the problem as the search sees it [-]
        cost: a bound [minor]

    Returns:
        The bound, up to the next multiple of what all costs have in common.

    Example: with sheets at 20 and 30, a bound of 41 means 50.

    Source: house rule.
    """
    step = gcd(*(sheet.cost for sheet in instance.sheets))
    return -(-cost // step) * step
