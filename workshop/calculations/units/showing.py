"""Amounts as text: with the unit the trade writes beside them, or bare for an edit field."""

from fractions import Fraction

from workshop.calculations.numerals import decimal_text, mixed_text
from workshop.calculations.units.trade import unit_of


def show_quantity(amount: Fraction | int, code: str, decimal_mark: str = ".", places: int = 2) -> str:
    """The amount with its unit.

    Halves, quarters and eighths of a unit that the trade counts so are told as fractions; all else is a
    decimal, rounded half away from zero.

    Args:
        amount: how many of the unit [-]
        code: a key of UNITS [-]
        decimal_mark: "." or ",", by the person's language [-]
        places: the most places after the decimal mark [-]

    Returns:
        the text, led by ≈ where it is rounded [-]

    Raises:
        UnknownUnit: the code is not known

    Example:
        12 1/2 bd ft, 1 sheet, 54 sheets, 2.5 L; 25/3 in board feet is ≈ 8.33 bd ft.
    """
    unit = unit_of(code)
    amount = Fraction(amount)
    size = abs(amount)
    name = unit.one if 0 < size <= 1 else unit.many
    sign = "−" if amount < 0 else ""
    if unit.in_fractions and size.denominator in (1, 2, 4, 8):
        return f"{sign}{mixed_text(size)} {name}"
    text = decimal_text(size, places, decimal_mark)
    rounded = Fraction(text.replace(decimal_mark, ".")) != size
    return f"{'≈ ' if rounded else ''}{sign}{text} {name}"


def edit_quantity(amount: Fraction | int, code: str, decimal_mark: str = ".") -> str:
    """The amount as it stands in an edit field beside its unit; a whole number of millionths is not rounded.

    Args:
        amount: how many of the unit, a whole number of millionths [-]
        code: the field's unit, a key of UNITS [-]
        decimal_mark: "." or ",", by the person's language [-]

    Returns:
        the text without the unit; read again in that field it is the same amount [-]

    Raises:
        UnknownUnit: the code is not known

    Example:
        12 1/2 for 25/2 board feet, 5.283441 for gallons converted from 20 L.
    """
    amount = Fraction(amount)
    if unit_of(code).in_fractions and amount.denominator in (1, 2, 4, 8):
        return mixed_text(amount)
    return decimal_text(amount, 6, decimal_mark)
