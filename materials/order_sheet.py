"""An order gathered for paper: its lines, amounts and dates as the order's page shows them."""

from materials import describing, orders, samples
from materials.documents.order import Due, Line, OrderSheet, Party, order_sheet
from materials.models import Order, OrderLine
from materials.order_lines import amount_minor, total_minor
from workshop import clock
from workshop.letterhead import letterhead, lines_of
from workshop.models import Shop
from workshop.templatetags.figures import quantity as quantity_text

MOST_LINES_OF_ADDRESS = 4


def pdf(order: Order) -> bytes:
    return order_sheet(gathered(order))


def gathered(order: Order) -> OrderSheet:
    """All the document says, as it stands today; a constant number of queries."""
    order = Order.objects.select_related("supplier").prefetch_related("lines__material", "promises").get(pk=order.pk)
    shop, supplier, due = Shop.get(), order.supplier, orders.due(order)
    contact = filter(None, [supplier.contact, supplier.phone, supplier.email])
    return OrderSheet(
        letterhead=letterhead(shop),
        number=str(order),
        language="en-us",
        currency=order.currency,
        paper=shop.paper,
        day=order.placed_on or clock.today(),
        supplier=Party(supplier.name, (*lines_of(supplier.address)[:MOST_LINES_OF_ADDRESS], ", ".join(contact))),
        deliver_to=Party(str(shop), lines_of(shop.address)[:MOST_LINES_OF_ADDRESS]),
        lines=tuple(_line(line, order, shop.unit_system) for line in order.lines.all()),
        freight_minor=order.freight_minor,
        charges_minor=order.charges_minor,
        charges_what=order.charges_what,
        total_minor=total_minor(order),
        lead=orders.lead_text(order),
        placed_on=order.placed_on,
        promised_on=order.promised_on,
        expected_on=due.day if due else None,
        payments=tuple(Due(p.what, p.due_on, p.amount_minor, p.paid_on) for p in order.payments.all()),
        note=lines_of(order.note),
        is_cancelled=order.cancelled_on is not None,
        waits_for=tuple(sample.what for sample in samples.holding([order]).get(order.pk, [])),
    )


def _line(line: OrderLine, order: Order, system: str) -> Line:
    material = line.material
    description = describing.described(material, system)
    parts = filter(None, [description, describing.bought_as(material, line.contains_micro)])
    return Line(
        material=material.name,
        description="; ".join(parts),
        quantity=quantity_text(line.quantity_micro, material.bought_unit),
        price_micro=line.price_micro,
        amount_minor=amount_minor(line, order),
    )
