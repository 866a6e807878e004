"""What the shop waits for from others, what it owes and what runs out, on the first page."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import LotShare
from materials.models import OrderPayment
from tests.makers import make_lot, make_material, make_order, make_room, make_supplier
from tests.workshop.chased import make_return, make_sample
from workshop import clock
from workshop.front import chasing

pytestmark = pytest.mark.django_db
WEDNESDAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today() -> object:
    with clock.as_if(WEDNESDAY):
        yield


def make_payment(due_on: date, **fields: object) -> OrderPayment:
    order = fields.pop("order", None) or make_order(supplier=make_supplier(name="Example Panels"), number=7)
    return OrderPayment.objects.create(
        order=order, **{"what": "Deposit", "due_on": due_on, "amount_minor": 40_000} | fields
    )


def test_a_sample_is_chased_until_it_is_answered_with_the_days_it_is_out() -> None:
    sample = make_sample(material=make_material(name="Clear finish"), sent_on=date(2026, 11, 10))
    make_sample(answered_on=WEDNESDAY, is_approved=True)

    (row,) = chasing.to_chase(for_owner=False)

    assert row.name == "Finish panel, satin"
    assert row.more == "Clear finish; sent to Example Architects Tue, Nov 10"
    assert (row.fig, row.fig_more) == ("15 days", "without an answer")
    assert row.url == reverse("materials:sample", args=[sample.pk])


def test_a_sample_an_order_waits_for_stands_before_one_sent_longer_ago() -> None:
    make_sample(what="Older", sent_on=date(2026, 11, 2))
    make_sample(what="Holding", order=make_order(placed_on=date(2026, 11, 2), number=34))

    rows = chasing.to_chase(for_owner=False)

    assert [(row.name, row.mark) for row in rows] == [("Holding", "held"), ("Older", "in_work")]
    assert rows[0].more.endswith("; order 34 waits for it")


@pytest.mark.parametrize(("later", "chased"), [(False, ["First"]), (True, ["Second"])])
def test_a_refused_sample_is_chased_until_another_is_sent(later: bool, chased: list[str]) -> None:
    order = make_order(placed_on=date(2026, 11, 2))
    refused = make_sample(what="First", order=order, answered_on=date(2026, 11, 20), is_approved=False)
    if later:
        make_sample(what="Second", order=order, material=refused.material)

    rows = chasing.to_chase(for_owner=False)

    assert [row.name for row in rows] == chased
    assert later or "refused by Example Architects Fri, Nov 20, no other sent" in rows[0].more


def test_sheets_not_collected_are_told_together_for_their_lot() -> None:
    lot = make_lot(number=8)
    make_return(lot=lot)
    make_return(lot=lot, asked_on=date(2026, 11, 18))

    (row,) = chasing.to_chase(for_owner=False)

    assert row.name == "Sheets 1, 2 of lot 8"
    assert "told Mon, Nov 16, not collected" in row.more
    assert (row.fig, row.url) == ("9 days", reverse("materials:returns"))


def test_a_credit_not_received_is_the_owners_to_chase() -> None:
    row = make_return(collected_on=date(2026, 11, 20))
    make_return(collected_on=date(2026, 11, 20), credited_on=WEDNESDAY, credit_received_minor=7_150)

    (chased,) = chasing.to_chase(for_owner=True)

    assert (chased.fig, chased.fig_more) == ("$71.50", "credit expected")
    assert chased.url == reverse("materials:return", args=[row.pk])
    assert chasing.to_chase(for_owner=False) == []


@pytest.mark.parametrize(
    ("due_on", "more", "when", "is_late"),
    [
        (date(2026, 11, 23), "Order 7, was due Mon, Nov 23", "2 days past", True),
        (WEDNESDAY, "Order 7, due Wed, Nov 25", "today", False),
        (date(2026, 12, 9), "Order 7, due Wed, Dec 9", "in 14 days", False),
    ],
)
def test_a_payment_is_told_with_its_amount_and_day(due_on: date, more: str, when: str, is_late: bool) -> None:
    payment = make_payment(due_on)

    (row,) = chasing.to_pay()

    assert (row.name, row.more) == ("Deposit, Example Panels", more)
    assert (row.fig, row.fig_more, row.is_late) == ("$400.00", when, is_late)
    assert row.url == f"{reverse('materials:order', args=[payment.order_id])}#payment-{payment.pk}"


def test_what_is_paid_cancelled_or_far_ahead_is_not_to_pay() -> None:
    make_payment(WEDNESDAY, paid_on=WEDNESDAY)
    make_payment(date(2026, 12, 10), order=make_order())
    make_payment(WEDNESDAY, order=make_order(cancelled_on=WEDNESDAY))

    assert chasing.to_pay() == []


def test_staff_see_neither_payments_nor_credits(staff_client: Browser, owner_client: Browser) -> None:
    make_payment(WEDNESDAY)
    make_return(collected_on=WEDNESDAY)

    staffs, owners = (browser.get("/").content.decode() for browser in (staff_client, owner_client))

    assert "$400.00" in owners
    assert "$71.50" in owners
    assert "$" not in staffs


@pytest.mark.parametrize(
    ("use_by_on", "days", "word", "is_late"),
    [(date(2026, 11, 20), "5 days", "past its date", True), (date(2026, 12, 11), "16 days", "left", False)],
)
def test_a_lot_near_or_past_its_use_by_date_is_to_use_up(use_by_on: date, days: str, word: str, is_late: bool) -> None:
    finish = make_material(kind="finish", name="Clear finish")
    lot = make_lot(number=9, material=finish, quantity_micro=5_000_000, batch_number="K-2291", use_by_on=use_by_on)
    LotShare.objects.create(lot=lot, room=make_room(), quantity_micro=1_000_000)

    (row,) = chasing.to_use_up()

    assert row.name == "Clear finish, batch K-2291"
    assert "Lot 9, 4 gal not given" in row.more
    assert (row.fig, row.fig_more, row.is_late) == (days, word, is_late)


def test_what_is_all_given_or_far_from_its_date_is_not_to_use_up() -> None:
    finish = make_material(kind="finish")
    given = make_lot(material=finish, quantity_micro=1_000_000, use_by_on=WEDNESDAY)
    LotShare.objects.create(lot=given, room=make_room(), quantity_micro=1_000_000)
    for use_by_on in (date(2026, 12, 26), date(2026, 10, 25), None):
        make_lot(material=finish, quantity_micro=1_000_000, use_by_on=use_by_on)

    assert chasing.to_use_up() == []
