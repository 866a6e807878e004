"""Whole boards out of the linear programme: take the filling used most, price what is left anew, and so on.

Fillings taken a whole number of times are taken at once. Where what is left can no longer be cut at the cost aimed
at, the last filling taken by choice is forbidden and another one tried, a few times; the next dive chooses at random
among the fillings used nearly as much.

Source: diving with limited discrepancy on column generation (Sadykov et al. 2019; here in its plainest form).
"""

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from jobs.calculations.milling.boards.fill import Filler
from jobs.calculations.milling.boards.instance import Filled, Instance, Pattern
from jobs.calculations.milling.boards.knapsack import worths
from jobs.calculations.milling.boards.prices import COARSE, Master, finer

WHOLE, TAKEN_TOO, NEARLY = 1e-6, 0.85, 0.7
FILLS, MOST_ROUNDS, MOST_BACK, CHOSEN_FROM = 4, 60, 6, 6


@dataclass
class _Rest:
    """What is still to be cut, and what may not be used for it."""

    fixed: Filled
    counts: list[int]
    limits: list[int | None]
    banned: frozenset[Pattern]

    def copy(self) -> "_Rest":
        return _Rest(list(self.fixed), list(self.counts), list(self.limits), self.banned)

    def take(self, pattern: Pattern) -> bool:
        stock, kinds = pattern
        if self.limits[stock] == 0 or any(count > self.counts[kind] for kind, count in kinds):
            return False
        for kind, count in kinds:
            self.counts[kind] -= count
        if self.limits[stock] is not None:
            self.limits[stock] -= 1
        self.fixed.append(pattern)
        return True


class Diver:
    """Dives again and again for a plan that costs no more than is aimed at."""

    def __init__(self, instance: Instance, master: Master, filler: Filler, seed: int, prices_anew: bool = True) -> None:
        self.instance, self.master, self.filler = instance, master, filler
        self.random = Random(seed)
        self.grid = max(1, instance.longest // COARSE)
        self.prices_anew = prices_anew
        self.dives = 0

    def dive(self, aim: int, is_over: Callable[[], bool]) -> Filled | None:
        """One dive; a plan that costs no more than `aim`, or none."""
        self.dives += 1
        limits = [board.limit for board in self.instance.boards]
        whole = _Rest([], list(self.instance.counts), limits, frozenset())
        try:
            return self._down(whole.copy(), aim, is_over)
        finally:
            self.master.ask_for(whole.counts, whole.limits, whole.banned)

    def _down(self, now: _Rest, aim: int, is_over: Callable[[], bool]) -> Filled | None:
        before: list[tuple[_Rest, Pattern]] = []
        back = 0
        while not is_over():
            if not any(now.counts):
                return now.fixed
            rest = aim - self.instance.cost(now.fixed)
            if now.fixed and (ends := self._filled(now, rest)) is not None:
                return now.fixed + ends
            self.master.ask_for(list(now.counts), list(now.limits), now.banned)
            if rest > 0 and self._can_be_cut(rest, is_over):
                then = now.copy()
                chosen = self._take(now)
                if chosen is not None:
                    before.append((then, chosen))
                    continue
            back += 1
            if not before or back > MOST_BACK:
                return None
            now, chosen = before.pop()
            now.banned |= {chosen}
        return None

    def _filled(self, now: _Rest, rest: int) -> Filled | None:
        for attempt in range(FILLS):
            made = self.filler.filled(list(now.counts), list(now.limits), 0.1 * attempt)
            if made is not None and self.instance.cost(made) <= rest:
                return made
        return None

    def _can_be_cut(self, rest: int, is_over: Callable[[], bool]) -> bool:
        """Whether the linear programme still cuts the rest for the cost left, with new fillings if need be."""
        instance, master = self.instance, self.master
        grid = self.grid
        for _ in range(MOST_ROUNDS):
            value = master.solve()
            if value is None or is_over():
                return False
            if value <= rest + WHOLE:
                return True
            if not self.prices_anew:
                return False
            prices = master.prices()
            sizes = [-(-length // grid) for length in instance.lengths] if grid > 1 else instance.lengths
            found = worths(sizes, prices, master.counts, instance.longest // grid)
            if master.improve(prices, found, grid):
                continue
            if grid == 1:
                return False
            grid = finer(grid)
        return False

    def _take(self, now: _Rest) -> Pattern | None:
        """Take fillings as the linear programme has them; which was the choice, none where none was taken."""
        used = [
            (value, pattern)
            for pattern, column in self.master.columns.items()
            if (value := column.solution_value()) > WHOLE
        ]
        first = None
        parts: list[tuple[float, Pattern]] = []
        for value, pattern in used:
            whole = int(value + WHOLE)
            for _ in range(whole):
                if now.take(pattern):
                    first = first or pattern
            if value - whole > WHOLE:
                parts.append((value - whole, pattern))
        if not parts:
            return first
        parts.sort(key=lambda each: -each[0])
        good = [pattern for part, pattern in parts if part >= parts[0][0] * NEARLY][:CHOSEN_FROM]
        chosen = good[0] if self.dives == 1 else self.random.choice(good)
        if now.take(chosen):
            first = chosen
        for part, pattern in parts:
            if part >= TAKEN_TOO and pattern != chosen and now.take(pattern):
                first = first or pattern
        return first
