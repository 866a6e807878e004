"""The take-off of a room: areas, edges, corners, runs of trim, and what lies behind the panels.

Every figure names the surface and the place it comes from; `total` sums those of a kind. Lengths are in nanometers,
areas in square nanometers, exact but for slopes, which are rounded to the nanometer.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.calculations.panels.layout import Layout
from jobs.calculations.surfaces.rooms import Room
from jobs.calculations.takeoff.areas import areas, corners, edges
from jobs.calculations.takeoff.behind import BattenWish, Way, backing, battens, behind, blocking, edge_band
from jobs.calculations.takeoff.figures import Figure, Kind, Unit, total
from jobs.calculations.takeoff.trim import EndKind, TrimKind, TrimRun, TrimSize, TrimWish, trim_runs

__all__ = [
    "BattenWish",
    "EndKind",
    "Figure",
    "Kind",
    "TakeOff",
    "TrimKind",
    "TrimRun",
    "TrimSize",
    "TrimWish",
    "Unit",
    "Way",
    "areas",
    "backing",
    "battens",
    "behind",
    "blocking",
    "corners",
    "edge_band",
    "edges",
    "take_off",
    "total",
    "trim_runs",
]


@dataclass(frozen=True)
class TakeOff:
    """All figures of a room, and its runs of trim."""

    figures: tuple[Figure, ...]
    runs: tuple[TrimRun, ...]


def take_off(
    room: Room, layouts: Iterable[Layout] = (), *, trim: TrimWish | None = None, battens: BattenWish | None = None
) -> TakeOff:
    """The take-off of a room.

    Args:
        room: its surfaces and how they meet [nm]
        layouts: the layouts of those that are laid out [nm]
        trim: which trims there are [nm]
        battens: the battens behind the laid out faces, none where there are none [nm]

    Returns:
        the figures, surface by surface, and the runs of trim [-]

    Example:
        A closed room of four plain walls has four inside corners and no outside corner.
    """
    figures = [figure for face in room.faces.values() for figure in (*areas(face), *edges(face))]
    figures += [*corners(room), *behind(layouts, battens)]
    return TakeOff(tuple(figures), trim_runs(room, trim) if trim else ())
