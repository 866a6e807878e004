"""The search for a better board plan and a better bound: prices, dives, choices, in turn."""

from collections.abc import Callable, Iterator
from fractions import Fraction
from math import ceil

from jobs.calculations.milling.boards.bounds import possible_cost
from jobs.calculations.milling.boards.choose import Choice, Found, Proof, fillings_within
from jobs.calculations.milling.boards.dive import Diver
from jobs.calculations.milling.boards.fill import Filler
from jobs.calculations.milling.boards.instance import Filled, Instance, Pattern
from jobs.calculations.milling.boards.knapsack import worths
from jobs.calculations.milling.boards.prices import Master, Pricing, bound_of
from workshop.calculations.deadline import Deadline

MOST_CHOSEN_FROM, MOST_FOR_CHOICE, LEAST_CHOICE = 20_000, 4_000, 0.4
FIRST_DIVES, DIVES_BEFORE_CHOICE, FRESH = 3, 8, 60
CHOICE_SECONDS = 3.0
CLOSE = 1e-6

Step = tuple[Fraction | int, Filled | None]
"""A bound that no plan costs less than, and a plan where one was found."""


class Search:
    """Yields bounds and plans until it is over; who takes them in tells by the filler's best plan when to stop."""

    def __init__(
        self, instance: Instance, filler: Filler, bound: int, seed: int, deadline: Deadline, stop: Callable[[], bool]
    ) -> None:
        self.instance, self.filler, self.bound, self.seed = instance, filler, bound, seed
        self.deadline, self.stop = deadline, stop
        self.choices: list[Choice] = []
        self.all_fillings_for: tuple[int, int | None] | None = None
        self.columns_then = 0

    def run(self) -> Iterator[Step]:
        """Bounds and plans as they are found."""
        pricing = Pricing(self.instance, self._first_patterns())
        diver = Diver(self.instance, pricing.master, self.filler, self.seed)
        try:
            while pricing.grid > 1 and not self._is_over():
                pricing.run(self._is_over, self._is_near)
                if self.filler.best_cost is None or self._least(pricing) < self.filler.best_cost:
                    yield self.bound, diver.dive(self._least(pricing), self._is_over)
            yield from self._prices(pricing, self._is_near)
            yield from self._go_on(pricing, diver)
        finally:
            for choice in self.choices:
                choice.end()

    def _go_on(self, pricing: Pricing, diver: Diver) -> Iterator[Step]:
        narrow: Diver | None = None
        turn, converged = 0, False
        while not self._is_over():
            yield self.bound, diver.dive(self._aim(pricing, turn), self._is_over)
            turn += 1
            if turn >= FIRST_DIVES and not converged:
                converged = True
                yield from self._prices(pricing, lambda bound, value: False)
            if converged and self.all_fillings_for != (self.bound, self.filler.best_cost):
                narrow = self._all_fillings(pricing)
            if narrow is not None and not self._is_over():
                yield self.bound, narrow.dive(self.bound, self._is_over)
            yield from self._chosen()
            if narrow is None and turn >= DIVES_BEFORE_CHOICE:
                self._choose_among(pricing.master)

    def _prices(self, pricing: Pricing, is_enough: Callable[[Fraction, float], bool]) -> Iterator[Step]:
        pricing.run(self._is_over, is_enough)
        if pricing.bound is not None:
            yield self._raised(pricing), None

    def _raised(self, pricing: Pricing) -> int:
        """The bound that the prices give; on sizes that were not rounded, or rounded so that it holds."""
        relaxed = self.instance.relaxed
        cost = pricing.bound.cost
        if relaxed is not None:
            price = {
                item: price
                for items, price in zip(self.instance.items, pricing.bound.prices, strict=True)
                for item in items
            }
            prices = [min(price[item] for item in items) for items in relaxed.items]
            most = worths(relaxed.lengths, prices, relaxed.counts, relaxed.longest).most
            cost = bound_of(relaxed, prices, pricing.bound.scale, most).cost
        self.bound = max(self.bound, possible_cost(relaxed or self.instance, cost))
        return self.bound

    def _all_fillings(self, pricing: Pricing) -> Diver | None:
        """Where all fillings of a plan at the bound can be had: look for it, and for a proof that there is none."""
        if self.choices:
            return None
        self.all_fillings_for = self.bound, self.filler.best_cost
        if pricing.bound is None or not self.instance.is_exact:
            return None
        patterns = fillings_within(self.instance, pricing.bound, self.bound, MOST_CHOSEN_FROM)
        if patterns is None:
            return None
        if self._seconds() > LEAST_CHOICE:
            for way in (Proof, Found):
                self.choices.append(way(self.instance, patterns, self.bound, self._seconds(), self.seed))
        if len(patterns) > MOST_FOR_CHOICE:
            return None
        return Diver(self.instance, Master(self.instance, patterns), self.filler, self.seed, prices_anew=False)

    def _choose_among(self, master: Master) -> None:
        """Start a choice among the fillings known, where enough of them are new."""
        fresh = len(master.columns) - self.columns_then
        if self.choices or fresh < FRESH or self._seconds() < LEAST_CHOICE or self.filler.best_cost is None:
            return
        self.columns_then = len(master.columns)
        patterns = list(master.columns)[-MOST_FOR_CHOICE:]
        aim = self.filler.best_cost - self.instance.step
        seconds = min(CHOICE_SECONDS, self._seconds())
        self.choices.append(Found(self.instance, patterns, aim, seconds, self.seed))

    def _chosen(self) -> Iterator[Step]:
        """What the choices that are over tell."""
        for choice in [choice for choice in self.choices if choice.is_over]:
            self.choices.remove(choice)
            if choice.filled is not None:
                yield self.bound, choice.filled
            elif choice.is_none:
                self.bound = max(self.bound, possible_cost(self.instance, choice.aim + 1))
                yield self.bound, None

    def _least(self, pricing: Pricing) -> int:
        """The least cost that the fillings known may do for, whole boards or not."""
        step = self.instance.step
        if pricing.value is None:
            return self.bound
        return max(self.bound, ceil(pricing.value / step - CLOSE) * step)

    def _aim(self, pricing: Pricing, turn: int) -> int:
        """What the next dive may cost: as little as can be, then the least that is better, then between the two."""
        least, best = self._least(pricing), self.filler.best_cost
        if best is None:
            return least + max(board.cost for board in self.instance.boards) * turn
        most = best - self.instance.step
        return max(self.bound, (min(least, most), most, (min(least, most) + most) // 2)[turn % 3])

    def _is_near(self, bound: Fraction, value: float) -> bool:
        """Whether no more prices are needed to know which cost to aim at."""
        step = self.instance.step
        return ceil(bound / step) >= ceil(value / step - CLOSE)

    def _is_over(self) -> bool:
        return self.deadline.passed or self.stop()

    def _seconds(self) -> float:
        return self.deadline.left - 0.1

    def _first_patterns(self) -> list[Pattern]:
        """The fillings of the first plans, and for each kind a board with that kind alone."""
        alone = []
        for kind, (length, count) in enumerate(zip(self.instance.lengths, self.instance.counts, strict=True)):
            for stock, board in enumerate(self.instance.boards):
                if board.limit != 0 and (fits := min(count, board.length // length)):
                    alone += [(stock, ((kind, 1),)), *([(stock, ((kind, fits),))] if fits > 1 else [])]
        return [*dict.fromkeys(self.filler.patterns), *dict.fromkeys(alone)]
