from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from jobs import giving, pulling, suggesting
from jobs.forms.giving import GiveForm, SuggestionForm
from jobs.models import Job, Room
from jobs.views import blocks, room_sheets
from materials.models import ToneGroup
from workshop.forms import Form
from workshop.pages import Block, Link, done, page_or_fragment, refused


def _block(request: HttpRequest, job: Job, page: str) -> Block:
    around = [
        Link(_("Lots"), reverse("materials:lots")),
        Link(_("Pull list"), reverse("jobs:pull_list", args=[job.pk])),
    ]
    block = blocks.of_job(request, job, page, around)
    block.nav = "sheets"
    return block


def _shown(request: HttpRequest, job: Job, refusal: Form | None = None) -> dict[str, object]:
    tables = suggesting.tables(job)
    return {
        "block": _block(request, job, _("Give sheets to rooms")),
        "job": job,
        "tables": tables,
        "is_all_given": bool(tables) and not any(table.is_short for table in tables),
        "refusal": refusal,
        "question": None,
        "is_swap": bool(request.htmx),
    }


@require_safe
def giving_page(request: HttpRequest, pk: int) -> HttpResponse:
    """Stacks and rooms side by side: what each room needs, has, and could get."""
    job = get_object_or_404(Job, pk=pk)
    return page_or_fragment(request, "jobs/giving.html", "jobs/_giving.html", _shown(request, job))


@require_POST
def give(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a room a count of one tone group. Without script a refusal stands on the room's page, to be mended."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    of_room = request.POST.get("then") == "room"
    answer = reverse("jobs:room_sheets", args=[room.pk]) if of_room else reverse("jobs:giving", args=[room.job_id])
    form = GiveForm(request.POST)
    if form.is_valid():
        try:
            giving.give(room=room, by=form.hand(request), answer=answer, **form.gift)
            return done(answer)
        except giving.WouldMix as mixing:
            form.question = mixing.question
        except ValidationError as error:
            form.refuse(error)
    if request.htmx or (form.question and not of_room):
        shown = _shown(request, room.job, form) | {"question": _question(room, form)}
        return refused(request, form, "jobs/giving.html", shown, "jobs/_giving.html")
    return refused(request, form, "jobs/room_sheets.html", room_sheets.shown(request, room, form))


@dataclass(frozen=True)
class Question:
    """Asked in the row of a room before it holds two tone groups: what the button that means it sends."""

    room: Room
    group: ToneGroup
    count: str
    words: str


def _question(room: Room, form: GiveForm) -> Question | None:
    if not form.question:
        return None
    return Question(room, form.cleaned_data["group"], giving.counted(form.cleaned_data["count"]), form.question)


@require_POST
def give_suggested(request: HttpRequest, pk: int) -> HttpResponse:
    """Give all rooms of a job what is suggested for one material, if that is still what was seen."""
    job = get_object_or_404(Job, pk=pk)
    form = SuggestionForm(request.POST, job=job)
    if form.is_valid():
        try:
            table = suggesting.table(job, form.cleaned_data["material"])
            table.check_seen(form.cleaned_data["seen"])
            giving.give_suggested(job=job, material=table.material, plan=table.plan, by=form.hand(request))
            return done(reverse("jobs:giving", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/giving.html", _shown(request, job, form), "jobs/_giving.html")


@require_safe
def pull_list(request: HttpRequest, pk: int) -> HttpResponse:
    """What to pull, from the top of the stacks down: for each room, or stack by stack over all rooms."""
    job = get_object_or_404(Job, pk=pk)
    by_stack = request.GET.get("by") == "stack"
    context = {
        "block": _block(request, job, _("Pull list")),
        "job": job,
        "by_stack": by_stack,
        "rooms": [] if by_stack else pulling.pull_lists(job),
        "stacks": pulling.pull_stacks(job) if by_stack else [],
    }
    return render(request, "jobs/pull_list.html", context)
