"""What every page shares: the whole page or its fragment from one address, the title block, a refused form."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from django.db import models
from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from workshop import actions, clock
from workshop.middleware import first_answer
from workshop.models import Action, Person, Shop


def page_or_fragment(
    request: HttpRequest, page: str, fragment: str, context: Mapping[str, object], status: int = 200
) -> HttpResponse:
    """The whole page, or the fragment alone for a request that will swap it in."""
    htmx = request.htmx
    alone = bool(htmx) and not htmx.boosted and not htmx.history_restore_request
    response = render(request, fragment if alone else page, context, status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response


def refused(
    request: HttpRequest,
    form: BaseForm,
    page: str,
    context: Mapping[str, object],
    fragment: str | None = None,
) -> HttpResponse:
    """The page again with what was typed, answered 422; or the first answer, if the same form was kept meanwhile."""
    done = Action.objects.filter(key=str(form.data.get("key", ""))[:32].replace("\0", "")).only("answer").first()
    if done:
        return first_answer(done)
    return page_or_fragment(request, page, fragment or page, context, status=422)


def done(url: str) -> HttpResponse:
    """Where a kept form leads: the page that shows the thing now."""
    response = redirect(url)
    response.status_code = 303
    return response


BACK = re.compile(r"/[a-z0-9][a-z0-9/-]*(\?[a-z0-9_=&]*)?\Z")


def way_back(request: HttpRequest) -> str:
    """The page of ours that asked for a new row, as /materials/new/?back=/rooms/4/needs/new/; "" for none."""
    back = request.GET.get("back", "")
    return back if BACK.match(back) else ""


def back_to_ask(back: str, name: str) -> str:
    """Where a new row leads back to, without its number: /rooms/4/needs/new/?material= for example."""
    return back and f"{back}{'&' if '?' in back else '?'}{name}="


# Functions that count what is late, one for each app that knows of such things.
COUNT_LATE: list[Callable[[], int]] = []


@dataclass(frozen=True)
class Link:
    label: str
    url: str


@dataclass(frozen=True)
class Cell:
    label: str
    value: str
    url: str = ""


@dataclass(frozen=True)
class Change:
    text: str
    who: str
    undo_url: str
    key: str


@dataclass
class Block:
    """The title block: where one is, and what changed here last."""

    request: HttpRequest
    page: str
    nav: str = ""
    cells: Sequence[Cell] = ()
    third: Cell | None = None
    around: Sequence[Link] = ()
    about: Sequence[models.Model] = ()

    def __post_init__(self) -> None:
        if not self.request.user.is_authenticated:
            return
        self.cells = self.cells or [Cell(_("Shop"), str(Shop.get()))]
        self.third = self.third or Cell(_("Signed in"), self.request.user.initials, reverse("front:more"))

    @cached_property
    def late(self) -> int:
        """How much is late in the whole shop; the apps that know it count it."""
        return sum(count() for count in COUNT_LATE)

    @property
    def late_url(self) -> str:
        return reverse("front:today")

    @property
    def date(self) -> str:
        return clock.day_text(clock.today())

    @cached_property
    def changes(self) -> list[Change]:
        person = self.request.user
        if not person.is_authenticated:
            return []
        last = actions.trace(*self.about).defer("before", "after")[:4]
        return [change_of(action, person) for action in last]


def change_of(action: Action, person: Person) -> Change:
    moment = timezone.localtime(action.happened_at)
    day = clock.today()
    when = f"{moment:%H:%M}" if moment.date() == day else f"{clock.day_text(moment.date())} {moment:%H:%M}"
    who = action.person.initials if action.person else ""
    can = actions.can_undo(action, person)
    return Change(
        text=actions.sentence_of(action),
        who=f"{who}, {when}" if who else when,
        undo_url=reverse("front:undo", args=[action.pk]) if can else "",
        key=actions.new_key(),
    )
