"""What a price is made from: cost lines, and the terms set for the job."""

from dataclasses import dataclass
from fractions import Fraction

from workshop.calculations.costs import Rate
from workshop.calculations.money import PPM, checked_margin, checked_rate, plain_percent

CLASSES = ("material", "labor", "other")
"""The classes of cost lines, in the order in which they are priced and shown."""

OVERHEAD_WAYS = ("cost", "hour")
PROFIT_WAYS = ("markup", "margin")

Room = str | int | None
"""A room by its key; None for what belongs to the whole job."""


class PricingError(ValueError):
    """Cost lines or terms that cannot be priced.

    Attributes:
        typed: the value that cannot stand
        would_do: two texts that are taken in its place
    """

    def __init__(self, typed: object, reason: str, would_do: tuple[str, str]) -> None:
        self.typed = typed
        self.would_do = would_do
        super().__init__(f"{typed} {reason}; {would_do[0]} or {would_do[1]} would do")


class DiscountTooLarge(PricingError):
    """A fixed discount of more than the price before tax.

    Attributes:
        discount_minor: the discount [minor]
        most_minor: the largest discount that can be given [minor]
    """

    def __init__(self, discount_minor: int, most_minor: int) -> None:
        self.discount_minor = discount_minor
        self.most_minor = most_minor
        reason = f"minor units of discount are more than the price before tax, {most_minor}"
        super().__init__(discount_minor, reason, ("0", str(most_minor)))


@dataclass(frozen=True)
class CostLine:
    """One rounded line of cost.

    Attributes:
        room: key of the room, None for the whole job
        klass: material, labor or other
        total_minor: quantity times rate, rounded once [minor]
        hours: hours in the line, where overhead is set per hour [hour]
    """

    room: Room
    klass: str
    total_minor: int
    hours: Fraction | int | None = None

    def __post_init__(self) -> None:
        _one_of(self.klass, CLASSES, "is no class of cost")


@dataclass(frozen=True)
class Terms:
    """How a job's price is made from its cost.

    Attributes:
        overhead_way: cost, a part of the cost, or hour, a rate for each hour
        overhead_ppm: overhead as a part of the cost [ppm]
        overhead_rate: overhead for an hour, where it is set per hour
        contingency_ppm: contingency as a part of cost and overhead [ppm]
        profit_way: markup, a part of what it is put on, or margin, a part of the price
        profit_ppm: profit on cost, overhead and contingency [ppm]
        discount_minor: a fixed discount on the job [minor]
        discount_ppm: a discount as a part of the price, in place of a fixed one [ppm]
        tax_ppm: the tax rate [ppm]
        taxed_classes: the classes whose selling price is taxed
        tax_inclusive: the selling prices already hold the tax
    """

    overhead_way: str = "cost"
    overhead_ppm: int = 0
    overhead_rate: Rate | None = None
    contingency_ppm: int = 0
    profit_way: str = "markup"
    profit_ppm: int = 0
    discount_minor: int = 0
    discount_ppm: int = 0
    tax_ppm: int = 0
    taxed_classes: frozenset[str] = frozenset()
    tax_inclusive: bool = False

    def __post_init__(self) -> None:
        _one_of(self.overhead_way, OVERHEAD_WAYS, "is no way to set overhead")
        _one_of(self.profit_way, PROFIT_WAYS, "is no way to set profit")
        for klass in self.taxed_classes:
            _one_of(klass, CLASSES, "is no class of cost")
        for rate_ppm in (self.overhead_ppm, self.contingency_ppm, self.discount_ppm, self.tax_ppm):
            checked_rate(rate_ppm)
        (checked_margin if self.profit_way == "margin" else checked_rate)(self.profit_ppm)
        if self.overhead_way == "hour" and (self.overhead_rate is None or self.overhead_rate.price < 0):
            raise PricingError(self.overhead_rate, "is no rate for an hour", ("18.00 an hour", "0 an hour"))
        if self.discount_ppm > PPM:
            raise PricingError(f"{plain_percent(self.discount_ppm)} %", "is no discount", ("5 %", "100 %"))
        if self.discount_minor < 0:
            raise PricingError(self.discount_minor, "is a discount below zero", ("0", str(-self.discount_minor)))
        if self.discount_minor and self.discount_ppm:
            both = f"a discount of {self.discount_minor} and of {plain_percent(self.discount_ppm)} %"
            raise PricingError(both, "is one too many", ("the fixed one alone", "the per cent alone"))


def _one_of(value: str, known: tuple[str, ...], reason: str) -> None:
    if value not in known:
        raise PricingError(repr(value), reason, known[:2])
