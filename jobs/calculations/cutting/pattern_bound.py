"""A cost that no guillotine plan can be better than, from prices for parts.

Give every part a price of 0 or more. If no sheet, however cut, holds parts worth more than it costs, then every plan
costs at least what all parts are worth together. The dearest sheet is found exactly, in whole numbers, over all
guillotine cuts with every part in any number of copies; good prices come from the linear program over patterns, whose
own floats are never trusted. Sheets there are too few of may be worth more than they cost, if that is taken off for
each of them.

On large sheets the cut positions are scaled down to a coarse grid, sizes rounded down: what fitted still fits.

Source: Gilmore and Gomory 1965; Herz 1972 (cut positions that are sums of sizes).
"""

from bisect import bisect_right
from collections.abc import Callable
from fractions import Fraction
from math import ceil
from threading import Thread

from jobs.calculations.cutting.instance import Instance
from jobs.calculations.cutting.search import Pattern

GRIDS, PRICE_STEPS, LARGEST, TOLERANCE = (140, 300), 10**9, 2**62, 1e-7


class _Axis:
    """Cut positions along one side: every sum of sizes where these are few, else a coarse grid."""

    def __init__(self, sizes: list[int], whole: list[int], grid: int) -> None:
        largest = max(whole)
        points = _sums(sizes, largest)
        self.exact = len(points) <= grid
        if not self.exact:
            sizes = [size * grid // largest for size in sizes]
            whole = [size * grid // largest for size in whole]
            points = _sums(sizes, max(whole)) if min(sizes) else []
        self.points, self.usable = points, bool(points)
        if self.usable:
            self.sizes = [self._at(size) for size in sizes]
            self.whole = [self._at(size) for size in whole]
            # For each position the smaller pieces it can be cut into, and the positions that they leave.
            self.cuts = [
                [
                    (first, self._at(point - self.points[first]))
                    for first in range(1, place)
                    if 2 * points[first] <= point
                ]
                for place, point in enumerate(points)
            ]

    def _at(self, size: int) -> int:
        return bisect_right(self.points, size) - 1


def _sums(sizes: list[int], whole: int) -> list[int]:
    """Every sum of sizes, any number of each, up to the whole."""
    reached, mask = 1, (1 << (whole + 1)) - 1
    for size in set(sizes):
        if 0 < size <= whole:
            shift = size
            while shift <= whole:
                reached |= (reached << shift) & mask
                shift *= 2
    return [point for point in range(whole + 1) if reached >> point & 1]


class DearestSheet:
    """The most that parts cut from one sheet are worth, exactly, for any whole prices."""

    def __init__(self, instance: Instance, grid: int) -> None:
        self.instance = instance
        self.laid = [
            (kind, length, width)
            for kind, details in enumerate(instance.kinds)
            for length, width, _ in details.sizes
            if any(length <= sheet.length and width <= sheet.width for sheet in instance.sheets)
        ]
        self.along = _Axis([laid[1] for laid in self.laid], [sheet.length for sheet in instance.sheets], grid)
        self.across = _Axis([laid[2] for laid in self.laid], [sheet.width for sheet in instance.sheets], grid)
        self.usable = self.along.usable and self.across.usable
        self.exact = self.along.exact and self.across.exact

    def solve(self, prices: list[int], is_over: Callable[[], bool]) -> list[int] | None:
        """The most each kind of sheet can be worth; none where time is over or the prices are too large to count."""
        import numpy as np

        if max(prices) * len(self.along.points) * len(self.across.points) > LARGEST:
            return None
        worth = np.zeros((len(self.along.points), len(self.across.points)), dtype=np.int64)
        for (kind, _, _), at, up in zip(self.laid, self.along.sizes, self.across.sizes, strict=True):
            np.maximum(worth[at:, up:], prices[kind], out=worth[at:, up:])
        gathered = [
            [np.array([second for _, second in cuts]) for cuts in axis.cuts] for axis in (self.along, self.across)
        ]
        calm = side = 0
        while calm < 2:
            table = np.ascontiguousarray(worth if side == 0 else worth.T)
            before = table.copy()
            for place, seconds in enumerate(gathered[side]):
                if len(seconds):
                    # The smaller pieces are the positions from 1 on, one after the other.
                    best = (table[1 : len(seconds) + 1] + table[seconds]).max(axis=0)
                    np.maximum(table[place], best, out=table[place])
            if is_over():
                return None
            calm = calm + 1 if np.array_equal(before, table) else 0
            worth = table if side == 0 else np.ascontiguousarray(table.T)
            side = 1 - side
        self.worth = worth
        return [int(worth[at, up]) for at, up in zip(self.along.whole, self.across.whole, strict=True)]

    def parts(self, stock: int, prices: list[int]) -> dict[int, int]:
        """Parts of one sheet that are worth that much."""
        found: dict[int, int] = {}
        waiting = [(self.along.whole[stock], self.across.whole[stock])]
        while waiting:
            at, up = waiting.pop()
            worth = int(self.worth[at, up])
            if not worth:
                continue
            kind = next(
                (
                    laid[0]
                    for laid, length, width in zip(self.laid, self.along.sizes, self.across.sizes, strict=True)
                    if length <= at and width <= up and prices[laid[0]] == worth
                ),
                None,
            )
            if kind is not None:
                found[kind] = found.get(kind, 0) + 1
                continue
            for first, second in self.along.cuts[at]:
                if self.worth[first, up] + self.worth[second, up] == worth:
                    waiting += [(first, up), (second, up)]
                    break
            else:
                for first, second in self.across.cuts[up]:
                    if self.worth[at, first] + self.worth[at, second] == worth:
                        waiting += [(at, first), (at, second)]
                        break
        return found


def bound_from_prices(instance: Instance, prices: list[int], worth: list[int]) -> Fraction:
    """Return what every plan costs at least, given prices and the most that each kind of sheet can be worth.

    Args:
        instance: the problem as the search sees it [-]
        prices: a price for each kind of part, 0 or more, in any one unit [-]
        worth: for each kind of sheet, at least the dearest set of parts that can be cut from it, same unit [-]

    Returns:
        The bound, exact.

    Example: two parts to a sheet that costs 1: at a price of 1 each a sheet is worth 2, so ten parts cost at least 5.

        >>> from jobs.calculations.cutting.instance import instance_of
        >>> from jobs.calculations.cutting.problem import CuttingProblem, Part, StockSheet
        >>> bound_from_prices(instance_of(CuttingProblem((StockSheet(10, 10),), (Part(10, 5, 10),))), [1], [2])
        Fraction(5, 1)

    Source: weak duality of the linear program over patterns.
    """
    total = sum(len(kind.items) * price for kind, price in zip(instance.kinds, prices, strict=True))
    scales = [
        Fraction(sheet.cost, most)
        for sheet, most in zip(instance.sheets, worth, strict=True)
        if not sheet.limited and most > 0
    ]
    scale = min(scales) if scales else Fraction(max(sheet.cost for sheet in instance.sheets), PRICE_STEPS)
    over = sum(
        sheet.quantity * max(Fraction(0), scale * most - sheet.cost)
        for sheet, most in zip(instance.sheets, worth, strict=True)
        if sheet.limited
    )
    return scale * total - over


class PatternBound:
    """The bound, looked for in the background; `bound` grows."""

    def __init__(
        self, instance: Instance, patterns: list[Pattern], is_enough: Callable[[int], bool], is_over: Callable[[], bool]
    ) -> None:
        self.instance, self.is_enough, self.is_over_time = instance, is_enough, is_over
        self.patterns, self.bound = patterns, 0
        self.thread = Thread(target=self._look, daemon=True)
        self.thread.start()

    @property
    def is_over(self) -> bool:
        return not self.thread.is_alive()

    def _look(self) -> None:
        for grid in GRIDS:
            dearest = DearestSheet(self.instance, grid)
            if dearest.usable:
                self._climb(dearest)
            if self.is_enough(self.bound) or dearest.exact:
                return

    def _climb(self, dearest: DearestSheet) -> None:
        """Find better prices until they are the best there are."""
        programme = _Programme(self.instance, self.patterns)
        while not self.is_over_time():
            prices = programme.prices()
            if prices is None:
                return
            worth = dearest.solve(prices, self.is_over_time)
            if worth is None:
                return
            self.bound = max(self.bound, ceil(bound_from_prices(self.instance, prices, worth)))
            if self.is_enough(self.bound) or self.bound >= programme.value - TOLERANCE:
                return
            new = [
                programme.add(stock, dearest.parts(stock, prices))
                for stock, most in enumerate(worth)
                if most > programme.threshold(stock)
            ]
            if not any(new):
                return


class _Programme:
    """The linear program over patterns in floats: a source of prices and nothing else."""

    def __init__(self, instance: Instance, patterns: list[Pattern]) -> None:
        from ortools.linear_solver import pywraplp

        self.instance = instance
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        infinity = self.solver.infinity()
        self.rows = [self.solver.Constraint(len(kind.items), infinity) for kind in instance.kinds]
        self.limits = [
            self.solver.Constraint(-infinity, sheet.quantity if sheet.limited else infinity)
            for sheet in instance.sheets
        ]
        self.objective = self.solver.Objective()
        self.objective.SetMinimization()
        self.known: set[tuple] = set()
        self.steps = PRICE_STEPS / max(sheet.cost for sheet in instance.sheets)
        self.value = 0.0
        dear = 10 * sum(sheet.cost for sheet in instance.sheets)
        for row in self.rows:
            missing = self.solver.NumVar(0, infinity, "")
            row.SetCoefficient(missing, 1)
            self.objective.SetCoefficient(missing, dear)
        for stock, kinds in patterns:
            self.add(stock, {kind: kinds.count(kind) for kind in set(kinds)})

    def add(self, stock: int, parts: dict[int, int]) -> bool:
        key = (stock, tuple(sorted(parts.items())))
        if key in self.known or not parts:
            return False
        self.known.add(key)
        count = self.solver.NumVar(0, self.solver.infinity(), "")
        for kind, pieces in parts.items():
            self.rows[kind].SetCoefficient(count, pieces)
        self.limits[stock].SetCoefficient(count, 1)
        self.objective.SetCoefficient(count, self.instance.sheets[stock].cost)
        return True

    def prices(self) -> list[int] | None:
        if self.solver.Solve() != self.solver.OPTIMAL:
            return None
        self.value = self.objective.Value()
        self.spared = [
            max(0.0, -limit.dual_value()) if sheet.limited else 0.0
            for limit, sheet in zip(self.limits, self.instance.sheets, strict=True)
        ]
        return [max(0, int(row.dual_value() * self.steps)) for row in self.rows]

    def threshold(self, stock: int) -> float:
        """What a sheet has to be worth for its pattern to help."""
        return (self.instance.sheets[stock].cost + self.spared[stock]) * self.steps * (1 + TOLERANCE)
