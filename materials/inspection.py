"""Until when faults must be told: the days agreed with the supplier, counted from the day of arrival.

The day of arrival is day 0, and the days are calendar days. A last day that is closed means the open day before,
as there is nobody to be told on it. Sheets count as looked at once they are sorted or set aside.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Exists, OuterRef
from django.utils.translation import gettext as _

from materials.calculations.open_days import Calendar
from materials.models import Delivery, Lot, Sheet
from workshop import clock

SOON_WORKING_DAYS = 3
TOLD_FOR = timedelta(days=7)


@dataclass(frozen=True)
class TellBy:
    """The last day to tell faults of something; `left` are the working days until then, below 0 once it is past."""

    day: date
    left: int

    @property
    def is_past(self) -> bool:
        return self.left < 0

    @property
    def is_soon(self) -> bool:
        return self.left < SOON_WORKING_DAYS

    @property
    def text(self) -> str:
        if self.is_past:
            return _("Faults were to be told by %(day)s") % {"day": clock.day_text(self.day)}
        return _("Tell faults by %(day)s") % {"day": clock.day_text(self.day)}


def tell_by(delivery: Delivery) -> TellBy | None:
    """Until when faults of a delivery must be told; None where nothing is agreed. Its supplier must be at hand."""
    days = delivery.supplier.inspect_days
    if days is None:
        return None
    calendar, today = Calendar(), clock.today()
    last = max(calendar.open_before(delivery.arrived_on + timedelta(days=days)), delivery.arrived_on)
    left = calendar.working_days_between(today, last)
    return TellBy(last, left if today <= last else min(left, -1))


def to_look_at() -> dict[int, TellBy]:
    """Lots with sheets nobody looked at whose faults must be told soon, by their keys; one query.

    Lots whose day is past stay for a week: a call may still help.
    """
    waiting = Sheet.objects.unsorted().filter(lot=OuterRef("pk"))
    lots = Lot.objects.filter(Exists(waiting), delivery_line__delivery__supplier__inspect_days__isnull=False)
    found = {}
    for lot in lots.select_related("delivery_line__delivery__supplier"):
        by = tell_by(lot.delivery_line.delivery)
        if by and by.is_soon and by.day >= clock.today() - TOLD_FOR:
            found[lot.pk] = by
    return found
