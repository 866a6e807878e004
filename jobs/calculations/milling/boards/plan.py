"""A board plan: for every board where its pieces lie and what is left over."""

from dataclasses import dataclass

from jobs.calculations.milling.boards.instance import Filled, Instance, Pattern, counted
from jobs.calculations.milling.boards.problem import BoardProblem

MOST_PASSES = 3


@dataclass(frozen=True)
class PlacedPiece:
    """A piece on its board.

    Attributes:
        piece: place in the list of pieces [-]
        start: from the board's end, the end cut-off inside it [nm]
        length: as cut [nm]
    """

    piece: int
    start: int
    length: int


@dataclass(frozen=True)
class PlannedBoard:
    """One board of the plan.

    Attributes:
        stock: place in the list of lengths [-]
        pieces: in the order in which they are cut, the longest first [-]
        leftover: what is left inside the end cut-off, behind the last kerf; 0 where the kerf eats it [nm]
        is_kept: whether the leftover is long enough to keep [-]
    """

    stock: int
    pieces: tuple[PlacedPiece, ...]
    leftover: int
    is_kept: bool


@dataclass(frozen=True)
class BoardPlan:
    """Boards with their pieces.

    Attributes:
        boards: boards [-]
        cost: what they cost together; the number of boards where each costs 1 [minor]
    """

    boards: tuple[PlannedBoard, ...]
    cost: int


def gathered(instance: Instance, filled: Filled, least: int) -> Filled:
    """Return the plan with its leftovers brought together on fewer boards, the boards themselves as they are.

    Args:
        instance: the problem as the search sees it [-]
        filled: a plan [-]
        least: a leftover this long is of use, in the instance's unit [-]

    Returns:
        A plan of the same boards; what is left of use is no less, and of two such plans the one with more in one piece.

    Example: boards of 10 with 6 and 3, and with 5 and 1: 6, 3 and 1 fill one board, and 5 of the other are left.

        >>> from jobs.calculations.milling.boards.instance import Board
        >>> made = Instance((Board(10, 1, None),), (6, 5, 3, 1), (1, 1, 1, 1), ((0,), (1,), (2,), (3,)))
        >>> gathered(made, [(0, ((0, 1), (2, 1))), (0, ((1, 1), (3, 1)))], 4)
        [(0, ((0, 1), (2, 1), (3, 1))), (0, ((1, 1),))]

    Source: subset sum, as in `fill`.
    """
    plan = list(filled)
    for _ in range(MOST_PASSES):
        changed = False
        order = sorted(range(len(plan)), key=lambda place: -_rest(instance, plan[place]))
        for giver in order[:MOST_GIVERS]:
            for taker in order:
                if taker == giver:
                    continue
                pair = plan[taker], plan[giver]
                made = _fuller(instance, *pair)
                if made and _use(instance, made, least) > _use(instance, pair, least):
                    plan[taker], plan[giver] = made
                    changed = True
        if not changed:
            break
    return plan


MOST_GIVERS = 4


def _rest(instance: Instance, pattern: Pattern) -> int:
    return instance.boards[pattern[0]].length - instance.used(pattern[1])


def _use(instance: Instance, patterns: tuple[Pattern, Pattern], least: int) -> tuple[int, int]:
    rests = [_rest(instance, pattern) for pattern in patterns]
    return sum(rest for rest in rests if rest >= least), sum(rest * rest for rest in rests)


def _fuller(instance: Instance, taker: Pattern, giver: Pattern) -> tuple[Pattern, Pattern] | None:
    """The pieces of two boards, the first as full as it can be; none where the rest does not go on the second."""
    pieces = [kind for _, kinds in (taker, giver) for kind, count in kinds for _ in range(count)]
    room = instance.boards[taker[0]].length
    mask, reached, before = (1 << (room + 1)) - 1, 1, []
    for kind in sorted(pieces, reverse=True):
        before.append((kind, reached))
        reached |= (reached << instance.lengths[kind]) & mask
    used = reached.bit_length() - 1
    first: dict[int, int] = {}
    second: dict[int, int] = {}
    for kind, then in reversed(before):
        size = instance.lengths[kind]
        takes = size <= used and then >> (used - size) & 1
        mine = first if takes else second
        mine[kind] = mine.get(kind, 0) + 1
        used -= size if takes else 0
    made = (taker[0], counted(first)), (giver[0], counted(second))
    return made if _rest(instance, made[1]) >= 0 else None


def plan_of(problem: BoardProblem, instance: Instance, filled: Filled) -> BoardPlan:
    """Return the plan in the problem's own numbers.

    Args:
        problem: boards and pieces [-]
        instance: the same as the search sees it [-]
        filled: a plan that holds every piece once [-]

    Returns:
        Boards, the fullest first within a length; like pieces are given out in the order of the list.

    Example: two pieces of 48 out of a board of 100, a kerf of 2 and 1 cut off each end: at 1 and at 51.

    Source: house rule.
    """
    waiting = [list(reversed(items)) for items in instance.items]
    boards = []
    for stock, kinds in sorted(filled, key=lambda pattern: (pattern[0], _rest(instance, pattern))):
        at, placed = problem.end_cut_off, []
        for kind, count in kinds:
            for _ in range(count):
                place = waiting[kind].pop()
                length = problem.pieces[place].length
                placed.append(PlacedPiece(place, at, length))
                at += length + problem.kerf
        leftover = max(0, problem.stock[stock].length - problem.end_cut_off - at)
        is_kept = problem.least_usable is not None and leftover >= problem.least_usable
        boards.append(PlannedBoard(stock, tuple(placed), leftover, is_kept))
    return BoardPlan(tuple(boards), sum(problem.stock[board.stock].cost for board in boards))
