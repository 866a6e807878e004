"""Deliveries taken in while the driver waits, and counted later into lots of numbered sheets."""

import re
from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials import deliveries
from materials.deliveries import SlipTakenIn
from materials.models import Delivery, Order, OrderLine, Supplier
from tests.makers import hand, make_delivery, make_supplier, post
from tests.queries import queries_of
from tests.together import at_once
from workshop import actions
from workshop.actions import new_key
from workshop.models import Person

NEW = "/deliveries/new/"


def count_url(delivery: Delivery) -> str:
    return reverse("materials:delivery_count", args=[delivery.pk])


def page_of(browser: Browser, delivery: Delivery) -> str:
    """The page without keys, tokens, addresses and versions of files, which are no figures."""
    page = browser.get(reverse("materials:delivery", args=[delivery.pk])).content.decode()
    return re.sub(r"[0-9A-Za-z]{32,}|\?v=[0-9a-f]{10}|(href|action|id|for|value)=\"[^\"]*\"", "", page)


class TestTakingIn:
    def test_a_delivery_is_taken_in_and_waits_to_be_counted(self, staff_client: Browser, supplier: Supplier) -> None:
        typed = {"supplier": supplier.pk, "slip_number": " 40172 ", "bundles": "3", "arrived_on": "2026-11-24"}

        answer = post(staff_client, NEW, **typed, damage="Corner of bundle 2 crushed")

        delivery = Delivery.objects.get()
        assert (delivery.slip_number, delivery.bundles, delivery.counted_on) == ("40172", 3, None)
        assert answer.url == reverse("materials:delivery", args=[delivery.pk])
        told = actions.sentence_of(actions.trace(delivery).first())
        assert told == f"Delivery {delivery.number} of Supplier A taken in, slip 40172"

    @pytest.mark.parametrize("slip", ["40172-a", "40172-A", " 40172-a "])
    def test_the_same_slip_of_one_supplier_is_refused_and_leads_to_the_first(
        self, staff_client: Browser, supplier: Supplier, slip: str
    ) -> None:
        first = make_delivery(supplier=supplier, number=18, slip_number="40172-a")

        answer = post(staff_client, NEW, supplier=supplier.pk, slip_number=slip, bundles="3", arrived_on="2026-11-25")

        words = "was taken in as delivery 18 on Tue, Nov 24."
        assert answer.status_code == 422
        assert words in answer.context["form"].errors["slip_number"][0]
        assert reverse("materials:delivery", args=[first.pk]) in answer.content.decode()
        assert Delivery.objects.count() == 1

    def test_the_same_slip_of_another_supplier_is_another_delivery(
        self, staff_client: Browser, delivery: Delivery
    ) -> None:
        other = make_supplier()

        post(staff_client, NEW, supplier=other.pk, slip_number="40172", bundles="1", arrived_on="2026-11-25")

        assert Delivery.objects.count() == 2

    def test_the_same_form_sent_twice_takes_in_one(self, staff_client: Browser, supplier: Supplier) -> None:
        key = new_key()
        typed = {"supplier": supplier.pk, "slip_number": "40172", "bundles": "3", "arrived_on": "2026-11-24"}

        first = post(staff_client, NEW, key=key, **typed)
        second = post(staff_client, NEW, key=key, **typed)

        assert Delivery.objects.count() == 1
        assert second.url == first.url

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("supplier", ""),
            ("supplier", "999999"),
            ("slip_number", ""),
            ("slip_number", "   "),
            ("slip_number", "a" * 100_000),
            ("slip_number", "40\000172"),
            ("bundles", "-1"),
            ("bundles", str(10**30)),
            ("bundles", "1.5"),
            ("arrived_on", "2026-02-30"),
            ("damage", "a" * 100_000),
        ],
    )
    def test_what_cannot_be_taken_is_refused_at_its_field(
        self, staff_client: Browser, supplier: Supplier, field: str, value: str
    ) -> None:
        typed = {"supplier": supplier.pk, "slip_number": "40172", "bundles": "3", "arrived_on": "2026-11-24"}

        answer = post(staff_client, NEW, **{**typed, field: value})

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not Delivery.objects.exists()

    def test_an_order_in_the_address_fills_in_its_supplier(self, staff_client: Browser, order: Order) -> None:
        form = staff_client.get(NEW, {"order": order.pk}).context["form"]

        assert form["supplier"].value() == order.supplier_id

    def test_what_is_still_to_come_from_the_supplier_stands_on_the_page(
        self, staff_client: Browser, delivery: Delivery, order: Order
    ) -> None:
        shown = page_of(staff_client, delivery)

        assert f"Order {order.number}" in shown
        assert "42 sheets" in shown


@pytest.mark.django_db(transaction=True)
def test_four_who_take_in_one_slip_at_once_make_one_delivery(staff: Person) -> None:
    supplier, day = make_supplier(), date(2026, 11, 24)

    got = at_once(
        lambda: deliveries.take_in(by=hand(staff), supplier=supplier, slip_number="40172", bundles=3, arrived_on=day),
        times=4,
    )

    assert Delivery.objects.count() == 1
    assert [type(each) for each in got].count(SlipTakenIn) == 3


class TestDoors:
    def test_staff_count_without_seeing_money(self, staff_client: Browser, delivery: Delivery, line: OrderLine) -> None:
        form = staff_client.get(count_url(delivery)).context["form"]
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42"}, freight_minor="999")

        delivery.refresh_from_db()
        assert not [name for name in form.fields if name.startswith(("price", "billed", "freight"))]
        assert delivery.freight_minor == 31_500
        assert not any(money in page_of(staff_client, delivery) for money in ("71.50", "79.00", "315", "3,318"))

    def test_the_owner_sees_the_landed_cost(self, owner_client: Browser, delivery: Delivery, line: OrderLine) -> None:
        post(owner_client, count_url(delivery), **{f"good_{line.pk}": "42"})

        assert "$3,318.00" in page_of(owner_client, delivery)

    @pytest.mark.parametrize("words", ["18", "40172", "Supplier A"])
    def test_a_delivery_is_found_by_number_slip_and_supplier(
        self, staff_client: Browser, delivery: Delivery, words: str
    ) -> None:
        other = make_delivery(number=9901, slip_number="B-881", supplier=make_supplier(name="Example Hardwoods"))

        shown = staff_client.get(reverse("materials:deliveries"), {"q": words}).content.decode()

        assert "Delivery 18, Supplier A" in shown
        assert f"Delivery {other.number}," not in shown

    def test_the_list_costs_the_same_with_one_row_and_with_fifty(self, staff_client: Browser) -> None:
        make_delivery(counted_on=date(2026, 11, 24))
        few = queries_of(staff_client, reverse("materials:deliveries"))

        for _ in range(50):
            make_delivery(counted_on=date(2026, 11, 24))

        assert queries_of(staff_client, reverse("materials:deliveries")) <= few
