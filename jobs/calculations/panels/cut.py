"""The shape a panel is cut to: edge band taken off, what is to be scribed added."""

from collections.abc import Sequence

from jobs.calculations.panels.pieces import PanelSide
from jobs.calculations.panels.wishes import Wish
from jobs.calculations.surfaces import exact, regions
from jobs.calculations.surfaces.exact import Outline, Point
from jobs.calculations.surfaces.regions import Region

MITER_LIMIT = 4
"""How far, in amounts, a strip may reach beyond its side to meet its neighbor's line; else it ends square."""


def cut_shape(shape: Region, sides: Sequence[PanelSide], wish: Wish) -> Region:
    """The shape as it is cut: edge band taken off, what is to be scribed added.

    Args:
        shape: the piece as it hangs [nm]
        sides: its sides in their order [nm]
        wish: the layout, for its edge band [nm]

    Returns:
        the shape, in the same place; in several parts or nothing where the piece is too small for its band [nm]

    Example:
        23 13/16 in with a lipping of 1/4 in on both sides is cut 23 5/16 in wide.
    """
    band = wish.band.thickness_nm if wish.band else 0
    by = [(band if side.banded else 0) - (side.condition.spare_nm if side.condition else 0) for side in sides]
    if not any(by):
        return shape
    added: list[Region] = []
    removed: list[Region] = []
    first = 0
    for outline in shape:
        own = by[first : first + len(outline)]
        first += len(outline)
        for place, amount in enumerate(own):
            if amount:
                (removed if amount > 0 else added).append((_strip(outline, own, place),))
    return regions.without(regions.joined([shape, *added]), regions.joined(removed))


def _strip(outline: Outline, by: Sequence[int], place: int) -> Outline:
    """What lies between a side and where it is moved to, up to the lines of its neighbors where those are moved to."""
    count = len(outline)
    before, start, end, after = (outline[(place + step) % count] for step in (-1, 0, 1, 2))
    new_start, new_end = exact.moved(start, end, by[place])
    line = (new_start, new_end)
    first = _end(line, new_start, exact.moved(before, start, by[place - 1]), before, start, end, by[place])
    last = _end(line, new_end, exact.moved(end, after, by[(place + 1) % count]), start, end, after, by[place])
    return (start, end, last, first)


def _end(
    line: tuple[Point, Point], square: Point, neighbor: tuple[Point, Point], a: Point, corner: Point, c: Point, by: int
) -> Point:
    met = exact.meeting(*line, *neighbor)
    if met is None:
        return square
    takes_off_inside = by > 0 and exact.turn(a, corner, c) > 0
    return met if takes_off_inside or exact.distance(met, square) <= MITER_LIMIT * abs(by) else square
