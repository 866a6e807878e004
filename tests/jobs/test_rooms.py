"""Adding, editing, ordering and taking out rooms."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import rooms
from jobs.models import Job, Room, RoomStage
from tests.makers import hand, make_hours, make_job, make_need, make_room, make_room_stage, post
from workshop import actions
from workshop.models import Action, Person


def new_url(job: Job) -> str:
    return reverse("jobs:room_new", args=[job.pk])


def edit_url(room: Room) -> str:
    return reverse("jobs:room_edit", args=[room.pk])


def remove_url(room: Room) -> str:
    return reverse("jobs:room_remove", args=[room.pk])


def names(job: Job) -> list[str]:
    return list(job.rooms.values_list("name", flat=True))


def test_a_room_is_added_at_the_end_of_the_order(owner_client: Browser) -> None:
    job = make_job()
    make_room(job=job)

    answer = post(owner_client, new_url(job), name="Lobby", starts_on="2026-12-01", wanted_on="2027-01-15")

    room = Room.objects.get(name="Lobby")
    assert (room.place, room.starts_on, room.wanted_on) == (2, date(2026, 12, 1), date(2027, 1, 15))
    assert answer.url == reverse("jobs:job", args=[job.pk])


def test_add_and_next_comes_back_to_the_form(owner_client: Browser) -> None:
    job = make_job()

    answer = post(owner_client, new_url(job), name="Practice 1", then="next")

    assert answer.url == new_url(job)
    assert "Practice 1" in owner_client.get(answer.url).content.decode()


def test_a_room_gets_every_stage_of_the_job(owner_client: Browser) -> None:
    first = make_room()
    make_room_stage(room=first, name="Cut")
    make_room_stage(room=first, name="Edge")

    post(owner_client, new_url(first.job), name="Lobby")

    rows = RoomStage.objects.filter(room__name="Lobby")
    assert [(row.stage.name, row.total, row.done) for row in rows] == [("Cut", 1, 0), ("Edge", 1, 0)]


def test_the_trace_of_the_job_says_that_a_room_was_added(owner_client: Browser) -> None:
    job = make_job()

    post(owner_client, new_url(job), name="Lobby")

    assert [actions.sentence_of(a) for a in actions.trace(job)] == ["Room Lobby added"]


def test_undo_takes_a_new_room_and_its_stages_back(owner_client: Browser, owner: Person) -> None:
    first = make_room()
    make_room_stage(room=first)
    post(owner_client, new_url(first.job), name="Lobby")

    actions.undo(action=Action.objects.first(), by=hand(owner))

    assert names(first.job) == [first.name]
    assert RoomStage.objects.count() == 1


def test_the_same_key_twice_adds_one_room(owner_client: Browser) -> None:
    job, key = make_job(), actions.new_key()

    first = post(owner_client, new_url(job), key=key, name="Lobby", then="next")
    second = post(owner_client, new_url(job), key=key, name="Lobby", then="next")

    assert names(job) == ["Lobby"]
    assert first.url == second.url == new_url(job)


@pytest.mark.parametrize(
    ("sent", "message"),
    [
        ({"name": ""}, "This is empty. Fill it in."),
        ({"name": "x" * 100_000}, "At most 60 do; make it shorter."),
        ({"name": "a\0b"}, "There is a sign in it that cannot be typed."),
        ({"name": "Lobby"}, "The job has a room named Lobby. Add a number or a floor to it."),
        ({"name": "A", "starts_on": "2026-02-30"}, "There is no such day."),
        ({"name": "A", "starts_on": "2026-12-02", "wanted_on": "2026-12-01"}, "Wanted before the work starts."),
    ],
)
def test_what_cannot_be_a_room_is_refused_with_what_was_typed(owner_client: Browser, sent: dict, message: str) -> None:
    job = make_room(name="Lobby").job

    answer = post(owner_client, new_url(job), **sent)

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert names(job) == ["Lobby"]


@pytest.mark.parametrize("typed", ["practice room 1", "Practice  room 1", " PRACTICE ROOM1 "])
def test_a_name_that_reads_like_another_rooms_is_refused_at_its_field(owner_client: Browser, typed: str) -> None:
    room = make_room(name="Practice room 1")
    other = make_room(job=room.job, name="Lobby")

    added = post(owner_client, new_url(room.job), name=typed)
    renamed = post(owner_client, edit_url(other), name=typed, place=2, version=1)

    for answer in (added, renamed):
        assert answer.status_code == 422
        words = "The job has a room named Practice room 1. Add a number or a floor to it."
        assert answer.context["form"].errors["name"] == [words]
    assert names(room.job) == ["Practice room 1", "Lobby"]


def test_a_room_may_spell_its_own_name_otherwise_and_another_job_may_have_it_too(owner_client: Browser) -> None:
    room = make_room(name="lobby")

    post(owner_client, edit_url(room), name="Lobby", place=1, version=1)
    post(owner_client, new_url(make_job()), name="Lobby")

    assert list(Room.objects.values_list("name", flat=True)) == ["Lobby", "Lobby"]


def test_the_order_of_installation_is_told_without_gaps(owner_client: Browser, owner: Person) -> None:
    job = make_job()
    first, second, third = [make_room(job=job, name=name) for name in ("A", "B", "C")]
    rooms.remove(room=second, by=hand(owner))

    page = owner_client.get(reverse("jobs:room", args=[third.pk])).content.decode()
    form = owner_client.get(edit_url(third)).context["form"]

    assert (first.position, third.position) == (1, 2)
    assert "<dt>Order of installation</dt><dd>2</dd>" in page
    assert form["place"].value() == 2


def test_a_room_after_a_gap_keeps_its_position_when_it_is_saved(owner_client: Browser, owner: Person) -> None:
    job = make_job()
    made = {name: make_room(job=job, name=name) for name in "ABCD"}
    rooms.remove(room=made["B"], by=hand(owner))

    post(owner_client, edit_url(made["C"]), name="C2", place=made["C"].position, version=1)

    assert names(job) == ["A", "C2", "D"]


def test_a_room_is_edited(owner_client: Browser) -> None:
    room = make_room()

    post(owner_client, edit_url(room), name="Recital room", place=1, starts_on="2026-12-01", version=1)

    room.refresh_from_db()
    assert (room.name, room.starts_on) == ("Recital room", date(2026, 12, 1))


@pytest.mark.parametrize(
    ("place", "order"),
    [(1, ["C", "A", "B"]), (2, ["A", "C", "B"]), (3, ["A", "B", "C"]), (99, ["A", "B", "C"])],
)
def test_a_new_place_moves_the_other_rooms(owner_client: Browser, place: int, order: list[str]) -> None:
    job = make_job()
    *_others, moved = [make_room(job=job, name=name) for name in "ABC"]

    post(owner_client, edit_url(moved), name="C", place=place, version=1)

    assert names(job) == order
    assert sorted(job.rooms.values_list("place", flat=True)) == [1, 2, 3]


def test_a_stale_room_shows_both_values(owner_client: Browser) -> None:
    room = make_room(name="Lobby")
    post(owner_client, edit_url(room), name="Foyer", place=1, version=1)

    answer = post(owner_client, edit_url(room), name="Entry", place=1, version=1)

    assert answer.status_code == 422
    assert "Stored now: Foyer" in answer.content.decode()
    assert 'value="Entry"' in answer.content.decode()


def test_undo_puts_a_moved_room_back(owner_client: Browser, owner: Person) -> None:
    job = make_job()
    *_others, moved = [make_room(job=job, name=name) for name in "ABC"]
    post(owner_client, edit_url(moved), name="C", place=1, version=1)

    actions.undo(action=Action.objects.first(), by=hand(owner))

    assert names(job) == ["A", "B", "C"]


def test_a_room_without_anything_is_taken_out_with_its_plan(owner_client: Browser, owner: Person) -> None:
    room = make_room_stage(planned_minutes=60).room

    answer = post(owner_client, remove_url(room))

    assert answer.url == reverse("jobs:job", args=[room.job_id])
    assert (Room.objects.count(), RoomStage.objects.count()) == (0, 0)
    actions.undo(action=Action.objects.first(), by=hand(owner))
    assert (Room.objects.count(), RoomStage.objects.get().planned_minutes) == (1, 60)


def test_a_room_that_holds_something_stays(owner_client: Browser, owner: Person) -> None:
    room = make_room(name="Lobby")
    make_need(room=room)
    make_hours(room=room, person=owner)
    make_room_stage(room=room, done=1)

    answer = post(owner_client, remove_url(room))

    assert answer.status_code == 422
    words = "Lobby holds 1 need, 1 entry of hours, 1 stage in work. Take those out first"
    assert words in answer.content.decode()
    assert Room.objects.count() == 1


def test_a_room_is_taken_out_by_post_only(owner_client: Browser) -> None:
    assert owner_client.get(remove_url(make_room())).status_code == 405


def test_what_hangs_on_a_room_is_told(owner: Person) -> None:
    need = make_need()
    make_need(room=need.room)

    assert rooms.what_hangs_on(need.room) == ["2 needs"]
