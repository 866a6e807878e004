"""Short ways to write sizes and surfaces in inches."""

from fractions import Fraction

from jobs.calculations.surfaces import BuildUp, EdgeCondition, EdgeKind, Opening, OpeningKind, Surface, rectangle
from workshop.calculations.lengths import INCH_NM

PLAIN = BuildUp(panel_nm=INCH_NM * 3 // 4)
BATTENED = BuildUp(panel_nm=INCH_NM * 3 // 4, battens_nm=INCH_NM * 3 // 4)


def inch(text: str | int) -> int:
    """Inches as written on paper: 96, "3/16" or "14 29/32"."""
    nm = sum(Fraction(part) for part in str(text).split()) * INCH_NM
    assert nm.denominator == 1
    return int(nm)


def square_inches(area: int | Fraction) -> Fraction:
    return Fraction(area, INCH_NM**2)


def wall(width: str | int = 222, height: str | int = 96, name: str = "B", **extras: object) -> Surface:
    return rectangle(name, inch(width), inch(height), extras.pop("build_up", PLAIN), **extras)


def held_off(by: str | int = "3/16") -> EdgeCondition:
    return EdgeCondition(EdgeKind.REVEAL, inch(by))


def door(
    left: str | int, width: str | int = 36, height: str | int = 84, name: str = "door", **extras: object
) -> Opening:
    edge = extras.pop("edge", held_off())
    return Opening(name, OpeningKind.DOOR, inch(left), 0, inch(width), inch(height), edge)


def window(
    left: str | int,
    foot: str | int,
    width: str | int,
    height: str | int,
    name: str = "window",
    edge: EdgeCondition | None = None,
) -> Opening:
    edge = held_off() if edge is None else edge
    return Opening(name, OpeningKind.WINDOW, inch(left), inch(foot), inch(width), inch(height), edge)
