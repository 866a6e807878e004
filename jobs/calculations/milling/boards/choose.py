"""Choosing whole boards among fillings, by the whole-number solvers of OR-Tools in a thread of its own.

Where the fillings are all that a plan of the cost aimed at can have, a choice that does not exist proves that no
such plan does. They are known in full where few enough fillings come near enough to their board's cost: with prices
that hold, what the fillings of a plan lack of their boards' costs adds up to no more than the plan costs above the
bound. A proof is taken from the constraint solver alone, which reckons in whole numbers.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import timedelta
from threading import Thread

from jobs.calculations.milling.boards.instance import Filled, Instance, Pattern
from jobs.calculations.milling.boards.knapsack import Fillings
from jobs.calculations.milling.boards.prices import Bound


def fillings_within(instance: Instance, bound: Bound, aim: int, most: int) -> list[Pattern] | None:
    """Return every filling that a plan costing no more than is aimed at can have.

    Args:
        instance: the problem as the search sees it, nothing rounded in it [-]
        bound: prices that hold [-]
        aim: cost of the plan, or less [minor]
        most: fillings that are worth going on with [-]

    Returns:
        Fillings to which no piece can be added; none where there are more.

    Example: of boards of 10 with pieces of 5, two to a board, the one filling with two pieces.

        >>> from jobs.calculations.milling.boards.instance import Board
        >>> made = Instance((Board(10, 1, None),), (5,), (4,), ((0,) * 4,))
        >>> fillings_within(made, Bound(2, (50,), (0,), 100), 2, 10)
        [(0, ((0, 2),))]

    Source: variable fixing by reduced cost; see the module.
    """
    worth = sum(price * count for price, count in zip(bound.prices, instance.counts, strict=True))
    taken_off = sum(
        board.limit * much for board, much in zip(instance.boards, bound.over, strict=True) if board.limit is not None
    )
    lacking = aim * bound.scale - worth + taken_off
    if lacking < 0:
        return []
    search = Fillings(instance.lengths, bound.prices, instance.counts, instance.longest)
    found: list[Pattern] = []
    for stock, (board, over) in enumerate(zip(instance.boards, bound.over, strict=True)):
        if board.limit == 0 or board.length < min(instance.lengths):
            continue
        least = board.cost * bound.scale + over - lacking
        kinds = search.worth_at_least(board.length, least, most - len(found))
        if kinds is None:
            return None
        found += [(stock, each) for each in kinds]
    return found


class Choice:
    """A choice among fillings, looked for in the background.

    Attributes:
        filled: the plan found, none while none is [-]
        is_none: whether it is proven that these fillings give no such plan [-]
    """

    def __init__(self, instance: Instance, patterns: Sequence[Pattern], aim: int, seconds: float, seed: int) -> None:
        self.instance, self.patterns, self.aim = instance, list(patterns), aim
        self.seconds, self.seed = max(0.05, seconds), seed
        self.filled: Filled | None = None
        self.is_none = False
        self._stop: Callable[[], None] = lambda: None
        self._thread = Thread(target=self._choose, daemon=True)
        self._thread.start()

    @property
    def is_over(self) -> bool:
        return not self._thread.is_alive()

    def end(self) -> None:
        """Stop looking."""
        self._stop()

    def _most(self, pattern: Pattern) -> int:
        stock, kinds = pattern
        most = max(-(-self.instance.counts[kind] // count) for kind, count in kinds)
        limit = self.instance.boards[stock].limit
        return most if limit is None else min(most, limit)

    def _rows(self, columns: Sequence) -> tuple[list, list, list]:
        """Pieces cut of each kind, boards taken of each limited length with their limit, and the costs, as terms."""
        instance = self.instance
        cut: list[list] = [[] for _ in instance.lengths]
        taken: list[list] = [[] for _ in instance.boards]
        costs = []
        for (stock, kinds), column in zip(self.patterns, columns, strict=True):
            taken[stock].append(column)
            costs.append(instance.boards[stock].cost * column)
            for kind, count in kinds:
                cut[kind].append(count * column)
        limited = [
            (boards, board.limit)
            for boards, board in zip(taken, instance.boards, strict=True)
            if board.limit is not None and boards
        ]
        return cut, limited, costs

    def _choose(self) -> None:
        raise NotImplementedError


class Found(Choice):
    """Looks for a choice with the mixed integer solver HiGHS; it proves nothing."""

    def _choose(self) -> None:
        from ortools.math_opt.python import mathopt

        model = mathopt.Model()
        columns = [model.add_integer_variable(lb=0, ub=self._most(pattern)) for pattern in self.patterns]
        cut, limited, costs = self._rows(columns)
        if not all(cut):
            return
        for pieces, count in zip(cut, self.instance.counts, strict=True):
            model.add_linear_constraint(mathopt.fast_sum(pieces) >= count)
        for boards, limit in limited:
            model.add_linear_constraint(mathopt.fast_sum(boards) <= limit)
        model.add_linear_constraint(mathopt.fast_sum(costs) <= self.aim)
        model.minimize(mathopt.fast_sum(costs))
        parameters = mathopt.SolveParameters(time_limit=timedelta(seconds=self.seconds), random_seed=self.seed)
        result = mathopt.solve(model, mathopt.SolverType.HIGHS, params=parameters)
        if result.has_primal_feasible_solution():
            values = result.variable_values()
            self._keep({pattern: round(values[column]) for pattern, column in zip(self.patterns, columns, strict=True)})

    def _keep(self, taken: dict[Pattern, int]) -> None:
        """Take the plan over where, counted in whole numbers, it holds every piece within limits and cost."""
        filled = list(Counter(taken).elements())
        left = list(self.instance.counts)
        for _, kinds in filled:
            for kind, count in kinds:
                left[kind] -= count
        boards = Counter(stock for stock, _ in filled)
        if (
            max(left) <= 0
            and self.instance.cost(filled) <= self.aim
            and all(
                board.limit is None or boards[stock] <= board.limit for stock, board in enumerate(self.instance.boards)
            )
        ):
            self.filled = filled


class Proof(Choice):
    """Looks for a choice, or for a proof that there is none, with the constraint solver."""

    def _choose(self) -> None:
        from ortools.sat.python import cp_model

        model = cp_model.CpModel()
        columns = [model.new_int_var(0, self._most(pattern), "") for pattern in self.patterns]
        cut, limited, costs = self._rows(columns)
        if not all(cut):
            self.is_none = True
            return
        for pieces, count in zip(cut, self.instance.counts, strict=True):
            model.add(sum(pieces) >= count)
        for boards, limit in limited:
            model.add(sum(boards) <= limit)
        model.add(sum(costs) <= self.aim)
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.max_time_in_seconds, parameters.num_workers, parameters.random_seed = self.seconds, 1, self.seed
        parameters.linearization_level = 2
        self._stop = solver.stop_search
        outcome = solver.solve(model)
        self.is_none = outcome == cp_model.INFEASIBLE
        if outcome in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            taken = {pattern: solver.value(column) for pattern, column in zip(self.patterns, columns, strict=True)}
            self.filled = list(Counter(taken).elements())
