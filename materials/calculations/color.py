"""Color of sheets: CIELAB from sRGB, CIEDE2000 between two colors and within a whole lot.

Sources:
    CIEDE2000: Sharma, Wu, Dalal, The CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary Test Data,
    and Mathematical Observations, Color Research & Application 30(1), 2005; equation numbers are those of the paper.
    sRGB: IEC 61966-2-1, with the seven-digit matrix and the white 0.95047, 1, 1.08883 published by Lindbloom.

A difference is kept as a whole number of ten-thousandths wherever plans are compared, so that no plan is better or
worse than another by the last bit of a float.
"""

from collections.abc import Sequence
from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from typing import NamedTuple

PER_UNIT = 10_000
"""Ten-thousandths in one unit of difference."""

_WHITE_D65 = (0.95047, 1.0, 1.08883)
_TO_XYZ = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
_C25_7 = 25.0**7


class Lab(NamedTuple):
    """A color in CIELAB.

    Attributes:
        lightness: L*, 0 to 100 [-]
        a: a*, greener below 0, redder above [-]
        b: b*, bluer below 0, yellower above [-]
    """

    lightness: float
    a: float
    b: float


class NotALightness(ValueError):
    """An L* outside 0 to 100."""

    def __init__(self, lightness: float) -> None:
        self.lightness = lightness
        super().__init__(f"L* {lightness:g} is not from 0 to 100; 78.5 or 80 would do")


class NotAnSrgbValue(ValueError):
    """A red, green or blue outside 0 to 255."""

    def __init__(self, value: float) -> None:
        self.value = value
        super().__init__(f"{value:g} is not from 0 to 255; 200 or 127.5 would do")


def lab(lightness: float, a: float, b: float) -> Lab:
    """A color in CIELAB, its lightness checked.

    Args:
        lightness: L* [-]
        a: a* [-]
        b: b* [-]

    Returns:
        the color

    Raises:
        NotALightness: L* is not from 0 to 100

    Example:
        >>> lab(78, 5, 19)
        Lab(lightness=78.0, a=5.0, b=19.0)
    """
    if not 0 <= lightness <= 100:
        raise NotALightness(lightness)
    return Lab(float(lightness), float(a), float(b))


def srgb_to_lab(red: float, green: float, blue: float) -> Lab:
    """CIELAB of an sRGB color, white D65, 2 degree observer.

    Args:
        red: 0 to 255 [-]
        green: 0 to 255 [-]
        blue: 0 to 255 [-]

    Returns:
        the color

    Raises:
        NotAnSrgbValue: one of the three is not from 0 to 255

    Example:
        srgb_to_lab(138, 90, 43) is L* 42.5990, a* 15.0398, b* 34.5152, as published by Lindbloom.
    """
    linear = [_linear(value) for value in (red, green, blue)]
    x, y, z = (
        _compressed(sum(part * value for part, value in zip(row, linear, strict=True)) / white)
        for row, white in zip(_TO_XYZ, _WHITE_D65, strict=True)
    )
    return Lab(min(max(116 * y - 16, 0.0), 100.0), 500 * (x - y), 200 * (y - z))


def _linear(value: float) -> float:
    if not 0 <= value <= 255:
        raise NotAnSrgbValue(value)
    share = value / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def _compressed(share: float) -> float:
    return share ** (1 / 3) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116


def ciede2000(first: Lab, second: Lab) -> float:
    """CIEDE2000 between two colors, with kL = kC = kH = 1.

    Args:
        first: one color, its order with the other does not matter [-]
        second: the other color [-]

    Returns:
        the difference, 0 and up

    Example:
        >>> round(ciede2000(lab(78, 5, 19), lab(77.2, 5, 19)), 4)
        0.5679
    """
    return _difference(*first, hypot(first[1], first[2]), *second, hypot(second[1], second[2]))


def _difference(l1: float, a1: float, b1: float, c1: float, l2: float, a2: float, b2: float, c2: float) -> float:
    c_mean_7 = ((c1 + c2) / 2) ** 7  # (3), (4)
    stretch = 1.5 - 0.5 * sqrt(c_mean_7 / (c_mean_7 + _C25_7))  # 1 + G of (4)
    a1, a2 = a1 * stretch, a2 * stretch  # (5)
    c1, c2 = hypot(a1, b1), hypot(a2, b2)  # (6)
    h1 = degrees(atan2(b1, a1)) % 360 if c1 else 0.0  # (7)
    h2 = degrees(atan2(b2, a2)) % 360 if c2 else 0.0
    both = c1 * c2
    turn = h2 - h1 if both else 0.0  # (10)
    if turn > 180:
        turn -= 360
    elif turn < -180:
        turn += 360
    d_hue = 2 * sqrt(both) * sin(radians(turn / 2))  # (11)
    hue = h1 + h2  # (14)
    if both:
        if abs(h1 - h2) > 180:
            hue += 360 if hue < 360 else -360
        hue /= 2
    l_mean, c_mean = (l1 + l2) / 2, (c1 + c2) / 2  # (12), (13)
    t = (  # (15)
        1
        - 0.17 * cos(radians(hue - 30))
        + 0.24 * cos(radians(2 * hue))
        + 0.32 * cos(radians(3 * hue + 6))
        - 0.20 * cos(radians(4 * hue - 63))
    )
    c_mean_7 = c_mean**7
    turned = 2 * sqrt(c_mean_7 / (c_mean_7 + _C25_7)) * sin(radians(60 * exp(-(((hue - 275) / 25) ** 2))))  # (16), (17)
    light = (l_mean - 50) ** 2
    by_l = (l2 - l1) / (1 + 0.015 * light / sqrt(20 + light))  # (18)
    by_c = (c2 - c1) / (1 + 0.045 * c_mean)  # (19)
    by_h = d_hue / (1 + 0.015 * c_mean * t)  # (20)
    return sqrt(max(by_l * by_l + by_c * by_c + by_h * by_h - turned * by_c * by_h, 0.0))  # (21), (22)


def difference_ab(first: Lab, second: Lab) -> float:
    """CIELAB difference of 1976 between two colors, the one the gray scale is given in.

    Args:
        first: one color [-]
        second: the other color [-]

    Returns:
        the straight distance, 0 and up

    Example:
        >>> round(difference_ab(lab(78, 5, 19), lab(76.3, 5, 19)), 4)
        1.7
    """
    return sqrt(sum((one - other) ** 2 for one, other in zip(first, second, strict=True)))


def differences(colors: Sequence[Lab]) -> list[list[int]]:
    """CIEDE2000 between every two colors of a lot, in ten-thousandths.

    Args:
        colors: the readings, in the order of the rows to give [-]

    Returns:
        a square of whole numbers, its diagonal 0, alike across the diagonal

    Example:
        >>> differences([lab(78, 5, 19), lab(77.2, 5, 19)])
        [[0, 5679], [5679, 0]]
    """
    parts = [(*color, hypot(color[1], color[2])) for color in colors]
    square = [[0] * len(parts) for _ in parts]
    for row, one in enumerate(parts):
        for column in range(row):
            square[row][column] = square[column][row] = in_ten_thousandths(_difference(*one, *parts[column]))
    return square


def differences_of_lightness(lightness: Sequence[float]) -> list[list[int]]:
    """CIEDE2000 between every two sheets of which only the lightness is known, in ten-thousandths.

    Args:
        lightness: L* of each sheet [-]

    Returns:
        a square of whole numbers

    Raises:
        NotALightness: an L* is not from 0 to 100

    Example:
        >>> differences_of_lightness([80, 78.5])
        [[0, 10462], [10462, 0]]
    """
    return differences([lab(value, 0, 0) for value in lightness])


def differences_of_grades(grades: Sequence[int]) -> list[list[int]]:
    """Steps between every two sheets that were sorted by eye, in ten-thousandths of a step.

    Args:
        grades: step of each sheet on the shop's ladder, 1 the lightest [-]

    Returns:
        a square of whole numbers

    Example:
        >>> differences_of_grades([1, 3])
        [[0, 20000], [20000, 0]]
    """
    return [[abs(one - other) * PER_UNIT for other in grades] for one in grades]


def in_ten_thousandths(difference: float) -> int:
    """A difference rounded to four decimals, as the whole number that plans are compared by.

    Args:
        difference: a difference [-]

    Returns:
        ten-thousandths

    Example:
        >>> in_ten_thousandths(2.04246)
        20425
    """
    return round(round(difference, 4) * PER_UNIT)
