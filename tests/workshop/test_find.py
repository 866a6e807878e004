"""Finding by number or name, whatever is typed."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests import hostile
from tests.makers import (
    make_client,
    make_delivery,
    make_estimate,
    make_job,
    make_line,
    make_lot,
    make_material,
    make_order,
    make_room,
    make_sheets,
    make_supplier,
)
from workshop.front.finding import MOST_OF_A_KIND, find

pytestmark = pytest.mark.django_db


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

    with django_assert_max_num_queries(6):
        find("linden")
