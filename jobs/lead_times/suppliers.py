"""How suppliers keep their word: lead times quoted against what came of them."""

from collections import defaultdict
from dataclasses import dataclass

from django.db.models import Max

from jobs.lead_times.kept import kept
from materials.calculations import lead_time
from materials.models import Order, OrderLine, Supplier
from materials.orders import computed_on


@dataclass
class SupplierRow:
    supplier: Supplier
    record: lead_time.LeadStatistics


def supplier_records() -> list[SupplierRow]:
    """Quoted against actual for each supplier's orders that arrived whole."""
    return kept("supplier-records", _work_out)


def _work_out() -> list[SupplierRow]:
    arrived = (
        Order.objects.filter(placed_on__isnull=False, cancelled_on=None)
        .exclude(pk__in=OrderLine.objects.outstanding().values("order"))
        .annotate(last=Max("lines__delivery_lines__delivery__arrived_on"))
        .filter(last__isnull=False)
        .select_related("supplier")
    )
    pairs: dict[Supplier, list[tuple[int, int]]] = defaultdict(list)
    for order in arrived:
        quoted = (computed_on(order, order.placed_on) - order.placed_on).days
        pairs[order.supplier].append((quoted, (order.last - order.placed_on).days))
    rows = [SupplierRow(supplier, lead_time.lead_statistics(found)) for supplier, found in pairs.items()]
    return sorted(rows, key=lambda row: row.supplier.name)
