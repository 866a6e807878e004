"""The search behind the suggestion of tone groups: rooms along the ladder, at most one across each border.

It goes from group to group, light to dark. In each it chooses which rooms lie in that group alone, fills up
with the room that lies open across the border before (it takes all it can), and may open one room across
the next border.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from itertools import islice
from typing import NamedTuple

from jobs.calculations.giving.arrangements import (
    Kind,
    Piece,
    best_fit,
    cost,
    least_steps,
    must_be_mixed,
    orders,
    plain_runs,
)

SEARCH_STEPS = 15_000
POLISH_STEPS = 1_000
BITS_A_STEP = 20_000
# How many choices at each group, and steps for each range: first the likeliest alone, at last all of them.
PASSES = ((1, 600), (3, 1_500), (None, SEARCH_STEPS))


class _Open(NamedTuple):
    kind: int
    left: int
    taken: tuple[tuple[int, int], ...]


def best_arrangement(kinds: Mapping[Kind, int], free: tuple[int, ...]) -> tuple[list[Piece], bool]:
    """Return the best arrangement found, and whether its range and its mixed rooms are proven the least.

    Args:
        kinds: how many rooms there are of each kind; together they need no more than is free [-]
        free: the free halves of each group along the ladder [-]

    Returns:
        One piece for each room, light to dark, and the proof. Nothing is proven by the search where a room
        holds groups already and rooms may be mixed.

    Example: two rooms of 4 halves, three groups: both fit in one group each.

        >>> best_arrangement({Kind(4, ()): 2}, (5, 1, 4))
        ([(Kind(halves=4, holds=()), ((0, 4),)), (Kind(halves=4, holds=()), ((2, 4),))], True)

    Source: house rule, see DEVELOPERS.md.
    """
    if not kinds:
        return [], True
    least = max(least_steps(kind, free) for kind in kinds)
    least_mixed = sum(count for kind, count in kinds.items() if must_be_mixed(kind, free))
    starts = [plain_runs(order, free) for order in orders(kinds)]
    best = min(filter(None, [best_fit(kinds, free), *starts]), key=lambda pieces: cost(pieces, free))
    is_bare = not any(kind.holds for kind in kinds)
    steps_left, is_proven = SEARCH_STEPS, False
    for width, most_steps in PASSES:
        is_least_range = True
        for limit in range(least, cost(best, free).largest + 1):
            is_last = limit == cost(best, free).largest
            search = _Search(kinds, free, limit, least_mixed, best if is_last else None)
            search.run(width, min(most_steps, steps_left if is_last else steps_left // 2))
            steps_left -= search.steps_used
            is_exact = search.is_complete and (limit == 0 or is_bare)
            if search.best is not None:
                best = search.best
                is_proven = is_least_range and (is_exact or search.best_cost[0] == least_mixed)
                break
            is_least_range = is_least_range and is_exact
    return sorted(best, key=lambda piece: piece[1]), is_proven


class _Ended(Exception):
    """The steps are spent."""


class _Search:
    """Depth first over the groups, for one largest range allowed; it keeps the best arrangement found."""

    def __init__(
        self,
        kinds: Mapping[Kind, int],
        free: tuple[int, ...],
        limit: int,
        least_mixed: int,
        known: list[Piece] | None,
    ) -> None:
        self.free, self.limit, self.least_mixed = free, limit, least_mixed
        self.names = sorted(kinds, key=lambda kind: (-kind.halves, kind.holds))
        self.counts = [kinds[kind] for kind in self.names]
        self.spare = sum(free) - sum(kind.halves * count for kind, count in kinds.items())
        self.largest_after = [max(free[group:], default=0) for group in range(len(free) + 1)]
        together = self.spare * min(self.spare, self.largest_after[0])
        self.cannot_be_below = (least_mixed, least_mixed, -together)
        self.best, self.best_cost = None, None
        self.steps_used, self.steps_allowed, self.is_complete = 0, SEARCH_STEPS, False
        self.seen, self.pieces = {}, []
        if known:
            self.keep(known, cost(known, free)[1:])

    def run(self, width: int | None, steps: int) -> None:
        self.width, self.steps_allowed = width, min(steps, self.steps_allowed)
        with suppress(_Ended):
            self._walk(0, None, self.spare, (0, 0, 0))
            self.is_complete = width is None

    def keep(self, pieces: list[Piece], so_far: tuple[int, int, int]) -> None:
        """Take as the best: end where none can be better, soon where none can have fewer mixed rooms."""
        self.best, self.best_cost = pieces, so_far
        if so_far[0] == self.least_mixed:
            self.steps_allowed = min(self.steps_allowed, self.steps_used + POLISH_STEPS)
        if so_far <= self.cannot_be_below:
            self.steps_allowed, self.is_complete = 0, True

    def _walk(self, group: int, opened: _Open | None, spare: int, so_far: tuple[int, int, int]) -> None:
        if group == len(self.free):
            is_better = self.best_cost is None or so_far < self.best_cost
            if not opened and not any(self.counts) and is_better:
                self.keep(list(self.pieces), so_far)
            return
        if self._cannot_win(group, opened, spare, so_far):
            return
        room = self.free[group]
        best_use = max(0, room - opened.left) if opened else room
        for used, takes in islice(self._choices(group, best_use), self.width):
            rest = room - used
            if not opened and self.limit == 0 and rest > spare:
                return
            self._place(group, takes, 1)
            self._fill(group, opened, rest, spare, self._add(so_far, group, takes))
            self._place(group, takes, -1)

    def _fill(self, group: int, opened: _Open | None, rest: int, spare: int, so_far: tuple[int, int, int]) -> None:
        """Let the open room take all it can, then go on to the next group, with each room to open."""
        if opened:
            kind, first = self.names[opened.kind], opened.taken[0][0]
            taken = min(opened.left, rest)
            given = (*opened.taken, (group, taken)) if taken else opened.taken
            if taken < opened.left:
                if kind.steps(first, group + 1) <= self.limit:
                    self._walk(group + 1, _Open(opened.kind, opened.left - taken, given), spare, so_far)
                return
            rest -= taken
            so_far = (so_far[0] + 1, so_far[1] + kind.steps(first, group), so_far[2])
            self.pieces.append((kind, given))
        if rest <= spare:
            self._walk(group + 1, None, spare - rest, (*so_far[:2], so_far[2] - rest * rest))
        if rest:
            for index, kind in islice(self._openable(group, rest), self.width):
                self.counts[index] -= 1
                self._walk(group + 1, _Open(index, kind.halves - rest, ((group, rest),)), spare, so_far)
                self.counts[index] += 1
        if opened:
            self.pieces.pop()

    def _openable(self, group: int, rest: int) -> Iterator[tuple[int, Kind]]:
        """Rooms that can begin in what is left of this group and go on in the next, the largest first."""
        for index, kind in enumerate(self.names):
            if self.counts[index] and kind.halves > rest and kind.steps(group, group + 1) <= self.limit:
                yield index, kind

    def _cannot_win(self, group: int, opened: _Open | None, spare: int, so_far: tuple[int, int, int]) -> bool:
        self._spend()
        key = (group, tuple(self.counts), opened and (opened.kind, opened.left, opened.taken[0][0]))
        if key in self.seen and self.seen[key] <= so_far:
            return True
        self.seen[key] = so_far
        if self.best_cost is None:
            return False
        largest = self.largest_after[group]
        mixed = sum(count for kind, count in zip(self.names, self.counts, strict=True) if kind.halves > largest) + (
            opened is not None
        )
        return (
            so_far[0] + mixed,
            so_far[1] + mixed,
            so_far[2] - spare * min(spare, largest),
        ) >= self.best_cost

    def _choices(self, group: int, best_use: int) -> Iterator[tuple[int, tuple[int, ...]]]:
        """How many rooms of each kind lie in this group alone: (halves used, counts).

        First what is used best: up to what an open room leaves, the fullest first; then what is in its way.
        """
        room = self.free[group]
        self._spend(len(self.names) * room // BITS_A_STEP)
        mask = (1 << (room + 1)) - 1
        allowed = [
            count if kind.halves <= room and kind.steps(group, group) <= self.limit else 0
            for kind, count in zip(self.names, self.counts, strict=True)
        ]
        reach = [1]
        for kind, count in zip(reversed(self.names), reversed(allowed), strict=True):
            sums = reach[-1]
            for _ in range(count):
                sums |= (sums << kind.halves) & mask
            reach.append(sums)
        reach.reverse()
        for used in _sums(reach[0], best_use):
            for takes in self._splits(0, used, allowed, reach):
                yield used, takes

    def _splits(self, index: int, used: int, allowed: list[int], reach: list[int]) -> Iterator[tuple[int, ...]]:
        self._spend()
        if index == len(allowed):
            yield ()
            return
        halves = self.names[index].halves
        for take in range(min(allowed[index], used // halves), -1, -1):
            if reach[index + 1] >> (used - take * halves) & 1:
                for others in self._splits(index + 1, used - take * halves, allowed, reach):
                    yield (take, *others)

    def _place(self, group: int, takes: tuple[int, ...], sign: int) -> None:
        for index, take in enumerate(takes):
            self.counts[index] -= sign * take
            for _ in range(take):
                if sign > 0:
                    self.pieces.append((self.names[index], ((group, self.names[index].halves),)))
                else:
                    self.pieces.pop()

    def _add(self, so_far: tuple[int, int, int], group: int, takes: tuple[int, ...]) -> tuple[int, int, int]:
        mixed, steps, scattered = so_far
        for kind, take in zip(self.names, takes, strict=True):
            if take and kind.holds:
                mixed += take * kind.is_mixed(group, group)
                steps += take * kind.steps(group, group)
        return mixed, steps, scattered

    def _spend(self, steps: int = 1) -> None:
        self.steps_used += steps
        if self.steps_used > self.steps_allowed:
            raise _Ended


def _sums(reachable: int, best: int) -> Iterator[int]:
    """The sums whose bits are set: from the best one down, then from there up."""
    below = reachable & ((1 << (best + 1)) - 1)
    above = reachable ^ below
    while below:
        yield (used := below.bit_length() - 1)
        below ^= 1 << used
    while above:
        yield (above & -above).bit_length() - 1
        above &= above - 1
