"""Orders: made in one step, placed, promised, cancelled; their state follows from the facts.

Dates worked out by hand: November 25, 2026 is a Wednesday; four weeks later is Wednesday, December 23.
"""

from datetime import date
from threading import Barrier, Thread

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from materials import orders
from materials.models import DeliveryLine, Material, Order, Price, Supplier
from tests.makers import hand, make_delivery, make_material, make_order, make_supplier, post
from tests.queries import queries_of
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person

NEW = "/orders/new/"
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
        made, material, start, failed = make_order(), make_material(), Barrier(4), []

        def make() -> None:
            start.wait()
            try:
                line = {"material": material, "quantity_micro": 1_000_000, "price_micro": 0}
                orders.add(by=hand(owner), supplier=made.supplier, **line)
            except Exception as error:
                failed.append(error)
            finally:
                connection.close()

        threads = [Thread(target=make) for _ in range(4)]
        [thread.start() for thread in threads]
        [thread.join() for thread in threads]

        assert failed == []
        assert sorted(Order.objects.values_list("number", flat=True)) == [made.number + n for n in range(5)]


class TestState:
    def test_an_order_begins_as_one_to_place(self, db: None) -> None:
        assert state(make_order()) == "to_place"

    def test_a_placed_order_of_which_nothing_came_is_placed(self, db: None) -> None:
        assert state(make_order(**PLACED)) == "placed"

    @pytest.mark.parametrize(
        ("kept", "is_now"), [(1, "part_arrived"), (41, "part_arrived"), (42, "all_arrived"), (43, "all_arrived")]
    )
    def test_what_came_says_how_much_arrived(self, db: None, kept: int, is_now: str) -> None:
        order = make_order(**PLACED)

        arrived(order, kept)

        assert state(order) == is_now

    def test_a_closed_line_waits_for_nothing_more(self, owner_client: Browser) -> None:
        order = make_order(**PLACED)
        arrived(order, 40)

        post(owner_client, line_page(order), quantity_micro="42", price_micro="71.50", is_closed="on", version="1")

        assert state(order) == "all_arrived"

    def test_a_cancelled_order_is_cancelled(self, owner_client: Browser) -> None:
        order = make_order(**PLACED)

        post(owner_client, page(order, "order_cancel"), why="Client changed to oak")

        assert state(order) == "cancelled"

    def test_only_orders_with_something_to_come_are_open(self, db: None) -> None:
        to_place, placed, done = make_order(), make_order(**PLACED), make_order(**PLACED)
        arrived(done, 42)

        assert list(Order.objects.open()) == [placed]
        assert set(Order.objects.pending()) == {to_place, placed}


class TestPlacing:
    def test_the_promise_is_worked_out_from_the_lead_time(self, owner_client: Browser) -> None:
        order = make_order(lead_count=4, lead_unit="weeks")

        post(owner_client, page(order, "order_place"), placed_on="2026-11-25")

        order.refresh_from_db()
        assert orders.due(order) == orders.Due(date(2026, 12, 23), is_computed=True, was=None)
        assert "Wed, Dec 23, worked out from the lead time" in owner_client.get(page(order)).content.decode()

    def test_a_date_of_the_suppliers_own_counts_before_the_lead_time(self, owner_client: Browser) -> None:
        order = make_order(promised_on=date(2026, 12, 18))

        post(owner_client, page(order, "order_place"), placed_on="2026-11-25")

        order.refresh_from_db()
        assert orders.due(order) == orders.Due(date(2026, 12, 18), is_computed=False, was=None)

    @pytest.mark.parametrize(
        ("day", "words"),
        [
            ("", "required"),
            ("2026-02-30", "no such day"),
            ("2026-11-26", "still to come"),
            ("1800-01-01", "too far away"),
        ],
    )
    def test_a_day_that_cannot_be_is_refused(self, owner_client: Browser, day: str, words: str) -> None:
        order = make_order()

        answer = post(owner_client, page(order, "order_place"), placed_on=day)

        order.refresh_from_db()
        assert answer.status_code == 422
        assert words in answer.content.decode()
        assert order.placed_on is None

    def test_an_order_is_placed_once(self, owner_client: Browser) -> None:
        order = make_order(**PLACED)

        answer = post(owner_client, page(order, "order_place"), placed_on="2026-11-25")

        order.refresh_from_db()
        assert answer.status_code == 422
        assert order.placed_on == date(2026, 11, 2)

    def test_placing_is_taken_back(self, owner_client: Browser, owner: Person) -> None:
        order = make_order()
        post(owner_client, page(order, "order_place"), placed_on="2026-11-25")

        undo(action=Action.objects.get(), by=hand(owner))

        assert state(order) == "to_place"
        assert not order.promises.exists()

    def test_placing_stays_once_something_came(self, owner_client: Browser, owner: Person) -> None:
        order = make_order()
        post(owner_client, page(order, "order_place"), placed_on="2026-11-25")
        arrived(order, 1)

        with pytest.raises(ValidationError, match=r"a delivery of order [0-9]+ is counted"):
            undo(action=Action.objects.get(), by=hand(owner))

        assert state(order) == "part_arrived"

    def test_a_promise_before_the_day_of_order_is_refused(self, owner_client: Browser) -> None:
        order = make_order(promised_on=date(2026, 11, 20))

        answer = post(owner_client, page(order, "order_place"), placed_on="2026-11-25")

        assert answer.status_code == 422
        assert "before it is placed" in answer.content.decode()

    @pytest.mark.parametrize("name", ["order_place", "order_cancel"])
    def test_placing_and_cancelling_ask_for_a_post(self, owner_client: Browser, name: str) -> None:
        assert owner_client.get(page(make_order(), name)).status_code == 405


class TestPromises:
    @pytest.fixture
    def placed(self, owner: Person) -> Order:
        order = make_order(lead_count=4, lead_unit="weeks")
        return orders.place(order=order, placed_on=date(2026, 11, 2), by=hand(owner))

    def test_a_later_promise_counts_and_the_earlier_stays(self, owner_client: Browser, placed: Order) -> None:
        typed = {"promised_on": "2026-12-11", "told_on": "2026-11-25", "note": "Kiln broke down"}

        post(owner_client, page(placed, "promise_new"), **typed)

        placed.refresh_from_db()
        assert orders.due(placed) == orders.Due(date(2026, 12, 11), is_computed=False, was=date(2026, 11, 30))
        assert list(placed.promises.values_list("promised_on", flat=True)) == [date(2026, 12, 11), date(2026, 11, 30)]

    def test_a_slip_is_seen_on_the_order_and_in_the_trace(self, owner_client: Browser, placed: Order) -> None:
        post(owner_client, page(placed, "promise_new"), promised_on="2026-12-11", told_on="2026-11-25")

        words = "promised Fri, Dec 11, was Mon, Nov 30"
        assert (
            "Promised Fri, Dec 11, was Mon, Nov 30: 11 days later." in owner_client.get(page(placed)).content.decode()
        )
        assert actions.sentence_of(actions.trace(placed).first()) == f"Order {placed.number}: {words}"

    def test_a_promise_before_the_order_was_placed_is_refused(self, owner_client: Browser, placed: Order) -> None:
        answer = post(owner_client, page(placed, "promise_new"), promised_on="2026-11-01", told_on="2026-11-25")

        assert answer.status_code == 422
        assert "It was placed on Mon, Nov 2." in answer.content.decode()
        assert placed.promises.count() == 1

    def test_an_order_not_placed_takes_no_promise(self, owner_client: Browser) -> None:
        order = make_order()

        answer = post(owner_client, page(order, "promise_new"), promised_on="2026-12-11", told_on="2026-11-25")

        assert answer.status_code == 422
        assert "Place the order first" in answer.content.decode()

    def test_a_promise_is_taken_back(self, owner_client: Browser, owner: Person, placed: Order) -> None:
        post(owner_client, page(placed, "promise_new"), promised_on="2026-12-11", told_on="2026-11-25")

        undo(action=Action.objects.get(verb="promise.add"), by=hand(owner))

        placed.refresh_from_db()
        assert orders.due(placed) == orders.Due(date(2026, 11, 30), is_computed=True, was=None)

    def test_a_corrected_lead_time_moves_the_first_promise(self, owner_client: Browser, placed: Order) -> None:
        typed = {"lead_count": "5", "lead_unit": "weeks", "freight_minor": "", "version": placed.version}

        post(owner_client, page(placed, "order_edit"), **typed)

        assert placed.promises.get().promised_on == date(2026, 12, 7)


class TestChanging:
    def test_a_stale_change_shows_both_values(self, owner_client: Browser) -> None:
        order = make_order()
        typed = {"lead_unit": "weeks", "version": "1"}
        post(owner_client, page(order, "order_edit"), lead_count="5", **typed)

        answer = post(owner_client, page(order, "order_edit"), lead_count="6", **typed)

        order.refresh_from_db()
        assert answer.status_code == 422
        assert "Stored now: 5" in answer.content.decode()
        assert order.lead_count == 5

    def test_a_line_is_added_changed_and_taken_off(self, owner_client: Browser) -> None:
        order, trim = make_order(), make_material(kind="trim", unit="foot", name="Ash trim")
        post(owner_client, page(order, "order_line_new"), material=trim.pk, quantity_micro="120", price_micro="3.85")
        line = order.lines.get(material=trim)

        changed = {"quantity_micro": "147 1/2 in", "price_micro": "3.85", "version": "1"}
        post(owner_client, reverse("materials:order_line", args=[line.pk]), **changed)

        # 147 1/2 in at 3.85 a foot is 47.32 (house check value: 12 7/24 ft x 3.85 is 47.3229...).
        assert "$47.32" in owner_client.get(page(order)).content.decode()
        post(owner_client, reverse("materials:order_line_remove", args=[line.pk]))
        assert order.lines.count() == 1

    def test_the_only_line_stays(self, owner_client: Browser) -> None:
        order = make_order()

        answer = post(owner_client, line_page(order, "order_line_remove"))

        assert answer.status_code == 422
        assert "This is the order&#x27;s only line." in answer.content.decode()
        assert order.lines.count() == 1

    def test_a_line_of_which_something_came_stays(self, owner_client: Browser) -> None:
        order = make_order(**PLACED)
        arrived(order, 1)
        post(
            owner_client,
            page(order, "order_line_new"),
            material=make_material().pk,
            quantity_micro="1",
            price_micro="1",
        )

        answer = post(owner_client, line_page(order, "order_line_remove"))

        assert answer.status_code == 422
        assert order.lines.count() == 2

    def test_a_line_changed_meanwhile_shows_both_values(self, owner_client: Browser) -> None:
        order = make_order()
        post(owner_client, line_page(order), quantity_micro="43", price_micro="71.50", version="1")

        answer = post(owner_client, line_page(order), quantity_micro="44", price_micro="71.50", version="1")

        assert answer.status_code == 422
        assert "Stored now: 43" in answer.content.decode()

    def test_cancelling_asks_why(self, owner_client: Browser) -> None:
        order = make_order(**PLACED)

        answer = post(owner_client, page(order, "order_cancel"), why="")

        assert answer.status_code == 422
        assert state(order) == "placed"

    def test_an_order_of_which_part_came_is_not_cancelled(self, owner_client: Browser) -> None:
        order = make_order(**PLACED)
        arrived(order, 1)

        answer = post(owner_client, page(order, "order_cancel"), why="Too late")

        assert answer.status_code == 422
        assert state(order) == "part_arrived"

    def test_a_cancelled_order_takes_no_line(self, owner: Person) -> None:
        order = orders.cancel(order=make_order(number=34), why="Too late", by=hand(owner))

        with pytest.raises(ValidationError, match="Order 34 is cancelled"):
            orders.place(order=order, placed_on=date(2026, 11, 25), by=hand(owner))


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
