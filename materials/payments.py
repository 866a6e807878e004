"""Deposits and payments an order asks for: due on a day, paid once they are. The owner's alone, as all money."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.models import Order, OrderPayment
from materials.order_lines import open_order, total_minor
from workshop import actions, clock
from workshop.actions import Hand, Record, recorded
from workshop.calculations.money import MAX_MINOR

MOST_PAYMENTS = 24


@dataclass(frozen=True)
class Standing:
    """The payments of an order, and what of its total none of them speaks of yet."""

    payments: list[OrderPayment]
    paid_minor: int
    open_minor: int
    unplanned_minor: int
    overdue: list[OrderPayment]


def standing(order: Order) -> Standing:
    """What of an order is paid, what is due, and what has no day yet; tax the supplier adds is not in it."""
    found = list(order.payments.all())
    paid = sum(payment.amount_minor for payment in found if payment.paid_on)
    planned = sum(payment.amount_minor for payment in found)
    late = [] if order.cancelled_on else [p for p in found if not p.paid_on and p.due_on < clock.today()]
    return Standing(found, paid, planned - paid, total_minor(order) - planned, late)


def overdue(orders: Iterable[Order]) -> dict[int, list[OrderPayment]]:
    """The payments past their day of these orders, by order; one query."""
    found: dict[int, list[OrderPayment]] = defaultdict(list)
    for payment in OrderPayment.objects.overdue(clock.today()).filter(order__in=list(orders)):
        found[payment.order_id].append(payment)
    return found


def add(*, order: Order, by: Hand, what: str, due_on: date, amount_minor: int) -> OrderPayment:
    with recorded(by, "payment.add", about=[order], number=order.number, what=what) as record:
        order = open_order(order)
        _check_sum(order, amount_minor)
        payment = record.add(OrderPayment(order=order, what=what, due_on=due_on, amount_minor=amount_minor))
        record.words["due"] = clock.day_text(due_on)
        record.answer = reverse("materials:order", args=[order.pk])
    return payment


def change(
    *, payment: OrderPayment, by: Hand, version: int, what: str, due_on: date, amount_minor: int, paid_on: date | None
) -> OrderPayment:
    order = payment.order
    with recorded(by, "payment.change", payment, about=[order], number=order.number, what=what) as record:
        _check_paid(paid_on)
        _check_sum(order, amount_minor, payment)
        _answer(record, order)
        changes = {"what": what, "due_on": due_on, "amount_minor": amount_minor, "paid_on": paid_on}
        record.save(payment, version=version, **changes)
    return payment


def pay(*, payment: OrderPayment, paid_on: date, by: Hand) -> OrderPayment:
    order = payment.order
    with recorded(by, "payment.pay", payment, about=[order], number=order.number, what=payment.what) as record:
        payment = OrderPayment.objects.select_for_update().get(pk=payment.pk)
        if payment.paid_on:
            message = _("%(what)s was paid on %(day)s. Open it to change the day.")
            params = {"what": payment.what, "day": clock.day_text(payment.paid_on)}
            raise ValidationError(message, params=params)
        _check_paid(paid_on)
        record.save(payment, paid_on=paid_on)
        record.words["day"] = clock.day_text(paid_on)
        _answer(record, order)
    return payment


def remove(*, payment: OrderPayment, by: Hand) -> None:
    order = payment.order
    with recorded(by, "payment.remove", payment, about=[order], number=order.number, what=payment.what) as record:
        _answer(record, order)
        record.remove(payment)


def _answer(record: Record, order: Order) -> None:
    record.answer = reverse("materials:order", args=[order.pk])


def _check_paid(paid_on: date | None) -> None:
    if paid_on and paid_on > clock.today():
        message = _("%(day)s is still to come. Type the day it was paid, or leave it empty.")
        raise ValidationError({"paid_on": ValidationError(message, params={"day": clock.day_text(paid_on)})})


def _check_sum(order: Order, amount_minor: int, payment: OrderPayment | None = None) -> None:
    others = [each for each in order.payments.all() if each != payment]
    if payment is None and len(others) >= MOST_PAYMENTS:
        message = _("An order has %(most)s payments at most. Change one of them, or take one off.")
        raise ValidationError(message, params={"most": MOST_PAYMENTS})
    if amount_minor + sum(each.amount_minor for each in others) > MAX_MINOR:
        raise ValidationError({"amount_minor": _("The payments come to more than can be paid. Check the amount.")})


actions.say("payment.add", gettext_lazy("Order %(number)s: %(what)s due %(due)s"))
actions.say("payment.change", gettext_lazy("Order %(number)s: %(what)s changed"))
actions.say("payment.pay", gettext_lazy("Order %(number)s: %(what)s paid %(day)s"))
actions.say("payment.remove", gettext_lazy("Order %(number)s: %(what)s taken off"))
