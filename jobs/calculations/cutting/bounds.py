"""Costs that no plan can be better than, from areas and dual feasible functions. Whole numbers and fractions only.

A dual feasible function f keeps what fits fitting: sizes that add up to at most 1 have values that add up to at most
1. A part whose sides have the values f and g takes at least f times g of every sheet that holds it. So a plan
costs at least the sum over the parts of the cheapest cost times f times g among the sheets and ways it may lie in.
It holds for any arrangement, guillotine or not, and for any stock of sheets.

Sources: Lueker 1983, Fekete and Schepers 2001, Carlier, Clautiaux and Moukrim 2007 (functions, from memory).
"""

from collections.abc import Callable
from fractions import Fraction
from math import ceil

from jobs.calculations.cutting.instance import Instance

MOST_FUNCTIONS, MOST_VALUES, MOST_WORK = 24, 4_000, 150_000

Function = Callable[[int, int], tuple[int, int]]
"""From a size and the whole length to a value, as numerator and denominator."""


def _itself(size: int, whole: int) -> tuple[int, int]:
    return size, whole


def _large_only(least: int) -> Function:
    """Sizes below the least count nothing, sizes that leave less than it count as the whole (Fekete, Schepers)."""

    def value(size: int, whole: int) -> tuple[int, int]:
        if 2 * least > whole:
            return int(2 * size > whole), 1
        if size > whole - least:
            return whole, whole
        return (size if size >= least else 0), whole

    return value


def _steps(step: int) -> Function:
    """Sizes rounded down to steps, those over half by what they leave (Carlier, Clautiaux, Moukrim)."""

    def value(size: int, whole: int) -> tuple[int, int]:
        most = whole // step
        if not most:
            return size, whole
        if 2 * size > whole:
            return 2 * (most - (whole - size) // step), 2 * most
        if 2 * size == whole:
            return most, 2 * most
        return 2 * (size // step), 2 * most

    return value


def _parts_of(count: int) -> Function:
    """Sizes rounded down to a share of the whole unless they meet it (Fekete, Schepers)."""

    def value(size: int, whole: int) -> tuple[int, int]:
        share, left = divmod((count + 1) * size, whole)
        return (size, whole) if left == 0 else (share, count)

    return value


def _functions(sizes: set[int], whole: int, most: int) -> list[Function]:
    """A choice of functions that suits the sizes: thresholds at the sizes themselves and at what they leave."""
    edges = sorted(
        {edge for size in sizes for edge in (size, whole - size, whole - size + 1) if 1 <= edge <= whole // 2}
    )
    if len(edges) > most:
        edges = [edges[place * len(edges) // most] for place in range(most)]
    over_half = _large_only(whole)
    return [
        _itself,
        over_half,
        *map(_parts_of, range(1, 6)),
        *map(_large_only, edges),
        *map(_steps, edges),
    ]


def least_cost(instance: Instance) -> int:
    """Return a cost that no plan can be better than.

    Args:
        instance: the problem as the search sees it [-]

    Returns:
        The best bound found, rounded up to whole units of cost. It is never above a plan's cost.

    Example: three parts of 6 by 6 on sheets of 10 by 10: none shares a sheet, though their area would fit on two.

        >>> from jobs.calculations.cutting.instance import instance_of
        >>> from jobs.calculations.cutting.problem import CuttingProblem, Part, StockSheet
        >>> least_cost(instance_of(CuttingProblem((StockSheet(10, 10),), (Part(6, 6, 3),))))
        3

    Source: dual feasible functions, see the head of this module.
    """
    turning = any(kind.may_turn for kind in instance.kinds)
    whole_length = max(sheet.length for sheet in instance.sheets)
    whole_width = max(sheet.width for sheet in instance.sheets)
    lengths = {kind.length for kind in instance.kinds} | {kind.width for kind in instance.kinds if kind.may_turn}
    widths = {kind.width for kind in instance.kinds} | {kind.length for kind in instance.kinds if kind.may_turn}
    most = max(4, min(MOST_FUNCTIONS, MOST_VALUES // (len(instance.kinds) * len(instance.sheets))))
    along, across = _functions(lengths, whole_length, most), _functions(widths, whole_width, most)
    pairs = [(one, other) for one in along for other in across]
    if turning or len(instance.sheets) > 1:
        pairs = [*[(one, _itself) for one in along], *[(_itself, other) for other in across], *pairs]
    rough = _Rough(instance)
    pairs = pairs[: max(len(along) + len(across), MOST_WORK // (len(instance.kinds) * len(instance.sheets)))]
    best = max(pairs, key=lambda pair: rough.total(*pair))
    exact = [_exact_total(instance, *pair) for pair in ((_itself, _itself), best)]
    return max(1 if instance.kinds else 0, *map(ceil, exact))


class _Rough:
    """Totals in floats, to choose the pair of functions that is then counted exactly."""

    def __init__(self, instance: Instance) -> None:
        self.instance = instance
        self.known: dict[tuple[Function, int], list[float]] = {}

    def _values(self, function: Function, stock: int, side: int) -> list[tuple[float, float]]:
        key = (function, 2 * stock + side)
        if key not in self.known:
            sheet = self.instance.sheets[stock]
            whole = sheet.width if side else sheet.length
            self.known[key] = [
                tuple(
                    value[0] / value[1] if size <= whole else 9.0
                    for size in ((kind.width, kind.length) if side else (kind.length, kind.width))
                    for value in (function(size, whole),)
                )
                for kind in self.instance.kinds
            ]
        return self.known[key]

    def total(self, along: Function, across: Function) -> float:
        sheets = self.instance.sheets
        columns = [(self._values(along, stock, 0), self._values(across, stock, 1)) for stock in range(len(sheets))]
        if len(sheets) == 1:
            lengths, widths = columns[0]
            return sheets[0].cost * sum(
                len(kind.items) * (min(one[0] * two[0], one[1] * two[1]) if kind.may_turn else one[0] * two[0])
                for kind, one, two in zip(self.instance.kinds, lengths, widths, strict=True)
            )
        total = 0.0
        for place, kind in enumerate(self.instance.kinds):
            least = 1e300
            for stock in kind.stock:
                one, two = columns[stock][0][place], columns[stock][1][place]
                share = min(one[0] * two[0], one[1] * two[1]) if kind.may_turn else one[0] * two[0]
                least = min(least, share * sheets[stock].cost)
            total += least * len(kind.items)
        return total


def _exact_total(instance: Instance, along: Function, across: Function) -> Fraction:
    total = Fraction(0)
    for kind in instance.kinds:
        shares = []
        for stock in kind.stock:
            sheet = instance.sheets[stock]
            for length, width, _ in kind.sizes:
                if length <= sheet.length and width <= sheet.width:
                    one, two = along(length, sheet.length), across(width, sheet.width)
                    shares.append(Fraction(one[0] * two[0] * sheet.cost, one[1] * two[1]))
        total += min(shares) * len(kind.items)
    return total
