"""A job begun as a copy of another: its rooms with their walls, what they need, stages with their plan, and drawings.

Prices, hours, sheets, counts and the estimate stay with the first job; so do site, architect, general
contractor and tax, which belong to its place.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from django.core.exceptions import ValidationError
from django.db.models import Min
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs.job import client_named
from jobs.models import Client, Drawing, Job, Need, Room, RoomStage, Stage
from jobs.surfaces import writing
from materials.numbers import next_number
from workshop import actions, clock
from workshop.actions import Hand, Record, recorded

LAST_DAY = date(2100, 12, 31)


@dataclass(frozen=True)
class _Shift:
    """How far the days of the rooms move; None leaves them empty."""

    by: timedelta | None

    def moved(self, day: date | None) -> date | None:
        return None if day is None or self.by is None else day + self.by


def copy(
    *,
    job: Job,
    by: Hand,
    name: str,
    client: Client | None = None,
    new_client: str = "",
    starts_on: date | None = None,
) -> Job:
    """Begin a job as another one is laid out.

    Args:
        starts_on: the day the work of the first room starts; all days of the rooms move by as much. Without it the
            copy has no days.

    Raises:
        ValidationError: without a client, or a room would move beyond the last day the app knows.
    """
    source = job
    shift = _shift(source, starts_on)
    with recorded(by, "job.copy", name=name, source=str(source)) as record:
        if new_client or client is None:
            client = client_named(record, new_client)
        fields = {n: getattr(source, n) for n in ("unit_system", "precision_nm", "currency")}
        made = Job(number=next_number(Job), name=name, client=client, **fields)
        record.thing = record.add(made)
        rooms = _rooms(record, source, made, shift)
        record.about(source, client, *rooms)
        count = len(rooms)
        record.words["number"] = made.number
        record.words["rooms"] = ngettext("%(count)s room", "%(count)s rooms", count) % {"count": count}
        record.answer = reverse("jobs:job", args=[made.pk])
    return made


def first_day(job: Job) -> date | None:
    """The day the first room's work starts; the first day a room is wanted where no start is known."""
    days = job.rooms.aggregate(starts=Min("starts_on"), wanted=Min("wanted_on"))
    return days["starts"] or days["wanted"]


def _shift(source: Job, starts_on: date | None) -> _Shift:
    first = first_day(source)
    if starts_on is None or first is None:
        return _Shift(None)
    by = starts_on - first
    days = [day for pair in source.rooms.values_list("starts_on", "wanted_on") for day in pair if day]
    if (LAST_DAY - max(days)) < by:
        latest = LAST_DAY - (max(days) - first)
        message = _("With it the last room would be after %(last)s. Choose %(latest)s or a day before.")
        words = {"last": clock.day_text(LAST_DAY), "latest": clock.day_text(latest)}
        raise ValidationError({"starts_on": ValidationError(message, params=words)})
    return _Shift(by)


def _rooms(record: Record, source: Job, made: Job, shift: _Shift) -> list[Room]:
    """Rooms with all that hangs on their layout; the rows are copies of rows that were checked when they were made."""
    was_stages, was_rooms = list(source.stages.all()), list(source.rooms.all())
    stages = record.add_many([Stage(job=made, lane=s.lane, place=s.place, name=s.name) for s in was_stages])
    rooms = record.add_many([_room(room, made, shift) for room in was_rooms])
    stage_of = {was.pk: stage for was, stage in zip(was_stages, stages, strict=True)}
    room_of = {was.pk: room for was, room in zip(was_rooms, rooms, strict=True)}
    record.add_many(
        [
            RoomStage(
                room=room_of[row.room_id],
                stage=stage_of[row.stage_id],
                planned_minutes=row.planned_minutes,
                total=row.total,
            )
            for row in RoomStage.objects.filter(room__job=source).order_by("pk")
        ]
    )
    record.add_many(
        [
            Need(room=room_of[need.room_id], material_id=need.material_id, quantity_micro=need.quantity_micro)
            for need in Need.objects.filter(room__job=source).order_by("pk")
        ]
    )
    writing.copy_all(record, room_of)
    record.add_many([Drawing(job=made, number=d.number, name=d.name) for d in source.drawing_list.all()])
    return rooms


def _room(was: Room, job: Job, shift: _Shift) -> Room:
    return Room(
        job=job,
        name=was.name,
        place=was.place,
        fire_class=was.fire_class,
        starts_on=shift.moved(was.starts_on),
        wanted_on=shift.moved(was.wanted_on),
    )


actions.say("job.copy", gettext_lazy("Job %(number)s %(name)s copied from %(source)s, %(rooms)s"))
