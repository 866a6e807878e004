"""The plan of a room: how many hours and how many pieces each stage has."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.models import Room, RoomStage
from workshop import actions
from workshop.actions import Hand, Stale, recorded


@dataclass(frozen=True)
class Planned:
    """What one stage of a room takes [minutes] and how many pieces go through it [-]."""

    minutes: int
    total: int


def planned(room_stage: RoomStage) -> Planned:
    return Planned(room_stage.planned_minutes, room_stage.total)


def change(*, room: Room, by: Hand, plan: Mapping[int, Planned], was: Mapping[int, Planned]) -> None:
    """Set planned hours and pieces for the stages of a room.

    Args:
        plan: what was typed for each stage of the room, by its number.
        was: what the person saw when they began.

    Raises:
        Stale: somebody planned one of them otherwise meanwhile.
        ValidationError: fewer pieces than are done, or hours without a piece; at the field of the stage.
    """
    with recorded(by, "plan.change", room, about=[room.job], room=room.name) as record:
        record.answer = reverse("jobs:room", args=[room.pk])
        rows = list(_held(room).filter(pk__in=plan))
        _check(rows, plan)
        for row in rows:
            if plan[row.pk] == planned(row):
                continue
            if was[row.pk] != planned(row):
                raise Stale(row)
            record.save(row, planned_minutes=plan[row.pk].minutes, total=plan[row.pk].total)


def copy(*, room: Room, by: Hand, source: Room) -> None:
    """Plan a room as another of the same job is planned; no stage gets fewer pieces than are done."""
    if source.job_id != room.job_id or source.pk == room.pk:
        raise ValidationError({"source": _("Choose another room of this job, or type the plan.")})
    with recorded(by, "plan.copy", room, about=[room.job], room=room.name, source=source.name) as record:
        record.answer = reverse("jobs:room_plan", args=[room.pk])
        like = {row.stage_id: row for row in source.room_stages.all()}
        for row in _held(room):
            if row.stage_id in like:
                same = like[row.stage_id]
                record.save(row, planned_minutes=same.planned_minutes, total=max(same.total, row.done))


def _held(room: Room) -> Iterable[RoomStage]:
    return RoomStage.objects.select_for_update().filter(room=room)


def _check(rows: Iterable[RoomStage], plan: Mapping[int, Planned]) -> None:
    problems = {}
    for row in rows:
        asked = plan[row.pk]
        if asked.total < row.done:
            problems[f"total_{row.pk}"] = _(
                "%(done)s are done, more than %(typed)s. Type %(done)s or more, or count fewer first."
            ) % {"done": row.done, "typed": asked.total}
        elif asked.total == 0 and asked.minutes:
            problems[f"total_{row.pk}"] = _(
                "There are hours for 0 pieces. Type 1 or more here, or 0 hours where the room has none of it."
            )
    if problems:
        raise ValidationError(problems)


actions.say("plan.change", gettext_lazy("%(room)s planned"))
actions.say("plan.copy", gettext_lazy("%(room)s planned the same as %(source)s"))
