"""Reading an amount as typed in a field that has a unit.

    amount   = number [unit word]        12   2.5   2 1/2   2½   180 bd ft   20 L
    number   = decimal | whole | fraction | whole ["-"] fraction less than 1
    decimal  = [whole] mark digits       the mark is "." or ",", by the person's language

A word for another unit of the same kind is converted, exactly and then rounded to a millionth of the field's
unit. Without a conversion what is finer than a millionth is refused. So are a sign, a thousands mark, more
than 10^9, and a word for something else. For things that are counted the suggestions are whole.
"""

import re
from fractions import Fraction

from workshop.calculations import numerals
from workshop.calculations.numerals import NotRead, TypedError, decimal_text, fraction_of, mixed_text
from workshop.calculations.units.registry import registry
from workshop.calculations.units.trade import MAX_AMOUNT, MICRO, UNITS, from_micro, to_micro, unit_of

NEGATIVE = "an amount is not less than zero"
SIGN = "it has a sign where none belongs"
NOT_AN_AMOUNT = "its parts do not make one amount"
SIDE_BY_SIDE = "two numbers stand side by side"
UNKNOWN_UNIT = "its unit is not known here"
OTHER_KIND = "its unit measures something else"
TOO_FINE = "it is finer than a millionth"
COUNTED = "they are counted, not measured"
TOO_LARGE = "it is more than a thousand million"

REASONS = (
    *numerals.REASONS,
    NEGATIVE,
    SIGN,
    NOT_AN_AMOUNT,
    SIDE_BY_SIDE,
    UNKNOWN_UNIT,
    OTHER_KIND,
    TOO_FINE,
    COUNTED,
    TOO_LARGE,
)
"""Every reason a QuantityError can give, for the translators."""

_FRACTION = "[0-9]+ ?/ ?[0-9]+"
_AMOUNT = re.compile(
    rf"(?:(?P<alone>{_FRACTION})|(?P<whole>[0-9]+)(?: ?- ?| )(?P<part>{_FRACTION})"
    r"|(?P<number>[0-9]*\.?[0-9]+)) ?(?P<word>[a-z]+[23]?(?: [a-z]+[23]?)*)?"
)
_ONLY_TYPED = {"mbf": "thousand_board_feet", "yd": "yard", "yards": "yard"}


def _squeezed(word: str) -> str:
    return re.sub("[ ._]", "", word.lower()).replace("²", "2").replace("³", "3")


_WORDS = {word: typed for typed in _ONLY_TYPED.values() for word in (_squeezed(typed),)} | _ONLY_TYPED
_WORDS |= {
    _squeezed(word): unit.code for unit in UNITS.values() for word in (unit.code, unit.one, unit.many, *unit.words)
}
_DIMENSIONS = {code: unit.dimension for code, unit in UNITS.items()} | {
    "thousand_board_feet": UNITS["board_foot"].dimension,
    "yard": UNITS["foot"].dimension,
}


class QuantityError(TypedError):
    """A typed text that is no amount for the field; its two suggestions are amounts in the same field."""


def read_quantity(text: str, code: str, decimal_mark: str = ".") -> Fraction:
    """The typed amount in the field's unit, a whole number of millionths.

    Args:
        text: what was typed [-]
        code: the field's unit, a key of UNITS [-]
        decimal_mark: "." or ",", by the person's language [-]

    Returns:
        the amount in the field's unit [-]

    Raises:
        QuantityError: the text is no amount, or of another kind than the field
        UnknownUnit: the field's unit is not known
        ValueError: the decimal mark is not known

    Example:
        20 L in a field of gallons is 20 / 3.785411784 = 5.283441 (NIST Handbook 44: 1 gal is 3.785411784 L).
    """
    unit_of(code)
    try:
        return _read(text, code, decimal_mark)
    except NotRead as refused:
        examples = ["5", "12"] if unit_of(code).is_counted else [f"2{decimal_mark}5", "2 1/2", "12"]
        meant = [each.replace(".", decimal_mark) for each in refused.instead]
        would_do = numerals.two_that_read([*meant, *examples], lambda each: _reads(each, code, decimal_mark))
        unit = UNITS[code].many
        raise QuantityError(text, f"an amount in {unit}", refused.reason, would_do) from None


def _reads(text: str, code: str, decimal_mark: str) -> bool:
    try:
        _read(text, code, decimal_mark)
    except NotRead:
        return False
    return True


def _read(text: str, code: str, decimal_mark: str) -> Fraction:
    line = numerals.plain(text, decimal_mark)
    if line[0] in "+-":
        raise NotRead(NEGATIVE if line[0] == "-" else SIGN, line[1:])
    match = _AMOUNT.fullmatch(line)
    if not match:
        raise _shapeless(line)
    amount, word = _number(match), match["word"]
    if (amount * MICRO).denominator != 1:
        raise _too_fine(amount, code)
    if word:
        amount = _converted(amount, word, code)
    if amount > MAX_AMOUNT:
        raise NotRead(TOO_LARGE)
    return amount


def _number(match: re.Match[str]) -> Fraction:
    if match["number"]:
        return Fraction(match["number"])
    if match["alone"]:
        return fraction_of(match["alone"])
    part, whole = fraction_of(match["part"]), int(match["whole"])
    if part >= 1:
        raise NotRead(numerals.IMPROPER, mixed_text(whole + part), decimal_text(whole + part, 2))
    return whole + part


def _too_fine(amount: Fraction, code: str) -> NotRead:
    if unit_of(code).is_counted:
        reason, near = COUNTED, [str(amount.__floor__()), str(amount.__ceil__())]
    else:
        reason, near = TOO_FINE, [decimal_text(amount, 2), decimal_text(amount, 6)]
    return NotRead(reason, *(each for each in near if each != "0"))


def _converted(amount: Fraction, word: str, code: str) -> Fraction:
    typed = _WORDS.get(_squeezed(word))
    told = decimal_text(amount, 6), f"{decimal_text(amount, 6)} {UNITS[code].many}"
    if typed is None:
        raise NotRead(UNKNOWN_UNIT, *told)
    if _DIMENSIONS[typed] != _DIMENSIONS[code]:
        raise NotRead(OTHER_KIND, *told)
    if typed == code:
        return amount
    return from_micro(to_micro(registry.Quantity(amount, typed).to(code).magnitude))


def _shapeless(line: str) -> NotRead:
    if match := re.fullmatch("([0-9]{1,3})((?: [0-9]{3})+)", line):
        return NotRead(numerals.THOUSANDS, line.replace(" ", ""), f"{match[1]}.{match[2].replace(' ', '')}")
    if re.match("[0-9]+ [0-9]", line):
        return NotRead(SIDE_BY_SIDE, line.replace(" ", ".", 1))
    if "+" in line or "-" in line:
        return NotRead(SIGN)
    return NotRead(NOT_AN_AMOUNT, line.rstrip(" ."))
