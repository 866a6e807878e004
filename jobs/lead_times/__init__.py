"""What is on its way, what must be ordered by when, and which room waits for it.

Reading order: days (when a room needs its material, when to order it), supply (what rooms need, what is here), rows,
outlook (all of it put together), kept (what is worked out once after each action), late (what of it is late),
suppliers (how they keep their word).
"""

from jobs.lead_times.days import last_day, needed_on
from jobs.lead_times.late import Delay, delays, late_by_room, late_count, late_words
from jobs.lead_times.outlook import Outlook, outlook, scale_of
from jobs.lead_times.rows import OrderRow, ToOrderRow
from jobs.lead_times.suppliers import SupplierRow, supplier_records
from jobs.lead_times.supply import free_stock, given_by_room, kept_stock, open_needs

__all__ = [
    "Delay",
    "OrderRow",
    "Outlook",
    "SupplierRow",
    "ToOrderRow",
    "delays",
    "free_stock",
    "given_by_room",
    "kept_stock",
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
