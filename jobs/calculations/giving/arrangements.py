"""Arrangements of rooms along the ladder: what one costs, what none can be below, some to begin with.

Rooms of the same need and the same groups held are one kind and are not told apart.
"""

from collections.abc import Mapping
from typing import NamedTuple


class Kind(NamedTuple):
    """Rooms that are alike: what they need in halves, and the groups they hold."""

    halves: int
    holds: tuple[int, ...]

    def steps(self, first: int, last: int) -> int:
        """The range with groups from first to last added, in steps."""
        return max(last, *self.holds[-1:]) - min(first, *self.holds[:1]) if self.holds else last - first

    def is_mixed(self, first: int, last: int) -> bool:
        return first != last or any(group != first for group in self.holds)


# What a kind's room gets: (group, halves), light to dark.
Piece = tuple[Kind, tuple[tuple[int, int], ...]]


class Cost(NamedTuple):
    """Largest range, mixed rooms, steps in all, minus the squares of what is left; less is better."""

    largest: int
    mixed: int
    steps: int
    scattered: int


def cost(pieces: list[Piece], free: tuple[int, ...]) -> Cost:
    """Return what an arrangement costs, less is better.

    Args:
        pieces: one piece for each room [-]
        free: the free halves of each group along the ladder before it [-]

    Example:

        >>> cost([(Kind(4, ()), ((0, 3), (1, 1)))], (3, 5))
        Cost(largest=1, mixed=1, steps=1, scattered=-16)
    """
    left = list(free)
    steps = []
    for kind, given in pieces:
        steps.append(kind.steps(given[0][0], given[-1][0]))
        for group, halves in given:
            left[group] -= halves
    mixed = sum(kind.is_mixed(given[0][0], given[-1][0]) for kind, given in pieces)
    return Cost(max(steps, default=0), mixed, sum(steps), -sum(halves * halves for halves in left))


def least_steps(kind: Kind, free: tuple[int, ...]) -> int:
    """Return the smallest range a room of the kind could have if it came first of all.

    Args:
        kind: the kind of room, needing no more than is free [-]
        free: the free halves of each group along the ladder [-]

    Example:

        >>> least_steps(Kind(6, ()), (5, 0, 3))
        2
    """
    ladder = range(len(free))
    spans = [(a, b) for a in ladder for b in ladder[a:] if sum(free[a : b + 1]) >= kind.halves]
    return min(kind.steps(a, b) for a, b in spans)


def must_be_mixed(kind: Kind, free: tuple[int, ...]) -> bool:
    """Return whether a room of the kind holds more than one group in every arrangement.

    Args:
        kind: the kind of room [-]
        free: the free halves of each group along the ladder [-]

    Example:

        >>> must_be_mixed(Kind(5, ()), (5, 3)), must_be_mixed(Kind(5, (1,)), (5, 3))
        (False, True)
    """
    return not any(halves >= kind.halves and not kind.is_mixed(group, group) for group, halves in enumerate(free))


def orders(kinds: Mapping[Kind, int]) -> list[list[Kind]]:
    """Return some orders in which the rooms could follow each other along the ladder.

    Args:
        kinds: how many rooms there are of each kind [-]

    Returns:
        As given, by need both ways, by the groups held.

    Example:

        >>> [[kind.halves for kind in order] for order in orders({Kind(4, ()): 1, Kind(2, (1,)): 2})]
        [[4, 2, 2], [2, 2, 4], [4, 2, 2], [4, 2, 2]]
    """
    rooms = [kind for kind, count in kinds.items() for _ in range(count)]
    by_need = sorted(rooms, key=lambda kind: kind.halves)
    by_held = sorted(rooms, key=lambda kind: kind.holds)
    return [rooms, by_need, by_need[::-1], by_held]


def plain_runs(order: list[Kind], free: tuple[int, ...]) -> list[Piece]:
    """Return the arrangement in which each room takes the next halves along the ladder.

    Args:
        order: the rooms in their order, needing no more than is free [-]
        free: the free halves of each group along the ladder [-]

    Example:

        >>> [given for kind, given in plain_runs([Kind(4, ()), Kind(3, ())], (5, 4))]
        [((0, 4),), ((0, 1), (1, 2))]
    """
    pieces, group, left = [], 0, list(free)
    for kind in order:
        given, wanted = [], kind.halves
        while wanted:
            taken = min(wanted, left[group])
            if taken:
                given.append((group, taken))
                left[group] -= taken
                wanted -= taken
            if not left[group]:
                group += 1
        pieces.append((kind, tuple(given)))
    return pieces


def best_fit(kinds: Mapping[Kind, int], free: tuple[int, ...]) -> list[Piece] | None:
    """Return the arrangement with each room whole in the group where it leaves least.

    The largest rooms come first, before them those that hold sheets already.

    Args:
        kinds: how many rooms there are of each kind [-]
        free: the free halves of each group along the ladder [-]

    Returns:
        One piece for each room; None where one finds no place.

    Example:

        >>> [given for kind, given in best_fit({Kind(4, ()): 1, Kind(5, ()): 1}, (9, 5))]
        [((1, 5),), ((0, 4),)]
    """
    left, pieces = list(free), []
    for kind in sorted(kinds, key=lambda kind: (not kind.holds, -kind.halves, kind.holds)):
        for _ in range(kinds[kind]):
            places = [
                (kind.steps(group, group), halves, group) for group, halves in enumerate(left) if halves >= kind.halves
            ]
            if not places:
                return None
            group = min(places)[2]
            left[group] -= kind.halves
            pieces.append((kind, ((group, kind.halves),)))
    return pieces
