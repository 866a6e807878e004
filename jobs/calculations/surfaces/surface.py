"""A wall or a ceiling as it is looked at from inside the room."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property

from jobs.calculations.surfaces import exact, regions
from jobs.calculations.surfaces.edges import BuildUp, Conditions, Edge, EdgeCondition
from jobs.calculations.surfaces.errors import NameTwice, NoSuchEdge, NotASurface, Told
from jobs.calculations.surfaces.exact import Outline
from jobs.calculations.surfaces.openings import (
    AccessMark,
    CutOut,
    Opening,
    check_cut_outs,
    check_marks,
    check_openings,
)
from jobs.calculations.surfaces.regions import Region

CORNERS = "its corners do not go round one surface"
WHOLE = "its corners are not whole nanometers"
NO_EDGE = "it has no edge %(edge)s"
EDGE_TWICE = "two of its edges are named %(edge)s"
AN_EDGE = "the edge %(edge)s"
IN_ORDER = "corners told one after the other round the surface"
THREE = "at least three corners that do not lie in one line"
ANOTHER = "another name"


class SurfaceKind(StrEnum):
    """What is panelled."""

    WALL = "wall"
    CEILING = "ceiling"


@dataclass(frozen=True)
class Surface:
    """A bare wall or ceiling, what is in it, and how its face is built.

    Attributes:
        name: the wall's letter or the ceiling's name; pieces are named after it
        kind: wall or ceiling
        outline: corners of the bare surface from its left end and its foot, counterclockwise [nm]
        edge_names: the name of each edge, from its corner to the next
        build_up: packers, battens and panel
        conditions: how the face ends, by edge; an edge that is not named dies into what it meets
        openings: doors, windows, niches
        cut_outs: holes inside panels
        marks: panels that can be taken off
        level_nm: the room's level line above the foot of this surface
    """

    name: str
    kind: SurfaceKind
    outline: Outline
    edge_names: tuple[str, ...]
    build_up: BuildUp
    conditions: Conditions = field(default_factory=dict)
    openings: tuple[Opening, ...] = ()
    cut_outs: tuple[CutOut, ...] = ()
    marks: tuple[AccessMark, ...] = ()
    level_nm: int = 0

    def __post_init__(self) -> None:
        _check_outline(self)
        names = self.edge_names
        if twice := next((name for name in names if names.count(name) > 1), None):
            would_do = Told(ANOTHER), Told(AN_EDGE, {"edge": f"{twice} 2"})
            raise NameTwice("edge_names", self.name, Told(EDGE_TWICE, {"edge": twice}), would_do)
        for name in self.conditions:
            self.edge(name)
        check_openings(self.region, self.openings)
        check_cut_outs(self.bare_region, self.openings, self.cut_outs)
        check_marks(self.bare_region, self.marks)

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """The edges in the order of the corners."""
        following = (*self.outline[1:], *self.outline[:1])
        return tuple(Edge(*each) for each in zip(self.edge_names, self.outline, following, strict=True))

    def edge(self, name: str) -> Edge:
        """The edge of that name; NoSuchEdge where there is none."""
        if name not in self.edge_names:
            first, second = (Told(AN_EDGE, {"edge": each}) for each in self.edge_names[:2])
            raise NoSuchEdge("conditions", self.name, Told(NO_EDGE, {"edge": name}), (first, second))
        return self.edges[self.edge_names.index(name)]

    def condition(self, name: str) -> EdgeCondition:
        """How the face ends at the edge of that name."""
        return self.conditions.get(name, EdgeCondition())

    @property
    def region(self) -> Region:
        """The bare surface."""
        return (self.outline,)

    @cached_property
    def bare_region(self) -> Region:
        """The bare surface without its openings."""
        return regions.without(self.region, regions.joined(opening.region for opening in self.openings))

    @cached_property
    def width_nm(self) -> int:
        """Its greatest width."""
        left, _, right, _ = exact.bounds(self.outline)
        return int(right - left)

    @cached_property
    def height_nm(self) -> int:
        """Its greatest height."""
        _, foot, _, top = exact.bounds(self.outline)
        return int(top - foot)


def mirrored(surface: Surface, name: str) -> Surface:
    """The surface as it is seen in a mirror: left and right exchanged, with all that is in it.

    Args:
        surface: a wall or ceiling [nm]
        name: the name of the new one [-]

    Returns:
        the mirrored surface; an edge with "left" in its name gets "right" and the other way round [nm]

    Example:
        A door 10 in from the left end of a wall of 100 in, 36 in wide, is 54 in from the left end of the mirrored one.
    """
    left, _, right, _ = exact.bounds(surface.outline)
    total = left + right
    outline = tuple((total - x, y) for x, y in reversed(surface.outline))
    names = tuple(_other_hand(each) for each in reversed(surface.edge_names))
    return replace(
        surface,
        name=name,
        outline=outline,
        edge_names=(*names[1:], names[0]),
        conditions={_other_hand(edge): condition for edge, condition in surface.conditions.items()},
        openings=tuple(replace(each, left_nm=total - each.right_nm) for each in surface.openings),
        cut_outs=tuple(replace(each, center_x_nm=total - each.center_x_nm) for each in surface.cut_outs),
        marks=tuple(replace(each, x_nm=total - each.x_nm) for each in surface.marks),
    )


def named_edges(outline: Outline) -> tuple[str, ...]:
    """Names for the edges of an outline: foot, right, top, left, numbered where there are several.

    Args:
        outline: the corners, counterclockwise [nm]

    Returns:
        a name for each edge, each once [-]

    Example:
        The square from (0, 0) has foot, right, top, left.
    """
    following = (*outline[1:], *outline[:1])
    sides = [Edge("", a, b).side.value for a, b in zip(outline, following, strict=True)]
    names = []
    for place, side in enumerate(sides):
        number = sides[: place + 1].count(side)
        names.append(side if sides.count(side) == 1 else f"{side} {number}")
    return tuple(names)


def by_name(surfaces: Iterable[Surface]) -> Mapping[str, Surface]:
    """The surfaces by their names.

    Args:
        surfaces: walls and ceilings [-]

    Returns:
        each under its name [-]

    Raises:
        NameTwice: two have the same name

    Example:
        Walls A and B are found as "A" and "B".
    """
    found: dict[str, Surface] = {}
    for surface in surfaces:
        if surface.name in found:
            would_do = Told(ANOTHER), Told("the name %(name)s", {"name": f"{surface.name}2"})
            raise NameTwice("name", surface.name, Told("a surface of this name is there"), would_do)
        found[surface.name] = surface
    return found


def _other_hand(name: str) -> str:
    return name.replace("left", "\0").replace("right", "left").replace("\0", "right")


def _check_outline(surface: Surface) -> None:
    outline = surface.outline
    reason = CORNERS
    good = len(outline) >= 3 and len(outline) == len(surface.edge_names)
    if good and not all(isinstance(value, int) for point in outline for value in point):
        good, reason = False, WHOLE
    if good:
        tidy = exact.without_straight_corners(outline)
        good = len(tidy) >= 3 and exact.area(outline) > 0 and not exact.crosses_itself(outline)
    if not good:
        raise NotASurface("outline", surface.name, Told(reason), (Told(IN_ORDER), Told(THREE)))
