"""Orders as the tests speak of them: their pages, their state, what arrived of them."""

from datetime import date

from django.urls import reverse

from materials.models import DeliveryLine, Order
from tests.makers import make_delivery

PLACED = {"placed_on": date(2026, 11, 2)}


def page(order: Order, name: str = "order") -> str:
    return reverse(f"materials:{name}", args=[order.pk])


def line_page(order: Order, name: str = "order_line") -> str:
    return reverse(f"materials:{name}", args=[order.lines.first().pk])


def arrived(order: Order, kept: int) -> DeliveryLine:
    line = order.lines.first()
    delivery = make_delivery(supplier=order.supplier, counted_on=date(2026, 11, 20))
    return DeliveryLine.objects.create(
        delivery=delivery, material=line.material, order_line=line, kept_micro=kept * 1_000_000, price_micro=0
    )


def state(order: Order) -> str:
    return Order.objects.with_state().get(pk=order.pk).state
