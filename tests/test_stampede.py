"""Many at once at the real server: the same form sent by eight, and twenty who write without a pause.

Each one asks over HTTP on a line of their own; the server is the one `start` runs, with its eight threads.
"""

import time
from collections import Counter
from collections.abc import Callable, Iterator
from threading import Thread
from urllib.parse import urljoin

import pytest
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.test import Client as Browser
from django.urls import Resolver404, resolve

from estimates.models import EstimateLine
from jobs.models import Given, Hours, Room, RoomStage
from materials.models import Delivery, Lot, Sheet
from tests.doors import DOORS, url_of
from tests.filling import filled
from tests.together import at_once
from tests.visiting import Visitor
from tests.world import World
from workshop import server
from workshop.actions import new_key
from workshop.models import Action
from workshop.wsgi import application

pytestmark = pytest.mark.django_db(transaction=True)

WRITERS, SECONDS = 20, 3
Sent = tuple[str, dict[str, list[str]]]


@pytest.fixture
def address(world: World) -> Iterator[str]:
    lines: set[BaseDatabaseWrapper] = set()

    def counting(*request: object) -> object:
        lines.add(connections["default"])
        return application(*request)

    running = server.make(counting, "127.0.0.1", 0)
    thread = Thread(target=running.serve)
    thread.start()
    yield f"http://127.0.0.1:{running.bind_addr[1]}"
    running.stop()
    thread.join()
    for line in lines:  # each thread of the server keeps its own, and the test's database goes when none is left
        line.inc_thread_sharing()
        line.close()


@pytest.fixture
def visitor(address: str, owner_client: Browser, caplog: pytest.LogCaptureFixture) -> Iterator[Visitor]:
    """The owner at the server. At the end the log tells of no error, and of nobody who found the database locked."""
    yield Visitor(address, {name: cookie.value for name, cookie in owner_client.cookies.items()})
    assert [record.getMessage() for record in caplog.records if record.levelname in ("ERROR", "CRITICAL")] == []
    assert "locked" not in caplog.text


def found(visitor: Visitor, world: World, name: str, sends_to: str) -> Sent:
    """The form that stands on a page and sends to an address, filled: where it goes, and what."""
    page = url_of(next(door for door in DOORS if door.name == name), world)
    forms = [form for form in visitor.get(page).page.changing if _name(urljoin(page, form.action)) == sends_to]
    token = forms[0].fields["csrfmiddlewaretoken"].values
    return urljoin(page, forms[0].action), filled(forms[0], count="1") | {"csrfmiddlewaretoken": token}


def _name(path: str) -> str:
    try:
        return resolve(path).view_name
    except Resolver404:
        return ""


def sheets_sorted() -> int:
    return Sheet.objects.filter(tone_group__isnull=False).count()


def steps_done() -> int:
    return sum(RoomStage.objects.values_list("done", flat=True))


def undone() -> int:
    return Action.objects.filter(undone_by__isnull=False).count()


WRITES = [
    pytest.param("jobs:room_new", "jobs:room_new", Room.objects.count, 1, id="a room"),
    pytest.param("jobs:hours", "jobs:hours", Hours.objects.count, 1, id="hours"),
    pytest.param("jobs:room", "jobs:room_stage", steps_done, 1, id="a stage by one"),
    pytest.param("jobs:room_sheets", "jobs:give", Given.objects.count, 5, id="all that is free of a group"),
    pytest.param("materials:delivery_new", "materials:delivery_new", Delivery.objects.count, 1, id="a delivery"),
    pytest.param("materials:delivery_count", "materials:delivery_count", Lot.objects.count, 4, id="what came"),
    pytest.param("materials:sort", "materials:sheet_sort", sheets_sorted, 1, id="a sheet sorted"),
    pytest.param(
        "estimates:estimate_line_new", "estimates:estimate_line_new", EstimateLine.objects.count, 1, id="a line"
    ),
    pytest.param("jobs:job", "front:undo", undone, 1, id="the way back"),
]


@pytest.mark.parametrize(("page", "sends_to", "counted", "adds"), WRITES)
def test_a_form_sent_by_eight_at_once_is_kept_once_and_all_get_one_answer(
    page: str, sends_to: str, counted: Callable[[], int], adds: int, visitor: Visitor, world: World
) -> None:
    url, data = found(visitor, world, page, sends_to)
    data |= {"do": ["more"]} if "do" in data else {}
    before = counted()

    answers = at_once(lambda: visitor.another().send(url, data))

    assert Counter((answer.status, answer.leads_to) for answer in answers) == {(303, answers[0].leads_to): 8}
    assert counted() - before == adds
    assert Action.objects.filter(key=data["key"][0]).count() == 1


def test_a_sheet_that_eight_people_sort_at_once_is_sorted_once(visitor: Visitor, world: World) -> None:
    url, data = found(visitor, world, "materials:sort", "materials:sheet_sort")
    before = sheets_sorted()

    answers = at_once(lambda: visitor.another().send(url, data | {"key": [new_key()]}))

    assert Counter(answer.status for answer in answers) == {303: 1, 409: 7}
    assert sheets_sorted() - before == 1


def test_eight_people_who_count_one_more_at_once_have_counted_eight(visitor: Visitor, world: World) -> None:
    url, data = found(visitor, world, "jobs:room", "jobs:room_stage")
    RoomStage.objects.update(done=0, total=10)

    answers = at_once(lambda: visitor.another().send(url, data | {"key": [new_key()], "do": ["more"]}))

    assert [answer.status for answer in answers] == [303] * 8
    assert steps_done() == 8


def test_twenty_who_write_without_a_pause_meet_no_error(visitor: Visitor, world: World) -> None:
    url, data = found(visitor, world, "jobs:hours", "jobs:hours")
    data |= {"minutes": ["0:01"]}
    before, until = Hours.objects.count(), time.monotonic() + SECONDS

    def write_on() -> list[int]:
        line, statuses = visitor.another(), []
        while time.monotonic() < until:
            statuses.append(line.send(url, data | {"key": [new_key()]}).status)
        return statuses

    statuses = [status for each in at_once(write_on, times=WRITERS) for status in each]

    assert Counter(statuses) == {303: Hours.objects.count() - before}
    assert len(statuses) > WRITERS
