"""Hours on several rooms: logged once, shared by pieces, corrected and taken out as one."""

from datetime import date

import pytest
from django.core.exceptions import PermissionDenied, ValidationError
from django.test import Client as Browser
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from jobs import hours_batch
from jobs.calculations.shared_hours import shared_minutes
from jobs.models import Hours, Job, Stage
from tests.makers import hand, make_hours, make_job, make_room, make_room_stage, post
from tests.together import at_once
from tests.typed import DAYS, NUMBERS, TEXTS
from workshop import actions
from workshop.models import Action, Person

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


@pytest.fixture
def job(db: None) -> Job:
    """Three rooms with 12, 6 and no panels to cut."""
    job = make_job(number=12, name="Music school")
    for name, pieces in (("Practice 1", 12), ("Practice 2", 6), ("Lobby", 0)):
        make_room_stage(room=make_room(job=job, name=name), total=pieces)
    return job


@pytest.fixture
def cut(job: Job) -> Stage:
    return job.stages.get()


def new_url(job: Job) -> str:
    return reverse("jobs:hours_batch_new", args=[job.pk])


def url(name: str = "hours_batch") -> str:
    return reverse(f"jobs:{name}", args=[Hours.objects.exclude(batch=None).first().batch])


def typed(job: Job, *rooms: str, **changed: object) -> dict[str, object]:
    chosen = job.rooms.filter(name__in=rooms) if rooms else job.rooms.all()
    fields = {"minutes": "6", "stage": job.stages.get().pk, "worked_on": "2026-11-25"}
    return {**fields, "rooms": [room.pk for room in chosen], **changed}


def shares() -> dict[str, int]:
    return dict(Hours.objects.values_list("room__name", "minutes"))


def told() -> str:
    return actions.sentence_of(Action.objects.first())


def log(job: Job, person: Person, minutes: int = 360) -> hours_batch.Batch:
    fields = {"person": person, "worked_on": TODAY, "stage": job.stages.get()}
    hours_batch.add(job=job, by=hand(person), rooms=list(job.rooms.all()), minutes=minutes, **fields)
    return hours_batch.batch(Hours.objects.order_by("-pk").first().batch)


# The calculation: largest remainder, worked by hand


@pytest.mark.parametrize(
    ("minutes", "pieces", "parts"),
    [
        (360, [12, 6], [240, 120]),
        (100, [1, 1, 1], [34, 33, 33]),
        (100, [0, 0, 0], [34, 33, 33]),
        (10, [1, 2, 0], [3, 7, 0]),
        (1, [1, 1], [1, 0]),
        (0, [3, 4], [0, 0]),
    ],
)
def test_minutes_are_shared_by_pieces(minutes: int, pieces: list[int], parts: list[int]) -> None:
    assert shared_minutes(minutes, pieces) == parts


@given(st.integers(0, 1440), st.lists(st.integers(0, 9999), min_size=1, max_size=60))
def test_shares_add_up_and_none_is_a_minute_off(minutes: int, pieces: list[int]) -> None:
    parts = shared_minutes(minutes, pieces)

    weights = pieces if any(pieces) else [1] * len(pieces)
    assert sum(parts) == minutes
    assert all(abs(part * sum(weights) - minutes * w) < sum(weights) for part, w in zip(parts, weights, strict=True))


# Logging


def test_hours_are_logged_once_and_shared_by_the_pieces_of_the_stage(
    staff_client: Browser, staff: Person, job: Job, cut: Stage
) -> None:
    answer = post(staff_client, new_url(job), **typed(job, note="both saws"))

    assert (answer.status_code, answer.url) == (303, reverse("jobs:job_hours", args=[job.pk]))
    assert shares() == {"Practice 1": 240, "Practice 2": 120}
    rows = Hours.objects.values_list("person", "stage", "worked_on", "note")
    assert set(rows) == {(staff.pk, cut.pk, TODAY, "both saws")}
    assert len(set(Hours.objects.values_list("batch", flat=True))) == 1
    assert told() == "Practice 1, Practice 2, Lobby: 6 h by Ari Kest on Wed, Nov 25, Cut panels"


def test_one_action_shows_in_the_trace_of_every_room(staff: Person, job: Job) -> None:
    log(job, staff)

    assert Action.objects.count() == 1
    assert [actions.trace(room).count() for room in job.rooms.all()] == [1, 1, 1]


def test_without_pieces_rooms_share_alike(staff_client: Browser, job: Job) -> None:
    post(staff_client, new_url(job), **typed(job, "Lobby"))

    assert shares() == {"Lobby": 360}


def test_two_batches_have_two_numbers_also_after_one_is_taken_back(staff: Person, job: Job) -> None:
    first = log(job, staff)
    hours_batch.remove(batch=first, by=hand(staff))

    assert log(job, staff).number != first.number


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"rooms": []}, "No room is chosen. Choose the rooms that were worked on."),
        ({"rooms": ["999999"]}, "One of these rooms is not in the job now."),
        ({"rooms": [str(10**30)]}, "One of these rooms is not in the job now."),
        ({"rooms": ["x"]}, "One of these rooms is not in the job now."),
        ({"stage": ""}, "This is empty. Fill it in."),
        ({"stage": "999999"}, "This is not one of the choices."),
        ({"worked_on": "2026-11-26"}, "Thu, Nov 26 is still to come."),
        ({"minutes": "25"}, "outside what this takes: up to 24 hours"),
    ],
)
def test_a_batch_that_cannot_be_is_refused(staff_client: Browser, job: Job, changed: dict, message: str) -> None:
    answer = post(staff_client, new_url(job), **typed(job, **{"note": "kept here", **changed}))

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert "kept here" in answer.content.decode()
    assert Hours.objects.count() == 0


@pytest.mark.parametrize(
    ("name", "value"),
    [("minutes", case) for case in NUMBERS] + [("worked_on", day) for day in DAYS] + [("note", t) for t in TEXTS],
)
def test_no_value_trips_a_batch(staff_client: Browser, job: Job, name: str, value: object) -> None:
    text = getattr(value, "values", (value,))[0]

    answer = post(staff_client, new_url(job), **typed(job, **{name: text}))

    assert (answer.status_code, Hours.objects.count()) == (422, 0)


def test_a_day_has_24_hours_with_those_logged_before(staff_client: Browser, staff: Person, job: Job) -> None:
    make_hours(person=staff, worked_on=TODAY, minutes=20 * 60)

    answer = post(staff_client, new_url(job), **typed(job))

    assert "Ari Kest has 20 h on that day, so 6 h cannot be. Type 4 h or less" in answer.content.decode()


def test_a_room_of_another_job_is_refused_by_the_rule(staff: Person, job: Job, cut: Stage) -> None:
    with pytest.raises(ValidationError, match="One of the rooms is of another job"):
        hours_batch.add(
            job=job, by=hand(staff), rooms=[make_room()], person=staff, worked_on=TODAY, minutes=60, stage=cut
        )


def test_staff_log_for_nobody_else(staff_client: Browser, owner: Person, staff: Person, job: Job, cut: Stage) -> None:
    post(staff_client, new_url(job), **typed(job, person=owner.pk))

    assert {entry.person for entry in Hours.objects.all()} == {staff}
    with pytest.raises(PermissionDenied):
        hours_batch.add(
            job=job, by=hand(staff), rooms=[job.rooms.first()], person=owner, worked_on=TODAY, minutes=60, stage=cut
        )


def test_the_owner_logs_for_others(owner_client: Browser, staff: Person, job: Job) -> None:
    post(owner_client, new_url(job), **typed(job, person=staff.pk))

    assert {entry.person for entry in Hours.objects.all()} == {staff}


def test_the_same_key_twice_logs_once(staff_client: Browser, job: Job) -> None:
    key = actions.new_key()

    post(staff_client, new_url(job), key=key, **typed(job))
    post(staff_client, new_url(job), key=key, **typed(job))

    assert sum(shares().values()) == 360


@pytest.mark.django_db(transaction=True)
def test_two_at_once_never_log_more_than_a_day_holds() -> None:
    person = Person.objects.create_user("staff", "a long enough password", name="Ari Kest", role="staff")
    job = make_room_stage(total=4).room.job

    got = at_once(lambda: log(job, person, minutes=16 * 60), times=4)

    assert sum(shares().values()) == 16 * 60
    assert sum(isinstance(each, ValidationError) for each in got) == 3


def test_undo_takes_all_shares_back(staff: Person, job: Job) -> None:
    log(job, staff)

    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert Hours.objects.count() == 0
