"""What no plan can do: which sheets can lie in a room together within a limit, and lower bounds that follow.

Two sheets can share a room only if enough sheets agree with both of them to fill it; asked again until nothing more
falls away. The rest is exact whole-number arithmetic on the differences, so a bound is never above a plan.
"""

from bisect import bisect_left
from collections.abc import Callable, Sequence
from itertools import combinations

from jobs.calculations.tone.problem import Problem

NO_LIMIT = 1 << 40


def room_limit(problem: Problem, room: int, limit: int) -> int:
    """The largest range a room may have while the rooms that count keep a limit.

    Args:
        problem: what is asked [-]
        room: the room [-]
        limit: largest range of the rooms that count [-]

    Returns:
        the smaller of its own limit and this one, its own alone where it does not count

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> room_limit(Problem(differences=[], rooms=(Room(0, limit=9, counts=False),)), 0, 5)
        9
    """
    asked = problem.rooms[room]
    own = NO_LIMIT if asked.limit is None else asked.limit
    return min(own, limit) if asked.counts else own


def agreeing(problem: Problem, room: int, limit: int) -> dict[int, int] | None:
    """The sheets that can lie in a room within its limit, each with those it can lie there with.

    Args:
        problem: what is asked [-]
        room: the room [-]
        limit: largest range the room may have [-]

    Returns:
        sheet to a set of sheets as bits, itself among them; none where the room cannot be filled

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> lot = Problem(differences=[[0, 2, 9], [2, 0, 7], [9, 7, 0]], rooms=(Room(2),))
        >>> agreeing(lot, 0, 5), agreeing(lot, 0, 1)
        ({0: 3, 1: 3}, None)
    """
    need, pieces, far = problem.rooms[room].need, problem.pieces, problem.differences
    held = [sheet for sheet, number in problem.held[room].items() if number]
    taken = {sheet: sum(other[sheet] for other in problem.held) for other in problem.held for sheet in other}
    full = {sheet for sheet, number in taken.items() if number >= pieces and sheet not in held}
    if need == 0:
        return {}
    within = {
        one: sum(1 << other for other in problem.sheets if far[one][other] <= limit)
        for one in problem.sheets
        if (one, room) not in problem.forbidden and one not in full and all(far[one][kept] <= limit for kept in held)
    }
    least = -(-need // pieces)
    while True:
        left = sum(1 << sheet for sheet in within)
        before = sum(bits.bit_count() for bits in within.values())
        within = {one: bits & left for one, bits in within.items()}
        for one, other in combinations(within, 2):
            if within[one] >> other & 1 and (within[one] & within[other]).bit_count() < least:
                within[one] &= ~(1 << other)
                within[other] &= ~(1 << one)
        within = {one: bits for one, bits in within.items() if bits.bit_count() >= least}
        if not all(kept in within for kept in held) or len(within) < least:
            return None
        if sum(bits.bit_count() for bits in within.values()) == before:
            return within


def quick_bound(problem: Problem, best: int, stop: Callable[[], bool] | None = None) -> int:
    """A largest range that no plan goes below, found at once.

    Args:
        problem: what is asked [-]
        best: largest range of a known plan [-]
        stop: asked now and then whether to give up, which gives 0 [-]

    Returns:
        the smallest difference within which every counting room can be filled on its own, best at the most

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> quick_bound(Problem(differences=[[0, 2, 9], [2, 0, 7], [9, 7, 0]], rooms=(Room(2),)), 9)
        2
    """
    counting = [room for room, asked in enumerate(problem.rooms) if asked.counts and asked.need]
    values = [value for value in differing(problem) if value < best]

    def can(limit: int) -> bool:
        return all(
            (stop is not None and stop()) or agreeing(problem, room, room_limit(problem, room, limit)) is not None
            for room in counting
        )

    at = bisect_left(values, True, key=can)
    if stop is not None and stop():
        return 0
    return values[at] if at < len(values) else best


def differing(problem: Problem) -> list[int]:
    """Every range a room can have.

    Args:
        problem: the lot [-]

    Returns:
        the differences between usable sheets and 0, rising, each once

    Example:
        >>> differing(Problem(differences=[[0, 2], [2, 0]], rooms=()))
        [0, 2]
    """
    far = problem.differences
    return sorted({0, *(far[one][other] for one, other in combinations(problem.sheets, 2))})


def line_bound(problem: Problem, order: Sequence[int], largest: int) -> bool:
    """Whether a plan of runs along an order is proven: no plan has a smaller largest range.

    Holds where the differences grow along the order (a to c differs at least as much as a to b and as b to c, for every
    a before b before c), every room counts, none has a limit and nothing is fixed, forbidden or asked between sheets or
    rooms: two pieces of different rooms can then change places until all rooms are runs, with no range over the limit.

    Args:
        problem: what is asked [-]
        order: the usable sheets [-]
        largest: the largest range of the best runs along the order [-]

    Returns:
        true only where the differences grow along the order and nothing else is asked

    Example:
        >>> line_bound(Problem(differences=[[0, 2, 9], [2, 0, 7], [9, 7, 0]], rooms=()), [0, 1, 2], 9)
        True
    """
    asked = problem.fixed or problem.forbidden or problem.doorways or problem.together
    wished = problem.darkest is not None or problem.lightest is not None
    if asked or wished or any(room.limit is not None or not room.counts for room in problem.rooms):
        return False
    rows = [[problem.differences[one][other] for other in order] for one in order]
    return all(
        row[at + 1] >= row[at] and rows[one][at + 1] >= rows[one + 1][at + 1]
        for one, row in enumerate(rows)
        for at in range(one, len(order) - 1)
        if one + 1 < len(order)
    )


def covered(pairs: dict[int, int]) -> list[list[int]]:
    """Sets of sheets that all conflict with each other, so many that every conflict lies in one of them.

    Args:
        pairs: sheet to those it conflicts with, as bits [-]

    Returns:
        the sets, made as large as goes one after the other

    Example:
        >>> covered({0: 0b110, 1: 0b101, 2: 0b011})
        [[0, 1, 2]]
    """
    open_pairs, found = dict(pairs), []
    for one in pairs:
        while open_pairs[one]:
            other = (open_pairs[one] & -open_pairs[one]).bit_length() - 1
            group, can = [one, other], pairs[one] & pairs[other]
            while can:
                fresh = can & open_pairs[group[-1]] or can
                take = (fresh & -fresh).bit_length() - 1
                group.append(take)
                can &= pairs[take]
            bits = sum(1 << sheet for sheet in group)
            for sheet in group:
                open_pairs[sheet] &= ~bits
            found.append(sorted(group))
    return found
