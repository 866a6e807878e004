"""The stages of a job: other names, one more, one less."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Job, RoomStage, Stage
from tests.makers import hand, make_hours, make_room, make_room_stage, post
from workshop import actions
from workshop.models import Action, Person


def names_url(job: Job) -> str:
    return reverse("jobs:stages", args=[job.pk])


def names_sent(stage: Stage, name: str, was: str = "Cut") -> dict[str, str]:
    return {f"name_{stage.pk}": name, f"was_name_{stage.pk}": was}


def test_a_stage_is_renamed(owner_client: Browser) -> None:
    stage = make_room_stage(name="Cut").stage

    answer = post(owner_client, names_url(stage.job), **names_sent(stage, "Rip and cut"))

    stage.refresh_from_db()
    assert stage.name == "Rip and cut"
    assert answer.url == names_url(stage.job)
    assert actions.sentence_of(Action.objects.first()) == "Stages: Cut is now Rip and cut"


def test_undo_gives_a_stage_its_name_back(owner_client: Browser, owner: Person) -> None:
    stage = make_room_stage(name="Cut").stage
    post(owner_client, names_url(stage.job), **names_sent(stage, "Rip"))

    actions.undo(action=Action.objects.first(), by=hand(owner))

    stage.refresh_from_db()
    assert stage.name == "Cut"


def test_a_name_changed_meanwhile_shows_both_and_the_next_send_wins(owner_client: Browser) -> None:
    stage = make_room_stage(name="Cut").stage
    post(owner_client, names_url(stage.job), **names_sent(stage, "Rip"))

    stale = post(owner_client, names_url(stage.job), **names_sent(stage, "Saw"))
    again = post(owner_client, names_url(stage.job), **names_sent(stage, "Saw", was="Rip"))

    assert stale.status_code == 422
    assert "Stored now: Rip" in stale.content.decode()
    assert 'value="Saw"' in stale.content.decode()
    assert again.status_code == 303


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("", "This is empty. Fill it in."),
        ("x" * 100_000, "At most 30 do; make it shorter."),
        ("a\0b", "There is a sign in it that cannot be typed."),
        ("Edge", "There is a stage of this name in this lane."),
    ],
)
def test_a_name_that_cannot_be_is_refused(owner_client: Browser, typed: str, message: str) -> None:
    stage = make_room_stage(name="Cut").stage
    Stage.objects.create(job=stage.job, lane="panels", place=150, name="Edge")

    answer = post(owner_client, names_url(stage.job), **names_sent(stage, typed))

    assert answer.status_code == 422
    assert message in answer.content.decode()
    stage.refresh_from_db()
    assert stage.name == "Cut"


def test_markup_in_a_name_is_shown_as_typed(owner_client: Browser) -> None:
    stage = make_room_stage(name="Cut").stage

    post(owner_client, names_url(stage.job), **names_sent(stage, "<b>Cut</b>"))

    assert "<b>Cut</b>" not in owner_client.get(names_url(stage.job)).content.decode()


def test_a_stage_is_added_at_the_end_of_its_lane_in_every_room(owner_client: Browser) -> None:
    room = make_room()
    make_room_stage(room=room, name="Cut")
    make_room_stage(room=room, lane="site", name="Walls")
    other = make_room(job=room.job)

    post(owner_client, reverse("jobs:stage_new", args=[room.job_id]), name="Label", lane="panels")

    assert [stage.name for stage in room.job.stages.all()] == ["Cut", "Label", "Walls"]
    assert RoomStage.objects.filter(stage__name="Label", room__in=[room, other]).count() == 2


def test_undo_takes_an_added_stage_out_of_every_room(owner_client: Browser, owner: Person) -> None:
    room = make_room()
    post(owner_client, reverse("jobs:stage_new", args=[room.job_id]), name="Label", lane="panels")

    actions.undo(action=Action.objects.first(), by=hand(owner))

    assert (Stage.objects.count(), RoomStage.objects.count()) == (0, 0)


@pytest.mark.parametrize(
    ("sent", "message"),
    [
        ({"name": "", "lane": "panels"}, "This is empty. Fill it in."),
        ({"name": "Label", "lane": "roof"}, "This is not one of the choices."),
        ({"name": "Cut", "lane": "panels"}, "There is a stage of this name in this lane."),
        ({"name": "a\0", "lane": "panels"}, "There is a sign in it that cannot be typed."),
    ],
)
def test_a_stage_that_cannot_be_is_refused(owner_client: Browser, sent: dict, message: str) -> None:
    job = make_room_stage(name="Cut").stage.job

    answer = post(owner_client, reverse("jobs:stage_new", args=[job.pk]), **sent)

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert job.stages.count() == 1


def test_a_lane_has_an_end(owner_client: Browser) -> None:
    job = make_room().job
    Stage.objects.bulk_create(Stage(job=job, lane="panels", place=101 + at, name=f"Stage {at}") for at in range(20))

    answer = post(owner_client, reverse("jobs:stage_new", args=[job.pk]), name="Label", lane="panels")

    assert "A lane holds 20 stages at most." in answer.content.decode()


def test_an_unused_stage_is_taken_out(owner_client: Browser, owner: Person) -> None:
    stage = make_room_stage().stage

    answer = post(owner_client, reverse("jobs:stage_remove", args=[stage.pk]))

    assert answer.url == names_url(stage.job)
    assert Stage.objects.count() == 0
    actions.undo(action=Action.objects.first(), by=hand(owner))
    assert RoomStage.objects.count() == 1


@pytest.mark.parametrize("used", [{"planned_minutes": 60}, {"done": 1}])
def test_a_stage_in_use_stays(owner_client: Browser, used: dict) -> None:
    stage = make_room_stage(**used).stage

    answer = post(owner_client, reverse("jobs:stage_remove", args=[stage.pk]))

    assert answer.status_code == 422
    assert "Cut panels is planned or begun, so it stays." in answer.content.decode()
    assert Stage.objects.count() == 1


def test_a_stage_with_hours_stays(owner_client: Browser, owner: Person) -> None:
    row = make_room_stage()
    make_hours(room=row.room, stage=row.stage, person=owner)

    post(owner_client, reverse("jobs:stage_remove", args=[row.stage_id]))

    assert Stage.objects.count() == 1


def test_stages_are_added_and_taken_out_by_post_only(owner_client: Browser) -> None:
    stage = make_room_stage().stage

    assert owner_client.get(reverse("jobs:stage_new", args=[stage.job_id])).status_code == 405
    assert owner_client.get(reverse("jobs:stage_remove", args=[stage.pk])).status_code == 405
