"""Openings and cut-outs of a wall or ceiling: added, changed, taken out; each must fit what is there."""

from typing import TypeVar

from django.urls import reverse
from django.utils.translation import gettext_lazy

from jobs.models import Cutout, Opening, Surface
from jobs.surfaces import reading
from jobs.surfaces.writing import check, locked
from workshop import actions
from workshop.actions import Hand, recorded

Hole = TypeVar("Hole", Opening, Cutout)


def add(*, surface: Surface, model: type[Hole], by: Hand, **fields: object) -> Hole:
    """Add an opening or a cut-out.

    Raises:
        ValidationError: it reaches beyond the surface, or lies over another.
    """
    with recorded(by, "hole.add", about=_about(surface), **_words(surface, fields, model)) as record:
        record.answer = reverse("jobs:surface", args=[surface.pk])
        surface = locked(surface)
        row = model(surface=surface, **fields)
        check(_with(surface, row), set(fields))
        record.add(row)
    return row


def change(*, row: Hole, by: Hand, version: int, **fields: object) -> Hole:
    """Change an opening or a cut-out.

    Raises:
        Stale: somebody saved it since it was read.
        ValidationError: as for `add`.
    """
    surface = row.surface
    with recorded(by, "hole.change", surface, about=_about(surface), **_words(surface, fields, type(row))) as record:
        record.answer = reverse("jobs:surface", args=[surface.pk])
        surface = locked(surface)
        tried = type(row).objects.get(pk=row.pk)
        for name, value in fields.items():
            setattr(tried, name, value)
        check(_with(surface, tried), set(fields))
        record.save(row, version=version, **fields)
    return row


def remove(*, row: Opening | Cutout, by: Hand) -> None:
    surface = row.surface
    words = _words(surface, {"kind": row.kind}, type(row))
    with recorded(by, "hole.remove", surface, about=_about(surface), **words) as record:
        record.answer = reverse("jobs:surface", args=[surface.pk])
        locked(surface)
        record.remove(row)


def _with(surface: Surface, row: Opening | Cutout) -> reading.Parts:
    """The surface with this one as it is to be, and the others as they are."""
    openings = [each for each in surface.openings.all() if not (isinstance(row, Opening) and each.pk == row.pk)]
    cutouts = [each for each in surface.cutouts.all() if not (isinstance(row, Cutout) and each.pk == row.pk)]
    (openings if isinstance(row, Opening) else cutouts).append(row)
    return reading.Parts(surface, surface.edges.all(), openings, cutouts)


def _about(surface: Surface) -> list[object]:
    return [surface, surface.room, surface.room.job]


def _words(surface: Surface, fields: dict[str, object], model: type[Opening | Cutout]) -> dict[str, str]:
    what = str(model.Kind(fields["kind"]).label).lower()
    return {"what": what, "surface": surface.name, "room": surface.room.name}


actions.say("hole.add", gettext_lazy("%(room)s, %(surface)s: %(what)s added"))
actions.say("hole.change", gettext_lazy("%(room)s, %(surface)s: %(what)s changed"))
actions.say("hole.remove", gettext_lazy("%(room)s, %(surface)s: %(what)s taken out"))
