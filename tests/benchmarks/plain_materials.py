"""Plain lists of what is bought and of the sheets; see `tests.benchmarks.plain`."""

from collections.abc import Sequence
from dataclasses import replace

from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet, Subquery, Sum

from jobs.models import Given
from materials import leading_on
from materials.models import (
    Delivery,
    Lot,
    Material,
    Order,
    OrderLine,
    Price,
    Sample,
    Sheet,
    SheetReturn,
    Supplier,
    ToneGroup,
)
from tests.benchmarks.plain import Plain


def orders(_pk: int) -> QuerySet[Order]:
    """Each order with its lines and whether something is to come."""
    lines = OrderLine.objects.filter(order=OuterRef("pk")).annotate(came=Sum("delivery_lines__kept_micro"))
    to_come = lines.filter(Q(came=None) | Q(came__lt=F("quantity_micro")))
    found = Order.objects.select_related("supplier").prefetch_related("lines__material")
    return found.annotate(to_come=Exists(to_come)).order_by("-number")


def totals(page: Sequence[Order]) -> None:
    for order in page:
        lines = order.lines.all()
        order.total = sum(line.quantity_micro * line.price_micro for line in lines) / 1_000_000**2


def lots(_pk: int) -> QuerySet[Lot]:
    here = Sheet.objects.filter(lot=OuterRef("pk"), left_on=None).order_by().values("lot")
    given = Given.objects.filter(half__sheet__lot=OuterRef("pk")).order_by().values("half__sheet__lot")
    return Lot.objects.select_related("material").annotate(
        sheets_here=Subquery(here.annotate(n=Count("pk")).values("n")),
        sheets_given=Subquery(given.annotate(n=Count("half__sheet", distinct=True)).values("n")),
        unsorted=Subquery(here.filter(tone_group=None).annotate(n=Count("pk")).values("n")),
    )


def lots_to_sort(pk: int) -> QuerySet[Lot]:
    unsorted = Sheet.objects.filter(tone_group=None, set_aside_on=None, left_on=None)
    return lots(pk).filter(pk__in=unsorted.values("lot"))[:50]


def sheets(found: QuerySet[Sheet]) -> QuerySet[Sheet]:
    room = Given.objects.filter(half__sheet=OuterRef("pk")).values("room__name")[:1]
    return found.select_related("lot__material", "tone_group").annotate(in_room=Subquery(room))


def all_sheets(_pk: int) -> QuerySet[Sheet]:
    return sheets(Sheet.objects.filter(left_on=None)).order_by("-lot_id", "number")


def free_sheets(_pk: int) -> QuerySet[Sheet]:
    """Sheets of one tone group that no room has, the oldest first."""
    free = Sheet.objects.filter(left_on=None, tone_group__name="Honey")
    return sheets(free.exclude(Exists(Given.objects.filter(half__sheet=OuterRef("pk"))))).order_by("lot_id", "number")


def stacks(pk: int) -> QuerySet[ToneGroup]:
    of_lot = Q(sheets__lot=pk)
    given = Count("sheets", filter=of_lot & Q(sheets__halves__given__isnull=False), distinct=True)
    return ToneGroup.objects.filter(of_lot).annotate(n=Count("sheets", filter=of_lot, distinct=True), given=given)


def materials(_pk: int) -> QuerySet[Material]:
    latest = Price.objects.filter(material=OuterRef("pk"), supplier=OuterRef("usual_supplier")).order_by("-from_on")
    return Material.objects.select_related("usual_supplier").annotate(asked=Subquery(latest.values("price_micro")[:1]))


SAMPLES = Sample.objects.select_related("material", "order__supplier")
SAMPLE = """
    <a href="{% url 'materials:sample' row.pk %}">{{ row.what }}</a>
    {{ row.material.name }}
    {{ row.sent_to }} {{ row.sent_on|date:"D, M j" }}
    {{ row.answered_on|date:"D, M j" }} {{ row.is_approved }}
    {% if row.order %}{{ row.order.number }} {{ row.order.supplier.name }}{% endif %}
    """
RETURNS = SheetReturn.objects.select_related("sheet__lot__delivery_line__delivery__supplier")
RETURN = """
    <a href="{% url 'materials:return' row.pk %}">Sheet {{ row.sheet.number }} of lot {{ row.sheet.lot.number }}</a>
    {{ row.sheet.lot.delivery_line.delivery.supplier.name }}
    {{ row.why }}
    {{ row.collected_on|date:"D, M j" }}
    {{ row.credit_expected_minor|floatformat:2 }}
    """
ORDERS = Plain(
    "All orders",
    orders,
    """
    <a href="{% url 'materials:order' row.pk %}">Order {{ row.number }}</a>
    {{ row.supplier.name }}
    {% for line in row.lines.all %}{{ line.material.name }} {{ line.quantity_micro }}; {% endfor %}
    Promised {{ row.promised_on|date:"D, M j" }}
    {% if row.to_come %}Placed{% else %}All arrived{% endif %}
    {{ row.total|floatformat:2 }}
    """,
    more=totals,
)
DELIVERY = """
    <a href="{% url 'materials:delivery' row.pk %}">Delivery {{ row.number }}, {{ row.supplier.name }}</a>
    {{ row.slip_number }}
    {{ row.arrived_on|date:"D, M j" }}
    """
DELIVERIES = Plain(
    "Deliveries",
    lambda pk: Delivery.objects.exclude(counted_on=None).select_related("supplier"),
    DELIVERY,
    before={"to_count": (lambda pk: Delivery.objects.filter(counted_on=None).select_related("supplier"), DELIVERY)},
)
SHEETS = Plain(
    "All sheets",
    all_sheets,
    """
    <a href="{% url 'materials:sheet' row.pk %}">{{ row.lot.number }}-{{ row.number }}</a>
    {{ row.lot.material.name }}
    {{ row.tone_group.name }}
    {{ row.in_room }}
    {{ row.landed_minor|floatformat:2 }}
    """,
)

PLAIN = {
    "suppliers": Plain(
        "Suppliers",
        lambda pk: Supplier.objects.all(),
        """
        <a href="{% url 'materials:supplier' row.pk %}">{{ row.name }}</a>
        {{ row.contact }} {{ row.phone }}
        {{ row.lead_count }} {{ row.get_lead_unit_display }}
        """,
    ),
    "materials": Plain(
        "Materials",
        materials,
        """
        <a href="{% url 'materials:material' row.pk %}">{{ row.name }}</a>
        {{ row.get_kind_display }} {{ row.thickness_nm }} {{ row.width_nm }} {{ row.length_nm }}
        {{ row.usual_supplier.name }}
        {{ row.asked|floatformat:2 }} per {{ row.unit }}
        """,
    ),
    "orders": replace(ORDERS, rows=lambda pk: orders(pk).filter(to_come=True)),
    "all-orders": ORDERS,
    "orders-found": replace(ORDERS, rows=lambda pk: orders(pk).filter(supplier__name__icontains="Supplier 1")),
    "deliveries": DELIVERIES,
    "deliveries-found": replace(DELIVERIES, rows=lambda pk: DELIVERIES.rows(pk).filter(slip_number__icontains="S-1")),
    "lots": Plain(
        "Lots",
        lots,
        LOT := """
        <a href="{% url 'materials:lot' row.pk %}">Lot {{ row.number }}, {{ row.material.name }}</a>
        {{ row.arrived_on|date:"D, M j" }}
        {{ row.sheets_given }} given
        {{ row.unsorted }} to sort
        of {{ row.sheets_here }} sheets
        """,
        before={"to_sort": (lots_to_sort, LOT)},
    ),
    "lot": Plain(
        "Sheets of a lot",
        lambda pk: sheets(Sheet.objects.filter(lot=pk)),
        """
        <a href="{% url 'materials:sheet' row.pk %}">{{ row.number }}</a>
        {{ row.tone_group.name }}, place {{ row.place }}
        {{ row.in_room }}
        {{ row.landed_minor|floatformat:2 }}
        """,
        before={
            "give": (
                lambda pk: [leading_on.next_url(Lot.objects.select_related("material").get(pk=pk))],
                "<a href='{{ row }}'>Give to rooms</a>",
            ),
            "stacks": (stacks, "{{ row.name }} {{ row.given }} given of {{ row.n }}"),
        },
    ),
    "sheets": SHEETS,
    "sheets-found": replace(SHEETS, rows=lambda pk: all_sheets(pk).filter(lot__number=8, number=31)),
    "sheets-unsorted": replace(
        SHEETS, rows=lambda pk: all_sheets(pk).filter(tone_group=None, set_aside_on=None).order_by("lot_id", "number")
    ),
    "sheets-of-tone": replace(
        SHEETS, rows=lambda pk: all_sheets(pk).filter(tone_group__name="Honey").order_by("lot_id", "number")
    ),
    "sheets-free": replace(SHEETS, rows=free_sheets),
    "samples": Plain(
        "Samples",
        lambda pk: SAMPLES.exclude(answered_on=None),
        SAMPLE,
        before={"waiting": (lambda pk: SAMPLES.filter(answered_on=None)[:50], SAMPLE)},
    ),
    "returns": Plain(
        "Returns",
        lambda pk: RETURNS.exclude(collected_on=None),
        RETURN,
        before={"to_collect": (lambda pk: RETURNS.filter(collected_on=None), RETURN)},
    ),
}
