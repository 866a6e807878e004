"""The list of jobs."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import standing
from jobs.models import Job
from tests.makers import make_client, make_job, make_room, make_room_stage

LIST = reverse("jobs:jobs")


def rows(browser: Browser, **query: str) -> list[standing.JobRow]:
    return browser.get(LIST, query).context["rows"]


def test_open_jobs_come_first_the_newest_on_top(staff_client: Browser) -> None:
    closed = make_job(number=103, closed_on=date(2026, 11, 1))
    old, new = make_job(number=101), make_job(number=102)

    found = [row.job for row in rows(staff_client)]

    assert found == [new, old, closed]


def test_a_job_shows_how_far_it_is_by_planned_hours(staff_client: Browser) -> None:
    room = make_room()
    make_room_stage(room=room, planned_minutes=360, total=34, done=12)
    make_room_stage(room=room, name="Edge", planned_minutes=120, done=1)

    row = rows(staff_client)[0]

    assert row.percent == 51  # 35/68, the worked example of the progress calculation


@pytest.mark.parametrize(
    "stages",
    [
        [],
        [(0, 1, 0)],
        [(0, 3, 1), (0, 3, 1), (0, 3, 1)],
        [(60, 3, 1), (60, 3, 1), (60, 3, 1)],
        [(60, 1, 1), (0, 1, 0)],
        [(60, 1, 0), (0, 1, 1)],
        [(60, 7, 6), (30, 9, 9), (0, 0, 0)],
        [(60, 10, 10), (5, 4, 4)],
        [(10_000, 1, 1), (1, 1, 0)],
    ],
)
def test_the_list_and_the_page_of_a_job_say_the_same_per_cent(db: None, stages: list) -> None:
    room = make_room()
    for at, (planned, total, done) in enumerate(stages):
        make_room_stage(room=room, name=f"Stage {at}", planned_minutes=planned, total=total, done=done)

    listed = standing.job_rows([room.job])[0].percent

    assert listed == standing.of_job(room.job).progress.percent


def test_a_job_shows_what_is_next_in_its_first_unfinished_room(staff_client: Browser) -> None:
    job = make_job()
    done, second = make_room(job=job, name="Lobby"), make_room(job=job, name="Practice 2")
    make_room_stage(room=done, done=1)
    make_room_stage(room=second, total=12, done=4)

    row = rows(staff_client)[0]

    assert row.next_words == "Next: Practice 2, cut panels, 8 of 12 left"


@pytest.mark.parametrize("words", ["elm", "Music", "music elm", "512"])
def test_a_job_is_found_by_name_client_or_number(staff_client: Browser, words: str) -> None:
    wanted = make_job(number=512, name="Music room", client=make_client(name="Elm Street"))
    make_job(number=7, name="Hall", client=make_client(name="Oak Street"))

    assert [row.job for row in rows(staff_client, q=words)] == [wanted]


@pytest.mark.parametrize("words", ["zzz", "%", "\0", "1" * 400, "<b>", "' OR 1=1"])
def test_words_that_find_nothing_say_so(staff_client: Browser, words: str) -> None:
    make_job(number=7, name="Hall", client=make_client(name="Oak Street"))

    answer = staff_client.get(LIST, {"q": words})

    assert answer.status_code == 200
    assert answer.context["rows"] == [] or words == "\0"


def test_the_empty_list_leads_to_the_first_job(owner_client: Browser) -> None:
    page = owner_client.get(LIST).content.decode()

    assert "Open the first job" in page
    assert reverse("jobs:job_new") in page


def test_the_list_costs_the_same_queries_for_many_jobs(staff_client: Browser, django_assert_max_num_queries) -> None:
    for _at in range(60):
        make_room_stage(room=make_room(), planned_minutes=60)
    staff_client.get(LIST)

    with django_assert_max_num_queries(14):
        staff_client.get(LIST)


def test_fifty_jobs_make_a_page(staff_client: Browser) -> None:
    Job.objects.bulk_create(Job(number=at, name="Hall", client=make_client()) for at in range(1000, 1060))

    assert len(rows(staff_client)) == 50
    assert len(rows(staff_client, page="2")) == 10
