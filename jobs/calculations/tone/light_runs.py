"""Starts for the smallest sum of weight times range: runs along an order, one room perhaps with what the others leave.

Rooms of runs alone are not always the best: one room may lie inside the range of another. So one room may take the
pieces the others leave over, at both ends of the order or wherever they are.
"""

from collections.abc import Sequence
from typing import Any

from jobs.calculations.tone.plan import Rooms
from jobs.calculations.tone.problem import Problem
from jobs.calculations.tone.runs import MOST_ROOMS_IN_ANY_ORDER, Line

OVER = 20
"""How many times its own weight and one more a range over the limit counts."""


def light_runs(
    problem: Problem, order: Sequence[int], limit: int, numpy: Any, leftover: int | None = None
) -> Rooms | None:
    """The plan of runs along an order with the smallest sum, ranges over the limit counted many times.

    Args:
        problem: the lot and what is asked [-]
        order: the usable sheets [-]
        limit: largest range of the rooms that count [-]
        numpy: the module [-]
        leftover: a room that takes what the others leave, or none [-]

    Returns:
        per room the sheet of each piece; none where no such runs were found

    Example:
        light_runs(problem, [0, 1, 2, 3, 4, 5], 5, numpy, leftover=1) of tones 6, 7, 7, 11, 15, 20 puts (7, 7) into the
        room of weight 9 and 6, 11 into the room left over.
    """
    line = Line.of(problem, order)
    rooms = [room for room in line.rooms if room != leftover]
    if len(rooms) > MOST_ROOMS_IN_ANY_ORDER or (leftover is not None and leftover not in line.rooms):
        return None
    ends = _lightest(problem, line, rooms, limit, numpy)
    if ends is None:
        return None
    if leftover is None:
        return line.plan(problem, ends)
    taken = {at for room, end in ends.items() for at in range(end - line.wanted[room], end)}
    left = [sheet for at, sheet in enumerate(line.pieces) if at not in taken]
    rest = _best_window(problem, left, leftover, line.wanted[leftover])
    if rest is None:
        return None
    plan = list(line.plan(problem, {**ends, leftover: line.wanted[leftover]}))
    plan[leftover] = tuple(sorted([*rest, *problem.held[leftover].elements()]))
    return tuple(plan)


def _lightest(problem: Problem, line: Line, rooms: list[int], limit: int, np: Any) -> dict[int, int] | None:
    """Per room the end of its run (dynamic programming over sets of rooms and places)."""
    costs = {}
    for room in rooms:
        asked = problem.rooms[room]
        cap = min(limit if asked.counts else 1 << 40, 1 << 40 if asked.limit is None else asked.limit)
        spans = np.array([np.inf if span is None else span for span in line.spans[room]], dtype=float)
        costs[room] = asked.weight * spans + OVER * (asked.weight + 1) * np.maximum(spans - cap, 0)
    least = [np.zeros(line.free + 1)]
    for mask in range(1, 1 << len(rooms)):
        best = np.full(line.free + 1, np.inf)
        for at, room in enumerate(rooms):
            if mask >> at & 1:
                own = line.wanted[room]
                np.minimum(best[own:], least[mask ^ 1 << at][: line.free + 1 - own] + costs[room], out=best[own:])
        least.append(np.minimum.accumulate(best))
    mask, place, ends = (1 << len(rooms)) - 1, line.free, {}
    if not np.isfinite(least[mask][place]):
        return None
    while mask:
        place = int(np.searchsorted(-least[mask], -least[mask][place]))
        for at, room in enumerate(rooms):
            own = line.wanted[room]
            if mask >> at & 1 and place >= own:
                before = least[mask ^ 1 << at][place - own] + costs[room][place - own]
                if before == least[mask][place]:
                    ends[room], mask, place = place, mask ^ 1 << at, place - own
                    break
    return ends


def _best_window(problem: Problem, left: list[int], room: int, own: int) -> list[int] | None:
    far, held = problem.differences, list(problem.held[room])
    found = []
    for at in range(len(left) - own + 1):
        window = left[at : at + own]
        if not any((sheet, room) in problem.forbidden for sheet in window):
            inside = [*window, *held]
            found.append((max(far[one][other] for one in inside for other in inside), at))
    return left[min(found)[1] : min(found)[1] + own] if found else None
