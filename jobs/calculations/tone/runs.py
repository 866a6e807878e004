"""First answers: the sheets in one order of tone, each room a run of neighbors.

For one order the smallest largest range that runs can have is found exactly: within a limit, a set of rooms ends as
early as it can (dynamic programming over sets of rooms), and the limit is halved down to the smallest that fits. On a
scale of one dimension no other plan has a smaller largest range (see line_bound() in bounds.py).
"""

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from jobs.calculations.tone.plan import Rooms
from jobs.calculations.tone.problem import Problem

MOST_ROOMS_IN_ANY_ORDER = 11
"""Up to here every order of the rooms is looked at: twice the work for each room more."""


def orders(problem: Problem) -> Iterator[list[int]]:
    """The usable sheets in several orders of tone, the most telling first.

    Args:
        problem: the lot [-]

    Returns:
        orders: by the distance from one end of the lot, then from sheets that are far from both ends, and by chains of
        nearest neighbors

    Example:
        >>> next(orders(Problem(differences=[[0, 2, 9], [2, 0, 7], [9, 7, 0]], rooms=())))
        [0, 1, 2]
    """
    sheets, far = problem.sheets, problem.differences
    if not sheets:
        return
    one = max(sheets, key=lambda sheet: far[sheets[0]][sheet])
    other = max(sheets, key=lambda sheet: far[one][sheet])
    one, other = min(one, other), max(one, other)
    yield sorted(sheets, key=lambda sheet: far[one][sheet])
    yield sorted(sheets, key=lambda sheet: far[one][sheet] - far[other][sheet])
    yield sorted(sheets, key=lambda sheet: -far[other][sheet])
    odd = max(sheets, key=lambda sheet: min(far[one][sheet], far[other][sheet]))
    yield sorted(sheets, key=lambda sheet: far[odd][sheet])
    for start in (one, other, odd):
        chain, left = [start], set(sheets) - {start}
        while left:
            chain.append(min(left, key=lambda sheet: (far[chain[-1]][sheet], sheet)))
            left.remove(chain[-1])
        yield chain


def runs(problem: Problem, order: Sequence[int], shuffled: Random | None = None) -> Rooms | None:
    """The plan of runs along an order with the smallest largest range; limits of rooms and doorways are not looked at.

    Args:
        problem: the lot and what is asked [-]
        order: the usable sheets [-]
        shuffled: where given, the rooms lie along the order as it draws them, whatever their ranges [-]

    Returns:
        per room the sheet of each piece; none where a forbidden room leaves no run

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> runs(Problem(differences=[[0, 2, 9], [2, 0, 7], [9, 7, 0]], rooms=(Room(1), Room(2))), [0, 1, 2])
        ((2,), (0, 1))
    """
    line = Line.of(problem, order)
    ends = _drawn(line, shuffled) if shuffled else _narrowest(line)
    return None if ends is None else line.plan(problem, ends)


@dataclass(frozen=True)
class Line:
    """Free pieces in an order: what each room still wants, the range of each of its runs, the rooms that want any.

    Attributes:
        pieces: the sheet of each free piece [-]
        wanted: per room the pieces it has not got [-]
        spans: per room and place the range of the run that begins there, none where a sheet is forbidden [-]
        rooms: the rooms that want any [-]
    """

    pieces: list[int]
    wanted: list[int]
    spans: list[list[int | None]]
    rooms: list[int]

    @classmethod
    def of(cls, problem: Problem, order: Sequence[int]) -> "Line":
        """The line of an order of the usable sheets."""
        taken = sum(problem.held, start=Counter[int]())
        free = [sheet for sheet in order for _ in range(problem.pieces - taken[sheet])]
        wanted = [asked.need - held.total() for asked, held in zip(problem.rooms, problem.held, strict=True)]
        return cls(free, wanted, _spans(problem, free, wanted), [room for room, own in enumerate(wanted) if own])

    @property
    def free(self) -> int:
        """Free pieces."""
        return len(self.pieces)

    def plan(self, problem: Problem, ends: dict[int, int]) -> Rooms:
        """The plan of runs that end at these places."""
        return tuple(
            tuple(sorted([*self.pieces[ends.get(room, own) - own : ends.get(room, own)], *held.elements()]))
            for room, (own, held) in enumerate(zip(self.wanted, problem.held, strict=True))
        )


def _spans(problem: Problem, free: list[int], wanted: list[int]) -> list[list[int | None]]:
    """Per room the range that each run of its length has together with its fixed sheets, none where it is forbidden."""
    far, found = problem.differences, []
    by_length = {0: [0] * (len(free) + 1), 1: [0] * len(free)}
    for length in range(2, max(wanted, default=0) + 1):
        by_length[length] = [
            max(one, other, far[free[at]][free[at + length - 1]])
            for at, (one, other) in enumerate(pairwise(by_length[length - 1]))
        ]
    barred_rooms = {room for _, room in problem.forbidden}
    for room, (own, held) in enumerate(zip(wanted, problem.held, strict=True)):
        spans: list[int | None] = list(by_length[own]) if problem.rooms[room].counts else [0] * len(by_length[own])
        if held and problem.rooms[room].counts and own:
            between = max(far[one][other] for one in held for other in held)
            to_held = [max(far[sheet][one] for one in held) for sheet in free]
            spans = [max(span, between, *to_held[at : at + own]) for at, span in enumerate(spans)]
        if room in barred_rooms:
            barred = [(sheet, room) in problem.forbidden for sheet in free]
            spans = [None if any(barred[at : at + own]) else span for at, span in enumerate(spans)]
        found.append(spans)
    return found


def _narrowest(line: Line) -> dict[int, int] | None:
    """Per room the end of its run, the largest range the smallest that was found."""
    limits = sorted({span for room in line.rooms for span in line.spans[room] if span is not None}) or [0]
    place = _in_any_order if len(line.rooms) <= MOST_ROOMS_IN_ANY_ORDER else _in_good_orders
    at = bisect_left(limits, True, key=lambda limit: place(line, limit) is not None)
    return place(line, limits[at]) if at < len(limits) else None


def _drawn(line: Line, random: Random) -> dict[int, int] | None:
    """Per room the end of its run: the rooms in a drawn order, drawn numbers of spares between them."""
    rooms = random.sample(line.rooms, len(line.rooms))
    spare = line.free - sum(line.wanted)
    gaps = sorted(random.randint(0, spare) for _ in rooms)
    ends, at = {}, 0
    for room, gap in zip(rooms, gaps, strict=True):
        at += line.wanted[room]
        ends[room] = at + gap
    allowed = all(line.spans[room][end - line.wanted[room]] is not None for room, end in ends.items())
    return ends if allowed else None


def _next_ends(line: Line, limit: int) -> dict[int, list[int]]:
    """Per room and place the earliest end of a run within the limit that begins there or later; free + 1 for never."""
    found = {}
    for room in line.rooms:
        ends, end = [line.free + 1] * (line.free + 2), line.free + 1
        for at in range(len(line.spans[room]) - 1, -1, -1):
            span = line.spans[room][at]
            if span is not None and span <= limit:
                end = at + line.wanted[room]
            ends[at] = end
        found[room] = ends
    return found


def _in_any_order(line: Line, limit: int) -> dict[int, int] | None:
    next_ends, number = _next_ends(line, limit), len(line.rooms)
    earliest, last = [0] + [line.free + 1] * ((1 << number) - 1), [0] * (1 << number)
    bits = [(at, 1 << at, next_ends[room]) for at, room in enumerate(line.rooms)]
    for mask in range(1, 1 << number):
        best, chosen = line.free + 1, -1
        for at, bit, ends in bits:
            if mask & bit:
                end = ends[earliest[mask ^ bit]]
                if end < best:
                    best, chosen = end, at
        earliest[mask], last[mask] = best, chosen
    mask = (1 << number) - 1
    if earliest[mask] > line.free:
        return None
    found = {}
    while mask:
        found[line.rooms[last[mask]]] = earliest[mask]
        mask ^= 1 << last[mask]
    return found


def _in_good_orders(line: Line, limit: int) -> dict[int, int] | None:
    """As many rooms that every order cannot be looked at: always the room next that ends with the fewest left out."""
    next_ends, found, at = _next_ends(line, limit), {}, 0
    while len(found) < len(line.rooms):
        left = (room for room in line.rooms if room not in found)
        room = min(left, key=lambda one: (next_ends[one][at] - line.wanted[one], -line.wanted[one], one))
        found[room] = at = next_ends[room][at]
        if at > line.free:
            return None
    return found
