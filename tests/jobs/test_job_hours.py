"""All hours of a job by day, person, room and stage, with their sums."""

from datetime import date, timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Hours, Job
from tests.jobs.test_hours_batch import log
from tests.makers import make_hours, make_job, make_room, make_room_stage
from tests.queries import queries_of
from workshop.models import Person

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


@pytest.fixture
def job(db: None) -> Job:
    job = make_job(number=12, name="Music school")
    for name, pieces in (("Practice 1", 12), ("Lobby", 6)):
        make_room_stage(room=make_room(job=job, name=name), total=pieces, planned_minutes=600)
    return job


def url(job: Job) -> str:
    return reverse("jobs:job_hours", args=[job.pk])


def test_hours_are_listed_by_day_newest_first_with_the_sum_of_each_day(
    staff_client: Browser, staff: Person, owner: Person, job: Job
) -> None:
    practice, lobby = job.rooms.all()
    make_hours(room=practice, person=staff, worked_on=TODAY - timedelta(days=1), minutes=60)
    make_hours(room=practice, person=staff, worked_on=TODAY, minutes=90)
    make_hours(room=lobby, person=owner, worked_on=TODAY, minutes=30)
    make_hours(person=owner, worked_on=TODAY)

    shown = staff_client.get(url(job)).context

    assert [(day.day, day.minutes, len(day.entries)) for day in shown["listed"].days] == [
        (TODAY, 120, 2),
        (TODAY - timedelta(days=1), 60, 1),
    ]
    assert shown["sum_words"] == "3 of 20 h"


def test_a_batch_stands_there_as_one(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    page = staff_client.get(url(job))

    (entry,) = page.context["listed"].days[0].entries
    assert (entry.rooms, entry.minutes, entry.parts) == ("Practice 1, Lobby", 360, 2)
    assert page.context["page"].paginator.count == 1
    assert reverse("jobs:hours_batch", args=[entry.first.batch]) in page.content.decode()


@pytest.mark.parametrize(
    ("words", "spent"),
    [("ari", "1.5"), ("lobby", "0.5"), ("rosa lobby", "0.5"), ("ari lobby", "0"), ("oak", "0"), ("%", "0")],
)
def test_a_person_or_room_is_found(
    staff_client: Browser, staff: Person, owner: Person, job: Job, words: str, spent: str
) -> None:
    practice, lobby = job.rooms.all()
    make_hours(room=practice, person=staff, minutes=90)
    make_hours(room=lobby, person=owner, minutes=30)

    assert staff_client.get(url(job), {"q": words}).context["sum_words"] == f"{spent} of 20 h"


def test_of_a_batch_a_room_that_is_searched_for_shows_its_share(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    (day,) = staff_client.get(url(job), {"q": "lobby"}).context["listed"].days

    assert [(entry.rooms, entry.minutes) for entry in day.entries] == [("Lobby", 120)]


def test_sums_stand_by_room_stage_and_person(staff_client: Browser, staff: Person, owner: Person, job: Job) -> None:
    practice, lobby = job.rooms.all()
    make_hours(room=practice, person=staff, stage=job.stages.get(), minutes=90)
    make_hours(room=lobby, person=owner, minutes=30)

    sums = staff_client.get(url(job)).context["sums"]

    found = {str(title): [(row.name, row.spent, row.planned) for row in rows] for title, rows in sums}
    assert found == {
        "By room": [("Practice 1", 90, 600), ("Lobby", 30, 600)],
        "By stage": [("Cut panels", 90, 1200), ("", 30, None)],
        "By person": [("Ari Kest", 90, None), ("Rosa Marten", 30, None)],
    }


def test_staff_get_a_way_to_their_own_hours_alone(
    staff_client: Browser, staff: Person, owner: Person, job: Job
) -> None:
    own = make_hours(room=job.rooms.first(), person=staff)
    other = make_hours(room=job.rooms.first(), person=owner)

    html = staff_client.get(url(job)).content.decode()

    assert reverse("jobs:hours_edit", args=[own.pk]) in html
    assert reverse("jobs:hours_edit", args=[other.pk]) not in html


def test_a_job_without_hours_says_what_to_do_first(staff_client: Browser, job: Job) -> None:
    html = staff_client.get(url(job)).content.decode()

    assert "No hours yet" in html
    assert reverse("jobs:hours_batch_new", args=[job.pk]) in html


def test_fifty_stand_on_a_page(staff_client: Browser, staff: Person, job: Job) -> None:
    for at in range(51):
        make_hours(room=job.rooms.first(), person=staff, worked_on=TODAY - timedelta(days=at))

    page = staff_client.get(url(job), {"page": "2"})

    assert len(page.context["page"]) == 1
    assert "2 of 2" in page.content.decode()


@pytest.mark.parametrize("asked", ["?page=x", "?page=99999999999999999999", "?q=%00", "?q=" + "a" * 5000])
def test_no_address_trips_the_page(staff_client: Browser, job: Job, asked: str) -> None:
    assert staff_client.get(url(job) + asked).status_code == 200


@pytest.mark.parametrize("words", ["", "?q=practice"])
def test_five_thousand_entries_cost_the_queries_of_ten(
    staff_client: Browser, staff: Person, job: Job, words: str
) -> None:
    few = make_job()
    make_room_stage(room=make_room(job=few, name="Practice 1"), planned_minutes=60)
    for some, how_many in ((few, 10), (job, 5000)):
        rooms = list(some.rooms.all())
        Hours.objects.bulk_create(
            Hours(
                room=rooms[at % len(rooms)],
                person=staff,
                worked_on=TODAY - timedelta(days=at % 300),
                minutes=30,
                batch=at // 4 if at % 3 else None,
            )
            for at in range(how_many)
        )

    assert queries_of(staff_client, url(job) + words) <= queries_of(staff_client, url(few) + words)
