"""Sales tax on an amount and inside an amount.

Rounded half up, once for each rate on the invoice (Streamlined Sales and Use Tax Agreement, section 324:
carried to the third decimal, rounded up to the next cent when that is over four; the seller may use the
invoice basis). Cutting an exact amount at the third decimal and rounding half up give the same cent.
"""

from fractions import Fraction

from workshop.calculations.money.errors import BELOW_ZERO, PERCENTAGE, RATE_TOO_LARGE, RateOutOfRange
from workshop.calculations.money.rounding import MAX_PPM, PPM, part_of, round_half_up
from workshop.calculations.money.showing import plain_percent


def checked_rate(rate_ppm: int) -> int:
    """The same rate, once it is known to lie between 0 and 1,000 %.

    Args:
        rate_ppm: a rate, 82,500 for 8.25 % [ppm]

    Returns:
        the rate [ppm]

    Raises:
        RateOutOfRange: it is below zero or more than 1,000 %

    Example:
        82,500 passes, -1 does not.
    """
    if not 0 <= rate_ppm <= MAX_PPM:
        reason = BELOW_ZERO if rate_ppm < 0 else RATE_TOO_LARGE
        raise RateOutOfRange(f"{plain_percent(rate_ppm)} %", PERCENTAGE, reason, ("0 %", "8.25 %"))
    return rate_ppm


def tax_of(net_minor: int, rate_ppm: int) -> int:
    """The tax to be added to an amount.

    Args:
        net_minor: the taxed amount without its tax [minor]
        rate_ppm: the rate, 82,500 for 8.25 % [ppm]

    Returns:
        the tax [minor]

    Raises:
        RateOutOfRange: the rate is below zero or more than 1,000 %

    Example:
        528.89 at 8.25 % is 43.63: tax_of(52889, 82500) is 4363 (exactly 43.633425).
    """
    return part_of(net_minor, checked_rate(rate_ppm))


def tax_inside(gross_minor: int, rate_ppm: int) -> int:
    """The tax an amount already holds: gross times r / (100 + r); the net amount is the rest.

    Args:
        gross_minor: the taxed amount with its tax [minor]
        rate_ppm: the rate, 82,500 for 8.25 % [ppm]

    Returns:
        the tax [minor]

    Raises:
        RateOutOfRange: the rate is below zero or more than 1,000 %

    Example:
        100.00 at 8.25 % holds 7.62: tax_inside(10000, 82500) is 762 (exactly 7.6212...).
    """
    checked_rate(rate_ppm)
    return round_half_up(Fraction(gross_minor * rate_ppm, PPM + rate_ppm))
