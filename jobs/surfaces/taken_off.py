"""The take-off of a room as a page tells it: each sum in the job's units, with the surfaces it comes from."""

from dataclasses import dataclass, field
from fractions import Fraction

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs.calculations.takeoff import Kind, Unit
from jobs.models import Job, Room
from jobs.surfaces import quantities
from jobs.surfaces.drawn import area_text
from workshop.templatetags.figures import dimension

WHAT = {
    Kind.GROSS: gettext_lazy("Area, openings included"),
    Kind.OPENINGS: gettext_lazy("Area of openings"),
    Kind.NET: gettext_lazy("Area without openings"),
    Kind.PANELLED: gettext_lazy("Paneled area"),
    Kind.EDGE: gettext_lazy("Edges"),
    Kind.INSIDE_CORNER: gettext_lazy("Inside corners"),
    Kind.OUTSIDE_CORNER: gettext_lazy("Outside corners"),
    Kind.BATTENS: gettext_lazy("Battens"),
    Kind.PACKERS: gettext_lazy("Packers"),
    Kind.BLOCKING: gettext_lazy("Blocking behind cross joints"),
    Kind.BACKING: gettext_lazy("Dark backing behind open reveals"),
    Kind.EDGE_BAND: gettext_lazy("Edge band"),
}


@dataclass(frozen=True)
class Row:
    surface: str
    place: str
    amount: str
    url: str


@dataclass(frozen=True)
class ToldSum:
    what: str
    amount: str
    rows: list[Row] = field(default_factory=list)


def told(room: Room) -> list[ToldSum]:
    """The sums of a room's take-off, each with the figures it is made of."""
    found = quantities.of_room(room)
    urls = {row.name: reverse("jobs:surface", args=[row.pk]) for row in found.surfaces}
    sums = []
    for each in quantities.sums(found.figures):
        if not each.amount:
            continue
        what = f"{WHAT[each.kind]}: {_(each.of)}" if each.of else str(WHAT[each.kind])
        rows = [
            Row(
                figure.surface,
                " ".join(filter(None, [figure.place, figure.of if figure.kind is not Kind.EDGE else ""])),
                amount_text(figure.amount, figure.kind.unit, room.job),
                urls.get(figure.surface, ""),
            )
            for figure in each.figures
            if figure.amount
        ]
        sums.append(ToldSum(what, amount_text(each.amount, each.kind.unit, room.job), rows))
    return sums


def amount_text(amount: Fraction | int, unit: Unit, job: Job) -> str:
    """An amount in the job's units: an area to a tenth, a length as the job writes it, a count."""
    if unit is Unit.AREA:
        return area_text(amount, job)
    if unit is Unit.COUNT:
        return ngettext("%(n)s piece", "%(n)s pieces", int(amount)) % {"n": int(amount)}
    return dimension(round(amount), job)
