"""Walls and ceilings of a room: added, changed, copied, measured, released; each is worked out before it is kept."""

from collections.abc import Mapping, Sequence
from datetime import date

from django.core.exceptions import ValidationError
from django.db.models import Max
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.calculations.surfaces import MakingError, fit
from jobs.models import Cutout, Edge, Measure, Opening, Room, Surface
from jobs.surfaces import reading
from jobs.surfaces.told import refusal
from workshop import actions, clock
from workshop.actions import Hand, Record, recorded

MOST_SURFACES = 60
EdgeTold = Mapping[str, object]


def add(*, room: Room, by: Hand, edges: Sequence[EdgeTold] = (), **fields: object) -> Surface:
    """Add a wall or ceiling at the end of the room's order, with how it ends on each side.

    Raises:
        ValidationError: a name the room has, or sizes, edges or a layout that cannot be.
    """
    with recorded(by, "surface.add", about=[room, room.job], name=fields["name"], room=room.name) as record:
        record.answer = reverse("jobs:surfaces", args=[room.pk])
        room = Room.objects.select_for_update().get(pk=room.pk)
        surface = Surface(room=room, place=_next_place(room), **fields)
        rows = [Edge(surface=surface, **edge) for edge in edges]
        check(reading.Parts(surface, rows), set(fields))
        _add(record, surface, rows)
    return surface


def change(*, surface: Surface, by: Hand, version: int, edges: Sequence[EdgeTold], **fields: object) -> Surface:
    """Change a wall or ceiling and how it ends; what is in it must still fit.

    Raises:
        Stale: somebody saved it since it was read.
        ValidationError: as for `add`.
    """
    room = surface.room
    with recorded(by, "surface.change", surface, about=[room, room.job], name=fields["name"], room=room.name) as record:
        record.answer = reverse("jobs:surface", args=[surface.pk])
        surface = locked(surface)
        held = {edge.side: edge for edge in surface.edges.all()}
        for name, value in fields.items():
            setattr(surface, name, value)
        told = {str(edge["side"]): edge for edge in edges}
        rows = [Edge(surface=surface, **edge) for edge in edges]
        check(reading.Parts(surface, rows, surface.openings.all(), surface.cutouts.all()), set(fields))
        surface = Surface.objects.get(pk=surface.pk)
        record.save(surface, version=version, **fields)
        for side, edge in held.items():
            if side not in told:
                record.remove(edge)
        for side, edge in told.items():
            if side in held:
                record.save(held[side], **{name: value for name, value in edge.items() if name != "side"})
            else:
                record.add(Edge(surface=surface, **edge))
    return surface


def remove(*, surface: Surface, by: Hand) -> None:
    """Take a wall or ceiling out, with all that is in it."""
    room = surface.room
    with recorded(by, "surface.remove", about=[room, room.job], name=surface.name, room=room.name) as record:
        record.answer = reverse("jobs:surfaces", args=[room.pk])
        surface = locked(surface)
        for rows in (surface.edges, surface.openings, surface.cutouts):
            for row in rows.all():
                record.remove(row)
        if surface.measured:
            record.remove(surface.measured)
        record.thing = room
        record.remove(surface)


def copy(*, surface: Surface, by: Hand, name: str, mirror: bool) -> Surface:
    """Copy a wall or ceiling within its room, as it is or with left and right exchanged; measured sizes stay behind.

    Raises:
        ValidationError: a name the room has.
    """
    room = surface.room
    with recorded(by, "surface.copy", about=[room, room.job, surface], name=name, of=surface.name) as record:
        room = Room.objects.select_for_update().get(pk=room.pk)
        fields = {field.name: getattr(surface, field.name) for field in _copied(Surface)}
        made = Surface(**fields | {"room": room, "name": name, "place": _next_place(room)})
        parts = [
            [_copy(row, made, mirror) for row in rows.all()]
            for rows in (surface.edges, surface.openings, surface.cutouts)
        ]
        if mirror:
            _mirror(made)
        check(reading.Parts(made, *parts), {"name"})
        _add(record, made, [row for rows in parts for row in rows])
        record.answer = reverse("jobs:surface", args=[made.pk])
    return made


def copy_all(record: Record, rooms: Mapping[int, Room]) -> None:
    """Copy the walls and ceilings of rooms into others; the drawings they follow and measured sizes stay behind.

    Args:
        record: the action this is a part of
        rooms: by the key of each room that is copied, the room its walls go to
    """
    was = list(Surface.objects.filter(room__in=rooms).order_by("pk"))
    fields = [field for field in _copied(Surface) if field.name not in ("room", "revision")]
    made = record.add_many(
        [Surface(room=rooms[row.room_id], **{field.name: getattr(row, field.name) for field in fields}) for row in was]
    )
    surface_of = {row.pk: surface for row, surface in zip(was, made, strict=True)}
    for model in (Edge, Opening, Cutout):
        rows = model.objects.filter(surface__in=was).order_by("pk")
        record.add_many([_copy(row, surface_of[row.surface_id], mirror=False) for row in rows])


def plain(*, room: Room, by: Hand, length_nm: int, width_nm: int, height_nm: int, **shared: object) -> list[Surface]:
    """Four walls and a ceiling of a rectangular room; `shared` are fields all of them have.

    Raises:
        ValidationError: the room has walls, or sizes and a layout that cannot be.
    """
    with recorded(by, "surface.plain", room, about=[room.job], room=room.name) as record:
        record.answer = reverse("jobs:surfaces", args=[room.pk])
        room = Room.objects.select_for_update().get(pk=room.pk)
        if room.surfaces.exists():
            raise ValidationError(_("This room has walls already. Add single ones, or take those out first."))
        made = []
        sizes = [("A", length_nm), ("B", width_nm), ("C", length_nm), ("D", width_nm)]
        for place, (name, width) in enumerate(sizes, 1):
            made.append(Surface(room=room, name=name, place=place, width_nm=width, height_nm=height_nm, **shared))
        ceiling = Surface(room=room, name=_("CL"), place=5, kind=Surface.Kind.CEILING, **shared)
        ceiling.width_nm, ceiling.height_nm = length_nm, width_nm
        made.append(ceiling)
        for surface in made:
            check(reading.Parts(surface), {"length_nm", "width_nm", "height_nm", *shared})
            record.add(surface)
    return made


def measure(*, surface: Surface, by: Hand, version: int | None = None, **sizes: object) -> Measure:
    """Keep the sizes as measured on site; the panels follow them from now on.

    Raises:
        Stale: somebody measured meanwhile.
        ValidationError: no width or no height, sizes no wall can have, or what is in it does not fit.
    """
    room = surface.room
    with recorded(by, "surface.measure", surface, about=[room, room.job], name=surface.name, room=room.name) as record:
        record.answer = reverse("jobs:surface", args=[surface.pk])
        surface = locked(surface)
        row = surface.measured or Measure(surface=surface, measured_by=by.person)
        for name, value in sizes.items():
            setattr(row, name, value)
        _check_measured(surface, row, set(sizes))
        surface.measure = row
        check(reading.parts(surface), set(sizes))
        if row.pk:
            row = Measure.objects.get(pk=row.pk)
            record.save(row, version=version, measured_by=by.person, **sizes)
        else:
            record.add(row)
    return row


def release(*, surface: Surface, by: Hand, day: date | None = None) -> Surface:
    """Release a wall for cutting by its drawn sizes, by name, where nobody can measure it yet."""
    room = surface.room
    with recorded(by, "surface.release", surface, about=[room, room.job], name=surface.name, room=room.name) as record:
        record.answer = reverse("jobs:surface", args=[surface.pk])
        surface = locked(surface)
        if surface.released_on:
            raise ValidationError(_("It is released already. Look who did it, or measure it."))
        record.save(surface, released_on=day or clock.today(), released_by=by.person)
    return surface


def check(parts: reading.Parts, fields: set[str]) -> None:
    """Work a surface out and refuse what cannot be, at its field.

    Raises:
        ValidationError: sizes, edges, openings, cut-outs or a layout that cannot be.
    """
    job = parts.surface.room.job
    try:
        reading.bare(parts)
        read = reading.read_room([parts], job)
    except MakingError as error:
        raise refusal(error, job, fields) from error
    for error in read.refused.values():
        raise refusal(error, job, fields)


def _add(record: Record, surface: Surface, rows: Sequence[Edge | Opening | Cutout]) -> None:
    record.add(surface)
    for row in rows:
        row.surface = surface
        record.add(row)


def locked(surface: Surface) -> Surface:
    """The surface with nobody else at it until the transaction ends."""
    rows = Surface.objects.select_for_update(of=("self",)).select_related("room__job", "material", "measure")
    found = rows.filter(pk=surface.pk).first()
    if found is None:
        raise ValidationError(_("Somebody took this wall out meanwhile. Look at the room again."))
    return found


def _next_place(room: Room) -> int:
    last = room.surfaces.aggregate(last=Max("place"))["last"] or 0
    if last >= MOST_SURFACES:
        message = _("A room holds %(most)s walls and ceilings at most. Take one out, or make it two rooms.")
        raise ValidationError(message % {"most": MOST_SURFACES})
    return last + 1


def _check_measured(surface: Surface, row: Measure, fields: set[str]) -> None:
    try:
        fit(reading.told_sizes(surface, row), surface.name)
    except MakingError as error:
        error.field = {
            "diagonal_from_left_nm": "diagonal_up_nm",
            "diagonal_from_right_nm": "diagonal_down_nm",
        }.get(error.field, error.field)
        raise refusal(error, surface.room.job, fields) from error


def _copied(model: type[Surface | Edge | Opening | Cutout]) -> list:
    left_out = {"id", "version", "released_on", "released_by", "surface"}
    return [field for field in model._meta.concrete_fields if field.name not in left_out]


def _copy(row: Edge | Opening | Cutout, made: Surface, mirror: bool) -> Edge | Opening | Cutout:
    copied = type(row)(surface=made, **{field.name: getattr(row, field.name) for field in _copied(type(row))})
    if not mirror:
        return copied
    if isinstance(copied, Edge):
        sides = {Edge.Side.LEFT: Edge.Side.RIGHT, Edge.Side.RIGHT: Edge.Side.LEFT}
        copied.side = sides.get(Edge.Side(copied.side), copied.side)
    elif isinstance(copied, Opening):
        copied.left_nm = made.width_nm - copied.left_nm - copied.width_nm
    else:
        copied.center_nm = made.width_nm - copied.center_nm
    return copied


def _mirror(made: Surface) -> None:
    if made.shape == Surface.Shape.RAKED:
        made.height_nm, made.right_height_nm = made.right_height_nm, made.height_nm
    if made.shape == Surface.Shape.GABLED:
        made.height_nm, made.right_height_nm = made.right_height_nm or made.height_nm, made.height_nm
        made.ridge_at_nm = made.width_nm - made.ridge_at_nm if made.ridge_at_nm else None
    starts = {Surface.Start.LEFT: Surface.Start.RIGHT, Surface.Start.RIGHT: Surface.Start.LEFT}
    made.start = starts.get(Surface.Start(made.start), made.start)
    made.first_stud_nm = None


actions.say("surface.add", gettext_lazy("%(room)s: %(name)s added"))
actions.say("surface.change", gettext_lazy("%(room)s: %(name)s changed"))
actions.say("surface.remove", gettext_lazy("%(room)s: %(name)s taken out"))
actions.say("surface.copy", gettext_lazy("%(of)s copied as %(name)s"))
actions.say("surface.plain", gettext_lazy("%(room)s: four walls and a ceiling added"))
actions.say("surface.measure", gettext_lazy("%(room)s: %(name)s measured"))
actions.say("surface.release", gettext_lazy("%(room)s: %(name)s released for cutting by its drawn sizes"))
