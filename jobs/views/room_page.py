from collections.abc import Sequence
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from jobs import fire, hours, stages, standing
from jobs.forms.stages import CountForm
from jobs.models import Room, RoomStage, Stage
from jobs.views import blocks
from workshop.pages import Link, done, page_or_fragment, refused


@require_safe
def room_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One room: its stages to count, what it takes and has, its hours, and what is next."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    return page_or_fragment(request, "jobs/room.html", "jobs/_steps.html", room_context(request, room))


@require_POST
def room_stage(request: HttpRequest, pk: int) -> HttpResponse:
    """Count or tick a stage in place."""
    row = get_object_or_404(RoomStage.objects.select_related("room__job", "stage"), pk=pk)
    form = CountForm(request.POST, row=row)
    if form.is_valid():
        try:
            count_as_asked(row, form, request)
            return done(reverse("jobs:room", args=[row.room_id]))
        except ValidationError as error:
            form.refuse(error)
    context = room_context(request, row.room, {row.pk: form})
    return refused(request, form, "jobs/room.html", context, "jobs/_steps.html")


def count_as_asked(row: RoomStage, form: CountForm, request: HttpRequest) -> None:
    by, way = form.hand(request), form.cleaned_data["do"]
    if way == "more":
        stages.count_more(room_stage=row, by=by)
    elif way == "all":
        stages.finish(room_stage=row, by=by)
    else:
        stages.count(room_stage=row, by=by, done=form.cleaned_data["count"] if way == "count" else 0)


@dataclass(frozen=True)
class Step:
    """A stage of the room with the form that counts it; `form` is the refused one where there is one."""

    row: RoomStage
    form: CountForm
    is_open: bool = False

    @property
    def words(self) -> str:
        """How far it is: "Done", "7 of 10", and the hours planned."""
        row = self.row
        far = _("%(done)s of %(total)s") % {"done": row.done, "total": row.total}
        if row.is_done:
            far = _("Done, %(far)s") % {"far": far} if row.total > 1 else _("Done")
        elif row.total == 1:
            far = _("Not done")
        if not row.planned_minutes:
            return far
        return _("%(far)s; %(hours)s h planned") % {"far": far, "hours": hours.bare(row.planned_minutes)}

    @property
    def mark(self) -> str:
        if self.row.is_done:
            return "done"
        return "in_work" if self.row.done else "not_started"

    @property
    def typed(self) -> str:
        return self.form["count"].value() or "" if self.form.is_bound else str(self.row.done)


def room_context(
    request: HttpRequest, room: Room, refused_forms: dict[int, CountForm] | None = None
) -> dict[str, object]:
    state, needs = standing.of_room(room), standing.needs_of(room)
    around = [
        Link(_("Progress"), reverse("jobs:job", args=[room.job_id])),
        Link(_("Hours"), reverse("jobs:hours", args=[room.pk])),
    ]
    return {
        "block": blocks.of_room(request, room, _("Room"), around),
        "room": room,
        "standing": state,
        "lanes": _lanes(state.stages, refused_forms or {}, request.GET.get("count", "")),
        "refused_form": next(iter((refused_forms or {}).values()), None),
        "needs": needs,
        "has_cautions": any(row.caution for row in needs),
        "who_decides": fire.WHO_DECIDES,
        "is_swap": bool(request.htmx),
    }


def _lanes(
    rows: Sequence[RoomStage], refused_forms: dict[int, CountForm], open_step: str
) -> list[tuple[str, list[Step]]]:
    """The steps by lane, without stages that are not in this room; one done is closed until it is asked for."""
    steps = []
    for row in rows:
        refused_form = refused_forms.get(row.pk)
        form = refused_form or CountForm(row=row)
        step = Step(row, form, is_open=bool(refused_form) or str(row.pk) == open_step)
        if row.total:
            steps.append((row.stage.lane, step))
    lanes = [(lane.label, [step for at, step in steps if at == lane]) for lane in Stage.Lane]
    return [(label, found) for label, found in lanes if found]
