"""Lines of an order and their amounts: quantity times price, rounded once a line, in the unit that is bought."""

from collections.abc import Callable
from functools import lru_cache

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials import buying
from materials.models import Material, Order, OrderLine, Price, Supplier
from workshop import actions, clock
from workshop.actions import Hand, Record, recorded
from workshop.calculations.costs import cost, rate_from_micro
from workshop.calculations.money import MAX_MINOR, AmountTooLarge
from workshop.calculations.units import edit_quantity, from_micro, quantity
from workshop.language import decimal_mark
from workshop.models import Action
from workshop.templatetags.figures import quantity as quantity_text

# Who stands above and promises parts of a line away puts a function here that tells how much of it is promised.
PROMISED_MICRO: list[Callable[[OrderLine], int]] = []


def amount_minor(line: OrderLine, order: Order) -> int:
    """What a line costs; its material must be at hand."""
    return _amount_minor(line.quantity_micro, line.material.bought_unit, line.price_micro, order.currency)


@lru_cache(maxsize=4096)
def _amount_minor(quantity_micro: int, unit: str, price_micro: int, currency: str) -> int:
    return cost(quantity(from_micro(quantity_micro), unit), rate_from_micro(price_micro, currency, unit))


def total_minor(order: Order) -> int:
    """The sum of the rounded lines, the freight and the other charges."""
    lines = order.lines.all()
    return sum(amount_minor(line, order) for line in lines) + order.freight_minor + order.charges_minor


def add(*, order: Order, material: Material, quantity_micro: int, price_micro: int | None, by: Hand) -> OrderLine:
    with recorded(by, "order_line.add", about=[order, material], number=order.number) as record:
        order = open_order(order)
        line = add_line_to(record, order, material, quantity_micro, price_micro)
        record.words["what"] = said(line)
        record.answer = reverse("materials:order", args=[order.pk])
    return line


def add_line_to(
    record: Record, order: Order, material: Material, quantity_micro: int, price_micro: int | None
) -> OrderLine:
    """A line as part of another action; a price left open is the supplier's last one."""
    if price_micro is None:
        price_micro = last_price(material, order.supplier, order.currency)
        if price_micro is None:
            message = _("The shop knows no price of %(supplier)s for this. Type it, or 0 if it costs nothing.")
            refusal = ValidationError(message, params={"supplier": order.supplier.name})
            raise ValidationError({"price_micro": refusal})
    check_sold(order, material, quantity_micro)
    line = OrderLine(
        order=order,
        material=material,
        quantity_micro=quantity_micro,
        price_micro=price_micro,
        contains_micro=material.buy_contains_micro,
    )
    _check_amount(order, line)
    return record.add(line)


def last_price(material: Material, supplier: Supplier, currency: str) -> int | None:
    """What the supplier asks today, in millionths; None where the shop knows no price."""
    price = asked(material, supplier, currency)
    return price.price_micro if price else None


def asked(material: Material, supplier: Supplier, currency: str) -> Price | None:
    """What the supplier asks today, with its least quantity and packs."""
    return Price.objects.asked(material=material, supplier=supplier, currency=currency, on=clock.today())


def check_sold(order: Order, material: Material, quantity_micro: int) -> None:
    """Refuse a quantity the supplier does not sell, as known today."""
    buying.check_quantity(material, asked(material, order.supplier, order.currency), quantity_micro)


def change(
    *, line: OrderLine, by: Hand, version: int, quantity_micro: int, price_micro: int, is_closed: bool
) -> OrderLine:
    """Another quantity or price; a closed line waits for nothing more."""
    order = line.order
    with recorded(by, "order_line.change", line, about=[order, line.material], number=order.number) as record:
        order = open_order(order)
        if quantity_micro != line.quantity_micro:
            check_sold(order, line.material, quantity_micro)
        closed_on = (line.closed_on or clock.today()) if is_closed else None
        record.answer = reverse("materials:order", args=[order.pk])
        record.save(line, version=version, quantity_micro=quantity_micro, price_micro=price_micro, closed_on=closed_on)
        _check_amount(order, line)
        _check_promised(line)
        record.words["what"] = said(line)
    return line


def remove(*, line: OrderLine, by: Hand) -> None:
    order, material = line.order, line.material
    with recorded(by, "order_line.remove", line, about=[order, material], number=order.number) as record:
        order = open_order(order)
        if order.lines.count() == 1:
            raise ValidationError(_("This is the order's only line. Add another first, or cancel the order."))
        record.words["what"] = said(line)
        record.answer = reverse("materials:order", args=[order.pk])
        record.remove(line)


def open_order(order: Order) -> Order:
    """The order as it is now, if it can still change, with nobody else at it until the transaction ends."""
    order = Order.objects.select_for_update().get(pk=order.pk)
    if order.cancelled_on:
        message = _("Order %(number)s is cancelled. Take that back first, or make a new order.")
        raise ValidationError(message, params={"number": order.number})
    return order


def said(line: OrderLine) -> str:
    """A line in words: Solid ash 8/4, 180 bd ft; Panel screws, 4 boxes (2000 pieces)."""
    return f"{line.material.name}, {buying.line_text(line)}"


def check_charges(order: Order) -> None:
    """Refuse freight and charges that make an order of more than an amount can be."""
    if total_minor(order) > MAX_MINOR:
        message = _("With this the order is more than an amount can be. Check it, or the lines.")
        raise ValidationError({"freight_minor": message})


def _check_promised(line: OrderLine) -> None:
    """Refuse to order less than is promised away."""
    promised = max((ask(line) for ask in PROMISED_MICRO), default=0)
    if line.quantity_micro < promised:
        unit = line.material.bought_unit
        message = _("%(promised)s of it are shared out to jobs. Order that or more, or share out less first.")
        would_do = [edit_quantity(from_micro(promised), unit, decimal_mark())]
        params = {"promised": quantity_text(promised, unit), "would_do": would_do}
        raise ValidationError({"quantity_micro": ValidationError(message, params=params)})


def _check_undo(action: Action) -> None:
    """No way back to less than is promised away since."""
    line = actions.row_of(action.thing)
    if line:
        _check_promised(line)


def _check_amount(order: Order, line: OrderLine) -> None:
    """Refuse a line, or a whole order, of more than an amount can be."""
    try:
        amount = amount_minor(line, order)
    except AmountTooLarge:
        amount = MAX_MINOR + 1
    others = sum(amount_minor(other, order) for other in order.lines.select_related("material").exclude(pk=line.pk))
    if amount + others + order.freight_minor + order.charges_minor > MAX_MINOR:
        message = _("Quantity times price is more than an order can be. Check the quantity, or the price.")
        raise ValidationError({"quantity_micro": message})


actions.say("order_line.add", gettext_lazy("Order %(number)s: %(what)s added"))
actions.say("order_line.change", gettext_lazy("Order %(number)s: now %(what)s"), check_undo=_check_undo)
actions.say("order_line.remove", gettext_lazy("Order %(number)s: %(what)s taken off"))
