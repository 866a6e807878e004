"""The revision worked to in the title block of every page of its job."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import drawing_list
from jobs.models import Job
from tests.makers import make_drawing, make_estimate, make_job, make_revision, make_room


@pytest.fixture(autouse=True)
def today(settings, db: None) -> None:
    settings.FIXED_TODAY = date(2026, 11, 25)


@pytest.fixture
def job() -> Job:
    return make_job(drawings="Plans of spring")


def list_url(job: Job) -> str:
    return reverse("jobs:drawings", args=[job.pk])


def test_the_title_block_tells_the_revision_dated_last_of_all_drawings(staff_client: Browser, job: Job) -> None:
    room = make_room(job=job)
    make_revision(drawing=make_drawing(job=job), letter="F", dated_on=date(2026, 10, 1))
    make_revision(drawing=make_drawing(job=job), letter="C", dated_on=date(2026, 11, 19))

    for page in (reverse("jobs:job", args=[job.pk]), reverse("jobs:room", args=[room.pk]), list_url(job)):
        html = staff_client.get(page).content.decode()
        assert f'<a href="{list_url(job)}">Rev C, Nov 19</a>' in html
        assert "Plans of spring" not in html


def test_the_estimate_tells_the_same_revision(owner_client: Browser, job: Job) -> None:
    make_revision(drawing=make_drawing(job=job), letter="C", dated_on=date(2025, 11, 19))
    make_estimate(job=job)

    html = owner_client.get(reverse("estimates:estimate", args=[job.pk])).content.decode()

    assert "Rev C, Nov 19, 2025" in html


@pytest.mark.parametrize(("typed", "shown"), [("Plans of spring", "Plans of spring"), ("", "None")])
def test_what_was_typed_with_the_job_stands_there_until_a_revision_is_listed(
    staff_client: Browser, typed: str, shown: str
) -> None:
    job = make_job(drawings=typed)
    make_drawing(job=job)

    html = staff_client.get(reverse("jobs:job", args=[job.pk])).content.decode()

    assert f'<a href="{list_url(job)}">{shown}</a>' in html


def test_the_revision_costs_one_query_however_many_drawings_there_are(job: Job, django_assert_num_queries) -> None:
    for _at in range(9):
        make_revision(drawing=make_drawing(job=job))

    with django_assert_num_queries(1):
        drawing_list.title_words(job)
