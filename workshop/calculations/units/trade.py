"""The units that columns, forms and rates know, by code, and amounts in them."""

from dataclasses import dataclass
from fractions import Fraction

from pint import DimensionalityError, Quantity

from workshop.calculations.numerals import round_half_up
from workshop.calculations.units.registry import registry

MICRO = 10**6
"""Columns hold amounts in millionths of their unit."""

MAX_AMOUNT = 10**9
"""The largest amount a person can type."""


@dataclass(frozen=True)
class Unit:
    """A unit that can stand in a column.

    Attributes:
        code: the column's value; also the unit's name in the registry
        dimension: what the unit measures
        one: the unit beside an amount of one
        many: the unit beside any other amount
        in_fractions: whether parts are told as 1/2 or as 0.5
        words: other ways to type the unit, without spaces and points
    """

    code: str
    dimension: str
    one: str
    many: str
    in_fractions: bool = True
    words: tuple[str, ...] = ()

    @property
    def is_counted(self) -> bool:
        """Whether it is a thing that is counted, and no measure."""
        return self.dimension.startswith(_COUNTED)


_LENGTH, _AREA, _COATED = "a length", "an area", "an area times coats"
_WOOD, _LIQUID, _TIME, _WEIGHT = "a volume of wood", "a volume of liquid", "a time", "a weight"


_COUNTED = "a number of "


def _count(code: str, many: str, *words: str) -> Unit:
    return Unit(code, f"{_COUNTED}{many}", code, many, True, words)


UNITS = {
    unit.code: unit
    for unit in (
        _count("sheet", "sheets"),
        _count("board", "boards"),
        _count("piece", "pieces", "pc", "pcs", "each", "ea"),
        _count("box", "boxes"),
        _count("pack", "packs"),
        _count("bundle", "bundles"),
        _count("pail", "pails"),
        _count("can", "cans"),
        _count("drum", "drums"),
        _count("roll", "rolls"),
        _count("hole", "holes"),
        _count("coat", "coats"),
        _count("lump", "lumps", "lumpsum"),
        _count("load", "loads"),
        Unit("foot", _LENGTH, "ft", "ft", True, ("feet", "linft", "linearfoot", "linearfeet", "lf")),
        Unit("inch", _LENGTH, "in", "in", True, ("inches",)),
        Unit("millimeter", _LENGTH, "mm", "mm", False, ("millimeters", "millimetre", "millimetres")),
        Unit("meter", _LENGTH, "m", "m", False, ("meters", "metre", "metres")),
        Unit("square_foot", _AREA, "sq ft", "sq ft", True, ("squarefeet", "ft2", "sf")),
        Unit("square_meter", _AREA, "m²", "m²", False, ("squaremeters", "squaremetre", "squaremetres", "sqm")),
        Unit("board_foot", _WOOD, "bd ft", "bd ft", True, ("boardfeet", "bf")),
        Unit("thousand_board_feet", _WOOD, "MBF", "MBF", True, ("thousandboardfeet",)),
        Unit("cubic_foot", _WOOD, "cu ft", "cu ft", True, ("cubicfeet", "ft3")),
        Unit("cubic_meter", _WOOD, "m³", "m³", False, ("cubicmeters", "cubicmetre", "cubicmetres", "cum")),
        Unit("gallon", _LIQUID, "gal", "gal", True, ("gallons", "gals")),
        Unit("quart", _LIQUID, "qt", "qt", True, ("quarts", "qts")),
        Unit("liter", _LIQUID, "L", "L", False, ("liters", "litre", "litres")),
        Unit("milliliter", _LIQUID, "mL", "mL", False, ("milliliters", "millilitre", "millilitres")),
        Unit("hour", _TIME, "h", "h", False, ("hours", "hr", "hrs")),
        Unit("minute", _TIME, "min", "min", False, ("minutes", "mins")),
        Unit("pound", _WEIGHT, "lb", "lb", True, ("pounds", "lbs")),
        Unit("kilogram", _WEIGHT, "kg", "kg", False, ("kilograms", "kilo", "kilos")),
        Unit("square_foot_coat", _COATED, "sq ft of coat", "sq ft of coat"),
        Unit("square_meter_coat", _COATED, "m² of coat", "m² of coat", False),
    )
}


class UnknownUnit(ValueError):
    """A code that is none of UNITS."""

    def __init__(self, code: object) -> None:
        self.code = code
        super().__init__(f"unit {str(code)[:40]!r} is not known; sheet or board_foot would do")


class WrongDimension(ValueError):
    """An amount of one kind where another is asked for.

    Attributes:
        got: what the amount measures
        wanted: what the unit asked for measures
    """

    def __init__(self, got: str, wanted: str, code: str) -> None:
        self.got = got
        self.wanted = wanted
        name = UNITS[code].many
        super().__init__(f"{got} cannot be told as {wanted}; 2 {name} or 12 {name} would do")


def unit_of(code: str) -> Unit:
    """The unit of a code.

    Args:
        code: a key of UNITS [-]

    Returns:
        the unit [-]

    Raises:
        UnknownUnit: there is none

    Example:
        board_foot has "bd ft" beside its amounts.
    """
    try:
        return UNITS[code]
    except (KeyError, TypeError):
        raise UnknownUnit(code) from None


def quantity(amount: Fraction | int, code: str) -> Quantity:
    """The amount with its unit.

    Args:
        amount: how many of the unit, exact [-]
        code: a key of UNITS [-]

    Returns:
        the amount with its unit, its magnitude a Fraction [quantity]

    Raises:
        UnknownUnit: the code is not known
        TypeError: the amount is not exact

    Example:
        quantity(12, "foot") + quantity(1, "square_foot") raises pint's DimensionalityError.
    """
    unit_of(code)
    if isinstance(amount, bool) or not isinstance(amount, int | Fraction):
        raise TypeError(f"amount {amount!r} is not exact; 5 or Fraction(5, 2) would do")
    return registry.Quantity(Fraction(amount), code)


def amount_in(measured: Quantity, code: str) -> Fraction:
    """The exact amount in a unit.

    Args:
        measured: any amount of the registry [quantity]
        code: a key of UNITS [-]

    Returns:
        how many of the unit [-]

    Raises:
        UnknownUnit: the code is not known
        WrongDimension: the amount measures something else

    Example:
        1 cubic foot is 12 board feet (1728 / 144 cubic inches).
    """
    wanted = unit_of(code)
    try:
        return Fraction(measured.to(code).magnitude)
    except DimensionalityError:
        raise WrongDimension(_measures(measured), wanted.dimension, code) from None


def _measures(measured: Quantity) -> str:
    items = measured.unit_items()
    named = {name for name, power in items if power == 1 and len(items) == 1} & UNITS.keys()
    if named:
        return UNITS[named.pop()].dimension
    alike = (unit for unit in UNITS.values() if measured.dimensionality == registry.Unit(unit.code).dimensionality)
    return next((unit.dimension for unit in alike), "an amount of another kind")


def to_micro(amount: Fraction | int) -> int:
    """The amount in whole millionths, rounded half away from zero.

    Args:
        amount: an exact amount in some unit [-]

    Returns:
        millionths of that unit [micro]

    Example:
        5/2 is 2,500,000; 1/3 is 333,333.
    """
    return round_half_up(Fraction(amount) * MICRO)


def from_micro(amount_micro: int) -> Fraction:
    """The exact amount.

    Args:
        amount_micro: millionths of some unit [micro]

    Returns:
        the amount in that unit [-]

    Example:
        2,500,000 is 5/2.
    """
    return Fraction(amount_micro, MICRO)
