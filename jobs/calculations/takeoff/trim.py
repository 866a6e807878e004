"""Runs of trim: base, crown, casing and corner molding, as they go over the finished faces."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from jobs.calculations.surfaces.edges import Corner, Side
from jobs.calculations.surfaces.exact import Exact, Point, distance
from jobs.calculations.surfaces.openings import Opening
from jobs.calculations.surfaces.rooms import EdgeEnd, Face, Room
from jobs.calculations.surfaces.sizes import check_amount, check_size
from jobs.calculations.surfaces.surface import SurfaceKind


class TrimKind(StrEnum):
    """Where a trim goes."""

    BASE = "base"
    CROWN = "crown"
    CASING = "casing"
    CORNER = "corner"


class EndKind(StrEnum):
    """What an end of a run comes to."""

    INSIDE = "inside corner"
    OUTSIDE = "outside corner"
    OPENING = "opening"
    RUN = "next run"
    FREE = "end"


@dataclass(frozen=True)
class TrimSize:
    """A trim: its width on the wall, and for casing how far it is set back from the opening's edge."""

    width_nm: int
    set_back_nm: int = 0

    def __post_init__(self) -> None:
        check_size(self.width_nm, "width_nm", "trim")
        check_amount(self.set_back_nm, "set_back_nm", "trim")


@dataclass(frozen=True)
class TrimWish:
    """The trims of a room; none where there is none."""

    base: TrimSize | None = None
    crown: TrimSize | None = None
    casing: TrimSize | None = None
    corner: TrimSize | None = None


@dataclass(frozen=True)
class TrimRun:
    """One straight run.

    Attributes:
        kind: base, crown, casing or corner
        surface: the wall or ceiling it is on; of a corner the wall at its left
        place: the edge or the opening it follows, and for casing which side of it
        start, end: where it begins and ends on the surface, from the left or the foot; long points of a casing [nm]
        starts_at, ends_at: what its ends come to
        short_nm: between the short points of a mitered casing; else as long as the run
    """

    kind: TrimKind
    surface: str
    place: str
    start: Point
    end: Point
    starts_at: EndKind
    ends_at: EndKind
    short_nm: int

    @property
    def length_nm(self) -> int:
        """Its length along the wall at its longest, a slope's to the nearest nanometer."""
        return distance(self.start, self.end)

    @property
    def slope(self) -> Fraction | None:
        """Rise over run where it goes along; none where it stands upright."""
        run = self.end[0] - self.start[0]
        return Fraction(self.end[1] - self.start[1]) / Fraction(run) if run else None


def trim_runs(room: Room, wish: TrimWish) -> tuple[TrimRun, ...]:
    """The runs of trim of a room, surface by surface.

    Args:
        room: the room [nm]
        wish: which trims there are, and their widths [nm]

    Returns:
        base along the foot between the casings of doors, crown along the top and its rakes, both between the finished
        faces; casing round openings, mitered; corner molding at every corner of two walls [nm]

    Example:
        A wall of 120 in between two panelled walls of 1 1/2 in build-up has a base of 117 in.

    Source:
        Common practice, no source.
    """
    runs: list[TrimRun] = []
    for surface in room.surfaces:
        face = room.faces[surface.name]
        if surface.kind is SurfaceKind.WALL and wish.base:
            runs += _along(room, face, Side.FOOT, TrimKind.BASE, wish)
        if surface.kind is SurfaceKind.WALL and wish.crown:
            runs += _along(room, face, Side.TOP, TrimKind.CROWN, wish)
        if wish.casing:
            for opening in surface.openings:
                runs += _casing(surface.name, opening, wish.casing)
    if wish.corner:
        runs += _corners(room)
    return tuple(runs)


def _along(room: Room, face: Face, side: Side, kind: TrimKind, wish: TrimWish) -> Iterator[TrimRun]:
    names = face.surface.edge_names
    for place, name in enumerate(names):
        if face.ends[name].edge.side is not side:
            continue
        before, after = face.ends[names[place - 1]], face.ends[names[(place + 1) % len(names)]]
        first, last = face.sides[name]
        left, right = (first, last) if side is Side.FOOT else (last, first)
        left_end, right_end = (before, after) if side is Side.FOOT else (after, before)
        left, starts_at = _finished(room, left, right, left_end, name)
        right, ends_at = _finished(room, right, left, right_end, name)
        gaps = _doors(face, kind, left, right, wish)
        for start, end, begins, stops in _between(left, right, starts_at, ends_at, gaps):
            yield TrimRun(kind, face.surface.name, name, start, end, begins, stops, distance(start, end))


def _finished(room: Room, point: Point, other: Point, end: EdgeEnd, name: str) -> tuple[Point, EndKind]:
    """Where a run ends at an upright edge: at the finished face of what it meets there, along its own line."""
    if end.edge.run_nm:
        return point, EndKind.RUN
    x = end.edge.start[0]
    kind = EndKind.FREE
    if end.meets is not None:
        by = room.surface(end.meets).build_up.total_nm * (1 if end.corner is Corner.INSIDE else -1)
        x += by if end.edge.side is Side.LEFT else -by
        kind = EndKind.INSIDE if end.corner is Corner.INSIDE else EndKind.OUTSIDE
    return (x, _on_line(point, other, x)), kind


def _on_line(point: Point, other: Point, x: Exact) -> Exact:
    if point[1] == other[1]:
        return point[1]
    return point[1] + (x - point[0]) * Fraction(other[1] - point[1]) / Fraction(other[0] - point[0])


def _doors(face: Face, kind: TrimKind, left: Point, right: Point, wish: TrimWish) -> list[tuple[Exact, Exact]]:
    """Where openings that stand on the foot interrupt a base: out to the outer edge of their casing."""
    if kind is not TrimKind.BASE:
        return []
    doors = []
    for opening in face.surface.openings:
        by = wish.casing.width_nm + wish.casing.set_back_nm if wish.casing else opening.edge.held_off_nm
        if opening.foot_nm <= left[1] and opening.right_nm + by > left[0] and opening.left_nm - by < right[0]:
            doors.append((opening.left_nm - by, opening.right_nm + by))
    return sorted(doors)


def _between(
    left: Point, right: Point, starts_at: EndKind, ends_at: EndKind, gaps: list[tuple[Exact, Exact]]
) -> Iterator[tuple[Point, Point, EndKind, EndKind]]:
    start, begins = left, starts_at
    for low, high in gaps:
        if low > start[0]:
            yield start, (low, _on_line(left, right, low)), begins, EndKind.OPENING
        if high > start[0]:
            start, begins = (high, _on_line(left, right, high)), EndKind.OPENING
    if start[0] < right[0]:
        yield start, right, begins, ends_at


def _casing(surface: str, opening: Opening, size: TrimSize) -> Iterator[TrimRun]:
    """Legs and head, and a lower piece where the opening does not stand on the foot; told by their long points."""
    back, wide = size.set_back_nm, size.width_nm
    left, right = opening.left_nm - back, opening.right_nm + back
    top, foot = opening.top_nm + back, opening.foot_nm - back
    stands = opening.foot_nm <= 0
    low = opening.foot_nm if stands else foot - wide
    first = EndKind.FREE if stands else EndKind.RUN
    short = top - (opening.foot_nm if stands else foot)
    for name, x in (("left leg", left - wide), ("right leg", right + wide)):
        place = f"{opening.name}, {name}"
        yield TrimRun(TrimKind.CASING, surface, place, (x, low), (x, top + wide), first, EndKind.RUN, short)
    for name, y in (("head", top + wide), *((("foot", foot - wide),) if not stands else ())):
        ends = (left - wide, y), (right + wide, y)
        place = f"{opening.name}, {name}"
        yield TrimRun(TrimKind.CASING, surface, place, *ends, EndKind.RUN, EndKind.RUN, right - left)


def _corners(room: Room) -> Iterator[TrimRun]:
    for meeting in room.meetings:
        one, other = room.surface(meeting.surface), room.surface(meeting.other)
        if one.kind is SurfaceKind.WALL and other.kind is SurfaceKind.WALL:
            edge, met = one.edge(meeting.edge), other.edge(meeting.other_edge)
            shorter = min(edge.length_nm, met.length_nm)
            start = min(edge.start, edge.end, key=lambda point: point[1])
            end = (start[0], start[1] + shorter)
            place = f"{meeting.edge}, {other.name}"
            yield TrimRun(TrimKind.CORNER, one.name, place, start, end, EndKind.FREE, EndKind.FREE, shorter)
