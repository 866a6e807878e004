"""Hours on several rooms, corrected and taken out as one."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import hours, hours_batch
from jobs.models import Hours, Job
from tests.jobs.test_hours_batch import TODAY, log, shares, told, typed, url
from tests.makers import hand, make_job, make_room, make_room_stage, post
from workshop import actions
from workshop.models import Action, Person


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


@pytest.fixture
def job(db: None) -> Job:
    """Two rooms with 12 and 6 panels to cut."""
    job = make_job(number=12, name="Music school")
    for name, pieces in (("Practice 1", 12), ("Practice 2", 6)):
        make_room_stage(room=make_room(job=job, name=name), total=pieces)
    return job


def seen() -> str:
    return hours_batch.batch(Hours.objects.first().batch).seen


def test_a_batch_is_corrected_as_one_and_keeps_its_number(staff_client: Browser, staff: Person, job: Job) -> None:
    number = log(job, staff).number

    answer = post(staff_client, url(), **typed(job, minutes="3", seen=seen()))

    assert (answer.status_code, answer.url) == (303, reverse("jobs:job_hours", args=[job.pk]))
    assert shares() == {"Practice 1": 120, "Practice 2": 60}
    assert set(Hours.objects.values_list("batch", flat=True)) == {number}
    assert told() == "Practice 1, Practice 2: hours of Ari Kest on Wed, Nov 25 are now 3 h, Cut panels"


def test_a_room_left_out_gives_its_share_to_the_others(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    post(staff_client, url(), **typed(job, "Practice 2", seen=seen()))

    assert shares() == {"Practice 2": 360}


def test_undo_puts_the_shares_back_as_they_were(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)
    post(staff_client, url(), **typed(job, "Practice 2", minutes="3", seen=seen()))

    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert shares() == {"Practice 1": 240, "Practice 2": 120}


def test_correcting_counts_the_batch_once_against_the_day(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff, minutes=20 * 60)

    answer = post(staff_client, url(), **typed(job, minutes="21", seen=seen()))

    assert (answer.status_code, sum(shares().values())) == (303, 21 * 60)


def test_what_is_sent_unchanged_changes_nothing(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    answer = post(staff_client, url(), **typed(job, seen=seen()))

    assert (answer.status_code, Action.objects.count()) == (303, 1)


def test_a_batch_corrected_meanwhile_is_shown_and_the_next_send_wins(
    staff_client: Browser, staff: Person, job: Job
) -> None:
    log(job, staff)
    old = seen()
    post(staff_client, url(), **typed(job, minutes="3", seen=old))

    stale = post(staff_client, url(), **typed(job, minutes="4", seen=old))
    again = post(staff_client, url(), **typed(job, minutes="4", seen=stale.context["form"].data["seen"]))

    assert stale.status_code == 422
    assert "Stored now: 3 h on Wed, Nov 25 in Practice 1, Practice 2." in stale.content.decode()
    assert (again.status_code, sum(shares().values())) == (303, 240)


def test_a_batch_is_taken_out_as_one_and_put_back(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    answer = post(staff_client, url("hours_batch_remove"))

    assert answer.url == reverse("jobs:job_hours", args=[job.pk])
    assert (Hours.objects.count(), told()) == (
        0,
        "Practice 1, Practice 2: 6 h by Ari Kest on Wed, Nov 25 taken out, Cut panels",
    )
    actions.undo(action=Action.objects.first(), by=hand(staff))
    assert shares() == {"Practice 1": 240, "Practice 2": 120}


@pytest.mark.parametrize("name", ["hours_batch", "hours_batch_remove"])
def test_a_batch_of_another_is_not_there_for_staff(staff_client: Browser, owner: Person, job: Job, name: str) -> None:
    log(job, owner)

    answer = post(staff_client, url(name), **typed(job, seen=seen()))

    assert (answer.status_code, sum(shares().values())) == (404, 360)


def test_the_owner_corrects_anybodys_batch(owner_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    post(owner_client, url(), **typed(job, minutes="3", person=staff.pk, seen=seen()))

    assert {entry.person for entry in Hours.objects.all()} == {staff}
    assert sum(shares().values()) == 180


@pytest.mark.parametrize("number", [0, 999_999, 10**30])
def test_a_batch_that_is_not_there_is_not_found(staff_client: Browser, db: None, number: int) -> None:
    assert staff_client.get(reverse("jobs:hours_batch", args=[number])).status_code == 404


def test_a_batch_is_taken_out_by_post_only(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    assert staff_client.get(url("hours_batch_remove")).status_code == 405


# One share of it


def test_the_address_of_a_share_leads_to_the_whole(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    answer = staff_client.get(reverse("jobs:hours_edit", args=[Hours.objects.first().pk]))

    assert (answer.status_code, answer.url) == (302, url())


def test_a_share_is_not_corrected_or_taken_out_alone(staff: Person, job: Job) -> None:
    log(job, staff)
    entry = Hours.objects.select_related("room__job").first()
    fields = {"worked_on": TODAY, "minutes": 10, "stage": None, "note": ""}

    with pytest.raises(ValidationError, match="a part of hours on several rooms"):
        hours.change(entry=entry, by=hand(staff), version=1, **fields)
    with pytest.raises(ValidationError, match="a part of hours on several rooms"):
        hours.remove(entry=entry, by=hand(staff))


def test_the_page_of_a_room_tells_of_how_much_it_is_a_share(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    html = staff_client.get(reverse("jobs:hours", args=[job.rooms.first().pk])).content.decode()

    assert "of 6 h on 2 rooms" in html
    assert url() in html


def test_the_page_shows_the_share_of_each_room(staff_client: Browser, staff: Person, job: Job) -> None:
    log(job, staff)

    page = staff_client.get(url())

    assert [entry.minutes for entry in page.context["batch"].entries] == [240, 120]
    assert page.context["form"]["minutes"].value() == "6"
