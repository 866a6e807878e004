"""Cross joints, at the same heights all round a room."""

from collections.abc import Sequence
from enum import StrEnum

from jobs.calculations.panels.fields import equal_panels
from jobs.calculations.panels.wishes import Run, Wish
from jobs.calculations.surfaces import regions
from jobs.calculations.surfaces.errors import LayoutRefused, Told
from jobs.calculations.surfaces.rooms import Face

NO_STOCK = "the sheet's length is not told"
A_SHEET = "a sheet with its length"
TYPED_HEIGHTS = "heights of the cross joints"


class Courses(StrEnum):
    """How cross joints are spaced."""

    FULL = "full sheets from the foot"
    EQUAL = "equal courses"


def cross_joints(faces: Sequence[Face], wish: Wish, courses: Courses = Courses.FULL) -> tuple[int, ...]:
    """Heights of the cross joints that every panelled face of a room needs, so that they line up round it.

    Args:
        faces: the faces of the room's walls (for panels across, the one surface) [nm]
        wish: with the sheet and the reveals [nm]
        courses: full sheets with the rest on top, unless it is less than the least width; or equal courses [-]

    Returns:
        top edges of the panels below, from the level line; for panels across, from the left end of the surface; nothing
        where every panel fits a sheet [nm]

    Raises:
        LayoutRefused: the sheet is not told

    Example:
        Walls of 108 in, sheets of 96 in with 1/2 in of clean-up at both ends: one joint at 95 in.

    Source:
        House rule, DEVELOPERS.md "Panels"; full sheets from the foot is common practice, no source.
    """
    if wish.stock is None:
        raise LayoutRefused("stock", "module", Told(NO_STOCK), (Told(A_SHEET), Told(TYPED_HEIGHTS)))
    foot, top = _reach(faces, wish)
    length, reveal = wish.stock.usable_length_nm, wish.between_courses_nm
    equal = equal_panels(top - foot, length, reveal, wish.grid_nm)
    full = tuple(number * (length + reveal) - reveal for number in range(1, len(equal) + 1))
    rest = top - foot - len(full) * (length + reveal)
    chosen = equal if courses is Courses.EQUAL or rest < max(wish.least_nm, 1) else full
    return tuple(int((foot + joint) // 1) for joint in chosen)


def _reach(faces: Sequence[Face], wish: Wish) -> tuple:
    """The lowest foot and the highest top along the panels, from the level line."""
    reaches = []
    for face in faces:
        left, foot, right, top = regions.bounds((face.outline,))
        level = face.surface.level_nm
        reaches.append((foot - level, top - level) if wish.run is Run.UP else (left, right))
    return min(low for low, _ in reaches), max(high for _, high in reaches)
