"""Openings, cut-outs and marks for access, placed on a surface and checked against it.

Places are measured along the surface from its left end and up from its foot.
"""

from dataclasses import dataclass, field
from enum import StrEnum

from jobs.calculations.surfaces import exact, regions
from jobs.calculations.surfaces.edges import EdgeCondition, EdgeKind
from jobs.calculations.surfaces.errors import (
    CutOutOutside,
    EdgesContradict,
    MakingError,
    MarkOutside,
    NameTwice,
    OpeningOutside,
    OpeningsOverlap,
    Told,
)
from jobs.calculations.surfaces.regions import Region
from jobs.calculations.surfaces.sizes import check_size
from workshop.calculations.lengths.showing import GRID_NM, MM_NM

ROUND_AN_OPENING = (EdgeKind.DIES, EdgeKind.REVEAL, EdgeKind.COVERED, EdgeKind.SCRIBED)

BEYOND = "it reaches beyond the surface"
OVERLAPS = "it lies over %(other)s"
TWICE = "the name %(name)s is taken"
NO_SUCH_END = "round an opening a panel never %(kind)s"
WIDTH_OF = "a width of at most %(length)s"
HEIGHT_OF = "a height of at most %(length)s"
LEFT_OF = "a place at most %(length)s from the left end"
FOOT_OF = "a place at most %(length)s above the foot"
LEFT_AT = "a place %(length)s from the left end"
FOOT_AT = "a place %(length)s above the foot"
ON_THE_SURFACE = "a place on the surface"
ANOTHER_NAME = "the name %(name)s"
A_SMALLER_SIZE = "a smaller size"
A_PLACE_BESIDE = "a place beside %(other)s"
AN_EDGE_THAT = "an edge that %(kind)s"


class OpeningKind(StrEnum):
    """What an opening is; a door and a niche may stand on the floor."""

    DOOR = "door"
    WINDOW = "window"
    NICHE = "niche"


class CutOutKind(StrEnum):
    """What a hole inside a panel is for."""

    BOX = "box"
    REGISTER = "register"
    SENSOR = "sensor"
    OTHER = "other"


@dataclass(frozen=True)
class Opening:
    """A rectangle without panels; `edge` is how the panels end round it."""

    name: str
    kind: OpeningKind
    left_nm: int
    foot_nm: int
    width_nm: int
    height_nm: int
    edge: EdgeCondition = field(default_factory=EdgeCondition)

    @property
    def right_nm(self) -> int:
        """Its right side, from the left end of the surface."""
        return self.left_nm + self.width_nm

    @property
    def top_nm(self) -> int:
        """Its head, from the foot of the surface."""
        return self.foot_nm + self.height_nm

    @property
    def region(self) -> Region:
        """The opening as it is."""
        return regions.box(self.left_nm, self.foot_nm, self.right_nm, self.top_nm)

    @property
    def open_region(self) -> Region:
        """The opening with its reveal, or with what trim covers: where there is no panel."""
        by = self.edge.held_off_nm
        return regions.box(self.left_nm - by, self.foot_nm - by, self.right_nm + by, self.top_nm + by)


@dataclass(frozen=True)
class CutOut:
    """A hole in a panel, by its center; `depth_nm` is how deep behind the bare surface it goes."""

    name: str
    kind: CutOutKind
    center_x_nm: int
    center_y_nm: int
    width_nm: int
    height_nm: int
    depth_nm: int

    @property
    def region(self) -> Region:
        """The hole; half a nanometer is given to the right and to the top."""
        left, foot = self.center_x_nm - self.width_nm // 2, self.center_y_nm - self.height_nm // 2
        return regions.box(left, foot, left + self.width_nm, foot + self.height_nm)


@dataclass(frozen=True)
class AccessMark:
    """A point whose panel can be taken off, for access to what `name` says."""

    name: str
    x_nm: int
    y_nm: int


def check_openings(face: Region, openings: tuple[Opening, ...]) -> None:
    """Refuse openings that reach beyond the surface or lie over each other.

    Args:
        face: the bare surface [nm]
        openings: the openings [nm]

    Raises:
        NotASize, EdgesContradict, NameTwice, OpeningOutside, OpeningsOverlap

    Example:
        A window 40 in wide placed 80 in from the left end of a wall of 100 in is refused; 20 in, or 60 in from the left
        end, would do.
    """
    seen: dict[str, Opening] = {}
    for opening in openings:
        for size in ("width_nm", "height_nm"):
            check_size(getattr(opening, size), size, opening.name)
        if opening.edge.kind not in ROUND_AN_OPENING:
            would_do = tuple(Told(AN_EDGE_THAT, {"kind": kind.value}) for kind in (EdgeKind.REVEAL, EdgeKind.COVERED))
            raise EdgesContradict("edge", opening.name, Told(NO_SUCH_END, {"kind": opening.edge.kind.value}), would_do)
        _check_name(opening.name, seen)
        if regions.without(opening.region, face):
            raise _beyond(face, opening)
        for other in seen.values():
            if regions.common(opening.open_region, other.open_region):
                would_do = Told(A_PLACE_BESIDE, {"other": other.name}), Told(A_SMALLER_SIZE)
                raise OpeningsOverlap("left_nm", opening.name, Told(OVERLAPS, {"other": other.name}), would_do)
        seen[opening.name] = opening


def check_cut_outs(panelled: Region, openings: tuple[Opening, ...], cut_outs: tuple[CutOut, ...]) -> None:
    """Refuse cut-outs beyond the panelled face, in an opening or over each other.

    Args:
        panelled: the bare surface without its openings [nm]
        openings: the openings [nm]
        cut_outs: the cut-outs [nm]

    Raises:
        NotASize, NameTwice, CutOutOutside

    Example:
        A box centered 1 in from the end of the wall and 4 1/4 in wide is refused.
    """
    seen: dict[str, CutOut] = {}
    for cut_out in cut_outs:
        for size in ("width_nm", "height_nm", "depth_nm"):
            check_size(getattr(cut_out, size), size, cut_out.name)
        _check_name(cut_out.name, seen)
        for other in (*openings, *seen.values()):
            if regions.common(cut_out.region, other.region):
                would_do = Told(A_PLACE_BESIDE, {"other": other.name}), Told(A_SMALLER_SIZE)
                raise CutOutOutside("center_x_nm", cut_out.name, Told(OVERLAPS, {"other": other.name}), would_do)
        if regions.without(cut_out.region, panelled):
            would_do = Told(ON_THE_SURFACE), Told(A_SMALLER_SIZE)
            raise CutOutOutside("center_x_nm", cut_out.name, Told(BEYOND), would_do)
        seen[cut_out.name] = cut_out


def check_marks(panelled: Region, marks: tuple[AccessMark, ...]) -> None:
    """Refuse marks for access where no panel is.

    Args:
        panelled: the bare surface without its openings [nm]
        marks: the marks [nm]

    Raises:
        MarkOutside, NameTwice

    Example:
        A mark in the middle of a window is refused.
    """
    seen: dict[str, AccessMark] = {}
    for mark in marks:
        _check_name(mark.name, seen)
        if not any(low <= mark.y_nm <= high for low, high in regions.upright_stretches(panelled, mark.x_nm)):
            would_do = Told(ON_THE_SURFACE), Told("a place outside the openings")
            raise MarkOutside("x_nm", mark.name, Told("there is no panel at this place"), would_do)
        seen[mark.name] = mark


def _check_name(name: str, seen: dict) -> None:
    if name in seen:
        would_do = tuple(Told(ANOTHER_NAME, {"name": f"{name} {more}"}) for more in (2, 3))
        raise NameTwice("name", name, Told(TWICE, {"name": name}), would_do)


def _beyond(face: Region, opening: Opening) -> MakingError:
    left, foot, right, _ = regions.bounds(face)
    if opening.left_nm < left or opening.right_nm > right:
        room, least, most = right - opening.left_nm, left, right - opening.width_nm
        place, size, at, up_to = "left_nm", "width_nm", LEFT_AT, LEFT_OF
        least_size = WIDTH_OF
        start = opening.left_nm
    else:
        head = min(_headroom(face, opening, x) for x in _places(face, opening))
        room, least, most = head - opening.foot_nm, foot, head - opening.height_nm
        place, size, at, up_to = "foot_nm", "height_nm", FOOT_AT, FOOT_OF
        least_size = HEIGHT_OF
        start = opening.foot_nm
    offers = []
    if start >= least and room > 0:
        offers.append(Told(least_size, {"length": _down(room)}))
    if most > least:
        offers.append(Told(up_to, {"length": _down(most)}))
    if most >= least:
        offers.append(Told(at, {"length": int(least)}))
    first, second = [*offers, Told(A_SMALLER_SIZE), Told(ON_THE_SURFACE)][:2]
    return OpeningOutside(place if start < least or room <= 0 else size, opening.name, Told(BEYOND), (first, second))


def _down(length: exact.Exact) -> int:
    """The length as it can be typed: rounded down to 1/64 in where it lies on no grid."""
    return int(length) if length % GRID_NM == 0 or length % (MM_NM // 10) == 0 else int(length // GRID_NM) * GRID_NM


def _places(face: Region, opening: Opening) -> list:
    """Where the height over an opening can be least: at its sides and at the corners between them."""
    corners = [x for outline in face for x, _ in outline if opening.left_nm < x < opening.right_nm]
    return [opening.left_nm, opening.right_nm, *corners]


def _headroom(face: Region, opening: Opening, x: int) -> int:
    """How high the surface is at x, to either side of it, rounded down to whole nanometers."""
    mirrored = tuple(tuple((-px, py) for px, py in reversed(outline)) for outline in face)
    tops = [
        max((high for _, high in regions.upright_stretches(side, place)), default=None)
        for side, place in ((face, x), (mirrored, -x))
    ]
    return min(int(top // 1) for top in tops if top is not None)
