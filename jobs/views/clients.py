from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from jobs import clients
from jobs.forms.clients import ClientForm
from jobs.models import Client
from materials.views.lists import page_of, words_of
from workshop.actions import Stale
from workshop.pages import Block, Link, done, refused


@require_safe
def client_list(request: HttpRequest) -> HttpResponse:
    words = words_of(request)
    context = {
        "block": Block(request, page=_("Clients"), nav="jobs", around=[Link(_("Jobs"), reverse("jobs:jobs"))]),
        "words": words,
        "page": page_of(request, clients.found(words)),
    }
    return render(request, "jobs/client_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def client_new(request: HttpRequest) -> HttpResponse:
    form = ClientForm(request.POST or None)
    context = {"form": form, "block": Block(request, page=_("New client"), nav="jobs")}
    if request.method != "POST":
        return render(request, "jobs/client_form.html", context)
    if form.is_valid():
        try:
            clients.add(by=form.hand(request), **form.values())
            return done(reverse("jobs:clients"))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/client_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def client_edit(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    form = ClientForm(request.POST or None, instance=client)
    context = {"form": form, "block": Block(request, page=client.name, nav="jobs", about=[client])}
    if request.method != "POST":
        return render(request, "jobs/client_form.html", context)
    if form.is_valid():
        try:
            clients.change(client=client, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("jobs:clients"))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/client_form.html", context)
