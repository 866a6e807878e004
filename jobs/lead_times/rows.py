"""The rows of the lead-time page: an order line still to come, a material not ordered yet."""

from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from django.utils.translation import gettext as _

from jobs.lead_times.days import CALENDAR
from jobs.lead_times.supply import OpenRoom
from materials.calculations import lead_time
from materials.models import Material, Order, OrderLine
from workshop import clock


@dataclass
class OrderRow:
    """An order line that is still to come, and the first room that waits for it; how much is in the used unit."""

    line: OrderLine
    outstanding_micro: int
    expected_on: date
    was: date | None
    today: date
    room: OpenRoom | None = None
    needed_on: date | None = None

    @property
    def order(self) -> Order:
        return self.line.order

    @property
    def arrives_on(self) -> date:
        """The day to reckon with: as expected, or today while it is overdue."""
        return max(self.expected_on, self.today)

    @property
    def overdue_days(self) -> int:
        """Calendar days past the promise."""
        return (self.arrives_on - self.expected_on).days

    @cached_property
    def days_in_hand(self) -> int | None:
        """Calendar days between its arrival and the day the room needs it; below zero where it is late."""
        return None if self.needed_on is None else lead_time.days_in_hand(self.arrives_on, self.needed_on)

    @cached_property
    def working_days(self) -> int | None:
        """The working days beside the days in hand, or beside the days late."""
        return None if self.needed_on is None else abs(CALENDAR.working_days_between(self.arrives_on, self.needed_on))

    @property
    def is_late_for_room(self) -> bool:
        return self.days_in_hand is not None and self.days_in_hand < 0

    @property
    def is_late(self) -> bool:
        return self.overdue_days > 0 or self.is_late_for_room

    @property
    def days_late(self) -> int:
        """Days late for the room; else days past the promise."""
        return -self.days_in_hand if self.is_late_for_room else self.overdue_days

    @property
    def bar(self) -> dict[str, date | None]:
        """The days its time bar shows."""
        return {
            "placed": self.order.placed_on,
            "promised": self.expected_on,
            "was": self.was,
            "needed": self.needed_on,
        }

    @property
    def sentence(self) -> str:
        """The time bar in one sentence."""
        placed, expected = clock.day_text(self.order.placed_on), clock.day_text(self.expected_on)
        words = {"material": self.line.material.name, "placed": placed, "expected": expected}
        if self.needed_on is None:
            return _("%(material)s: placed %(placed)s, expected %(expected)s") % words
        words["needed"] = clock.day_text(self.needed_on)
        return _("%(material)s: placed %(placed)s, expected %(expected)s, needed %(needed)s") % words

    @property
    def days_out(self) -> int:
        return lead_time.days_out(self.order.placed_on, self.today)


@dataclass
class ToOrderRow:
    """A material that neither stock nor an order covers, and the first room that needs it.

    Without a usual supplier its lead time is not known; it is late then from the day after it is needed.
    """

    material: Material
    missing_micro: int
    room: OpenRoom
    needed_on: date | None
    last_day: date | None
    today: date
    order_words: str = ""
    cautions: list[str] = field(default_factory=list)
    drafted: list[OrderLine] = field(default_factory=list)

    @property
    def days_left(self) -> int | None:
        last = self.last_day or self.needed_on
        return (last - self.today).days if last else None

    @property
    def is_late(self) -> bool:
        return self.days_left is not None and self.days_left < 0

    @property
    def days_late(self) -> int:
        return max(-(self.days_left or 0), 0)
