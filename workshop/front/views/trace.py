import re

from django.contrib import messages
from django.core.exceptions import PermissionDenied, ValidationError
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import Resolver404, resolve
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from workshop import actions
from workshop.forms import ActionForm
from workshop.models import Action
from workshop.pages import Block, change_of, done
from workshop.telling import Teller

THING = re.compile(r"\A(workshop|materials|jobs|estimates)\.[a-z]{1,30}:[0-9]{1,18}\Z")
A_PAGE = 50


@require_POST
def undo(request: HttpRequest, pk: int) -> HttpResponse:
    action = get_object_or_404(Action, pk=pk)
    if not actions.may_undo(action, request.user):
        raise PermissionDenied
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            actions.undo(action=action, by=form.hand(request))
            messages.info(request, _("Taken back: %(what)s") % {"what": actions.sentence_of(action)})
        except ValidationError as error:
            messages.error(request, " ".join(error.messages))
    else:
        messages.error(request, _("Nothing was taken back. Look at the page again, then send it once more."))
    return done(back_to(request, action))


def back_to(request: HttpRequest, action: Action) -> str:
    """The page the undo was asked from, or where the action led; neither if it shows what is gone now."""
    asked = request.headers.get("HX-Current-URL") or request.headers.get("Referer") or ""
    is_ours = url_has_allowed_host_and_scheme(asked, {request.get_host()}, require_https=request.is_secure())
    ours = [asked] if is_ours else []
    is_gone = actions.row_of(action.thing) is None
    left = [url for url in (*ours, action.answer) if url and not (is_gone and _shows(url, action.thing))]
    return left[0] if left else "/"


def _shows(url: str, thing: str) -> bool:
    try:
        match = resolve(re.sub(r"\A[a-z]+://[^/]*|[?#].*\Z", "", url))
    except Resolver404:
        return False
    return str(match.kwargs.get("pk")) == thing.split(":")[1]


@require_safe
def trace(request: HttpRequest, thing: str) -> HttpResponse:
    """What was done to one thing, as sentences, newest first."""
    if not THING.match(thing):
        raise Http404
    try:
        row = actions.row_of(thing)
    except LookupError as error:
        raise Http404 from error
    if row is None or (thing.startswith(("estimates.", "workshop.")) and not request.user.is_owner):
        raise Http404
    page = Paginator(actions.trace(row), A_PAGE).get_page(request.GET.get("page"))
    teller = Teller(with_money=request.user.is_owner)
    context = {
        "block": Block(request, page=_("Trace"), about=[row]),
        "row": row,
        "page": page,
        "changes": [(change_of(action, request.user), teller.changed_values(action)) for action in page],
    }
    return render(request, "front/trace.html", context)
