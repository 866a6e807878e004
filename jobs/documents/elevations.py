"""The walls and ceilings of a room on paper: each drawn at a stated scale, with the list of its panels."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer

from workshop.documents import PAPERS, Column, Fact, Foot, Letterhead, build, facts, full_date, table, title
from workshop.drawings.model import Drawing
from workshop.drawings.pdf import PT_OF_MM, CheckBar, DrawingPart, fitted

ROOM = 92.0
TALLEST = 360.0
BAR = {"metric": 100 * PT_OF_MM, "us": 4 * 72.0}


@dataclass(frozen=True)
class Elevation:
    """One surface: its name, its drawing, what is said of it, and its panels as name, size and what is in them."""

    name: str
    drawing: Drawing
    facts: Sequence[tuple[str, str]]
    panels: Sequence[tuple[str, str, str]]


@dataclass(frozen=True)
class Elevations:
    """Everything the document says."""

    letterhead: Letterhead
    job: str
    room: str
    language: str
    paper: str
    system: str
    day: date
    surfaces: Sequence[Elevation]
    revision: str = ""


def elevations(given: Elevations) -> bytes:
    """Return the document; each drawing stands with its scale and is never split."""
    name = _("Elevations, %(room)s") % {"room": given.room}
    day = full_date(given.day, given.language)
    until = (_("Revision"), given.revision) if given.revision else None
    foot = Foot(given.letterhead.name, given.job, name, day, until=until)
    story: list[Flowable] = [title(name), _check_bar(given.system)]
    width = PAPERS[given.paper][0] - ROOM
    for surface in given.surfaces:
        story += _surface(surface, width)
    return build(
        story,
        title=f"{given.job}, {name}",
        language=given.language,
        day=given.day,
        paper=given.paper,
        letterhead=given.letterhead,
        foot=foot,
    )


def _surface(surface: Elevation, width: float) -> list[Flowable]:
    scaled = fitted(surface.drawing, width, TALLEST)
    said = [Fact(label, value) for label, value in surface.facts]
    said.append(Fact(_("Scale"), f"1:{scaled.ratio}"))
    head = KeepTogether([title(surface.name), facts(said[:3]), DrawingPart(scaled.plot)])
    parts: list[Flowable] = [CondPageBreak(scaled.plot.height + 120), head, Spacer(1, 8)]
    if surface.panels:
        columns = [Column(_("Panel")), Column(_("Cut to"), 2), Column(_("In it"), 4)]
        parts.append(table(_("Panels"), columns, [list(row) for row in surface.panels]))
    return parts


def _check_bar(system: str) -> CheckBar:
    words = _("100 mm as printed") if system == "metric" else _("4 in as printed")
    return CheckBar(BAR[system], words + ", " + _("measure it before you trust the scale"))
