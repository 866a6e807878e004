"""Costs that no plan can be better than, worked out at once and in whole numbers.

Sources: Martello and Toth 1990, bound L2 for boards of one length; for several lengths the boards have to be as long
together as the pieces.
"""

from bisect import bisect_left, bisect_right
from fractions import Fraction
from itertools import accumulate

from jobs.calculations.milling.boards.instance import Instance

MOST_STEPS, MOST_ONE_BY_ONE = 50_000, 40
"""Costs up to so many of their common steps, and boards of a length up to so many, are looked at one by one."""


def first_bound(instance: Instance) -> int:
    """Return a cost that no plan is below, without the optimizer.

    Args:
        instance: the problem as the search sees it [-]

    Returns:
        The bound.

    Example: three pieces of 6 need three boards of 10, though 18 would go into two.

        >>> from jobs.calculations.milling.boards.instance import Board
        >>> first_bound(Instance((Board(10, 1, None),), (6,), (3,), ((0, 0, 0),)))
        3

    Source: see the module.
    """
    total = sum(length * count for length, count in zip(instance.lengths, instance.counts, strict=True))
    cost = min(Fraction(board.cost, board.length) for board in instance.boards if board.length > 0) * total
    usable = [board for board in instance.boards if board.limit != 0]
    if len(usable) == 1:
        cost = max(cost, Fraction(usable[0].cost * _boards(instance, usable[0].length)))
    return possible_cost(instance, cost)


def _boards(instance: Instance, board: int) -> int:
    """The bound L2: pieces beyond half a board share none; the short ones fill what those leave, and then boards."""
    lengths = sorted(
        length for length, count in zip(instance.lengths, instance.counts, strict=True) for _ in range(count)
    )
    sums = [0, *accumulate(lengths)]
    half = bisect_right(lengths, board // 2)
    best = len(lengths) - half
    for short in sorted({0, *(length for length in lengths[:half])}):
        begins = bisect_left(lengths, short)
        alone = bisect_right(lengths, board - short)
        beside = max(0, alone - half)
        room = beside * board - (sums[alone] - sums[half]) if beside else 0
        lacking = sums[half] - sums[begins] - room
        best = max(best, len(lengths) - half + max(0, -(-lacking // board)))
    return best


def possible_cost(instance: Instance, cost: Fraction | int) -> int:
    """Return the least cost not below a bound at which boards are as long together as the pieces.

    Args:
        instance: the problem as the search sees it [-]
        cost: a bound [minor]

    Returns:
        The bound, raised to a cost that boards can add up to; where there are very many costs to the next multiple of
        what all have in common.

    Example: boards of 4 at 20 and of 6 at 30: pieces of 10 together cost 50, and never 41.

        >>> from jobs.calculations.milling.boards.instance import Board
        >>> made = Instance((Board(4, 20, None), Board(6, 30, None)), (5, 1), (1, 5), ((0,), (1,) * 5))
        >>> possible_cost(made, 41)
        50

    Source: house rule.
    """
    step = instance.step
    least = -(-cost // step)
    total = sum(length * count for length, count in zip(instance.lengths, instance.counts, strict=True))
    highest = int(least) + max(board.cost for board in instance.boards) // step * 2
    if highest > MOST_STEPS:
        return int(least) * step
    longest = [0] + [-1] * highest
    for board in instance.boards:
        if board.length <= 0 or board.limit == 0:
            continue
        price = board.cost // step
        if board.limit is None or board.limit > MOST_ONE_BY_ONE or board.limit * price > highest:
            for at in range(price, highest + 1):
                if longest[at - price] >= 0:
                    longest[at] = max(longest[at], longest[at - price] + board.length)
            continue
        for _ in range(board.limit):
            for at in range(highest, price - 1, -1):
                if longest[at - price] >= 0:
                    longest[at] = max(longest[at], longest[at - price] + board.length)
    for at in range(int(least), highest + 1):
        if longest[at] >= total:
            return at * step
    return int(least) * step
