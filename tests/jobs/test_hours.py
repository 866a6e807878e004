"""Hours on rooms: staff log their own, the owner anybody's."""

from datetime import date, timedelta

import pytest
from django.core.exceptions import PermissionDenied
from django.test import Client as Browser
from django.urls import reverse

from jobs import hours
from jobs.models import Hours, Room
from tests.makers import hand, make_hours, make_room, make_room_stage, post
from workshop import actions, clock
from workshop.models import Action, Person

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


def url(room: Room) -> str:
    return reverse("jobs:hours", args=[room.pk])


def edit_url(entry: Hours) -> str:
    return reverse("jobs:hours_edit", args=[entry.pk])


def remove_url(entry: Hours) -> str:
    return reverse("jobs:hours_remove", args=[entry.pk])


@pytest.mark.parametrize(("typed", "minutes"), [("1.5", 90), ("1:30", 90), ("1 1/2", 90), ("24", 1440)])
def test_staff_log_their_own_hours(staff_client: Browser, staff: Person, typed: str, minutes: int) -> None:
    row = make_room_stage()

    answer = post(
        staff_client, url(row.room), minutes=typed, stage=row.stage_id, worked_on="2026-11-24", note="oak dust"
    )

    entry = Hours.objects.get()
    assert (entry.person, entry.minutes, entry.stage) == (staff, minutes, row.stage)
    assert (entry.worked_on, entry.note) == (date(2026, 11, 24), "oak dust")
    assert answer.url == url(row.room)


def test_staff_have_no_choice_of_person(staff_client: Browser, owner: Person, staff: Person) -> None:
    room = make_room()

    post(staff_client, url(room), minutes="1", worked_on="2026-11-24", person=owner.pk)

    assert "person" not in staff_client.get(url(room)).context["form"].fields
    assert Hours.objects.get().person == staff


def test_the_owner_logs_for_others(owner_client: Browser, staff: Person) -> None:
    post(owner_client, url(make_room()), minutes="1", worked_on="2026-11-24", person=staff.pk)

    assert Hours.objects.get().person == staff


def test_the_rule_itself_refuses_staff_logging_for_others(owner: Person, staff: Person) -> None:
    with pytest.raises(PermissionDenied):
        hours.add(room=make_room(), by=hand(staff), person=owner, worked_on=TODAY, minutes=60)


def test_the_form_begins_with_today(staff_client: Browser) -> None:
    assert staff_client.get(url(make_room())).context["form"]["worked_on"].value() == clock.today()


def test_the_trace_tells_the_hours(staff_client: Browser) -> None:
    room = make_room(name="Practice 1")

    post(staff_client, url(room), minutes="6.5", worked_on="2026-11-25")

    assert [actions.sentence_of(a) for a in actions.trace(room)] == ["Practice 1: 6.5 h by Ari Kest on Wed, Nov 25"]


@pytest.mark.parametrize(
    ("sent", "message"),
    [
        ({"minutes": ""}, "This is empty. Fill it in."),
        ({"minutes": "0"}, "outside what this takes"),
        ({"minutes": "25"}, "outside what this takes: up to 24 hours"),
        ({"minutes": "-1"}, "-1"),
        ({"minutes": "NaN"}, "NaN"),
        ({"minutes": "1e400"}, "1e400"),
        ({"minutes": "x" * 100_000}, "At most 40 letters do."),
        ({"minutes": "1\0"}, "a sign that cannot be typed"),
        ({"worked_on": ""}, "This is empty. Fill it in."),
        ({"worked_on": "2026-02-30"}, "There is no such day."),
        (
            {"worked_on": "2026-11-26"},
            "Thu, Nov 26 is still to come. Choose today, Wed, Nov 25, or a day before.",
        ),
        ({"stage": "999"}, "This is not one of the choices."),
        ({"person": "999"}, "This is not one of the choices."),
        ({"note": "x" * 201}, "At most 200 do; make it shorter."),
    ],
)
def test_hours_that_cannot_be_are_refused(owner_client: Browser, owner: Person, sent: dict, message: str) -> None:
    fields = {"minutes": "1", "worked_on": "2026-11-25", "person": owner.pk, **sent}

    answer = post(owner_client, url(make_room()), **fields)

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert Hours.objects.count() == 0


def test_a_day_has_24_hours(owner_client: Browser, owner: Person) -> None:
    make_hours(person=owner, worked_on=TODAY, minutes=20 * 60)

    answer = post(owner_client, url(make_room()), minutes="5", worked_on=TODAY, person=owner.pk)

    words = "Rosa Marten has 20 h on that day, so 5 h cannot be. Type 4 h or less"
    assert words in answer.content.decode()
    assert Hours.objects.count() == 1


def test_a_stage_of_another_job_is_refused(owner_client: Browser, owner: Person) -> None:
    foreign = make_room_stage()
    fields = {"minutes": "1", "worked_on": TODAY, "person": owner.pk}

    answer = post(owner_client, url(make_room()), **fields, stage=foreign.stage_id)

    assert answer.status_code == 422


def test_hours_are_listed_newest_first_with_their_sum(staff_client: Browser, staff: Person) -> None:
    room = make_room()
    make_room_stage(room=room, planned_minutes=600)
    old = make_hours(room=room, person=staff, worked_on=TODAY - timedelta(days=3), minutes=90)
    new = make_hours(room=room, person=staff, worked_on=TODAY, minutes=120)

    page = staff_client.get(url(room))

    assert [entry for entry, _may in page.context["entries"]] == [new, old]
    assert "3.5 of 10 h" in page.content.decode()


def test_the_same_key_twice_logs_once(staff_client: Browser) -> None:
    room, key = make_room(), actions.new_key()

    post(staff_client, url(room), key=key, minutes="1", worked_on=TODAY)
    post(staff_client, url(room), key=key, minutes="1", worked_on=TODAY)

    assert Hours.objects.count() == 1


def test_staff_correct_their_own_hours_with_a_trace(staff_client: Browser, staff: Person) -> None:
    entry = make_hours(person=staff, room=make_room(name="Lobby"), worked_on=TODAY)

    post(staff_client, edit_url(entry), minutes="2", worked_on=TODAY, version=1)

    entry.refresh_from_db()
    assert entry.minutes == 120
    sentence = "Lobby: hours of Ari Kest on Wed, Nov 25 are now 2 h"
    assert actions.sentence_of(Action.objects.first()) == sentence


def test_undo_puts_corrected_hours_back(staff_client: Browser, staff: Person) -> None:
    entry = make_hours(person=staff, worked_on=TODAY, minutes=90)
    post(staff_client, edit_url(entry), minutes="2", worked_on=TODAY, version=1)

    actions.undo(action=Action.objects.first(), by=hand(staff))

    entry.refresh_from_db()
    assert entry.minutes == 90


def test_correcting_counts_an_entry_once_against_the_day(staff_client: Browser, staff: Person) -> None:
    entry = make_hours(person=staff, worked_on=TODAY, minutes=20 * 60)

    answer = post(staff_client, edit_url(entry), minutes="21", worked_on=TODAY, version=1)

    assert answer.status_code == 303


def test_stale_hours_show_both_values(staff_client: Browser, staff: Person) -> None:
    entry = make_hours(person=staff, worked_on=TODAY)
    post(staff_client, edit_url(entry), minutes="2", worked_on=TODAY, version=1)

    answer = post(staff_client, edit_url(entry), minutes="3", worked_on=TODAY, version=1)

    assert answer.status_code == 422
    assert "Stored now: 2" in answer.content.decode()


@pytest.mark.parametrize("page", [edit_url, remove_url])
def test_hours_of_others_are_not_there_for_staff(staff_client: Browser, owner: Person, page) -> None:
    entry = make_hours(person=owner)

    answer = post(staff_client, page(entry), minutes="2", worked_on=TODAY, version=1)

    assert answer.status_code == 404
    assert Hours.objects.get().minutes == 90


def test_staff_get_no_page_for_hours_of_others(staff_client: Browser, owner: Person) -> None:
    entry = make_hours(person=owner)

    assert staff_client.get(edit_url(entry)).status_code == 404
    assert edit_url(entry) not in staff_client.get(url(entry.room)).content.decode()


def test_the_owner_corrects_anybodys_hours(owner_client: Browser, staff: Person) -> None:
    entry = make_hours(person=staff)

    post(owner_client, edit_url(entry), minutes="2", worked_on=TODAY, person=staff.pk, version=1)

    entry.refresh_from_db()
    assert (entry.minutes, entry.person) == (120, staff)


def test_hours_are_taken_out_and_put_back(staff_client: Browser, staff: Person) -> None:
    entry = make_hours(person=staff, worked_on=TODAY)

    answer = post(staff_client, remove_url(entry))

    assert answer.url == url(entry.room)
    assert Hours.objects.count() == 0
    actions.undo(action=Action.objects.first(), by=hand(staff))
    assert Hours.objects.get().minutes == 90


def test_hours_are_taken_out_by_post_only(staff_client: Browser, staff: Person) -> None:
    assert staff_client.get(remove_url(make_hours(person=staff))).status_code == 405
