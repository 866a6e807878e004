"""Orders placed, promised, changed, cancelled: their state follows from the facts.

Dates worked out by hand: November 25, 2026 is a Wednesday; four weeks later is Wednesday, December 23.
"""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from materials import orders
from materials.models import Order
from tests.makers import hand, make_material, make_order, post
from tests.materials.ordering import PLACED, arrived, line_page, page, state
from workshop import actions
from workshop.actions import undo
from workshop.models import Action, Person


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
