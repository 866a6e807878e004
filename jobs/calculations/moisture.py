"""Moisture of wood: what it settles at, how far it moves across the grain, and whether it is ready to machine.

Sources: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010): equation 4-5 with its SI coefficients, good
for 30 to 130 degrees F and 5 to 90 % relative humidity here; equation 13-2, change = size x coefficient x change of
moisture content, for 6 to 14 %. Shrinkage from green: a share of the whole shrinkage, straight from 30 % (22 % for a
few species) to 0.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

LEAST_MOISTURE, MOST_MOISTURE = Fraction(6), Fraction(14)
"""Between these moisture contents, in per cent, the coefficients hold."""

NEAR_POINTS = Fraction(2)
"""Lumber within so many points of what it will settle at is ready (common practice, no source)."""

LEAST_CELSIUS, MOST_CELSIUS, LEAST_HUMIDITY, MOST_HUMIDITY = Fraction(-2), Fraction(55), Fraction(5), Fraction(90)

OUTSIDE = "The handbook's coefficients hold from 6 to 14 % moisture content; beyond it the change is a guide only."


class MoistureError(ValueError):
    """A figure that no air or wood has, or beyond what the equation holds for."""

    def __init__(self, what: str, value: Fraction | int, would_do: tuple[str, str]) -> None:
        self.what, self.value, self.would_do = what, value, would_do
        super().__init__(f"{what} of {float(value):g}; {would_do[0]} or {would_do[1]} would do")


def celsius(fahrenheit: Fraction | int) -> Fraction:
    """A temperature in degrees Celsius.

    Args:
        fahrenheit: in degrees Fahrenheit [-]

    Returns:
        exact [-]

    Example:
        >>> celsius(68)
        Fraction(20, 1)

    Source: definition.
    """
    return Fraction(fahrenheit - 32) * 5 / 9


def settles_at(celsius_degrees: Fraction | int, humidity_percent: Fraction | int) -> Fraction:
    """The moisture content that wood settles at in air of a temperature and a relative humidity.

    Args:
        celsius_degrees: temperature in degrees Celsius [-]
        humidity_percent: relative humidity in per cent [-]

    Returns:
        per cent of the oven-dry weight; the handbook's table agrees to 0.1 [-]

    Raises:
        MoistureError: air outside of what the equation was checked for

    Example:
        70 degrees F and 45 % give 8.5 % (Wood Handbook, Table 4-2).

        >>> round(float(settles_at(celsius(70), 45)), 1)
        8.5
    """
    t, percent = Fraction(celsius_degrees), Fraction(humidity_percent)
    if not LEAST_CELSIUS <= t <= MOST_CELSIUS:
        raise MoistureError("a temperature in degrees C", t, ("20", "from -1 to 54"))
    if not LEAST_HUMIDITY <= percent <= MOST_HUMIDITY:
        raise MoistureError("a relative humidity in per cent", percent, ("45", "from 5 to 90"))
    w = 349 + Fraction("1.29") * t + Fraction("0.0135") * t**2
    k = Fraction("0.805") + Fraction("0.000736") * t - Fraction("0.00000273") * t**2
    k1 = Fraction("6.27") - Fraction("0.00938") * t - Fraction("0.000303") * t**2
    k2 = Fraction("1.91") + Fraction("0.0407") * t - Fraction("0.000293") * t**2
    kh = k * percent / 100
    wet = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return Fraction(1800) / w * (kh / (1 - kh) + wet)


@dataclass(frozen=True)
class Movement:
    """A change of width across the grain.

    Attributes:
        change_nm: above zero where it swells, to be rounded where it is shown
        note: empty where the coefficients hold
    """

    change_nm: Fraction
    note: str


def movement(width_nm: int, per_point: Fraction, from_percent: Fraction | int, to_percent: Fraction | int) -> Movement:
    """How far solid wood moves across the grain between two moisture contents.

    Args:
        width_nm: width at the first moisture content [nm]
        per_point: coefficient of its species and cut for one point [-]
        from_percent: moisture content at the shop [-]
        to_percent: moisture content on site [-]

    Returns:
        the change; with a note where a moisture content lies outside 6 to 14 % [nm]

    Raises:
        MoistureError: a width of zero or less, or a moisture content that no wood has

    Example:
        232 mm of white fir, flat-sawn (0.00245), from 8 to 11 %: 1.7 mm (Wood Handbook, ch. 13).

        >>> round(float(movement(232_000_000, Fraction("0.00245"), 8, 11).change_nm / 10**6), 1)
        1.7
    """
    _check(width_nm, from_percent, to_percent)
    inside = all(LEAST_MOISTURE <= each <= MOST_MOISTURE for each in (from_percent, to_percent))
    return Movement(width_nm * per_point * (Fraction(to_percent) - from_percent), "" if inside else OUTSIDE)


def per_point_of(
    shrinkage_percent: Fraction, at_percent: Fraction | int = 10, starts_at_percent: Fraction | int = 30
) -> Fraction:
    """The dimensional change coefficient that follows from a species' shrinkage from green to oven-dry.

    Args:
        shrinkage_percent: of the green size, radial or tangential [-]
        at_percent: moisture content at which the size is taken, the middle of the coefficients' range [-]
        starts_at_percent: moisture content at which shrinkage starts [-]

    Returns:
        change for one point, as a share of the size [-]

    Example:
        White ash shrinks 7.8 % tangentially: 0.00274 (Wood Handbook, both tables).

        >>> round(float(per_point_of(Fraction("7.8"))), 5)
        0.00274
    """
    slope = shrinkage_percent / starts_at_percent
    return slope / (100 - slope * (starts_at_percent - at_percent))


def dried(
    green_nm: int, shrinkage_percent: Fraction, to_percent: Fraction | int, starts_at_percent: Fraction | int = 30
) -> Fraction:
    """The size of a piece sawn green once it is dried.

    Args:
        green_nm: size as sawn [nm]
        shrinkage_percent: from green to oven-dry, of the green size [-]
        to_percent: moisture content it is dried to [-]
        starts_at_percent: moisture content at which shrinkage starts [-]

    Returns:
        the size [nm]

    Raises:
        MoistureError: a size of zero or less, or a moisture content that no wood has

    Example:
        100 mm of white ash sawn green and flat, 7.8 %, dried to 6 %: 93.76 mm.

        >>> float(dried(100_000_000, Fraction("7.8"), 6)) / 10**6
        93.76

    Source: Wood Handbook ch. 4, shrinkage taken as straight.
    """
    _check(green_nm, to_percent, to_percent)
    points = max(Fraction(0), starts_at_percent - Fraction(to_percent))
    return green_nm * (1 - shrinkage_percent / 100 * points / starts_at_percent)


def reveal_on_site(reveal_nm: int, movements_nm: Sequence[Fraction]) -> Fraction:
    """How wide a reveal or joint is once the solid pieces at its sides have moved.

    Args:
        reveal_nm: as it is built [nm]
        movements_nm: changes of the pieces that push into it, each counted for the part on its side [nm]

    Returns:
        below zero where the pieces press on each other [nm]

    Example:
        A reveal of 3 mm between two pieces that swell 2 mm each, fixed in their middles: 1 mm is left.

        >>> reveal_on_site(3_000_000, [Fraction(1_000_000), Fraction(1_000_000)])
        Fraction(1000000, 1)
    """
    return Fraction(reveal_nm) - sum(movements_nm, Fraction(0))


class Ready(Enum):
    """Whether to machine now."""

    READY = "ready to machine"
    TOO_WET = "too wet: it will shrink after machining"
    TOO_DRY = "too dry: it will swell after machining"
    UNEVEN = "uneven: the readings differ too much among themselves"


@dataclass(frozen=True)
class Advice:
    """Whether lumber is ready, with the numbers it rests on.

    Attributes:
        ready: in a word
        least: lowest reading, per cent
        most: highest reading, per cent
        mean: of the readings, per cent
        site: what it will settle at on site, per cent
        points: mean less site, in points
    """

    ready: Ready
    least: Fraction
    most: Fraction
    mean: Fraction
    site: Fraction
    points: Fraction

    def __str__(self) -> str:
        return (
            f"{self.ready.value}. Readings {float(self.least):.1f} to {float(self.most):.1f} %, mean "
            f"{float(self.mean):.1f} %; on site it settles at {float(self.site):.1f} %, "
            f"{abs(float(self.points)):.1f} points {'below' if self.points > 0 else 'above'}."
        )


def ready_to_machine(
    readings_percent: Sequence[Fraction | int], site_percent: Fraction, within: Fraction = NEAR_POINTS
) -> Advice:
    """Whether lumber is ready to machine for a site.

    Args:
        readings_percent: moisture contents read on boards [-]
        site_percent: what wood settles at on site, from `settles_at` [-]
        within: points from the site's moisture content that are near enough, and twice as many among readings [-]

    Returns:
        the advice with its numbers [-]

    Raises:
        MoistureError: no reading, or one that no wood has

    Example:
        >>> str(ready_to_machine([8, 9, 10], Fraction(8)))
        'ready to machine. Readings 8.0 to 10.0 %, mean 9.0 %; on site it settles at 8.0 %, 1.0 points below.'

    Source: common practice, no source.
    """
    if not readings_percent:
        raise MoistureError("a number of readings", 0, ("1", "5"))
    readings = [Fraction(each) for each in readings_percent]
    for each in readings:
        _check(1, each, each)
    least, most, mean = min(readings), max(readings), sum(readings) / len(readings)
    points = mean - site_percent
    if most - least > 2 * within:
        ready = Ready.UNEVEN
    elif abs(points) <= within:
        ready = Ready.READY
    else:
        ready = Ready.TOO_WET if points > 0 else Ready.TOO_DRY
    return Advice(ready, least, most, mean, site_percent, points)


def _check(width_nm: int, *percents: Fraction | int) -> None:
    if width_nm <= 0:
        raise MoistureError("a width in nm", width_nm, ("25400000 (1 in)", "100000000 (100 mm)"))
    for percent in percents:
        if not 0 <= percent <= 200:
            raise MoistureError("a moisture content in per cent", percent, ("8", "12"))
