"""Nominal thicknesses of lumber, told in quarters of an inch of the rough board: 4/4, 5/4, 6/4, 8/4."""

import re
from fractions import Fraction

from workshop.calculations import numerals
from workshop.calculations.lengths.reading import LengthError
from workshop.calculations.lengths.showing import INCH_NM
from workshop.calculations.numerals import NotRead

QUARTER_NM = INCH_NM // 4
"""A quarter of an inch; a nominal thickness times this is that of the rough board."""

LEAST_QUARTERS = 4
MOST_QUARTERS = 400

NOT_QUARTERS = "thicknesses of lumber are quarters of an inch"
TOO_THIN = "thicknesses of lumber begin at 4/4"
TOO_THICK = "no board is that thick"


def read_nominal_thickness(text: str) -> int:
    """The typed nominal thickness.

    Args:
        text: what was typed [-]

    Returns:
        the number of quarters, 4 to 400 [-]

    Raises:
        LengthError: not a number of quarters from 4/4 up

    Example:
        5/4 is 5, and the rough board is 1 1/4 in thick (NHLA standard thicknesses).
    """
    try:
        return _quarters(text)
    except NotRead as refused:
        would_do = numerals.two_that_read([*refused.instead, "4/4", "8/4", "5/4"], _reads)
        raise LengthError(text, "a thickness of lumber", refused.reason, would_do) from None


def show_nominal_thickness(quarters: int) -> str:
    """The nominal thickness as the trade writes it.

    Args:
        quarters: the number of quarters [-]

    Returns:
        the text [-]

    Example:
        8 is 8/4.
    """
    return f"{quarters}/4"


def _reads(text: str) -> bool:
    try:
        return bool(_quarters(text))
    except NotRead:
        return False


def _quarters(text: str) -> int:
    line = numerals.plain(text, ".")
    if not (match := re.fullmatch("([0-9]+) ?/ ?([0-9]+)", line)):
        raise NotRead(NOT_QUARTERS, *_as_quarters(line))
    upper, lower = int(match[1]), int(match[2])
    if lower == 0:
        raise NotRead(numerals.DIVISION_BY_ZERO, f"{upper}/4")
    if lower != 4:
        raise NotRead(NOT_QUARTERS, *_around(Fraction(upper, lower)))
    if upper < LEAST_QUARTERS:
        raise NotRead(TOO_THIN)
    if upper > MOST_QUARTERS:
        raise NotRead(TOO_THICK)
    return upper


def _as_quarters(line: str) -> tuple[str, ...]:
    """For a thickness typed in inches, 1 1/4 or 1.25, the quarters around it; 8 alone may also be 8/4."""
    match = re.fullmatch(r"([0-9]*\.?[0-9]+)(?:[- ]*([0-9]+/[1-9][0-9]*))? ?(?:\"|in)?", line)
    if not match:
        return ()
    inches = Fraction(match[1]) + Fraction(match[2] or 0)
    quarters = f"{match[1]}/4"
    return (quarters, *_around(inches)) if match[1].isdecimal() and not match[2] else _around(inches)


def _around(inches: Fraction) -> tuple[str, ...]:
    below = inches * 4 // 1
    return (f"{below}/4",) if below == inches * 4 else (f"{below}/4", f"{below + 1}/4")
