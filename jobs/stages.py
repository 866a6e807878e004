"""The stages of a job, panels and trim in the shop, then the work on site, counted in each room."""

from collections.abc import Callable, Mapping, Sequence

from django.core.exceptions import ValidationError
from django.db.models import Max, Q
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, pgettext_lazy

from jobs.models import Hours, Job, Room, RoomStage, Stage
from workshop import actions
from workshop.actions import Hand, Stale, recorded

MOST_IN_A_LANE = 20

OF_THE_TRADE = {
    Stage.Lane.PANELS: [
        pgettext_lazy("stage", "Cut"),
        pgettext_lazy("stage", "Edge"),
        pgettext_lazy("stage", "Drill"),
        pgettext_lazy("stage", "Sand"),
        pgettext_lazy("stage", "Finish"),
    ],
    Stage.Lane.TRIM: [
        pgettext_lazy("stage", "Mill"),
        pgettext_lazy("stage", "Profile"),
        pgettext_lazy("stage", "Join"),
        pgettext_lazy("stage", "Drill"),
        pgettext_lazy("stage", "Sand"),
        pgettext_lazy("stage", "Finish"),
    ],
    Stage.Lane.SITE: [
        pgettext_lazy("stage", "Load"),
        pgettext_lazy("stage", "Battens"),
        pgettext_lazy("stage", "Ceiling"),
        pgettext_lazy("stage", "Walls"),
        pgettext_lazy("stage", "Trim hung"),
        pgettext_lazy("stage", "Punch list"),
    ],
}


def of_the_trade(job: Job) -> list[Stage]:
    """The stages a new job begins with."""
    return [
        Stage(job=job, lane=lane, place=Stage.FIRST_PLACE[lane] + at, name=str(name))
        for lane, names in OF_THE_TRADE.items()
        for at, name in enumerate(names, 1)
    ]


def add(*, job: Job, by: Hand, lane: str, name: str) -> Stage:
    """Add a stage at the end of a lane, in the job and in each of its rooms."""
    with recorded(by, "stage.add", about=[job], name=name) as record:
        record.answer = reverse("jobs:stages", args=[job.pk])
        Job.objects.select_for_update().get(pk=job.pk)
        in_lane = Stage.objects.filter(job=job, lane=lane)
        if in_lane.count() >= MOST_IN_A_LANE:
            raise ValidationError(
                {
                    "name": _("A lane holds %(most)s stages at most. Rename one, or take out one that is not used.")
                    % {"most": MOST_IN_A_LANE}
                }
            )
        last = in_lane.aggregate(last=Max("place"))["last"] or Stage.FIRST_PLACE[lane]
        stage = record.add(Stage(job=job, lane=lane, place=last + 1, name=name))
        record.thing = stage
        record.words["name"] = stage.full_name
        record.add_many([RoomStage(room=room, stage=stage) for room in job.rooms.all()])
    return stage


def rename(*, job: Job, by: Hand, names: Mapping[int, str], was: Mapping[int, str]) -> None:
    """Give stages other names.

    Args:
        names: the name typed for each stage, by its number.
        was: the names shown when the person began.

    Raises:
        Stale: somebody gave one of them another name meanwhile.
        ValidationError: two stages of a lane would have one name.
    """
    with recorded(by, "stage.rename", job, number=job.number) as record:
        record.answer = reverse("jobs:stages", args=[job.pk])
        renamed = []
        for stage in Stage.objects.select_for_update().filter(job=job, pk__in=names):
            if names[stage.pk] == stage.name:
                continue
            if stage.name != was[stage.pk]:
                raise Stale(stage)
            renamed.append(_("%(was)s is now %(name)s") % {"was": stage.name, "name": names[stage.pk]})
            try:
                record.save(stage, name=names[stage.pk])
            except ValidationError as error:
                raise ValidationError({f"name_{stage.pk}": error.messages}) from error
        record.words["what"] = "; ".join(renamed)


def unused(job: Job) -> set[int]:
    """The stages nothing hangs on: no hours, no plan, nothing counted in any room."""
    in_rooms = RoomStage.objects.filter(stage__job=job).filter(Q(planned_minutes__gt=0) | Q(done__gt=0))
    used = set(in_rooms.values_list("stage", flat=True))
    used |= set(Hours.objects.filter(stage__job=job).values_list("stage", flat=True))
    return {pk for pk in job.stages.values_list("pk", flat=True) if pk not in used}


def remove(*, stage: Stage, by: Hand) -> None:
    """Take out a stage nothing hangs on, from the job and its rooms."""
    with recorded(by, "stage.remove", about=[stage.job], name=stage.full_name) as record:
        record.answer = reverse("jobs:stages", args=[stage.job_id])
        Job.objects.select_for_update().get(pk=stage.job_id)
        if stage.pk not in unused(stage.job):
            raise ValidationError(
                _("%(name)s is planned or begun, so it stays. Rename it, or plan 0 pieces of it.")
                % {"name": stage.full_name}
            )
        for room_stage in stage.room_stages.all():
            record.remove(room_stage)
        record.thing = stage.job
        record.remove(stage)


def for_room(room: Room, stages: Sequence[Stage]) -> list[RoomStage]:
    """What a new room begins with: each stage to tick once."""
    return [RoomStage(room=room, stage=stage) for stage in stages]


def count(*, room_stage: RoomStage, by: Hand, done: int) -> RoomStage:
    """Say how many are through a stage.

    Raises:
        ValidationError: more than there are.
    """
    return _count(room_stage, by, lambda now: done)


def count_more(*, room_stage: RoomStage, by: Hand, more: int = 1) -> RoomStage:
    """Say that more are through a stage, on top of what others counted until this is kept."""
    return _count(room_stage, by, lambda now: now.done + more)


def finish(*, room_stage: RoomStage, by: Hand) -> RoomStage:
    """Say that all are through a stage, however many there are when this is kept."""
    return _count(room_stage, by, lambda now: now.total)


def _count(room_stage: RoomStage, by: Hand, wanted_of: Callable[[RoomStage], int]) -> RoomStage:
    room, stage = room_stage.room, room_stage.stage
    with recorded(by, "stage.count", about=[room, room.job], room=room.name, stage=stage.full_name) as record:
        record.answer = reverse("jobs:room", args=[room.pk])
        room_stage = RoomStage.objects.select_for_update().get(pk=room_stage.pk)
        wanted = wanted_of(room_stage)
        if not 0 <= wanted <= room_stage.total:
            raise ValidationError({"count": _too_many(wanted, room_stage.total)})
        record.thing = room_stage
        record.words.update(done=wanted, total=room_stage.total)
        if room_stage.is_ticked:
            record.action.verb = "stage.tick" if wanted else "stage.open"
        record.save(room_stage, done=wanted)
    return room_stage


def _too_many(wanted: int, total: int) -> ValidationError:
    return ValidationError(
        _("%(wanted)s of %(total)s cannot be done. Type %(total)s, or raise how many there are in the plan."),
        params={"wanted": wanted, "total": total, "would_do": [str(total)]},
    )


actions.say("stage.add", gettext_lazy("Stage %(name)s added"))
actions.say("stage.rename", gettext_lazy("Stages: %(what)s"))
actions.say("stage.remove", gettext_lazy("Stage %(name)s taken out"))
actions.say("stage.count", gettext_lazy("%(room)s: %(stage)s, %(done)s of %(total)s"))
actions.say("stage.tick", gettext_lazy("%(room)s: %(stage)s, done"))
actions.say("stage.open", gettext_lazy("%(room)s: %(stage)s, not done"))
