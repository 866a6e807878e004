from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs import plan, stages
from jobs.forms.stages import CopyPlanForm, PlanForm, StageForm, StageNamesForm
from jobs.models import Job, Room, Stage
from jobs.views import blocks
from workshop.actions import Stale
from workshop.forms import ActionForm
from workshop.pages import Link, done, refused


@require_http_methods(["GET", "HEAD", "POST"])
def stage_names(request: HttpRequest, pk: int) -> HttpResponse:
    """The stages of a job by lane: other names, one more, one less."""
    job = get_object_or_404(Job, pk=pk)
    form = StageNamesForm(request.POST or None, job=job)
    context = _stages_context(request, job, names=form)
    if request.method != "POST":
        return render(request, "jobs/stages.html", context)
    if form.is_valid():
        try:
            stages.rename(job=job, by=form.hand(request), names=form.names(), was=form.was())
            return done(reverse("jobs:stages", args=[job.pk]))
        except Stale:
            form.stale()
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/stages.html", context)


@require_POST
def stage_new(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    form = StageForm(request.POST, auto_id="new_%s")
    if form.is_valid():
        try:
            stages.add(job=job, by=form.hand(request), **form.values())
            return done(reverse("jobs:stages", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/stages.html", _stages_context(request, job, new=form))


@require_POST
def stage_remove(request: HttpRequest, pk: int) -> HttpResponse:
    stage = get_object_or_404(Stage.objects.select_related("job"), pk=pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            stages.remove(stage=stage, by=form.hand(request))
            return done(reverse("jobs:stages", args=[stage.job_id]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/stages.html", _stages_context(request, stage.job, remove=form))


def _stages_context(
    request: HttpRequest,
    job: Job,
    *,
    names: StageNamesForm | None = None,
    new: StageForm | None = None,
    remove: ActionForm | None = None,
) -> dict[str, object]:
    names = names or StageNamesForm(job=job)
    unused = stages.unused(job)
    lines = [(stage, field, stage.pk in unused) for stage, field in names.lines()]
    return {
        "block": blocks.of_job(request, job, _("Stages")),
        "job": job,
        "names": names,
        "lanes": [(lane.label, [line for line in lines if line[0].lane == lane]) for lane in Stage.Lane],
        "new": new or StageForm(auto_id="new_%s"),
        "remove": remove or ActionForm(auto_id="remove_%s"),
    }


@require_http_methods(["GET", "HEAD", "POST"])
def room_plan(request: HttpRequest, pk: int) -> HttpResponse:
    """Planned hours and pieces of every stage of a room, in one form."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = PlanForm(request.POST or None, room=room)
    context = _plan_context(request, room, form, CopyPlanForm(room=room, auto_id="copy_%s"))
    if request.method != "POST":
        return render(request, "jobs/plan.html", context)
    if form.is_valid():
        try:
            plan.change(room=room, by=form.hand(request), plan=form.plan(), was=form.was())
            return done(reverse("jobs:room", args=[room.pk]))
        except Stale:
            form.stale()
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/plan.html", context)


@require_POST
def plan_copy(request: HttpRequest, pk: int) -> HttpResponse:
    """Plan a room as another one is planned."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = CopyPlanForm(request.POST, room=room, auto_id="copy_%s")
    if form.is_valid():
        try:
            plan.copy(room=room, by=form.hand(request), source=form.cleaned_data["source"])
            return done(reverse("jobs:room_plan", args=[room.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/plan.html", _plan_context(request, room, PlanForm(room=room), form))


def _plan_context(request: HttpRequest, room: Room, form: PlanForm, copy: CopyPlanForm) -> dict[str, object]:
    lines = form.lines()
    page = reverse("jobs:room", args=[room.pk])
    return {
        "block": blocks.of_room(request, room, _("Plan"), [Link(room.name, page)]),
        "room": room,
        "form": form,
        "copy": copy,
        "lanes": [(lane.label, [line for line in lines if line[0].stage.lane == lane]) for lane in Stage.Lane],
    }
