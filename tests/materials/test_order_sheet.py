"""The order to send: it says what the order's page says, to the cent, on whole pages."""

from dataclasses import replace
from datetime import date
from io import BytesIO

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pypdf import PdfReader

from materials import order_sheet, orders
from materials.documents import order as document
from materials.documents.order import Due, Line, OrderSheet, Party
from materials.models import Order, OrderPayment
from tests.makers import hand, make_material, make_order, make_supplier
from tests.queries import queries_of
from workshop.documents import Letterhead
from workshop.models import Person, Shop

WORDS = "3/4″, 49″ × 97″, ash, plain sliced, book match, A/2, MDF core, bare; Class C (ASTM E84)"


def sheet_of(count: int = 1, **changes: object) -> OrderSheet:
    lines = tuple(Line(f"Plywood {n}", WORDS, f"{n} sheets", 71_500_000, 7_150 * n) for n in range(1, count + 1))
    given = OrderSheet(
        letterhead=Letterhead("Shop A", "Custom woodwork and panels", ("1 Example Street", "555-0100")),
        number="34",
        language="en-us",
        currency="USD",
        paper="letter",
        day=date(2026, 11, 25),
        supplier=Party("Supplier A", ("2 Example Road", "Sample City", "555-0110")),
        deliver_to=Party("Shop A", ("1 Example Street", "Sample City")),
        lines=lines,
        freight_minor=31_500,
        total_minor=sum(line.amount_minor for line in lines) + 31_500,
        lead="7 weeks",
    )
    return replace(given, **changes)


def pages_of(given: OrderSheet) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(document.order_sheet(given))).pages]


def text_of(given: OrderSheet) -> str:
    return "\n".join(pages_of(given))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_lines_freight_and_total_stand_on_paper(paper: str) -> None:
    text = text_of(sheet_of(42, paper=paper, total_minor=6_239_119))

    assert "Purchase order 34" in text
    assert "42 sheets\n71.50\n3,003.00" in text  # 42 at 71.50 (house rule, deliveries)
    assert "Freight\n315.00" in text
    assert "Total, US dollars\n62,391.19" in text


def test_a_charge_is_named_and_left_out_where_there_is_none() -> None:
    assert "Pallet\n42.50" in text_of(sheet_of(charges_minor=4_250, charges_what="Pallet"))
    assert "Other charges" not in text_of(sheet_of())


def test_the_full_description_supplier_and_place_of_delivery_stand_on_it() -> None:
    text = " ".join(text_of(sheet_of()).split())

    assert WORDS in text
    assert "To Supplier A 2 Example Road Sample City 555-0110" in text
    assert "Deliver to Shop A 1 Example Street Sample City" in text


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "Wanted\nBy the lead time quoted\nLead time quoted: 7 weeks"),
        (
            {"placed_on": date(2026, 11, 2), "expected_on": date(2026, 12, 21)},
            "Expected\nDec 21, 2026\nOrdered Nov 2, 2026\nLead time quoted: 7 weeks",
        ),
        ({"promised_on": date(2026, 12, 18), "expected_on": date(2026, 12, 18)}, "Promised for\nDec 18, 2026"),
    ],
    ids=["not placed", "placed", "promised"],
)
def test_it_says_when_it_is_wanted(changes: dict[str, date], words: str) -> None:
    assert words in text_of(sheet_of(**changes))


def test_payments_stand_with_their_days() -> None:
    deposit = Due("Deposit", date(2026, 11, 20), 100_000, date(2026, 11, 19))
    balance = Due("Balance", date(2026, 12, 18), 231_800)

    text = text_of(sheet_of(payments=(deposit, balance)))

    assert "Deposit\nNov 20, 2026\nNov 19, 2026\n1,000.00" in text
    assert "Balance\nDec 18, 2026" in text
    assert "Paid" not in text_of(sheet_of(payments=(balance,)))


def test_a_cancelled_order_says_so() -> None:
    assert "Purchase order 34, cancelled" in text_of(sheet_of(is_cancelled=True))


def test_an_order_on_hold_names_the_samples_it_waits_for() -> None:
    text = text_of(sheet_of(waits_for=("Finish panel, clear", "Ash, plain sliced")))

    assert "Purchase order 34, on hold" in text
    words = "On hold Begin when we release it To be approved first: Finish panel, clear; Ash, plain sliced"
    assert words in " ".join(text.split())


def test_a_cancelled_order_is_not_on_hold() -> None:
    assert "hold" not in text_of(sheet_of(waits_for=("Finish panel",), is_cancelled=True))


def test_every_page_has_the_document_its_supplier_and_its_number_of_pages() -> None:
    pages = pages_of(sheet_of(60))

    assert len(pages) > 1
    for number, page in enumerate(pages, start=1):
        assert f"{number} of {len(pages)}" in page
        assert "Supplier\nSupplier A" in page


def test_no_letter_is_lost_and_the_same_order_makes_the_same_bytes() -> None:
    given = sheet_of(supplier=Party("Łódź Fornir é ½ Ω"))

    assert "Łódź Fornir é ½ Ω" in text_of(given)
    assert document.order_sheet(given) == document.order_sheet(given)


@pytest.mark.parametrize("typed", ["a" * 400, "<b>&amp;", "\n" * 50, "日本", "%s %(name)s", "word " * 80])
def test_nothing_typed_breaks_it(typed: str) -> None:
    line = Line(typed, typed * 5, typed, 10**15, 10**13)

    given = sheet_of(
        supplier=Party(typed, (typed,) * 9), lines=(line,), charges_minor=1, charges_what=typed, note=(typed,)
    )

    assert document.order_sheet(given).startswith(b"%PDF")


class TestTheAddress:
    @pytest.fixture
    def order(self, owner: Person) -> Order:
        Shop.objects.update_or_create(pk=1, defaults={"name": "Shop A", "address": "1 Example Street\nSample City"})
        supplier = make_supplier(name="Supplier A", address="2 Example Road", lead_count=7, lead_unit="weeks")
        material = make_material(
            kind="fastener", name="Panel screws", unit="piece", buy_unit="box", buy_contains_micro=500_000_000
        )
        line = {"material": material, "quantity_micro": 4_000_000, "price_micro": 24_250_000}
        order = orders.add(by=hand(owner), supplier=supplier, **line, freight_minor=1_500, note="Call first")
        return orders.place(order=order, placed_on=date(2026, 11, 2), by=hand(owner))

    def url(self, order: Order) -> str:
        return reverse("materials:order_pdf", args=[order.pk])

    def test_it_says_what_the_page_says(self, owner_client: Browser, order: Order) -> None:
        OrderPayment.objects.create(order=order, what="Deposit", due_on=date(2026, 11, 20), amount_minor=5_000)

        answer = owner_client.get(self.url(order))

        text = "\n".join(page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages)
        assert answer["Content-Type"] == "application/pdf"
        assert f"order-{order.number}.pdf" in answer["Content-Disposition"]
        assert "in boxes of 500 pieces" in text
        assert "4 boxes\n24.25\n97.00" in text
        assert "Total, US dollars\n112.00" in text
        assert "Deposit\nNov 20, 2026\n50.00" in text
        assert "Expected\nDec 21, 2026\nOrdered Nov 2, 2026\nLead time quoted: 7 weeks" in text
        assert "Call first" in text
        assert f"/orders/{order.pk}/order.pdf" in owner_client.get(f"/orders/{order.pk}/").content.decode()

    def test_a_box_ordered_before_its_size_changed_keeps_what_it_held(self, order: Order) -> None:
        material = order.lines.get().material
        material.buy_contains_micro = 400_000_000
        material.save()

        assert order_sheet.gathered(order).lines[0].description == "in boxes of 500 pieces"

    def test_its_title_and_language_stand_in_its_facts(self, owner_client: Browser, order: Order) -> None:
        reader = PdfReader(BytesIO(owner_client.get(self.url(order)).content))

        assert reader.metadata.title == f"Purchase order {order.number}, Supplier A"
        assert reader.root_object["/Lang"] == "en-us"

    def test_it_is_the_owners_alone_and_only_read(
        self, owner_client: Browser, staff_client: Browser, order: Order
    ) -> None:
        assert staff_client.get(self.url(order)).status_code == 403
        assert "order.pdf" not in staff_client.get(f"/orders/{order.pk}/").content.decode()
        assert owner_client.post(self.url(order)).status_code == 405
        assert owner_client.get("/orders/999999/order.pdf").status_code == 404

    def test_it_costs_the_same_with_one_line_and_with_twenty(self, owner_client: Browser, order: Order) -> None:
        few = queries_of(owner_client, self.url(order))

        for _ in range(20):
            order.lines.create(material=make_material(), quantity_micro=1_000_000, price_micro=1)

        assert queries_of(owner_client, self.url(order)) <= few
        assert Order.objects.count() == 1


@pytest.mark.parametrize(
    ("count", "unit", "words"),
    [
        (1, "weeks", "1 week"),
        (7, "weeks", "7 weeks"),
        (1, "months", "1 month"),
        (3, "working_days", "3 working days"),
        (10, "days", "10 calendar days"),
        (0, "weeks", "the same day"),
    ],
)
@pytest.mark.django_db
def test_a_lead_time_is_told_as_it_was_quoted(count: int, unit: str, words: str) -> None:
    assert orders.lead_text(make_order(lead_count=count, lead_unit=unit)) == words
