"""Deliveries in two steps: taken in while the driver waits, counted later.

Counting makes the lots. What was kept of one line is one lot; its sheets are numbered from 1, each with its
two halves and its landed cost. All of it is one action, so that it is there whole or not at all.
"""

from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.calculations import landed_cost
from materials.calculations.landed_cost import LandedLine
from materials.calculations.sheet_numbers import show_sheet_numbers
from materials.counted import Counted, check, overs_of, said
from materials.models import (
    Delivery,
    DeliveryLine,
    DeliveryPhoto,
    Half,
    Lot,
    Material,
    Order,
    OrderLine,
    Sheet,
    Supplier,
)
from materials.numbers import next_number
from materials.order_lines import last_price
from workshop import actions, clock, photos
from workshop.actions import Hand, Record, recorded
from workshop.calculations.costs import rate_from_micro
from workshop.calculations.money import AmountTooLarge
from workshop.calculations.units import MICRO, from_micro
from workshop.models import Shop
from workshop.photos import Picture


class SlipTakenIn(ValidationError):
    """The packing slip was taken in before: `delivery` is what it was taken in as."""

    def __init__(self, delivery: Delivery) -> None:
        message = _("Slip %(slip)s was taken in as delivery %(number)s on %(day)s. Open that one, or check the slip.")
        day = clock.day_text(delivery.arrived_on)
        words = {"slip": delivery.slip_number, "number": delivery.number, "day": day}
        super().__init__({"slip_number": ValidationError(message, params=words)})
        self.delivery = delivery


def take_in(
    *, by: Hand, supplier: Supplier, slip_number: str, pictures: Sequence[Picture] = (), **fields: object
) -> Delivery:
    slip_number = " ".join(slip_number.split())
    told = {"supplier": supplier.name, "slip": slip_number}
    with (
        photos.stored(pictures, by.person) as taken,
        recorded(by, "delivery.take_in", about=[supplier], **told) as record,
    ):
        number = next_number(Delivery)
        if first := Delivery.objects.of_slip(supplier, slip_number).first():
            raise SlipTakenIn(first)
        currency = Shop.get().currency
        delivery = Delivery(number=number, supplier=supplier, slip_number=slip_number, currency=currency, **fields)
        record.add(delivery)
        for photo in taken:
            record.add(DeliveryPhoto(delivery=delivery, photo=record.add(photo)))
        record.words["number"] = number
        record.answer = reverse("materials:delivery", args=[delivery.pk])
    return delivery


def expected_lines(delivery: Delivery) -> list[OrderLine]:
    """What this supplier still has to bring: the outstanding lines of the orders placed, oldest first."""
    lines = OrderLine.objects.outstanding().filter(
        order__supplier=delivery.supplier_id, order__placed_on__isnull=False, order__cancelled_on=None
    )
    return list(lines.select_related("order__supplier", "material").order_by("order__number", "pk"))


def count(*, delivery: Delivery, rows: Sequence[Counted], by: Hand, freight_minor: int | None = None) -> Delivery:
    """Log what came and make its lots; freight left open is what the orders that came first quote."""
    rows = [row for row in rows if not row.is_empty]
    currency = _currency(delivery, rows)
    prices = [_price_micro(delivery, row, currency) for row in rows]
    freight = quoted_freight(rows) if freight_minor is None else freight_minor
    costs = _landed(rows, prices, currency, freight)
    number = delivery.number
    with recorded(by, "delivery.count", delivery, about=[delivery.supplier], number=number) as record:
        delivery = Delivery.objects.select_for_update().get(pk=delivery.pk)
        if delivery.counted_on:
            message = _("Delivery %(number)s is counted already. Look at it, or take the count back first.")
            raise ValidationError(message, params={"number": number})
        overs = overs_of(rows)
        record.words["what"] = said(rows, overs)
        record.save(delivery, counted_on=clock.today(), currency=currency, freight_minor=freight)
        lot_number = next_number(Lot)
        for row, price_micro, landed in zip(rows, prices, costs, strict=True):
            lot = _add_lot(record, delivery, row, landed, lot_number)
            lot_number += lot is not None
            _add_line(record, delivery, row, price_micro, landed, lot, overs[row.name])
        record.answer = reverse("materials:delivery", args=[delivery.pk])
    return delivery


def quoted_freight(rows: Sequence[Counted]) -> int:
    """The freight and other charges of the orders of which something comes for the first time."""
    came = {row.order_line.order_id for row in rows if row.order_line and row.kept_micro}
    before = DeliveryLine.objects.filter(order_line__order__in=came, kept_micro__gt=0)
    firsts = Order.objects.filter(pk__in=came).exclude(pk__in=before.values("order_line__order"))
    return sum(order.freight_minor + order.charges_minor for order in firsts)


def tell_more(lines: Sequence[DeliveryLine]) -> None:
    """Set on each line which sheets are damaged, and what of too many stayed and was refused; one query."""
    lots = {line.lot_id: line for line in lines if line.lot_id}
    numbers: dict[int, list[int]] = {}
    damaged = Sheet.objects.filter(lot__in=lots, is_damaged=True).order_by("number")
    for lot, number in damaged.values_list("lot", "number"):
        numbers.setdefault(lot, []).append(number)
    for line in lines:
        found = numbers.get(line.lot_id, [])
        line.damaged_sheets = show_sheet_numbers(found)
        line.over_refused_micro = min(line.over_micro, line.refused_micro)
        line.over_kept_micro = line.over_micro - line.over_refused_micro
        line.has_last_damaged = bool(found) and found[0] + len(found) - 1 == line.kept_micro // MICRO


def _currency(delivery: Delivery, rows: Sequence[Counted]) -> str:
    if not rows:
        raise ValidationError(_("Nothing is counted yet. Type how many came beside what came, or leave the page."))
    currencies = {row.order_line.order.currency for row in rows if row.order_line}
    if len(currencies) > 1:
        message = _("These orders are in %(one)s and %(two)s. Take them in as two deliveries, one for each.")
        one, two = sorted(currencies)[:2]
        raise ValidationError(message, params={"one": one, "two": two})
    return currencies.pop() if currencies else delivery.currency


def _price_micro(delivery: Delivery, row: Counted, currency: str) -> int:
    """What was typed, else what the order says, else what the supplier asks last, else nothing."""
    if row.price_micro is not None:
        return row.price_micro
    if row.order_line:
        return row.order_line.price_micro
    return last_price(row.material, delivery.supplier, currency) or 0


def _landed(
    rows: Sequence[Counted], prices: Sequence[int], currency: str, freight_minor: int
) -> tuple[LandedLine, ...]:
    lines = []
    for row, price_micro in zip(rows, prices, strict=True):
        check(row)
        rate = rate_from_micro(price_micro, currency, row.material.bought_unit)
        refused, short = from_micro(row.refused_micro), from_micro(row.short_micro)
        line = landed_cost.DeliveryLine(from_micro(row.kept_micro), rate, refused, row.is_billed, short, row.is_billed)
        try:
            landed_cost.landed([line], 0)
        except AmountTooLarge as error:
            message = _("Count times price is more than an amount can be. Check the count, or the price.")
            raise ValidationError({f"good_{row.name}": message}) from error
        lines.append(line)
    return landed_cost.landed(lines, freight_minor).lines


def _add_lot(record: Record, delivery: Delivery, row: Counted, landed: LandedLine, number: int) -> Lot | None:
    if not row.kept_micro or row.material.kind == Material.Kind.SERVICE:
        return None
    lot = Lot(
        number=number,
        material=row.material,
        quantity_micro=row.lot_micro,
        landed_minor=landed.total_minor,
        currency=delivery.currency,
        batch_number=row.batch_number,
        use_by_on=row.use_by_on,
        arrived_on=delivery.arrived_on,
    )
    record.add(lot)
    record.about(lot)
    if row.material.is_sheet:
        kept, good = row.kept_micro // MICRO, row.good_micro // MICRO
        damaged = set(row.damaged_numbers or range(good + 1, kept + 1))
        sheets = [
            Sheet(lot=lot, number=place, landed_minor=cost, is_damaged=place in damaged)
            for place, cost in enumerate(landed.pieces_minor, 1)
        ]
        made = record.add_many(sheets)
        record.add_many([Half(sheet=sheet, side=side) for sheet in made for side in Half.Side.values])
    return lot


def _add_line(
    record: Record,
    delivery: Delivery,
    row: Counted,
    price_micro: int,
    landed: LandedLine,
    lot: Lot | None,
    over_micro: int,
) -> None:
    line = DeliveryLine(
        delivery=delivery,
        material=row.material,
        order_line=row.order_line,
        kept_micro=row.kept_micro,
        damaged_micro=row.damaged_micro,
        refused_micro=row.refused_micro,
        over_micro=over_micro,
        short_micro=row.short_micro,
        is_billed_for_missing=row.is_billed,
        price_micro=price_micro,
        landed_minor=landed.total_minor,
        lot=lot,
    )
    record.add(line)
    record.about(row.material, *([row.order_line.order] if row.order_line else []))


actions.say("delivery.take_in", gettext_lazy("Delivery %(number)s of %(supplier)s taken in, slip %(slip)s"))
actions.say("delivery.count", gettext_lazy("Delivery %(number)s counted: %(what)s"))
