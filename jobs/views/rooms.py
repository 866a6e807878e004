from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs import rooms
from jobs.forms.rooms import RoomEditForm, RoomForm
from jobs.models import Job, Room
from jobs.views import blocks
from workshop.actions import Stale
from workshop.forms import ActionForm
from workshop.pages import done, refused


@require_http_methods(["GET", "HEAD", "POST"])
def room_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Rooms one after another: "Add and next" keeps the form for the next one."""
    job = get_object_or_404(Job, pk=pk)
    form = RoomForm(request.POST or None)
    block = blocks.of_job(request, job, _("Add rooms"))
    context = {"form": form, "block": block, "job": job, "rooms": job.rooms.all()}
    if request.method != "POST":
        return render(request, "jobs/room_new.html", context)
    if form.is_valid():
        try:
            name = "jobs:room_new" if request.POST.get("then") == "next" else "jobs:job"
            answer = reverse(name, args=[job.pk])
            rooms.add(job=job, by=form.hand(request), answer=answer, **form.values())
            return done(answer)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/room_new.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def room_edit(request: HttpRequest, pk: int) -> HttpResponse:
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = RoomEditForm(request.POST or None, instance=room)
    context = _edit_context(request, room, form, ActionForm(auto_id="remove_%s"))
    if request.method != "POST":
        return render(request, "jobs/room_form.html", context)
    if form.is_valid():
        try:
            rooms.change(room=room, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("jobs:room", args=[room.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/room_form.html", context)


@require_POST
def room_remove(request: HttpRequest, pk: int) -> HttpResponse:
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            rooms.remove(room=room, by=form.hand(request))
            return done(reverse("jobs:job", args=[room.job_id]))
        except ValidationError as error:
            form.refuse(error)
    context = _edit_context(request, room, RoomEditForm(instance=room), form)
    return refused(request, form, "jobs/room_form.html", context)


def _edit_context(request: HttpRequest, room: Room, form: RoomEditForm, remove: ActionForm) -> dict[str, object]:
    block = blocks.of_room(request, room, _("Room"))
    return {"form": form, "remove": remove, "room": room, "block": block}
