"""Prices for pieces by column generation, and from them a cost that no plan can be better than.

Give every piece a price of 0 or more. If no board, however filled, holds pieces worth more than it costs, then every
plan costs at least what all pieces are worth together. Boards there are few of may hold pieces worth more, if what
is over is taken off for each of them. The dearest filling is found exactly, in whole numbers; good prices come from
the linear programme over the fillings found so far, whose own floats are never trusted.

Source: Gilmore and Gomory 1961; Farley 1990 (bound on the way); Briant et al. 2008.
"""

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass
from fractions import Fraction

from jobs.calculations.milling.boards.instance import Instance, Pattern
from jobs.calculations.milling.boards.knapsack import Worths, worths

PRICE_STEPS = 10**8
"""Price steps of the dearest board: prices are whole numbers of these."""

BETTER = 1e-7
MOST_MORE, QUICK = 5, 30_000
"""Further fillings looked for with the same prices, on boards of no more units than this."""

COARSE = 3_000
"""Units of a board on the coarse grid on which fillings are looked for first where boards have far more units."""


@dataclass(frozen=True)
class Bound:
    """Prices that hold: with them no board without a limit holds more than it costs.

    Attributes:
        cost: no plan costs less [-]
        prices: of the kinds of pieces, in steps [-]
        over: for each length of boards, what the dearest filling is worth above its cost, in steps [-]
        scale: steps in one unit of cost [-]
    """

    cost: Fraction
    prices: tuple[int, ...]
    over: tuple[int, ...]
    scale: int


def bound_of(instance: Instance, prices: Sequence[int], scale: int, most: Callable[[int], int]) -> Bound:
    """Return what every plan costs at least, given prices; the prices are lowered until they hold.

    Args:
        instance: the problem as the search sees it [-]
        prices: of the kinds of pieces, whole and not below 0, in steps [-]
        scale: steps in one unit of cost [-]
        most: what the dearest filling of a length is worth with these prices, in steps, never less [-]

    Returns:
        The bound, exact, with prices that hold.

    Example: two pieces of 5 to a board of 10 that costs 1: at a price of 1 each, ten pieces cost at least 5 boards.

        >>> from jobs.calculations.milling.boards.instance import Board
        >>> pieces = Instance((Board(10, 1, None),), (5,), (10,), ((0,) * 10,))
        >>> bound_of(pieces, [100], 100, lambda length: 200).cost
        Fraction(5, 1)

    Source: see the module.
    """
    lower = Fraction(1)
    values = [most(board.length) for board in instance.boards]
    for board, value in zip(instance.boards, values, strict=True):
        if board.limit is None and value > board.cost * scale:
            lower = min(lower, Fraction(board.cost * scale, value))
    held = tuple(int(price * lower) for price in prices)
    over = tuple(
        0 if board.limit is None else max(0, -(-value * lower.numerator // lower.denominator) - board.cost * scale)
        for board, value in zip(instance.boards, values, strict=True)
    )
    worth = sum(price * count for price, count in zip(held, instance.counts, strict=True))
    taken_off = sum(
        board.limit * much for board, much in zip(instance.boards, over, strict=True) if board.limit is not None
    )
    return Bound(Fraction(worth - taken_off, scale), held, over, scale)


class Master:
    """The linear programme over the fillings known so far; `counts` and `limits` are what is still to be cut."""

    def __init__(self, instance: Instance, patterns: Sequence[Pattern]) -> None:
        from ortools.linear_solver import pywraplp

        self.instance = instance
        self.counts = list(instance.counts)
        self.limits = [board.limit for board in instance.boards]
        self.scale = max(1, PRICE_STEPS // max(board.cost for board in instance.boards))
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        endless = self.solver.infinity()
        self.rows = [self.solver.Constraint(count, endless) for count in instance.counts]
        self.caps = [
            None if board.limit is None else self.solver.Constraint(-endless, board.limit) for board in instance.boards
        ]
        self.objective = self.solver.Objective()
        self.objective.SetMinimization()
        self.columns: dict[Pattern, object] = {}
        for pattern in patterns:
            self.add(pattern)

    def add(self, pattern: Pattern) -> bool:
        """Take a filling in; false where it is known."""
        if pattern in self.columns:
            return False
        stock, kinds = pattern
        column = self.solver.NumVar(0, self.solver.infinity(), "")
        self.objective.SetCoefficient(column, self.instance.boards[stock].cost)
        for kind, count in kinds:
            self.rows[kind].SetCoefficient(column, count)
        if self.caps[stock] is not None:
            self.caps[stock].SetCoefficient(column, 1)
        self.columns[pattern] = column
        return True

    def ask_for(self, counts: list[int], limits: list[int | None], banned: Set[Pattern] = frozenset()) -> None:
        """From now on only these pieces are to be cut, out of boards so limited, by fillings that are not banned."""
        self.counts, self.limits = counts, limits
        for row, count in zip(self.rows, counts, strict=True):
            row.SetLb(count)
        for cap, limit in zip(self.caps, limits, strict=True):
            if cap is not None:
                cap.SetUb(limit)
        for pattern, column in self.columns.items():
            fits = pattern not in banned and all(count <= counts[kind] for kind, count in pattern[1])
            column.SetUb(self.solver.infinity() if fits else 0)

    def solve(self) -> float | None:
        """The least cost with the fillings known, none where they do not do."""
        if self.solver.Solve() != self.solver.OPTIMAL:
            return None
        return self.objective.Value()

    def prices(self) -> list[int]:
        """Prices of the pieces in whole steps, rounded down."""
        return [max(0, int(row.dual_value() * self.scale)) for row in self.rows]

    def improve(self, prices: list[int], found: Worths, grid: int = 1) -> int:
        """Take in fillings worth more than they cost; how many are new."""
        new, first = 0, None
        costs = [
            (board.cost - (cap.dual_value() if cap is not None else 0)) * self.scale
            for board, cap in zip(self.instance.boards, self.caps, strict=True)
        ]
        for stock, (board, price, limit) in enumerate(zip(self.instance.boards, costs, self.limits, strict=True)):
            length = board.length // grid
            if limit != 0 and found.most(length) > price * (1 + BETTER) + 1:
                kinds = found.kinds(length)
                new += self.add((stock, kinds))
                gain = found.most(length) - price
                if first is None or gain > first[0]:
                    first = gain, stock, price, kinds
        is_quick = self.instance.longest // grid <= QUICK
        return new + (self._more(prices, first, grid) if new and is_quick else 0)

    def _more(self, prices: list[int], first: tuple, grid: int) -> int:
        """Further fillings of the same board out of the pieces that the first ones leave."""
        _, stock, price, kinds = first
        left, new = list(self.counts), 0
        lengths = [-(-length // grid) for length in self.instance.lengths]
        for _ in range(MOST_MORE):
            for kind, count in kinds:
                left[kind] -= min(left[kind], count)
            length = self.instance.boards[stock].length // grid
            found = worths(lengths, prices, left, length)
            if found.most(length) <= price * (1 + BETTER) + 1:
                break
            kinds = found.kinds(length)
            new += self.add((stock, kinds))
        return new


class Pricing:
    """Column generation, from a coarse grid of lengths down to the exact one.

    Attributes:
        bound: the best so far, none before the exact grid is reached
        value: of the linear programme with the fillings known, none where they do not do
        grid: units put together on the grid that comes next
    """

    def __init__(self, instance: Instance, patterns: Sequence[Pattern]) -> None:
        self.instance = instance
        self.master = Master(instance, patterns)
        self.bound: Bound | None = None
        self.value: float | None = None
        self.grid = max(1, instance.longest // COARSE)

    def run(self, is_over: Callable[[], bool], is_enough: Callable[[Fraction, float], bool]) -> None:
        """Go on until no filling on this grid is worth more than it costs, it is over, or what is known is enough."""
        instance, master, grid = self.instance, self.master, self.grid
        sizes = [-(-length // grid) for length in instance.lengths] if grid > 1 else instance.lengths
        while not is_over():
            self.value = master.solve()
            if self.value is None:
                return
            prices = master.prices()
            found = worths(sizes, prices, master.counts, instance.longest // grid)
            if grid == 1:
                bound = bound_of(instance, prices, master.scale, found.most)
                if self.bound is None or bound.cost > self.bound.cost:
                    self.bound = bound
                if is_enough(self.bound.cost, self.value):
                    return
            if not master.improve(prices, found, grid):
                self.grid = finer(grid)
                return


def finer(grid: int) -> int:
    """Return the grid that comes after one on which nothing more is found.

    Args:
        grid: units put together [-]

    Returns:
        A quarter of them, in the end 1.

    Example: 33, 8, 2, 1.

    Source: house rule.
    """
    return max(1, grid // 4)
