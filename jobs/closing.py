"""Closing a job when all is handed over, and reopening it. The needs of a closed job count no more."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db.models import F
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs import lead_times
from jobs.models import Job, Need, RoomStage
from workshop import actions, clock
from workshop.actions import Hand, recorded


def close(*, job: Job, by: Hand, closed_on: date) -> Job:
    """Close a job; what it still needs is neither ordered nor waited for any more.

    Raises:
        ValidationError: it is closed, or the day is still to come.
    """
    words = {"number": job.number, "name": job.name, "day": clock.day_text(closed_on)}
    with recorded(by, "job.close", job, **words) as record:
        record.answer = reverse("jobs:job", args=[job.pk])
        job = Job.objects.select_for_update().get(pk=job.pk)
        if job.closed_on:
            message = _("The job is closed since %(day)s. Reopen it first, or leave it so.")
            raise ValidationError(message, params={"day": clock.day_text(job.closed_on)})
        if closed_on > clock.today():
            message = _("%(day)s is still to come. Choose today, %(today)s, or a day before.")
            words = {"day": clock.day_text(closed_on), "today": clock.day_text(clock.today())}
            raise ValidationError({"closed_on": ValidationError(message, params=words)})
        record.save(job, closed_on=closed_on)
    return job


def reopen(*, job: Job, by: Hand) -> Job:
    """Open a closed job again; its needs count as before.

    Raises:
        ValidationError: it is open.
    """
    with recorded(by, "job.reopen", job, number=job.number, name=job.name) as record:
        record.answer = reverse("jobs:job", args=[job.pk])
        job = Job.objects.select_for_update().get(pk=job.pk)
        if not job.closed_on:
            raise ValidationError(_("The job is open. Close it, or leave it so."))
        record.save(job, closed_on=None)
    return job


def what_is_left(job: Job) -> list[str]:
    """What is not finished in a job, as words: "3 needs are not all given"."""
    needs = Need.objects.filter(room__job=job).values_list("room", "material", "quantity_micro")
    given = lead_times.given_by_room(job)
    short = sum(given.get((room, material), 0) < micro for room, material, micro in needs)
    stages = RoomStage.objects.filter(room__job=job, done__lt=F("total")).count()
    counted = [
        (stages, ngettext("%(n)s stage of a room is not done", "%(n)s stages of rooms are not done", stages)),
        (short, ngettext("%(n)s need is not all given", "%(n)s needs are not all given", short)),
    ]
    return [words % {"n": n} for n, words in counted if n]


actions.say("job.close", gettext_lazy("Job %(number)s %(name)s closed on %(day)s"))
actions.say("job.reopen", gettext_lazy("Job %(number)s %(name)s reopened"))
