"""What the walls and ceilings of a room come to: areas, edges, corners, battens, panels, each with where it is from."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from jobs.calculations.takeoff import BattenWish, Figure, Kind, areas, behind, corners, edges
from jobs.models import Job, Room, Surface
from jobs.surfaces import reading

BATTEN_WIDTH_NM = 25_400_000 * 3 // 2


@dataclass
class Quantities:
    """The figures of one room, its layouts, and the surfaces that cannot be worked out."""

    room: Room
    surfaces: Sequence[Surface] = ()
    read: reading.Read = field(default_factory=reading.Read)
    figures: list[Figure] = field(default_factory=list)


@dataclass
class Sum:
    """The figures of a kind, told apart by what they are of, with their sum."""

    kind: Kind
    of: str
    amount: Fraction | int = 0
    figures: list[Figure] = field(default_factory=list)


def of_room(room: Room) -> Quantities:
    """Everything a room's walls and ceilings come to; a constant number of queries."""
    return _of(room, reading.surfaces_of([room])[room.pk])


def of_job(job: Job) -> list[Quantities]:
    """The same of every room of a job in its order; as many queries as for one."""
    rooms = list(job.rooms.order_by("place"))
    for room in rooms:
        room.job = job
    rows = reading.surfaces_of(rooms)
    return [_of(room, rows[room.pk]) for room in rooms]


def _of(room: Room, rows: Sequence[Surface]) -> Quantities:
    read = reading.read_room(map(reading.parts, rows), room.job)
    figures = [figure for face in read.faces.values() for figure in (*areas(face), *edges(face))]
    if read.room is not None:
        figures += corners(read.room)
    spacing = {row.name: row.batten_spacing_nm for row in rows if row.battens_nm}
    for name, layout in read.layouts.items():
        wish = BattenWish(spacing[name], BATTEN_WIDTH_NM) if spacing.get(name) else None
        figures += behind([layout], wish)
    return Quantities(room, rows, read, figures)


def sums(figures: Iterable[Figure]) -> list[Sum]:
    """The figures summed by kind and what they are of, in the order the kinds stand in."""
    found: dict[tuple[Kind, str], Sum] = {}
    for figure in figures:
        of = figure.of if figure.kind is Kind.EDGE else ""
        each = found.setdefault((figure.kind, of), Sum(figure.kind, of))
        each.amount += figure.amount
        each.figures.append(figure)
    order = list(Kind)
    return sorted(found.values(), key=lambda each: (order.index(each.kind), each.of))
