"""Staff see no price, cost, rate or amount: not on a page, in a fragment, a refusal or a trace."""

import re

import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests.doors import DOORS, Door, cases, pages, url_of, without
from tests.makers import post
from tests.world import TELLING, World
from workshop.actions import thing_of

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("door", without("front:work", pages(cases("staff", opens=True))))
@pytest.mark.parametrize("htmx", [{}, {"HX-Request": "true"}], ids=["page", "fragment"])
def test_staff_open_their_pages_and_see_no_money_there(
    staff_client: Browser, world: World, door: Door, htmx: dict
) -> None:
    answer = staff_client.get(url_of(door, world), headers=htmx)

    assert answer.status_code == 200
    assert told(answer.content.decode()) == []


@pytest.mark.parametrize("door", without("front:logout", cases("staff", sends=True)))
def test_staff_see_no_money_in_what_is_refused(staff_client: Browser, world: World, door: Door) -> None:
    answer = post(staff_client, url_of(door, world))
    page = staff_client.get("/more/") if answer.status_code == 303 else answer

    assert answer.status_code in (303, 403, 404, 422)
    assert told(page.content.decode()) == []


def test_staff_see_no_money_in_the_trace_of_anything_they_may_open(staff_client: Browser, world: World) -> None:
    pages = {
        thing_of(row): staff_client.get(reverse("front:trace", args=[thing_of(row)])).content.decode()
        for row in world.things
    }

    assert {thing: told(page) for thing, page in pages.items() if told(page)} == {}


def told(page: str) -> list[str]:
    """The telling figures on a page; keys, tokens and the versions of static files are no figures."""
    shown = re.sub(r"[0-9A-Za-z]{32,}|\?v=[0-9a-f]{10}", "", page)
    return [figure for figure in TELLING if figure in shown]


def test_the_telling_figure_is_seen_by_the_owner(owner_client: Browser, world: World) -> None:
    pages = {
        door.name: owner_client.get(url_of(door, world)).content.decode()
        for door in DOORS
        if door.opens and door.who != "anybody" and not door.is_file
    }

    telling = {name for name, page in pages.items() if told(page)}
    assert telling >= {
        "front:shop",
        "materials:material",
        "materials:order",
        "materials:order_line",
        "materials:delivery",
        "materials:lot",
        "estimates:estimate",
        "estimates:estimate_line",
    }
