"""Board feet: the exact rule for planning, the tally of the National Hardwood Lumber Association for buying.

Sources: American Hardwood Export Council, Measurement (its guide to the NHLA rules): 1 board foot is 144
cubic inches; surface measure is width in inches times length in feet over 12, to the nearest whole; the
length counts in whole feet, rounded down; an exact half goes alternately up and down; board feet are surface
measure times thickness in inches. From memory of the NHLA rule book: thickness under 1 in counts as 1 in, and
a tapered board is measured a third of its length from the narrow end.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from workshop.calculations.lengths import FOOT_NM, INCH_NM

BOARD_FOOT_NM3 = 144 * INCH_NM**3
HALF = Fraction(1, 2)


class BoardSizeError(ValueError):
    """A size of a board that is zero or less."""

    def __init__(self, name: str, nm: Fraction | int) -> None:
        self.name = name
        self.nm = nm
        super().__init__(f"{name} {nm} nm is not more than zero; {INCH_NM} (1 in) or {FOOT_NM} (1 ft) would do")


@dataclass(frozen=True)
class Board:
    """One board as it is tallied.

    Attributes:
        thickness_nm: nominal thickness, a quarter of an inch is 6,350,000 nm
        width_nm: measured width, of a tapered board that of `tapered_width`
        length_nm: measured length
    """

    thickness_nm: int
    width_nm: Fraction | int
    length_nm: int


@dataclass(frozen=True)
class Tally:
    """What a bundle counts.

    Attributes:
        surface_measures: square feet of each board, in the order entered
        board_feet: board feet of each board, in the order entered
        total: their sum
    """

    surface_measures: tuple[int, ...]
    board_feet: tuple[Fraction, ...]
    total: Fraction


def board_feet(thickness_nm: Fraction | int, width_nm: Fraction | int, length_nm: Fraction | int) -> Fraction:
    """The exact board feet of a piece, for planning.

    Args:
        thickness_nm: thickness as it is counted, for rough lumber the nominal one [nm]
        width_nm: width [nm]
        length_nm: length [nm]

    Returns:
        the volume in units of 144 cubic inches, not rounded [board_foot]

    Raises:
        BoardSizeError: a size is not more than zero

    Example:
        4 in x 6 in x 10 ft is 20 board feet (elmwoodreclaimedtimber.com, Useful Math).
    """
    _check(thickness_nm, width_nm, length_nm)
    return Fraction(thickness_nm) * width_nm * length_nm / BOARD_FOOT_NM3


def nhla_tally(boards: Sequence[Board]) -> Tally:
    """The board feet that a bundle of boards is sold by.

    Args:
        boards: boards in the order entered, which decides the rounding of exact halves [-]

    Returns:
        surface measure and board feet of each, and their total [board_foot]

    Raises:
        BoardSizeError: a size is not more than zero

    Limits:
        Gross tally. Kiln-dried lumber sold so measures about 7 % less (common practice, no source).

    Example:
        One board 2 in x 6 1/4 in x 8 ft: surface measure 4 1/6, counted 4, so 8 board feet (American Hardwood
        Export Council, Measurement).
    """
    measures: list[int] = []
    next_half_goes_up = True
    for board in boards:
        _check(board.thickness_nm, board.width_nm, board.length_nm)
        exact = Fraction(board.width_nm) / INCH_NM * (board.length_nm // FOOT_NM) / 12
        whole, rest = divmod(exact, 1)
        if rest == HALF:
            measures.append(int(whole) + next_half_goes_up)
            next_half_goes_up = not next_half_goes_up
        else:
            measures.append(int(whole) + (rest > HALF))
    feet = tuple(
        measure * max(Fraction(board.thickness_nm, INCH_NM), Fraction(1))
        for measure, board in zip(measures, boards, strict=True)
    )
    return Tally(tuple(measures), feet, sum(feet, Fraction(0)))


def tapered_width(narrow_nm: int, wide_nm: int) -> Fraction:
    """The width at which a tapered board is tallied, a third of its length from the narrow end.

    Args:
        narrow_nm: width at the narrow end [nm]
        wide_nm: width at the wide end [nm]

    Returns:
        the width there [nm]

    Raises:
        BoardSizeError: a width is not more than zero

    Example:
        6 in and 9 in at the ends count as 7 in (NHLA rule book, from memory).
    """
    for nm in (narrow_nm, wide_nm):
        _check_size("width", nm)
    narrow, wide = sorted((narrow_nm, wide_nm))
    return narrow + Fraction(wide - narrow, 3)


def _check(thickness_nm: Fraction | int, width_nm: Fraction | int, length_nm: Fraction | int) -> None:
    _check_size("thickness", thickness_nm)
    _check_size("width", width_nm)
    _check_size("length", length_nm)


def _check_size(name: str, nm: Fraction | int) -> None:
    if nm <= 0:
        raise BoardSizeError(name, nm)
