"""What a page shows of walls and ceilings: drawn wide and narrow, what they come to, what there is to tell."""

from dataclasses import dataclass, field
from fractions import Fraction

from django.forms import BaseForm
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs.calculations.panels.layout import Layout
from jobs.calculations.surfaces import Face, fit, regions
from jobs.drawings.elevation import elevation
from jobs.models import Cutout, Job, Opening, Room, Surface
from jobs.surfaces import reading
from jobs.surfaces.told import in_words, refusal, size_text
from workshop import clock
from workshop.calculations.units import show_quantity
from workshop.drawings import Drawing, on_screen, svg
from workshop.language import decimal_mark
from workshop.templatetags.figures import dimension

DESK, PHONE, LISTED = 940, 350, 440
STATE_LABEL, NET_LABEL = gettext_lazy("State"), gettext_lazy("Paneled")
SQUARE_FOOT_NM2 = 304_800_000**2
SQUARE_METER_NM2 = 10**18


@dataclass
class Shown:
    """One surface as a page shows it."""

    surface: Surface
    drawing: Drawing | None = None
    wide: SafeString | str = ""
    narrow: SafeString | str = ""
    refusal: str = ""
    panels: list["PanelRow"] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    net: str = ""
    gross: str = ""
    state: str = ""
    openings: list[Opening] = field(default_factory=list)
    cutouts: list[Cutout] = field(default_factory=list)

    @property
    def title(self) -> str:
        return title(self.surface)


@dataclass(frozen=True)
class PanelRow:
    """A panel as the list beside the drawing tells it: name, size as it is cut, and what is in it."""

    name: str
    size: str
    more: str


def title(surface: Surface) -> str:
    words = _("Ceiling %(name)s") if surface.kind == Surface.Kind.CEILING else _("Wall %(name)s")
    return words % {"name": surface.name}


def of_room(room: Room) -> list[Shown]:
    """Every surface of a room in its order, drawn for a list."""
    rows = reading.surfaces_of([room])[room.pk]
    read = reading.read_room(map(reading.parts, rows), room.job)
    return [_shown(row, read, LISTED) for row in rows]


def of_surface(surface: Surface) -> Shown:
    """One surface, worked out with the others of its room, since they meet."""
    room = surface.room
    rows = reading.surfaces_of([room])[room.pk]
    read = reading.read_room(map(reading.parts, rows), room.job)
    shown = _shown(surface, read, DESK)
    shown.openings, shown.cutouts = list(surface.openings.all()), list(surface.cutouts.all())
    return shown


def as_typed(room: Room, form: BaseForm) -> Shown:
    """What stands in a form, drawn as far as it goes; what was refused says why."""
    surface = Surface(room=room, place=0, name="?")
    if not form.is_bound:
        if not form.instance.pk:
            return Shown(surface)
        surface, given = form.instance, reading.parts(form.instance)
    else:
        form.is_valid()
        told = form.surface_values
        if not told.get("width_nm") or not told.get("height_nm"):
            return Shown(surface)
        for name, value in told.items():
            setattr(surface, name, value)
        surface.name = surface.name or "?"
        held = form.instance if form.instance.pk else None
        edges = [reading.Edge(surface=surface, **edge) for edge in form.edges]
        given = reading.Parts(surface, edges, held.openings.all() if held else (), held.cutouts.all() if held else ())
    read = reading.read_room([given], room.job)
    return _shown(surface, read, DESK)


def like_the_last(room: Room) -> dict[str, object]:
    """The first values of a further wall: built and laid out as the last one, with the next letter."""
    last = room.surfaces.order_by("place").last()
    if last is None:
        return {"name": "A"}
    letter = chr(ord(last.name) + 1) if len(last.name) == 1 and "A" <= last.name < "Z" else ""
    kept = ["material", "packers_nm", "battens_nm", "batten_spacing_nm", "module_nm", "reveal_nm", "start", "runs"]
    kept += ["least_nm", "stud_spacing_nm", "cross_joint_nm", "revision", "height_nm"]
    return {"name": letter} | {name: getattr(last, name) for name in kept}


def area_text(square_nm: Fraction | int, job: Job) -> str:
    """An area in square feet or square meters, to a tenth; a rounded one says so."""
    code, one = ("square_meter", SQUARE_METER_NM2) if job.unit_system == "metric" else ("square_foot", SQUARE_FOOT_NM2)
    return show_quantity(Fraction(square_nm) / one, code, decimal_mark(), places=1)


def _shown(surface: Surface, read: reading.Read, width: float) -> Shown:
    job, name = surface.room.job, surface.name
    shown = Shown(surface, state=_state(surface))
    if error := read.refused.get(name):
        shown.refusal = " ".join(refusal(error, job, set()).messages)
    face, layout = read.faces.get(name), read.layouts.get(name)
    if face is None:
        return shown
    shown.gross = area_text(regions.area(face.surface.region), job)
    shown.net = area_text(regions.area(face.region), job)
    if layout is not None:
        shown.panels = [_panel_row(panel, job) for panel in layout.panels]
        shown.told = [in_words(finding.told, job) for finding in layout.findings]
    shown.told += _out_of_true(surface)
    sentence = _sentence(shown, face, layout)
    drawing = elevation(
        face,
        layout,
        show=lambda nm: size_text(nm, job),
        show_whole=lambda nm: dimension(nm, job),
        sentence=sentence,
        level_nm=_level(surface),
    )
    shown.drawing = drawing
    shown.wide, shown.narrow = (svg(on_screen(drawing, each)) for each in (width, PHONE))
    return shown


def _sentence(shown: Shown, face: Face, layout: Layout | None) -> str:
    if layout is None:
        return _("%(wall)s without panels") % {"wall": shown.title}
    count = len(layout.panels)
    words = ngettext("%(wall)s, %(count)s panel", "%(wall)s, %(count)s panels", count)
    return words % {"wall": shown.title, "count": count}


def _panel_row(panel: object, job: Job) -> PanelRow:
    width, length = panel.cut_size_nm
    more = []
    if panel.raked_cuts:
        tenths = panel.raked_cuts[0].angle_tenths
        more.append(_("raked %(angle)s°") % {"angle": f"{tenths // 10}.{tenths % 10}"})
    if panel.is_notched:
        more.append(_("notched"))
    for placed in panel.cut_outs:
        x, y = size_text(placed.from_left_nm, job), size_text(placed.from_foot_nm, job)
        place = {"what": placed.cut_out.name, "x": x, "y": y}
        more.append(_("%(what)s at %(x)s from its left side, %(y)s from its foot") % place)
    if panel.is_removable:
        more.append(_("comes off"))
    return PanelRow(panel.name, f"{size_text(width, job)} × {size_text(length, job)}", ", ".join(more))


def _level(surface: Surface) -> int | None:
    return surface.measured.level_nm if surface.measured else None


def _state(surface: Surface) -> str:
    """Whether it may be cut: measured, released by name, or still as drawn."""
    if surface.measured:
        return _("Measured %(day)s") % {"day": clock.day_text(surface.measured.measured_on)}
    if surface.released_on:
        who = surface.released_by.initials if surface.released_by else ""
        return _("Released by %(who)s, %(day)s") % {"who": who, "day": clock.day_text(surface.released_on)}
    return _("As drawn: good for buying, not yet for cutting")


def _out_of_true(surface: Surface) -> list[str]:
    if surface.measured is None or surface.shape != Surface.Shape.RECTANGLE:
        return []
    taken = reading.told_sizes(surface, surface.measured)
    return [in_words(fact, surface.room.job) for fact in fit(taken, surface.name).facts]
