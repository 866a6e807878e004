"""A wall as measured on site: which sizes govern the fit, and how far it is from square, plumb and level."""

from dataclasses import dataclass

from jobs.calculations.surfaces import exact
from jobs.calculations.surfaces.errors import NotASize, SizesContradict, Told
from jobs.calculations.surfaces.sizes import check_size
from workshop.calculations.lengths import GRID_NM

WIDTHS = ("width_top_nm", "width_middle_nm", "width_foot_nm")
HEIGHTS = ("height_left_nm", "height_right_nm")
DIAGONALS = ("diagonal_from_left_nm", "diagonal_from_right_nm")
LEVELS = ("level_left_nm", "level_right_nm")

NO_WIDTH = "no width was measured"
NO_HEIGHT = "no height was measured"
ONE_WIDTH = "the width at the foot"
THREE_WIDTHS = "the widths at the top, the middle and the foot"
ONE_HEIGHT = "the height at the left end"
TWO_HEIGHTS = "the heights at both ends"
NO_DIAGONAL = "no wall of these sizes has a diagonal of %(value)s"
ABOUT = "about %(length)s"
MEASURE_AGAIN = "the width and the height measured again"

WIDTHS_DIFFER = "the widths differ by %(difference)s; the least, %(least)s, governs"
HEIGHTS_DIFFER = "the heights differ by %(difference)s; the least, %(least)s, governs"
DIAGONALS_DIFFER = "the diagonals differ by %(difference)s: the wall is out of square"
LEFT_LEANS = "the left end leans %(difference)s away from plumb"
RIGHT_LEANS = "the right end leans %(difference)s away from plumb"
FLOOR_OFF = "the floor is %(difference)s out of level"


@dataclass(frozen=True)
class Measured:
    """Sizes as measured; what was not measured is None.

    Attributes:
        width_top_nm, width_middle_nm, width_foot_nm: widths at three heights
        height_left_nm, height_right_nm: heights at both ends
        diagonal_from_left_nm, diagonal_from_right_nm: from the foot at that end to the top at the other
        lean_left_nm, lean_right_nm: how far the top lies from plumb over the foot, above zero to the right
        level_left_nm, level_right_nm: height of the level line over the floor at both ends
    """

    width_top_nm: int | None = None
    width_middle_nm: int | None = None
    width_foot_nm: int | None = None
    height_left_nm: int | None = None
    height_right_nm: int | None = None
    diagonal_from_left_nm: int | None = None
    diagonal_from_right_nm: int | None = None
    lean_left_nm: int | None = None
    lean_right_nm: int | None = None
    level_left_nm: int | None = None
    level_right_nm: int | None = None

    def told(self, fields: tuple[str, ...]) -> list[int]:
        """Those of the fields that were measured."""
        return [value for name in fields if (value := getattr(self, name)) is not None]


@dataclass(frozen=True)
class Fit:
    """What the measured sizes mean for the panels.

    Attributes:
        width_nm: the least width, which governs
        height_nm: the least height, which governs
        is_true: whether everything measured is square, plumb and level
        scribe_nm: the most that a scribed edge has to take up
        facts: what is not true, in words with its figures
    """

    width_nm: int
    height_nm: int
    is_true: bool
    scribe_nm: int
    facts: tuple[Told, ...]


def fit(measured: Measured, name: str = "wall") -> Fit:
    """The sizes that govern the fit, and what is out of square, plumb or level.

    Args:
        measured: the sizes as measured, at least one width and one height [nm]
        name: the name of the wall, for the messages [-]

    Returns:
        the least width and height, and the differences in words [nm]

    Raises:
        NotASize: no width or no height, or one of zero or less
        SizesContradict: a diagonal that no wall of these sizes has

    Example:
        Widths 254 1/8, 254 1/16 and 254 in, heights 96 and 96 1/16 in: 254 by 96 in governs, out by 1/8 and 1/16 in.

    Source:
        Common practice, no source; equal diagonals of a wall with equal opposite sides prove it square (Euclid).
    """
    for field in (*WIDTHS, *HEIGHTS, *DIAGONALS, *LEVELS):
        if (value := getattr(measured, field)) is not None:
            check_size(value, field, name)
    widths, heights = measured.told(WIDTHS), measured.told(HEIGHTS)
    if not widths:
        raise NotASize("width_foot_nm", name, Told(NO_WIDTH), (Told(ONE_WIDTH), Told(THREE_WIDTHS)))
    if not heights:
        raise NotASize("height_left_nm", name, Told(NO_HEIGHT), (Told(ONE_HEIGHT), Told(TWO_HEIGHTS)))
    _check_diagonals(measured, name, widths, heights)
    differences = (
        (WIDTHS_DIFFER, max(widths) - min(widths), {"least": min(widths)}),
        (HEIGHTS_DIFFER, max(heights) - min(heights), {"least": min(heights)}),
        (DIAGONALS_DIFFER, _spread(measured.told(DIAGONALS)), {}),
        (LEFT_LEANS, abs(measured.lean_left_nm or 0), {}),
        (RIGHT_LEANS, abs(measured.lean_right_nm or 0), {}),
        (FLOOR_OFF, _spread(measured.told(LEVELS)), {}),
    )
    facts = tuple(Told(text, {"difference": by, **more}) for text, by, more in differences if by)
    scribe = max(by for text, by, _ in differences if text != DIAGONALS_DIFFER)
    return Fit(min(widths), min(heights), not facts, scribe, facts)


def _spread(values: list[int]) -> int:
    return max(values) - min(values) if len(values) == 2 else 0


def _check_diagonals(measured: Measured, name: str, widths: list[int], heights: list[int]) -> None:
    """A diagonal is longer than either side and shorter than both together."""
    longest, least = max(*widths, *heights), min(widths) + min(heights)
    for field in DIAGONALS:
        value = getattr(measured, field)
        if value is None or longest < value < least:
            continue
        about = exact.root(min(widths) ** 2 + min(heights) ** 2) // GRID_NM * GRID_NM
        would_do = Told(ABOUT, {"length": about}), Told(MEASURE_AGAIN)
        raise SizesContradict(field, name, Told(NO_DIAGONAL, {"value": value}), would_do)
