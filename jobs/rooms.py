"""The rooms of a job, in their order of installation."""

from collections.abc import Iterable
from datetime import date

from django.core.exceptions import ValidationError
from django.db.models import Max
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs import stages
from jobs.models import Job, Room
from workshop import actions, clock, names
from workshop.actions import Hand, recorded

MOST_ROOMS = 999


def add(*, job: Job, by: Hand, answer: str = "", **fields: object) -> Room:
    """Add a room at the end of the order of installation, with every stage of the job.

    Raises:
        ValidationError: a name the job has, or wanted before the work starts.
    """
    _check_days(**fields)
    with recorded(by, "room.add", about=[job], name=fields["name"]) as record:
        record.answer = answer or reverse("jobs:job", args=[job.pk])
        job = Job.objects.select_for_update().get(pk=job.pk)
        _check_name(fields["name"], job.rooms.all())
        last = job.rooms.aggregate(last=Max("place"))["last"] or 0
        if last >= MOST_ROOMS:
            raise ValidationError(
                _("A job holds %(most)s rooms at most. Take one out, or open a second job.") % {"most": MOST_ROOMS}
            )
        room = record.add(Room(job=job, place=last + 1, **fields))
        record.add_many(stages.for_room(room, job.stages.all()))
    return room


def change(*, room: Room, by: Hand, version: int, **fields: object) -> Room:
    """Change a room; a new place in the order moves the others up or down.

    Raises:
        Stale: somebody saved the room since it was read.
        ValidationError: a name another room of the job has, or wanted before the work starts.
    """
    _check_days(**fields)
    with recorded(by, "room.change", room, about=[room.job], name=fields["name"]) as record:
        record.answer = reverse("jobs:room", args=[room.pk])
        Job.objects.select_for_update().get(pk=room.job_id)
        room = Room.objects.select_for_update().get(pk=room.pk)
        others = list(room.job.rooms.exclude(pk=room.pk))
        _check_name(fields["name"], others)
        fields["place"] = min(fields["place"], len(others) + 1)
        record.save(room, version=version, **fields)
        others.insert(room.place - 1, room)
        for place, other in enumerate(others, 1):
            record.save(other, place=place)
    return room


def remove(*, room: Room, by: Hand) -> None:
    """Take a room out of its job while nothing hangs on it; its plan goes with it.

    Raises:
        ValidationError: something does; the message says what.
    """
    with recorded(by, "room.remove", about=[room.job], name=room.name) as record:
        record.answer = reverse("jobs:job", args=[room.job_id])
        if holds := what_hangs_on(room):
            raise ValidationError(
                _("%(room)s holds %(things)s. Take those out first, or give the room another name.")
                % {"room": room.name, "things": ", ".join(holds)}
            )
        for room_stage in room.room_stages.all():
            record.remove(room_stage)
        record.thing = room.job
        record.remove(room)


def what_hangs_on(room: Room) -> list[str]:
    """What keeps a room from being taken out, as words: "2 needs"."""
    counted = [
        (room.surfaces.count(), lambda n: ngettext("%(n)s wall or ceiling", "%(n)s walls and ceilings", n)),
        (room.needs.count(), lambda n: ngettext("%(n)s need", "%(n)s needs", n)),
        (room.given.count(), lambda n: ngettext("%(n)s half sheet", "%(n)s half sheets", n)),
        (room.lot_shares.count(), lambda n: ngettext("%(n)s share of a lot", "%(n)s shares of lots", n)),
        (room.hours.count(), lambda n: ngettext("%(n)s entry of hours", "%(n)s entries of hours", n)),
        (
            room.room_stages.filter(done__gt=0).count(),
            lambda n: ngettext("%(n)s stage in work", "%(n)s stages in work", n),
        ),
    ]
    return [words(n) % {"n": n} for n, words in counted if n]


def _check_name(name: str, others: Iterable[Room]) -> None:
    message = _("The job has a room named %(name)s. Add a number or a floor to it.")
    names.check_new(name, [room.name for room in others], message)


def _check_days(*, starts_on: date | None = None, wanted_on: date | None = None, **_fields: object) -> None:
    if starts_on and wanted_on and wanted_on < starts_on:
        raise ValidationError(
            {
                "wanted_on": _("Wanted before the work starts. Choose %(day)s or later, or start earlier.")
                % {"day": clock.day_text(starts_on)}
            }
        )


actions.say("room.add", gettext_lazy("Room %(name)s added"))
actions.say("room.change", gettext_lazy("Room %(name)s changed"))
actions.say("room.remove", gettext_lazy("Room %(name)s taken out"))
