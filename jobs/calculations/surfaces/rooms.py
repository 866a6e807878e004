"""Walls in their order round a room, with its ceilings: where they meet and what each loses there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from jobs.calculations.surfaces import exact, regions
from jobs.calculations.surfaces.edges import Corner, Edge, EdgeCondition, EdgeKind, loss_at
from jobs.calculations.surfaces.errors import EdgesContradict, NothingLeft, Told
from jobs.calculations.surfaces.regions import Region
from jobs.calculations.surfaces.surface import Surface, SurfaceKind, by_name

BOTH_FIRST = "it meets %(other)s, and both are hung first there"
BOTH_BUTT = "it meets %(other)s, and neither runs through to the corner"
ONE_MITER = "it is mitered and %(other)s is not"
MET_TWICE = "it meets two surfaces at its edge %(edge)s"
NOTHING_LEFT = "its edges leave no face to be panelled"
LAPS_HERE = "that %(name)s laps over %(other)s"
BOTH_MITERED = "that both are mitered"
SMALLER_AMOUNT = "smaller amounts at its edges"
LARGER_SURFACE = "a larger surface"
ONE_MEETING = "one meeting at each edge"
EDGE_IN_PARTS = "an edge told in parts"


@dataclass(frozen=True)
class Meeting:
    """Two panelled surfaces that meet along an edge of each, at a right angle."""

    surface: str
    edge: str
    other: str
    other_edge: str
    corner: Corner = Corner.INSIDE


@dataclass(frozen=True)
class EdgeEnd:
    """How the face of a surface ends at one edge.

    Attributes:
        edge: the edge of the bare surface
        condition: how it ends there
        loss_nm: how far the face stays back from the bare edge, below zero where it reaches beyond
        meets: the surface it meets there, none where that is not panelled
        corner: how they meet
    """

    edge: Edge
    condition: EdgeCondition
    loss_nm: int
    meets: str | None = None
    corner: Corner | None = None


@dataclass(frozen=True)
class Face:
    """What of a surface is panelled.

    Attributes:
        surface: the bare surface
        ends: how the face ends, by the names of the edges in their order
        outline: the corners of the face [nm]
        sides: start and end of what is left of each edge, by its name [nm]
        region: the face without its openings and their reveals
    """

    surface: Surface
    ends: Mapping[str, EdgeEnd]
    outline: exact.Outline
    sides: Mapping[str, tuple[exact.Point, exact.Point]]
    region: Region


@dataclass(frozen=True)
class Room:
    """The surfaces of a room, walls in their order from left to right as one turns to the right, and their meetings."""

    surfaces: tuple[Surface, ...]
    meetings: tuple[Meeting, ...] = ()

    def __post_init__(self) -> None:
        by_name(self.surfaces)
        met: set[tuple[str, str]] = set()
        for meeting in self.meetings:
            for name, edge in ((meeting.surface, meeting.edge), (meeting.other, meeting.other_edge)):
                self.surface(name).edge(edge)
                if (name, edge) in met:
                    would_do = Told(ONE_MEETING), Told(EDGE_IN_PARTS)
                    raise EdgesContradict("meetings", name, Told(MET_TWICE, {"edge": edge}), would_do)
                met.add((name, edge))
        _ = self.faces

    def surface(self, name: str) -> Surface:
        """The surface of that name; KeyError where there is none."""
        return by_name(self.surfaces)[name]

    @property
    def walls(self) -> tuple[Surface, ...]:
        """Its walls in their order."""
        return tuple(each for each in self.surfaces if each.kind is SurfaceKind.WALL)

    @cached_property
    def faces(self) -> Mapping[str, Face]:
        """The panelled face of each surface, by its name."""
        ends = _ends(self)
        return {surface.name: _face(surface, ends[surface.name]) for surface in self.surfaces}


def alone(surface: Surface) -> Face:
    """The panelled face of a surface that meets no other panelled one.

    Args:
        surface: a wall or ceiling [nm]

    Returns:
        its face [nm]

    Raises:
        NothingLeft: its edges leave no face

    Example:
        A wall of 100 in held off by a reveal of 3/16 in at both ends has a face of 99 5/8 in.
    """
    return Room((surface,)).faces[surface.name]


def round_room(
    walls: Sequence[Surface],
    *,
    closed: bool = True,
    outside: frozenset[str] = frozenset(),
    ceiling: Surface | None = None,
    ceiling_edges: Mapping[str, str] | None = None,
    more: Sequence[Surface] = (),
    more_meetings: Sequence[Meeting] = (),
) -> Room:
    """The room of walls that meet one after the other, the right end of each with the left end of the next.

    Args:
        walls: in their order to the right [nm]
        closed: whether the last meets the first [-]
        outside: names of the walls whose right end is an outside corner [-]
        ceiling: a ceiling over them, hung before them, or none [nm]
        ceiling_edges: for each wall it meets the edge of the ceiling there; the wall meets it with its edge "top" [-]
        more: further surfaces, such as the two ceilings under a ridge [nm]
        more_meetings: where they meet the walls, the ceiling named first, and each other [-]

    Returns:
        the room [-]

    Raises:
        MakingError: surfaces or edges that contradict each other

    Example:
        Four walls of a closed room meet at four inside corners; the earlier of two runs through where nothing is said.
    """
    meetings = [
        Meeting(one.name, "right", other.name, "left", Corner.OUTSIDE if one.name in outside else Corner.INSIDE)
        for one, other in zip(walls, [*walls[1:], *(walls[:1] if closed and len(walls) > 2 else [])], strict=False)
    ]
    if ceiling is not None:
        meetings += [Meeting(ceiling.name, edge, wall, "top") for wall, edge in (ceiling_edges or {}).items()]
    return Room((*walls, *((ceiling,) if ceiling else ()), *more), (*meetings, *more_meetings))


def _ends(room: Room) -> dict[str, dict[str, EdgeEnd]]:
    ends = {
        surface.name: {
            edge.name: EdgeEnd(edge, surface.condition(edge.name), surface.condition(edge.name).held_off_nm)
            for edge in surface.edges
        }
        for surface in room.surfaces
    }
    for meeting in room.meetings:
        one, other = room.surface(meeting.surface), room.surface(meeting.other)
        first, second = _agreed(one, meeting.edge, other, meeting.other_edge)
        for own, edge, condition, met in (
            (one, meeting.edge, first, other),
            (other, meeting.other_edge, second, one),
        ):
            loss = loss_at(condition, own.build_up, met.build_up, meeting.corner)
            ends[own.name][edge] = EdgeEnd(own.edge(edge), condition, loss, met.name, meeting.corner)
    return ends


def _agreed(one: Surface, edge: str, other: Surface, other_edge: str) -> tuple[EdgeCondition, EdgeCondition]:
    """Both conditions; an edge without one takes what goes with the other: ceiling before wall, left before right."""
    mine, theirs = one.conditions.get(edge), other.conditions.get(other_edge)
    if mine is None and theirs is None:
        later = one.kind is SurfaceKind.WALL and other.kind is SurfaceKind.CEILING
        return (
            (EdgeCondition(), EdgeCondition(EdgeKind.LAPS))
            if later
            else (EdgeCondition(EdgeKind.LAPS), EdgeCondition())
        )
    if mine is None:
        mine = _counterpart(theirs)
    if theirs is None:
        theirs = _counterpart(mine)
    facts = {"other": other.name}
    laps = (
        Told(LAPS_HERE, {"name": one.name, "other": other.name}),
        Told(LAPS_HERE, {"name": other.name, "other": one.name}),
    )
    if (mine.kind is EdgeKind.MITERED) != (theirs.kind is EdgeKind.MITERED):
        miter, plain = (one, other) if mine.kind is EdgeKind.MITERED else (other, one)
        reason = Told(ONE_MITER, {"other": plain.name})
        raise EdgesContradict("conditions", miter.name, reason, (Told(BOTH_MITERED), laps[0]))
    if mine.first and theirs.first:
        butts = laps[0], laps[1]
        raise EdgesContradict("conditions", one.name, Told(BOTH_FIRST, facts), butts)
    if not mine.first and not theirs.first and mine.kind is not EdgeKind.MITERED:
        raise EdgesContradict("conditions", one.name, Told(BOTH_BUTT, facts), laps)
    return mine, theirs


def _counterpart(condition: EdgeCondition) -> EdgeCondition:
    if condition.kind is EdgeKind.MITERED:
        return condition
    return EdgeCondition() if condition.first else EdgeCondition(EdgeKind.LAPS)


def _face(surface: Surface, ends: Mapping[str, EdgeEnd]) -> Face:
    losses = tuple(ends[name].loss_nm for name in surface.edge_names)
    outline = exact.moved_in(surface.outline, losses)
    if not _still_there(surface, outline):
        would_do = Told(SMALLER_AMOUNT), Told(LARGER_SURFACE)
        raise NothingLeft("conditions", surface.name, Told(NOTHING_LEFT), would_do)
    opened = regions.joined(opening.open_region for opening in surface.openings)
    sides = dict(zip(surface.edge_names, exact.moved_sides(surface.outline, losses), strict=True))
    return Face(surface, ends, outline, sides, regions.without((outline,), opened))


def _still_there(surface: Surface, outline: exact.Outline) -> bool:
    """Whether the moved edges still go round in their old directions."""
    if len(outline) != len(surface.outline):
        return len(outline) >= 3 and exact.area(outline) > 0 and not exact.crosses_itself(outline)
    following = (*outline[1:], *outline[:1])
    return all(
        (end[0] - start[0]) * edge.run_nm + (end[1] - start[1]) * edge.rise_nm > 0
        for edge, start, end in zip(surface.edges, outline, following, strict=True)
    ) and not exact.crosses_itself(outline)


def with_conditions(surface: Surface, conditions: Mapping[str, EdgeCondition]) -> Surface:
    """The surface with more edge conditions, which win over its own.

    Args:
        surface: a wall or ceiling [nm]
        conditions: how its face ends, by edge [-]

    Returns:
        the surface [nm]

    Raises:
        NoSuchEdge: it has no edge of that name

    Example:
        A wall without conditions gets one at its foot, covered by the base.
    """
    return replace(surface, conditions={**surface.conditions, **conditions})
