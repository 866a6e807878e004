"""Hours worked on rooms, by person and day."""

from datetime import date
from fractions import Fraction

from django.core.exceptions import PermissionDenied, ValidationError
from django.db.models import Q, Sum
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.models import Hours, Job, Room, Stage
from jobs.models.stages import MINUTES_A_DAY
from workshop import actions, clock
from workshop.actions import Hand, recorded
from workshop.calculations import units
from workshop.language import decimal_mark
from workshop.models import Person


def add(
    *,
    room: Room,
    by: Hand,
    person: Person,
    worked_on: date,
    minutes: int,
    stage: Stage | None = None,
    note: str = "",
) -> Hours:
    """Log time of a person on a room. Staff log their own, the owner anybody's.

    Raises:
        PermissionDenied: staff log for somebody else.
        ValidationError: a day to come, a stage of another job, or more than a day holds.
    """
    check_hand(by, person)
    words = _words(room, person, worked_on, minutes)
    with recorded(by, "hours.add", about=[room, room.job], **words) as record:
        record.answer = reverse("jobs:hours", args=[room.pk])
        entry = Hours(room=room, person=person, worked_on=worked_on, minutes=minutes, stage=stage, note=note)
        check(job=room.job, person=person, worked_on=worked_on, minutes=minutes, stage=stage)
        record.add(entry)
    return entry


def change(*, entry: Hours, by: Hand, version: int, person: Person | None = None, **fields: object) -> Hours:
    """Correct an entry; without a person it stays whose it was.

    Raises:
        Stale: somebody saved it since it was read.
        PermissionDenied: staff change somebody else's.
        ValidationError: a day to come, a stage of another job, or more than a day holds.
    """
    person = person or entry.person
    check_hand(by, entry.person, person)
    words = _words(entry.room, person, fields["worked_on"], fields["minutes"])
    with recorded(by, "hours.change", entry, about=[entry.room, entry.room.job], **words) as record:
        record.answer = reverse("jobs:hours", args=[entry.room_id])
        entry = Hours.objects.select_for_update(of=("self",)).select_related("room__job").get(pk=entry.pk)
        _check_alone(entry)
        asked = {name: fields[name] for name in ("worked_on", "minutes", "stage")}
        check(job=entry.room.job, person=person, but=Q(pk=entry.pk), **asked)
        record.save(entry, version=version, person=person, **fields)
    return entry


def remove(*, entry: Hours, by: Hand) -> None:
    """Take an entry out. Staff take out their own, the owner anybody's."""
    check_hand(by, entry.person)
    room = entry.room
    words = _words(room, entry.person, entry.worked_on, entry.minutes)
    with recorded(by, "hours.remove", about=[room, room.job], **words) as record:
        record.answer = reverse("jobs:hours", args=[room.pk])
        record.thing = room
        _check_alone(entry)
        record.remove(entry)


def may_change(entry: Hours, person: Person) -> bool:
    return person.is_owner or entry.person_id == person.pk


def spent_and_planned(room: Room) -> tuple[int, int]:
    spent = room.hours.aggregate(sum=Sum("minutes"))["sum"] or 0
    planned = room.room_stages.aggregate(sum=Sum("planned_minutes"))["sum"] or 0
    return spent, planned


def bare(minutes: int) -> str:
    """Minutes as hours without their unit: 2.5 or 0:20."""
    if minutes % 15:
        return f"{minutes // 60}:{minutes % 60:02}"
    return units.edit_quantity(Fraction(minutes, 60), "hour", decimal_mark())


def _words(room: Room, person: Person, worked_on: date, minutes: int) -> dict[str, str]:
    return {"room": room.name, "who": person.name, "day": clock.day_text(worked_on), "hours": bare(minutes)}


def check_hand(by: Hand, *persons: Person) -> None:
    """Refuse staff what is another's; who comes without a person is the app itself."""
    if by.person is None or by.person.is_owner:
        return
    if any(person != by.person for person in persons):
        raise PermissionDenied


def check(
    *, job: Job, person: Person, worked_on: date, minutes: int, stage: Stage | None, but: Q | None = None
) -> None:
    """Refuse hours that cannot be. Nobody else logs for this person until the transaction ends.

    Args:
        but: the entries these hours take the place of.
    """
    if worked_on > clock.today():
        raise ValidationError(
            {
                "worked_on": _("%(day)s is still to come. Choose today, %(today)s, or a day before.")
                % {"day": clock.day_text(worked_on), "today": clock.day_text(clock.today())}
            }
        )
    if stage and stage.job_id != job.pk:
        raise ValidationError({"stage": _("This stage is not of this job. Choose one of the list, or none.")})
    Person.objects.select_for_update().get(pk=person.pk)
    same_day = Hours.objects.filter(person=person, worked_on=worked_on)
    logged = (same_day.exclude(but) if but else same_day).aggregate(sum=Sum("minutes"))["sum"] or 0
    if logged + minutes > MINUTES_A_DAY:
        raise ValidationError(
            {
                "minutes": _(
                    "%(who)s has %(logged)s h on that day, so %(typed)s h cannot be. Type %(left)s h or less,"
                    " or choose another day."
                )
                % {
                    "who": person.name,
                    "logged": bare(logged),
                    "typed": bare(minutes),
                    "left": bare(max(MINUTES_A_DAY - logged, 0)),
                }
            }
        )


def _check_alone(entry: Hours) -> None:
    if entry.batch:
        raise ValidationError(_("These are a part of hours on several rooms. Correct all of them together."))


actions.say("hours.add", gettext_lazy("%(room)s: %(hours)s h by %(who)s on %(day)s"))
actions.say("hours.change", gettext_lazy("%(room)s: hours of %(who)s on %(day)s are now %(hours)s h"))
actions.say("hours.remove", gettext_lazy("%(room)s: %(hours)s h by %(who)s on %(day)s taken out"))
