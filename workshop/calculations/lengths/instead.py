"""What may be meant where a typed length cannot be read: texts to offer, the likeliest first.

Decimals are written with a point here; `in_language` changes it where the person's language has a comma.
"""

from collections.abc import Iterable
from fractions import Fraction

from workshop.calculations.lengths.showing import FOOT_NM, GRID_NM, INCH_NM, MM_NM, feet_text, inch_text
from workshop.calculations.numerals import decimal_text, mixed_text, round_half_up

_METRIC_NM = {"mm": MM_NM, "cm": 10 * MM_NM, "m": 1000 * MM_NM}
_SPELLED_OUT = {
    "inch": "in", "inches": "in", "foot": "ft", "feet": "ft",
    "meter": "m", "meters": "m", "metre": "m", "metres": "m",
    "millimeter": "mm", "millimeters": "mm", "millimetre": "mm", "millimetres": "mm",
}  # fmt: skip
_YARDS = ("yd", "yds", "yard", "yards")
_EXAMPLES = {
    "in": ("12 1/2", "12′-3 1/2″"),
    "ft": ("12 1/2", "12′-3 1/2″"),
    "mm": ("19", "19.5"),
    "cm": ("19", "19.5"),
    "m": ("1.2", "1200 mm"),
}


def in_language(texts: Iterable[str], decimal_mark: str) -> list[str]:
    """The texts with the person's decimal mark.

    Args:
        texts: texts with a decimal point, or already in the language [-]
        decimal_mark: "." or "," [-]

    Returns:
        the texts [-]

    Example:
        1.2 m becomes 1,2 m.
    """
    return [text.replace(".", ",") if decimal_mark == "," else text for text in texts]


def examples(unit: str, decimal_mark: str) -> list[str]:
    """Two lengths that can be typed in every field of the unit.

    Args:
        unit: the field's unit [-]
        decimal_mark: "." or "," [-]

    Returns:
        two texts, and two more should one of them have been offered already [-]

    Example:
        12 1/2 and 12′-3 1/2″ for inches.
    """
    return in_language([*_EXAMPLES[unit], "6 in", "19 mm"], decimal_mark)


def forms(nm: int, unit: str) -> list[str]:
    """The length in the unit it was typed in, then in another.

    Args:
        nm: the length, not below zero [nm]
        unit: the unit it was typed in [-]

    Returns:
        two texts [-]

    Example:
        1 1/4 in is 1 1/4″ and 31.75 mm.
    """
    millimeters = f"{decimal_text(Fraction(nm, MM_NM), 6)} mm"
    if unit in _METRIC_NM:
        typed = f"{decimal_text(Fraction(nm, _METRIC_NM[unit]), 9)} {unit}"
        return [typed, millimeters, *([inch_text(nm)] if nm % GRID_NM == 0 else [])]
    if nm % GRID_NM:
        return [millimeters, *nearest(Fraction(nm), unit)]
    if unit == "ft" and nm >= FOOT_NM:
        return [feet_text(nm), inch_text(nm), millimeters]
    return [inch_text(nm), millimeters]


def forms_beside_feet(nm: Fraction | int) -> list[str]:
    """The length as feet and inches below 12, then as inches alone.

    Args:
        nm: the length, not below zero [nm]

    Returns:
        two texts [-]

    Example:
        12 feet 13 inches is 13′-1″ and 157″.
    """
    if nm % GRID_NM == 0:
        return [feet_text(int(nm)), inch_text(int(nm))]
    feet, rest = divmod(Fraction(nm), FOOT_NM)
    return [f"{feet}′-{decimal_text(rest / INCH_NM, 9)}″", f"{decimal_text(Fraction(nm) / INCH_NM, 9)}″"]


def nearest(nm: Fraction, unit: str) -> list[str]:
    """The nearest lengths that can be typed in the unit's system, the coarse one first.

    Args:
        nm: the length, not below zero [nm]
        unit: the unit it was typed in [-]

    Returns:
        three texts, to 1/16 in, 1/64 in and 0.01 mm, or to 0.1 mm, 0.01 mm and 1 nm [-]

    Example:
        1/3 in is near 5/16″ and 21/64″.
    """
    fine = [MM_NM // 100, 1] if unit in _METRIC_NM else [MM_NM // 100]
    metric = [MM_NM // 10, *fine] if unit in _METRIC_NM else fine
    texts = [f"{decimal_text(Fraction(round_half_up(nm / step) * step, MM_NM), 6)} mm" for step in metric]
    if unit in _METRIC_NM:
        return texts
    write = feet_text if unit == "ft" else inch_text
    return [*(write(round_half_up(nm / step) * step) for step in (4 * GRID_NM, GRID_NM)), *texts]


def with_fraction(whole: int, slip: int, unit: str) -> str:
    """The whole with the fraction that the second number may be a slip for; with a decimal in metric units.

    Args:
        whole: the whole number typed [-]
        slip: the number typed after it [-]
        unit: the unit of both [-]

    Returns:
        the text with its unit [-]

    Example:
        12-2 in inches may be 12 1/2″, 12-3 may be 12 3/4″; in millimeters 12.2 mm.
    """
    if unit in _METRIC_NM:
        return f"{whole}.{slip} {unit}"
    if slip in (2, 4, 8, 16, 32, 64):
        part = Fraction(1, slip)
    else:
        lower = next((lower for lower in (2, 4, 8, 16, 32, 64) if slip < lower), None)
        part = Fraction(slip, lower) if lower else Fraction(0)
    text = mixed_text(whole + part)
    return f"{text} ft" if unit == "ft" else f"{text}″"


def of_unknown_unit(line: str, word: str, unit: str) -> list[str]:
    """The line with a known unit in place of the unknown one.

    Args:
        line: what was typed, in plain spelling [-]
        word: the unknown unit in it [-]
        unit: the field's unit [-]

    Returns:
        two or three texts [-]

    Example:
        3 yd is 9 ft and 108 in; 12 inches is 12 in.
    """
    number = line.removesuffix(word).strip()
    if word in _YARDS and number.isdecimal():
        return [f"{int(number) * 3} ft", f"{int(number) * 36} in"]
    known = _SPELLED_OUT.get(word, unit)
    others = ("in", "ft") if unit in ("in", "ft") else ("mm", "cm")
    return [f"{number} {each}" for each in dict.fromkeys((known, *others))]
