"""What a new user finds in the demo: something of everything the app is for, and no list empty.

Invented throughout: this says what there is to look at, and proves nothing of how amounts are worked out.
"""

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from django.db import transaction
from django.test import Client as Browser
from django.test import override_settings
from pytest_django import DjangoDbBlocker

from jobs import fire, lead_times
from jobs.models import Given, Hours, Job, LineShare, Revision, Room, RoomStage
from materials import payments
from materials.models import Bill, Delivery, Lot, Material, Order, Price, Sample, SheetReturn, Supplier
from tests.makers import post
from workshop import clock
from workshop.front import demo, needing_me
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db
WEDNESDAY = date(2026, 11, 25)


@pytest.fixture(scope="module", autouse=True)
def made(
    django_db_setup: None, django_db_blocker: DjangoDbBlocker, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[None]:
    """The demo, made once for all tests here and taken away after them."""
    with django_db_blocker.unblock(), transaction.atomic():
        with clock.as_if(WEDNESDAY), override_settings(MEDIA_ROOT=tmp_path_factory.mktemp("files")):
            demo.load("demo")
        with django_db_blocker.block():
            yield
        transaction.set_rollback(True)


@pytest.fixture(autouse=True)
def today() -> Iterator[None]:
    with clock.as_if(WEDNESDAY):
        yield


@pytest.mark.parametrize(
    ("name", "filled"),
    [
        (
            "Ash-veneered plywood",
            "species cut match face_grade back_grade core thickness_nm real_thickness_nm width_nm length_nm "
            "fire_class emission_class",
        ),
        ("Solid ash 8/4", "species lumber_grade thickness_nm surface dryness tally"),
        ("Ash quarter round", "species thickness_nm width_nm length_nm buy_unit"),
    ],
)
def test_a_material_of_each_kind_states_all_it_can(name: str, filled: str) -> None:
    material = Material.objects.get(name=name)

    assert [field for field in filled.split() if not getattr(material, field)] == []


def test_there_is_a_material_of_every_kind_and_screws_come_in_boxes_of_500() -> None:
    assert set(Material.objects.values_list("kind", flat=True)) == set(Material.Kind.values)
    screws = Material.objects.get(name="Panel screws")
    assert (screws.unit, screws.buy_unit, screws.buy_contains_micro) == ("piece", "box", 500_000_000)


def test_suppliers_quote_working_days_days_weeks_and_months_with_dated_prices_minimums_and_packs() -> None:
    assert set(Supplier.objects.values_list("lead_unit", flat=True)) == {"working_days", "days", "weeks", "months"}
    sold = Price.objects.filter(material__name="Ash-veneered plywood", supplier__name="Example Panels")
    assert sold.count() == 3
    assert sold.filter(from_on__gt=WEDNESDAY).count() == 1
    assert Price.objects.exclude(minimum_micro=None).exists()
    assert Price.objects.exclude(pack_micro=None).exists()


def test_orders_are_in_every_state_and_one_is_held() -> None:
    states = Counter(Order.objects.with_state().values_list("state", flat=True))

    assert set(states) == set(Order.State.values)
    assert [order.supplier.name for order in Order.objects.with_state().filter(is_held=True)] == ["Example Panels"]


def test_the_held_order_has_a_deposit_paid_payments_due_and_a_sample_without_an_answer() -> None:
    held = Order.objects.with_state().get(is_held=True)

    standing = payments.standing(held)

    assert standing.paid_minor
    assert standing.open_minor
    assert standing.unplanned_minor == 0
    assert Sample.objects.waiting().filter(order=held).exists()
    assert LineShare.objects.filter(line__order=held).exists()


def test_an_order_that_slipped_twice_is_late_and_keeps_its_promises() -> None:
    late = [row for row in lead_times.outlook(WEDNESDAY).orders if row.is_late]

    assert [row.line.material.name for row in late] == ["Solid ash 8/4"]
    assert late[0].order.promises.count() == 3


def test_a_delivery_waits_to_be_counted_and_sixty_sheets_are_half_sorted() -> None:
    assert Delivery.objects.to_count().count() == 1
    assert Delivery.objects.exclude(damage="").get().photos.count() == 1
    lot = Lot.objects.get(material__name="Ash-veneered plywood")
    assert lot.sheets.count() == 60
    tally = lot.sheets.tally()
    assert (tally["sorted"], tally["unsorted"]) == (31, 26)
    assert lot.sheets.filter(set_aside_why="Edge split").count() == 1
    assert lot.sheets.exclude(flitch="").exists()


def test_a_finish_lot_has_its_batch_and_must_be_used_soon() -> None:
    lot = Lot.objects.get(material__kind=Material.Kind.FINISH)

    assert lot.batch_number
    assert WEDNESDAY < lot.use_by_on < WEDNESDAY + timedelta(days=30)


def test_one_sheet_goes_back_and_for_another_credit_is_expected() -> None:
    found = SheetReturn.objects.order_by("sheet__number")

    assert [(row.sheet.number, bool(row.collected_on), row.credited_on) for row in found] == [
        (47, False, None),
        (60, True, None),
    ]
    assert {row.credit_expected_minor for row in found} == {7_150}


def test_an_invoice_corrected_what_a_lot_cost() -> None:
    bill = Bill.objects.select_related("delivery").get()

    lot = Lot.objects.get(delivery_line__delivery=bill.delivery)
    slip = round(36 * 8.20 * 100) + bill.delivery.freight_minor
    assert lot.landed_minor - slip == bill.amount_minor - bill.delivery.freight_minor > 0


def test_two_rooms_are_in_work_with_hours_of_two_people_on_several_days() -> None:
    assert [room.name for room in needing_me.rooms_in_work()] == ["Practice 1", "Practice 2"]
    hours = Hours.objects.filter(room__name__in=["Practice 1", "Practice 2"])
    assert hours.values("person").distinct().count() == 2
    assert hours.values("worked_on").distinct().count() >= 4
    assert hours.exclude(batch=None).exists()
    counted = RoomStage.objects.filter(room__name="Practice 1", done__gt=0)
    assert any(row.is_ticked for row in counted)
    assert any(0 < row.done < row.total for row in counted)


def test_rooms_of_two_jobs_have_sheets_and_one_of_them_a_half() -> None:
    halves = Counter(Given.objects.values_list("room__name", flat=True))

    assert halves == {"Practice 1": 10, "Practice 2": 10, "Practice 3": 6, "Office": 5}
    assert Room.objects.get(name="Office").job != Room.objects.get(name="Practice 1").job


def test_the_recital_room_asks_for_a_class_its_panels_do_not_meet() -> None:
    room = Room.objects.get(name="Recital room")

    assert fire.caution(room.fire_class, Material.objects.get(name="Ash-veneered plywood"))


def test_there_are_two_open_jobs_and_a_closed_one_and_a_drawing_with_two_revisions() -> None:
    assert Job.objects.filter(closed_on=None).count() == 2
    assert Job.objects.exclude(closed_on=None).count() == 1
    assert Revision.objects.filter(drawing__number="A-101").count() == 2


def test_its_trace_reads_day_by_day() -> None:
    days = [moment.date() for moment in Action.objects.order_by("pk").values_list("happened_at", flat=True)]

    assert days == sorted(days)


def test_the_first_page_has_something_under_every_head() -> None:
    state = needing_me.today(for_owner=True)

    heads = ["late", "to_place", "to_order", "to_count", "to_sort", "to_chase", "to_pay", "to_use_up"]
    assert [head for head in heads if not getattr(state, head).count] == []
    assert len(state.to_chase.rows) == 4


def test_what_was_done_last_can_be_undone(client: Browser) -> None:
    client.force_login(Person.objects.get(username="demo"))
    last = Action.objects.latest("pk")

    answer = post(client, f"/actions/{last.pk}/undo/")

    assert answer.status_code in (302, 303)
    assert Action.objects.get(pk=last.pk).undone_by
