"""Walls and ceilings as they stand in the tables, read into the calculations: real sizes where they were measured."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from jobs.calculations import surfaces as calc
from jobs.calculations.panels.layout import Layout, lay_out
from jobs.calculations.panels.wishes import AtOpening, Centers, Run, Start, Stock, Wish
from jobs.models import Cutout, Edge, Job, Measure, Opening, Room, Surface
from workshop.calculations.lengths import GRID_NM

KINDS = {
    Edge.Condition.DIES: calc.EdgeKind.DIES,
    Edge.Condition.LAPS: calc.EdgeKind.LAPS,
    Edge.Condition.MITERED: calc.EdgeKind.MITERED,
    Edge.Condition.REVEAL: calc.EdgeKind.REVEAL,
    Edge.Condition.COVERED: calc.EdgeKind.COVERED,
    Edge.Condition.SCRIBED: calc.EdgeKind.SCRIBED,
}
STARTS = {
    Surface.Start.BALANCED: Start.BALANCED,
    Surface.Start.LEFT: Start.LEFT,
    Surface.Start.RIGHT: Start.RIGHT,
    Surface.Start.PANEL: Start.PANEL,
    Surface.Start.JOINT: Start.JOINT,
    Surface.Start.CENTERS: Start.CENTERS,
}
CEILING_EDGES = ("foot", "right", "top", "left")
METRIC_GRID_NM = 100_000
NO_PANEL_NM = 1
"""A build-up without a material named yet: its thickness changes nothing that could be seen."""


@dataclass(frozen=True)
class Parts:
    """A surface with its rows, saved or just typed."""

    surface: Surface
    edges: Sequence[Edge] = ()
    openings: Sequence[Opening] = ()
    cutouts: Sequence[Cutout] = ()


@dataclass(frozen=True)
class Refused:
    """A surface or a layout that cannot be as it is told."""

    error: calc.MakingError


@dataclass
class Read:
    """A room worked out: the face and the layout of each surface by its key, or what stands in the way."""

    room: calc.Room | None = None
    faces: dict[str, calc.Face] = field(default_factory=dict)
    layouts: dict[str, Layout] = field(default_factory=dict)
    refused: dict[str, calc.MakingError] = field(default_factory=dict)


def surfaces_of(rooms: Iterable[Room]) -> dict[int, list[Surface]]:
    """The surfaces of rooms by their key, in their order, with all that is in them; as many queries as for one."""
    of = {room.pk: room for room in rooms}
    rows = Surface.objects.filter(room__in=of.values()).select_related("material", "measure", "revision", "released_by")
    found: dict[int, list[Surface]] = {key: [] for key in of}
    for row in rows.prefetch_related("edges", "openings", "cutouts"):
        row.room = of[row.room_id]
        found[row.room_id].append(row)
    return found


def grid_nm(job: Job) -> int:
    """What the shop measures to: 1/64 in, or 0.1 mm."""
    return METRIC_GRID_NM if job.unit_system == "metric" else GRID_NM


def parts(surface: Surface) -> Parts:
    return Parts(surface, surface.edges.all(), surface.openings.all(), surface.cutouts.all())


def read_room(given: Iterable[Parts], job: Job) -> Read:
    """Work out the faces and layouts of a room's surfaces; one that cannot be stands in `refused` by its name."""
    done, walls, ceilings = Read(), [], []
    by_name: dict[str, Parts] = {}
    for each in given:
        name = each.surface.name
        try:
            made = bare(each)
        except calc.MakingError as error:
            done.refused[name] = error
            continue
        by_name[name] = each
        (ceilings if each.surface.kind == Surface.Kind.CEILING else walls).append(made)
    done.faces = _faces(walls, ceilings, done)
    for name, face in done.faces.items():
        try:
            if wish := wish_of(by_name[name], job):
                done.layouts[name] = lay_out(face, wish)
        except calc.MakingError as error:
            done.refused[name] = error
    return done


def _faces(walls: list[calc.Surface], ceilings: list[calc.Surface], done: Read) -> dict[str, calc.Face]:
    """The walls round the room under its first ceiling; other ceilings, and a room that contradicts itself, alone."""
    first, rest = ceilings[:1], ceilings[1:]
    edges = dict(zip((wall.name for wall in walls), CEILING_EDGES, strict=False)) if len(walls) == 4 else {}
    ceiling = first[0] if first and len(first[0].edge_names) == 4 else None
    try:
        done.room = calc.round_room(
            walls, closed=len(walls) > 3, ceiling=ceiling, ceiling_edges=_met(walls, edges) if ceiling else None
        )
        faces = dict(done.room.faces)
        alone = rest if ceiling else ceilings
    except calc.MakingError as error:
        done.refused[error.of] = error
        faces, alone = {}, [*walls, *ceilings]
    for surface in alone:
        try:
            faces[surface.name] = calc.alone(surface)
        except calc.MakingError as error:
            done.refused[surface.name] = error
    return faces


def _met(walls: list[calc.Surface], edges: dict[str, str]) -> dict[str, str]:
    """The ceiling's edge over each wall; a wall with a ridge has no single edge to meet it."""
    return {wall.name: edges[wall.name] for wall in walls if wall.name in edges and "top" in wall.edge_names}


def bare(given: Parts) -> calc.Surface:
    """One surface with all that is in it.

    Raises:
        MakingError: its sizes, openings, cut-outs or edges cannot be as they are told.
    """
    row = given.surface
    build_up = calc.BuildUp(_panel_nm(row), row.battens_nm, row.packers_nm)
    width, left, right = sizes(row)
    extras = {
        "kind": calc.SurfaceKind.CEILING if row.kind == Surface.Kind.CEILING else calc.SurfaceKind.WALL,
        "conditions": _conditions(row, given.edges),
        "openings": tuple(_openings(given.openings)),
        "cut_outs": tuple(_cut_outs(given.cutouts)),
        "marks": tuple(_marks(given.cutouts)),
    }
    if row.shape == Surface.Shape.GABLED:
        ridge = _measured(row, "ridge_height_nm") or row.ridge_height_nm or 0
        return calc.gabled(row.name, width, left, right, ridge, row.ridge_at_nm or width // 2, build_up, **extras)
    if row.shape == Surface.Shape.RAKED:
        return calc.raked(row.name, width, left, right, build_up, **extras)
    return calc.rectangle(row.name, width, min(left, right), build_up, **extras)


def sizes(row: Surface) -> tuple[int, int, int]:
    """Width and the heights at both ends: the least width measured, else the drawn sizes."""
    taken = [_measured(row, f"width_{at}_nm") for at in ("top", "middle", "foot")]
    width = min(filter(None, taken), default=row.width_nm)
    left = _measured(row, "height_left_nm") or row.height_nm
    drawn_right = row.height_nm if row.shape == Surface.Shape.RECTANGLE else row.right_height_nm or row.height_nm
    right = _measured(row, "height_right_nm") or (left if row.shape == Surface.Shape.RECTANGLE else drawn_right)
    return width, left, right


def wish_of(given: Parts, job: Job) -> Wish | None:
    """What is asked of the layout; None where no module is set."""
    row = given.surface
    if not row.module_nm:
        return None
    first = _measured(row, "first_stud_nm")
    first = row.first_stud_nm if first is None else first
    return Wish(
        row.module_nm,
        row.reveal_nm,
        run=Run.UP if row.runs == Surface.Runs.UP else Run.ACROSS,
        start=STARTS[Surface.Start(row.start)],
        least_nm=row.least_nm or 0,
        grid_nm=grid_nm(job),
        stock=_stock(row),
        cross_nm=(row.cross_joint_nm,) if row.cross_joint_nm else (),
        centers=Centers(row.stud_spacing_nm, first or 0) if row.stud_spacing_nm else None,
        at_openings={
            name: AtOpening.JOINT if opening.otherwise == Opening.Fallback.JOINT else AtOpening.NOTCH
            for name, opening in _named(given.openings)
        },
    )


def _measured(row: Surface, name: str) -> int | None:
    return getattr(row.measured, name) if row.measured else None


def told_sizes(row: Surface, taken: Measure) -> calc.Measured:
    """What was measured, as far as a square wall can be held to it; other shapes have no diagonals to compare."""
    square = row.shape == Surface.Shape.RECTANGLE
    return calc.Measured(
        taken.width_top_nm,
        taken.width_middle_nm,
        taken.width_foot_nm,
        taken.height_left_nm,
        taken.height_right_nm if square else None,
        taken.diagonal_up_nm if square else None,
        taken.diagonal_down_nm if square else None,
    )


def _panel_nm(row: Surface) -> int:
    if row.material is None:
        return NO_PANEL_NM
    return row.material.real_thickness_nm or row.material.thickness_nm or NO_PANEL_NM


def _stock(row: Surface) -> Stock | None:
    material = row.material
    if material is None or not material.width_nm or not material.length_nm:
        return None
    return Stock(material.width_nm, material.length_nm)


def _condition(kind: str, amount_nm: int, first: bool = False) -> calc.EdgeCondition:
    return calc.EdgeCondition(KINDS[Edge.Condition(kind)], amount_nm, first)


def _conditions(row: Surface, edges: Iterable[Edge]) -> dict[str, calc.EdgeCondition]:
    told = {}
    for edge in edges:
        gabled = row.shape == Surface.Shape.GABLED and edge.side == Edge.Side.TOP
        for name in ("right rake", "left rake") if gabled else (str(edge.side),):
            told[name] = _condition(edge.condition, edge.amount_nm, edge.is_first)
    return told


def _named(openings: Iterable[Opening]) -> list[tuple[str, Opening]]:
    """Each opening with its name: its kind, numbered from the left where there are several of a kind."""
    rows = sorted(openings, key=lambda each: (each.left_nm, each.foot_nm))
    kinds = [each.kind for each in rows]
    seen: dict[str, int] = {}
    named = []
    for row in rows:
        seen[row.kind] = seen.get(row.kind, 0) + 1
        label = str(row.get_kind_display()).lower()
        named.append((f"{label} {seen[row.kind]}" if kinds.count(row.kind) > 1 else label, row))
    return named


def _openings(openings: Iterable[Opening]) -> Iterable[calc.Opening]:
    for name, row in _named(openings):
        edge = _condition(row.condition, row.amount_nm)
        kind = calc.OpeningKind(row.kind)
        yield calc.Opening(name, kind, row.left_nm, row.foot_nm, row.width_nm, row.height_nm, edge)


def _cut_outs(cutouts: Iterable[Cutout]) -> Iterable[calc.CutOut]:
    for number, row in enumerate(cutouts, 1):
        yield calc.CutOut(
            f"{str(row.get_kind_display()).lower()} {number}",
            calc.CutOutKind(row.kind),
            row.center_nm,
            row.center_height_nm,
            row.width_nm,
            row.height_nm,
            row.depth_nm,
        )


def _marks(cutouts: Iterable[Cutout]) -> Iterable[calc.AccessMark]:
    for number, row in enumerate(cutouts, 1):
        if row.is_access:
            yield calc.AccessMark(f"access {number}", row.center_nm, row.center_height_nm)
