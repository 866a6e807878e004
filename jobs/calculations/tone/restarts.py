"""Ever new plans from old ones: some rooms are emptied and filled again as runs along a drawn direction of tone."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property
from itertools import chain
from random import Random

from jobs.calculations.tone.light_runs import OVER, light_runs
from jobs.calculations.tone.lighter import lighter
from jobs.calculations.tone.plan import Plan, Rooms, faults, plan
from jobs.calculations.tone.problem import Problem
from jobs.calculations.tone.runs import orders, runs
from jobs.calculations.tone.swaps import NO_LIMIT, Stop, Swaps

AXES = 3
"""Directions of tone in which a drawn order can look: light to dark, and two more."""
POOL = 8
FEW = 70
"""Up to so many sheets every room is tried as the one that takes what the others leave."""


class Search:
    """Swaps and restarts over one problem, the good plans kept."""

    def __init__(self, problem: Problem, seed: int = 0) -> None:
        self.problem, self.random = problem, Random(seed)
        self.swaps = Swaps(problem, seed)
        self.pool: list[Plan] = []

    @cached_property
    def axes(self) -> list[list[float]]:
        """Coordinates of the sheets that keep the differences as well as three can (classical scaling)."""
        np, sheets = self.swaps.np, self.problem.sheets
        square = np.array(self.problem.differences, dtype=float)[np.ix_(sheets, sheets)] ** 2
        centered = square - square.mean(axis=0) - square.mean(axis=1)[:, None] + square.mean()
        sizes, vectors = np.linalg.eigh(-centered / 2)
        axes = vectors[:, ::-1][:, :AXES] * np.sqrt(np.maximum(sizes[::-1][:AXES], 0))
        places: list[list[float]] = [[0.0] * AXES for _ in self.problem.differences]
        for sheet, place in zip(sheets, axes.tolist(), strict=True):
            places[sheet] = place + [0.0] * (AXES - len(place))
        return places

    def drawn_order(self) -> list[int]:
        """The usable sheets along a drawn direction."""
        along = [self.random.gauss(0, 1), self.random.gauss(0, 1), self.random.gauss(0, 0.6)]
        value = {
            sheet: sum(a * b for a, b in zip(along, self.axes[sheet], strict=True)) for sheet in self.problem.sheets
        }
        return sorted(self.problem.sheets, key=lambda sheet: (value[sheet], sheet))

    def starts(self) -> list[Rooms]:
        """Plans of runs along told and drawn orders, the best first."""
        tried = [*orders(self.problem), *(self.drawn_order() for _ in range(12))]
        found = {rooms for rooms in (runs(self.problem, order) for order in tried) if rooms is not None}

        def worth(rooms: Rooms) -> tuple[int, tuple[int, int, int], Rooms]:
            return len(faults(self.problem, rooms)), plan(self.problem, rooms).value, rooms

        return sorted(found, key=worth)

    def redrawn(self, rooms: Rooms, limit: int | None = None) -> Rooms | None:
        """The same plan with some of its rooms emptied and filled again: as runs of the smallest largest range, or
        within a limit of the smallest sum, one of them perhaps with what the others leave."""
        number = len(rooms)
        most = 4 if limit is None or self.random.random() < 0.6 else min(number, 7)
        chosen = self.random.sample(range(number), min(number, self.random.randint(2, max(2, most))))
        kept = tuple((sheet, room, 1) for room in range(number) if room not in chosen for sheet in rooms[room])
        own = tuple(one for one in self.problem.fixed if one[1] in chosen)
        rest = replace(self.problem, fixed=kept + own)
        if limit is not None:
            leftover = self.random.choice([None, *chosen])
            return light_runs(rest, self.drawn_order(), limit, self.swaps.np, leftover)
        return runs(rest, self.drawn_order(), self.random if self.random.random() < 0.5 else None)

    def keep(self, found: Plan) -> None:
        """Put a plan into the pool if it has none of the same worth, the worst of too many out."""
        if found.value not in {one.value for one in self.pool}:
            self.pool = sorted([*self.pool, found], key=lambda one: (one.value, one.rooms))[:POOL]

    def narrowed(self, rooms: Rooms, best: int, stop: Stop, steps: int) -> Plan | None:
        """A plan with a smaller largest range than the best known, as small as swaps from here come to; else none."""
        found, at = None, rooms
        while not stop():
            better = self.swaps.within(at, best - 1, stop, steps)
            if better is None:
                break
            at, found = better, plan(self.problem, better, "swaps")
            best = found.largest
        return found

    def first(self, stop: Stop, steps: int) -> Plan | None:
        """A plan that keeps every condition, from the first order from which swaps come to one, its range as it is."""
        for order in orders(self.problem):
            rooms = runs(self.problem, order)
            rooms = rooms and self.swaps.within(rooms, NO_LIMIT, stop, steps)
            if rooms or stop():
                return plan(self.problem, rooms, "swaps") if rooms else None
        return None

    def narrow(self, best: Plan | None, stop: Stop, steps: int = 1000) -> Iterator[Plan]:
        """Plans of ever smaller largest range."""
        limit = best.largest if best else NO_LIMIT - 1
        if best is None and (found := self.first(stop, steps)):
            best, limit = found, found.largest
            yield found
        starts = self.starts()
        if best:
            self.keep(best)
        bases = [best.rooms] if best else []
        for rooms in [*starts[:2], *bases, *starts[2:10]]:
            if found := self.narrowed(rooms, limit, stop, steps):
                limit = found.largest
                self.keep(found)
                yield found
        while not stop():
            base = self.random.choice(self.pool[: self.random.randint(1, POOL)]).rooms if self.pool else None
            rooms = self.redrawn(base) if base else runs(self.problem, self.drawn_order(), self.random)
            if rooms is not None and (found := self.narrowed(rooms, limit, stop, steps)):
                limit = found.largest
                self.keep(found)
                yield found

    def light_starts(self, limit: int, stop: Stop) -> Iterator[Rooms]:
        """Plans of runs of small sum, the three best of each told or drawn order; some may break the limit."""
        number = len(self.problem.rooms)
        tried = chain(orders(self.problem), (self.drawn_order() for _ in range(6)))
        over = number * OVER

        def worth(rooms: Rooms) -> tuple[int, Rooms]:
            known = plan(self.problem, rooms)
            return known.weighted + over * max(known.largest - limit, 0), rooms

        for order in tried:
            leftovers = range(number) if len(self.problem.sheets) <= FEW else self.random.sample(range(number), 2)
            made = (
                light_runs(self.problem, order, limit, self.swaps.np, room) for room in (None, *leftovers) if not stop()
            )
            yield from sorted({rooms for rooms in made if rooms is not None}, key=worth)[:3]

    def lighten(self, best: Plan, stop: Stop, patience: int = 60) -> Iterator[Plan]:
        """Plans of ever smaller sum, the largest range no larger than that of the best known."""
        limit = best.largest
        self.pool = [one for one in self.pool if one.largest <= limit]
        self.keep(best)
        waiting = chain([best.rooms], self.light_starts(limit, stop))
        while not stop():
            rooms: Rooms | None = next(waiting, None)
            if rooms is None:
                rooms = self.redrawn(self.random.choice(self.pool[: self.random.randint(1, POOL)]).rooms, limit)
            rooms = rooms and self.swaps.within(rooms, limit, stop, 400)
            if rooms is not None:
                found = plan(self.problem, lighter(self.swaps, rooms, limit, stop, patience), "swaps")
                self.keep(found)
                if found.value < best.value:
                    best = found
                    yield found
