"""Reading a length as typed; the grammar stands in words at the head of the package."""

import re
from fractions import Fraction

from workshop.calculations import numerals
from workshop.calculations.lengths import instead
from workshop.calculations.lengths.showing import FOOT_NM, INCH_NM, MM_NM
from workshop.calculations.numerals import NotRead, TypedError

MAX_NM = 10**12
"""1 km, the longest length."""

UNIT_NM = {"in": INCH_NM, "ft": FOOT_NM, "mm": MM_NM, "cm": 10 * MM_NM, "m": 1000 * MM_NM}
DENOMINATORS = (2, 4, 8, 16, 32, 64)

TWO_WAYS = "it can be read two ways, as feet and inches or as a slip for a fraction"
SIDE_BY_SIDE = "two numbers stand side by side"
INCHES_OVER = "inches beside feet are less than 12"
OTHER_FRACTION = "fractions are halves, 4ths, 8ths, 16ths, 32nds or 64ths"
NOMINAL = "it is a nominal thickness of lumber"
SIGN = "it has a sign where none belongs"
UNKNOWN_UNIT = "its unit is not one of in, ft, mm, cm or m"
NOT_A_LENGTH = "its parts do not make one length"
TWO_SIZES = "it is two sizes, and this field takes one"
TOO_FINE = "it is finer than can be kept exactly"
TOO_FAR = "it is more than 1 km"
NOT_A_SIZE = "a size is more than zero"

REASONS = (
    *numerals.REASONS, TWO_WAYS, SIDE_BY_SIDE, INCHES_OVER, OTHER_FRACTION, NOMINAL, SIGN, UNKNOWN_UNIT,
    NOT_A_LENGTH, TWO_SIZES, TOO_FINE, TOO_FAR, NOT_A_SIZE,
)  # fmt: skip
"""Every reason a LengthError can give, for the translators."""

_PARTS = re.compile(
    r" ?(?:(?P<F>[0-9]+ ?/ ?[0-9]+)|(?P<D>[0-9]*\.[0-9]+)|(?P<N>[0-9]+)"
    r"|(?P<U>[a-z]+|['\"])|(?P<S>[-+])|(?P<X>.))"
)
_UNITS = {"'": "ft", '"': "in"}
_FEET_INCHES = re.compile(r"Nf-?(?P<inches>N-?F|N|D|F)i?")
_DASHED = re.compile(r"N-(?P<inches>N-?F)i?")
_BY = re.compile(r"(.*[1-9].*?) ?x ?(.*[1-9].*)")
_PLAIN = re.compile(r"(?P<number>N-?F|N|D|F)[fiu]?")


class LengthError(TypedError):
    """A typed text that is no length; its two suggestions are lengths in the same field."""


def read_length(text: str, unit: str = "in", decimal_mark: str = ".", *, size: bool = False) -> int:
    """The typed length, exact.

    Args:
        text: what was typed [-]
        unit: the field's unit, for numbers without one: in, ft, mm, cm or m [-]
        decimal_mark: "." or ",", by the person's language [-]
        size: whether the field holds a size, which is more than zero [-]

    Returns:
        the length [nm]

    Raises:
        LengthError: the text is no length, or one that the field does not take
        ValueError: the unit or the decimal mark is not known

    Example:
        12'-3 1/2" is 147.5 x 25.4 mm = 3746.5 mm, so 3,746,500,000 nm (NIST Handbook 44, appendix C).
    """
    if unit not in UNIT_NM:
        raise ValueError(f"length unit {unit!r} is not known; in or mm would do")
    try:
        return _read(text, unit, decimal_mark, size)
    except NotRead as refused:
        would_do = _would_do(refused, unit, decimal_mark, size)
        raise LengthError(text, "a size" if size else "a length", refused.reason, would_do) from None


def _would_do(refused: NotRead, unit: str, decimal_mark: str, size: bool) -> tuple[str, str]:
    def nm_of(candidate: str) -> int:
        try:
            return _read(candidate, unit, decimal_mark, size)
        except NotRead:
            return 0

    meant = instead.in_language(refused.instead, decimal_mark)
    likeliest = next(filter(None, map(nm_of, meant)), 0)
    if likeliest > 0:
        meant += instead.in_language(instead.forms(likeliest, unit), decimal_mark)
    return numerals.two_that_read(
        [*meant, *instead.examples(unit, decimal_mark)], lambda candidate: nm_of(candidate) != 0
    )


def _read(text: str, unit: str, decimal_mark: str, size: bool) -> int:
    line = numerals.plain(text, decimal_mark)
    negative = line.startswith("-")
    try:
        nm = _nm_of(line.removeprefix("-"), unit)
    except NotRead as refused:
        sign = "-" if negative and not size else ""
        raise NotRead(refused.reason, *(sign + each for each in refused.instead)) from None
    if size and (negative or not nm):
        raise NotRead(NOT_A_SIZE, *instead.forms(nm, unit))
    return -nm if negative else nm


def _nm_of(line: str, unit: str) -> int:
    nm = _size_of(line, _parts_of(line, unit), unit)
    if nm > MAX_NM:
        raise NotRead(TOO_FAR)
    if nm.denominator != 1:
        raise NotRead(TOO_FINE, *instead.nearest(nm, unit))
    return int(nm)


def _parts_of(line: str, unit: str) -> list[tuple[str, str]]:
    """The parts of the line, each after its kind: Number, Decimal, Fraction, feet, inches, other unit, -."""
    parts = []
    for match in _PARTS.finditer(line):
        kind, part = match.lastgroup, match[match.lastgroup].strip()
        if kind == "U":
            part = _UNITS.get(part, part)
            if part == "x" and (two := _BY.fullmatch(line)):
                raise NotRead(TWO_SIZES, *two.groups())
            if part not in UNIT_NM:
                raise NotRead(UNKNOWN_UNIT, *instead.of_unknown_unit(line, part, unit))
            kind = {"ft": "f", "in": "i"}.get(part, "u")
        elif part == "+":
            raise NotRead(SIGN, line.replace("+", " "))
        parts.append((kind if kind != "S" else "-", part))
    return parts


def _size_of(line: str, parts: list[tuple[str, str]], unit: str) -> Fraction:
    shape = "".join(kind for kind, _ in parts)
    texts = [part for kind, part in parts if kind in "NDF"]
    if match := _FEET_INCHES.fullmatch(shape) or _DASHED.fullmatch(shape):
        return _feet_inches(int(texts[0]), match["inches"].replace("-", ""), texts[1:])
    named = next((part for kind, part in parts if kind in "fiu"), unit)
    if match := _PLAIN.fullmatch(shape):
        return _number(match["number"].replace("-", ""), texts, named) * UNIT_NM[named]
    raise _shapeless(line, shape, texts, named)


def _feet_inches(feet: int, kinds: str, texts: list[str]) -> Fraction:
    inches = _number(kinds, texts, "in", beside_feet=feet)
    if inches >= 12:
        raise NotRead(INCHES_OVER, *instead.forms_beside_feet(feet * FOOT_NM + inches * INCH_NM))
    return feet * FOOT_NM + inches * INCH_NM


def _number(kinds: str, texts: list[str], unit: str, beside_feet: int | None = None) -> Fraction:
    """The value of a whole (N), a decimal (D), a fraction (F) or a whole with a fraction (NF)."""
    whole = Fraction(texts[0]) if kinds[0] != "F" else Fraction(0)
    if kinds[-1] != "F":
        return whole
    feet_nm = (beside_feet or 0) * FOOT_NM
    upper, lower = (int(part) for part in texts[-1].split("/"))
    if lower == 0:
        raise NotRead(numerals.DIVISION_BY_ZERO, *instead.forms(int(feet_nm + whole * UNIT_NM[unit]), unit))
    value = whole + Fraction(upper, lower)
    nm = feet_nm + value * UNIT_NM[unit]
    if lower not in DENOMINATORS:
        raise NotRead(OTHER_FRACTION, *instead.nearest(nm, unit))
    if upper >= lower and beside_feet is not None:
        raise NotRead(numerals.IMPROPER, *instead.forms_beside_feet(nm))
    if upper >= lower and kinds == "NF":
        slip = instead.with_fraction(int(whole), upper, unit)
        raise NotRead(numerals.IMPROPER, *instead.forms(int(nm), unit)[:1], slip)
    if upper >= lower and lower == 4:
        raise NotRead(NOMINAL, *instead.forms(int(nm), unit))
    return value


def _shapeless(line: str, shape: str, texts: list[str], unit: str) -> NotRead:
    """Why a line without the shape of a length cannot be read; the unit is its own, or the field's."""
    bare = shape[:-1] if shape[-1:] in ("f", "i", "u") else shape
    if set(bare) == {"N"} and len(bare) > 1 and all(len(group) == 3 for group in texts[1:]):
        first, rest = texts[0], "".join(texts[1:])
        return NotRead(numerals.THOUSANDS, f"{first}{rest} {unit}", f"{first}.{rest} {unit}")
    if bare in ("N-N", "NN"):
        first, second = texts
        slip = instead.with_fraction(int(first), int(second), unit)
        feet_inches = instead.forms_beside_feet(int(first) * FOOT_NM + int(second) * INCH_NM)[:1]
        reason = TWO_WAYS if bare == "N-N" else SIDE_BY_SIDE
        named_metric = shape[-1] == "u"
        return NotRead(reason, *(() if named_metric else feet_inches), slip, f"{first}{second} {unit}")
    if bare == "N-D":
        return NotRead(TWO_WAYS, f"{texts[0]}′-{texts[1]}″")
    if "-" in shape:
        return NotRead(SIGN, re.sub("[- ]*-[- ]*", "-", line).strip("-"), re.sub("[- ]+", " ", line).replace("/ ", "/"))
    return NotRead(NOT_A_LENGTH, line.rstrip(" ."))
