"""Hours logged in rooms, alone and over several at once, and how far their stages are."""

from collections.abc import Iterator

from jobs import hours, hours_batch, stages
from jobs.models import RoomStage, Stage
from workshop.forms import HoursField
from workshop.front.demo.setting import Setting, Step, now, room_of


def steps(setting: Setting) -> Iterator[Step]:
    for row in setting.scenario["hours"]:
        yield Step(row["day"], lambda row=row: _log(setting, row))
    for day, room, lane, names, done in setting.scenario["done"]:
        yield Step(day, lambda counted=(room, lane, names, done): _count(setting, *counted))


def _log(setting: Setting, row: dict) -> None:
    """Log time on a room, or on several at once."""
    found = [room_of(name) for name in row["rooms"]]
    lane, name = row["stage"]
    facts = {
        "by": setting.by(row["who"]),
        "person": setting.people[row["who"]],
        "worked_on": now(),
        "minutes": HoursField().read(row["hours"]),
        "stage": Stage.objects.get(job=found[0].job, lane=lane, name=name),
        "note": row.get("note", ""),
    }
    if len(found) == 1:
        hours.add(room=found[0], **facts)
    else:
        hours_batch.add(job=found[0].job, rooms=found, **facts)


def _count(setting: Setting, room: str, lane: str, names: list[str], done: int) -> None:
    of_room = RoomStage.objects.filter(room__name=room, stage__lane=lane, stage__name__in=names)
    for row in of_room.select_related("room__job", "stage"):
        stages.count(room_stage=row, by=setting.by("ari"), done=done)
