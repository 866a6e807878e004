"""When a room needs its material, and the last day to order it; `materials.orders.due` says when an order comes."""

from datetime import date

from jobs.lead_times.supply import OpenRoom
from materials.calculations import lead_time
from materials.calculations.lead_time import MOST_DAYS_TO_PREPARE
from materials.calculations.open_days import Calendar
from materials.models import Material
from materials.suppliers import lead_of

CALENDAR = Calendar()


def needed_on(room: OpenRoom, prepare_days: int) -> date | None:
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
