"""Amounts, prices and percentages as text: for reading by language, for edit fields plain and exact."""

import re
from copy import copy
from decimal import Decimal

from babel import Locale
from babel.numbers import NumberPattern

from workshop.calculations.money.currencies import minor_digits
from workshop.calculations.money.plain import scaled_text

_NO_BREAK_SPACE = "\u00a0"
_LETTER_BESIDE_FIGURE = re.compile(r"(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])")
"""Where a sign in letters touches a figure, as in KWD1.500; a space belongs there (Unicode CLDR)."""


def show_money(minor: int, currency: str, locale: str = "en_US", symbol: bool = True) -> str:
    """An amount as the language writes it, to the minor unit.

    Args:
        minor: an amount [minor]
        currency: code of ISO 4217 [-]
        locale: language and region, as en_US, de_DE or en-us [-]
        symbol: with the currency's sign [-]

    Returns:
        the text [-]

    Raises:
        UnknownCurrency: the code is not in the current list

    Example:
        310350 in USD is $3,103.50 in en_US; without its sign 3,103.50.
    """
    places = minor_digits(currency)
    value = Decimal(minor).scaleb(-places)
    return _shown(value, (places, places), currency, locale, symbol)


def show_price(price_micro: int, currency: str, locale: str = "en_US", symbol: bool = True) -> str:
    """A unit price as the language writes it, with as many places as it needs, the minor unit at least.

    Args:
        price_micro: a unit price in millionths of the major unit [micro]
        currency: code of ISO 4217 [-]
        locale: language and region, as en_US, de_DE or en-us [-]
        symbol: with the currency's sign [-]

    Returns:
        the text [-]

    Raises:
        UnknownCurrency: the code is not in the current list

    Example:
        71,500,000 in USD is $71.50, 84,500 is $0.0845.
    """
    places = (minor_digits(currency), 6)
    return _shown(Decimal(price_micro).scaleb(-6), places, currency, locale, symbol)


def show_percent(rate_ppm: int, locale: str = "en_US") -> str:
    """A rate in per cent as the language writes it, with as many places as it needs.

    Args:
        rate_ppm: a rate, 82,500 for 8.25 % [ppm]
        locale: language and region, as en_US, de_DE or en-us [-]

    Returns:
        the text [-]

    Example:
        82,500 is 8.25% in en_US.
    """
    language = _language(locale)
    pattern = copy(language.percent_formats[None])
    pattern.frac_prec = (0, 4)
    return pattern.apply(Decimal(rate_ppm).scaleb(-6), language)


def plain_money(minor: int, currency: str, decimal_mark: str = ".") -> str:
    """An amount for an edit field: no sign, no grouping, every place; reading it gives the same amount.

    Args:
        minor: an amount [minor]
        currency: code of ISO 4217 [-]
        decimal_mark: the mark of the person's language [-]

    Returns:
        the text [-]

    Raises:
        UnknownCurrency: the code is not in the current list

    Example:
        310350 in USD is 3103.50.
    """
    return scaled_text(minor, minor_digits(currency), decimal_mark)


def plain_price(price_micro: int, currency: str, decimal_mark: str = ".") -> str:
    """A unit price for an edit field: no sign, no grouping, never rounded.

    Args:
        price_micro: a unit price in millionths of the major unit [micro]
        currency: code of ISO 4217 [-]
        decimal_mark: the mark of the person's language [-]

    Returns:
        the text [-]

    Raises:
        UnknownCurrency: the code is not in the current list

    Example:
        71,500,000 in USD is 71.50, 84,500 is 0.0845.
    """
    return scaled_text(price_micro, 6, decimal_mark, least=minor_digits(currency))


def plain_percent(rate_ppm: int, decimal_mark: str = ".") -> str:
    """A rate in per cent for an edit field, without the sign.

    Args:
        rate_ppm: a rate, 82,500 for 8.25 % [ppm]
        decimal_mark: the mark of the person's language [-]

    Returns:
        the text [-]

    Example:
        82,500 is 8.25, 500,000 is 50.
    """
    return scaled_text(rate_ppm, 4, decimal_mark, least=0)


def _shown(value: Decimal, places: tuple[int, int], currency: str, locale: str, symbol: bool) -> str:
    language = _language(locale)
    formats = language.currency_formats["standard"] if symbol else language.decimal_formats[None]
    pattern: NumberPattern = copy(formats)
    pattern.frac_prec = places
    text = pattern.apply(value, language, currency=currency if symbol else None, currency_digits=False)
    return _LETTER_BESIDE_FIGURE.sub(_NO_BREAK_SPACE, text)


def _language(locale: str) -> Locale:
    return Locale.parse(locale.replace("-", "_"))
