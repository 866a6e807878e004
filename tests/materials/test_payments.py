"""Deposits and payments of an order, its freight and charges: due, overdue, paid; for the owner's eyes only."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from materials import payments
from materials.models import Order, OrderPayment
from tests.makers import hand, make_order, post
from tests.queries import queries_of
from tests.typed import DAYS, NUMBERS, TEXTS
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person

TYPED = {"what": "Deposit", "amount_minor": "1000", "due_on": "2026-11-20"}


def page(name: str, pk: int) -> str:
    return reverse(f"materials:{name}", args=[pk])


@pytest.fixture
def order(db: None) -> Order:
    """42 sheets at 71.50 and 315.00 freight are 3,318.00 (house rule, deliveries)."""
    return make_order(number=34, freight_minor=31_500, placed_on=date(2026, 11, 2))


@pytest.fixture
def deposit(order: Order) -> OrderPayment:
    return OrderPayment.objects.create(order=order, what="Deposit", due_on=date(2026, 11, 20), amount_minor=100_000)


class TestPayments:
    def test_a_payment_is_added_and_stands_on_the_order(self, owner_client: Browser, order: Order) -> None:
        answer = post(owner_client, page("payment_new", order.pk), **TYPED)

        shown = owner_client.get(answer.url).content.decode()
        assert answer.url == page("order", order.pk)
        assert "$1,000.00" in shown
        assert "$2,318.00" in shown  # without a day yet: 3,318.00 less 1,000.00
        assert actions.sentence_of(actions.trace(order).first()) == "Order 34: Deposit due Fri, Nov 20"

    def test_the_same_form_sent_twice_adds_one(self, owner_client: Browser, order: Order) -> None:
        key = new_key()

        post(owner_client, page("payment_new", order.pk), key=key, **TYPED)
        post(owner_client, page("payment_new", order.pk), key=key, **TYPED)

        assert OrderPayment.objects.count() == 1

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            *(("amount_minor", number) for number in ("", "0", "-1", "1e400", "NaN", str(10**30), "4\0009", "<b>")),
            *(("due_on", day) for day in ("", "2026-02-30", "9999-12-31", "soon")),
            *(("what", text) for text in ("", "a" * 100_000, "\0")),
        ],
    )
    def test_what_cannot_be_taken_is_refused_at_its_field(
        self, owner_client: Browser, order: Order, field: str, value: str
    ) -> None:
        answer = post(owner_client, page("payment_new", order.pk), **{**TYPED, field: value})

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not OrderPayment.objects.exists()

    def test_payments_past_what_an_amount_can_be_are_refused(
        self, owner_client: Browser, order: Order, deposit: OrderPayment
    ) -> None:
        answer = post(owner_client, page("payment_new", order.pk), **{**TYPED, "amount_minor": "100000000000"})

        assert answer.status_code == 422
        assert answer.context["form"].errors["amount_minor"]

    def test_one_press_says_it_was_paid_today(self, owner_client: Browser, order: Order, deposit: OrderPayment) -> None:
        post(owner_client, page("payment_paid", deposit.pk))

        deposit.refresh_from_db()
        assert deposit.paid_on == date(2026, 11, 25)
        assert "Paid Wed, Nov 25" in owner_client.get(page("order", order.pk)).content.decode()
        assert actions.sentence_of(actions.trace(order).first()) == "Order 34: Deposit paid Wed, Nov 25"

    def test_what_is_paid_is_not_paid_again(self, owner_client: Browser, deposit: OrderPayment) -> None:
        post(owner_client, page("payment_paid", deposit.pk))

        answer = post(owner_client, page("payment_paid", deposit.pk))

        assert answer.status_code == 422
        assert "Deposit was paid on Wed, Nov 25." in answer.content.decode()

    def test_paying_is_taken_back(self, owner_client: Browser, owner: Person, deposit: OrderPayment) -> None:
        post(owner_client, page("payment_paid", deposit.pk))

        undo(action=Action.objects.get(), by=hand(owner))

        deposit.refresh_from_db()
        assert deposit.paid_on is None

    def test_a_payment_is_changed(self, owner_client: Browser, deposit: OrderPayment) -> None:
        post(owner_client, page("payment", deposit.pk), **{**TYPED, "paid_on": "2026-11-19"}, version="1")

        deposit.refresh_from_db()
        assert deposit.paid_on == date(2026, 11, 19)

    @pytest.mark.parametrize("day", [*DAYS, "2026-11-26"])
    def test_a_day_it_cannot_have_been_paid_is_refused(
        self, owner_client: Browser, deposit: OrderPayment, day: str
    ) -> None:
        answer = post(owner_client, page("payment", deposit.pk), **{**TYPED, "paid_on": day}, version="1")

        assert answer.status_code == 422
        assert answer.context["form"].errors["paid_on"]

    def test_a_stale_change_shows_both_values(self, owner_client: Browser, deposit: OrderPayment) -> None:
        post(owner_client, page("payment", deposit.pk), **{**TYPED, "amount_minor": "1100"}, version="1")

        answer = post(owner_client, page("payment", deposit.pk), **{**TYPED, "amount_minor": "1200"}, version="1")

        assert answer.status_code == 422
        assert "Stored now: 1100.00" in answer.content.decode()

    def test_a_payment_is_taken_off_and_brought_back(
        self, owner_client: Browser, owner: Person, deposit: OrderPayment
    ) -> None:
        post(owner_client, page("payment_remove", deposit.pk))
        assert not OrderPayment.objects.exists()

        undo(action=Action.objects.get(), by=hand(owner))

        assert OrderPayment.objects.get().amount_minor == 100_000

    def test_an_order_has_two_dozen_payments_at_most(self, owner: Person, order: Order) -> None:
        for _ in range(payments.MOST_PAYMENTS):
            OrderPayment.objects.create(order=order, what="Part", due_on=date(2026, 12, 1), amount_minor=1)

        with pytest.raises(ValidationError, match="An order has 24 payments at most"):
            payments.add(order=order, by=hand(owner), what="Part", due_on=date(2026, 12, 1), amount_minor=1)

    @pytest.mark.parametrize("name", ["payment_paid", "payment_remove"])
    def test_paying_and_taking_off_ask_for_a_post(
        self, owner_client: Browser, deposit: OrderPayment, name: str
    ) -> None:
        assert owner_client.get(page(name, deposit.pk)).status_code == 405


class TestOverdue:
    def test_what_is_past_its_day_shows_on_the_order_and_in_the_list(
        self, owner_client: Browser, order: Order, deposit: OrderPayment
    ) -> None:
        assert "Was due Fri, Nov 20, not paid" in owner_client.get(page("order", order.pk)).content.decode()
        assert (
            "Deposit of $1,000.00 was due Fri, Nov 20" in owner_client.get(reverse("materials:orders")).content.decode()
        )

    @pytest.mark.parametrize(
        ("fields", "is_late"),
        [
            ({}, True),
            ({"due_on": date(2026, 11, 25)}, False),
            ({"paid_on": date(2026, 11, 24)}, False),
        ],
        ids=["past its day", "due today", "paid"],
    )
    def test_only_what_is_not_paid_by_its_day_is_overdue(
        self, order: Order, deposit: OrderPayment, fields: dict[str, date], is_late: bool
    ) -> None:
        OrderPayment.objects.update(**fields)

        assert bool(payments.overdue([order])) is is_late
        assert bool(payments.standing(order).overdue) is is_late

    def test_a_cancelled_order_owes_nothing(self, order: Order, deposit: OrderPayment) -> None:
        order.cancelled_on = date(2026, 11, 21)
        order.save()

        assert not payments.overdue([order])
        assert not payments.standing(order).overdue


class TestCharges:
    def test_other_charges_are_named_and_in_the_total(self, owner_client: Browser, db: None) -> None:
        order = make_order()
        typed = {"lead_count": "4", "lead_unit": "weeks", "freight_minor": "315", "version": "1"}

        post(owner_client, page("order_edit", order.pk), **typed, charges_minor="42.50", charges_what="Pallet")

        shown = owner_client.get(page("order", order.pk)).content.decode()
        assert "Pallet" in shown
        assert "$3,360.50" in shown  # 3,318.00 and 42.50

    def test_a_charge_says_what_it_is_for(self, owner_client: Browser, order: Order) -> None:
        typed = {"lead_count": "4", "lead_unit": "weeks", "version": "1"}

        answer = post(owner_client, page("order_edit", order.pk), **typed, charges_minor="42.50")

        error = answer.context["form"].errors.as_data()["charges_what"][0]
        assert answer.status_code == 422
        assert error.params["would_do"] == ["Pallet", "Cutting"]

    @pytest.mark.parametrize("typed", [value for value in NUMBERS if value.id != "nothing"])
    def test_a_charge_that_is_no_amount_is_refused(self, owner_client: Browser, order: Order, typed: str) -> None:
        fields = {"lead_count": "4", "lead_unit": "weeks", "version": "1", "charges_what": "Pallet"}

        answer = post(owner_client, page("order_edit", order.pk), **fields, charges_minor=typed)

        assert answer.status_code == 422
        assert answer.context["form"].errors["charges_minor"]

    @pytest.mark.parametrize("typed", TEXTS)
    def test_what_it_is_for_is_short(self, owner_client: Browser, order: Order, typed: str) -> None:
        fields = {"lead_count": "4", "lead_unit": "weeks", "version": "1", "charges_minor": "1"}

        answer = post(owner_client, page("order_edit", order.pk), **fields, charges_what=typed)

        assert answer.status_code == 422
        assert answer.context["form"].errors["charges_what"]

    def test_charges_past_what_an_order_can_be_are_refused(self, owner_client: Browser, order: Order) -> None:
        typed = {"lead_count": "4", "lead_unit": "weeks", "version": "1", "charges_what": "Pallet"}

        answer = post(owner_client, page("order_edit", order.pk), **typed, charges_minor="100000000000")

        assert answer.status_code == 422
        assert answer.context["form"].errors


class TestDoors:
    def test_staff_reach_no_payment(self, staff_client: Browser, order: Order, deposit: OrderPayment) -> None:
        assert post(staff_client, page("payment_new", order.pk), **TYPED).status_code == 403
        for name in ("payment", "payment_paid", "payment_remove"):
            assert post(staff_client, page(name, deposit.pk)).status_code == 403

    def test_staff_see_neither_payments_nor_charges(
        self, staff_client: Browser, order: Order, deposit: OrderPayment
    ) -> None:
        Order.objects.update(charges_minor=4_250, charges_what="Pallet")

        pages = [page("order", order.pk), reverse("materials:orders"), f"/trace/materials.order:{order.pk}/"]

        for shown in (staff_client.get(each).content.decode() for each in pages):
            assert not any(amount in shown for amount in ("1,000.00", "42.50", "3,360.50", "Paid today"))

    def test_the_list_costs_the_same_with_one_order_overdue_and_with_fifty(
        self, owner_client: Browser, deposit: OrderPayment
    ) -> None:
        few = queries_of(owner_client, reverse("materials:orders"))

        for _ in range(50):
            order = make_order(placed_on=date(2026, 11, 2))
            OrderPayment.objects.create(order=order, what="Deposit", due_on=date(2026, 11, 20), amount_minor=1)

        assert queries_of(owner_client, reverse("materials:orders")) <= few
