"""What the kept pieces of a delivery cost once freight and charges are in.

The rule. Refused and short pieces are not owed unless the supplier bills them. Freight and charges are owed
whole and land on what was kept: over the lines by the value of what was kept (or by count, area or weight),
then over the pieces of a line alike, each time by the largest remainder. A damaged piece that is kept costs
like any other less its credit; a credit leaves the shares of the other lines as they were.

A line counted in sheets, boards, pieces or boxes has a cost for each kept piece. A line measured in board
feet, gallons and the like has one landed total.

Money that has nothing to land on is not lost: when a whole delivery is refused, its freight, and what is
billed of a line of which nothing was kept, stand in `unspread_minor`.

An invoice that differs from count times price takes its place: the line owes what is invoiced, and of it what
was kept has its share of the value.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from workshop.calculations.costs import Rate, cost
from workshop.calculations.money import split
from workshop.calculations.units import quantity

BASES = ("value", "count", "area", "weight")
COUNTED = ("sheet", "board", "piece", "box")


class LandedCostError(ValueError):
    """A delivery line whose figures contradict each other.

    Attributes:
        line: place of the line in the delivery, 0 for the first
        typed: the figure that cannot stand
        would_do: two texts that are taken in its place
    """

    def __init__(self, line: int, typed: object, reason: str, would_do: tuple[str, str]) -> None:
        self.line = line
        self.typed = typed
        self.would_do = would_do
        super().__init__(f"line {line + 1}: {typed} {reason}; {would_do[0]} or {would_do[1]} would do")


class CreditTooLarge(LandedCostError):
    """A credit of more than what it is for has cost."""


@dataclass(frozen=True)
class DeliveryLine:
    """One line of a delivery as counted at the door.

    Attributes:
        kept: how many were kept, in the unit of the rate [-]
        rate: the unit price, per the unit that is counted [-]
        refused: how many were sent back at the door [-]
        refused_billed: the supplier bills them all the same
        short: how many are on the packing slip and were not there [-]
        short_billed: the supplier bills them all the same
        credit_minor: credited on the line as a whole [minor]
        piece_credits: credited for single damaged pieces, by place among the kept, 0 for the first [minor]
        size: area or weight of one unit, where charges are spread by it [-]
        invoiced_minor: what the line comes to by the invoice, where one came [minor]
    """

    kept: int | Fraction
    rate: Rate
    refused: int | Fraction = 0
    refused_billed: bool = False
    short: int | Fraction = 0
    short_billed: bool = False
    credit_minor: int = 0
    piece_credits: Mapping[int, int] = field(default_factory=dict)
    size: int | Fraction | None = None
    invoiced_minor: int | None = None

    @property
    def owed(self) -> int | Fraction:
        billed = (self.refused if self.refused_billed else 0) + (self.short if self.short_billed else 0)
        return self.kept + billed

    @property
    def is_counted(self) -> bool:
        return self.rate.per in COUNTED


@dataclass(frozen=True)
class LandedLine:
    """What one line costs.

    Attributes:
        goods_minor: owed for the goods, before credits [minor]
        charges_minor: its share of freight and charges [minor]
        credit_minor: all its credits [minor]
        pieces_minor: the cost of each kept piece, in their order; empty for a measured line [minor]
    """

    goods_minor: int
    charges_minor: int
    credit_minor: int
    pieces_minor: tuple[int, ...]

    @property
    def total_minor(self) -> int:
        return self.goods_minor + self.charges_minor - self.credit_minor


@dataclass(frozen=True)
class Landed:
    """What a delivery costs: its lines as given, and what had nothing to land on.

    Attributes:
        lines: one for each line given, in their order
        unspread_minor: owed with nothing kept to carry it [minor]
    """

    lines: tuple[LandedLine, ...]
    unspread_minor: int

    @property
    def total_minor(self) -> int:
        return sum(line.total_minor for line in self.lines) + self.unspread_minor


def landed(lines: Sequence[DeliveryLine], charges_minor: int, basis: str = "value") -> Landed:
    """The landed cost of every line of a delivery and of every kept piece.

    Args:
        lines: the lines in the order of the packing slip; of equal remainders the earlier takes the cent [-]
        charges_minor: freight, other charges and tax that cannot be reclaimed, for the whole delivery [minor]
        basis: what the charges are spread by: value, count, area or weight [-]

    Returns:
        the lines in the same order, and what had nothing to land on; together all that is owed [minor]

    Raises:
        LandedCostError: a count or price below zero, a part of a sheet, a second currency, a size that is
            missing, an unknown basis
        CreditTooLarge: a credit of more than the line or the piece costs

    Example:
        42 sheets at 71.50 and 315.00 freight: 79.00 each. Three refused: 3,103.50 over 39, of which 27 sheets
        cost 79.58 and 12 cost 79.57.
    """
    for place, line in enumerate(lines):
        _check(place, line)
        if line.rate.currency != lines[0].rate.currency:
            raise LandedCostError(
                place,
                line.rate.currency,
                "is a second currency",
                (lines[0].rate.currency, "a delivery of its own"),
            )
    weights = [_weight(place, line, basis) for place, line in enumerate(lines)]
    carrying = [place for place, line in enumerate(lines) if line.kept]
    shares = dict.fromkeys(range(len(lines)), 0)
    if carrying:
        shares |= zip(carrying, split(charges_minor, [weights[place] for place in carrying]), strict=True)

    results = [_landed_line(place, line, shares[place]) for place, line in enumerate(lines)]
    unspread = 0 if carrying else charges_minor
    for place, line in enumerate(lines):
        if not line.kept:
            unspread += results[place].total_minor
            results[place] = LandedLine(0, 0, 0, ())
    return Landed(tuple(results), unspread)


def _landed_line(place: int, line: DeliveryLine, charges_minor: int) -> LandedLine:
    goods = _goods(line, line.owed) if line.invoiced_minor is None else line.invoiced_minor
    landed_minor = goods + charges_minor - line.credit_minor
    credited = line.credit_minor + sum(line.piece_credits.values())
    most = goods + charges_minor
    if credited > max(most, 0):
        raise CreditTooLarge(place, credited, "is credited for more than the line costs", ("0", str(most)))
    pieces = split(landed_minor, [1] * int(line.kept)) if line.is_counted and line.kept else []
    for piece, credit in line.piece_credits.items():
        if credit > pieces[piece]:
            raise CreditTooLarge(
                place, credit, f"is credited for a piece of {pieces[piece]}", ("0", str(pieces[piece]))
            )
        pieces[piece] -= credit
    return LandedLine(goods, charges_minor, credited, tuple(pieces))


def _goods(line: DeliveryLine, count: int | Fraction) -> int:
    return cost(quantity(count, line.rate.per), line.rate)


def _value_of_kept(line: DeliveryLine) -> int | Fraction:
    if line.invoiced_minor is None or not line.owed:
        return _goods(line, line.kept)
    return Fraction(line.invoiced_minor) * Fraction(line.kept) / Fraction(line.owed)


def _weight(place: int, line: DeliveryLine, basis: str) -> int | Fraction:
    if basis == "value":
        return _value_of_kept(line)
    if basis == "count":
        return line.kept
    if basis not in BASES:
        raise LandedCostError(place, basis, "is no way to spread charges", ("value", "count"))
    if line.size is None:
        raise LandedCostError(place, f"no {basis}", f"is known for {line.rate.per}", (f"its {basis}", "value"))
    return line.kept * line.size


def _check(place: int, line: DeliveryLine) -> None:
    counts = (line.kept, line.refused, line.short, line.rate.price, line.size or 0)
    for count in (*counts, line.credit_minor, line.invoiced_minor or 0, *line.piece_credits.values()):
        if count < 0:
            raise LandedCostError(place, count, "is below zero", ("0", str(-count)))
    if line.is_counted and Fraction(line.kept).denominator != 1:
        near = int(line.kept)
        raise LandedCostError(place, line.kept, "is not a whole count", (str(near), str(near + 1)))
    for piece in line.piece_credits:
        if not line.is_counted or not 0 <= piece < line.kept:
            raise LandedCostError(place, piece, "is not one of the kept pieces", ("0", str(max(line.kept - 1, 1))))
