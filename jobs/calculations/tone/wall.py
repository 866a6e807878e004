"""The order of panels along a wall: first the smallest largest step between neighbors, then the smallest sum of steps.

Exact to MOST_EXACT panels by dynamic programming over sets of panels (the way Held and Karp do for the shortest tour);
above that chains of nearest panels made better by turning stretches round and by moving panels, which is said.
Two halves of one sheet that are to hang side by side count as one panel while the order is looked for.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

MOST_EXACT = 13
MOST_CHAINS = 160
"""Chains made better times panels: fewer chains with more panels, so that an answer stays a matter of seconds."""

Square = Sequence[Sequence[int]]


@dataclass(frozen=True)
class WallOrder:
    """Panels from left to right.

    Attributes:
        panels: places of the panels in the square of differences [-]
        largest_step: largest difference between neighbors, ten-thousandths [-]
        total: sum of the differences between neighbors, ten-thousandths [-]
        largest_step_at_least: no order has a smaller largest step [-]
        proven: whether no order is better in either [-]
    """

    panels: tuple[int, ...]
    largest_step: int
    total: int
    largest_step_at_least: int
    proven: bool


class NotOnThisWall(ValueError):
    """A pair of halves names a panel that the wall has not, or one twice."""

    def __init__(self, panels: tuple[int, ...]) -> None:
        self.panels = panels
        super().__init__(f"the halves {panels} are not each once on this wall; each panel in one pair at most would do")


def wall_order(differences: Square, halves: Sequence[tuple[int, int]] = ()) -> WallOrder:
    """The order of panels along a wall with the gentlest steps.

    Args:
        differences: ten-thousandths between every two panels [-]
        halves: pairs that hang side by side, first the one whose cut edge is on its right [-]

    Returns:
        the order, with what is proven of it; of an order and its mirror image the one that begins earlier

    Raises:
        NotOnThisWall: a pair names a panel that is not there, or one twice

    Example:
        >>> wall_order([[0, 5, 9], [5, 0, 4], [9, 4, 0]]).panels
        (0, 1, 2)
    """
    named = [panel for pair in halves for panel in pair]
    if len(set(named)) < len(named) or not all(0 <= panel < len(differences) for panel in named):
        raise NotOnThisWall(tuple(named))
    follows = dict(halves)
    blocks = [panel for panel in range(len(differences)) if panel not in follows.values()]
    within = max((differences[one][other] for one, other in halves), default=0)
    square = [[_between(differences, follows, one, other) for other in blocks] for one in blocks]
    exact = len(blocks) <= MOST_EXACT
    order = _exact(square) if exact else _gentle(square)
    if order and order[0] > order[-1]:
        order.reverse()
    panels = [panel for at in order for panel in (blocks[at], follows.get(blocks[at])) if panel is not None]
    steps = [differences[one][other] for one, other in pairwise(panels)]
    largest = max(steps, default=0)
    alike = all(differences[one][k] == differences[other][k] for one, other in halves for k in range(len(differences)))
    at_least = max(within, largest if exact and alike else _least_step(square))
    return WallOrder(tuple(panels), largest, sum(steps), min(at_least, largest), exact and alike)


def _between(differences: Square, follows: dict[int, int], one: int, other: int) -> int:
    """The least difference of two blocks; the halves of a sheet are alike, so that any of them tells it."""
    here = [one, follows[one]] if one in follows else [one]
    there = [other, follows[other]] if other in follows else [other]
    return 0 if one == other else min(differences[a][b] for a in here for b in there)


def _exact(square: Square) -> list[int]:
    number = len(square)
    if number < 2:
        return list(range(number))
    steps = sorted({step for row in square for step in row})
    at = bisect_left(steps, True, key=lambda limit: _reachable(square, limit))
    return _shortest(square, steps[at])


def _near(square: Square, limit: int) -> list[int]:
    """Per panel those within the limit, as bits."""
    return [
        sum(1 << other for other, step in enumerate(row) if other != one and step <= limit)
        for one, row in enumerate(square)
    ]


def _reachable(square: Square, limit: int) -> bool:
    """Whether there is an order with every step within the limit."""
    near, everything = _near(square, limit), (1 << len(square)) - 1
    ends = [0] * (everything + 1)
    for one in range(len(square)):
        ends[1 << one] = 1 << one
    for mask in range(1, everything + 1):
        left, found = mask, ends[mask]
        while left:
            bit = left & -left
            left ^= bit
            if ends[mask ^ bit] & near[bit.bit_length() - 1]:
                found |= bit
        ends[mask] = found
    return ends[everything] != 0


def _shortest(square: Square, limit: int) -> list[int]:
    """The order of the smallest sum with every step within the limit."""
    number = len(square)
    everything, far = (1 << number) - 1, 1 << 60
    near = [[other for other in range(number) if bits >> other & 1] for bits in _near(square, limit)]
    least = [[far] * number for _ in range(everything + 1)]
    for one in range(number):
        least[1 << one][one] = 0
    for mask in range(1, everything + 1):
        sums = least[mask]
        for one in range(number):
            if mask >> one & 1 and mask != 1 << one:
                before, row = least[mask ^ 1 << one], square[one]
                sums[one] = min((before[other] + row[other] for other in near[one]), default=far)
    mask, one = everything, min(range(number), key=lambda end: least[everything][end])
    order = [one]
    while mask != 1 << one:
        rest = least[mask ^ 1 << one]
        mask, one = mask ^ 1 << one, min(near[one], key=lambda other: rest[other] + square[one][other])
        order.append(one)
    return order


def _gentle(square: Square) -> list[int]:
    """A good order of many panels: chains from every panel, the best made better step by step."""
    number = len(square)
    best: tuple[tuple[int, int], list[int]] | None = None
    chains = []
    for start in range(number):
        chain, left = [start], set(range(number)) - {start}
        while left:
            chain.append(min(left, key=lambda other: (square[chain[-1]][other], other)))
            left.remove(chain[-1])
        chains.append((_worth(square, chain), chain))
    pairs = ((one, other) for one in range(number) for other in range(one))
    ends = max(pairs, key=lambda pair: square[pair[0]][pair[1]])
    for end in ends:
        chain = sorted(range(number), key=lambda panel: (square[end][panel], panel))
        chains.append((_worth(square, chain), chain))
    for _, chain in sorted(chains)[: max(2, MOST_CHAINS // number)]:
        bettered = _bettered(square, chain)
        if best is None or bettered < best:
            best = bettered
    return best[1] if best else []


def _worth(square: Square, order: list[int]) -> tuple[int, int]:
    steps = [square[one][other] for one, other in pairwise(order)]
    return max(steps), sum(steps)


def _bettered(square: Square, order: list[int]) -> tuple[tuple[int, int], list[int]]:
    """The order once no stretch turned round and no one to three panels moved elsewhere make it better."""
    worth, number, going = _worth(square, order), len(order), True
    while going:
        going = False
        for one in range(number):
            for other in range(one + 1, number + 1):
                tries = [order[:one] + order[one:other][::-1] + order[other:]]
                if other - one <= 3:
                    rest, part = order[:one] + order[other:], order[one:other]
                    tries += [rest[:at] + way + rest[at:] for at in range(len(rest) + 1) for way in (part, part[::-1])]
                for tried in tries:
                    value = _worth(square, tried)
                    if value < worth:
                        order, worth, going = tried, value, True
    return worth, order


def _least_step(square: Square) -> int:
    """A largest step that no order goes below: all panels hang together, and all but the two ends have two near."""
    number = len(square)
    if number < 2:
        return 0
    joined, reach, widest = {0}, list(square[0]), 0
    while len(joined) < number:
        nearest = min((one for one in range(number) if one not in joined), key=lambda one: reach[one])
        widest = max(widest, reach[nearest])
        joined.add(nearest)
        reach = [min(one, other) for one, other in zip(reach, square[nearest], strict=True)]
    others = (row[:one] + row[one + 1 :] for one, row in enumerate(square))
    second = sorted(sorted(row)[:2][-1] for row in others)
    return max(widest, second[-3] if number > 2 else 0)
