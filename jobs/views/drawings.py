"""The drawings of a job and their revisions."""

from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs import drawing_list
from jobs.forms.drawings import DrawingForm, DrawingNewForm, RevisionForm
from jobs.models import Drawing, Job, Revision
from jobs.views import blocks
from workshop.actions import Stale
from workshop.forms import ActionForm
from workshop.pages import Block, Link, done, refused

A_PAGE = 50
DRAWINGS = Drawing.objects.select_related("job")
REVISIONS = Revision.objects.select_related("drawing__job")


def _block(request: HttpRequest, drawing: Drawing, page: str) -> Block:
    link = Link(_("Drawings"), reverse("jobs:drawings", args=[drawing.job_id]))
    block = blocks.of_job(request, drawing.job, page, [link])
    block.about = [drawing]
    return block


@require_http_methods(["GET", "HEAD", "POST"])
def drawings(request: HttpRequest, pk: int) -> HttpResponse:
    """The drawings of a job with their latest revision, and the form that adds one."""
    job = get_object_or_404(Job, pk=pk)
    form = DrawingNewForm(request.POST or None)
    context = {
        "block": blocks.of_job(request, job, _("Drawings"), [Link(_("Progress"), reverse("jobs:job", args=[job.pk]))]),
        "job": job,
        "form": form,
        "page": Paginator(drawing_list.listed(job), A_PAGE).get_page(request.GET.get("page")),
    }
    if request.method != "POST":
        return render(request, "jobs/drawing_list.html", context)
    if form.is_valid():
        try:
            drawing_list.add(job=job, by=form.hand(request), **form.values())
            return done(reverse("jobs:drawings", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/drawing_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def drawing(request: HttpRequest, pk: int) -> HttpResponse:
    """One drawing: its number and name, and its revisions."""
    drawing = get_object_or_404(DRAWINGS, pk=pk)
    form = DrawingForm(request.POST or None, instance=drawing)
    context = _drawing_context(request, drawing, form, ActionForm(auto_id="remove_%s"))
    if request.method != "POST":
        return render(request, "jobs/drawing.html", context)
    if form.is_valid():
        try:
            drawing_list.change(drawing=drawing, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("jobs:drawings", args=[drawing.job_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/drawing.html", context)


@require_POST
def drawing_remove(request: HttpRequest, pk: int) -> HttpResponse:
    drawing = get_object_or_404(DRAWINGS, pk=pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            drawing_list.remove(drawing=drawing, by=form.hand(request))
            return done(reverse("jobs:drawings", args=[drawing.job_id]))
        except ValidationError as error:
            form.refuse(error)
    context = _drawing_context(request, drawing, DrawingForm(instance=drawing), form)
    return refused(request, form, "jobs/drawing.html", context)


def _drawing_context(
    request: HttpRequest, drawing: Drawing, form: DrawingForm, remove: ActionForm
) -> dict[str, object]:
    return {
        "block": _block(request, drawing, _("Drawing")),
        "drawing": drawing,
        "revisions": list(drawing.revisions.all()),
        "form": form,
        "remove": remove,
    }


@require_http_methods(["GET", "HEAD", "POST"])
def revision_new(request: HttpRequest, pk: int) -> HttpResponse:
    drawing = get_object_or_404(DRAWINGS, pk=pk)
    form = RevisionForm(request.POST or None)
    block = _block(request, drawing, _("New revision"))
    context = {"block": block, "drawing": drawing, "revision": None, "form": form, "remove": None}
    if request.method != "POST":
        return render(request, "jobs/revision_form.html", context)
    if form.is_valid():
        try:
            drawing_list.add_revision(drawing=drawing, by=form.hand(request), **form.values())
            return done(reverse("jobs:drawing", args=[drawing.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/revision_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def revision(request: HttpRequest, pk: int) -> HttpResponse:
    revision = get_object_or_404(REVISIONS, pk=pk)
    form = RevisionForm(request.POST or None, instance=revision)
    context = _revision_context(request, revision, form, ActionForm(auto_id="remove_%s"))
    if request.method != "POST":
        return render(request, "jobs/revision_form.html", context)
    if form.is_valid():
        try:
            fields = form.values()
            drawing_list.change_revision(revision=revision, by=form.hand(request), version=form.version, **fields)
            return done(reverse("jobs:drawing", args=[revision.drawing_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/revision_form.html", context)


@require_POST
def revision_remove(request: HttpRequest, pk: int) -> HttpResponse:
    revision = get_object_or_404(REVISIONS, pk=pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            drawing_list.remove_revision(revision=revision, by=form.hand(request))
            return done(reverse("jobs:drawing", args=[revision.drawing_id]))
        except ValidationError as error:
            form.refuse(error)
    context = _revision_context(request, revision, RevisionForm(instance=revision), form)
    return refused(request, form, "jobs/revision_form.html", context)


def _revision_context(
    request: HttpRequest, revision: Revision, form: RevisionForm, remove: ActionForm
) -> dict[str, object]:
    block = _block(request, revision.drawing, _("Revision"))
    return {"block": block, "drawing": revision.drawing, "revision": revision, "form": form, "remove": remove}
