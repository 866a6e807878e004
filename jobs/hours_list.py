"""The hours of a job by day, a batch as one, with their sums; a constant number of queries."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.core.paginator import Page, Paginator
from django.db.models import Exists, OuterRef, Q, QuerySet, Sum

from jobs.models import Hours, Job, RoomStage, Stage
from jobs.naming import named
from workshop.models import Person

A_PAGE = 50


@dataclass(frozen=True)
class Entry:
    """Hours as they were logged: of one room, or a batch over several with their sum."""

    first: Hours
    rooms: str
    minutes: int
    parts: int = 1

    @property
    def is_batch(self) -> bool:
        return self.first.batch is not None


@dataclass
class Day:
    """The entries of one day on this page, and the sum of all its hours."""

    day: date
    minutes: int
    entries: list[Entry]


@dataclass(frozen=True)
class SumRow:
    """What was spent by somebody, in a room or on a stage, beside what was planned where that is known."""

    name: str
    spent: int
    planned: int | None = None


@dataclass
class Sums:
    """What was spent and planned in a job, by room, stage and person, and in all."""

    by_room: list[SumRow]
    by_stage: list[SumRow]
    by_person: list[SumRow]
    spent: int
    planned: int


@dataclass
class HoursPage:
    page: Page
    days: list[Day]


def hours_page(job: Job, words: str, number: str | None) -> HoursPage:
    """One page of the job's hours, newest first, of the persons and rooms whose name has the words."""
    rows = found(job, words)
    earlier = found(job, words).filter(batch=OuterRef("batch"), pk__lt=OuterRef("pk"))
    logged = rows.filter(Q(batch=None) | ~Exists(earlier)).order_by("-worked_on", "-pk")
    page = Paginator(logged.select_related("person", "room", "stage"), A_PAGE).get_page(number)
    entries = _entries(rows, list(page))
    days = {entry.first.worked_on for entry in entries}
    sums = dict(rows.filter(worked_on__in=days).order_by().values_list("worked_on").annotate(n=Sum("minutes")))
    by_day: dict[date, list[Entry]] = defaultdict(list)
    for entry in entries:
        by_day[entry.first.worked_on].append(entry)
    return HoursPage(page, [Day(day, sums[day], listed) for day, listed in by_day.items()])


def found(job: Job, words: str) -> QuerySet[Hours]:
    """The entries of a job; of each word the person's or the room's name has some."""
    rows = Hours.objects.filter(room__job=job)
    for word in words.split()[:5]:
        rows = rows.filter(Q(person__name__icontains=word) | Q(room__name__icontains=word))
    return rows


def _entries(rows: QuerySet[Hours], firsts: Sequence[Hours]) -> list[Entry]:
    batches = {first.batch for first in firsts if first.batch is not None}
    parts: dict[int, list[tuple[str, int]]] = defaultdict(list)
    of_batches = rows.filter(batch__in=batches).order_by("room__place", "room")
    for batch, room, minutes in of_batches.values_list("batch", "room__name", "minutes"):
        parts[batch].append((room, minutes))
    return [_entry(first, parts.get(first.batch) or [(first.room.name, first.minutes)]) for first in firsts]


def _entry(first: Hours, parts: Sequence[tuple[str, int]]) -> Entry:
    names = [room for room, _minutes in parts]
    return Entry(first, named(names), sum(minutes for _room, minutes in parts), len(parts))


def sums(job: Job, words: str) -> Sums:
    """The hours that the words find beside all that is planned; a constant number of queries."""
    planned = list(RoomStage.objects.filter(room__job=job).order_by().values_list("room", "stage", "planned_minutes"))
    logged = found(job, words).order_by().values_list("room", "stage", "person").annotate(n=Sum("minutes"))
    spent = list(logged)
    return Sums(
        _by_room(job, _added(spent, 0), _added(planned, 0)),
        _by_stage(job, _added(spent, 1), _added(planned, 1)),
        _by_person(_added(spent, 2)),
        sum(row[-1] for row in spent),
        sum(row[-1] for row in planned),
    )


def _added(rows: Sequence[tuple[int | None, ...]], column: int) -> dict[int | None, int]:
    """The minutes, last in each row, added up by one of its columns."""
    by_key: dict[int | None, int] = defaultdict(int)
    for row in rows:
        by_key[row[column]] += row[-1]
    return dict(by_key)


def _by_room(job: Job, spent: dict[int, int], plan: dict[int, int]) -> list[SumRow]:
    rooms = job.rooms.values_list("pk", "name")
    return [SumRow(name, spent.get(pk, 0), plan.get(pk, 0)) for pk, name in rooms if pk in spent or plan.get(pk)]


def _by_stage(job: Job, spent: dict[int | None, int], plan: dict[int, int]) -> list[SumRow]:
    """By stage in the order of work; hours without a stage come last, without a name."""
    stages = Stage.objects.filter(job=job)
    rows = [
        SumRow(s.full_name, spent.get(s.pk, 0), plan.get(s.pk, 0)) for s in stages if s.pk in spent or plan.get(s.pk)
    ]
    return [*rows, *([SumRow("", spent[None])] if None in spent else [])]


def _by_person(spent: dict[int, int]) -> list[SumRow]:
    """By person, who spent most first."""
    rows = [SumRow(person.name, spent[person.pk]) for person in Person.objects.filter(pk__in=spent)]
    return sorted(rows, key=lambda row: (-row.spent, row.name))
