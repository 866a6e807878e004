"""Reading amounts, unit prices and percentages as a shop types them or copies them from an invoice.

Taken: 71.50, $71.50, 71.50 USD, 1250, .50, and thousands parted in threes by the language's own mark, a
space or an apostrophe: 1,234.50 where the decimal mark is a point, 1.234,50 where it is a comma. What can be
read two ways is refused with both readings. Where three places and more may stand, as in KWD, 1,234 is such
a text too.
"""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from workshop.calculations.money import errors
from workshop.calculations.money.currencies import CURRENCIES, minor_digits, signs_of
from workshop.calculations.money.errors import AmountTooLarge, MoneyError, RateOutOfRange
from workshop.calculations.money.guessing import guesses
from workshop.calculations.money.rounding import (
    MAX_MICRO,
    MAX_MINOR,
    MAX_PPM,
    PPM,
    from_minor,
    micro_to_amount,
)
from workshop.calculations.numerals import LONGEST, NotRead, two_that_read

_ALIKE = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " ", "’": "'", "\u200e": None, "\u200f": None})
_MINUS = ("-", "−")


@dataclass(frozen=True)
class _Field:
    """What may stand in a field: places after the mark, the largest value, and the words for what may not."""

    what: str
    places: int
    limit: Fraction
    negative: bool
    signs: tuple[str, ...]
    examples: tuple[str, str]
    too_fine: str
    too_large: str = errors.TOO_LARGE
    three_places_are_common: bool = False
    if_too_large: type[MoneyError] = AmountTooLarge
    if_below_zero: type[MoneyError] = MoneyError


def read_money(text: str, currency: str, decimal_mark: str = ".", negative: bool = False) -> Fraction:
    """The amount a text says, exact and no finer than the minor unit.

    Args:
        text: what was typed [-]
        currency: code of ISO 4217 [-]
        decimal_mark: the mark of the person's language, a point or a comma [-]
        negative: an amount below zero may stand here [-]

    Returns:
        the amount [major]

    Raises:
        MoneyError: it cannot be read, can be read two ways, is finer than the minor unit or below zero
        AmountTooLarge: more than 10^13 minor units
        UnknownCurrency: the code is not in the current list

    Example:
        "$1,234.50" is 2469/2; "1,23" is refused, 1.23 or 123 would do.
    """
    places = minor_digits(currency)
    field = _Field(
        what=errors.AMOUNT,
        places=places,
        limit=from_minor(MAX_MINOR, currency),
        negative=negative,
        signs=signs_of(currency),
        examples=("12.50", "1250") if places else ("12", "1250"),
        too_fine=errors.FINER_THAN_MINOR,
        three_places_are_common=places >= 3,
    )
    return _value(text, decimal_mark, field)


def read_price(text: str, currency: str, decimal_mark: str = ".", negative: bool = False) -> Fraction:
    """The unit price a text says, exact and no finer than a millionth of the major unit.

    Args:
        text: what was typed [-]
        currency: code of ISO 4217 [-]
        decimal_mark: the mark of the person's language, a point or a comma [-]
        negative: a price below zero may stand here [-]

    Returns:
        the price [major]

    Raises:
        MoneyError: it cannot be read, can be read two ways, is finer than a millionth or below zero
        AmountTooLarge: more than 10^13 minor units or 10^18 millionths
        UnknownCurrency: the code is not in the current list

    Example:
        "0.0845" is 169/2000.
    """
    field = _Field(
        what=errors.PRICE,
        places=6,
        limit=min(from_minor(MAX_MINOR, currency), micro_to_amount(MAX_MICRO)),
        negative=negative,
        signs=signs_of(currency),
        examples=("12.50", "1250"),
        too_fine=errors.FINER_THAN_MILLIONTH,
        three_places_are_common=minor_digits(currency) >= 3,
    )
    return _value(text, decimal_mark, field)


def read_percent(text: str, decimal_mark: str = ".") -> int:
    """The rate a text in per cent says.

    Args:
        text: what was typed, with or without the sign [-]
        decimal_mark: the mark of the person's language, a point or a comma [-]

    Returns:
        the rate, 82,500 for 8.25 % [ppm]

    Raises:
        MoneyError: it cannot be read, or has more than four places after the mark
        RateOutOfRange: it is below zero or more than 1,000 %

    Example:
        "8.25 %" is 82,500.
    """
    field = _Field(
        what=errors.PERCENTAGE,
        places=4,
        limit=Fraction(MAX_PPM * 100, PPM),
        negative=False,
        signs=("%",),
        examples=("20", "8.25"),
        too_fine=errors.FINER_THAN_PPM,
        too_large=errors.RATE_TOO_LARGE,
        three_places_are_common=True,
        if_too_large=RateOutOfRange,
        if_below_zero=RateOutOfRange,
    )
    return int(_value(text, decimal_mark, field) * PPM / 100)


def _value(text: str, decimal_mark: str, field: _Field) -> Fraction:
    if decimal_mark not in (".", ","):
        raise ValueError(f"decimal mark {decimal_mark!r} is not known; . or , would do")
    try:
        return _read(text, decimal_mark, field)
    except NotRead as refused:
        reason = refused.reason
    examples = [example.replace(".", decimal_mark) for example in field.examples]
    candidates = [*guesses(text, reason, decimal_mark, field.places), *examples]
    would_do = two_that_read(candidates, lambda candidate: _reads(candidate, decimal_mark, field))
    kind = {field.too_large: field.if_too_large, errors.BELOW_ZERO: field.if_below_zero}.get(reason, MoneyError)
    raise kind(text, field.what, reason, would_do)


def _reads(text: str, decimal_mark: str, field: _Field) -> bool:
    try:
        _read(text, decimal_mark, field)
    except NotRead:
        return False
    return True


def _read(text: str, decimal_mark: str, field: _Field) -> Fraction:
    core = text.strip()
    if not core:
        raise NotRead(errors.NOTHING)
    if len(core) > LONGEST:
        raise NotRead(errors.TOO_LONG)
    core, below_zero = _without_signs(core.translate(_ALIKE).strip(), field.signs)
    if not re.fullmatch(r"[0-9., ']*[0-9][0-9., ']*", core):
        raise NotRead(_why_no_number(core))
    value = _number(core, decimal_mark, field)
    if below_zero and value and not field.negative:
        raise NotRead(errors.BELOW_ZERO)
    if value > field.limit:
        raise NotRead(field.too_large)
    return -value if below_zero else value


def _without_signs(core: str, signs: tuple[str, ...]) -> tuple[str, bool]:
    """The text without its minus and its currency or per cent signs, and whether there was a minus."""
    below_zero = core.startswith(_MINUS)
    if below_zero:
        core = core[1:].lstrip()
    for sign in signs:
        if core[: len(sign)].casefold() == sign.casefold():
            core = core[len(sign) :].lstrip()
            break
    for sign in signs:
        if core[-len(sign) :].casefold() == sign.casefold():
            core = core[: -len(sign)].rstrip()
            break
    if not below_zero and core.startswith(_MINUS):
        return core[1:].lstrip(), True
    return core, below_zero


def _why_no_number(core: str) -> str:
    if any(sign.isdecimal() and not sign.isascii() for sign in core):
        return errors.OTHER_DIGITS
    letters = re.sub(r"[0-9., ']", "", core)
    if letters.upper() in CURRENCIES or any(unicodedata.category(sign) == "Sc" for sign in letters):
        return errors.OTHER_CURRENCY
    return errors.NOT_A_NUMBER


def _number(core: str, decimal_mark: str, field: _Field) -> Fraction:
    own = re.escape(decimal_mark)
    other = "," if decimal_mark == "." else r"\."
    plain = re.fullmatch(rf"([0-9]*)(?:{own}([0-9]*))?", core)
    in_threes = rf"[1-9][0-9]{{0,2}}({other}|[ '])[0-9]{{3}}(?:\2[0-9]{{3}})*"
    grouped = re.fullmatch(rf"({in_threes})(?:{own}([0-9]+))?", core)
    if plain:
        whole, part = plain[1] or "0", plain[2] or ""
    elif grouped and not (field.three_places_are_common and re.fullmatch(rf"[0-9]+{other}[0-9]{{3}}", core)):
        whole, part = re.sub("[^0-9]", "", grouped[1]), grouped[3] or ""
    else:
        raise NotRead(errors.TWO_READINGS)
    if part[field.places :].strip("0"):
        raise NotRead(field.too_fine)
    return Fraction(int(whole + part), 10 ** len(part))
