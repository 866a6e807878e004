"""Search by swaps: two pieces change places, the best change that is not just undone (tabu search).

Two searches share the bookkeeping: within() looks for a plan that keeps a limit, counting pairs that break it;
lighter() looks for a smaller sum of weight times range within a limit. numpy comes with the solver; the caller looks
whether it is there.
"""

from collections.abc import Callable
from typing import Any

from jobs.calculations.tone.plan import Rooms
from jobs.calculations.tone.problem import Problem

APART = 4
"""What a pair counts that should lie in one room and does not, where a pair that breaks a limit counts 1."""
NO_LIMIT = 1 << 40
MOST_ROWS = 40
"""Rows of the table of swaps looked at in one step."""

Stop = Callable[[], bool]


class Swaps:
    """A problem laid out for searching by swaps: one row a piece; the spare pieces stand in one more room."""

    def __init__(self, problem: Problem, seed: int = 0) -> None:
        import numpy

        self.np, self.problem = numpy, problem
        self.random = numpy.random.default_rng(seed)
        self.sheet = numpy.array([sheet for sheet in problem.sheets for _ in range(problem.pieces)], dtype=int)
        self.n, self.spare = len(self.sheet), len(problem.rooms)
        self.rows = numpy.arange(self.n)
        self.far = numpy.array(problem.differences, dtype=float)[numpy.ix_(self.sheet, self.sheet)]
        self.weight = numpy.array([room.weight for room in problem.rooms] + [0], dtype=float)
        at = {int(sheet): row for row, sheet in enumerate(self.sheet)}
        self.barred = numpy.zeros((self.n, self.spare + 1), dtype=bool)
        for sheet, room in problem.forbidden:
            self.barred[self.sheet == sheet, room] = True
        self.mates = numpy.zeros((self.n, self.n))
        for kept in problem.together:
            own = numpy.isin(self.sheet, kept)
            self.mates[numpy.ix_(own, own)] = APART
        numpy.fill_diagonal(self.mates, 0)
        self.doors = [(door.room, door.other, 1.0 * (self.far > door.limit)) for door in problem.doorways]
        self.hard = bool(self.doors) or bool(problem.together)
        self.at = at

    # Plans and rows

    def placed(self, rooms: Rooms) -> tuple[Any, Any]:
        """Per row the room it is in, and whether it is fixed there."""
        np = self.np
        room, fixed, used = np.full(self.n, self.spare), np.zeros(self.n, dtype=bool), dict[int, int]()
        for number, sheets in enumerate(rooms):
            held = dict(self.problem.held[number])
            for sheet in sheets:
                row = self.at[sheet] - used.get(sheet, 0)
                used[sheet] = used.get(sheet, 0) + 1
                room[row] = number
                if held.get(sheet, 0) > 0:
                    held[sheet] -= 1
                    fixed[row] = True
        return room, fixed

    def rooms(self, room: Any) -> Rooms:
        """The plan of rows."""
        return tuple(
            tuple(sorted(int(self.sheet[row]) for row in self.np.flatnonzero(room == number)))
            for number in range(self.spare)
        )

    # Pairs that should not be, or should be

    def limits(self, limit: int) -> list[int]:
        own = [(room.limit if room.limit is not None else NO_LIMIT) for room in self.problem.rooms]
        return [min(one, limit) if room.counts else one for one, room in zip(own, self.problem.rooms, strict=True)]

    def kinds(self, limits: list[int]) -> list[tuple[Any, Any]]:
        """Per different limit: which rooms have it, and what every pair in one of them counts."""
        np, kinds = self.np, []
        of_room = np.array([*limits, NO_LIMIT])
        for limit in sorted(set(of_room.tolist())):
            table = 1.0 * (self.far > limit) - self.mates
            if limit < NO_LIMIT or self.problem.together:
                kinds.append((of_room == limit, table))
        return kinds

    def counts(self, room: Any, kinds: list[tuple[Any, Any]]) -> Any:
        """Per row and room what the row would count with the pieces that lie there."""
        np = self.np
        inside = np.zeros((self.n, self.spare + 1))
        inside[self.rows, room] = 1
        counts = np.repeat(self.mates.sum(axis=1)[:, None], self.spare + 1, axis=1)
        for rooms, table in kinds:
            counts[:, rooms] += (table @ inside)[:, rooms]
        for one, other, table in self.doors:
            counts[:, one] += table @ inside[:, other]
            counts[:, other] += table @ inside[:, one]
        return counts

    def recount(self, counts: Any, kinds: list[tuple[Any, Any]], here: int, gone: int, come: int) -> None:
        for rooms, table in kinds:
            if rooms[here]:
                counts[:, here] += table[:, come] - table[:, gone]
        for one, other, table in self.doors:
            if here in (one, other):
                counts[:, other if here == one else one] += table[:, come] - table[:, gone]

    def changes(self, counts: Any, kinds: list[tuple[Any, Any]], room: Any, rows: Any) -> Any:
        """What every swap of one of the rows with any row changes in the sum of the counts."""
        np, here, own = self.np, room[rows], counts[self.rows, room]
        change = counts[rows][:, room] + counts[:, here].T - own[rows][:, None] - own[None, :]
        for rooms, table in kinds:
            change -= table[rows] * (rooms[here].astype(float)[:, None] + rooms[room].astype(float)[None, :])
        for one, other, table in self.doors:
            across = np.outer(here == one, room == other) | np.outer(here == other, room == one)
            change += 2 * across * table[rows]
        return change

    def closed(self, room: Any, fixed: Any, rows: Any) -> Any:
        """Swaps that are none: within one room, of a fixed piece, into a forbidden room."""
        here = room[rows]
        closed = (here[:, None] == room[None, :]) | fixed[rows][:, None] | fixed[None, :]
        if self.problem.forbidden:
            closed |= self.barred[rows][:, room] | self.barred[:, here].T
        return closed

    # The two searches

    def within(self, rooms: Rooms, limit: int, stop: Stop, steps: int = 3000) -> Rooms | None:
        """A plan that keeps every condition with no counting room's range over the limit; none where none was found."""
        np, (room, fixed) = self.np, self.placed(rooms)
        kinds = self.kinds(self.limits(limit))
        counts = self.counts(room, kinds)
        barred_until = np.zeros((self.n, self.spare + 1), dtype=int)
        cost = best = counts[self.rows, room].sum() / 2
        for step in range(1, steps + 1):
            if cost < 0.25:
                return self.rooms(room)
            rows = np.flatnonzero((counts[self.rows, room] > 0.25) & ~fixed)
            if not len(rows) or (step % 16 == 0 and stop()):
                return None
            if len(rows) > MOST_ROWS:
                rows = self.random.choice(rows, MOST_ROWS, replace=False)
            change = self.changes(counts, kinds, room, rows)
            change[self.closed(room, fixed, rows)] = NO_LIMIT
            waits = (barred_until[rows][:, room] > step) | np.greater(barred_until[:, room[rows]].T, step)
            rated = np.where(waits & (change + cost > best - 0.25), change + NO_LIMIT / 2, change)
            first, other = divmod(int((rated + self.random.random(rated.shape) * 1e-3).argmin()), self.n)
            if change[first, other] >= NO_LIMIT / 2:
                return None
            one = int(rows[first])
            here, there = int(room[one]), int(room[other])
            room[one], room[other] = there, here
            self.recount(counts, kinds, here, one, other)
            self.recount(counts, kinds, there, other, one)
            cost += change[first, other]
            best = min(best, cost)
            wait = 7 + int(0.6 * len(rows)) + int(self.random.integers(10))
            barred_until[one, here] = barred_until[other, there] = step + wait
        return self.rooms(room) if cost < 0.25 else None
