"""Drawings of a job with their revisions; the one dated last stands in the title block."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import drawing_list
from jobs.models import Drawing, Job, Revision
from tests.makers import hand, make_drawing, make_job, make_revision, post
from tests.queries import queries_of
from tests.typed import DAYS, TEXTS
from workshop import actions
from workshop.models import Action, Person

TODAY = date(2026, 11, 25)
FIRST = {"number": "A-201", "name": "Practice rooms", "letter": "C", "dated_on": "2026-11-19", "note": "Door moved"}
REVISION = {"letter": "C", "dated_on": "2026-11-19", "received_on": "2026-11-21", "note": "Door moved"}


@pytest.fixture(autouse=True)
def today(settings, db: None) -> None:
    settings.FIXED_TODAY = TODAY


@pytest.fixture
def job() -> Job:
    return make_job(drawings="Plans of spring")


def list_url(job: Job) -> str:
    return reverse("jobs:drawings", args=[job.pk])


def url(name: str, row: Drawing | Revision) -> str:
    return reverse(f"jobs:{name}", args=[row.pk])


def told() -> str:
    return actions.sentence_of(Action.objects.first())


# Adding


def test_a_drawing_comes_with_its_first_revision_in_one_step(staff_client: Browser, job: Job) -> None:
    answer = post(staff_client, list_url(job), **FIRST, received_on="2026-11-21")

    assert (answer.status_code, answer.url) == (303, list_url(job))
    revision = Revision.objects.get()
    assert (str(revision), revision.dated_on, revision.received_on) == (
        "A-201 C",
        date(2026, 11, 19),
        date(2026, 11, 21),
    )
    assert told() == "Drawing A-201 Rev C, Nov 19 added"


def test_a_drawing_can_come_without_a_revision(staff_client: Browser, job: Job) -> None:
    post(staff_client, list_url(job), number="A-201", received_on="2026-11-25")

    assert (Drawing.objects.count(), Revision.objects.count()) == (1, 0)
    assert told() == "Drawing A-201 added"


def test_a_revision_is_added_to_a_drawing(staff_client: Browser, job: Job) -> None:
    drawing = make_drawing(job=job, number="A-201")

    answer = post(staff_client, url("revision_new", drawing), **REVISION | {"letter": "Rev. C"})

    assert answer.url == url("drawing", drawing)
    assert drawing.revisions.get().letter == "C"
    assert told() == "Drawing A-201: Rev C, Nov 19 came"


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"number": ""}, "This is empty. Fill it in."),
        ({"number": "a-201"}, "There is a drawing of this number. Add a revision to it."),
        ({"letter": ""}, "A revision has a letter or a number. Type C or 3."),
        ({"dated_on": ""}, "A revision has a date. Type the day that stands on it."),
        ({"received_on": ""}, "When did it come? Type that day, or today."),
        ({"received_on": "2026-11-26"}, "Thu, Nov 26 is still to come. Choose today, Wed, Nov 25, or a day before."),
        ({"received_on": "2026-11-18"}, "It is dated Thu, Nov 19, after it came. Choose Wed, Nov 18 or a day before"),
        ({"number": "x" * 31}, "31 letters are too many here. At most 30 do"),
        ({"letter": "x" * 11}, "11 letters are too many here."),
        ({"note": "x" * 201}, "201 letters are too many here."),
    ],
)
def test_what_cannot_be_a_drawing_is_refused_and_kept_in_the_fields(
    staff_client: Browser, job: Job, changed: dict, message: str
) -> None:
    make_drawing(job=job, number="A-201")
    sent = {**FIRST, "number": "A-202", "name": "kept here", "received_on": "2026-11-21", **changed}

    answer = post(staff_client, list_url(job), **sent)

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert "kept here" in answer.content.decode()
    assert (Drawing.objects.count(), Revision.objects.count()) == (1, 0)


@pytest.mark.parametrize("name", ["dated_on", "received_on"])
@pytest.mark.parametrize("typed", DAYS)
def test_no_day_trips_a_revision(staff_client: Browser, job: Job, name: str, typed: str) -> None:
    drawing = make_drawing(job=job)

    answer = post(staff_client, url("revision_new", drawing), **{**REVISION, name: typed})

    assert answer.status_code == 422
    assert Revision.objects.count() == 0


@pytest.mark.parametrize("name", ["letter", "note"])
@pytest.mark.parametrize("typed", TEXTS)
def test_no_text_trips_a_revision(staff_client: Browser, job: Job, name: str, typed: str) -> None:
    drawing = make_drawing(job=job)

    answer = post(staff_client, url("revision_new", drawing), **{**REVISION, name: typed})

    assert answer.status_code == 422
    assert Revision.objects.count() == 0


def test_a_letter_is_there_once_in_a_drawing_whatever_its_case(staff_client: Browser, job: Job) -> None:
    revision = make_revision(drawing=make_drawing(job=job, number="A-201"), letter="C")

    answer = post(staff_client, url("revision_new", revision.drawing), **REVISION | {"letter": "c"})

    assert answer.status_code == 422
    assert "Drawing A-201 has a revision c." in answer.content.decode()


def test_another_drawing_of_the_job_has_letters_of_its_own(staff_client: Browser, job: Job) -> None:
    make_revision(drawing=make_drawing(job=job), letter="C")
    other = make_drawing(job=job)

    assert post(staff_client, url("revision_new", other), **REVISION).status_code == 303


def test_the_same_key_twice_adds_one_drawing(staff_client: Browser, job: Job) -> None:
    key = actions.new_key()

    first = post(staff_client, list_url(job), key=key, number="A-201")
    second = post(staff_client, list_url(job), key=key, number="A-201")

    assert (Drawing.objects.count(), first.url) == (1, second.url)


def test_undo_takes_a_drawing_and_its_revision_off_again(staff_client: Browser, staff: Person, job: Job) -> None:
    post(staff_client, list_url(job), **FIRST, received_on="2026-11-21")

    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert (Drawing.objects.count(), Revision.objects.count()) == (0, 0)


# Changing


def test_a_drawing_is_changed_and_a_stale_form_shows_both_values(staff_client: Browser, job: Job) -> None:
    drawing = make_drawing(job=job, number="A-201", name="Practice rooms")
    post(staff_client, url("drawing", drawing), number="A-201", name="All practice rooms", version=1)

    answer = post(staff_client, url("drawing", drawing), number="A-201", name="Lobby", version=1)

    assert answer.status_code == 422
    assert "Stored now: All practice rooms" in answer.content.decode()


def test_a_revision_is_corrected_with_a_trace(staff_client: Browser, job: Job) -> None:
    revision = make_revision(drawing=make_drawing(job=job, number="A-201"), letter="B", dated_on=date(2026, 11, 3))

    answer = post(staff_client, url("revision", revision), **REVISION, version=1)

    revision.refresh_from_db()
    assert (answer.status_code, revision.letter, revision.dated_on) == (303, "C", date(2026, 11, 19))
    assert told() == "Drawing A-201: now Rev C, Nov 19"


def test_a_stale_revision_shows_both_values(staff_client: Browser, job: Job) -> None:
    revision = make_revision(drawing=make_drawing(job=job), letter="B")
    post(staff_client, url("revision", revision), **REVISION | {"note": "Door moved"}, version=1)

    answer = post(staff_client, url("revision", revision), **REVISION | {"note": "Window moved"}, version=1)

    assert answer.status_code == 422
    assert "Stored now: Door moved" in answer.content.decode()


def test_the_rule_refuses_a_revision_of_a_stale_row(staff: Person, job: Job) -> None:
    revision = make_revision(drawing=make_drawing(job=job))
    fields = {"letter": "C", "dated_on": date(2026, 11, 19), "received_on": TODAY, "note": ""}

    with pytest.raises(actions.Stale):
        drawing_list.change_revision(revision=revision, by=hand(staff), version=7, **fields)


# Taking out


def test_a_drawing_goes_with_its_revisions_and_undo_brings_both_back(
    staff_client: Browser, staff: Person, job: Job
) -> None:
    revision = make_revision(drawing=make_drawing(job=job, number="A-201"))

    answer = post(staff_client, url("drawing_remove", revision.drawing))

    assert answer.url == list_url(job)
    assert (Drawing.objects.count(), Revision.objects.count(), told()) == (0, 0, "Drawing A-201 taken off the list")
    actions.undo(action=Action.objects.first(), by=hand(staff))
    assert Revision.objects.get().drawing.number == "A-201"


def test_a_revision_is_taken_out_and_put_back(staff_client: Browser, staff: Person, job: Job) -> None:
    revision = make_revision(drawing=make_drawing(job=job))

    answer = post(staff_client, url("revision_remove", revision))

    assert answer.url == url("drawing", revision.drawing)
    assert Revision.objects.count() == 0
    actions.undo(action=Action.objects.first(), by=hand(staff))
    assert Revision.objects.count() == 1


@pytest.mark.parametrize("name", ["drawing_remove", "revision_remove"])
def test_taking_out_takes_a_post(staff_client: Browser, job: Job, name: str) -> None:
    revision = make_revision(drawing=make_drawing(job=job))

    row = revision.drawing if name == "drawing_remove" else revision

    assert staff_client.get(url(name, row)).status_code == 405


# The page


def test_the_list_shows_the_latest_revision_of_each_drawing(staff_client: Browser, job: Job) -> None:
    drawing = make_drawing(job=job, number="A-201", name="Practice rooms")
    make_revision(drawing=drawing, letter="B", dated_on=date(2026, 10, 1))
    make_revision(drawing=drawing, letter="C", dated_on=date(2026, 11, 19), note="Door moved")

    html = staff_client.get(list_url(job)).content.decode()

    assert "A-201, Practice rooms" in html
    assert "Rev C</span>" in html
    assert "Dated Thu, Nov 19" in html
    assert "Door moved" in html


def test_many_drawings_cost_the_queries_of_two(staff_client: Browser) -> None:
    few, many = make_job(), make_job()
    for job, how_many in ((few, 2), (many, 60)):
        for _at in range(how_many):
            make_revision(drawing=make_drawing(job=job))

    assert queries_of(staff_client, list_url(many)) <= queries_of(staff_client, list_url(few))
    assert "2 of 2" in staff_client.get(f"{list_url(many)}?page=2").content.decode()


@pytest.mark.parametrize("page", ["drawing", "revision_new"])
def test_a_drawing_that_is_not_there_is_not_found(staff_client: Browser, page: str) -> None:
    drawing = Drawing(pk=10**30)

    assert staff_client.get(url(page, drawing)).status_code == 404


def test_a_drawing_without_a_date_is_refused_by_the_rule_too(staff: Person, job: Job) -> None:
    with pytest.raises(ValidationError, match="A revision has a date"):
        drawing_list.add(job=job, by=hand(staff), number="A-201", letter="C")
