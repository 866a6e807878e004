"""The price of a whole job from its cost lines.

Order: cost, overhead, contingency on cost and overhead, profit on those three, discount, tax.

Where it is rounded. Each step is computed once for the job and class, from the rounded amounts of the steps
before it, and rounded half up to the minor unit. Then that amount is split over the rooms of the class by
their cost of the class, by the largest remainder. So the totals of a class do not depend on how many rooms
there are, and the rooms add up to them. For a class with cost C:

    overhead O      round(C x rate), or the hours of the class times the rate for an hour, rounded
    contingency K   round((C + O) x rate)
    profit P        markup: round((C + O + K) x rate)
                    margin m: round((C + O + K) / (1 - m)) - (C + O + K)
    discount D      per cent: round((C + O + K + P) x rate), split over the rooms by cost like the others
                    fixed: split over the classes by C + O + K + P, then the share of each class over its
                    rooms by theirs
    price           C + O + K + P - D

Tax is computed once for the job on the summed price of the taxed classes. Exclusive, it is added; inclusive,
it is what the prices hold already.

    Example. Material of 200.03 in practice room 1 and 100.02 in the recital room, overhead 10 %, markup 20 %:
    C = 300.05, O = round(30.005) = 30.01, in shares of 20.0063... and 10.0036..., so 20.01 and 10.00;
    P = round(330.06 x 0.2) = 66.01, in shares of 44.0060... and 22.0039..., so 44.01 and 22.00.
    The prices are 264.05 and 132.02.

Order matters for ties only: rooms stand in the order of their first line, classes as material, labor, other.
Lines may be below zero (a credit, a change that takes work out); a job of such lines alone is the same job
negated. A room whose cost of a class has the other sign than the job's takes no share in that class, and a
class or room whose price is below zero takes none of a fixed discount. With a discount of nearly 100 per cent
a room can come out a minor unit below zero in one class: its price and its discount are both rounded shares.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from estimates.calculations.terms import (
    CLASSES,
    CostLine,
    DiscountTooLarge,
    PricingError,
    Room,
    Terms,
)
from workshop.calculations.costs import cost
from workshop.calculations.money import (
    margin_price,
    markup_price,
    part_of,
    split,
    tax_inside,
    tax_of,
    within_limit,
)
from workshop.calculations.units import quantity

__all__ = [
    "CLASSES",
    "Amounts",
    "CostLine",
    "DiscountTooLarge",
    "JobPrice",
    "PricingError",
    "Terms",
    "price_job",
]


@dataclass(frozen=True)
class Amounts:
    """What a price is made of, for a room and class or a sum of them; all in minor units."""

    cost_minor: int = 0
    overhead_minor: int = 0
    contingency_minor: int = 0
    profit_minor: int = 0
    discount_minor: int = 0

    @property
    def before_discount_minor(self) -> int:
        return self.cost_minor + self.overhead_minor + self.contingency_minor + self.profit_minor

    @property
    def price_minor(self) -> int:
        return self.before_discount_minor - self.discount_minor

    def __add__(self, other: "Amounts") -> "Amounts":
        return Amounts(
            self.cost_minor + other.cost_minor,
            self.overhead_minor + other.overhead_minor,
            self.contingency_minor + other.contingency_minor,
            self.profit_minor + other.profit_minor,
            self.discount_minor + other.discount_minor,
        )


@dataclass(frozen=True)
class JobPrice:
    """The price of a job.

    Attributes:
        parts: amounts by room and class, only where there are lines; rooms in the order of their first line
        taxable_minor: price of the taxed classes, with the tax when prices hold it [minor]
        tax_minor: the tax, once for the job [minor]
        net_minor: the price without tax [minor]
        total_minor: what the client pays [minor]
    """

    parts: Mapping[tuple[Room, str], Amounts]
    taxable_minor: int
    tax_minor: int
    net_minor: int
    total_minor: int

    @property
    def rooms(self) -> tuple[Room, ...]:
        return tuple(dict.fromkeys(room for room, _ in self.parts))

    @property
    def whole(self) -> Amounts:
        return self._sum(lambda _room, _klass: True)

    def of_room(self, room: Room) -> Amounts:
        return self._sum(lambda its_room, _klass: its_room == room)

    def of_class(self, klass: str) -> Amounts:
        return self._sum(lambda _room, its_class: its_class == klass)

    def _sum(self, wanted: Callable[[Room, str], bool]) -> Amounts:
        return sum((amounts for key, amounts in self.parts.items() if wanted(*key)), Amounts())


def price_job(lines: Sequence[CostLine], terms: Terms) -> JobPrice:
    """The price of a job by room and class, its tax and its total.

    Args:
        lines: rounded cost lines, in the order of the rooms [-]
        terms: overhead, contingency, profit, discount and tax of the job [-]

    Returns:
        the price; its parts add up to its totals to the minor unit

    Raises:
        DiscountTooLarge: a fixed discount of more than the price before tax
        AmountTooLarge: more than 10^13 minor units
        WrongDimension: overhead is set per hour and its rate is not per a time

    Example:
        Material of 528.89 without overhead and profit at a tax of 8.25 %: tax 43.63, total 572.52.
    """
    rooms = tuple(dict.fromkeys(line.room for line in lines))
    by_class = {klass: [line for line in lines if line.klass == klass] for klass in CLASSES}
    by_class = {klass: its_lines for klass, its_lines in by_class.items() if its_lines}
    wholes = {klass: _before_discount(its_lines, terms) for klass, its_lines in by_class.items()}
    discounts = _discounts(wholes, terms)
    spread = {
        klass: _spread(_cost_by_room(its_lines, rooms), wholes[klass], discounts[klass], terms)
        for klass, its_lines in by_class.items()
    }
    parts = {(room, klass): spread[klass][room] for room in rooms for klass in spread if room in spread[klass]}
    return _with_tax(parts, terms)


def _before_discount(lines: list[CostLine], terms: Terms) -> Amounts:
    total = sum(line.total_minor for line in lines)
    if terms.overhead_way == "hour":
        hours = sum((Fraction(line.hours or 0) for line in lines), Fraction(0))
        overhead = cost(quantity(hours, "hour"), terms.overhead_rate)
    else:
        overhead = part_of(total, terms.overhead_ppm)
    contingency = part_of(total + overhead, terms.contingency_ppm)
    base = total + overhead + contingency
    priced = margin_price if terms.profit_way == "margin" else markup_price
    return Amounts(total, overhead, contingency, priced(base, terms.profit_ppm) - base)


def _discounts(wholes: Mapping[str, Amounts], terms: Terms) -> dict[str, int]:
    before = [whole.before_discount_minor for whole in wholes.values()]
    if not terms.discount_minor:
        return {klass: part_of(price, terms.discount_ppm) for klass, price in zip(wholes, before, strict=True)}
    if terms.discount_minor > sum(before):
        raise DiscountTooLarge(terms.discount_minor, max(sum(before), 0))
    return dict(zip(wholes, split(terms.discount_minor, _above_zero(before)), strict=True))


def _spread(cost_by_room: dict[Room, int], whole: Amounts, discount_minor: int, terms: Terms) -> dict[Room, Amounts]:
    costs = list(cost_by_room.values())
    sign = -1 if whole.cost_minor < 0 else 1
    weights = _above_zero([sign * its_cost for its_cost in costs])
    overheads = split(whole.overhead_minor, weights)
    contingencies = split(whole.contingency_minor, weights)
    profits = split(whole.profit_minor, weights)
    if terms.discount_minor:
        weights = _above_zero([sum(steps) for steps in zip(costs, overheads, contingencies, profits, strict=True)])
    discounts = split(discount_minor, weights)
    rows = zip(costs, overheads, contingencies, profits, discounts, strict=True)
    return {room: Amounts(*row) for room, row in zip(cost_by_room, rows, strict=True)}


def _above_zero(weights: list[int]) -> list[int]:
    return [max(weight, 0) for weight in weights]


def _cost_by_room(lines: list[CostLine], rooms: tuple[Room, ...]) -> dict[Room, int]:
    totals: dict[Room, int] = {}
    for line in lines:
        totals[line.room] = totals.get(line.room, 0) + line.total_minor
    return {room: totals[room] for room in rooms if room in totals}


def _with_tax(parts: Mapping[tuple[Room, str], Amounts], terms: Terms) -> JobPrice:
    price = within_limit(sum(amounts.price_minor for amounts in parts.values()))
    taxable = sum(amounts.price_minor for (_, klass), amounts in parts.items() if klass in terms.taxed_classes)
    if terms.tax_inclusive:
        tax = tax_inside(taxable, terms.tax_ppm)
        return JobPrice(parts, taxable, tax, price - tax, price)
    tax = tax_of(taxable, terms.tax_ppm)
    return JobPrice(parts, taxable, tax, price, within_limit(price + tax))
