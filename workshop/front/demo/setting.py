"""What all of the demo shares: its people, its days and how its amounts are read."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import NamedTuple

from jobs.models import Job, Room
from materials.calculations.open_days import Calendar
from materials.models import Delivery, Material, Order, Supplier
from workshop import clock
from workshop.actions import Hand
from workshop.calculations import money, units
from workshop.models import Person

CURRENCY = "USD"


class Step(NamedTuple):
    """Something that happens on a day, counted from today."""

    day: int
    take: Callable[[], object]


@dataclass
class Setting:
    """The scenario, and what was made of it so far by the names it gives."""

    scenario: dict
    today: date
    password: str
    people: dict[str, Person] = field(default_factory=dict)
    orders: dict[str, Order] = field(default_factory=dict)
    deliveries: dict[str, Delivery] = field(default_factory=dict)

    def on(self, offset: int) -> date:
        return self.today + timedelta(days=offset)

    def worked(self, offset: int) -> date:
        """The day, or the open day before where it is past and was closed."""
        return Calendar().open_before(self.on(offset)) if offset < 0 else self.on(offset)

    def by(self, username: str = "demo") -> Hand:
        return Hand(person=self.people[username])


def now() -> date:
    """The day of the step that is taken."""
    return clock.today()


def micro(text: str, unit: str) -> int:
    return units.to_micro(units.read_quantity(text, unit))


def price(text: str) -> int:
    return money.amount_to_micro(money.read_price(text, CURRENCY))


def minor(text: str) -> int:
    return money.to_minor(money.read_money(text, CURRENCY), CURRENCY)


def material_of(name: str) -> Material:
    return Material.objects.get(name=name)


def supplier_of(name: str) -> Supplier:
    return Supplier.objects.get(name=name)


def job_of(name: str) -> Job:
    return Job.objects.get(name=name)


def room_of(name: str) -> Room:
    return Room.objects.select_related("job").get(name=name)
