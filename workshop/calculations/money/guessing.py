"""What may have been meant by an amount that was refused; the reader tries each guess before it offers it."""

import re

from workshop.calculations.money import errors
from workshop.calculations.money.plain import scaled_text

_LONGEST_READ = 80
_NOT_TO_BE_GUESSED = {
    errors.NOTHING,
    errors.TOO_LONG,
    errors.NOT_A_NUMBER,
    errors.OTHER_DIGITS,
}


def guesses(text: str, reason: str, decimal_mark: str, places: int) -> list[str]:
    """Texts that the figures typed may have meant, the likeliest first.

    Args:
        text: what was typed [-]
        reason: why it was refused, one of the reasons of errors [-]
        decimal_mark: the mark of the person's language [-]
        places: decimal places that may stand here [-]

    Returns:
        none when the text is no number at all; they may still be too large [-]

    Example:
        "1,23" where a point is the mark gives 1.23 and 123.
    """
    core = re.sub(r"[^0-9.,]", "", text[:_LONGEST_READ])
    digits = re.sub(r"[.,]", "", core)
    if reason in _NOT_TO_BE_GUESSED or not digits:
        return []
    if reason == errors.BELOW_ZERO:
        return [core, "0"]
    if reason == errors.OTHER_CURRENCY:
        return [core, *_readings(core, digits, decimal_mark, places)]
    if reason in (errors.FINER_THAN_MINOR, errors.FINER_THAN_MILLIONTH, errors.FINER_THAN_PPM):
        return _coarser(core, digits, decimal_mark, places)
    return _readings(core, digits, decimal_mark, places)


def _readings(core: str, digits: str, decimal_mark: str, places: int) -> list[str]:
    """With the last mark as the decimal mark, and with all marks as marks of thousands."""
    marks = re.sub(r"[0-9]", "", core)
    whole_number = str(int(digits))
    if not marks:
        return [whole_number]
    if len(marks) > 1 and len(set(marks)) == 1:
        return [whole_number, _in_threes(int(digits), decimal_mark)]
    return [_cut(core, decimal_mark, places), whole_number]


def _coarser(core: str, digits: str, decimal_mark: str, places: int) -> list[str]:
    """The two neighbors that are coarse enough; with three places it may have been thousands."""
    whole, _, part = core.rpartition(decimal_mark)
    if len(part) == 3:
        return [_cut(core, decimal_mark, places), str(int(digits))]
    below = int(re.sub(r"[.,]", "", whole) + part[:places])
    return [scaled_text(near, places, decimal_mark) for near in (below, below + 1)]


def _cut(core: str, decimal_mark: str, places: int) -> str:
    last = max(core.rfind("."), core.rfind(","))
    whole = int(re.sub(r"[.,]", "", core[:last]) or "0")
    part = core[last + 1 :][:places]
    return f"{whole}{decimal_mark}{part}" if part else str(whole)


def _in_threes(number: int, decimal_mark: str) -> str:
    return f"{number:,}".replace(",", "," if decimal_mark == "." else ".")
