"""Hours on several rooms at once: logged once, shared by the rooms' pieces of the stage, corrected as one.

The entries of one batch carry the number of the action that logged it, which no other batch ever has.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from hashlib import sha256

from django.core.exceptions import ValidationError
from django.db.models import Count, Q, Sum
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs import hours
from jobs.calculations.shared_hours import shared_minutes
from jobs.models import Hours, Job, Room, RoomStage, Stage
from jobs.naming import named
from workshop import actions, clock
from workshop.actions import Hand, Record, recorded
from workshop.models import Person


class ChangedMeanwhile(ValidationError):
    """Somebody corrected the batch since it was read: `batch` is as it is now."""

    def __init__(self, batch: "Batch") -> None:
        message = _("Somebody corrected these hours meanwhile. Stored now: %(now)s. Send it again to keep yours.")
        super().__init__(message, params={"now": batch.words})
        self.batch = batch


@dataclass
class Batch:
    """Hours of one person on one day and stage over several rooms; the entries in the order of installation."""

    number: int
    entries: list[Hours]

    @property
    def first(self) -> Hours:
        return self.entries[0]

    @property
    def job(self) -> Job:
        return self.first.room.job

    @property
    def person(self) -> Person:
        return self.first.person

    @property
    def minutes(self) -> int:
        return sum(entry.minutes for entry in self.entries)

    @property
    def rooms(self) -> list[Room]:
        return [entry.room for entry in self.entries]

    @cached_property
    def seen(self) -> str:
        """Short for the entries as they are; what is sent back with it can be held against those of now."""
        rows = [f"{entry.pk}.{entry.version}.{entry.minutes}" for entry in self.entries]
        return sha256(" ".join(rows).encode()).hexdigest()[:16]

    @property
    def words(self) -> str:
        return _("%(hours)s h on %(day)s in %(rooms)s") % {
            "hours": hours.bare(self.minutes),
            "day": clock.day_text(self.first.worked_on),
            "rooms": named([room.name for room in self.rooms]),
        }


def batch(number: int) -> Batch | None:
    """A batch by its number, None where there is none now; one query."""
    entries = Hours.objects.filter(batch=number).select_related("room__job", "person", "stage")
    found = list(entries.order_by("room__place", "room", "pk"))
    return Batch(number, found) if found else None


def told(entries: Iterable[Hours]) -> list[Hours]:
    """Entries of a room, each with `batch_words`: of how much it is a part, empty where it stands alone; one query."""
    found = list(entries)
    batches = Hours.objects.filter(batch__in={e.batch for e in found if e.batch}).order_by().values_list("batch")
    sums = {number: (minutes, n) for number, minutes, n in batches.annotate(sum=Sum("minutes"), n=Count("pk"))}
    for entry in found:
        minutes, rooms = sums.get(entry.batch, (0, 0))
        words = ngettext("of %(hours)s h on %(n)s room", "of %(hours)s h on %(n)s rooms", rooms)
        entry.batch_words = words % {"hours": hours.bare(minutes), "n": rooms} if rooms > 1 else ""
    return found


def add(
    *,
    job: Job,
    by: Hand,
    rooms: Sequence[Room],
    person: Person,
    worked_on: date,
    minutes: int,
    stage: Stage,
    note: str = "",
) -> None:
    """Log time of a person on several rooms of a job. Staff log their own, the owner anybody's.

    Raises:
        PermissionDenied: staff log for somebody else.
        ValidationError: no room, a day to come, a stage or room of another job, or more than a day holds.
    """
    hours.check_hand(by, person)
    fields = {"person": person, "worked_on": worked_on, "stage": stage, "note": note}
    with recorded(by, "hours.batch_add", job, **_words(rooms, minutes, fields)) as record:
        record.answer = reverse("jobs:job_hours", args=[job.pk])
        hours.check(job=job, person=person, worked_on=worked_on, minutes=minutes, stage=stage)
        _log(record, job, rooms, minutes, record.action.pk, fields)


def change(*, batch: Batch, by: Hand, seen: str, rooms: Sequence[Room], minutes: int, **fields: object) -> None:
    """Correct a batch: its rooms get their shares anew. Without a person it stays whose it was.

    Raises:
        ChangedMeanwhile: somebody corrected it since it was read.
        PermissionDenied: staff change somebody else's.
        ValidationError: as when it is logged, or it is gone.
    """
    fields = {"person": batch.person} | fields
    hours.check_hand(by, batch.person, fields["person"])
    job, asked = batch.job, {name: fields[name] for name in ("person", "worked_on", "stage")}
    with recorded(by, "hours.batch_change", job, **_words(rooms, minutes, fields)) as record:
        record.answer = reverse("jobs:job_hours", args=[job.pk])
        now = _locked(batch)
        if now.seen != seen:
            raise ChangedMeanwhile(now)
        hours.check(job=job, minutes=minutes, but=Q(batch=batch.number), **asked)
        if _is_as(now, rooms, minutes, fields):
            return
        record.about(*now.rooms)
        record.remove_many(now.entries)
        _log(record, job, rooms, minutes, batch.number, fields)


def remove(*, batch: Batch, by: Hand) -> None:
    """Take a whole batch out. Staff take out their own, the owner anybody's."""
    hours.check_hand(by, batch.person)
    job, first = batch.job, batch.first
    fields = {"person": first.person, "worked_on": first.worked_on, "stage": first.stage}
    with recorded(by, "hours.batch_remove", job, **_words(batch.rooms, batch.minutes, fields)) as record:
        record.answer = reverse("jobs:job_hours", args=[job.pk])
        now = _locked(batch)
        record.about(*now.rooms)
        record.remove_many(now.entries)


def _log(record: Record, job: Job, rooms: Sequence[Room], minutes: int, number: int, fields: dict[str, object]) -> None:
    """Add the entries; a room whose share is nothing has none."""
    rooms = sorted(rooms, key=lambda room: (room.place, room.pk))
    if not rooms:
        raise ValidationError({"rooms": _("No room is chosen. Choose the rooms that were worked on.")})
    if any(room.job_id != job.pk for room in rooms):
        raise ValidationError({"rooms": _("One of the rooms is of another job. Choose rooms of this one.")})
    total = RoomStage.objects.filter(stage=fields["stage"], room__in=rooms).values_list("room", "total")
    pieces = dict(total)
    shares = shared_minutes(minutes, [pieces.get(room.pk, 0) for room in rooms])
    record.about(*rooms)
    record.add_many(
        [
            Hours(room=room, minutes=share, batch=number, **fields)
            for room, share in zip(rooms, shares, strict=True)
            if share
        ]
    )


def _locked(batch: Batch) -> Batch:
    """The batch as it is now, held until the transaction ends."""
    entries = Hours.objects.select_for_update(of=["self"]).filter(batch=batch.number)
    found = list(entries.select_related("room__job", "person", "stage").order_by("room__place", "room", "pk"))
    if not found:
        raise ValidationError(_("Somebody took these hours out meanwhile. Go back and look at what is left."))
    return Batch(batch.number, found)


def _is_as(now: Batch, rooms: Sequence[Room], minutes: int, fields: dict[str, object]) -> bool:
    """Whether nothing would change."""
    first = now.first
    return {room.pk for room in rooms} == {room.pk for room in now.rooms} and (
        (minutes, fields["person"], fields["worked_on"], fields["stage"], fields["note"])
        == (now.minutes, first.person, first.worked_on, first.stage, first.note)
    )


def _words(rooms: Sequence[Room], minutes: int, fields: dict[str, object]) -> dict[str, str]:
    return {
        "rooms": named([room.name for room in sorted(rooms, key=lambda room: (room.place, room.pk))]),
        "who": fields["person"].name,
        "day": clock.day_text(fields["worked_on"]),
        "hours": hours.bare(minutes),
        "stage": fields["stage"].full_name if fields["stage"] else "",
    }


actions.say("hours.batch_add", gettext_lazy("%(rooms)s: %(hours)s h by %(who)s on %(day)s, %(stage)s"))
actions.say("hours.batch_change", gettext_lazy("%(rooms)s: hours of %(who)s on %(day)s are now %(hours)s h, %(stage)s"))
actions.say("hours.batch_remove", gettext_lazy("%(rooms)s: %(hours)s h by %(who)s on %(day)s taken out, %(stage)s"))
