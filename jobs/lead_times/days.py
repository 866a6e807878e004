"""When an order is expected, when a room needs its material, and the last day to order it."""

from datetime import date

from jobs.models import Room
from materials.calculations import lead_time
from materials.calculations.lead_time import LONGEST_LEAD, MOST_DAYS_TO_PREPARE, LeadTime
from materials.calculations.open_days import Calendar
from materials.models import Material, Order

CALENDAR = Calendar()


def lead_of(count: int, unit: str) -> LeadTime:
    """A lead time as it is kept; one too long to plan with, which no form takes, counts as the longest there is."""
    unit = unit if unit in LONGEST_LEAD else "days"
    return LeadTime(min(count, LONGEST_LEAD[unit]), unit)


def computed_on(order: Order) -> date:
    """When an order placed is due by the lead time quoted."""
    return lead_time.expected_on(order.placed_on, lead_of(order.lead_count, order.lead_unit), CALENDAR)


def expected_on(order: Order) -> date:
    """The supplier's own date, else what follows from the lead time quoted."""
    return CALENDAR.next_open(order.promised_on) if order.promised_on else computed_on(order)


def earlier_promise(order: Order) -> date | None:
    """What was promised before the promise that counts now, where it was another day."""
    promises = list(order.promises.all())
    if len(promises) < 2 or promises[1].promised_on == promises[0].promised_on:
        return None
    return promises[1].promised_on


def needed_on(room: Room, prepare_days: int) -> date | None:
    """The day a room's material must be here: before its work starts, or before it is wanted if that is all we know."""
    first = room.starts_on or room.wanted_on
    days = min(prepare_days, MOST_DAYS_TO_PREPARE)
    return lead_time.material_needed_on(first, days, CALENDAR) if first else None


def last_day(material: Material, needed: date | None) -> date | None:
    """The last day to order a material of its usual supplier; None where day or supplier is not known."""
    supplier = material.usual_supplier
    if needed is None or supplier is None:
        return None
    return lead_time.last_day_to_order(needed, lead_of(supplier.lead_count, supplier.lead_unit), CALENDAR)
