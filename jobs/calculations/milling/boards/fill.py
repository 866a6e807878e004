"""Plans made at once: board by board, the longest piece left first and beside it what fills the board fullest.

The fullest filling is an exact subset sum, one bit for every length that pieces add up to. From one plan to the next
the order changes at random: pieces left out of a board's choice, and how much a longer board is preferred.
"""

from collections.abc import Callable
from random import Random

from jobs.calculations.milling.boards.instance import Filled, Instance, Pattern, counted, trimmed

MOST_LEFT_OUT, MOST_CHANGED, PLANS_FIRST = 0.4, 6, 12


class Filler:
    """Fills boards; `best` is the cheapest plan so far, none while no plan held every piece."""

    def __init__(self, instance: Instance, seed: int) -> None:
        self.instance = instance
        self.random = Random(seed)
        self.best: Filled | None = None
        self.best_cost: int | None = None
        self.left: tuple[int, ...] = instance.counts
        self.patterns: dict[Pattern, None] = {}

    def run(self, is_over: Callable[[], bool], enough: int) -> None:
        """Fill again and again until it is over or a plan costs no more than enough."""
        self.fill(0.0)
        for _ in range(PLANS_FIRST):
            if self._is_done(is_over, enough):
                return
            self.fill(self.random.uniform(0.02, MOST_LEFT_OUT))
        while self.best is None and not is_over():
            self.fill(self.random.uniform(0.02, MOST_LEFT_OUT))
        plan = self.best
        while not self._is_done(is_over, enough):
            plan = self._changed(plan)

    def _is_done(self, is_over: Callable[[], bool], enough: int) -> bool:
        return is_over() or (self.best_cost is not None and self.best_cost <= enough)

    def _changed(self, plan: Filled) -> Filled:
        """The plan with a few of its boards filled anew, where that costs no more and leaves no less in one piece."""
        instance, random = self.instance, self.random
        if len(plan) < 2:
            return plan
        taken = set(random.sample(range(len(plan)), min(len(plan), random.randint(2, MOST_CHANGED))))
        left, limits = [0] * len(instance.lengths), [board.limit for board in instance.boards]
        before = [pattern for place, pattern in enumerate(plan) if place in taken]
        kept = [pattern for place, pattern in enumerate(plan) if place not in taken]
        for stock, _ in kept:
            if limits[stock] is not None:
                limits[stock] -= 1
        for _, kinds in before:
            for kind, count in kinds:
                left[kind] += count
        after = self.filled(left, limits, random.uniform(0.02, MOST_LEFT_OUT))
        if after is None or self._rank(after) > self._rank(before):
            return plan
        if instance.cost(after) < instance.cost(before):
            self.adopt(kept + after)
        return kept + after

    def _rank(self, boards: Filled) -> tuple[int, int]:
        rests = (self.instance.boards[stock].length - self.instance.used(kinds) for stock, kinds in boards)
        return self.instance.cost(boards), -sum(rest * rest for rest in rests)

    def fill(self, left_out: float) -> bool:
        """Make one plan; true where it is the cheapest so far."""
        left = list(self.instance.counts)
        limits = [board.limit for board in self.instance.boards]
        filled = self.filled(left, limits, left_out)
        if filled is None:
            if self.best is None and sum(left) < sum(self.left):
                self.left = tuple(left)
            return False
        return self.adopt(filled)

    def adopt(self, filled: Filled) -> bool:
        """Take over a plan where it is the cheapest so far."""
        made = trimmed(self.instance, filled)
        cost = self.instance.cost(made)
        if self.best_cost is not None and cost >= self.best_cost:
            return False
        self.best, self.best_cost = made, cost
        self.patterns.update(dict.fromkeys(made))
        return True

    def filled(self, left: list[int], limits: list[int | None], left_out: float = 0.0) -> Filled | None:
        """Boards for the pieces left; `left` and `limits` are used up. None where the boards do not do."""
        filled: Filled = []
        bias = self.random.uniform(0.97, 1.03) if left_out else 1.0
        while any(left):
            first = next(kind for kind, count in enumerate(left) if count)
            pattern = self._board(first, left, limits, left_out, bias)
            if pattern is None:
                return None
            stock, kinds = pattern
            for kind, count in kinds:
                left[kind] -= count
            if limits[stock] is not None:
                limits[stock] -= 1
            filled.append(pattern)
        return filled

    def _board(
        self, first: int, left: list[int], limits: list[int | None], left_out: float, bias: float
    ) -> Pattern | None:
        """The board with the least cost for the length used, the piece `first` in it."""
        lengths, random = self.instance.lengths, self.random
        begins = lengths[first]
        usable = [
            (board.length - begins, place)
            for place, board in enumerate(self.instance.boards)
            if board.length >= begins and limits[place] != 0
        ]
        if not usable:
            return None
        most = max(usable)[0]
        mask, reached, steps = (1 << (most + 1)) - 1, 1, []
        for kind in range(len(lengths) - 1, first - 1, -1):
            count = left[kind] - (kind == first)
            if count <= 0 or lengths[kind] > most or (left_out and random.random() < left_out):
                continue
            count, part = min(count, most // lengths[kind]), 1
            while count:
                part = min(part, count)
                steps.append((kind, part, reached))
                reached |= (reached << (part * lengths[kind])) & mask
                count, part = count - part, part * 2
        found = None
        for room, place in usable:
            used = (reached & ((1 << (room + 1)) - 1)).bit_length() - 1
            board = self.instance.boards[place]
            price = board.cost / (begins + used) * bias ** (board.length / self.instance.longest * 4)
            if found is None or price < found[0]:
                found = price, place, used
        _, place, used = found
        kinds = {first: 1}
        for kind, part, before in reversed(steps):
            size = part * lengths[kind]
            if size <= used and before >> (used - size) & 1:
                kinds[kind] = kinds.get(kind, 0) + part
                used -= size
        return place, counted(kinds)
