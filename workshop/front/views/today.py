from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_safe

from materials.models import Material
from workshop.front import finding, needing_me
from workshop.pages import Block, Cell


@require_safe
def today(request: HttpRequest) -> HttpResponse:
    """What needs somebody today, the late first."""
    state = needing_me.today(for_owner=request.user.is_owner)
    jobs = ngettext("%(n)s open", "%(n)s open", state.open_jobs) % {"n": state.open_jobs}
    block = Block(request, page=_("Today"), nav="today", cells=[Cell(_("Jobs"), jobs, reverse("jobs:jobs"))])
    return render(request, "front/today.html", {"block": block, "state": state})


@require_safe
def find(request: HttpRequest) -> HttpResponse:
    text = request.GET.get("q", "")[:60]
    context = {
        "block": Block(request, page=_("Find")),
        "text": text,
        "found": finding.find(text, for_owner=request.user.is_owner),
    }
    return render(request, "front/find.html", context)


@require_safe
def more(request: HttpRequest) -> HttpResponse:
    context = {"block": Block(request, page=_("More"), nav="more"), "address": settings.PUBLIC_URL}
    return render(request, "front/more.html", context)


@require_safe
def key(request: HttpRequest) -> HttpResponse:
    """The key of all marks, lines and hatches, with the tone groups of the shop's first ladder."""
    material = Material.objects.filter(kind=Material.Kind.SHEET).first()
    groups = list(material.tone_groups.all()) if material else []
    return render(request, "front/key.html", {"block": Block(request, page=_("Key"), nav="more"), "groups": groups})
