"""The revised NIOSH lifting equation: how much a person lifts with two hands before the risk rises.

Sources: Waters, Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH)
Publication 94-110: constants and the multipliers for reach, height and travel, in inches and in centimeters, as
quoted (what-when-how.com, Fundamentals and Assessment Tools for Occupational Ergonomics, 46.2.1); asymmetry, grip,
frequency and the limits beyond which nothing should be lifted from memory of the manual.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

POUND_KG = Fraction("0.45359237")

NOT_COVERED = (
    "Carrying, holding, pushing and pulling, lifts with one hand, seated or kneeling, above the head as at a ceiling, "
    "by two people together, in little space, of loads that shift, and feeding a saw are not covered. "
    "A figure below 1 is no promise that nobody is hurt: two people, a cart or a lift come first."
)


@dataclass(frozen=True)
class Figures:
    """The equation's figures in one system of units; the two agree to about 3 %."""

    unit_nm: int
    constant_kg: Fraction
    near: Fraction
    farthest: Fraction
    knuckles: Fraction
    for_height: Fraction
    highest: Fraction
    for_travel: Fraction


IN_INCHES = Figures(
    25_400_000,
    51 * POUND_KG,
    Fraction(10),
    Fraction(25),
    Fraction(30),
    Fraction("0.0075"),
    Fraction(70),
    Fraction("1.8"),
)
IN_CENTIMETERS = Figures(
    10_000_000,
    Fraction(23),
    Fraction(25),
    Fraction(63),
    Fraction(75),
    Fraction("0.003"),
    Fraction(175),
    Fraction("4.5"),
)


class Grip(StrEnum):
    """How the load can be held."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


_GRIPS = {
    Grip.GOOD: (Fraction(1), Fraction(1)),
    Grip.FAIR: (Fraction("0.95"), Fraction(1)),
    Grip.POOR: (Fraction("0.9"), Fraction("0.9")),
}
"""Below the knuckles (30 in, 75 cm), and from there up."""

_FREQUENCIES = (
    ("0.2", 100, 100, 95, 95, 85, 85),
    ("0.5", 97, 97, 92, 92, 81, 81),
    ("1", 94, 94, 88, 88, 75, 75),
    ("2", 91, 91, 84, 84, 65, 65),
    ("3", 88, 88, 79, 79, 55, 55),
    ("4", 84, 84, 72, 72, 45, 45),
    ("5", 80, 80, 60, 60, 35, 35),
    ("6", 75, 75, 50, 50, 27, 27),
    ("7", 70, 70, 42, 42, 22, 22),
    ("8", 60, 60, 35, 35, 18, 18),
    ("9", 52, 52, 30, 30, 0, 15),
    ("10", 45, 45, 26, 26, 0, 13),
    ("11", 41, 41, 0, 23, 0, 0),
    ("12", 37, 37, 0, 21, 0, 0),
    ("13", 0, 34, 0, 0, 0, 0),
    ("14", 0, 31, 0, 0, 0, 0),
    ("15", 0, 28, 0, 0, 0, 0),
)
"""Lifts a minute; hundredths up to 1, 2 and 8 h, each below the knuckles and from there up (from memory)."""


class LiftError(ValueError):
    """A figure that no lift has."""

    def __init__(self, what: str, value: Fraction | int, would_do: tuple[str, str]) -> None:
        self.what, self.value = what, value
        super().__init__(f"{what} of {float(value):g}; {would_do[0]} or {would_do[1]} would do")


@dataclass(frozen=True)
class Lift:
    """A lift at its start or at its end.

    Attributes:
        reach_nm: of the hands, level, from between the ankles
        height_nm: of the hands above the floor
        travel_nm: how far the hands go up or down
        turned_degrees: how far the body is turned
        a_minute: lifts a minute
        hours: of such work at a stretch
        grip: how the load can be held
    """

    reach_nm: int
    height_nm: int
    travel_nm: int
    turned_degrees: int = 0
    a_minute: Fraction = Fraction(1, 5)
    hours: Fraction = Fraction(1)
    grip: Grip = Grip.POOR


@dataclass(frozen=True)
class Limit:
    """The recommended weight limit in kg, with its multipliers."""

    kg: Fraction
    reach: Fraction
    height: Fraction
    travel: Fraction
    turned: Fraction
    frequency: Fraction
    grip: Fraction

    def index(self, kg: Fraction | int) -> Fraction | None:
        """Weight over limit: above 1 the risk is raised. None where nothing should be lifted so."""
        return None if not self.kg else Fraction(kg) / self.kg


def limit(lift: Lift, figures: Figures = IN_INCHES) -> Limit:
    """The recommended weight limit of a lift; NOT_COVERED goes with it wherever it is shown.

    Args:
        lift: at its start, and again at its end where the load is set down with care [-]
        figures: IN_INCHES or IN_CENTIMETERS, as the job measures [-]

    Returns:
        the limit in kg, 0 where the lift lies outside of what the equation allows [-]

    Raises:
        LiftError: a figure below zero, or more than 8 hours

    Example:
        Loading punch press stock, at its start: reach 23 in, height 15 in, travel 48 in, fair grip: 16.0 lb. The manual
        has 16.3 lb from multipliers rounded in its table.

        >>> inch = 25_400_000
        >>> made = limit(Lift(23 * inch, 15 * inch, 48 * inch, grip=Grip.FAIR))
        >>> round(float(made.kg) / 0.45359237, 1)
        16.0
    """
    for what, value in (("a reach", lift.reach_nm), ("a height", lift.height_nm), ("a travel", lift.travel_nm)):
        if value < 0:
            raise LiftError(f"{what} in nm", value, ("250000000 (25 cm)", "500000000 (50 cm)"))
    if lift.turned_degrees < 0 or lift.a_minute < 0:
        raise LiftError("a turn or a frequency", min(lift.turned_degrees, lift.a_minute), ("0", "30"))
    if not 0 < lift.hours <= 8:
        raise LiftError("hours of lifting", lift.hours, ("1", "8"))
    reach, height, travel = (Fraction(nm, figures.unit_nm) for nm in (lift.reach_nm, lift.height_nm, lift.travel_nm))
    by_reach = Fraction(0) if reach > figures.farthest else figures.near / max(reach, figures.near)
    by_height = 1 - figures.for_height * abs(height - figures.knuckles)
    by_travel = Fraction("0.82") + figures.for_travel / max(travel, figures.near)
    if height > figures.highest:
        by_height = Fraction(0)
    if travel > figures.highest:
        by_travel = Fraction(0)
    turned = Fraction(0) if lift.turned_degrees > 135 else 1 - Fraction("0.0032") * lift.turned_degrees
    is_high = height >= figures.knuckles
    frequency = _frequency(lift.a_minute, lift.hours, is_high)
    grip = _GRIPS[lift.grip][is_high]
    kg = figures.constant_kg * by_reach * by_height * by_travel * turned * frequency * grip
    return Limit(kg, by_reach, by_height, by_travel, turned, frequency, grip)


def _frequency(a_minute: Fraction, hours: Fraction, is_high: bool) -> Fraction:
    """From the table; between two rows that of more lifts."""
    column = 1 + 2 * (0 if hours <= 1 else 1 if hours <= 2 else 2) + is_high
    for row in _FREQUENCIES:
        if a_minute <= Fraction(row[0]):
            return Fraction(row[column], 100)
    return Fraction(0)
