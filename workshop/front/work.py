from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workshop import backups, work
from workshop.doors import owner_only
from workshop.forms import ActionForm
from workshop.models import Work
from workshop.pages import Block, Link, done, page_or_fragment


@require_safe
def work_page(request: HttpRequest, pk: int) -> HttpResponse:
    """How far a piece of work is; while it is open the fragment asks for itself again."""
    piece = get_object_or_404(Work.objects.seen_by(request.user).select_related("asked_by"), pk=pk)
    context = {"block": Block(request, page=work.words_for(piece)), "piece": piece, "form": ActionForm()}
    return page_or_fragment(request, "front/work.html", "front/_work.html", context)


@require_POST
def cancel_work(request: HttpRequest, pk: int) -> HttpResponse:
    piece = get_object_or_404(Work.objects.seen_by(request.user), pk=pk)
    if ActionForm(request.POST).is_valid():
        work.cancel(piece)
    return done(reverse("front:work", args=[piece.pk]))


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def backup_list(request: HttpRequest) -> HttpResponse:
    """The backups there are; a POST asks for one more."""
    form = ActionForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        return done(reverse("front:work", args=[backups.ask(by=request.user).pk]))
    context = {
        "block": Block(request, page=_("Backups"), nav="more", around=[Link(_("Shop"), reverse("front:shop"))]),
        "backups": backups.made(),
        "are_ours": backups.are_ours(),
        "form": form,
    }
    return render(request, "front/backup_list.html", context, status=422 if request.method == "POST" else 200)
