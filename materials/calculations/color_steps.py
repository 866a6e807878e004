"""Differences of color in words and in grades.

Sources:
    Words: Paravina et al., Color difference thresholds in dentistry, 2015, for 0.8 (half of observers see it) and 1.8
    (half accept it); 3 and 5 are our judgement.
    Gray scale: ISO 105-A02 (EN 20105-A02:1994), steps in CIELAB units of 1976.
"""

from dataclasses import dataclass
from enum import Enum


class Step(Enum):
    """How a difference between two neighbors looks; the value is the largest difference of the step in
    ten-thousandths, none for the last."""

    HARDLY_SEEN = 8_000
    SEEN_BESIDE_EACH_OTHER = 18_000
    SEEN = 30_000
    PLAIN = 50_000
    TWO_TONES = None


@dataclass(frozen=True)
class GrayStep:
    """One step of the gray scale for change in color.

    Attributes:
        grade: its name, 5 the least difference [-]
        difference: nominal CIELAB difference [-]
        tolerance: by how much a made scale may differ from it [-]
    """

    grade: str
    difference: float
    tolerance: float


GRAY_SCALE = (
    GrayStep("5", 0.0, 0.2),
    GrayStep("4-5", 0.8, 0.2),
    GrayStep("4", 1.7, 0.3),
    GrayStep("3-4", 2.5, 0.35),
    GrayStep("3", 3.4, 0.4),
    GrayStep("2-3", 4.8, 0.5),
    GrayStep("2", 6.8, 0.6),
    GrayStep("1-2", 9.6, 0.7),
    GrayStep("1", 13.6, 1.0),
)
"""ISO 105-A02, from the least difference to the largest; the tolerance of grade 5 is from memory."""


def step(difference: int) -> Step:
    """How a CIEDE2000 difference between two neighbors looks.

    Args:
        difference: ten-thousandths of a unit [-]

    Returns:
        the first step that reaches the difference

    Example:
        >>> step(18_000).name, step(18_001).name
        ('SEEN_BESIDE_EACH_OTHER', 'SEEN')
    """
    return next((one for one in Step if one.value is not None and difference <= one.value), Step.TWO_TONES)


def gray_scale_grade(difference: float) -> str:
    """The grade of the gray scale whose nominal difference is nearest, of two as near the worse.

    Args:
        difference: CIELAB difference of 1976 [-]

    Returns:
        5, 4-5, and so on down to 1

    Example:
        >>> gray_scale_grade(1.7), gray_scale_grade(20)
        ('4', '1')
    """
    return min(reversed(GRAY_SCALE), key=lambda one: abs(one.difference - difference)).grade
