"""Coats of finish on a job: how much of each product, in which cans, and when the next coat can go on."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.calculations.finish import FinishError, spreading_rate


@dataclass(frozen=True)
class Coat:
    """One coat.

    Attributes:
        product: its name
        rate: square meters a liter of the unthinned product, as its label says; or none
        solids_percent, dry_film_micrometers: from which the rate follows where the label has none
        transfer: share that stays on the piece; with a label's rate 1 where the label has counted it
        thinner_percent: by volume of the product
        recoat_hours: until the next coat
        dry_hours: until it can be stacked
    """

    product: str
    rate: Fraction | None = None
    solids_percent: Fraction | None = None
    dry_film_micrometers: Fraction | None = None
    transfer: Fraction = Fraction(1)
    thinner_percent: Fraction = Fraction(0)
    recoat_hours: Fraction = Fraction(0)
    dry_hours: Fraction = Fraction(0)

    @property
    def covers(self) -> Fraction:
        """Square meters a liter of the unthinned product, with what is lost."""
        if self.rate is not None:
            if self.rate <= 0 or not 0 < self.transfer <= 1:
                raise FinishError(
                    "a spreading rate", self.rate, ("8 square meters a liter", "350 square feet a gallon")
                )
            return self.rate * self.transfer
        if self.solids_percent is None or self.dry_film_micrometers is None:
            raise FinishError("a spreading rate", 0, ("the label's rate", "volume solids and film"))
        return spreading_rate(self.solids_percent, self.dry_film_micrometers, self.transfer)


@dataclass(frozen=True)
class Needed:
    """Of one product, for the job: liters of it and liters of thinner in it."""

    product: str
    liters: Fraction
    thinner_liters: Fraction


def needed(coats: Sequence[Coat], square_meters: Fraction) -> tuple[Needed, ...]:
    """How much of each product a job takes.

    Args:
        coats: in the order in which they go on [-]
        square_meters: area that takes each of them [-]

    Returns:
        product by product in the order of the coats; several coats of one add up [-]

    Raises:
        FinishError: a coat without a rate, or without what it follows from

    Example:
        A sealer at 10 and two coats of satin at 8 square meters a liter over 40: 4 and 10 liters.

        >>> made = needed([Coat("sealer", Fraction(10)), *[Coat("satin", Fraction(8))] * 2], Fraction(40))
        >>> [(each.product, int(each.liters)) for each in made]
        [('sealer', 4), ('satin', 10)]
    """
    found: dict[str, tuple[Fraction, Fraction]] = {}
    for coat in coats:
        liters, thinner = found.get(coat.product, (Fraction(0), Fraction(0)))
        more = square_meters / coat.covers
        found[coat.product] = liters + more, thinner + more * coat.thinner_percent / 100
    return tuple(Needed(product, liters, thinner) for product, (liters, thinner) in found.items())


@dataclass(frozen=True)
class Can:
    """A can as it is sold: its content in liters and its price."""

    liters: Fraction
    price_minor: int


@dataclass(frozen=True)
class Bought:
    """Cans to buy: how many of each in the order given, their price, and the liters over."""

    counts: tuple[int, ...]
    price_minor: int
    over_liters: Fraction


def cans(liters: Fraction, sizes: Sequence[Can]) -> Bought:
    """The cans that cost least, of equal cost those with the least over.

    Args:
        liters: needed [-]
        sizes: cans that can be had [-]

    Returns:
        how many of each [minor]

    Raises:
        FinishError: no can, or one without content or with a price below zero

    Example:
        11 liters out of cans of 1 liter at 20.00 and 5 liters at 80.00: two large and one small.

        >>> cans(Fraction(11), [Can(Fraction(1), 2000), Can(Fraction(5), 8000)]).counts
        (1, 2)

    Source: house rule; exact.
    """
    if not sizes:
        raise FinishError("a number of can sizes", 0, ("1", "2"))
    for can in sizes:
        if can.liters <= 0 or can.price_minor < 0:
            raise FinishError("a can's content or price", min(can.liters, can.price_minor), ("1 liter", "1 gallon"))
    if liters <= 0:
        return Bought((0,) * len(sizes), 0, Fraction(0))
    by_liter = [can.price_minor / Fraction(can.liters) for can in sizes]
    order = sorted(range(len(sizes)), key=lambda place: (by_liter[place], -sizes[place].liters))
    best: tuple[int, Fraction, tuple[int, ...]] | None = None

    def fill(at: int, left: Fraction, price: int, counts: dict[int, int]) -> None:
        nonlocal best
        if left <= 0:
            made = price, -left, tuple(counts.get(place, 0) for place in range(len(sizes)))
            best = made if best is None or made < best else best
            return
        if at == len(order):
            return
        can = sizes[order[at]]
        for count in range(-(-left // can.liters), -1, -1):
            rest, paid = left - count * can.liters, price + count * can.price_minor
            then = by_liter[order[min(at + 1, len(order) - 1)]]
            if best is not None and paid + max(Fraction(0), rest) * then > best[0]:
                if count * can.liters <= left:
                    break
                continue
            fill(at + 1, rest, paid, {**counts, order[at]: count})

    fill(0, Fraction(liters), 0, {})
    price, over, counts = best
    return Bought(counts, price, over)


def hours_until_dry(coats: Sequence[Coat]) -> Fraction:
    """How long a rack is in the finish, from the first coat until it can be stacked.

    Args:
        coats: in the order in which they go on [-]

    Returns:
        hours, the time to lay the coats on not counted [hour]

    Example:
        A sealer to recoat in 2 h and a satin that dries in 12: 14 h.

        >>> hours_until_dry([Coat("sealer", recoat_hours=Fraction(2)), Coat("satin", dry_hours=Fraction(12))])
        Fraction(14, 1)
    """
    return sum((coat.recoat_hours for coat in coats[:-1]), Fraction(0)) + (coats[-1].dry_hours if coats else 0)


def racks(pieces: int, drying_space: int) -> int:
    """How many times the drying space is filled.

    Args:
        pieces: to finish [-]
        drying_space: in pieces [-]

    Returns:
        racks, the last perhaps not full [-]

    Raises:
        FinishError: no space

    Example:
        >>> racks(45, 20)
        3
    """
    if drying_space <= 0:
        raise FinishError("a drying space in pieces", drying_space, ("10", "40"))
    return -(-pieces // drying_space)
