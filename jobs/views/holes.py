"""Openings and cut-outs of a wall or ceiling."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs.forms.surfaces import CutoutForm, OpeningForm
from jobs.models import Cutout, Opening, Surface
from jobs.surfaces import holes
from jobs.views.surfaces import SURFACES, surface_block
from workshop.actions import Stale
from workshop.forms import ActionForm
from workshop.pages import done, refused

FORM = "jobs/hole_form.html"
FORMS = {Opening: OpeningForm, Cutout: CutoutForm}


def _new(request: HttpRequest, pk: int, kind: type[Opening | Cutout], page: str) -> HttpResponse:
    surface = get_object_or_404(SURFACES, pk=pk)
    form = FORMS[kind](request.POST or None, job=surface.room.job)
    context = _context(request, surface, page, form) | {"row": None}
    if request.method != "POST":
        return render(request, FORM, context)
    if form.is_valid():
        try:
            holes.add(surface=surface, model=kind, by=form.hand(request), **form.values())
            return done(reverse("jobs:surface", args=[surface.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, FORM, context)


def _edit(request: HttpRequest, pk: int, kind: type[Opening | Cutout], page: str) -> HttpResponse:
    row = _row(pk, kind)
    form = FORMS[kind](request.POST or None, job=row.surface.room.job, instance=row)
    context = _context(request, row.surface, page, form) | {"row": row, "remove": ActionForm(auto_id="remove_%s")}
    if request.method != "POST":
        return render(request, FORM, context)
    if form.is_valid():
        try:
            holes.change(row=row, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("jobs:surface", args=[row.surface_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, FORM, context)


def _remove(request: HttpRequest, pk: int, kind: type[Opening | Cutout], page: str) -> HttpResponse:
    row = _row(pk, kind)
    remove = ActionForm(request.POST, auto_id="remove_%s")
    if remove.is_valid():
        try:
            holes.remove(row=row, by=remove.hand(request))
            return done(reverse("jobs:surface", args=[row.surface_id]))
        except ValidationError as error:
            remove.refuse(error)
    form = FORMS[kind](job=row.surface.room.job, instance=row)
    context = _context(request, row.surface, page, form) | {"row": row, "remove": remove}
    return refused(request, remove, FORM, context)


def _row(pk: int, kind: type[Opening | Cutout]) -> Opening | Cutout:
    return get_object_or_404(kind.objects.select_related("surface__room__job", "surface__material"), pk=pk)


def _context(request: HttpRequest, surface: Surface, page: str, form: OpeningForm | CutoutForm) -> dict[str, object]:
    kind = "opening" if isinstance(form, OpeningForm) else "cutout"
    return {"block": surface_block(request, surface, page), "surface": surface, "form": form, "kind": kind}


@require_http_methods(["GET", "HEAD", "POST"])
def opening_new(request: HttpRequest, pk: int) -> HttpResponse:
    return _new(request, pk, Opening, _("Add a door, window or niche"))


@require_http_methods(["GET", "HEAD", "POST"])
def opening(request: HttpRequest, pk: int) -> HttpResponse:
    return _edit(request, pk, Opening, _("Opening"))


@require_POST
def opening_remove(request: HttpRequest, pk: int) -> HttpResponse:
    return _remove(request, pk, Opening, _("Opening"))


@require_http_methods(["GET", "HEAD", "POST"])
def cutout_new(request: HttpRequest, pk: int) -> HttpResponse:
    return _new(request, pk, Cutout, _("Add a cut-out"))


@require_http_methods(["GET", "HEAD", "POST"])
def cutout(request: HttpRequest, pk: int) -> HttpResponse:
    return _edit(request, pk, Cutout, _("Cut-out"))


@require_POST
def cutout_remove(request: HttpRequest, pk: int) -> HttpResponse:
    return _remove(request, pk, Cutout, _("Cut-out"))
