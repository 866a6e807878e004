"""A board problem as the search sees it: kerf inside the numbers, like pieces together, the smallest whole numbers.

Every piece grows by one kerf and every usable board too, so that pieces lie against each other without gaps.
"""

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from math import gcd

from jobs.calculations.milling.boards.problem import BoardProblem

FINEST = 200_000
"""Units of the longest board. Where sizes have no common unit as large, pieces are rounded up and boards down."""

Pattern = tuple[int, tuple[tuple[int, int], ...]]
"""A filled board: place of its length in the stock; kinds of pieces with how many of each, longest first."""

Filled = list[Pattern]
"""A plan: a pattern for each board taken."""


@dataclass(frozen=True)
class Board:
    """Boards of one length, with the kerf put in; a limit of none is no limit."""

    length: int
    cost: int
    limit: int | None


@dataclass(frozen=True)
class Instance:
    """The numbers of a problem in their common unit.

    Attributes:
        boards: in the order of the problem's stock [-]
        lengths: of the kinds of pieces, with kerf, longest first [-]
        counts: how many of each kind [-]
        items: places in the problem's list of pieces, one for each piece of a kind [-]
        is_exact: whether nothing was rounded [-]
        relaxed: where something was rounded, the same with pieces rounded down and boards up: what no plan can beat
            there no plan can beat here [-]
    """

    boards: tuple[Board, ...]
    lengths: tuple[int, ...]
    counts: tuple[int, ...]
    items: tuple[tuple[int, ...], ...]
    is_exact: bool = True
    relaxed: "Instance | None" = None

    @cached_property
    def longest(self) -> int:
        return max(board.length for board in self.boards)

    @cached_property
    def pieces(self) -> int:
        return sum(self.counts)

    @cached_property
    def step(self) -> int:
        """What all costs are multiples of."""
        return gcd(*(board.cost for board in self.boards))

    def cost(self, filled: Filled) -> int:
        return sum(self.boards[stock].cost for stock, _ in filled)

    def used(self, kinds: tuple[tuple[int, int], ...]) -> int:
        return sum(self.lengths[kind] * count for kind, count in kinds)


def instance_of(problem: BoardProblem) -> Instance:
    """Return the problem as the search sees it.

    Args:
        problem: a problem that was checked [-]

    Returns:
        Kinds of pieces, the longest first; boards too short for every piece stay in, they take no piece.

    Example: a kerf of 2 on boards of 100, 1 cut off each end.

        >>> from jobs.calculations.milling.boards.problem import BoardPiece, BoardProblem, StockBoard
        >>> made = instance_of(BoardProblem((StockBoard(100),), (BoardPiece(48, 4), BoardPiece(23)), 2, 1))
        >>> made.boards[0].length, made.lengths, made.counts
        (4, (2, 1), (4, 1))

    Source: house rule.
    """
    grown = problem.kerf - 2 * problem.end_cut_off
    boards = [board.length + grown for board in problem.stock]
    items: dict[int, list[int]] = {}
    for place, piece in enumerate(problem.pieces):
        items.setdefault(piece.length + problem.kerf, []).extend([place] * piece.quantity)
    unit = gcd(*boards, *items)
    coarse = -(-max(boards) // FINEST)
    if unit >= coarse:
        return _made(problem, [length // unit for length in boards], {size: size // unit for size in items}, items)
    room = {size: max(length for length in boards if length >= size) // coarse for size in items}
    safe = {size: min(-(-size // coarse), room[size]) for size in items}
    least = {size: size // coarse for size in items}
    relaxed = _made(problem, [-(-length // coarse) for length in boards], least, items)
    return _made(problem, [length // coarse for length in boards], safe, items, relaxed)


def _made(
    problem: BoardProblem,
    boards: list[int],
    units: dict[int, int],
    items: dict[int, list[int]],
    relaxed: Instance | None = None,
) -> Instance:
    together: dict[int, list[int]] = {}
    for size in sorted(items, reverse=True):
        together.setdefault(units[size], []).extend(items[size])
    stock = tuple(
        Board(length, board.cost, board.quantity) for length, board in zip(boards, problem.stock, strict=True)
    )
    places = tuple(tuple(found) for found in together.values())
    counts = tuple(len(found) for found in places)
    return Instance(stock, tuple(together), counts, places, relaxed is None, relaxed)


def counted(kinds: dict[int, int]) -> tuple[tuple[int, int], ...]:
    """Return kinds with their counts as a pattern has them.

    Args:
        kinds: how many of each kind [-]

    Returns:
        Pairs of kind and count, the longest first, none with a count of 0.

    Example: two of the second kind and one of the first.

        >>> counted({1: 2, 0: 1, 4: 0})
        ((0, 1), (1, 2))
    """
    return tuple(sorted((kind, count) for kind, count in kinds.items() if count))


def trimmed(instance: Instance, filled: Filled) -> Filled:
    """Return a plan without the pieces that it cuts too many of, each board as cheap as its pieces allow.

    Args:
        instance: the problem as the search sees it [-]
        filled: a plan that holds every piece, some perhaps too often [-]

    Returns:
        A plan that holds every piece once; boards left empty are gone.

    Example: a board filled with three where two are needed keeps two.
    """
    left = Counter(dict(enumerate(instance.counts)))
    free = {place: board.limit for place, board in enumerate(instance.boards)}
    kept: list[tuple[int, dict[int, int]]] = []
    for stock, kinds in sorted(filled, key=lambda each: -instance.used(each[1])):
        mine = {kind: min(count, left[kind]) for kind, count in kinds}
        left.subtract(mine)
        if any(mine.values()):
            kept.append((stock, mine))
            if free[stock] is not None:
                free[stock] -= 1
    made: Filled = []
    for stock, mine in kept:
        kinds = counted(mine)
        used = instance.used(kinds)
        cheaper = min(
            (
                place
                for place, board in enumerate(instance.boards)
                if board.length >= used and (place == stock or free[place] is None or free[place] > 0)
            ),
            key=lambda place: (instance.boards[place].cost, place != stock),
        )
        for place, by in ((stock, 1), (cheaper, -1)):
            if free[place] is not None:
                free[place] += by
        made.append((cheaper, kinds))
    return made
