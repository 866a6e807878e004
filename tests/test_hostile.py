"""Every form of every page, one field at a time, with what nobody should type: answered in words, kept, never stored.

The forms are found on the pages themselves, so a new page or field is held to this without a line here.
"""

from collections import Counter
from collections.abc import Iterator
from urllib.parse import urljoin, urlsplit

import pytest
from django.apps import apps
from django.db import connection, transaction
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import Resolver404, resolve, reverse

from tests import hostile
from tests.conftest import PASSWORD
from tests.doors import Door, cases, numbered, url_of
from tests.filling import filled, kind_of, one_of_each, shape_of
from tests.pages import Field, Form, Page
from tests.world import World
from workshop import first_start
from workshop.actions import new_key
from workshop.models import Person

CHOSEN: dict[str, str | None] = {
    "nothing": "",
    "not sent at all": None,
    "a key that is not there": "987654321",
    **{
        name: hostile.NO_NUMBER[name]
        for name in (
            "a hundred thousand letters",
            "a NUL",
            "markup",
            "beyond every float",
            "no number at all",
            "less than nothing",
            "ten to the thirtieth",
            "digits of another script",
        )
    },
}
TYPED = CHOSEN | {name: text for name, text in hostile.NO_NUMBER.items() if name != "halves of a pair"}
"""What can be sent for what is chosen or hidden, and for what is typed; half a letter cannot be sent at all."""
TELLING = ("nothing", "markup", "a sign of a format", "written from right to left")
"""What could break the page that shows it once it is kept."""
REFUSED = (400, 403, 404, 409, 422)
KNOWN = {"now": PASSWORD, "count": "1"}
"""What fits the world and stands on no page: the owner's password, and fewer sheets than are free."""
IN_USE = ["jobs:room_remove", "materials:delivery_photos", "materials:order_line_remove", "materials:sheet_sort"]
"""What the world refuses for its own reasons: a room and an order that have something, a sheet sorted so before; and no
photo is at hand."""


pytestmark = pytest.mark.django_db


@pytest.fixture
def site(world: World, owner_client: Browser, staff_client: Browser) -> "Site":
    return Site(world, [owner_client, staff_client])


def texts_for(field: Field) -> dict[str, str | None]:
    """How a text is read is the same on every database: PostgreSQL is tried with the shorter list."""
    if field.is_typed and connection.vendor == "sqlite":
        return TYPED
    return CHOSEN | ({"a day that is not": "2026-02-30"} if field.is_typed else {})


class Site:
    """A shop with one of everything, its pages as the owner and as staff find them, and how much is stored in it."""

    def __init__(self, world: World, people: list[Browser]) -> None:
        self.world, self.people = world, people
        self.cookies = [browser.cookies.copy() for browser in people]
        names = [model._meta.db_table for app in apps.get_app_configs() for model in app.get_models()]
        tables = [name for name in names if name != "django_session"]
        self.counting = " UNION ALL ".join(f"SELECT '{table}', COUNT(*) FROM {table}" for table in tables)
        self.before = self.counts()

    def browser(self, role: int) -> Browser:
        browser = self.people[role]
        browser.cookies, browser.raise_request_exception = self.cookies[role].copy(), False
        return browser

    def counts(self) -> dict[str, int]:
        with connection.cursor() as cursor:
            cursor.execute(self.counting)
            return dict(cursor.fetchall())

    def forms(self, door: Door) -> Iterator[tuple[int, str, Form]]:
        """Each form of an address once: as the owner has it, and as staff have it where theirs is another."""
        seen = set()
        for role in range(len(self.cookies)):
            for path, page in self._pages(door, role):
                for form in page.changing:
                    if (shape := shape_of(form)) not in seen:
                        seen.add(shape)
                        yield role, path, form

    def _pages(self, door: Door, role: int) -> Iterator[tuple[str, Page]]:
        """The page of an address, and one of each kind that links on it ask of the same address."""
        browser, to_do = self.browser(role), [url_of(door, self.world)]
        for path in to_do:
            answer = browser.get(path)
            if answer.status_code != 200 or "html" not in answer.headers["Content-Type"]:
                continue
            page = Page(answer.content.decode())
            yield path, page
            for link in page.links:
                to = urljoin(path, link).partition("#")[0]
                if _name(to) == door.name and kind_of(to) not in map(kind_of, to_do):
                    to_do.append(to)


def _name(path: str) -> str:
    try:
        return resolve(urlsplit(path).path).view_name
    except Resolver404:
        return ""


def known(path: str) -> dict[str, str]:
    return KNOWN | ({"thickness_nm": "8/4"} if path.endswith("kind=lumber") else {})


def send(
    site: Site, role: int, url: str, data: dict[str, list[str]], *, what: str = "", htmx: bool = False
) -> tuple[int, list[str]]:
    """Send a form and take back what it did: the status, and in words what is wrong with the answer."""
    with transaction.atomic():
        browser = site.browser(role)
        answer = browser.post(url, data, headers={"HX-Request": "true"} if htmx else {})
        wrong = list(
            _wrong_if_kept(answer, browser, what) if _is_kept(answer) else _wrong_if_refused(site, answer, data)
        )
        transaction.set_rollback(True)
    return answer.status_code, wrong


def _is_kept(answer: HttpResponse) -> bool:
    return answer.status_code in (302, 303) or (answer.status_code == 200 and bool(answer.wsgi_request.htmx))


def _wrong_if_kept(answer: HttpResponse, browser: Browser, what: str) -> Iterator[str]:
    if what not in TELLING or answer.status_code == 200:
        return
    shown = browser.get(answer.headers["Location"], follow=True)
    if shown.status_code != 200:
        yield f"was kept, and {answer.headers['Location']} answered {shown.status_code}"
    if hostile.MARKUP.encode() in shown.content:
        yield "was kept, and is shown as markup"


def _wrong_if_refused(site: Site, answer: HttpResponse, data: dict[str, list[str]]) -> Iterator[str]:
    if answer.status_code not in REFUSED:
        yield f"answered {answer.status_code}"
        return
    if (after := site.counts()) != site.before:
        yield f"was refused, and stored {Counter(after) - Counter(site.before)}"
    if answer.status_code == 422 and (lost := _lost(answer, data)):
        yield f"was refused, and lost what was typed in {lost}"
    if hostile.MARKUP.encode() in answer.content:
        yield "was refused, and is shown as markup"


def _lost(answer: HttpResponse, data: dict[str, list[str]]) -> list[str]:
    """The typed fields that do not stand in the answer's form as they were sent."""
    typed = [name for name in data if name != "key"]
    forms = [form for form in Page(answer.content.decode()).changing if set(form.fields) & set(typed)]
    losses = [[field.name for field in form.fields.values() if _is_lost(field, data)] for form in forms]
    return min(losses, key=len, default=[])


def _is_lost(field: Field, data: dict[str, list[str]]) -> bool:
    if not field.is_typed or field.name not in data:
        return False
    return [text.split() for text in field.values] != [text.split() for text in data[field.name]]


DOORS_THAT_OPEN = cases("staff", "owner", opens=True)


@pytest.mark.parametrize("door", DOORS_THAT_OPEN)
def test_every_form_filled_as_its_fields_suggest_is_kept(door: Door, site: Site) -> None:
    faults = []
    for role, path, form in site.forms(door):
        url = urljoin(path, form.action)
        status, wrong = send(site, role, url, filled(form, **known(path)), what="nothing")
        if wrong or (status not in (302, 303) and _name(url) not in IN_USE):
            faults.append(f"{path} {form.action} answered {status}: {wrong}")

    assert not faults, "\n".join(faults)


@pytest.mark.parametrize("door", DOORS_THAT_OPEN)
def test_every_field_answers_what_nobody_should_type_in_words(door: Door, site: Site) -> None:
    faults = []
    for role, path, form in site.forms(door):
        for field in one_of_each(form):
            for what, text in texts_for(field).items():
                data = filled(form, **known(path)) | {field.name: [text]}
                data = data if text is not None else {n: v for n, v in data.items() if n != field.name}
                in_part = what == "no number at all"
                _status, wrong = send(site, role, urljoin(path, form.action), data, what=what, htmx=in_part)
                faults += [f"{path} {form.action} {field.name}, {what}: {each}" for each in wrong]

    assert not faults, "\n".join(faults)


# Doors, addresses and what is asked in them


@pytest.mark.parametrize("text", TYPED.values(), ids=TYPED)
@pytest.mark.parametrize("field", ["username", "password", "next", "csrfmiddlewaretoken"])
def test_the_sign_in_answers_what_nobody_should_type_in_words(site: Site, field: str, text: str | None) -> None:
    typed = {"username": "owner", "password": "none of theirs", field: text or ""}

    answer = Browser().post(reverse("front:login"), typed)

    assert answer.status_code in (200, 422)
    assert hostile.MARKUP not in answer.content.decode()


@pytest.mark.parametrize("text", TYPED.values(), ids=TYPED)
@pytest.mark.parametrize("field", ["key", "code", "name", "username", "password"])
def test_the_first_start_answers_what_nobody_should_type_in_words(
    db: None, monkeypatch: pytest.MonkeyPatch, field: str, text: str | None
) -> None:
    monkeypatch.setattr(first_start, "PAUSE_SECONDS", 0)
    typed = {"key": new_key(), "code": first_start.code(), "name": "Rosa", "username": "rosa", "password": PASSWORD}
    browser = Browser()

    answer = browser.post(reverse("front:first_start"), typed | {field: text or ""})

    assert answer.status_code in (303, 422)
    assert Person.objects.count() == (answer.status_code == 303)


@pytest.mark.parametrize("text", list(filter(None, TYPED.values())), ids=list(TYPED)[2:])
def test_whatever_an_address_is_asked_it_answers_in_words(site: Site, text: str) -> None:
    asked = ["q", "page", "material", "quantity_micro", "kind", "order", "supplier", "lot", "sheet", "aside", "count"]
    asked += ["back", "next"]
    browser, doors = site.browser(0), [case.values[0] for case in DOORS_THAT_OPEN]

    answers = {
        door.name: browser.get(url_of(door, site.world), dict.fromkeys(asked, text)).status_code for door in doors
    }

    assert {name: status for name, status in answers.items() if status not in (200, 404)} == {}


@pytest.mark.parametrize("number", [0, 987654321, 2**31, 2**63, 10**30])
def test_a_number_that_is_not_there_is_not_found(site: Site, number: int) -> None:
    browser = site.browser(0)
    doors = [case.values[0] for case in numbered(cases("staff", "owner"))]

    opened = {door.name: browser.get(url_of(door, pk=number)).status_code for door in doors if door.opens}
    sent = {door.name: browser.post(url_of(door, pk=number)).status_code for door in doors if door.sends}

    assert {name: status for name, status in (opened | sent).items() if status != 404} == {}


@pytest.mark.parametrize("thing", ["x", "jobs.job", "jobs.job:x", "jobs.nothing:1", "jobs.job:1e400", "a\\0", "<b>"])
def test_a_trace_of_no_thing_is_not_found(site: Site, thing: str) -> None:
    answer = site.browser(0).get(reverse("front:trace", args=[thing]))

    assert answer.status_code == 404
