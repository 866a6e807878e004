"""What needs somebody today: late, to order, to count and sort, in work at the bench."""

from dataclasses import dataclass

from django.db.models import Count, F, Q, QuerySet, Sum

from jobs import lead_times
from jobs.lead_times import Outlook, ToOrderRow
from jobs.models import Job, Room
from materials.models import Delivery, Lot
from workshop import clock

SOON_DAYS = 14
SOON_WITHOUT_LEAD_DAYS = 56
"""Where no supplier is named, its lead time is not known yet."""
AT_MOST = 10


@dataclass
class Today:
    outlook: Outlook
    to_order: list[ToOrderRow]
    to_count: QuerySet[Delivery]
    to_sort: QuerySet[Lot]
    at_the_bench: QuerySet[Room]
    open_jobs: int

    @property
    def to_handle(self) -> int:
        return len(self.to_count) + len(self.to_sort)


def today() -> Today:
    state = lead_times.outlook(clock.today())
    soon = [row for row in state.to_order if not row.is_late and _is_soon(row)]
    return Today(
        outlook=state,
        to_order=soon,
        to_count=Delivery.objects.filter(counted_on=None).select_related("supplier").order_by("arrived_on", "pk"),
        to_sort=lots_to_sort(),
        at_the_bench=rooms_in_work(),
        open_jobs=Job.objects.filter(closed_on=None).count(),
    )


def _is_soon(row: ToOrderRow) -> bool:
    soon = SOON_DAYS if row.last_day else SOON_WITHOUT_LEAD_DAYS
    return row.days_left is None or row.days_left <= soon


def lots_to_sort() -> QuerySet[Lot]:
    """Lots with sheets that have no tone group yet, with `unsorted` and `sheet_count`."""
    unsorted = Q(sheets__tone_group=None, sheets__set_aside_on=None, sheets__left_on=None)
    return (
        Lot.objects.annotate(
            sheet_count=Count("sheets", distinct=True),
            unsorted=Count("sheets", filter=unsorted, distinct=True),
        )
        .filter(unsorted__gt=0)
        .select_related("material")
        .order_by("arrived_on", "number")
    )


def rooms_in_work() -> QuerySet[Room]:
    """Rooms of open jobs where something is done and something is left, with the counts."""
    return (
        Room.objects.filter(job__closed_on=None)
        .annotate(
            done=Sum("room_stages__done"),
            total=Sum("room_stages__total"),
        )
        .filter(done__gt=0, done__lt=F("total"))
        .select_related("job")
        .order_by("job__number", "place")[:AT_MOST]
    )
