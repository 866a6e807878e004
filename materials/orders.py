"""Orders: what was asked of a supplier, when it was placed, and when it was promised.

While no date of the supplier's own is known, the promise follows from the lead time quoted. Each promise
stays as a row of its history, the first from the day the order is placed; the order holds the last.
"""

from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.calculations.lead_time import expected_on
from materials.calculations.open_days import Calendar
from materials.models import Delivery, Material, Order, Promise, Supplier
from materials.numbers import next_number
from materials.order_lines import add_line_to, check_charges, open_order
from materials.suppliers import lead, lead_of
from workshop import actions, clock
from workshop.actions import Hand, recorded
from workshop.models import Action, Shop
from workshop.templatetags import figures


@dataclass(frozen=True)
class Due:
    """When an order is expected: the day, whether it was only worked out, and another day promised before."""

    day: date
    is_computed: bool
    was: date | None

    @property
    def slipped_days(self) -> int:
        """Calendar days later than first said; below nothing where it comes earlier."""
        return (self.day - self.was).days if self.was else 0

    @property
    def is_past(self) -> bool:
        return self.day < clock.today()


def due(order: Order) -> Due | None:
    """When a placed order is expected, None while it is not placed; promises can be prefetched."""
    if order.placed_on is None:
        return None
    promises = [promise.promised_on for promise in order.promises.all()]
    was = promises[1] if len(promises) > 1 and promises[1] != promises[0] else None
    if order.promised_on:
        return Due(Calendar().next_open(order.promised_on), False, was)
    return Due(computed_on(order, order.placed_on), True, was)


def computed_on(order: Order, placed_on: date) -> date:
    """The day that follows from the lead time quoted."""
    return expected_on(placed_on, lead_of(order.lead_count, order.lead_unit), Calendar())


def lead_text(order: Order) -> str:
    """The lead time as it was quoted: 4 weeks, 1 month, 3 working days."""
    return figures.lead(order.lead_count, order.lead_unit)


def deliveries_of(order: Order) -> list[Delivery]:
    """The deliveries of which something was counted to the order, oldest first."""
    found = Delivery.objects.filter(lines__order_line__order=order).distinct()
    return list(found.order_by("number"))


def add(
    *,
    by: Hand,
    supplier: Supplier,
    material: Material,
    quantity_micro: int,
    price_micro: int | None = None,
    lead_count: int | None = None,
    lead_unit: str = "",
    **fields: object,
) -> Order:
    """An order with its first line; price and lead time left open are the supplier's last and usual ones."""
    if lead_count is None:
        lead_count, lead_unit = supplier.lead_count, lead_unit or supplier.lead_unit
    lead(lead_count, lead_unit or supplier.lead_unit)
    check_what_for(**fields)
    currency = Shop.get().currency
    with recorded(by, "order.add", about=[supplier, material], supplier=supplier.name) as record:
        order = Order(
            number=next_number(Order),
            supplier=supplier,
            currency=currency,
            lead_count=lead_count,
            lead_unit=lead_unit or supplier.lead_unit,
            **fields,
        )
        record.add(order)
        record.words["number"] = order.number
        add_line_to(record, order, material, quantity_micro, price_micro)
        record.answer = reverse("materials:order", args=[order.pk])
    return order


def check_what_for(charges_minor: int = 0, charges_what: str = "", **_others: object) -> None:
    """Refuse a charge that does not say what it is for."""
    if charges_minor and not charges_what:
        message = _("What is it charged for? Type for instance Pallet or Cutting.")
        params = {"would_do": [_("Pallet"), _("Cutting")]}
        raise ValidationError({"charges_what": ValidationError(message, params=params)})


def change(*, order: Order, by: Hand, version: int, **fields: object) -> Order:
    """What is agreed with the supplier; once placed, a new date is a promise, not a change."""
    lead(fields["lead_count"], fields["lead_unit"])
    check_what_for(**fields)
    with recorded(by, "order.change", order, about=[order.supplier], number=order.number) as record:
        if order.placed_on:
            fields.pop("promised_on", None)
        record.answer = reverse("materials:order", args=[order.pk])
        record.save(order, version=version, **fields)
        check_charges(order)
        if order.placed_on and order.promised_on is None:
            first = order.promises.select_for_update().order_by("pk").first()
            record.save(first, promised_on=computed_on(order, order.placed_on))
    return order


def place(*, order: Order, placed_on: date, by: Hand) -> Order:
    about = [order.supplier]
    with recorded(by, "order.place", order, about=about, number=order.number, supplier=str(order.supplier)) as record:
        order = open_order(order)
        if order.placed_on:
            message = _("Order %(number)s was placed on %(day)s. Take that back first, or leave it.")
            raise ValidationError(message, params={"number": order.number, "day": clock.day_text(order.placed_on)})
        if placed_on > clock.today():
            message = _("%(day)s is still to come. Place it today, or on a day before.")
            raise ValidationError({"placed_on": ValidationError(message, params={"day": clock.day_text(placed_on)})})
        promised = order.promised_on or computed_on(order, placed_on)
        if promised < placed_on:
            message = _("It is promised for %(day)s, before it is placed. Change the promise, or this day.")
            raise ValidationError({"placed_on": ValidationError(message, params={"day": clock.day_text(promised)})})
        record.save(order, placed_on=placed_on)
        record.add(Promise(order=order, promised_on=promised, told_on=placed_on))
        record.about(*(line.material for line in order.lines.select_related("material")))
        record.words["due"] = clock.day_text(promised)
        record.answer = reverse("materials:order", args=[order.pk])
    return order


def promise(*, order: Order, promised_on: date, told_on: date, note: str, by: Hand) -> Promise:
    """Another date from the supplier; the one before stays in the history."""
    about = [order, order.supplier]
    with recorded(by, "promise.add", order, about=about, number=order.number) as record:
        order = open_order(order)
        if order.placed_on is None:
            raise ValidationError(_("Place the order first, or write the date in the order itself."))
        if promised_on < order.placed_on:
            message = _("It was placed on %(day)s. Type that day, or a later one.")
            day = clock.day_text(order.placed_on)
            raise ValidationError({"promised_on": ValidationError(message, params={"day": day})})
        before = due(order)
        promised = record.add(Promise(order=order, promised_on=promised_on, told_on=told_on, note=note))
        record.save(order, promised_on=promised_on)
        record.words |= {"day": clock.day_text(promised_on), "was": clock.day_text(before.day)}
        record.answer = reverse("materials:order", args=[order.pk])
    return promised


def cancel(*, order: Order, why: str, by: Hand) -> Order:
    about = [order.supplier]
    with recorded(by, "order.cancel", order, about=about, number=order.number, why=why) as record:
        order = open_order(order)
        if order.lines.filter(delivery_lines__kept_micro__gt=0).exists():
            message = _("Part of it arrived. Close the lines that will not come, or wait for them.")
            raise ValidationError(message)
        record.save(order, cancelled_on=clock.today(), cancelled_why=why)
        record.answer = reverse("materials:order", args=[order.pk])
    return order


def _check_undo(action: Action) -> None:
    """No way back from placing an order of which something came since."""
    order = actions.row_of(action.thing)
    if order and order.lines.filter(delivery_lines__isnull=False).exists():
        message = _("Not taken back: a delivery of order %(number)s is counted. Take the count back first.")
        raise ValidationError(message, params={"number": order.number})


actions.say("order.add", gettext_lazy("Order %(number)s made for %(supplier)s"))
actions.say("order.change", gettext_lazy("Order %(number)s changed"))
actions.say(
    "order.place", gettext_lazy("Order %(number)s placed with %(supplier)s, due %(due)s"), check_undo=_check_undo
)
actions.say("promise.add", gettext_lazy("Order %(number)s: promised %(day)s, was %(was)s"))
actions.say("order.cancel", gettext_lazy("Order %(number)s cancelled: %(why)s"))
