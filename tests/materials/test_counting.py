"""What a count tells beside how many: too many, which are damaged, the batch of a finish, bought units."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials import deliveries
from materials.deliveries import Counted
from materials.models import Delivery, DeliveryLine, Lot, Material, Order, OrderLine, Sheet, Supplier
from tests.makers import hand, make_delivery, make_material, make_order, make_supplier, post
from tests.together import at_once
from tests.typed import DAYS
from workshop import actions
from workshop.models import Person

MICRO = 1_000_000
PLACED = date(2026, 10, 26)


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A")


@pytest.fixture
def delivery(supplier: Supplier) -> Delivery:
    return make_delivery(supplier=supplier, number=18, slip_number="40172")


@pytest.fixture
def line(supplier: Supplier) -> OrderLine:
    sheets = make_material(name="Ash-veneered plywood")
    return make_order(supplier=supplier, material=sheets, freight_minor=31_500, placed_on=PLACED).lines.get()


def ordered(supplier: Supplier, quantity: int, **material: object) -> OrderLine:
    made = make_material(**material)
    return make_order(
        supplier=supplier, material=made, quantity_micro=quantity * MICRO, price_micro=5_000_000, placed_on=PLACED
    ).lines.get()


def count(browser: Browser, delivery: Delivery, line: OrderLine, **typed: object) -> object:
    url = reverse("materials:delivery_count", args=[delivery.pk])
    return post(browser, url, **{f"{name}_{line.pk}": value for name, value in typed.items()})


def page_of(browser: Browser, delivery: Delivery) -> str:
    return browser.get(reverse("materials:delivery", args=[delivery.pk])).content.decode()


class TestMoreThanOrdered:
    def test_what_is_more_than_ordered_is_asked_about(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        answer = count(staff_client, delivery, line, good="45")

        words = "45 are 3 more than were to come. Mark that they stay, or count them as refused."
        assert answer.status_code == 422
        assert answer.context["form"].errors[f"over_{line.pk}"] == [words]
        assert f'name="over_{line.pk}"' in answer.content.decode()
        assert not Lot.objects.exists()

    def test_nobody_is_asked_before_there_is_too_much(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        page = staff_client.get(reverse("materials:delivery_count", args=[delivery.pk])).content.decode()

        assert "More than ordered" not in page

    def test_what_stays_is_kept_and_said_plainly(
        self, owner_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        count(owner_client, delivery, line, good="44", damaged="1", over="on")

        assert DeliveryLine.objects.get().over_micro == 3 * MICRO
        assert Sheet.objects.count() == 45
        assert "3 sheets more than ordered, kept" in page_of(owner_client, delivery)
        told = actions.sentence_of(actions.trace(delivery).first())
        assert told.endswith("45 sheets, of them 1 sheet damaged, 3 sheets more than ordered")

    def test_what_is_refused_of_too_much_needs_no_mark(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        count(staff_client, delivery, line, good="42", refused="3")

        assert Sheet.objects.count() == 42
        assert "3 sheets more than ordered, refused" in page_of(staff_client, delivery)

    def test_too_many_that_stay_are_paid(self, owner_client: Browser, delivery: Delivery, line: OrderLine) -> None:
        # 45 at 71.50 and 315.00 freight are 3,532.50, which is 78.50 each.
        count(owner_client, delivery, line, good="45", over="on")

        assert set(Sheet.objects.values_list("landed_minor", flat=True)) == {7_850}

    def test_lumber_over_the_foot_is_told_and_not_asked_about(
        self, staff_client: Browser, supplier: Supplier, delivery: Delivery
    ) -> None:
        boards = ordered(supplier, 180, kind="lumber", unit="board_foot", name="Solid ash 8/4")

        count(staff_client, delivery, boards, good="184.5")

        assert DeliveryLine.objects.get().over_micro == 4_500_000
        assert "4 1/2 bd ft more than ordered, kept" in page_of(staff_client, delivery)

    @pytest.mark.django_db(transaction=True)
    def test_two_who_count_one_order_at_once_do_not_both_fill_it(self, staff: Person) -> None:
        supplier = make_supplier()
        line = make_order(supplier=supplier, placed_on=PLACED).lines.get()
        waiting = [make_delivery(supplier=supplier), make_delivery(supplier=supplier)]

        def one() -> Delivery:
            delivery = waiting.pop()
            expected = deliveries.expected_lines(delivery)[0]
            rows = [Counted(f"{line.pk}", line.material, expected, good_micro=42 * MICRO)]
            return deliveries.count(delivery=delivery, rows=rows, by=hand(staff))

        got = at_once(one, times=2)

        assert Sheet.objects.count() == 42
        assert sum(isinstance(each, Exception) for each in got) == 1


class TestDamaged:
    def test_the_damaged_are_marked_by_their_numbers(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine
    ) -> None:
        count(staff_client, delivery, line, good="40", damaged="2", numbers="17, 3")

        assert list(Sheet.objects.filter(is_damaged=True).values_list("number", flat=True)) == [3, 17]
        shown = page_of(staff_client, delivery)
        assert "damaged: 3, 17" in shown
        assert "The damaged sheets are the last numbers" not in shown

    @pytest.mark.parametrize(
        ("damaged", "numbers", "words"),
        [
            ("2", "3", "These are 1 sheets, and 2 are counted as damaged. Make both the same."),
            ("", "3", "These are 1 sheets, and 0 are counted as damaged. Make both the same."),
            ("1", "42", "There is no sheet 42: 41 are kept, numbered from 1 to 41."),
            ("1", "0", "0 is no sheet number. Type 3, 17 or 1-12."),
            ("1", "9-3", "9-3 runs backwards. Type 3-9 or 9."),
            ("1", "3b", "3b is no sheet number. Type 3, 17 or 1-12."),
            ("1", "1-999999", "1-999999 names too many sheets at once. Type 1-100 or 1."),
            ("1", "٣", "٣ is no sheet number. Type 3, 17 or 1-12."),
        ],
    )
    def test_numbers_that_cannot_be_are_refused_at_their_field(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine, damaged: str, numbers: str, words: str
    ) -> None:
        answer = count(staff_client, delivery, line, good="40", damaged=damaged, numbers=numbers)

        assert answer.status_code == 422
        assert answer.context["form"].errors[f"numbers_{line.pk}"] == [words]
        assert not Sheet.objects.exists()

    @pytest.mark.parametrize("numbers", ["a" * 100_000, "3\x00", "<b>3</b>", "1e400"])
    def test_hostile_numbers_store_nothing(
        self, staff_client: Browser, delivery: Delivery, line: OrderLine, numbers: str
    ) -> None:
        answer = count(staff_client, delivery, line, good="40", damaged="1", numbers=numbers)

        assert answer.status_code == 422
        assert answer.context["form"].errors[f"numbers_{line.pk}"]
        assert not Sheet.objects.exists()


class TestFinish:
    @pytest.fixture
    def finish(self, supplier: Supplier) -> OrderLine:
        return ordered(supplier, 5, kind="finish", unit="gallon", name="Water-based finish")

    def test_a_finish_lot_carries_its_batch_and_use_by_date(
        self, staff_client: Browser, delivery: Delivery, finish: OrderLine
    ) -> None:
        count(staff_client, delivery, finish, good="5", batch="B 2211", use_by="2027-05-31")

        lot = Lot.objects.get()
        assert (lot.batch_number, lot.use_by_on) == ("B 2211", date(2027, 5, 31))
        shown = staff_client.get(reverse("materials:lot", args=[lot.pk])).content.decode()
        assert "B 2211" in shown
        assert "Mon, May 31, 2027" in shown

    @pytest.mark.parametrize("value", DAYS)
    def test_a_day_that_is_none_is_refused(
        self, staff_client: Browser, delivery: Delivery, finish: OrderLine, value: str
    ) -> None:
        answer = count(staff_client, delivery, finish, good="5", use_by=value)

        assert answer.status_code == 422
        assert answer.context["form"].errors[f"use_by_{finish.pk}"]
        assert not Lot.objects.exists()

    def test_sheets_are_not_asked_for_a_batch(self, staff_client: Browser, delivery: Delivery, line: OrderLine) -> None:
        form = staff_client.get(reverse("materials:delivery_count", args=[delivery.pk])).context["form"]

        assert f"batch_{line.pk}" not in form.fields
        assert f"numbers_{line.pk}" in form.fields


class TestSeveralAndNone:
    def test_one_slip_serves_two_orders_of_the_same_material(
        self, staff_client: Browser, supplier: Supplier, delivery: Delivery, line: OrderLine
    ) -> None:
        other = make_order(supplier=supplier, material=line.material, quantity_micro=10 * MICRO, placed_on=PLACED)
        second = other.lines.get()
        url = reverse("materials:delivery_count", args=[delivery.pk])

        post(staff_client, url, **{f"good_{line.pk}": "42", f"good_{second.pk}": "10"})

        assert [order.state for order in Order.objects.with_state()] == ["all_arrived", "all_arrived"]
        assert sorted(lot.sheets.count() for lot in Lot.objects.all()) == [10, 42]

    def test_what_came_without_an_order_is_never_more_than_ordered(
        self, staff_client: Browser, delivery: Delivery
    ) -> None:
        sheets = make_material()

        post(staff_client, f"/deliveries/{delivery.pk}/count/", material_x1=sheets.pk, good_x1="5")

        assert DeliveryLine.objects.get().over_micro == 0

    def test_one_wrong_row_logs_none_of_the_others(
        self, staff_client: Browser, supplier: Supplier, delivery: Delivery, line: OrderLine
    ) -> None:
        boards = ordered(supplier, 180, kind="lumber", unit="board_foot")
        url = reverse("materials:delivery_count", args=[delivery.pk])

        post(staff_client, url, **{f"good_{boards.pk}": "180", f"good_{line.pk}": "45"})

        delivery.refresh_from_db()
        assert delivery.counted_on is None
        assert not (Lot.objects.exists() or DeliveryLine.objects.exists())

    def test_a_line_taken_off_its_order_meanwhile_is_refused_in_words(
        self, staff: Person, supplier: Supplier, delivery: Delivery
    ) -> None:
        gone = ordered(supplier, 3)
        row = Counted(f"{gone.pk}", gone.material, gone, good_micro=3 * MICRO)
        OrderLine.objects.filter(pk=gone.pk).delete()

        with pytest.raises(Exception, match="A line was taken off its order meanwhile"):
            deliveries.count(delivery=delivery, rows=[row], by=hand(staff))

        assert not Lot.objects.exists()

    def test_screws_bought_by_the_box_make_a_lot_of_pieces(
        self, owner_client: Browser, supplier: Supplier, delivery: Delivery
    ) -> None:
        boxes = ordered(
            supplier, 4, kind=Material.Kind.FASTENER, unit="piece", buy_unit="box", buy_contains_micro=500 * MICRO
        )
        OrderLine.objects.filter(pk=boxes.pk).update(contains_micro=500 * MICRO)

        count(owner_client, delivery, boxes, good="4")

        lot = Lot.objects.get()
        assert (lot.quantity_micro, lot.landed_minor) == (2_000 * MICRO, 2_000)
