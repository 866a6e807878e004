"""Until when faults must be told, and what Today says while nobody has looked at the sheets."""

from datetime import date, timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import Settings

from materials import inspection
from materials.models import Delivery, DeliveryLine, Lot, Supplier
from tests.makers import make_delivery, make_ladder, make_lot, make_sheets, make_supplier, post
from tests.queries import queries_of
from tests.typed import NUMBERS

TUESDAY = date(2026, 11, 24)


def arrived(day: date = TUESDAY, days: int | None = 10, sheets: int = 3) -> Lot:
    """A counted delivery of some sheets, nobody looked at."""
    supplier = make_supplier(inspect_days=days)
    delivery = make_delivery(supplier=supplier, arrived_on=day, counted_on=day)
    lot = make_lot(arrived_on=day)
    make_sheets(lot, sheets)
    DeliveryLine.objects.create(
        delivery=delivery, material=lot.material, lot=lot, kept_micro=sheets * 1_000_000, price_micro=0
    )
    return lot


def by(lot: Lot) -> inspection.TellBy | None:
    return inspection.tell_by(Delivery.objects.select_related("supplier").get(lines__lot=lot))


@pytest.mark.django_db
class TestDay:
    @pytest.mark.parametrize(
        ("days", "last"),
        [
            (0, date(2026, 11, 24)),
            (1, date(2026, 11, 25)),
            (10, date(2026, 12, 4)),
            (11, date(2026, 12, 4)),  # a Saturday: the open day before
            (12, date(2026, 12, 4)),  # a Sunday
            (366, date(2027, 11, 25)),
        ],
    )
    def test_days_are_counted_from_the_day_of_arrival_to_the_open_day_before(self, days: int, last: date) -> None:
        assert by(arrived(days=days)).day == last

    def test_where_nothing_is_agreed_there_is_no_day(self) -> None:
        assert by(arrived(days=None)) is None

    @pytest.mark.parametrize("days", [0, 1])
    def test_what_arrived_on_a_weekend_is_told_by_that_day_at_least(self, days: int) -> None:
        saturday = date(2026, 11, 28)

        assert by(arrived(saturday, days=days)).day >= saturday

    @pytest.mark.parametrize(
        ("today", "left", "words"),
        [
            (date(2026, 11, 25), 7, "Tell faults by Fri, Dec 4"),
            (date(2026, 12, 4), 0, "Tell faults by Fri, Dec 4"),
            (date(2026, 12, 5), -1, "Faults were to be told by Fri, Dec 4"),
            (date(2026, 12, 8), -2, "Faults were to be told by Fri, Dec 4"),
        ],
    )
    def test_it_says_how_many_working_days_are_left(
        self, settings: Settings, today: date, left: int, words: str
    ) -> None:
        settings.FIXED_TODAY = today

        told = by(arrived())

        assert (told.left, told.text) == (left, words)


@pytest.mark.django_db
class TestToday:
    @pytest.mark.parametrize(
        ("today", "shown"),
        [
            (date(2026, 12, 1), False),  # three working days left
            (date(2026, 12, 2), True),
            (date(2026, 12, 4), True),
            (date(2026, 12, 11), True),  # a week past
            (date(2026, 12, 12), False),
        ],
    )
    def test_a_lot_is_told_once_less_than_three_working_days_are_left(
        self, settings: Settings, staff_client: Browser, today: date, shown: bool
    ) -> None:
        settings.FIXED_TODAY = today
        lot = arrived()

        page = staff_client.get(reverse("front:today")).content.decode()

        assert (lot.pk in inspection.to_look_at()) is shown
        assert ("by Fri, Dec 4" in page) is shown

    def test_a_lot_that_was_sorted_or_set_aside_is_told_no_more(self, settings: Settings) -> None:
        settings.FIXED_TODAY = date(2026, 12, 4)
        lot = arrived()
        group = make_ladder(lot.material)[0]
        lot.sheets.filter(number=1).update(set_aside_on=TUESDAY, set_aside_why="Warped")
        for place, sheet in enumerate(lot.sheets.exclude(number=1), 1):
            lot.sheets.filter(pk=sheet.pk).update(tone_group=group, place=place)

        assert inspection.to_look_at() == {}

    def test_a_delivery_that_is_not_counted_says_it_too(self, settings: Settings, staff_client: Browser) -> None:
        settings.FIXED_TODAY = date(2026, 12, 4)
        make_delivery(supplier=make_supplier(inspect_days=10), arrived_on=TUESDAY)

        assert "Tell faults by Fri, Dec 4" in staff_client.get(reverse("front:today")).content.decode()

    def test_the_soonest_comes_first(self, settings: Settings, staff_client: Browser) -> None:
        settings.FIXED_TODAY = date(2026, 12, 4)
        arrived(days=None)
        later, sooner = arrived(days=12), arrived(TUESDAY - timedelta(days=1), days=10)

        state = staff_client.get(reverse("front:today")).context["state"]

        assert [lot.pk for lot in state.to_sort.rows][:2] == [sooner.pk, later.pk]

    def test_it_costs_the_same_with_one_lot_and_with_many(self, settings: Settings, staff_client: Browser) -> None:
        settings.FIXED_TODAY = date(2026, 12, 4)
        arrived()
        few = queries_of(staff_client, reverse("front:today"))

        for _ in range(8):
            arrived()

        assert queries_of(staff_client, reverse("front:today")) <= few


@pytest.mark.django_db
class TestPages:
    def test_delivery_and_lot_say_it(self, staff_client: Browser) -> None:
        lot = arrived()
        delivery = lot.delivery_line.delivery

        for url in (reverse("materials:delivery", args=[delivery.pk]), reverse("materials:lot", args=[lot.pk])):
            assert "Tell faults by Fri, Dec 4" in staff_client.get(url).content.decode()

    def test_the_days_are_told_with_the_supplier(self, staff_client: Browser) -> None:
        supplier = make_supplier(name="Supplier A")
        url = reverse("materials:supplier", args=[supplier.pk])
        typed = {"name": "Supplier A", "lead_count": "2", "lead_unit": "weeks", "version": supplier.version}

        post(staff_client, url, **typed, inspect_days="10")

        assert Supplier.objects.get().inspect_days == 10

    @pytest.mark.parametrize("value", [case for case in NUMBERS if case.id != "nothing"] + ["367", "1.5"])
    def test_what_is_no_count_of_days_is_refused(self, staff_client: Browser, value: str) -> None:
        typed = {"name": "Supplier A", "lead_count": "2", "lead_unit": "weeks", "inspect_days": value}

        answer = post(staff_client, reverse("materials:supplier_new"), **typed)

        assert answer.status_code == 422
        assert answer.context["form"].errors["inspect_days"]
        assert not Supplier.objects.exists()
