"""The list of jobs: how far each is, and what is next in it."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from django.db.models import BigIntegerField, Count, F, OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Cast
from django.utils.translation import gettext as _

from jobs.calculations import progress
from jobs.models import Job, Room, RoomStage
from jobs.standing.figures import left_words


@dataclass
class JobRow:
    """A job in the list."""

    job: Job
    room_count: int
    percent: int
    next_words: str


def jobs_found(words: str = "") -> QuerySet[Job]:
    """Open jobs first, newest first; those whose number, name or client has the words."""
    found = Job.objects.select_related("client")
    for word in words.split()[:5]:
        number = Q(number=int(word)) if word.isascii() and word.isdigit() and len(word) < 10 else Q()
        found = found.filter(number | Q(name__icontains=word) | Q(client__name__icontains=word))
    return found.order_by(F("closed_on").desc(nulls_first=True), "-number")


def job_rows(jobs: Sequence[Job]) -> list[JobRow]:
    """Rooms, per cent done and what is next of each job; three queries however many there are."""
    percents, upcoming = _percents(jobs), _upcoming(jobs)
    counts = dict(Room.objects.filter(job__in=jobs).order_by().values_list("job").annotate(n=Count("pk")))
    rows = []
    for job in jobs:
        row = upcoming.get(job.pk)
        words = ""
        if row:
            words = _("Next: %(room)s, %(stage)s") % {"room": row.room.name, "stage": left_words(row)}
        rows.append(JobRow(job, counts.get(job.pk, 0), percents.get(job.pk, 0), words))
    return rows


def _percents(jobs: Sequence[Job]) -> dict[int, int]:
    """Per cent by job, weighted by planned hours, from sums over stages of one total: exact, and few rows."""
    sums = (
        RoomStage.objects.filter(room__job__in=jobs, total__gt=0)
        .order_by()
        .values_list("room__job", "total")
        .annotate(
            stages=Count("pk"),
            stages_done=Count("pk", filter=Q(done=F("total"))),
            planned=Sum("planned_minutes"),
            pieces=Sum("done"),
            earned=Sum(Cast("planned_minutes", BigIntegerField()) * F("done")),
        )
    )
    by_job: dict[int, list[_Alike]] = defaultdict(list)
    for job, *figures in sums:
        by_job[job].append(_Alike(*map(int, figures)))
    return {job: _percent(groups) for job, groups in by_job.items()}


class _Alike(NamedTuple):
    """Sums over the stages of a job that have the same total."""

    total: int
    stages: int
    stages_done: int
    planned: int
    done: int
    earned: int


def _percent(groups: Sequence[_Alike]) -> int:
    """The same per cent as on the job's own page."""
    weight = sum(group.planned for group in groups) or sum(group.stages for group in groups)
    is_planned = any(group.planned for group in groups)
    through = [Fraction(group.earned if is_planned else group.done, group.total) for group in groups]
    shown = progress.percent(sum(through, Fraction(0)) / weight)
    if any(group.done for group in groups):
        shown = max(1, shown)
    is_done = all(group.stages_done == group.stages for group in groups)
    return shown if is_done else min(99, shown)


def _upcoming(jobs: Sequence[Job]) -> dict[int, RoomStage]:
    """By job, the first stage not done of the first room that has one."""
    first = (
        RoomStage.objects.filter(room__job=OuterRef("pk"), done__lt=F("total"))
        .order_by("room__place", "room_id", "stage__place")
        .values("pk")[:1]
    )
    open_jobs = Job.objects.filter(pk__in=[job.pk for job in jobs], closed_on=None)
    rows = RoomStage.objects.filter(pk__in=open_jobs.annotate(first=Subquery(first)).values("first"))
    return {row.room.job_id: row for row in rows.select_related("room", "stage")}
