"""From finished trim to the rough board: allowances of each operation, strips across a board, stretches along it."""

from collections.abc import Sequence
from dataclasses import dataclass

from materials.calculations.surfaced import surfaced_nm
from workshop.calculations.lengths import QUARTER_NM, show_length

MOST_QUARTERS = 16


class RoughError(ValueError):
    """A piece that no board gives, or a board that gives none."""

    def __init__(self, what: str, nm: int, would_do: tuple[str, str]) -> None:
        self.what, self.nm, self.would_do = what, nm, would_do
        super().__init__(f"{what} of {show_length(nm)}; {would_do[0]}, or {would_do[1]}, would do")


@dataclass(frozen=True)
class Allowances:
    """What each operation takes, the shop's own figures.

    Attributes:
        jointed_nm: off the first edge of a board, straightened before strips are ripped from it
        planed_edge_nm: off the sawn edges of a strip, planed on edge to width
        length_nm: by how much a rough piece is longer than the finished one
        kerf_nm: of the saw that rips strips
        end_cut_off_nm: off each end of a rough board
        set_up_nm: a length lost to set up each profile and setting
        thickness_nm: off a rough board to its planed thickness; none for the standard thicknesses of the NHLA
    """

    jointed_nm: int
    planed_edge_nm: int
    length_nm: int
    kerf_nm: int
    end_cut_off_nm: int
    set_up_nm: int = 0
    thickness_nm: int | None = None


@dataclass(frozen=True)
class RoughBoard:
    """A board as it came.

    Attributes:
        name: its number
        length_nm: end to end
        width_nm: at one end
        other_width_nm: at the other end
        crook_nm: how far its edge is from straight
        defects_nm: stretches that cannot be used, each from and to, from its first end
    """

    name: str
    length_nm: int
    width_nm: int
    other_width_nm: int
    crook_nm: int = 0
    defects_nm: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Stretch:
    """A clear stretch of a board, as wide as so many strips.

    Attributes:
        board: the board's name
        start_nm: from its first end
        length_nm: with nothing to be cut off
        strips: side by side
    """

    board: str
    start_nm: int
    length_nm: int
    strips: int


def strip_nm(width_nm: int, allowances: Allowances) -> int:
    """How wide a strip is ripped for a finished width.

    Args:
        width_nm: finished [nm]
        allowances: of the operations [nm]

    Returns:
        the setting of the fence [nm]

    Example:
        1 3/4 in with 1/8 in to plane: 1 7/8 in.

    Source: house rule.
    """
    if width_nm <= 0:
        raise RoughError("a finished width", width_nm, ("3/4 in", "1 3/4 in"))
    return width_nm + allowances.planed_edge_nm


def strips_across(board_nm: int, width_nm: int, allowances: Allowances, crook_nm: int = 0) -> int:
    """How many strips a rough board of a width gives.

    Args:
        board_nm: width of the board where it is narrowest [nm]
        width_nm: finished width of the trim [nm]
        allowances: of the operations [nm]
        crook_nm: how far the edge is from straight; jointing takes that, or its allowance if it is more [nm]

    Returns:
        the strips, one kerf between two; an exact last strip needs none [-]

    Raises:
        RoughError: a width is not more than zero

    Example:
        A board of 6 in, 1/4 in to joint, strips of 1 7/8 in and a kerf of 1/8 in: 2; one of 6 1/8 in gives 3.

        >>> inch = 25_400_000
        >>> taken = Allowances(inch // 4, inch // 8, inch, inch // 8, inch)
        >>> strips_across(6 * inch, inch * 7 // 4, taken), strips_across(6 * inch + inch // 8, inch * 7 // 4, taken)
        (2, 3)

    Source: house rule.
    """
    if board_nm <= 0:
        raise RoughError("a board width", board_nm, ("4 in", "6 in"))
    left = board_nm - max(allowances.jointed_nm, crook_nm)
    return max(0, (left + allowances.kerf_nm) // (strip_nm(width_nm, allowances) + allowances.kerf_nm))


def rough_quarters(thickness_nm: int, allowances: Allowances) -> int:
    """The thinnest rough board that planes to a thickness.

    Args:
        thickness_nm: finished [nm]
        allowances: of the operations; with none for thickness the NHLA's standard thicknesses hold [nm]

    Returns:
        quarters of an inch, from 4/4 up [-]

    Raises:
        RoughError: no board up to 16/4 does

    Example:
        13/16 in comes from 4/4, 7/8 in from 5/4 (NHLA standard thicknesses, surfaced on two sides).

        >>> taken = Allowances(0, 0, 0, 0, 0)
        >>> rough_quarters(25_400_000 * 13 // 16, taken), rough_quarters(25_400_000 * 7 // 8, taken)
        (4, 5)
    """
    if thickness_nm > 0:
        for quarters in range(4, MOST_QUARTERS + 1):
            rough = quarters * QUARTER_NM
            planed = surfaced_nm(rough) if allowances.thickness_nm is None else rough - allowances.thickness_nm
            if planed is not None and planed >= thickness_nm:
                return quarters
    raise RoughError("no rough board gives a thickness", thickness_nm, ("3/4 in", "a piece glued up"))


def stretches(board: RoughBoard, width_nm: int, allowances: Allowances) -> tuple[Stretch, ...]:
    """The clear stretches of a board as it really is, and how many strips each gives.

    Args:
        board: as it was measured [nm]
        width_nm: finished width of the trim [nm]
        allowances: of the operations [nm]

    Returns:
        between its ends, what is cut off there, and its defects; a tapered board is as wide as its narrow end [nm]

    Raises:
        RoughError: a size is not more than zero

    Example:
        10 ft with a knot from 60 to 63 in and 1 in off each end: from 1 to 60 in and from 63 to 119 in.

        >>> inch = 25_400_000
        >>> taken = Allowances(inch // 4, inch // 8, inch, inch // 8, inch)
        >>> board = RoughBoard("7", 120 * inch, 6 * inch, 7 * inch, 0, ((60 * inch, 63 * inch),))
        >>> [(each.start_nm // inch, each.length_nm // inch, each.strips) for each in stretches(board, inch, taken)]
        [(1, 59, 4), (63, 56, 4)]

    Source: house rule.
    """
    narrow = min(board.width_nm, board.other_width_nm)
    strips = strips_across(narrow, width_nm, allowances, board.crook_nm)
    start, last, found = allowances.end_cut_off_nm, board.length_nm - allowances.end_cut_off_nm, []
    for begins, ends in sorted(board.defects_nm):
        if min(begins, last) > start:
            found.append(Stretch(board.name, start, min(begins, last) - start, strips))
        start = max(start, ends)
    if start < last:
        found.append(Stretch(board.name, start, last - start, strips))
    return tuple(each for each in found if each.strips)


def rough_lengths(lengths_nm: Sequence[int], allowances: Allowances) -> tuple[int, ...]:
    """The rough lengths that finished ones are cut to before milling.

    Args:
        lengths_nm: finished, long point to long point [nm]
        allowances: of the operations [nm]

    Returns:
        in the same order [nm]

    Raises:
        RoughError: a length is not more than zero

    Example:
        132 in with an inch to spare: 133 in.
    """
    for length in lengths_nm:
        if length <= 0:
            raise RoughError("a finished length", length, ("24 in", "8 ft"))
    return tuple(length + allowances.length_nm for length in lengths_nm)
