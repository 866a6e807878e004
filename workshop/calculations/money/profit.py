"""Profit as markup on the cost or as margin of the price, and the one told as the other.

margin = markup / (1 + markup), markup = margin / (1 - margin): 50 % markup is 33.3 % margin.
"""

from fractions import Fraction

from workshop.calculations.money.errors import MARGIN_TOO_LARGE, PERCENTAGE, RateOutOfRange
from workshop.calculations.money.rounding import PPM, part_of, round_half_up
from workshop.calculations.money.showing import plain_percent
from workshop.calculations.money.tax import checked_rate


def markup_price(cost_minor: int, markup_ppm: int) -> int:
    """The price with a profit reckoned as a part of the cost.

    Args:
        cost_minor: the cost [minor]
        markup_ppm: the profit as a part of the cost [ppm]

    Returns:
        the price [minor]

    Raises:
        RateOutOfRange: the markup is below zero or more than 1,000 %

    Example:
        A cost of 100.00 at 50 % is 150.00.
    """
    return cost_minor + part_of(cost_minor, checked_rate(markup_ppm))


def margin_price(cost_minor: int, margin_ppm: int) -> int:
    """The price with a profit reckoned as a part of the price: cost / (1 - margin).

    Args:
        cost_minor: the cost [minor]
        margin_ppm: the profit as a part of the price [ppm]

    Returns:
        the price [minor]

    Raises:
        RateOutOfRange: the margin is below zero, or 100 % and over

    Example:
        A cost of 100.00 at 20 % is 125.00.
    """
    return round_half_up(Fraction(cost_minor * PPM, PPM - checked_margin(margin_ppm)))


def markup_to_margin(markup_ppm: int) -> int:
    """The margin that gives the same price as this markup, to a ten-thousandth of a per cent.

    Args:
        markup_ppm: the profit as a part of the cost [ppm]

    Returns:
        the profit as a part of the price [ppm]

    Raises:
        RateOutOfRange: the markup is below zero or more than 1,000 %

    Example:
        50 % is 33.3333 %.
    """
    return round_half_up(Fraction(checked_rate(markup_ppm) * PPM, PPM + markup_ppm))


def margin_to_markup(margin_ppm: int) -> int:
    """The markup that gives the same price as this margin, to a ten-thousandth of a per cent.

    Args:
        margin_ppm: the profit as a part of the price [ppm]

    Returns:
        the profit as a part of the cost [ppm]

    Raises:
        RateOutOfRange: the margin is below zero, or 100 % and over

    Example:
        20 % is 25 %.
    """
    return round_half_up(Fraction(margin_ppm * PPM, PPM - checked_margin(margin_ppm)))


def checked_margin(margin_ppm: int) -> int:
    """The same margin, once it is known to lie between 0 and just under 100 %.

    Args:
        margin_ppm: the profit as a part of the price [ppm]

    Returns:
        the margin [ppm]

    Raises:
        RateOutOfRange: the margin is below zero, or 100 % and over

    Example:
        250,000 passes, 1,000,000 does not.
    """
    if margin_ppm >= PPM:
        raise RateOutOfRange(f"{plain_percent(margin_ppm)} %", PERCENTAGE, MARGIN_TOO_LARGE, ("20 %", "33.3 %"))
    return checked_rate(margin_ppm)
