"""How suppliers keep their word: lead times quoted against what came of them."""

from collections import defaultdict
from dataclasses import dataclass

from django.db.models import Max

from jobs.lead_times.days import computed_on
from materials.calculations import lead_time
from materials.models import Order, OrderLine, Supplier


@dataclass
class SupplierRow:
    supplier: Supplier
    record: lead_time.LeadStatistics


def supplier_records() -> list[SupplierRow]:
    """Quoted against actual for each supplier's orders that arrived whole; one query."""
    arrived = (
        Order.objects.filter(placed_on__isnull=False, cancelled_on=None)
        .exclude(pk__in=OrderLine.objects.outstanding().values("order"))
        .annotate(last=Max("lines__delivery_lines__delivery__arrived_on"))
        .filter(last__isnull=False)
        .select_related("supplier")
    )
    pairs: dict[Supplier, list[tuple[int, int]]] = defaultdict(list)
    for order in arrived:
        quoted = (computed_on(order) - order.placed_on).days
        pairs[order.supplier].append((quoted, (order.last - order.placed_on).days))
    rows = [SupplierRow(supplier, lead_time.lead_statistics(found)) for supplier, found in pairs.items()]
    return sorted(rows, key=lambda row: row.supplier.name)
