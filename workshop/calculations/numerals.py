"""Numbers as they are typed and as they are shown; lengths and quantities both go through here.

What is typed may hold any typographic cousin of a mark (′ ’ ´ for a foot mark, ″ ” “ for an inch mark, – −
for a hyphen, ⁄ for a slash, ½ for 1/2) and any kind of space. `plain` brings it to one spelling; the readers
then know only that one. Digits are 0 to 9 alone: digits of other scripts are refused, never guessed.
"""

import re
from collections.abc import Callable, Iterable
from fractions import Fraction

LONGEST = 40
"""The most characters a typed number can have, runs of spaces counted as one."""

NOTHING = "nothing was typed"
TOO_LONG = "it is longer than a number can be"
NO_NUMBER = "there is no number in it"
OTHER_DIGITS = "it has digits other than 0 to 9"
OTHER_CHARACTER = "it has a character that does not belong in a number"
THOUSANDS = "thousands are typed without a mark"
OTHER_MARK = "its decimal mark is that of another language"
DIVISION_BY_ZERO = "nothing can be divided by zero"
IMPROPER = "a fraction beside a whole number is smaller than 1"

REASONS = (
    NOTHING,
    TOO_LONG,
    NO_NUMBER,
    OTHER_DIGITS,
    OTHER_CHARACTER,
    THOUSANDS,
    OTHER_MARK,
    DIVISION_BY_ZERO,
    IMPROPER,
)

_SPACES = re.compile("[\t\n\r \u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]+")
_LOOKALIKES = {
    "'": "′’‘´`ʹʼ‵",
    '"': "″”“ʺ˝‟",
    "-": "‐‑‒–—−",
    "/": "⁄∕",
}
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6",
    "⅚": "5/6", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10", "↉": "0/3",
}  # fmt: skip
_PLAIN = str.maketrans(
    {look: mark for mark, looks in _LOOKALIKES.items() for look in looks}
    | {sign: f" {fraction} " for sign, fraction in _VULGAR.items()}
)
_POWER = re.compile("(?<=[A-Za-z])[²³]")
_ABBREVIATION_POINT = re.compile(r"(?<=[a-z])\.(?=[ a-z]|$)")


class NotRead(ValueError):
    """Why a typed text cannot be read, and what may be meant instead; each reader makes its own error of it.

    Attributes:
        reason: a constant text without figures, so that a page can translate it
        instead: texts that may be meant, the likeliest first; not yet known to be readable
    """

    def __init__(self, reason: str, *instead: str) -> None:
        self.reason = reason
        self.instead = instead
        super().__init__(reason)


class TypedError(ValueError):
    """A typed text that cannot be taken, with the reason and two texts that can be.

    Attributes:
        typed: what was typed, at most 40 characters of it, without control characters
        what: what it was to be read as
        reason: a constant text without figures, so that a page can translate it
        would_do: two texts that are read without error in the same field
    """

    def __init__(self, typed: str, what: str, reason: str, would_do: tuple[str, str]) -> None:
        self.typed = shown_as_typed(typed)
        self.what = what
        self.reason = reason
        self.would_do = would_do
        named = self.typed or "An empty field"
        super().__init__(f"{named} cannot be read as {what}: {reason}. Type {would_do[0]} or {would_do[1]}.")


def round_half_up(value: Fraction | int) -> int:
    """The nearest whole number; an exact half goes away from zero.

    Args:
        value: any exact number [-]

    Returns:
        the whole number [-]

    Example:
        5/2 is 3 and -5/2 is -3 (as decimal.ROUND_HALF_UP of the Python library).
    """
    value = Fraction(value)
    size = (2 * abs(value.numerator) + value.denominator) // (2 * value.denominator)
    return -size if value < 0 else size


def shown_as_typed(text: str) -> str:
    """The typed text fit to be quoted in a message: one line, no control characters, at most 40 characters.

    Args:
        text: what was typed [-]

    Returns:
        the text, with an ellipsis where it was cut [-]

    Example:
        A hundred thousand letters become 39 letters and an ellipsis.
    """
    line = _SPACES.sub(" ", text[: 50 * LONGEST]).strip(" ")
    cut = line if len(line) <= LONGEST else line[: LONGEST - 1] + "…"
    return "".join(sign if sign.isprintable() else "\ufffd" for sign in cut)


def plain(text: str, decimal_mark: str) -> str:
    """The typed text in one spelling: single spaces, small letters, ' " - / for their lookalikes, a point.

    Args:
        text: what was typed [-]
        decimal_mark: "." or ",", by the person's language [-]

    Returns:
        ASCII text without control characters [-]

    Raises:
        NotRead: no digit, over 40 characters, a foreign character, a thousands mark, the other decimal mark
        ValueError: the decimal mark is neither

    Example:
        12′–3½″ becomes 12'-3 1/2 ".
    """
    if decimal_mark not in (".", ","):
        raise ValueError(f"decimal mark {decimal_mark!r} is not known; . or , would do")
    typed = _SPACES.sub(" ", text).strip(" ")
    if not typed:
        raise NotRead(NOTHING)
    if len(typed) > LONGEST:
        raise NotRead(TOO_LONG)
    powers = _POWER.sub(lambda match: "2" if match[0] == "²" else "3", typed)
    line = _SPACES.sub(" ", powers.translate(_PLAIN)).strip(" ")
    for sign in line:
        if not " " <= sign <= "~":
            raise NotRead(OTHER_DIGITS if sign.isnumeric() else OTHER_CHARACTER)
    if not re.search("[0-9]", line):
        raise NotRead(NO_NUMBER)
    line = _ABBREVIATION_POINT.sub("", line.lower().replace("''", '"'))
    return _with_decimal_point(line, decimal_mark)


def _with_decimal_point(line: str, decimal_mark: str) -> str:
    other = "," if decimal_mark == "." else "."
    if other not in line:
        return line.replace(decimal_mark, ".")
    joined, replaced = line.replace(other, ""), line.replace(other, decimal_mark)
    if decimal_mark in line:
        last_is_other = line.rfind(other) > line.rfind(decimal_mark)
        raise NotRead(
            THOUSANDS,
            line.replace(decimal_mark, "").replace(other, decimal_mark) if last_is_other else joined,
        )
    if re.search(rf"(?<![0-9])[0-9]{{1,3}}(?:[{other}][0-9]{{3}})+(?![0-9])", line):
        raise NotRead(THOUSANDS, joined, replaced)
    raise NotRead(OTHER_MARK, replaced)


def fraction_of(text: str) -> Fraction:
    """The value of a typed fraction.

    Args:
        text: two whole numbers and a slash between them, spaces allowed [-]

    Returns:
        the exact value [-]

    Raises:
        NotRead: the lower number is zero

    Example:
        "3 / 4" is 3/4.
    """
    upper, lower = (int(part) for part in text.split("/"))
    if lower == 0:
        raise NotRead(DIVISION_BY_ZERO)
    return Fraction(upper, lower)


def decimal_text(value: Fraction | int, places: int, decimal_mark: str = ".") -> str:
    """The value as a decimal number, rounded half away from zero, without zeros at its end or marks inside.

    Args:
        value: any exact number [-]
        places: the most places after the decimal mark [-]
        decimal_mark: "." or "," [-]

    Returns:
        the text, with - before a value below zero [-]

    Example:
        1234.5 to two places is 1234.5, and -1/8 is -0.13.
    """
    scaled = round_half_up(Fraction(value) * 10**places)
    digits = f"{abs(scaled):0{places + 1}d}"
    whole, rest = (digits[:-places], digits[-places:].rstrip("0")) if places else (digits, "")
    return ("-" if scaled < 0 else "") + whole + (decimal_mark + rest if rest else "")


def mixed_text(value: Fraction | int) -> str:
    """The value as a whole number and a fraction in lowest terms.

    Args:
        value: any exact number [-]

    Returns:
        the text, with - before a value below zero [-]

    Example:
        5/2 is "2 1/2", 1/2 is "1/2", 3 is "3".
    """
    value = Fraction(value)
    whole, rest = divmod(abs(value), 1)
    parts = [str(whole)] if whole or not rest else []
    if rest:
        parts.append(f"{rest.numerator}/{rest.denominator}")
    return ("-" if value < 0 else "") + " ".join(parts)


def two_that_read(candidates: Iterable[str], reads: Callable[[str], bool]) -> tuple[str, str]:
    """The first two candidates that can be read, each once.

    Args:
        candidates: texts, the likeliest first; the last two of them can always be read [-]
        reads: tells whether a text can be read in the field [-]

    Returns:
        two different texts [-]

    Example:
        Of 12'-13", 13'-1" and 157" the second and the third.
    """
    tidy = dict.fromkeys(" ".join(text.split()) for text in candidates)
    first, second = [text for text in tidy if reads(text)][:2]
    return first, second
