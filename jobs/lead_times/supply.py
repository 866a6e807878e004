"""What rooms still need, and what is here for them; each a constant number of queries."""

from collections import Counter

from django.db.models import Count, F, Q, QuerySet, Sum

from jobs.giving import HALF_MICRO
from jobs.models import Given, Job, LotShare, Need
from materials.models import DeliveryLine, Half, Lot, Material


def open_needs() -> list[Need]:
    """Needs of rooms in open jobs with `open_micro`, what is not given to the room yet."""
    needs = list(
        Need.objects.filter(room__job__closed_on=None)
        .select_related("room__job", "material__usual_supplier")
        .order_by("room__job__number", "room__place", "pk")
    )
    given = given_by_room()
    for need in needs:
        need.open_micro = max(need.quantity_micro - given.get((need.room_id, need.material_id), 0), 0)
    return [need for need in needs if need.open_micro]


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


def _services_here() -> dict[int, int]:
    """Bought services make no lot: what was delivered, less what jobs that are closed had of it."""
    service = Q(material__kind=Material.Kind.SERVICE)
    here = Counter(_sums(DeliveryLine.objects.filter(service), F("material"), "kept_micro"))
    here.subtract(_sums(Need.objects.filter(service, room__job__closed_on__isnull=False), F("material")))
    return {material: max(micro, 0) for material, micro in here.items()}


def _sums(rows: QuerySet, material: F, column: str = "quantity_micro") -> dict[int, int]:
    summed = rows.order_by().values_list(material).annotate(n=Sum(column))
    return {found: int(n) for found, n in summed}
