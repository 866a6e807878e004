"""Every address for every role: who opens it, who sends to it, and what is not there.

The table itself stands in tests/doors.py; the contributor's guide shows it.
"""

from collections.abc import Iterator

import pytest
from django.test import Client as Browser
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from jobs.models import Hours
from tests.doors import DOORS, Door, as_markdown, cases, numbered, pages, url_of, without
from tests.layout import ROOT
from tests.makers import make_client, make_hours, post
from tests.pages import Page
from tests.world import World
from workshop.actions import may_undo
from workshop.models import Action, Person, Work

pytestmark = pytest.mark.django_db
NOT_THERE = [999_999, 10**30]


def addresses(resolver: URLResolver, space: str = "", prefix: str = "") -> Iterator[tuple[str, str, object]]:
    for pattern in resolver.url_patterns:
        path = prefix + str(pattern.pattern)
        if isinstance(pattern, URLPattern):
            yield space + pattern.name, path, pattern.callback
        else:
            yield from addresses(pattern, f"{pattern.namespace}:" if pattern.namespace else space, path)


# The table


def test_every_address_stands_in_the_table_and_the_table_names_no_other() -> None:
    there = {(name, path) for name, path, _view in addresses(get_resolver())}

    assert there - {(door.name, door.path) for door in DOORS} == set()
    assert {(door.name, door.path) for door in DOORS} - there == set()


def test_the_pages_of_the_owner_are_those_guarded_so() -> None:
    guarded = {name for name, _path, view in addresses(get_resolver()) if getattr(view, "is_owner_only", False)}

    assert guarded == {door.name for door in DOORS if door.who == "owner"}


def test_the_pages_for_anybody_are_those_opened_so() -> None:
    opened = {name for name, _path, view in addresses(get_resolver()) if not getattr(view, "login_required", True)}

    assert opened == {door.name for door in DOORS if door.who == "anybody"}


def test_the_contributors_guide_shows_this_table() -> None:
    guide = ROOT / "DEVELOPERS.md"
    if not guide.exists():
        pytest.skip("the guide is not written yet")

    assert as_markdown() in guide.read_text(encoding="utf-8")


# Nobody signed in


@pytest.mark.parametrize("door", cases("staff", "owner"))
@pytest.mark.parametrize("method", ["get", "post"])
def test_who_is_not_signed_in_is_led_to_the_door(client: Browser, owner: Person, door: Door, method: str) -> None:
    answer = getattr(client, method)(url_of(door))

    assert answer.status_code == 302
    assert answer.headers["Location"].startswith(reverse("front:login"))


@pytest.mark.parametrize("name", ["front:login", "front:health"])
def test_what_is_there_for_anybody_answers(client: Browser, owner: Person, name: str) -> None:
    assert client.get(reverse(name)).status_code in (200, 503)


# Staff


@pytest.mark.parametrize("door", cases("owner"))
@pytest.mark.parametrize("method", ["get", "post"])
@pytest.mark.parametrize("htmx", [{}, {"HX-Request": "true"}], ids=["page", "fragment"])
def test_staff_are_refused_where_the_owner_goes(
    staff_client: Browser, owner: Person, world: World, door: Door, method: str, htmx: dict
) -> None:
    address, before = url_of(door, world), Action.objects.count()

    answer = getattr(staff_client, method)(address, {"key": "a" * 32}, headers=htmx)

    assert answer.status_code in (403, 405)
    assert Action.objects.count() == before


@pytest.mark.parametrize("door", numbered(cases("owner", opens=True)))
def test_staff_learn_nothing_of_what_is_not_there(staff_client: Browser, door: Door) -> None:
    assert staff_client.get(url_of(door, pk=999_999)).status_code == 403


# The owner, and methods


@pytest.mark.parametrize("door", cases("staff", "owner", opens=True))
def test_the_owner_opens_every_page(owner_client: Browser, world: World, door: Door) -> None:
    assert owner_client.get(url_of(door, world)).status_code == 200


@pytest.mark.parametrize("door", cases("staff", "owner", opens=False))
def test_what_is_only_sent_to_is_not_opened(owner_client: Browser, world: World, door: Door) -> None:
    before = Action.objects.count()

    answer = owner_client.get(url_of(door, world))

    assert answer.status_code == 405
    assert Action.objects.count() == before


@pytest.mark.parametrize("door", cases("staff", "owner", sends=False))
def test_what_is_only_opened_is_not_sent_to(owner_client: Browser, world: World, door: Door) -> None:
    assert post(owner_client, url_of(door, world)).status_code == 405


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
@pytest.mark.parametrize("door", cases("staff", "owner"))
def test_no_other_method_is_taken(owner_client: Browser, world: World, door: Door, method: str) -> None:
    assert getattr(owner_client, method)(url_of(door, world)).status_code == 405


@pytest.mark.parametrize("pk", NOT_THERE, ids=["a number too far", "ten to the thirtieth"])
@pytest.mark.parametrize("door", numbered(cases("staff", "owner", opens=True)))
def test_what_is_not_there_is_not_found(owner_client: Browser, door: Door, pk: int) -> None:
    assert owner_client.get(url_of(door, pk=pk)).status_code == 404


@pytest.mark.parametrize("pk", NOT_THERE, ids=["a number too far", "ten to the thirtieth"])
@pytest.mark.parametrize("door", numbered(cases("staff", "owner", sends=True)))
def test_what_is_not_there_is_not_changed(owner_client: Browser, door: Door, pk: int) -> None:
    assert post(owner_client, url_of(door, pk=pk)).status_code == 404


@pytest.mark.parametrize("door", pages(cases("staff", "owner", opens=True)))
def test_every_form_on_a_page_carries_token_key_and_leads_to_a_door(
    owner_client: Browser, world: World, door: Door
) -> None:
    page = Page(owner_client.get(url_of(door, world)).content.decode())

    forms = [form for form in page.changing if form.action != reverse("front:logout")]
    assert all(len(form.fields["csrfmiddlewaretoken"].values[0]) == 64 for form in page.changing)
    assert all(len(form.fields["key"].values) == 1 and len(form.fields["key"].values[0]) == 32 for form in forms)


@pytest.mark.parametrize("door", cases("staff", "owner", sends=True))
def test_nothing_is_sent_without_a_token(owner: Person, world: World, door: Door) -> None:
    browser, before = Browser(enforce_csrf_checks=True), Action.objects.count()
    browser.force_login(owner)

    answer = post(browser, url_of(door, world))

    assert answer.status_code == 403
    assert Action.objects.count() == before


@pytest.mark.parametrize("door", without("front:logout", cases("staff", "owner", sends=True)))
@pytest.mark.parametrize("key", ["", "x", "\0" * 32])
def test_nothing_is_done_without_a_key(owner_client: Browser, world: World, door: Door, key: str) -> None:
    before = Action.objects.count()

    answer = owner_client.post(url_of(door, world), {"key": key})

    assert answer.status_code in (303, 422)
    assert Action.objects.count() == before


# What belongs to somebody else


def test_staff_do_not_see_or_stop_work_the_owner_asked_for(
    staff_client: Browser, owner: Person, staff: Person, world: World
) -> None:
    owners = Work.objects.get()
    own = Work.objects.create(kind="backup", key="mine", time_box_seconds=60, asked_by=staff)

    seen = [staff_client.get(reverse("front:work", args=[piece.pk])).status_code for piece in (owners, own)]
    stopped = [post(staff_client, reverse("front:work_cancel", args=[piece.pk])).status_code for piece in (owners, own)]

    assert (seen, stopped) == ([404, 200], [404, 303])


def test_staff_change_no_hours_but_their_own(staff_client: Browser, owner: Person, world: World) -> None:
    owners = make_hours(person=owner)

    opened = staff_client.get(reverse("jobs:hours_edit", args=[owners.pk])).status_code
    sent = [
        post(staff_client, reverse(f"jobs:{name}", args=[owners.pk]), minutes="1", version="1").status_code
        for name in ("hours_edit", "hours_remove")
    ]

    assert (opened, sent) == (404, [404, 404])
    assert Hours.objects.get(pk=owners.pk).minutes == 90


def test_staff_take_back_no_action_by_its_number_but_their_own(
    staff_client: Browser, staff: Person, world: World
) -> None:
    answers = {
        action.pk: post(staff_client, reverse("front:undo", args=[action.pk])).status_code
        for action in Action.objects.all()
        if not may_undo(action, staff)
    }

    assert set(answers.values()) == {403}
    assert not Action.objects.exclude(undone_by=None).exists()


def test_the_login_page_leads_a_new_shop_to_its_first_start(client: Browser, db: None) -> None:
    assert client.get(reverse("front:login")).headers["Location"] == reverse("front:first_start")
    make_client()
    assert client.get(reverse("front:first_start")).status_code == 200
