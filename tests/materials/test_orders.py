"""Orders: made in one step, placed, promised, cancelled; their state follows from the facts.

Dates worked out by hand: November 25, 2026 is a Wednesday; four weeks later is Wednesday, December 23.
"""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials import orders
from materials.models import Material, Order, Price, Supplier
from tests.makers import hand, make_material, make_order, make_supplier, post
from tests.materials.ordering import PLACED, arrived, page
from tests.queries import queries_of
from tests.together import at_once
from workshop.actions import new_key, undo
from workshop.models import Action, Person

NEW = "/orders/new/"


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A", lead_count=4, lead_unit="weeks")


@pytest.fixture
def sheets(supplier: Supplier) -> Material:
    material = make_material(name="Ash-veneered plywood", usual_supplier=supplier)
    Price.objects.create(
        material=material, supplier=supplier, price_micro=71_500_000, currency="USD", from_on=date(2026, 1, 1)
    )
    return material


class TestNewOrder:
    def test_supplier_lead_time_and_price_come_by_themselves(
        self, owner_client: Browser, supplier: Supplier, sheets: Material
    ) -> None:
        answer = post(owner_client, NEW, supplier=supplier.pk, material=sheets.pk, quantity_micro="42")

        order = Order.objects.get()
        assert answer.url == page(order)
        assert (order.lead_count, order.lead_unit) == (4, "weeks")
        assert order.lines.get().price_micro == 71_500_000

    def test_amounts_are_rounded_by_line_and_summed_with_freight(
        self, owner_client: Browser, supplier: Supplier, sheets: Material
    ) -> None:
        # 42 sheets at 71.50 and 315.00 freight are 3,318.00 (house rule, deliveries).
        typed = {"supplier": supplier.pk, "material": sheets.pk, "quantity_micro": "42", "freight_minor": "315"}

        answer = post(owner_client, NEW, **typed)

        shown = owner_client.get(answer.url).content.decode()
        assert "$3,003.00" in shown
        assert "$3,318.00" in shown

    def test_the_address_fills_in_what_it_names(self, owner_client: Browser, sheets: Material) -> None:
        form = owner_client.get(NEW, {"material": sheets.pk, "quantity": "12"}).context["form"]

        assert form["supplier"].value() == sheets.usual_supplier_id
        assert form["lead_count"].value() == 4
        assert form["price_micro"].value() == "71.50"
        assert form["quantity_micro"].value() == "12"
        assert form.fields["quantity_micro"].unit == "sheets"

    def test_a_quantity_in_millionths_is_filled_in_as_people_write_it(
        self, owner_client: Browser, sheets: Material
    ) -> None:
        form = owner_client.get(NEW, {"material": sheets.pk, "quantity_micro": "12000000"}).context["form"]

        assert form["quantity_micro"].value() == "12"

    @pytest.mark.parametrize("query", ["material=x", "material=999999", "supplier=%00", f"quantity_micro={10**40}"])
    def test_an_address_that_names_nothing_shows_the_empty_form(
        self, owner_client: Browser, sheets: Material, query: str
    ) -> None:
        assert owner_client.get(f"{NEW}?{query}").status_code == 200

    def test_a_price_nobody_knows_is_asked_for(self, owner_client: Browser, sheets: Material) -> None:
        other = make_supplier(name="Supplier B")

        answer = post(owner_client, NEW, supplier=other.pk, material=sheets.pk, quantity_micro="42")

        assert answer.status_code == 422
        assert "The shop knows no price of Supplier B for this." in answer.content.decode()
        assert not Order.objects.exists()

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("supplier", ""),
            ("supplier", "999999"),
            ("supplier", str(10**30)),
            ("material", "\0"),
            ("material", "999999"),
            ("quantity_micro", ""),
            ("quantity_micro", "0"),
            ("quantity_micro", "-1"),
            ("quantity_micro", "1e400"),
            ("quantity_micro", "NaN"),
            ("quantity_micro", str(10**30)),
            ("quantity_micro", "2 1/2"),
            ("quantity_micro", "a" * 100_000),
            ("price_micro", "-1"),
            ("price_micro", str(10**30)),
            ("price_micro", "<b>"),
            ("lead_count", "-1"),
            ("lead_count", str(10**30)),
            ("lead_unit", "fortnights"),
            ("promised_on", "2026-02-30"),
            ("promised_on", "9999-12-31"),
            ("freight_minor", "-1"),
            ("freight_minor", str(10**30)),
            ("note", "a" * 100_000),
        ],
    )
    def test_what_cannot_be_taken_is_refused_at_its_field(
        self, owner_client: Browser, supplier: Supplier, sheets: Material, field: str, value: str
    ) -> None:
        typed = {"supplier": supplier.pk, "material": sheets.pk, "quantity_micro": "42", field: value}

        answer = post(owner_client, NEW, **typed)

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not Order.objects.exists()

    def test_an_amount_past_what_an_order_can_be_is_refused(
        self, owner_client: Browser, supplier: Supplier, sheets: Material
    ) -> None:
        typed = {"supplier": supplier.pk, "material": sheets.pk, "quantity_micro": "1000000", "price_micro": "999999"}

        answer = post(owner_client, NEW, **typed)

        assert answer.status_code == 422
        assert "Quantity times price is more than an order can be." in answer.content.decode()
        assert not Order.objects.exists()

    def test_the_same_form_sent_twice_makes_one(
        self, owner_client: Browser, supplier: Supplier, sheets: Material
    ) -> None:
        key = new_key()
        typed = {"supplier": supplier.pk, "material": sheets.pk, "quantity_micro": "42"}

        first = post(owner_client, NEW, key=key, **typed)
        second = post(owner_client, NEW, key=key, **typed)

        assert Order.objects.count() == 1
        assert second.url == first.url

    def test_an_order_is_taken_back_whole(
        self, owner_client: Browser, owner: Person, supplier: Supplier, sheets: Material
    ) -> None:
        post(owner_client, NEW, supplier=supplier.pk, material=sheets.pk, quantity_micro="42")

        undo(action=Action.objects.get(), by=hand(owner))

        assert not Order.objects.exists()

    def test_without_a_supplier_the_page_says_what_to_add_first(self, owner_client: Browser) -> None:
        assert "Add the supplier first" in owner_client.get(NEW).content.decode()

    @pytest.mark.django_db(transaction=True)
    def test_four_made_at_once_get_four_numbers(self, owner: Person) -> None:
        made, line = make_order(), {"material": make_material(), "quantity_micro": 1_000_000, "price_micro": 0}

        got = at_once(lambda: orders.add(by=hand(owner), supplier=made.supplier, **line), times=4)

        assert sorted(order.number for order in got) == [made.number + n for n in range(1, 5)]


class TestDoors:
    @pytest.mark.parametrize("name", ["order_edit", "order_line_new", "order_place", "promise_new", "order_cancel"])
    def test_staff_change_no_order(self, staff_client: Browser, name: str) -> None:
        order = make_order()

        assert post(staff_client, page(order, name), why="x", placed_on="2026-11-25").status_code == 403
        assert staff_client.get(NEW).status_code == 403

    def test_staff_read_orders_without_money(self, staff_client: Browser) -> None:
        order = make_order(freight_minor=31_500, **PLACED)

        pages = [page(order), reverse("materials:orders")]

        for shown in (staff_client.get(each).content.decode() for each in pages):
            assert "42 sheets" in shown
            assert not any(amount in shown for amount in ("71.50", "3,003", "315.00", "3,318"))


class TestList:
    def test_the_list_shows_what_is_to_place_and_on_its_way(self, owner_client: Browser) -> None:
        done = make_order(**PLACED)
        arrived(done, 42)
        placed = make_order(**PLACED)

        shown = owner_client.get(reverse("materials:orders")).content.decode()

        assert f"Order {placed.number}," in shown
        assert f"Order {done.number}," not in shown
        assert f"Order {done.number}," in owner_client.get(reverse("materials:orders"), {"all": "1"}).content.decode()

    @pytest.mark.parametrize("words", ["34", "North", "veneered"])
    def test_an_order_is_found_by_number_supplier_and_material(self, owner_client: Browser, words: str) -> None:
        supplier = make_supplier(name="North Veneer")
        make_order(number=34, supplier=supplier, material=make_material(name="Ash-veneered plywood"))

        shown = owner_client.get(reverse("materials:orders"), {"q": words}).content.decode()

        assert "Order 34, North Veneer" in shown

    def test_the_list_costs_the_same_with_one_row_and_with_fifty(self, owner_client: Browser) -> None:
        make_order(**PLACED)
        few = queries_of(owner_client, reverse("materials:orders"))

        for _ in range(50):
            make_order(**PLACED)

        assert queries_of(owner_client, reverse("materials:orders")) <= few
