"""Suppliers: added, changed, found; each with the lead time it usually quotes."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials.models import Supplier
from tests.makers import make_supplier, post
from tests.queries import queries_of
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person

TYPED = {"name": "Supplier A", "lead_count": "7", "lead_unit": "weeks"}


def sentence_of(row: Supplier) -> str:
    return actions.sentence_of(actions.trace(row).first())


def test_a_supplier_is_added_and_told(staff_client: Browser) -> None:
    answer = post(staff_client, reverse("materials:supplier_new"), **TYPED)

    supplier = Supplier.objects.get()
    assert answer.url == reverse("materials:supplier", args=[supplier.pk])
    assert (supplier.lead_count, supplier.lead_unit) == (7, "weeks")
    assert sentence_of(supplier) == "Supplier Supplier A added"


def test_the_same_form_sent_twice_adds_one(staff_client: Browser) -> None:
    key = new_key()

    first = post(staff_client, reverse("materials:supplier_new"), key=key, **TYPED)
    second = post(staff_client, reverse("materials:supplier_new"), key=key, **TYPED)

    assert Supplier.objects.count() == 1
    assert second.url == first.url


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", ""),
        ("name", "a" * 100_000),
        ("name", "Supplier\0A"),
        ("lead_count", "-1"),
        ("lead_count", "1e400"),
        ("lead_count", "NaN"),
        ("lead_count", str(10**30)),
        ("lead_unit", "fortnights"),
        ("email", "nobody"),
        ("note", "a" * 100_000),
    ],
)
def test_what_cannot_be_taken_is_refused_at_its_field(staff_client: Browser, field: str, value: str) -> None:
    answer = post(staff_client, reverse("materials:supplier_new"), **{**TYPED, field: value})

    assert answer.status_code == 422
    assert answer.context["form"].errors[field]
    assert not Supplier.objects.exists()


def test_a_lead_time_over_three_years_is_refused_with_what_would_do(staff_client: Browser) -> None:
    answer = post(staff_client, reverse("materials:supplier_new"), **{**TYPED, "lead_count": "157"})

    assert answer.status_code == 422
    assert "157 weeks is too long to plan with. Type 0 to 156" in answer.content.decode()
    assert 'data-fill="156"' in answer.content.decode()


@pytest.mark.parametrize("typed", ["Supplier A", "supplier a", "Supplier  A", "SupplierA"])
def test_two_suppliers_whose_names_read_alike_are_refused(staff_client: Browser, typed: str) -> None:
    make_supplier(name="Supplier A")

    answer = post(staff_client, reverse("materials:supplier_new"), **TYPED | {"name": typed})

    assert answer.status_code == 422
    assert answer.context["form"].errors["name"] == ["There is a supplier named Supplier A. Add what tells them apart."]
    assert Supplier.objects.count() == 1


def test_markup_in_a_name_stays_text(staff_client: Browser) -> None:
    post(staff_client, reverse("materials:supplier_new"), **{**TYPED, "name": "<b>A</b>"})

    page = staff_client.get(reverse("materials:suppliers")).content.decode()

    assert "&lt;b&gt;A&lt;/b&gt;" in page
    assert "<b>A</b>" not in page


def test_a_supplier_changed_meanwhile_shows_both_values(staff_client: Browser, staff: Person) -> None:
    supplier = make_supplier(name="Supplier A", phone="1")
    url = reverse("materials:supplier", args=[supplier.pk])
    post(staff_client, url, **TYPED, phone="2", version="1")

    answer = post(staff_client, url, **TYPED, phone="3", version="1")

    supplier.refresh_from_db()
    assert answer.status_code == 422
    assert supplier.phone == "2"
    assert "Stored now: 2" in answer.content.decode()
    assert 'value="3"' in answer.content.decode()


def test_a_change_is_taken_back(staff_client: Browser, owner: Person) -> None:
    supplier = make_supplier(name="Supplier A", phone="1")
    post(staff_client, reverse("materials:supplier", args=[supplier.pk]), **TYPED, phone="2", version="1")

    undo(action=Action.objects.get(verb="supplier.change"), by=actions.Hand(owner))

    supplier.refresh_from_db()
    assert supplier.phone == "1"


def test_the_list_finds_by_name(staff_client: Browser) -> None:
    make_supplier(name="North Veneer")
    make_supplier(name="South Lumber")

    page = staff_client.get(reverse("materials:suppliers"), {"q": "veneer"}).content.decode()

    assert "North Veneer" in page
    assert "South Lumber" not in page


def test_the_empty_list_says_what_to_do_first(staff_client: Browser) -> None:
    page = staff_client.get(reverse("materials:suppliers")).content.decode()

    assert "Add the first supplier" in page


def test_the_list_costs_the_same_with_one_row_and_with_fifty(staff_client: Browser) -> None:
    make_supplier()
    few = queries_of(staff_client, reverse("materials:suppliers"))

    for _ in range(50):
        make_supplier()

    assert queries_of(staff_client, reverse("materials:suppliers")) <= few


def test_a_supplier_that_comes_the_same_day_has_no_weeks_in_the_list(staff_client: Browser) -> None:
    make_supplier(lead_count=0, lead_unit="weeks")

    page = staff_client.get(reverse("materials:suppliers")).content.decode()

    assert "the same day" in page
    assert "0 weeks" not in page
