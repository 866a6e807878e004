"""Between exact fractions and whole minor units: the one place where money is rounded."""

from fractions import Fraction

from workshop.calculations.money.currencies import minor_digits
from workshop.calculations.money.errors import (
    AMOUNT,
    FINER_THAN_MILLIONTH,
    PRICE,
    TOO_LARGE,
    AmountTooLarge,
    MoneyError,
)
from workshop.calculations.money.plain import scaled_text
from workshop.calculations.numerals import round_half_up

MAX_MINOR = 10**13
"""The largest amount, in minor units."""

MAX_MICRO = 10**18
"""The largest unit price, in millionths of the major unit; a column of 64 bits ends at 9.2 x 10^18."""

MILLION = 10**6
PPM = 10**6
"""Parts per million in one whole: 100 %."""

MAX_PPM = 10 * PPM
"""The largest rate, 1,000 %."""


def _exact(value: Fraction | int) -> Fraction:
    if not isinstance(value, (int, Fraction)):
        raise TypeError(f"{value!r} is not exact; a whole number or a Fraction would do")
    return Fraction(value)


def within_limit(minor: int) -> int:
    """The same amount, once it is known to be one the app can hold.

    Args:
        minor: an amount [minor]

    Returns:
        the amount [minor]

    Raises:
        AmountTooLarge: it is more than 10^13 minor units, above or below zero

    Example:
        10^13 passes, 10^13 + 1 does not.
    """
    if abs(minor) > MAX_MINOR:
        raise AmountTooLarge(minor, AMOUNT, TOO_LARGE, (str(MAX_MINOR), "1250"))
    return minor


def to_minor(amount: Fraction | int, currency: str) -> int:
    """The amount in whole minor units, rounded once, half away from zero.

    Args:
        amount: an exact amount [major]
        currency: code of ISO 4217 [-]

    Returns:
        the rounded amount [minor]

    Raises:
        UnknownCurrency: the code is not in the current list
        AmountTooLarge: more than 10^13 minor units

    Example:
        1.005 USD is 101 (binary floating point would give 100).
    """
    return within_limit(round_half_up(_exact(amount) * 10 ** minor_digits(currency)))


def from_minor(minor: int, currency: str) -> Fraction:
    """The exact amount in major units.

    Args:
        minor: an amount [minor]
        currency: code of ISO 4217 [-]

    Returns:
        the amount [major]

    Raises:
        UnknownCurrency: the code is not in the current list

    Example:
        7150 in USD is 143/2, in JPY 7150, in KWD 143/20.
    """
    return Fraction(minor, 10 ** minor_digits(currency))


def micro_to_amount(price_micro: int) -> Fraction:
    """The exact unit price in major units.

    Args:
        price_micro: a unit price in millionths of the major unit [micro]

    Returns:
        the price [major]

    Example:
        71,500,000 is 143/2, that is 71.50.
    """
    return Fraction(price_micro, MILLION)


def amount_to_micro(amount: Fraction | int) -> int:
    """The unit price in whole millionths of the major unit; nothing is rounded.

    Args:
        amount: an exact unit price [major]

    Returns:
        the price in millionths of the major unit [micro]

    Raises:
        MoneyError: the price is finer than a millionth
        AmountTooLarge: more than 10^18 millionths

    Example:
        71.50 is 71,500,000; a third is refused.
    """
    micro = _exact(amount) * MILLION
    if micro.denominator != 1:
        below = micro.numerator // micro.denominator
        near = (scaled_text(below, 6, least=2), scaled_text(below + 1, 6, least=2))
        raise MoneyError(amount, PRICE, FINER_THAN_MILLIONTH, near)
    if abs(micro) > MAX_MICRO:
        raise AmountTooLarge(amount, PRICE, TOO_LARGE, (str(MAX_MICRO // MILLION), "12.50"))
    return micro.numerator


def part_of(minor: int, rate_ppm: int) -> int:
    """The stated part of an amount, rounded once, half away from zero.

    Args:
        minor: an amount [minor]
        rate_ppm: the part, 1,000,000 for the whole [ppm]

    Returns:
        the part [minor]

    Example:
        10 % of 1.25 is 0.13.
    """
    return round_half_up(Fraction(minor * rate_ppm, PPM))
