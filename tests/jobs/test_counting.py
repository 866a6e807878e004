"""Counting and ticking stages in place, with script and without."""

from threading import Barrier, Thread

import pytest
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from jobs import stages
from jobs.models import RoomStage
from tests.makers import hand, make_room, make_room_stage, post
from workshop import actions
from workshop.models import Action, Person


def url(row: RoomStage) -> str:
    return reverse("jobs:room_stage", args=[row.pk])


def room_url(row: RoomStage) -> str:
    return reverse("jobs:room", args=[row.room_id])


def done_of(row: RoomStage) -> int:
    row.refresh_from_db()
    return row.done


@pytest.mark.parametrize(
    ("sent", "done"),
    [
        ({"do": "count", "count": "7"}, 7),
        ({"do": "count", "count": "0"}, 0),
        ({"do": "more"}, 5),
        ({"do": "more", "count": "9"}, 5),
        ({"do": "all"}, 10),
        ({"do": "none"}, 0),
    ],
)
def test_a_stage_is_counted(staff_client: Browser, sent: dict, done: int) -> None:
    row = make_room_stage(total=10, done=4)

    answer = post(staff_client, url(row), **sent)

    assert done_of(row) == done
    assert (answer.status_code, answer.url) == (303, room_url(row))


def test_the_trace_tells_counts_and_ticks(staff_client: Browser) -> None:
    room = make_room(name="Practice 1")
    counted = make_room_stage(room=room, name="Finish", total=10)
    ticked = make_room_stage(room=room, lane="site", name="Load")

    post(staff_client, url(counted), do="count", count="7")
    post(staff_client, url(ticked), do="all")
    post(staff_client, url(ticked), do="none")

    assert [actions.sentence_of(a) for a in actions.trace(room)] == [
        "Practice 1: Load, not done",
        "Practice 1: Load, done",
        "Practice 1: Finish panels, 7 of 10",
    ]


def test_a_tick_by_htmx_is_answered_with_the_steps_alone(staff_client: Browser) -> None:
    row = make_room_stage(total=10)

    answer = post(staff_client, url(row), htmx=True, do="more")
    followed = staff_client.get(answer.url, headers={"HX-Request": "true"})

    page = followed.content.decode()
    assert "<html" not in page
    assert 'id="steps"' in page
    assert "1 of 10" in page
    assert 'id="last-changes"' in page


def test_without_htmx_the_whole_page_shows_the_count(staff_client: Browser) -> None:
    row = make_room_stage(total=10)

    page = staff_client.get(post(staff_client, url(row), do="more").url).content.decode()

    assert "<html" in page
    assert "1 of 10" in page
    assert page.count('id="last-changes"') == 1


@pytest.mark.parametrize("htmx", [False, True])
def test_more_than_there_are_is_refused_with_what_was_typed(staff_client: Browser, htmx: bool) -> None:
    row = make_room_stage(total=10, done=4)

    answer = post(staff_client, url(row), htmx=htmx, do="count", count="12")

    page = answer.content.decode()
    assert answer.status_code == 422
    assert ("<html" in page) is not htmx
    assert "12 of 10 cannot be done. Type 10, or raise how many there are in the plan." in page
    assert 'value="12"' in page
    assert done_of(row) == 4


@pytest.mark.parametrize(
    "sent",
    [
        {},
        {"do": ""},
        {"do": "twice"},
        {"do": "count"},
        {"do": "count", "count": ""},
        {"do": "count", "count": "-1"},
        {"do": "count", "count": "NaN"},
        {"do": "count", "count": "1e400"},
        {"do": "count", "count": "1" + "0" * 30},
        {"do": "count", "count": "x" * 100_000},
        {"do": "count", "count": "4\0"},
        {"do": "count", "count": "<b>7</b>"},
    ],
)
def test_a_count_that_cannot_be_read_is_refused(staff_client: Browser, sent: dict) -> None:
    row = make_room_stage(total=10, done=4)

    answer = post(staff_client, url(row), **sent)

    assert answer.status_code == 422
    assert "<b>7</b>" not in answer.content.decode()
    assert done_of(row) == 4


def test_one_more_than_all_is_refused(staff_client: Browser) -> None:
    row = make_room_stage(total=10, done=10)

    answer = post(staff_client, url(row), do="more")

    assert answer.status_code == 422
    assert done_of(row) == 10


def test_the_same_key_twice_counts_once(staff_client: Browser) -> None:
    row, key = make_room_stage(total=10), actions.new_key()

    post(staff_client, url(row), key=key, do="more")
    post(staff_client, url(row), key=key, do="more")

    assert done_of(row) == 1


@pytest.mark.django_db(transaction=True)
def test_two_who_count_one_more_at_once_count_two() -> None:
    person = Person.objects.create_user("owner", "a long enough password", name="Rosa Marten", role="owner")
    row, start, failed = make_room_stage(total=10), Barrier(4), []

    def count_one() -> None:
        seen = RoomStage.objects.select_related("room__job", "stage").get(pk=row.pk)
        start.wait()
        try:
            stages.count_more(room_stage=seen, by=hand(person))
        except Exception as error:
            failed.append(error)
        finally:
            connection.close()

    threads = [Thread(target=count_one) for _at in range(4)]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]

    assert failed == []
    assert done_of(row) == 4


def test_undo_puts_the_count_back(staff_client: Browser, staff: Person) -> None:
    row = make_room_stage(total=10, done=4)
    post(staff_client, url(row), do="all")

    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert done_of(row) == 4


def test_stages_are_counted_by_post_only(staff_client: Browser) -> None:
    assert staff_client.get(url(make_room_stage())).status_code == 405


def test_a_done_stage_shows_its_count_again_when_asked(staff_client: Browser) -> None:
    row = make_room_stage(total=10, done=10)

    closed = staff_client.get(room_url(row)).content.decode()
    opened = staff_client.get(room_url(row), {"count": row.pk}).content.decode()

    assert 'name="count"' not in closed
    assert 'name="count"' in opened
