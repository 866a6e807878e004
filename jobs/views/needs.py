from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs import needs
from jobs.forms.needs import NeedForm
from jobs.models import Need, Room
from jobs.views import blocks
from workshop.actions import Stale
from workshop.forms import ActionForm, initial_from
from workshop.pages import done, refused


@require_http_methods(["GET", "HEAD", "POST"])
def need_new(request: HttpRequest, pk: int) -> HttpResponse:
    """What the room takes, one material after another: "Add and next" keeps the form for the next one."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    initial = initial_from(request, {"material": "material"})
    form = NeedForm(request.POST or None, room=room, initial=initial)
    block = blocks.of_room(request, room, _("Add a need"))
    listed = room.needs.select_related("material")
    context = {"form": form, "block": block, "room": room, "listed": listed}
    if request.method != "POST":
        return render(request, "jobs/need_new.html", context)
    if form.is_valid():
        try:
            name = "jobs:need_new" if request.POST.get("then") == "next" else "jobs:room"
            answer = reverse(name, args=[room.pk])
            needs.add(room=room, by=form.hand(request), answer=answer, **form.values())
            return done(answer)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/need_new.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def need_edit(request: HttpRequest, pk: int) -> HttpResponse:
    need = get_object_or_404(Need.objects.select_related("room__job", "material"), pk=pk)
    form = NeedForm(request.POST or None, instance=need, room=need.room)
    context = _edit_context(request, need, form, ActionForm(auto_id="remove_%s"))
    if request.method != "POST":
        return render(request, "jobs/need_form.html", context)
    if form.is_valid():
        try:
            needs.change(need=need, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("jobs:room", args=[need.room_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/need_form.html", context)


@require_POST
def need_remove(request: HttpRequest, pk: int) -> HttpResponse:
    need = get_object_or_404(Need.objects.select_related("room__job", "material"), pk=pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            needs.remove(need=need, by=form.hand(request))
            return done(reverse("jobs:room", args=[need.room_id]))
        except ValidationError as error:
            form.refuse(error)
    context = _edit_context(request, need, NeedForm(instance=need, room=need.room), form)
    return refused(request, form, "jobs/need_form.html", context)


def _edit_context(request: HttpRequest, need: Need, form: NeedForm, remove: ActionForm) -> dict[str, object]:
    block = blocks.of_room(request, need.room, _("Need"))
    return {"form": form, "remove": remove, "need": need, "room": need.room, "block": block}
