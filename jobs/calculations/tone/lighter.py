"""Search by swaps for the smallest sum of weight times range, no range over a limit."""

from typing import Any

from jobs.calculations.tone.plan import Rooms
from jobs.calculations.tone.swaps import NO_LIMIT, Stop, Swaps

OVER = 20
"""How many times the greatest weight a range over its limit counts."""


class _Ranges:
    """Per row and room the two farthest pieces, per row the range its room has without it, per room its range."""

    def __init__(self, swaps: Swaps, room: Any) -> None:
        np = swaps.np
        self.swaps, self.np, self.room = swaps, np, room
        shape = (swaps.n, swaps.spare + 1)
        self.farthest, self.second, self.which = np.zeros(shape), np.zeros(shape), np.full(shape, -1)
        self.without, self.span = np.zeros(swaps.n), np.zeros(swaps.spare + 1)
        for number in range(swaps.spare):
            self.renew(number)

    def renew(self, number: int) -> None:
        """Look at one room again."""
        np, rows = self.np, self.swaps.rows
        inside = np.flatnonzero(self.room == number)
        if number == self.swaps.spare or not len(inside):
            self.farthest[:, number] = self.second[:, number] = 0
            self.which[:, number], self.span[number], self.without[inside] = -1, 0, 0
            return
        far = self.swaps.far[:, inside]
        at = far.argmax(axis=1)
        self.farthest[:, number], self.which[:, number] = far[rows, at], inside[at]
        far[rows, at] = 0
        self.second[:, number] = far.max(axis=1)
        own, other = self.farthest[inside, number], self.second[inside, number]
        self.span[number] = own.max()
        left = np.where(self.which[inside, number][None, :] == inside[:, None], other[None, :], own[None, :])
        np.fill_diagonal(left, 0)
        self.without[inside] = left.max(axis=1)

    def after(self) -> Any:
        """Row by row the range that the first row's room has once the second row stands in its place."""
        np, room = self.np, self.room
        reach = np.where(self.which[:, room] == self.swaps.rows[None, :], self.second[:, room], self.farthest[:, room])
        return np.maximum(self.without[:, None], reach.T)


def lighter(swaps: Swaps, rooms: Rooms, limit: int, stop: Stop, patience: int = 2500) -> Rooms:
    """The plan of the smallest sum that was found.

    Args:
        swaps: the problem laid out [-]
        rooms: a plan that keeps every condition, no counting range over the limit [-]
        limit: largest range of the rooms that count [-]
        stop: whether to end [-]
        patience: steps without a better plan after which it ends [-]

    Returns:
        a plan that keeps the same, its sum no greater

    Example:
        lighter(Swaps(problem), rooms, 13_699, stop) goes from 11.6 to 10.9.
    """
    np, rows = swaps.np, swaps.rows
    room, fixed = swaps.placed(rooms)
    caps = np.array([*swaps.limits(limit), NO_LIMIT], dtype=float)
    over = OVER * max(float(swaps.weight.max()), 1.0)
    apart = over * max(float(swaps.far.max()), 1.0)
    kinds = swaps.kinds([NO_LIMIT] * swaps.spare)
    counts = swaps.counts(room, kinds) if swaps.hard else None
    ranges = _Ranges(swaps, room)

    def costs() -> Any:
        return swaps.weight * ranges.span + over * np.maximum(ranges.span - caps, 0)

    best, best_room = float(costs().sum()), room.copy()
    current, lowest, last, step = best, best, 0, 0
    waits_until = np.zeros((swaps.n, swaps.spare + 1), dtype=int)
    while step - last < patience and not (step % 16 == 15 and stop()):
        step += 1
        span = ranges.after()
        cost = swaps.weight[room][:, None] * span + over * np.maximum(span - caps[room][:, None], 0)
        cost[room == swaps.spare] = 0
        gain = cost - costs()[room][:, None]
        change = gain + gain.T
        if counts is not None:
            change += apart * swaps.changes(counts, kinds, room, rows)
        change[swaps.closed(room, fixed, rows)] = NO_LIMIT
        one, other = divmod(int(change.argmin()), swaps.n)
        if change[one, other] + current > best - 0.5:
            waits = waits_until[:, room] > step
            rated = np.where(waits | waits.T, change + NO_LIMIT / 2, change)
            one, other = divmod(int((rated + swaps.random.random(rated.shape) * 0.5).argmin()), swaps.n)
        if change[one, other] >= NO_LIMIT / 2:
            break
        here, there = int(room[one]), int(room[other])
        room[one], room[other] = there, here
        if counts is not None:
            swaps.recount(counts, kinds, here, one, other)
            swaps.recount(counts, kinds, there, other, one)
        ranges.renew(here)
        ranges.renew(there)
        current = float(costs().sum())
        if counts is not None:
            current += apart * counts[rows, room].sum() / 2
        waits_until[one, here] = waits_until[other, there] = step + 5 + int(swaps.random.integers(12))
        if current < lowest - 0.5:
            lowest, last = current, step
        whole = counts is None or counts[rows, room].sum() < 0.5
        if current < best - 0.5 and whole and (ranges.span <= caps + 0.5).all():
            best, best_room, last = current, room.copy(), step
    return swaps.rooms(best_room)
