"""Answers to a board problem, the first at once and then every better one, each with what no plan can beat."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from importlib.util import find_spec
from math import ceil

from jobs.calculations.milling.boards.bounds import first_bound, possible_cost
from jobs.calculations.milling.boards.fill import Filler
from jobs.calculations.milling.boards.instance import Filled, Instance, instance_of
from jobs.calculations.milling.boards.plan import BoardPlan, gathered, plan_of
from jobs.calculations.milling.boards.problem import BoardProblem, TooFewBoards, check
from jobs.calculations.milling.boards.search import Search
from workshop.calculations.deadline import Deadline

FIRST_SECONDS = 0.25
NO_OPTIMIZER = "The optimizer is not installed: this plan is the first answer, improved by trial."


@dataclass(frozen=True)
class BoardAnswer:
    """A plan with what is known about it.

    Attributes:
        plan: holds every piece [-]
        lower_bound: no plan can cost less [minor]
        is_proven: whether this plan costs that little [-]
        is_searched: whether the optimizer took part; false in the first answer and where it is not installed [-]
        note: what the reader should know, empty as a rule [-]
    """

    plan: BoardPlan
    lower_bound: int
    is_proven: bool
    is_searched: bool
    note: str = ""


def first_answer(problem: BoardProblem, seed: int = 1) -> BoardAnswer:
    """Return a good plan in well under half a second, without the optimizer.

    Args:
        problem: boards and pieces [-]
        seed: of the random choices [-]

    Returns:
        A plan that holds every piece.

    Raises:
        BoardProblemError: as `check` does, and TooFewBoards where the boards there are did not hold the pieces

    Example: four pieces of 48 in, two to a board of 8 ft.

        >>> from jobs.calculations.milling.boards.problem import BoardPiece, StockBoard
        >>> answer = first_answer(BoardProblem((StockBoard(96),), (BoardPiece(48, 4),)))
        >>> len(answer.plan.boards), answer.lower_bound, answer.is_proven
        (2, 2, True)

    Source: see `fill`.
    """
    return next(iter(answers(problem, seconds=FIRST_SECONDS, seed=seed)))


def answers(
    problem: BoardProblem, seconds: float, seed: int = 1, stop: Callable[[], bool] | None = None
) -> Iterator[BoardAnswer]:
    """Return answers as they are found: the first at once, every later one better or with a better bound.

    Args:
        problem: boards and pieces [-]
        seconds: time box in seconds; the search ends earlier where a plan is proven best [-]
        seed: of the random choices [-]
        stop: asked now and then; true ends the search [-]

    Returns:
        An iterator; its last answer is the best.

    Raises:
        BoardProblemError: as `check` does, and TooFewBoards where the boards there are did not hold the pieces

    Example: `for answer in answers(problem, seconds=10): show(answer)`

    Source: see `fill`, `prices`, `dive` and `choose`.
    """
    check(problem)
    if not problem.pieces:
        yield BoardAnswer(BoardPlan((), 0), 0, True, False)
        return
    yield from _Run(problem, Deadline(seconds), seconds, seed, stop or (lambda: False)).answers()


class _Run:
    def __init__(
        self, problem: BoardProblem, deadline: Deadline, seconds: float, seed: int, stop: Callable[[], bool]
    ) -> None:
        self.problem, self.deadline, self.seconds, self.seed, self.stop = problem, deadline, seconds, seed, stop
        self.instance: Instance = instance_of(problem)
        self.bound = first_bound(self.instance.relaxed or self.instance)
        self.filler = Filler(self.instance, seed)
        self.is_searched = False
        self.has_optimizer = find_spec("ortools") is not None

    def answers(self) -> Iterator[BoardAnswer]:
        if not self._is_enough():
            self.filler.fill(0.0)
            raise TooFewBoards(self._left())
        first = min(FIRST_SECONDS, self.seconds)
        self.filler.run(lambda: self.stop() or self.deadline.used >= first, self.bound)
        if self.filler.best is None and not self.has_optimizer:
            self.filler.run(self._is_over, self.bound)
        told = None
        if self.filler.best is not None:
            yield self._answer()
            told = self.filler.best_cost, self.bound
        if not self.has_optimizer:
            yield from self._by_trial()
        elif not (self._is_proven() or self._is_over()):
            search = Search(self.instance, self.filler, self.bound, self.seed, self.deadline, self.stop)
            for bound, filled in search.run():
                self.is_searched = True
                if filled is not None:
                    self.filler.adopt(filled)
                self.bound = max(self.bound, possible_cost(self.instance.relaxed or self.instance, bound))
                if self.filler.best is not None and told != (self.filler.best_cost, self.bound):
                    yield self._answer()
                    told = self.filler.best_cost, self.bound
                if self._is_proven():
                    break
        if self.filler.best is None:
            raise TooFewBoards(self._left())

    def _by_trial(self) -> Iterator[BoardAnswer]:
        while not (self._is_over() or self._is_proven()):
            before, until = self.filler.best_cost, self.deadline.used + 0.5
            self.filler.run(lambda until=until: self._is_over() or self.deadline.used > until, self.bound)
            if self.filler.best_cost != before:
                yield self._answer()

    def _is_enough(self) -> bool:
        """Whether the boards there are can be as long together as the pieces."""
        whole = self.instance.relaxed or self.instance
        if any(board.limit is None and board.length >= whole.lengths[0] for board in whole.boards):
            return True
        needed = sum(length * count for length, count in zip(whole.lengths, whole.counts, strict=True))
        there = sum(
            max(0, board.length) * (whole.pieces if board.limit is None else min(board.limit, whole.pieces))
            for board in whole.boards
        )
        return there >= needed

    def _is_over(self) -> bool:
        return self.deadline.passed or self.stop()

    def _is_proven(self) -> bool:
        return self.filler.best_cost is not None and self.filler.best_cost <= self.bound

    def _left(self) -> dict[int, int]:
        left: dict[int, int] = {}
        for kind, count in enumerate(self.filler.left):
            for item in self.instance.items[kind][:count]:
                left[item] = left.get(item, 0) + 1
        return left

    def _answer(self) -> BoardAnswer:
        filled: Filled = self.filler.best
        usable = self.problem.least_usable or 0
        span = max(board.length for board in self.problem.stock) - 2 * self.problem.end_cut_off + self.problem.kerf
        least = ceil(Fraction(usable + self.problem.kerf, span) * self.instance.longest)
        plan = plan_of(self.problem, self.instance, gathered(self.instance, filled, least))
        note = "" if self.has_optimizer else NO_OPTIMIZER
        return BoardAnswer(plan, self.bound, self._is_proven(), self.is_searched, note)
