"""Finding by number or name, whatever is typed."""

from datetime import date

import pytest
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Given
from materials.models import Bill, Lot, Sheet
from tests import hostile
from tests.makers import (
    make_client,
    make_delivery,
    make_drawing,
    make_estimate,
    make_job,
    make_ladder,
    make_line,
    make_lot,
    make_material,
    make_order,
    make_room,
    make_sheets,
    make_stack,
    make_supplier,
)
from tests.workshop.chased import make_sample
from workshop.front.finding import MOST_OF_A_KIND, find
from workshop.models import Person

pytestmark = pytest.mark.django_db
DAY = date(2026, 11, 25)


@pytest.mark.parametrize("typed", ["808-31", "808/31", "808 31", "808-31A", " 808-31b "])
def test_lot_and_number_find_the_sheet(typed: str) -> None:
    lot = make_lot(number=808)
    sheet = make_sheets(lot, 31)[30]

    found = find(typed)

    assert [thing.url for thing in found] == [reverse("materials:sheet", args=[sheet.pk])]
    assert found[0].name == "Sheet 31"


def test_a_number_finds_job_order_delivery_and_lot_of_that_number() -> None:
    make_job(number=808, name="Music school")
    make_order(number=808)
    make_delivery(number=808, slip_number="S-1")
    make_lot(number=808)
    make_job(number=809, name="Another")

    assert [thing.name for thing in find("808")] == ["Job 808 Music school", "Order 808", "Delivery 808", "Lot 808"]


def test_a_part_of_a_name_finds_every_kind_of_thing() -> None:
    client = make_client(name="Linden School")
    job = make_job(client=client, name="Linden wing")
    make_room(job=job, name="Linden hall")
    make_material(name="Linden plywood")
    supplier = make_supplier(name="Linden Veneers")
    make_delivery(supplier=supplier, slip_number="LINDEN-7", number=900)

    names = {thing.name for thing in find("linden")}

    assert names == {
        "Linden School",
        f"Job {job}",
        "Linden hall",
        "Linden plywood",
        "Linden Veneers",
        "Delivery 900",
    }


def test_a_sheet_is_told_with_its_tone_group_and_its_room() -> None:
    lot = make_lot(number=808, material=make_material(name="Ash-veneered plywood"))
    (sheet,) = make_stack(make_ladder(lot.material)[0], 1, lot=lot)
    for half in sheet.halves.all():
        Given.objects.create(half=half, room=make_room(name="Practice 1"))

    assert find("808-1")[0].more == "lot 808, Ash-veneered plywood, Pale, Practice 1"


@pytest.mark.parametrize(
    ("typed", "name", "more"),
    [
        ("f5", "Veneer sample, flitch F5", "sample, Ash-veneered plywood, sent to Example Architects"),
        ("architects", "Veneer sample, flitch F5", "sample, Ash-veneered plywood, sent to Example Architects"),
        ("a-101", "Drawing A-101", "Practice rooms, job 808 Music school"),
        ("k-2291", "Lot 909", "Ash-veneered plywood, batch K-2291"),
        ("order desk", "Example Panels", "supplier, Order desk"),
        ("the board", "Example Music School", "client, The board"),
        ("builders", "Job 808 Music school", "Example Music School"),
    ],
)
def test_what_is_known_by_another_word_is_found_by_it(typed: str, name: str, more: str) -> None:
    material = make_material(name="Ash-veneered plywood")
    make_sample(material=material, what="Veneer sample, flitch F5", sent_to="Example Architects")
    client = make_client(name="Example Music School", contact="The board")
    job = make_job(number=808, name="Music school", client=client, general_contractor="Example Builders")
    make_drawing(job=job, number="A-101", name="Practice rooms")
    make_lot(number=909, material=material, batch_number="K-2291")
    make_supplier(name="Example Panels", contact="Order desk")

    assert (name, more) in [(thing.name, thing.more) for thing in find(typed)]


def test_bills_and_people_are_found_by_the_owner_alone(owner: Person) -> None:
    delivery = make_delivery(supplier=make_supplier(name="Example Hardwoods"), number=909)
    Bill.objects.create(delivery=delivery, kind="invoice", number="I-5518", dated_on=DAY, amount_minor=9_800)

    assert [(thing.name, thing.more) for thing in find("i-5518", for_owner=True)] == [
        ("Invoice I-5518", "Example Hardwoods, delivery 909")
    ]
    assert [thing.name for thing in find(owner.name, for_owner=True)] == [owner.name]
    assert find("i-5518") == find(owner.name) == []


def test_what_is_found_twice_stands_once() -> None:
    make_job(number=808, name="808 Linden")

    assert len(find("808")) == 1


def test_many_of_a_kind_are_cut_short() -> None:
    for number in range(MOST_OF_A_KIND + 2):
        make_supplier(name=f"Linden {number}")

    assert len(find("linden")) == MOST_OF_A_KIND


@pytest.mark.parametrize("typed", ["%", "_", "\\", "'", '"'])
def test_signs_of_the_database_are_letters_like_others(typed: str) -> None:
    make_supplier(name="Linden")
    make_supplier(name=f"Oak {typed} Ash")

    assert [thing.name for thing in find(typed)] == [f"Oak {typed} Ash"]


@pytest.mark.parametrize("typed", hostile.NO_NUMBER.values(), ids=hostile.NO_NUMBER)
def test_the_page_answers_whatever_is_typed(owner_client: Browser, typed: str) -> None:
    answer = owner_client.get(reverse("front:find"), {"q": typed.encode(errors="replace").decode()})

    assert answer.status_code == 200
    assert hostile.MARKUP not in answer.content.decode()


def test_nothing_typed_finds_nothing_and_nothing_found_says_what_else(owner_client: Browser) -> None:
    assert find("  ") == []
    assert "Found" not in owner_client.get(reverse("front:find")).content.decode()
    assert "None. Try a part of the name" in owner_client.get(reverse("front:find") + "?q=zzz").content.decode()


def test_the_page_leads_to_what_was_found(owner_client: Browser) -> None:
    job = make_job(number=808)

    page = owner_client.get(reverse("front:find") + "?q=808").content.decode()

    assert reverse("jobs:job", args=[job.pk]) in page


def test_staff_find_no_estimates(staff_client: Browser) -> None:
    make_line(make_estimate(), 717_171, description="Linden panels")

    page = staff_client.get(reverse("front:find") + "?q=linden").content.decode()

    assert "None." in page


def test_a_search_costs_as_many_queries_as_there_are_kinds(django_assert_max_num_queries) -> None:
    for number in range(30):
        make_delivery(supplier=make_supplier(name=f"Linden {number}"), slip_number=f"Linden {number}")
        make_room(name=f"Linden {number}")

    with django_assert_max_num_queries(11):
        find("linden", for_owner=True)
    with django_assert_max_num_queries(9):
        find("linden")


def test_among_twenty_thousand_sheets_one_is_found_by_its_indexes() -> None:
    lots = Lot.objects.bulk_create(
        Lot(number=number, material=make_material(), quantity_micro=0, currency="USD", arrived_on=DAY)
        for number in range(1, 41)
    )
    Sheet.objects.bulk_create(Sheet(lot=lot, number=number) for lot in lots for number in range(1, 501))
    wanted = Sheet.objects.filter(lot__number=8, number=31)

    plan = wanted.explain()

    assert [thing.name for thing in find("8-31")] == ["Sheet 31"]
    if connection.vendor == "sqlite":
        assert "SCAN" not in plan
    assert "Seq Scan on materials_sheet" not in plan
