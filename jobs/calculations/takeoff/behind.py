"""What lies behind the panels: battens, packers, blocking, backing; and what goes on their edges."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from jobs.calculations.panels.layout import Layout
from jobs.calculations.panels.wishes import Run
from jobs.calculations.surfaces import regions
from jobs.calculations.surfaces.edges import EdgeKind, Side
from jobs.calculations.surfaces.exact import Exact, distance
from jobs.calculations.surfaces.rooms import Face
from jobs.calculations.surfaces.sizes import check_amount, check_size
from jobs.calculations.takeoff.areas import edges
from jobs.calculations.takeoff.figures import Figure, Kind


class Way(StrEnum):
    """Which way battens run."""

    LEVEL = "level"
    UPRIGHT = "upright"


@dataclass(frozen=True)
class BattenWish:
    """Battens: their rows at centers from the foot (or the left end), one along the far edge, packers under them.

    Attributes:
        centers_nm: from center to center
        width_nm: width of a batten; the first and the last lie this wide along the edges
        way: level behind upright panels, upright behind panels that run across
        round_openings: whether battens also go round the openings
        packers_nm: from packer to packer along a batten, 0 for none
    """

    centers_nm: int
    width_nm: int
    way: Way = Way.LEVEL
    round_openings: bool = False
    packers_nm: int = 0

    def __post_init__(self) -> None:
        check_size(self.centers_nm, "centers_nm", "battens")
        check_size(self.width_nm, "width_nm", "battens")
        check_amount(self.packers_nm, "packers_nm", "battens")


def battens(face: Face, wish: BattenWish) -> tuple[Figure, ...]:
    """The battens of a face, row by row, and the packers under each.

    Args:
        face: the panelled face [nm]
        wish: centers, width and way [nm]

    Returns:
        running lengths, one for each stretch that no opening interrupts; packers of a stretch: one at each end and
        between them no farther apart than asked [-]

    Example:
        A plain wall of 222 by 96 in, battens of 3 in at 16 in: rows at 1 1/2, 17 1/2, 33 1/2, 49 1/2, 65 1/2, 81 1/2 in
        and one along the top, seven of 222 in.

    Source:
        Common practice, no source.
    """
    turn = wish.way is Way.UPRIGHT
    region = regions.turned(face.region) if turn else face.region
    half = wish.width_nm // 2
    _, low, _, high = regions.bounds(region)
    name, found = face.surface.name, []
    line: Exact = low + half
    while line < high - wish.width_nm:
        for start, end in regions.level_stretches(region, line):
            found += _batten(name, "row", end - start, wish, line)
        line += wish.centers_nm
    far = Side.RIGHT if turn else Side.TOP
    for edge, end in face.ends.items():
        if end.edge.side is far:
            found += _batten(name, edge, distance(*face.sides[edge]), wish, None)
    if wish.round_openings:
        for figure in edges(face):
            if figure.place in {opening.name for opening in face.surface.openings}:
                found += _batten(name, figure.place, figure.amount, wish, None)
    return tuple(found)


def _batten(surface: str, place: str, length: Exact, wish: BattenWish, at: Exact | None) -> list[Figure]:
    found = [Figure(Kind.BATTENS, surface, place, length, "", at)]
    if wish.packers_nm:
        count = int(-(-length // wish.packers_nm)) + 1
        found.append(Figure(Kind.PACKERS, surface, place, count, "", at))
    return found


def blocking(layout: Layout) -> tuple[Figure, ...]:
    """The blocking behind the cross joints, joint by joint between the openings.

    Args:
        layout: the layout of a face [nm]

    Returns:
        lengths; a stretch runs through behind the joints between panels [-]

    Example:
        A wall of 222 in with one cross joint has 222 in.
    """
    merged: list[list[Exact]] = []
    for place, start, end in layout.cross_stretches():
        if merged and merged[-1][0] == place and start - merged[-1][2] <= layout.wish.reveal_nm:
            merged[-1][2] = end
        else:
            merged.append([place, start, end])
    name = layout.face.surface.name
    return tuple(Figure(Kind.BLOCKING, name, "cross joint", end - start, "", at) for at, start, end in merged)


def backing(layout: Layout) -> tuple[Figure, ...]:
    """The dark backing behind open reveals: between panels, at cross joints, along edges and round openings.

    Args:
        layout: the layout of a face [nm]

    Returns:
        lengths; nothing behind joints without a reveal [-]

    Example:
        A wall of 96 in height with nine open joints has 864 in behind them.
    """
    name, wish, found = layout.face.surface.name, layout.wish, []
    if wish.reveal_nm:
        found += [
            Figure(Kind.BACKING, name, "joint", end - start, "", at) for at, start, end in layout.joint_stretches()
        ]
    if wish.between_courses_nm:
        found += [
            Figure(Kind.BACKING, name, "cross joint", end - start, "", at)
            for at, start, end in layout.cross_stretches()
        ]
    found += [
        Figure(Kind.BACKING, name, figure.place, figure.amount)
        for figure in edges(layout.face)
        if figure.of == EdgeKind.REVEAL.value
    ]
    return tuple(found)


def edge_band(layout: Layout) -> tuple[Figure, ...]:
    """The edge band or lipping, panel by panel.

    Args:
        layout: the layout of a face [nm]

    Returns:
        the length on each side that is banded; `of` is what the side meets [-]

    Example:
        A panel of 96 in with both long sides banded has twice 96 in.
    """
    return tuple(
        Figure(Kind.EDGE_BAND, panel.surface, panel.name, side.length_nm, side.meets.value)
        for panel in layout.panels
        for side in panel.sides
        if side.banded
    )


def behind(layouts: Iterable[Layout], wish: BattenWish | None) -> tuple[Figure, ...]:
    """Everything behind and on the edges of the panels of several faces.

    Args:
        layouts: layouts of faces [nm]
        wish: the battens, none where panels go on the bare surface [nm]

    Returns:
        the figures, face by face [-]

    Example:
        For panels that run across, battens asked for as level are taken as upright.
    """
    found: list[Figure] = []
    for layout in layouts:
        if wish:
            found += battens(layout.face, _crossing(layout, wish))
        found += [*blocking(layout), *backing(layout), *edge_band(layout)]
    return tuple(found)


def _crossing(layout: Layout, wish: BattenWish) -> BattenWish:
    """Battens across the panels."""
    way = Way.LEVEL if layout.wish.run is Run.UP else Way.UPRIGHT
    return BattenWish(wish.centers_nm, wish.width_nm, way, wish.round_openings, wish.packers_nm)
