"""Areas, edges and corners of a room."""

from jobs.calculations.surfaces import regions
from jobs.calculations.surfaces.edges import Corner
from jobs.calculations.surfaces.exact import Point, distance
from jobs.calculations.surfaces.rooms import Face, Room
from jobs.calculations.surfaces.surface import SurfaceKind
from jobs.calculations.takeoff.figures import Figure, Kind


def areas(face: Face) -> tuple[Figure, ...]:
    """Gross area, area of each opening, net area and panelled area of a surface.

    Args:
        face: the panelled face of the surface [nm]

    Returns:
        gross: the bare surface; net: without the openings as they are; panelled: between the edges as they end, without
        the openings and their reveals, reveals between panels included [-]

    Example:
        222 by 96 in with a door of 36 by 84 in: gross 21,312, net 18,288 square inches (by hand).
    """
    surface = face.surface
    found = [Figure(Kind.GROSS, surface.name, "", regions.area(surface.region))]
    found += [
        Figure(Kind.OPENINGS, surface.name, opening.name, regions.area(opening.region), opening.kind.value)
        for opening in surface.openings
    ]
    found.append(Figure(Kind.NET, surface.name, "", regions.area(surface.bare_region)))
    found.append(Figure(Kind.PANELLED, surface.name, "", regions.area(face.region)))
    return tuple(found)


def edges(face: Face) -> tuple[Figure, ...]:
    """The length of every edge of the panelled face, and round every opening, with how it ends.

    Args:
        face: the panelled face [nm]

    Returns:
        lengths, slopes to the nearest nanometer; `of` is the edge condition [-]

    Example:
        A wall of 222 by 96 in that dies into its neighbors has 636 in of such edges.
    """
    surface = face.surface
    found = [
        Figure(Kind.EDGE, surface.name, name, distance(*face.sides[name]), end.condition.kind.value)
        for name, end in face.ends.items()
    ]
    for opening in surface.openings:
        length = sum(
            distance(start, end)
            for outline in face.region
            for start, end in zip(outline, (*outline[1:], *outline[:1]), strict=True)
            if _borders(start, end, opening.open_region)
        )
        found.append(Figure(Kind.EDGE, surface.name, opening.name, length, opening.edge.kind.value))
    return tuple(found)


def corners(room: Room) -> tuple[Figure, ...]:
    """The inside and outside corners where two walls meet, each told once, with the wall at its left.

    Args:
        room: the room [nm]

    Returns:
        lengths of the corners, the shorter of the two edges; `of` is the other wall [-]

    Example:
        A closed room of four walls of 96 in has four inside corners of 96 in.
    """
    found = []
    for meeting in room.meetings:
        one, other = room.surface(meeting.surface), room.surface(meeting.other)
        if one.kind is SurfaceKind.WALL and other.kind is SurfaceKind.WALL:
            kind = Kind.INSIDE_CORNER if meeting.corner is Corner.INSIDE else Kind.OUTSIDE_CORNER
            length = min(one.edge(meeting.edge).length_nm, other.edge(meeting.other_edge).length_nm)
            found.append(Figure(kind, one.name, meeting.edge, length, other.name))
    return tuple(found)


def _borders(start: Point, end: Point, hole: regions.Region) -> bool:
    """Whether a side lies on the sides of the hole."""
    left, foot, right, top = regions.bounds(hole)
    (low_x, high_x), (low_y, high_y) = sorted((start[0], end[0])), sorted((start[1], end[1]))
    if low_x == high_x:
        return low_x in (left, right) and foot <= low_y and high_y <= top
    return low_y == high_y and low_y in (foot, top) and left <= low_x and high_x <= right
