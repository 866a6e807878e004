"""A cutting problem as the search sees it: kerf inside the numbers, like parts together, the smallest whole numbers.

Every part grows by one kerf and every usable sheet too, so that parts lie against each other without gaps. A part that
ends on the cleaned edge needs no last cut.
"""

from dataclasses import dataclass
from functools import cached_property
from math import gcd

from jobs.calculations.cutting.problem import CuttingProblem


@dataclass(frozen=True)
class Kind:
    """Parts alike in size, grain and sheets they may come from.

    Attributes:
        length: along the grain, with kerf [-]
        width: across the grain, with kerf [-]
        may_turn: whether turning makes a difference and is allowed [-]
        stock: places of the sheets it may come from and fits on [-]
        items: places in the list of parts, one for each piece [-]
    """

    length: int
    width: int
    may_turn: bool
    stock: frozenset[int]
    items: tuple[int, ...]

    @property
    def area(self) -> int:
        return self.length * self.width

    @property
    def sizes(self) -> list[tuple[int, int, bool]]:
        """As it may lie: length, width, turned."""
        turned = [(self.width, self.length, True)] if self.may_turn else []
        return [(self.length, self.width, False), *turned]


@dataclass(frozen=True)
class Sheet:
    """A kind of sheet with the kerf put in.

    Attributes:
        length: usable, with one kerf [-]
        width: usable, with one kerf [-]
        cost: cost of one [-]
        quantity: how many can be used at all [-]
        limited: whether that many are all there are [-]
    """

    length: int
    width: int
    cost: int
    quantity: int
    limited: bool

    @property
    def area(self) -> int:
        return self.length * self.width


@dataclass(frozen=True)
class Instance:
    """The numbers of a problem, each divided by their greatest common divisor.

    Attributes:
        sheets: kinds of sheets [-]
        kinds: kinds of parts [-]
        unit: what every length was divided by [-]
        kerf: kerf in the problem's unit [-]
        trim: edge clean-up in the problem's unit [-]
        reach: largest fence setting, with kerf, none for no limit [-]
        most_stages: most cuts in turned directions, none for no limit [-]
        rips_first: whether the first cuts of a sheet run along its length [-]
    """

    sheets: tuple[Sheet, ...]
    kinds: tuple[Kind, ...]
    unit: int
    kerf: int
    trim: int
    reach: int | None
    most_stages: int | None
    rips_first: bool

    @cached_property
    def pieces(self) -> list[int]:
        """Every piece to cut, as the place of its kind."""
        return [place for place, kind in enumerate(self.kinds) for _ in kind.items]

    @property
    def is_restricted(self) -> bool:
        """Whether the saw's limits can forbid a place that a part fits in."""
        return self.most_stages is not None or self.reach is not None or self.rips_first


def instance_of(problem: CuttingProblem) -> Instance:
    """Return the problem as the search sees it.

    Args:
        problem: a problem that was checked [-]

    Returns:
        Kinds in the order in which their first part stands in the list.

    Example: a kerf of 2 on a sheet of 100 by 52, cleaned 1 on each edge.

        >>> from jobs.calculations.cutting.problem import Part, Saw, StockSheet
        >>> made = instance_of(CuttingProblem((StockSheet(100, 52),), (Part(48, 23, 4),), Saw(kerf=2, trim=1)))
        >>> made.unit, made.sheets[0].length, made.sheets[0].width, made.kinds[0].length, made.kinds[0].width
        (1, 100, 52, 50, 25)

    Source: house rule.
    """
    saw, grown = problem.saw, problem.saw.kerf - 2 * problem.saw.trim
    sizes = [(sheet.length + grown, sheet.width + grown) for sheet in problem.stock]
    items: dict[tuple[int, int, bool, frozenset[int]], list[int]] = {}
    for place, part in enumerate(problem.parts):
        length, width = part.length + saw.kerf, part.width + saw.kerf
        may_turn = part.may_turn and length != width
        stock = frozenset(
            number
            for number, (most, wide) in enumerate(sizes)
            if (part.stock is None or number in part.stock)
            and ((length <= most and width <= wide) or (may_turn and width <= most and length <= wide))
        )
        items.setdefault((length, width, may_turn, stock), []).extend([place] * part.quantity)
    unit = gcd(*(size for pair in sizes for size in pair), *(size for key in items for size in key[:2]))
    pieces = sum(len(places) for places in items.values())
    return Instance(
        sheets=tuple(
            Sheet(
                length // unit,
                width // unit,
                stock.cost,
                pieces if stock.quantity is None else min(pieces, stock.quantity),
                stock.quantity is not None and stock.quantity < pieces,
            )
            for stock, (length, width) in zip(problem.stock, sizes, strict=True)
        ),
        kinds=tuple(
            Kind(length // unit, width // unit, may_turn, stock, tuple(places))
            for (length, width, may_turn, stock), places in items.items()
        ),
        unit=unit,
        kerf=saw.kerf,
        trim=saw.trim,
        reach=None if saw.fence_reach is None else (saw.fence_reach + saw.kerf) // unit,
        most_stages=saw.most_stages,
        rips_first=saw.rips_first,
    )
