"""Where a lot goes next: the rooms of open jobs that still need its material."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count, Sum
from django.urls import reverse

from jobs.giving import HALF_MICRO
from jobs.models import Given, Job, LineShare, LotShare, Need, Room
from materials import leading_on
from materials.models import Lot


@dataclass(frozen=True)
class Waiting:
    """A room, and how much of the lot's material it still needs."""

    room: Room
    short_micro: int


def waiting(lot: Lot) -> list[Waiting]:
    """The rooms of open jobs that still need the lot's material, by job and order of installation."""
    needs = Need.objects.filter(material=lot.material_id, room__job__closed_on=None).select_related("room__job")
    halves = Given.objects.filter(room__job__closed_on=None, half__sheet__lot__material=lot.material_id).order_by()
    shares = LotShare.objects.filter(room__job__closed_on=None, lot__material=lot.material_id).order_by()
    has: dict[int, int] = defaultdict(int)
    has.update({room: n * HALF_MICRO for room, n in halves.values_list("room").annotate(n=Count("pk"))})
    has.update({room: int(n) for room, n in shares.values_list("room").annotate(n=Sum("quantity_micro"))})
    ordered = sorted(needs, key=lambda need: (need.room.job.number, need.room.place, need.room_id))
    found = [Waiting(need.room, need.quantity_micro - has[need.room_id]) for need in ordered]
    return [row for row in found if row.short_micro > 0]


def next_url(lot: Lot) -> str:
    """Where a lot is given out: at the one job or room that needs it, else where one of them is chosen."""
    found = waiting(lot)
    job = _only_job(lot, found)
    rooms = [row.room for row in found if row.room.job == job]
    if job and lot.material.is_sheet:
        return reverse("jobs:giving", args=[job.pk])
    if len(rooms) == 1:
        return share_url(lot, rooms[0])
    return reverse("jobs:lot_give", args=[lot.pk])


def share_url(lot: Lot, room: Room) -> str:
    """Where a room is given something of a lot that is not counted in sheets."""
    return f"{reverse('jobs:lot_share', args=[room.pk])}?lot={lot.pk}"


def _only_job(lot: Lot, found: Sequence[Waiting]) -> Job | None:
    """The only one of the jobs it was ordered for that still needs it, else the only one that does."""
    jobs = {row.room.job_id: row.room.job for row in found}
    ordered = LineShare.objects.filter(line__delivery_lines__lot=lot, job__in=jobs).values_list("job", flat=True)
    meant = set(ordered) if len(jobs) > 1 else set()
    if len(meant) != 1:
        meant = set(jobs)
    return jobs[meant.pop()] if len(meant) == 1 else None


def by_job(found: Sequence[Waiting]) -> list[tuple[Job, int]]:
    """Each job with what its rooms still need together."""
    sums: dict[Job, int] = defaultdict(int)
    for row in found:
        sums[row.room.job] += row.short_micro
    return list(sums.items())


leading_on.GOES_TO.append(next_url)
