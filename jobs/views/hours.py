from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs import hours, hours_batch, standing
from jobs.forms.hours import HoursForm
from jobs.models import Hours, Room
from jobs.views import blocks
from workshop.actions import Stale
from workshop.forms import ActionForm
from workshop.pages import Link, done, refused

A_PAGE = 50


@require_http_methods(["GET", "HEAD", "POST"])
def room_hours(request: HttpRequest, pk: int) -> HttpResponse:
    """Hours of a room, newest first, and the form that logs more."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = HoursForm(request.POST or None, room=room, person=request.user)
    context = _list_context(request, room, form)
    if request.method != "POST":
        return render(request, "jobs/hours.html", context)
    if form.is_valid():
        try:
            fields = {"person": request.user} | form.values()
            hours.add(room=room, by=form.hand(request), **fields)
            return done(reverse("jobs:hours", args=[room.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/hours.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def hours_edit(request: HttpRequest, pk: int) -> HttpResponse:
    entry = _own_entry(request, pk)
    if entry.batch and request.method != "POST":
        return redirect("jobs:hours_batch", entry.batch)
    form = HoursForm(request.POST or None, instance=entry, room=entry.room, person=request.user)
    context = _edit_context(request, entry, form, ActionForm(auto_id="remove_%s"))
    if request.method != "POST":
        return render(request, "jobs/hours_form.html", context)
    if form.is_valid():
        try:
            hours.change(entry=entry, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("jobs:hours", args=[entry.room_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/hours_form.html", context)


@require_POST
def hours_remove(request: HttpRequest, pk: int) -> HttpResponse:
    entry = _own_entry(request, pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            hours.remove(entry=entry, by=form.hand(request))
            return done(reverse("jobs:hours", args=[entry.room_id]))
        except ValidationError as error:
            form.refuse(error)
    unchanged = HoursForm(instance=entry, room=entry.room, person=request.user)
    return refused(request, form, "jobs/hours_form.html", _edit_context(request, entry, unchanged, form))


def _own_entry(request: HttpRequest, pk: int) -> Hours:
    """The entry, if this person may change it; for others it is not there."""
    entry = get_object_or_404(Hours.objects.select_related("room__job", "person", "stage"), pk=pk)
    if not hours.may_change(entry, request.user):
        raise Http404
    return entry


def _list_context(request: HttpRequest, room: Room, form: HoursForm) -> dict[str, object]:
    entries = room.hours.select_related("person", "stage")
    page = Paginator(entries, A_PAGE).get_page(request.GET.get("page"))
    link = Link(room.name, reverse("jobs:room", args=[room.pk]))
    return {
        "block": blocks.of_room(request, room, _("Hours"), [link]),
        "room": room,
        "form": form,
        "page": page,
        "entries": [(entry, hours.may_change(entry, request.user)) for entry in hours_batch.told(page)],
        "sum_words": standing.hours_words(*hours.spent_and_planned(room)),
    }


def _edit_context(request: HttpRequest, entry: Hours, form: HoursForm, remove: ActionForm) -> dict[str, object]:
    block = blocks.of_room(request, entry.room, _("Hours"))
    return {"form": form, "remove": remove, "entry": entry, "room": entry.room, "block": block}
