"""Invoices and credit notes that differ from the slip: the landed cost of lots and sheets follows, to the cent."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Given
from materials import bills
from materials.bills import BillLine
from materials.landing import figures
from materials.models import Bill, Delivery, DeliveryLine, Half, Lot, Sheet, Supplier
from tests.makers import hand, make_delivery, make_material, make_order, make_room, make_supplier, post
from tests.queries import queries_of
from tests.together import at_once
from tests.typed import DAYS, NUMBERS, TEXTS
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person
from workshop.telling import Teller

MICRO = 1_000_000
MONEY = ("71.50", "79.00", "315.00", "3,318", "79.50", "3,339")


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A")


@pytest.fixture
def delivery(supplier: Supplier, owner_client: Browser) -> Delivery:
    """42 sheets at 71.50 and 315.00 freight, counted: 79.00 each (house rule, deliveries)."""
    sheets = make_material(name="Ash-veneered plywood")
    order = make_order(supplier=supplier, material=sheets, freight_minor=31_500, placed_on=date(2026, 10, 26))
    delivery = make_delivery(supplier=supplier, number=18, slip_number="40172")
    typed = {f"good_{order.lines.get().pk}": "42"}
    post(owner_client, reverse("materials:delivery_count", args=[delivery.pk]), **typed)
    delivery.refresh_from_db()
    return delivery


@pytest.fixture
def line(delivery: Delivery) -> DeliveryLine:
    return delivery.lines.get()


def new_url(delivery: Delivery, kind: str = "invoice") -> str:
    return f"{reverse('materials:bill_new', args=[delivery.pk])}?kind={kind}"


def bill(browser: Browser, delivery: Delivery, kind: str = "invoice", **typed: object) -> object:
    paper = {"number": "5567", "dated_on": "2026-11-25", **typed}
    return post(browser, new_url(delivery, kind), **paper)


def costs() -> list[int]:
    return list(Sheet.objects.order_by("number").values_list("landed_minor", flat=True))


def page_of(browser: Browser, delivery: Delivery) -> str:
    return browser.get(reverse("materials:delivery", args=[delivery.pk])).content.decode()


def told_of(thing: object) -> str:
    return actions.sentence_of(actions.trace(thing).first())


class TestInvoice:
    def test_an_invoice_that_differs_works_every_sheet_out_anew(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        # 42 sheets invoiced at 72.00 are 3,024.00; with 315.00 freight 3,339.00, which is 79.50 each.
        answer = bill(owner_client, delivery, **{f"line_{line.pk}": "3,024.00"})

        line.refresh_from_db()
        assert answer.url == reverse("materials:delivery", args=[delivery.pk])
        assert set(costs()) == {7_950}
        assert (line.landed_minor, Lot.objects.get().landed_minor) == (333_900, 333_900)

    def test_invoiced_freight_takes_the_place_of_the_quoted(self, owner_client: Browser, delivery: Delivery) -> None:
        # 3,003.00 and 336.00 are 3,339.00 over 42.
        bill(owner_client, delivery, charges="336")

        assert set(costs()) == {7_950}

    def test_what_cannot_be_divided_is_conserved_to_the_cent(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        # 3,011.17 and 320.00 are 3,331.17: 15 sheets at 79.32 and 27 at 79.31.
        bill(owner_client, delivery, **{f"line_{line.pk}": "3011.17", "charges": "320"})

        assert sum(costs()) == 333_117
        assert (costs().count(7_932), costs().count(7_931)) == (15, 27)

    def test_two_invoices_for_one_line_add_up(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        bill(owner_client, delivery, number="1", **{f"line_{line.pk}": "2000"})
        bill(owner_client, delivery, number="2", **{f"line_{line.pk}": "1024"})

        assert set(costs()) == {7_950}

    def test_quoted_and_billed_stand_side_by_side(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        bill(owner_client, delivery, **{f"line_{line.pk}": "3024"})

        shown = page_of(owner_client, delivery)
        assert all(amount in shown for amount in ("$3,003.00", "$3,024.00", "$315.00", "$3,318.00", "$3,339.00"))
        assert "Invoice 5567" in shown

    def test_the_trace_tells_what_for_without_money_and_the_owner_what_was_and_what_is(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        bill(owner_client, delivery, **{f"line_{line.pk}": "3024", "charges": "315"})

        words = "Delivery 18: invoice 5567, Ash-veneered plywood, freight and charges; landed cost worked out anew"
        action = Action.objects.get(verb="bill.add")
        assert told_of(Lot.objects.get()) == words
        assert "Landed cost: was $3,318.00, is $3,339.00" in Teller(with_money=True).changed_values(action)
        assert Teller(with_money=False).changed_values(action) == []

    def test_the_other_lines_keep_their_share_to_the_cent(self, owner_client: Browser, supplier: Supplier) -> None:
        lumber = make_material(kind="lumber", unit="board_foot", name="Solid ash")
        delivery = make_delivery(supplier=supplier)
        typed = {"material_x1": make_material().pk, "good_x1": "7", "price_x1": "71.50"}
        typed |= {"material_x2": lumber.pk, "good_x2": "87.5", "price_x2": "6.35", "freight_minor": "100.01"}
        post(owner_client, reverse("materials:delivery_count", args=[delivery.pk]), **typed)
        delivery.refresh_from_db()
        first, second = delivery.lines.all()

        bill(owner_client, delivery, **{f"line_{first.pk}": "510.03"})

        assert figures(delivery).billed_total_minor == 51_003 + 55_563 + 10_001
        assert sum(delivery.lines.values_list("landed_minor", flat=True)) == 51_003 + 55_563 + 10_001
        assert sum(costs()) == delivery.lines.get(pk=first.pk).landed_minor
        assert Lot.objects.get(material=lumber).landed_minor == delivery.lines.get(pk=second.pk).landed_minor

    def test_what_a_room_has_costs_what_its_sheets_cost_now(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        room = make_room()
        Given.objects.bulk_create(Given(half=half, room=room) for half in Half.objects.filter(sheet__number__lte=5))

        bill(owner_client, delivery, **{f"line_{line.pk}": "3024"})

        halves = Given.objects.filter(room=room).values_list("half__sheet__landed_minor", flat=True)
        assert sum(halves) / 2 == 5 * 7_950


class TestCredit:
    def test_a_credit_on_the_line_lowers_all_its_sheets(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        # 3,318.00 less 42.00 is 78.00 each.
        bill(owner_client, delivery, "credit", **{f"line_{line.pk}": "42"})

        assert set(costs()) == {7_800}

    def test_a_credit_for_single_sheets_lowers_those_alone(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        bill(owner_client, delivery, "credit", **{f"sheets_{line.pk}": "3, 17", f"each_{line.pk}": "20"})

        assert (costs()[2], costs()[16]) == (5_900, 5_900)
        assert costs().count(7_900) == 40
        assert Lot.objects.get().landed_minor == 331_800 - 4_000
        assert Bill.objects.count() == 2

    def test_a_credit_on_the_freight_lowers_what_is_spread(self, owner_client: Browser, delivery: Delivery) -> None:
        # 315.00 less 42.00 freight: one dollar less for each of 42 sheets.
        bill(owner_client, delivery, "credit", charges="42")

        assert set(costs()) == {7_800}

    @pytest.mark.parametrize(
        ("typed", "field"),
        [
            ({"charges": "315.01"}, "charges"),
            ({"line": "3318.01"}, "line"),
            ({"sheets": "3", "each": "79.01"}, "line"),
        ],
    )
    def test_a_credit_of_more_than_what_it_is_for_is_refused(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine, typed: dict, field: str
    ) -> None:
        named = {name if name == "charges" else f"{name}_{line.pk}": value for name, value in typed.items()}

        answer = bill(owner_client, delivery, "credit", **named)

        assert answer.status_code == 422
        assert "Type that or less." in str(answer.context["form"].errors)
        assert not Bill.objects.exists()
        assert set(costs()) == {7_900}

    @pytest.mark.parametrize(
        ("typed", "field", "words"),
        [
            ({"sheets": "3"}, "each", "Type what is credited for each"),
            ({"each": "20"}, "sheets", "Name the sheets"),
            ({"sheets": "43", "each": "20"}, "sheets", "There is no sheet 43 in lot"),
            ({"sheets": "x", "each": "20"}, "sheets", "x is no sheet number"),
            ({"line": "0"}, "line", "A credit of nothing changes nothing."),
        ],
    )
    def test_what_does_not_fit_is_refused_at_its_field(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine, typed: dict, field: str, words: str
    ) -> None:
        named = {f"{name}_{line.pk}": value for name, value in typed.items()}

        answer = bill(owner_client, delivery, "credit", **named)

        assert answer.status_code == 422
        assert words in answer.context["form"].errors[f"{field}_{line.pk}"][0]
        assert not Bill.objects.exists()


class TestRefusing:
    def test_an_empty_paper_is_refused(self, owner_client: Browser, delivery: Delivery) -> None:
        answer = bill(owner_client, delivery)

        assert answer.status_code == 422
        assert "Nothing is typed." in answer.content.decode()

    @pytest.mark.parametrize("number", ["5567", " 5567 "])
    def test_the_same_paper_says_one_thing_of_a_line(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine, number: str
    ) -> None:
        bill(owner_client, delivery, **{f"line_{line.pk}": "3024", "charges": "320"})

        for field in (f"line_{line.pk}", "charges"):
            answer = bill(owner_client, delivery, number=number, **{field: "3025"})
            assert "says something of" in answer.context["form"].errors["number"][0]

        assert Bill.objects.count() == 2

    def test_a_delivery_that_is_not_counted_takes_no_bill(self, owner_client: Browser, supplier: Supplier) -> None:
        waiting = make_delivery(supplier=supplier)

        answer = bill(owner_client, waiting, charges="20")

        assert answer.url == reverse("materials:delivery", args=[waiting.pk])
        assert not Bill.objects.exists()

    @pytest.mark.parametrize("value", [case for case in NUMBERS if case.id != "nothing"])
    @pytest.mark.parametrize("field", ["line", "charges"])
    def test_no_amount_stores_nothing(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine, field: str, value: str
    ) -> None:
        name = f"line_{line.pk}" if field == "line" else field

        answer = bill(owner_client, delivery, **{name: value})

        assert answer.status_code == 422
        assert answer.context["form"].errors[name]
        assert not Bill.objects.exists()

    @pytest.mark.parametrize("value", DAYS)
    def test_no_day_stores_nothing(self, owner_client: Browser, delivery: Delivery, value: str) -> None:
        answer = bill(owner_client, delivery, charges="20", dated_on=value)

        assert answer.context["form"].errors["dated_on"]
        assert not Bill.objects.exists()

    @pytest.mark.parametrize("field", ["number", "note"])
    @pytest.mark.parametrize("value", TEXTS)
    def test_no_text_stores_nothing(self, owner_client: Browser, delivery: Delivery, field: str, value: str) -> None:
        answer = bill(owner_client, delivery, **{"charges": "20", field: value})

        assert answer.context["form"].errors[field]
        assert not Bill.objects.exists()

    def test_two_amounts_that_together_are_too_much_are_refused(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        most = "100000000000"

        answer = bill(owner_client, delivery, **{f"line_{line.pk}": most, "charges": most})

        assert answer.status_code == 422
        assert "Together this is more than an amount can be." in answer.content.decode()
        assert set(costs()) == {7_900}


class TestTwice:
    def test_the_same_paper_sent_twice_is_entered_once(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        key = new_key()

        bill(owner_client, delivery, key=key, **{f"line_{line.pk}": "3024"})
        bill(owner_client, delivery, key=key, **{f"line_{line.pk}": "3024"})

        assert Bill.objects.count() == 1

    @pytest.mark.django_db(transaction=True)
    def test_two_who_enter_papers_at_once_both_count(
        self, owner: Person, owner_client: Browser, delivery: Delivery
    ) -> None:
        line, papers = delivery.lines.get(), ["1", "2", "3", "4"]

        def one() -> None:
            said = [BillLine("line", 4_200, line)]
            day = date(2026, 11, 25)
            bills.add(delivery=delivery, kind="credit", number=papers.pop(), dated_on=day, lines=said, by=hand(owner))

        at_once(one, times=4)

        # 79.00 less four credits of 42.00 over 42 sheets.
        assert set(costs()) == {7_500}


class TestChanging:
    @pytest.fixture
    def entered(self, owner_client: Browser, delivery: Delivery, line: DeliveryLine) -> Bill:
        bill(owner_client, delivery, **{f"line_{line.pk}": "3024"})
        return Bill.objects.get()

    def changed(self, browser: Browser, entered: Bill, **typed: object) -> object:
        values = {"number": "5567", "dated_on": "2026-11-25", "amount_minor": "3024", "version": entered.version}
        return post(browser, reverse("materials:bill", args=[entered.pk]), **{**values, **typed})

    def test_another_amount_works_it_out_anew(self, owner_client: Browser, entered: Bill) -> None:
        # 3,045.00 and 315.00 are 3,360.00: 80.00 each.
        self.changed(owner_client, entered, amount_minor="3045")

        assert set(costs()) == {8_000}
        assert "changed, Ash-veneered plywood; landed cost worked out anew" in told_of(entered)

    def test_a_bill_taken_out_leaves_what_was_quoted(self, owner_client: Browser, entered: Bill) -> None:
        post(owner_client, reverse("materials:bill_remove", args=[entered.pk]))

        assert not Bill.objects.exists()
        assert set(costs()) == {7_900}

    def test_taking_back_puts_every_sheet_back(self, owner_client: Browser, owner: Person, entered: Bill) -> None:
        self.changed(owner_client, entered, amount_minor="3045")

        undo(action=Action.objects.get(verb="bill.change"), by=hand(owner))
        assert set(costs()) == {7_950}
        undo(action=Action.objects.get(verb="bill.add"), by=hand(owner))

        assert set(costs()) == {7_900}
        assert not Bill.objects.exists()

    def test_a_form_somebody_overtook_shows_both_amounts(self, owner_client: Browser, entered: Bill) -> None:
        self.changed(owner_client, entered, amount_minor="3045")

        answer = self.changed(owner_client, entered, amount_minor="3100")

        assert answer.status_code == 422
        assert answer.context["form"].errors["amount_minor"] == ["Stored now: 3045.00"]
        assert set(costs()) == {8_000}

    def test_a_count_with_a_bill_is_not_taken_back(self, owner_client: Browser, owner: Person, entered: Bill) -> None:
        with pytest.raises(ValidationError, match=r"Not taken back: .* was changed since"):
            undo(action=Action.objects.get(verb="delivery.count"), by=hand(owner))

        assert Sheet.objects.count() == 42

    def test_what_is_refused_whole_and_billed_has_nothing_to_land_on(
        self, owner_client: Browser, supplier: Supplier
    ) -> None:
        order = make_order(supplier=supplier, quantity_micro=3 * MICRO, placed_on=date(2026, 10, 26))
        delivery = make_delivery(supplier=supplier)
        pk = order.lines.get().pk
        typed = {f"refused_{pk}": "3", f"billed_{pk}": "on", "freight_minor": "20"}
        post(owner_client, reverse("materials:delivery_count", args=[delivery.pk]), **typed)

        assert "$234.50 of it has nothing that was kept to land on." in page_of(owner_client, delivery)


class TestDoors:
    def test_staff_see_no_bills_and_enter_none(self, staff_client: Browser, delivery: Delivery) -> None:
        shown = page_of(staff_client, delivery)

        assert not any(amount in shown for amount in MONEY)
        assert "Quoted and billed" not in shown
        assert staff_client.get(new_url(delivery)).status_code == 403
        assert bill(staff_client, delivery, charges="20").status_code == 403
        assert not Bill.objects.exists()

    def test_the_page_costs_the_same_with_one_bill_and_with_many(
        self, owner_client: Browser, delivery: Delivery, line: DeliveryLine
    ) -> None:
        url = reverse("materials:delivery", args=[delivery.pk])
        bill(owner_client, delivery, "credit", **{f"sheets_{line.pk}": "1", f"each_{line.pk}": "1"})
        few = queries_of(owner_client, url)

        bill(owner_client, delivery, "credit", number="9", **{f"sheets_{line.pk}": "2-40", f"each_{line.pk}": "1"})

        assert queries_of(owner_client, url) <= few
