"""What is on its way, what must be ordered by when, and which room waits for it.

Reading order: days (when an order comes, when a room needs it), supply (what rooms need and what is here), rows,
outlook (all of it put together), late (what of it is late), suppliers (how they keep their word).
"""

from jobs.lead_times.days import earlier_promise, expected_on, last_day, needed_on
from jobs.lead_times.late import days_late, late_by_room, late_count, late_words
from jobs.lead_times.outlook import Outlook, outlook, scale_of
from jobs.lead_times.rows import OrderRow, ToOrderRow
from jobs.lead_times.suppliers import SupplierRow, supplier_records
from jobs.lead_times.supply import free_stock, given_by_room, open_needs

__all__ = [
    "OrderRow",
    "Outlook",
    "SupplierRow",
    "ToOrderRow",
    "days_late",
    "earlier_promise",
    "expected_on",
    "free_stock",
    "given_by_room",
    "last_day",
    "late_by_room",
    "late_count",
    "late_words",
    "needed_on",
    "open_needs",
    "outlook",
    "scale_of",
    "supplier_records",
]
