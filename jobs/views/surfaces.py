"""Walls and ceilings of a room: the list, one as it is drawn, and the forms that change them."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs.forms.surfaces import CopyForm, MeasureForm, PlainRoomForm, SurfaceForm
from jobs.models import Measure, Room, Surface
from jobs.surfaces import drawn, papers, taken_off, writing
from jobs.views import blocks
from workshop.actions import Stale
from workshop.forms import ActionForm
from workshop.pages import Block, Link, done, refused

SURFACES = Surface.objects.select_related("room__job", "material", "measure", "revision__drawing", "released_by")
FORM, MEASURE, PLAIN = "jobs/surface_form.html", "jobs/surface_measure.html", "jobs/surface_plain.html"
ONE, COPY = "jobs/surface.html", "jobs/surface_copy.html"


def room_block(request: HttpRequest, room: Room, page: str) -> Block:
    link = Link(_("Walls and ceilings"), reverse("jobs:surfaces", args=[room.pk]))
    return blocks.of_room(request, room, page, [link])


def surface_block(request: HttpRequest, surface: Surface, page: str) -> Block:
    around = [
        Link(_("Walls and ceilings"), reverse("jobs:surfaces", args=[surface.room_id])),
        Link(drawn.title(surface), reverse("jobs:surface", args=[surface.pk])),
    ]
    block = blocks.of_room(request, surface.room, page, around)
    block.about = [surface]
    return block


@require_safe
def surfaces(request: HttpRequest, pk: int) -> HttpResponse:
    """The walls and ceilings of a room, each drawn, with what they come to."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    block = blocks.of_room(request, room, _("Walls and ceilings"), [Link(room.name, reverse("jobs:room", args=[pk]))])
    return render(request, "jobs/surfaces.html", {"block": block, "room": room, "read": drawn.of_room(room)})


@require_safe
def quantities(request: HttpRequest, pk: int) -> HttpResponse:
    """What the walls and ceilings of a room come to, each figure with where it is from."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    block = room_block(request, room, _("Take-off"))
    return render(request, "jobs/quantities.html", {"block": block, "room": room, "sums": taken_off.told(room)})


@require_safe
def elevations(request: HttpRequest, pk: int) -> HttpResponse:
    """The room's elevations on paper, at a stated scale."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    response = HttpResponse(papers.elevations_pdf(room), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="elevations-{room.job.number}-{room.pk}.pdf"'
    return response


@require_safe
def surface(request: HttpRequest, pk: int) -> HttpResponse:
    """One wall or ceiling as one looks at it, its panels, what is in it, and its sizes."""
    row = get_object_or_404(SURFACES, pk=pk)
    return render(request, ONE, _surface_context(request, row, ActionForm(auto_id="remove_%s")))


def _surface_context(request: HttpRequest, row: Surface, form: ActionForm) -> dict[str, object]:
    block = room_block(request, row.room, drawn.title(row))
    block.about = [row]
    return {"block": block, "surface": row, "shown": drawn.of_surface(row), "form": form}


@require_http_methods(["GET", "HEAD", "POST"])
def surface_new(request: HttpRequest, pk: int) -> HttpResponse:
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = SurfaceForm(request.POST or None, room=room, initial=drawn.like_the_last(room))
    block = room_block(request, room, _("Add a wall or ceiling"))
    context = {"block": block, "room": room, "surface": None, "form": form}
    if request.method != "POST":
        return render(request, FORM, context | {"sketch": drawn.as_typed(room, form)})
    if form.is_valid():
        try:
            made = writing.add(room=room, by=form.hand(request), edges=form.edges, **form.surface_values)
            return done(reverse("jobs:surface", args=[made.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, FORM, context | {"sketch": drawn.as_typed(room, form)})


@require_http_methods(["GET", "HEAD", "POST"])
def surface_edit(request: HttpRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(SURFACES, pk=pk)
    form = SurfaceForm(request.POST or None, room=row.room, instance=row)
    context = {"block": surface_block(request, row, _("Change")), "room": row.room, "surface": row, "form": form}
    if request.method != "POST":
        return render(request, FORM, context | {"sketch": drawn.as_typed(row.room, form)})
    if form.is_valid():
        told = {"edges": form.edges, **form.surface_values}
        try:
            writing.change(surface=row, by=form.hand(request), version=form.version, **told)
            return done(reverse("jobs:surface", args=[row.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, FORM, context | {"sketch": drawn.as_typed(row.room, form)})


@require_safe
def surface_sketch(request: HttpRequest, pk: int) -> HttpResponse:
    """The elevation of what stands in the form, as it is typed."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    of = request.GET.get("of", "")
    held = room.surfaces.filter(pk=of).first() if of.isdecimal() and len(of) < 18 else None
    form = SurfaceForm(request.GET, room=room, instance=held)
    return render(request, "jobs/_surface_sketch.html", {"sketch": drawn.as_typed(room, form)})


@require_http_methods(["GET", "HEAD", "POST"])
def surface_plain(request: HttpRequest, pk: int) -> HttpResponse:
    """A rectangular room by length, width and height."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = PlainRoomForm(request.POST or None, room=room)
    context = {"block": room_block(request, room, _("Length, width and height")), "room": room, "form": form}
    if request.method != "POST":
        return render(request, PLAIN, context)
    if form.is_valid():
        try:
            writing.plain(room=room, by=form.hand(request), **form.values())
            return done(reverse("jobs:surfaces", args=[room.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, PLAIN, context)


@require_http_methods(["GET", "HEAD", "POST"])
def surface_measure(request: HttpRequest, pk: int) -> HttpResponse:
    """The sizes as they really are; the panels follow them."""
    row = get_object_or_404(SURFACES, pk=pk)
    held = row.measured
    form = MeasureForm(request.POST or None, surface=row, instance=held or Measure())
    page = _("%(wall)s, as measured") % {"wall": drawn.title(row)}
    context = {"block": surface_block(request, row, page), "surface": row, "form": form}
    if request.method != "POST":
        return render(request, MEASURE, context)
    if form.is_valid():
        try:
            writing.measure(surface=row, by=form.hand(request), version=form.version if held else None, **form.values())
            return done(reverse("jobs:surface", args=[row.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, MEASURE, context)


@require_http_methods(["GET", "HEAD", "POST"])
def surface_copy(request: HttpRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(SURFACES, pk=pk)
    form = CopyForm(request.POST or None)
    context = {"block": surface_block(request, row, _("Copy")), "surface": row, "form": form}
    if request.method != "POST":
        return render(request, COPY, context)
    if form.is_valid():
        try:
            made = writing.copy(surface=row, by=form.hand(request), **form.values())
            return done(reverse("jobs:surface", args=[made.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, COPY, context)


@require_POST
def surface_release(request: HttpRequest, pk: int) -> HttpResponse:
    return _acted(request, pk, writing.release, "jobs:surface")


@require_POST
def surface_remove(request: HttpRequest, pk: int) -> HttpResponse:
    return _acted(request, pk, writing.remove, "jobs:surfaces")


def _acted(request: HttpRequest, pk: int, rule: object, leads_to: str) -> HttpResponse:
    row = get_object_or_404(SURFACES, pk=pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            rule(surface=row, by=form.hand(request))
            return done(reverse(leads_to, args=[row.room_id if leads_to == "jobs:surfaces" else row.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, ONE, _surface_context(request, row, form))
