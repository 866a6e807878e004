"""Closing a job and reopening it; its contractor and its tax."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from estimates import estimate as estimates
from jobs import closing, lead_times
from jobs.models import Job
from tests.makers import hand, make_job, make_need, make_room, make_room_stage, post
from tests.typed import DAYS, NUMBERS
from workshop import actions
from workshop.models import Action, Person, Shop

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today(settings, db: None) -> None:
    settings.FIXED_TODAY = TODAY


@pytest.fixture
def job() -> Job:
    return make_job(number=12, name="Music school")


def url(name: str, job: Job) -> str:
    return reverse(f"jobs:{name}", args=[job.pk])


def told() -> str:
    return actions.sentence_of(Action.objects.first())


def test_a_job_is_closed_on_a_day(staff_client: Browser, job: Job) -> None:
    answer = post(staff_client, url("job_close", job), closed_on="2026-11-24")

    job.refresh_from_db()
    assert (answer.status_code, answer.url, job.closed_on) == (303, url("job", job), date(2026, 11, 24))
    assert told() == "Job 12 Music school closed on Tue, Nov 24"


def test_the_page_says_what_is_not_finished(staff_client: Browser, job: Job) -> None:
    room = make_room(job=job)
    make_need(room=room)
    make_room_stage(room=room, total=4, done=1)

    html = staff_client.get(url("job_close", job)).content.decode()

    assert "1 stage of a room is not done; 1 need is not all given" in html


def test_the_page_of_a_job_that_is_finished_says_nothing_of_it(staff_client: Browser, job: Job) -> None:
    assert "Not all is finished" not in staff_client.get(url("job_close", job)).content.decode()


def test_a_closed_job_needs_nothing_until_it_is_reopened(staff_client: Browser, job: Job) -> None:
    make_need(room=make_room(job=job))

    post(staff_client, url("job_close", job), closed_on=TODAY)
    closed = lead_times.outlook(TODAY).to_order
    post(staff_client, url("job_reopen", job))

    assert closed == []
    assert len(lead_times.outlook(TODAY).to_order) == 1
    assert told() == "Job 12 Music school reopened"


@pytest.mark.parametrize("typed", [*DAYS, "", "2026-11-26"])
def test_a_day_that_cannot_be_closes_nothing(staff_client: Browser, job: Job, typed: str) -> None:
    answer = post(staff_client, url("job_close", job), closed_on=typed)

    job.refresh_from_db()
    assert (answer.status_code, job.closed_on) == (422, None)


def test_a_day_to_come_is_named_with_what_would_do(staff_client: Browser, job: Job) -> None:
    answer = post(staff_client, url("job_close", job), closed_on="2026-11-26")

    words = "Thu, Nov 26 is still to come. Choose today, Wed, Nov 25, or a day before."
    assert words in answer.content.decode()


def test_a_closed_job_is_not_closed_again(staff: Person, job: Job) -> None:
    closing.close(job=job, by=hand(staff), closed_on=date(2026, 11, 3))

    with pytest.raises(ValidationError, match=r"closed since Tue, Nov 3\. Reopen it first"):
        closing.close(job=job, by=hand(staff), closed_on=TODAY)


def test_an_open_job_is_not_reopened(staff_client: Browser, job: Job) -> None:
    answer = post(staff_client, url("job_reopen", job))

    assert answer.status_code == 422
    assert "The job is open. Close it, or leave it so." in answer.content.decode()


def test_the_page_of_a_closed_job_offers_to_reopen_it(staff_client: Browser) -> None:
    job = make_job(closed_on=TODAY)

    for page in ("job", "job_close"):
        html = staff_client.get(url(page, job)).content.decode()
        assert url("job_reopen", job) in html


def test_the_same_key_twice_closes_once(staff_client: Browser, job: Job) -> None:
    key = actions.new_key()

    first = post(staff_client, url("job_close", job), key=key, closed_on=TODAY)
    second = post(staff_client, url("job_close", job), key=key, closed_on=TODAY)

    assert (first.status_code, second.status_code, Action.objects.count()) == (303, 303, 1)


def test_undo_opens_a_closed_job_again(staff: Person, job: Job) -> None:
    closing.close(job=job, by=hand(staff), closed_on=TODAY)

    actions.undo(action=Action.objects.first(), by=hand(staff))

    job.refresh_from_db()
    assert job.closed_on is None


def test_reopening_takes_a_post(staff_client: Browser, job: Job) -> None:
    assert staff_client.get(url("job_reopen", job)).status_code == 405


# Contractor and tax

FIELDS = {
    "name": "Music school",
    "general_contractor": "Harbor Builders",
    "unit_system": "us",
    "precision_nm": "1587500",
    "currency": "USD",
}


def test_a_job_has_a_general_contractor_and_a_tax_of_its_own(owner_client: Browser, job: Job) -> None:
    sent = {**FIELDS, "client": job.client_id, "tax_ppm": "8.25"}

    post(owner_client, url("job_edit", job), **sent, version=1)

    job.refresh_from_db()
    assert (job.general_contractor, job.tax_ppm) == ("Harbor Builders", 82_500)
    html = owner_client.get(url("job", job)).content.decode()
    assert "Harbor Builders" in html
    assert "8.25" in html


def test_staff_neither_see_nor_change_the_tax(staff_client: Browser) -> None:
    job = make_job(tax_ppm=82_500)

    post(staff_client, url("job_edit", job), **FIELDS, client=job.client_id, tax_ppm="1", version=1)

    job.refresh_from_db()
    assert (job.tax_ppm, job.general_contractor) == (82_500, "Harbor Builders")
    for page in ("job", "job_edit"):
        assert "8.25" not in staff_client.get(url(page, job)).content.decode()


@pytest.mark.parametrize("typed", [case for case in NUMBERS if case.id != "nothing"])
def test_a_tax_that_cannot_be_is_refused(owner_client: Browser, job: Job, typed: str) -> None:
    sent = {**FIELDS, "client": job.client_id, "tax_ppm": typed}

    answer = post(owner_client, url("job_edit", job), **sent, version=1)

    job.refresh_from_db()
    assert (answer.status_code, job.tax_ppm) == (422, None)


@pytest.mark.parametrize(("of_job", "used"), [(82_500, 82_500), (0, 0), (None, 60_000)])
def test_a_new_estimate_begins_with_the_tax_of_the_job_else_of_the_shop(
    owner: Person, of_job: int | None, used: int
) -> None:
    Shop.objects.create(pk=1, tax_ppm=60_000)

    assert estimates.fresh(make_job(tax_ppm=of_job)).tax_ppm == used
