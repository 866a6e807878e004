"""What rooms still need, and what is here for them; each a constant number of queries.

Needs and rooms are read as plain values: a shop has thousands, and every page asks how much is late.
"""

from collections import Counter
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, F, Q, QuerySet, Sum

from jobs.giving import HALF_MICRO
from jobs.lead_times.kept import kept
from jobs.models import Given, Job, LotShare, Need, Room
from materials.models import DeliveryLine, Half, Lot, Material


@dataclass(slots=True)
class OpenJob:
    """An open job, as far as its needs tell of it."""

    pk: int
    number: int
    name: str


@dataclass(slots=True)
class OpenRoom:
    """A room of an open job, as far as its needs tell of it."""

    pk: int
    name: str
    place: int
    starts_on: date | None
    wanted_on: date | None
    fire_class: str
    job: OpenJob

    @property
    def job_id(self) -> int:
        return self.job.pk


@dataclass(slots=True)
class OpenNeed:
    """What of a need is not given to the room yet."""

    pk: int
    room: OpenRoom
    material: Material
    open_micro: int

    @property
    def room_id(self) -> int:
        return self.room.pk

    @property
    def material_id(self) -> int:
        return self.material.pk


def open_needs() -> list[OpenNeed]:
    """Needs of rooms in open jobs of which something is not given to the room yet, by job and room."""
    found = Need.objects.filter(room__job__closed_on=None).order_by("room__job__number", "room__place", "pk")
    needs = list(found.values_list("pk", "room", "material", "quantity_micro"))
    rooms, given = _open_rooms(), given_by_room()
    materials = Material.objects.select_related("usual_supplier").in_bulk(
        {material for _pk, _room, material, _n in needs}
    )
    open_ = []
    for pk, room, material, quantity in needs:
        left = quantity - given.get((room, material), 0)
        if left > 0 and room in rooms:
            open_.append(OpenNeed(pk, rooms[room], materials[material], left))
    return open_


def _open_rooms() -> dict[int, OpenRoom]:
    facts = ("pk", "name", "place", "starts_on", "wanted_on", "fire_class", "job")
    jobs = {pk: OpenJob(pk, number, name) for pk, number, name in _open_jobs().values_list("pk", "number", "name")}
    rooms = Room.objects.filter(job__closed_on=None).order_by().values_list(*facts)
    return {pk: OpenRoom(pk, *known, jobs[job]) for pk, *known, job in rooms if job in jobs}


def _open_jobs() -> QuerySet[Job]:
    return Job.objects.filter(closed_on=None).order_by()


def given_by_room(job: Job | None = None) -> dict[tuple[int, int], int]:
    """What each room of a job, or of all open jobs, has of each material, by (room, material) [millionths]."""
    of_job = Q(room__job=job) if job else Q(room__job__closed_on=None)
    halves = Given.objects.filter(of_job).values_list("room", "half__sheet__lot__material").annotate(n=Count("pk"))
    shares = LotShare.objects.filter(of_job).values_list("room", "lot__material").annotate(n=Sum("quantity_micro"))
    given = {(room, material): n * HALF_MICRO for room, material, n in halves.order_by()}
    return given | {(room, material): int(n) for room, material, n in shares.order_by()}


def free_stock() -> dict[int, int]:
    """What is here and given to no room, by material, in millionths of its unit."""
    here: Counter[int] = Counter()
    halves = Half.objects.filter(given=None, sheet__set_aside_on=None, sheet__left_on=None)
    for material, n in halves.values_list("sheet__lot__material").annotate(n=Count("pk")).order_by():
        here[material] += n * HALF_MICRO
    others = Lot.objects.exclude(material__kind=Material.Kind.SHEET)
    here.update(_sums(others, F("material")))
    here.subtract(_sums(LotShare.objects.all(), F("lot__material")))
    here.update(_services_here())
    return dict(here)


def kept_stock() -> dict[int, int]:
    """The free stock as it was worked out after the last action: of thousands of sheets it takes its time."""
    return kept("free-stock", free_stock)


def _services_here() -> dict[int, int]:
    """Bought services make no lot: what was delivered, less what jobs that are closed had of it."""
    service = Q(material__kind=Material.Kind.SERVICE)
    here = Counter(_sums(DeliveryLine.objects.filter(service), F("material"), "kept_micro"))
    here.subtract(_sums(Need.objects.filter(service, room__job__closed_on__isnull=False), F("material")))
    return {material: max(micro, 0) for material, micro in here.items()}


def _sums(rows: QuerySet, material: F, column: str = "quantity_micro") -> dict[int, int]:
    summed = rows.order_by().values_list(material).annotate(n=Sum(column))
    return {found: int(n) for found, n in summed}
