"""Planned hours and pieces of the stages of a room."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Room, RoomStage
from tests.makers import hand, make_room, make_room_stage, post
from workshop import actions
from workshop.models import Action, Person


def url(room: Room) -> str:
    return reverse("jobs:room_plan", args=[room.pk])


def sent(row: RoomStage, hours: str, total: str, was: tuple[int, int] | None = None) -> dict[str, object]:
    minutes, pieces = was or (row.planned_minutes, row.total)
    return {
        f"hours_{row.pk}": hours,
        f"total_{row.pk}": total,
        f"was_hours_{row.pk}": minutes,
        f"was_total_{row.pk}": pieces,
    }


def plan_of(row: RoomStage) -> tuple[int, int]:
    row.refresh_from_db()
    return row.planned_minutes, row.total


def test_all_stages_of_a_room_are_planned_in_one_form(owner_client: Browser) -> None:
    cut = make_room_stage(name="Cut")
    edge = make_room_stage(room=cut.room, name="Edge")

    answer = post(owner_client, url(cut.room), **sent(cut, "6.5", "10"), **sent(edge, "1:20", "10"))

    assert (plan_of(cut), plan_of(edge)) == ((390, 10), (80, 10))
    assert answer.url == reverse("jobs:room", args=[cut.room_id])


def test_a_plan_is_told_and_undone(owner_client: Browser, owner: Person) -> None:
    row = make_room_stage(room=make_room(name="Lobby"))
    post(owner_client, url(row.room), **sent(row, "6", "10"))

    assert actions.sentence_of(Action.objects.first()) == "Lobby planned"
    actions.undo(action=Action.objects.first(), by=hand(owner))

    assert plan_of(row) == (0, 1)


@pytest.mark.parametrize(
    ("hours", "total", "message"),
    [
        ("x", "10", "x"),
        ("-1", "10", "-1"),
        ("NaN", "10", "NaN"),
        ("1e400", "10", "1e400"),
        ("10000", "10", "outside what this takes"),
        ("a\0", "10", "a sign that cannot be typed"),
        ("6", "", "This is empty. Fill it in."),
        ("6", "-1", "-1 is too little here."),
        ("6", "10000", "is too much here. Type 9999 or less."),
        ("6", "1" + "0" * 30, "is too much here. Type 9999 or less."),
        ("6", "2.5", "This is not a whole number."),
        ("6", "NaN", "This is not a whole number."),
        ("6", "6", "7 are done, more than 6. Type 7 or more, or count fewer first."),
    ],
)
def test_a_plan_that_cannot_be_is_refused_at_its_field(
    owner_client: Browser, hours: str, total: str, message: str
) -> None:
    row = make_room_stage(planned_minutes=60, total=10, done=7)

    answer = post(owner_client, url(row.room), **sent(row, hours, total))

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert plan_of(row) == (60, 10)


def test_hours_for_no_piece_are_refused(owner_client: Browser) -> None:
    row = make_room_stage()

    answer = post(owner_client, url(row.room), **sent(row, "6", "0"))

    assert answer.status_code == 422
    assert "There are hours for 0 pieces." in answer.context["form"].errors[f"total_{row.pk}"][0]


def test_a_stage_of_no_pieces_is_not_in_the_room(owner_client: Browser) -> None:
    row = make_room_stage(name="Ceiling", lane="site")

    post(owner_client, url(row.room), **sent(row, "", "0"))

    assert plan_of(row) == (0, 0)
    assert "Ceiling" not in owner_client.get(reverse("jobs:room", args=[row.room_id])).content.decode()


def test_a_plan_changed_meanwhile_shows_both_and_the_next_send_wins(owner_client: Browser) -> None:
    row = make_room_stage()
    post(owner_client, url(row.room), **sent(row, "6", "10"))

    stale = post(owner_client, url(row.room), **sent(row, "8", "12", was=(0, 1)))
    again = post(owner_client, url(row.room), **sent(row, "8", "12", was=(360, 10)))

    assert stale.status_code == 422
    assert "Stored now: 6" in stale.content.decode()
    assert "Stored now: 10" in stale.content.decode()
    assert stale.context["form"].data[f"was_hours_{row.pk}"] == "360"
    assert again.status_code == 303
    assert plan_of(row) == (480, 12)


def test_a_plan_that_does_not_say_what_it_was_counts_as_past(owner_client: Browser) -> None:
    row = make_room_stage()

    answer = post(owner_client, url(row.room), **{f"hours_{row.pk}": "6", f"total_{row.pk}": "10"})

    assert answer.status_code == 422
    assert plan_of(row) == (0, 1)


def test_counting_meanwhile_takes_nothing_from_who_plans(owner_client: Browser) -> None:
    row = make_room_stage(total=10)
    post(owner_client, reverse("jobs:room_stage", args=[row.pk]), do="more")

    answer = post(owner_client, url(row.room), **sent(row, "6", "12"))

    assert answer.status_code == 303
    row.refresh_from_db()
    assert (row.done, row.total) == (1, 12)


def test_a_room_is_planned_the_same_as_another(owner_client: Browser) -> None:
    like = make_room_stage(planned_minutes=360, total=10)
    row = make_room_stage(room=make_room(job=like.room.job))
    copy = reverse("jobs:plan_copy", args=[row.room_id])

    answer = post(owner_client, copy, source=like.room_id)

    assert plan_of(row) == (360, 10)
    assert answer.url == url(row.room)


def test_a_copied_plan_leaves_what_is_done(owner_client: Browser) -> None:
    like = make_room_stage(planned_minutes=360, total=4)
    row = make_room_stage(room=make_room(job=like.room.job), total=10, done=7)

    post(owner_client, reverse("jobs:plan_copy", args=[row.room_id]), source=like.room_id)

    assert plan_of(row) == (360, 7)


@pytest.mark.parametrize("source", ["", "x", "999", "1" * 40])
def test_a_plan_is_copied_from_a_planned_room_of_the_job_only(owner_client: Browser, source: str) -> None:
    row = make_room_stage()

    answer = post(owner_client, reverse("jobs:plan_copy", args=[row.room_id]), source=source)

    assert answer.status_code == 422


def test_a_plan_is_copied_by_post_only(owner_client: Browser) -> None:
    row = make_room_stage()

    assert owner_client.get(reverse("jobs:plan_copy", args=[row.room_id])).status_code == 405


def test_the_same_key_twice_plans_once(owner_client: Browser) -> None:
    row, key = make_room_stage(), actions.new_key()

    post(owner_client, url(row.room), key=key, **sent(row, "6", "10"))
    again = post(owner_client, url(row.room), key=key, **sent(row, "6", "10"))

    assert again.status_code == 303
    assert Action.objects.count() == 1
