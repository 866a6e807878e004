"""The ends of a piece of trim: how each is cut, by which angle and hand, and how far its long point reaches."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import atan, degrees, radians, tan


class EndCut(StrEnum):
    """How an end is cut."""

    SQUARE = "square"
    MITER = "miter"
    COPE = "cope"
    BEVEL = "bevel"


class Hand(StrEnum):
    """Which end of the piece it is, seen from its face with its foot down."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True)
class PieceEnd:
    """One end.

    Attributes:
        cut: square, miter (across the face or the thickness), cope or bevel
        hand: which end
        angle_tenths: from square, in tenths of a degree; 0 for a square end, 450 for a miter of 45 degrees
    """

    cut: EndCut
    hand: Hand
    angle_tenths: int = 0


def reach(across_nm: int, angle_tenths: int) -> int:
    """How far the long point of a mitered or beveled end lies beyond its short point.

    Args:
        across_nm: what the cut goes across: the width for a miter on the face, else the thickness [nm]
        angle_tenths: from square, in tenths of a degree [-]

    Returns:
        to the nearest nanometer; exact at 45 degrees [nm]

    Raises:
        ValueError: the angle is not from 0 to under 90 degrees

    Example:
        45 degrees across 3 1/2 in reaches 3 1/2 in.

        >>> reach(88_900_000, 450)
        88900000

    Source: definition of the tangent.
    """
    if not 0 <= angle_tenths < 900:
        raise ValueError(f"an angle of {angle_tenths / 10} degrees from square is none; 45 or 22.5 would do")
    if angle_tenths == 450:
        return across_nm
    return round(across_nm * tan(radians(angle_tenths / 10)))


def long_points(short_nm: int, across_nm: int, ends: tuple[PieceEnd, PieceEnd]) -> int:
    """The length of a piece between its long points; what it is cut from has to be this long.

    Args:
        short_nm: between the short points [nm]
        across_nm: what the cuts go across [nm]
        ends: the left and the right end [-]

    Returns:
        a coped end is cut from a square one that goes to the wall, it adds nothing [nm]

    Example:
        The head of a casing of 3 1/2 in round 36 in, mitered at both ends, is 43 in.

        >>> miter = [PieceEnd(EndCut.MITER, hand, 450) for hand in Hand]
        >>> long_points(36 * 25_400_000, 88_900_000, tuple(miter)) == 43 * 25_400_000
        True
    """
    mitered = (end for end in ends if end.cut in (EndCut.MITER, EndCut.BEVEL))
    return short_nm + sum(reach(across_nm, end.angle_tenths) for end in mitered)


def rake_tenths(slope: Fraction) -> int:
    """The angle of a plumb cut on a rake, which is that of the rake itself.

    Args:
        slope: rise over run [-]

    Returns:
        from square, in tenths of a degree, for the saw [-]

    Example:
        A rake of 12 in 12 is cut at 45 degrees, one of 6 in 12 at 26.6.

        >>> rake_tenths(Fraction(1)), rake_tenths(Fraction(1, 2))
        (450, 266)
    """
    return round(degrees(atan(abs(slope))) * 10)


def corner_tenths(corner_tenths_of_degree: int) -> int:
    """The angle at which two pieces are mitered round a corner.

    Args:
        corner_tenths_of_degree: the corner between the two walls, 900 where it is square [-]

    Returns:
        from square, in tenths of a degree, rounded up [-]

    Example:
        A square corner takes 45 degrees, an open one of 135 degrees 22.5.

        >>> corner_tenths(900), corner_tenths(1350)
        (450, 225)
    """
    return -(-(1800 - corner_tenths_of_degree) // 2)
