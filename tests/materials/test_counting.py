"""Deliveries counted: lots of numbered sheets with their landed cost, whole or not at all."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials import deliveries, sorting
from materials.deliveries import Counted
from materials.models import Delivery, DeliveryLine, Half, Lot, Material, Order, OrderLine, Sheet, Supplier
from tests.makers import hand, make_delivery, make_ladder, make_material, make_order, post
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person

MICRO = 1_000_000


def count_url(delivery: Delivery) -> str:
    return reverse("materials:delivery_count", args=[delivery.pk])


def page_of(browser: Browser, delivery: Delivery) -> str:
    return browser.get(reverse("materials:delivery", args=[delivery.pk])).content.decode()


class TestCounting:
    def test_sheets_are_numbered_from_one_each_with_its_halves(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        answer = post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42"})

        lot = Lot.objects.get()
        assert answer.url == reverse("materials:delivery", args=[delivery.pk])
        assert [sheet.number for sheet in lot.sheets.all()] == list(range(1, 43))
        assert Half.objects.filter(sheet__lot=lot).count() == 84
        assert str(lot.sheets.get(number=31).halves.last()) == "31B"

    def test_freight_quoted_with_the_order_lands_on_the_sheets(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        # 42 sheets at 71.50 and 315.00 freight: 79.00 each (house rule, deliveries).
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42"})

        assert set(Sheet.objects.values_list("landed_minor", flat=True)) == {7_900}
        assert Lot.objects.get().landed_minor == 331_800

    def test_refused_sheets_are_not_paid_and_freight_is_spread_over_the_kept(
        self, owner_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        # With three refused: 39 at 71.50 and 315.00 are 3,103.50, to the cent (house rule, deliveries).
        typed = {f"good_{line.pk}": "39", f"refused_{line.pk}": "3", "freight_minor": "315"}

        post(owner_client, count_url(delivery), **typed)

        costs = list(Sheet.objects.values_list("landed_minor", flat=True))
        assert sum(costs) == 310_350
        assert (costs.count(7_958), costs.count(7_957)) == (27, 12)

    def test_refused_sheets_that_are_billed_are_paid(
        self, owner_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        # If the refused are billed, 3,318.00 are spread over 39 (house rule, deliveries).
        typed = {f"good_{line.pk}": "39", f"refused_{line.pk}": "3", f"billed_{line.pk}": "on", "freight_minor": "315"}

        post(owner_client, count_url(delivery), **typed)

        assert sum(Sheet.objects.values_list("landed_minor", flat=True)) == 331_800

    def test_the_damaged_that_stay_are_the_last_numbers(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "36", f"damaged_{line.pk}": "3"})

        assert list(Sheet.objects.filter(is_damaged=True).values_list("number", flat=True)) == [37, 38, 39]
        assert "The damaged sheets are the last numbers" in page_of(staff_client, delivery)

    def test_what_did_not_come_is_still_to_come(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "36", f"short_{line.pk}": "6"})

        assert OrderLine.objects.outstanding().get().to_come_micro == 6 * MICRO
        assert Order.objects.with_state().get().state == "part_arrived"

    def test_freight_of_an_order_lands_with_its_first_delivery_only(
        self, staff_client: Browser, supplier: Supplier, line: OrderLine
    ) -> None:
        first, second = make_delivery(supplier=supplier), make_delivery(supplier=supplier)
        post(staff_client, count_url(first), **{f"good_{line.pk}": "21"})

        post(staff_client, count_url(second), **{f"good_{line.pk}": "21"})

        first.refresh_from_db()
        second.refresh_from_db()
        assert (first.freight_minor, second.freight_minor) == (31_500, 0)

    def test_lines_of_several_orders_are_counted_on_one_slip(
        self, staff_client: Browser, supplier: Supplier, delivery: Delivery, line: OrderLine
    ) -> None:
        lumber = make_material(kind="lumber", unit="board_foot", name="Solid ash 8/4")
        other = make_order(supplier=supplier, material=lumber, quantity_micro=180 * MICRO, placed_on=date(2026, 11, 2))
        boards = other.lines.get()

        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42", f"good_{boards.pk}": "171.5"})

        assert DeliveryLine.objects.count() == 2
        assert Lot.objects.get(material=lumber).quantity_micro == 171_500_000
        assert not Lot.objects.get(material=lumber).sheets.exists()

    def test_a_thing_that_came_without_an_order_makes_a_lot_as_well(
        self, owner_client: Browser, delivery: Delivery
    ) -> None:
        trim = make_material(kind="trim", unit="foot", name="Ash trim")
        typed = {"material_x1": trim.pk, "good_x1": "120", "price_x1": "3.85"}

        post(owner_client, count_url(delivery), **typed)

        lot = Lot.objects.get()
        assert (lot.material, lot.quantity_micro, lot.landed_minor) == (trim, 120 * MICRO, 46_200)

    def test_a_count_without_a_material_is_refused(self, staff_client: Browser, delivery: Delivery) -> None:
        answer = post(staff_client, count_url(delivery), good_x1="12")

        assert answer.status_code == 422
        assert answer.context["form"].errors["material_x1"] == ["Choose what was counted here."]

    def test_an_empty_count_is_refused(self, staff_client: Browser, delivery: Delivery, line: OrderLine) -> None:
        answer = post(staff_client, count_url(delivery))

        delivery.refresh_from_db()
        assert answer.status_code == 422
        assert "Nothing is counted yet." in answer.content.decode()
        assert delivery.counted_on is None

    @pytest.mark.parametrize("field", ["good", "damaged", "refused", "short"])
    @pytest.mark.parametrize("value", ["-1", "2 1/2", "1e400", "NaN", str(10**30), "a" * 100_000, "4\0002", "<b>"])
    def test_a_count_that_cannot_be_is_refused_and_nothing_is_half_logged(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine, field: str, value: str
    ) -> None:
        answer = post(staff_client, count_url(delivery), **{f"good_{line.pk}": "1", f"{field}_{line.pk}": value})

        delivery.refresh_from_db()
        assert answer.status_code == 422
        assert answer.context["form"].errors[f"{field}_{line.pk}"]
        assert delivery.counted_on is None
        assert not (Lot.objects.exists() or Sheet.objects.exists() or DeliveryLine.objects.exists())

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("material_x1", "999999"),
            ("material_x1", str(10**30)),
            ("price_x1", "-1"),
            ("price_x1", str(10**30)),
            ("freight_minor", "-1"),
            ("freight_minor", str(10**30)),
        ],
    )
    def test_what_the_owner_types_wrong_is_refused_at_its_field(
        self, owner_client: Browser, delivery: Delivery, sheets: Material, field: str, value: str
    ) -> None:
        typed = {"material_x1": sheets.pk, "good_x1": "12", "price_x1": "71.50", field: value}

        answer = post(owner_client, count_url(delivery), **typed)

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert not Lot.objects.exists()

    def test_more_than_two_thousand_sheets_are_refused(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        answer = post(staff_client, count_url(delivery), **{f"good_{line.pk}": "2000", f"damaged_{line.pk}": "1"})

        assert answer.status_code == 422
        assert "One delivery takes up to 2000 of a material" in answer.content.decode()
        assert not Sheet.objects.exists()

    def test_a_count_times_price_past_an_amount_is_refused(self, owner_client: Browser, delivery: Delivery) -> None:
        lumber = make_material(kind="lumber", unit="board_foot")
        typed = {"material_x1": lumber.pk, "good_x1": "1000000000", "price_x1": "1000000"}

        answer = post(owner_client, count_url(delivery), **typed)

        assert answer.status_code == 422
        assert "Count times price is more than an amount can be." in answer.content.decode()
        assert not Lot.objects.exists()

    def test_two_currencies_are_two_deliveries(
        self, staff_client: Browser, supplier: Supplier, delivery: Delivery, line: OrderLine
    ) -> None:
        other = make_order(supplier=supplier, currency="EUR", placed_on=date(2026, 11, 2)).lines.get()

        answer = post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42", f"good_{other.pk}": "42"})

        assert answer.status_code == 422
        assert "These orders are in EUR and USD." in answer.content.decode()
        assert not Lot.objects.exists()

    def test_the_same_count_sent_twice_makes_one_lot(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        key = new_key()

        post(staff_client, count_url(delivery), key=key, **{f"good_{line.pk}": "42"})
        post(staff_client, count_url(delivery), key=key, **{f"good_{line.pk}": "42"})

        assert Sheet.objects.count() == 42

    def test_two_who_count_one_delivery_log_it_once(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine, sheets: Material
    ) -> None:
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42"})

        answer = post(staff_client, count_url(delivery), material_x1=sheets.pk, good_x1="41")

        assert answer.status_code == 422
        assert "Delivery 18 is counted already." in answer.content.decode()
        assert Sheet.objects.count() == 42

    def test_a_counted_delivery_is_shown_instead_of_its_form(self, staff_client: Browser, line: OrderLine) -> None:
        counted = make_delivery(counted_on=date(2026, 11, 24))

        answer = staff_client.get(count_url(counted))

        assert answer.url == reverse("materials:delivery", args=[counted.pk])

    def test_the_trace_tells_what_came_and_the_order_knows_it(
        self, staff_client: Browser, delivery: Delivery, order: Order, line: OrderLine
    ) -> None:
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "39", f"damaged_{line.pk}": "3"})

        words = "Delivery 18 counted: Ash-veneered plywood 42 sheets, of them 3 sheets damaged"
        assert actions.sentence_of(actions.trace(order).first()) == words
        assert actions.sentence_of(actions.trace(Lot.objects.get()).first()) == words

    def test_a_service_leaves_no_lot(self, owner: Person, supplier: Supplier, delivery: Delivery) -> None:
        service = make_material(kind="service", unit="lump", name="Spraying")

        deliveries.count(
            delivery=delivery, rows=[Counted("x1", service, good_micro=MICRO, price_micro=0)], by=hand(owner)
        )

        assert DeliveryLine.objects.get().lot is None
        assert not Lot.objects.exists()


class TestTakingBack:
    def test_a_count_of_sixty_sheets_is_taken_back_whole(
        self, staff_client: Browser, owner: Person, supplier: Supplier, sheets: Material, delivery: Delivery
    ) -> None:
        order = make_order(supplier=supplier, material=sheets, quantity_micro=60 * MICRO, placed_on=date(2026, 11, 2))
        post(staff_client, count_url(delivery), **{f"good_{order.lines.get().pk}": "60"})

        undo(action=Action.objects.get(verb="delivery.count"), by=hand(owner))

        delivery.refresh_from_db()
        assert delivery.counted_on is None
        assert not (Lot.objects.exists() or Sheet.objects.exists() or Half.objects.exists())
        assert Order.objects.with_state().get().state == "placed"

    def test_a_count_is_kept_once_a_sheet_is_sorted(
        self, staff_client: Browser, staff: Person, sheets: Material, delivery: Delivery, line: OrderLine
    ) -> None:
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42"})
        group = make_ladder(sheets)[0]
        sorting.sort(sheet=Sheet.objects.select_related("lot__material").get(number=7), group=group, by=hand(staff))
        counted = Action.objects.get(verb="delivery.count")

        answer = post(staff_client, reverse("front:undo", args=[counted.pk]))

        assert "was changed since. Take back the later change first." in staff_client.get(answer.url).content.decode()
        assert Sheet.objects.count() == 42

    def test_it_can_be_counted_again_and_gets_the_same_lot_number(
        self, staff_client: Browser, staff: Person, delivery: Delivery, line: OrderLine
    ) -> None:
        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "41"})
        number = Lot.objects.get().number
        undo(action=Action.objects.get(verb="delivery.count"), by=hand(staff))

        post(staff_client, count_url(delivery), **{f"good_{line.pk}": "42"})

        assert Lot.objects.get().number == number
        assert Sheet.objects.count() == 42
