"""Panels as pieces of a face: their shape, what each side meets, and the size they are cut to."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import atan2, degrees

from jobs.calculations.panels.wishes import Band, Meets, Run, Up, Wish
from jobs.calculations.surfaces import exact, regions
from jobs.calculations.surfaces.edges import EdgeCondition
from jobs.calculations.surfaces.exact import Exact, Point, ceiling
from jobs.calculations.surfaces.openings import CutOut
from jobs.calculations.surfaces.regions import Region
from jobs.calculations.surfaces.rooms import Face


@dataclass(frozen=True)
class PanelSide:
    """One straight side of a panel, the panel at its left.

    Attributes:
        start, end: its corners on the surface [nm]
        meets: a joint, a cross joint, an opening or an edge of the surface
        of: the name of the opening or of the edge
        condition: how the face ends there, at an opening or an edge
        banded: whether it gets edge band or lipping
    """

    start: Point
    end: Point
    meets: Meets
    of: str = ""
    condition: EdgeCondition | None = None
    banded: bool = False

    @property
    def length_nm(self) -> int:
        """Its length, that of a slope to the nearest nanometer."""
        return exact.distance(self.start, self.end)


@dataclass(frozen=True)
class RakedCut:
    """A sloping cut of a panel: how far it goes to the right and up, and along the slope."""

    run_nm: Exact
    rise_nm: Exact
    length_nm: int

    @property
    def slope(self) -> Fraction:
        """Rise over run, exact."""
        return Fraction(self.rise_nm) / Fraction(self.run_nm)

    @property
    def angle_tenths(self) -> int:
        """The angle from level in tenths of a degree, for showing only."""
        return round(abs(degrees(atan2(self.rise_nm, self.run_nm))) * 10)


@dataclass(frozen=True)
class PlacedCutOut:
    """A cut-out in its panel: its center from the panel's left side and foot, as the panel is cut."""

    cut_out: CutOut
    from_left_nm: Exact
    from_foot_nm: Exact


@dataclass(frozen=True)
class Panel:
    """One panel.

    Attributes:
        name: the surface and the position, with a number from the foot up where a position has several pieces
        surface: the name of the wall or ceiling
        position: from the left, or from the foot where panels run across
        piece: its number in its position, from the foot up (from the left)
        shape: as it hangs, on the surface [nm]
        cut_shape: as it is cut: with what is to spare for a scribe, without edge band [nm]
        sides: all round, also round what is notched out of it
        run: whether it stands up or lies across
        up: where the sheet's marked top end lies
        may_turn: whether it may be turned end for end
        cut_outs: the holes in it
        access: names of the marks for which it can be taken off
        takes_band: whether it is large enough for its edge band; if not it is cut as it hangs
    """

    name: str
    surface: str
    position: int
    piece: int
    shape: Region
    cut_shape: Region
    sides: tuple[PanelSide, ...]
    run: Run
    up: Up
    may_turn: bool = False
    cut_outs: tuple[PlacedCutOut, ...] = ()
    access: tuple[str, ...] = ()
    takes_band: bool = True

    @cached_property
    def area(self) -> Exact:
        """Of the shape as it hangs, in square nanometers."""
        return regions.area(self.shape)

    @cached_property
    def cut_size_nm(self) -> tuple[int, int]:
        """Width across the grain and length along it of the rectangle it is cut from, rounded up to the nanometer."""
        return _size(self.cut_shape, self.run)

    @cached_property
    def size_nm(self) -> tuple[int, int]:
        """The same of the panel as it hangs, its edge band included."""
        return _size(self.shape, self.run)

    @property
    def is_rectangle(self) -> bool:
        """Whether it has four square corners and no hole but its cut-outs."""
        return len(self.shape) == 1 and len(self.shape[0]) == 4 and not self.raked_cuts

    @property
    def is_notched(self) -> bool:
        """Whether something is cut out of it beside an opening or a step."""
        return len(self.shape) > 1 or any(
            exact.turn(a, b, c) < 0 for outline in self.shape for a, b, c in _corners(outline)
        )

    @cached_property
    def raked_cuts(self) -> tuple[RakedCut, ...]:
        """Its sloping cuts, each a step of its own at the saw."""
        return tuple(
            RakedCut(abs(b[0] - a[0]), (b[1] - a[1]) * (1 if b[0] > a[0] else -1), exact.distance(a, b))
            for outline in self.cut_shape
            for a, b in _sides(outline)
            if a[0] != b[0] and a[1] != b[1]
        )

    @property
    def is_removable(self) -> bool:
        """Whether it can be taken off for access."""
        return bool(self.access)


def sides_of(shape: Region, face: Face, wish: Wish) -> tuple[PanelSide, ...]:
    """The sides of a piece of a face, each with what it meets.

    Args:
        shape: the piece [nm]
        face: the face it is a piece of [nm]
        wish: the layout, for its edge band and the way panels run [nm]

    Returns:
        the sides, outline by outline [nm]

    Example:
        The panel between two joints of a plain wall meets foot, joint, top, joint.
    """
    return tuple(_with_band(_side(a, b, face, wish), wish.band) for outline in shape for a, b in _sides(outline))


def _corners(outline: exact.Outline) -> Iterator[tuple[Point, Point, Point]]:
    return zip((*outline[-1:], *outline[:-1]), outline, (*outline[1:], *outline[:1]), strict=True)


def _sides(outline: exact.Outline) -> Iterator[tuple[Point, Point]]:
    return zip(outline, (*outline[1:], *outline[:1]), strict=True)


def _size(shape: Region, run: Run) -> tuple[int, int]:
    left, foot, right, top = regions.bounds(shape)
    across, along = ceiling(right - left), ceiling(top - foot)
    return (across, along) if run is Run.UP else (along, across)


def _with_band(side: PanelSide, band: Band | None) -> PanelSide:
    if band is None or not band.covers(side.meets, side.of):
        return side
    return PanelSide(side.start, side.end, side.meets, side.of, side.condition, banded=True)


def _side(a: Point, b: Point, face: Face, wish: Wish) -> PanelSide:
    for edge, (start, end) in face.sides.items():
        if _lies_on(a, b, start, end):
            return PanelSide(a, b, Meets.EDGE, edge, face.ends[edge].condition)
    for opening in face.surface.openings:
        if any(_lies_on(a, b, end, start) for start, end in _sides(opening.open_region[0])):
            return PanelSide(a, b, Meets.OPENING, opening.name, opening.edge)
    along = a[0] == b[0] if wish.run is Run.UP else a[1] == b[1]
    return PanelSide(a, b, Meets.JOINT if along else Meets.CROSS_JOINT)


def _lies_on(a: Point, b: Point, start: Point, end: Point) -> bool:
    """Whether a-b goes the way of start-end, in one line with it and not beyond it."""
    if exact.turn(start, end, a) or exact.turn(start, end, b):
        return False
    way = end[0] - start[0], end[1] - start[1]
    first = (a[0] - start[0]) * way[0] + (a[1] - start[1]) * way[1]
    last = (b[0] - start[0]) * way[0] + (b[1] - start[1]) * way[1]
    return 0 <= first < last <= way[0] * way[0] + way[1] * way[1]
