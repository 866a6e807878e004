"""The trace of a thing, and the way back from the page one is on."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Client, Job
from materials.models import Order
from tests import hostile
from tests.makers import (
    hand,
    make_client,
    make_estimate,
    make_job,
    make_order,
    make_room,
    post,
)
from tests.workshop.doing import add_client, save_client
from workshop import actions
from workshop.actions import recorded
from workshop.models import Action, Person, Shop

pytestmark = pytest.mark.django_db


def trace_of(row: object) -> str:
    return reverse("front:trace", args=[actions.thing_of(row)])


def undo_url(action: Action) -> str:
    return reverse("front:undo", args=[action.pk])


def test_the_page_tells_who_did_what_newest_first(owner_client: Browser, owner: Person) -> None:
    client = make_client(name="Elm Street")
    save_client(client, owner, contact="Ms. Vogel")

    page = owner_client.get(trace_of(client)).content.decode()

    assert "Done to Elm Street" in page
    assert "R. M., " in page
    assert "Contact: was empty, is Ms. Vogel" in page


def test_markup_in_what_was_typed_stays_text(owner_client: Browser, owner: Person) -> None:
    client = make_client(name=hostile.MARKUP)
    save_client(client, owner, contact=hostile.MARKUP)

    assert hostile.MARKUP not in owner_client.get(trace_of(client)).content.decode()


def test_a_thing_without_a_trace_says_so(owner_client: Browser) -> None:
    page = owner_client.get(trace_of(make_client())).content.decode()

    assert "Nothing was done to it yet." in page


def test_a_long_trace_is_paged_and_costs_the_same(
    owner_client: Browser, owner: Person, django_assert_max_num_queries
) -> None:
    client = make_client(name="Elm Street")
    for number in range(60):
        save_client(client, owner, contact=f"Contact {number}")

    owner_client.get(trace_of(client))

    with django_assert_max_num_queries(9):
        page = owner_client.get(trace_of(client)).content.decode()

    assert "1 of 2" in page
    assert "Contact 59" in page
    assert "Contact: was Contact 5, is Contact 6" in owner_client.get(trace_of(client) + "?page=2").content.decode()


@pytest.mark.parametrize(
    "thing",
    [
        "jobs.client:999999",
        "jobs.client:999999999999999999",
        "jobs.client:1" + "0" * 30,
        "jobs.client:x",
        "jobs.nothing:1",
        "jobs.client",
        "auth.group:1",
        "django_tasks_db.dbtaskresult:1",
        "sessions.session:1",
        "jobs.client:1\n",
        "JOBS.CLIENT:1",
        "a" * 1000,
    ],
)
def test_what_is_no_thing_of_the_shops_is_not_found(owner_client: Browser, thing: str) -> None:
    assert owner_client.get(reverse("front:trace", args=[thing])).status_code == 404


def test_staff_open_no_trace_of_shop_people_and_estimates(staff_client: Browser, owner_client: Browser) -> None:
    rows = [Shop.get(), Person.objects.first(), make_estimate()]

    answers = [[browser.get(trace_of(row)).status_code for row in rows] for browser in (staff_client, owner_client)]

    assert answers == [[404] * 3, [200] * 3]


def test_staff_see_no_prices_in_the_trace_of_an_order(
    staff_client: Browser, owner_client: Browser, owner: Person
) -> None:
    order = make_order()
    with recorded(hand(owner), "test.do", order, name="") as record:
        record.save(order.lines.get(), price_micro=7_171_710_000, quantity_micro=43_000_000)

    page, whole = (browser.get(trace_of(order)).content.decode() for browser in (staff_client, owner_client))

    assert "Quantity: was 42, is 43" in page
    assert "7171.71" not in page.replace(",", "")
    assert "7,171.71" in whole


def test_the_button_takes_back_says_so_and_leads_to_the_page_it_was_on(owner_client: Browser, owner: Person) -> None:
    client = make_client(name="Elm Street")
    action = save_client(client, owner, contact="Ms. Vogel")
    page = reverse("jobs:clients") + "?page=1"

    answer = owner_client.post(undo_url(action), {"key": "a" * 32}, headers={"Referer": f"http://testserver{page}"})

    assert (answer.status_code, answer.headers["Location"]) == (303, f"http://testserver{page}")
    assert Client.objects.get().contact == ""
    assert "Taken back: Done to Elm Street" in owner_client.get(page).content.decode()


def test_a_swap_names_its_page_in_a_header_of_its_own(owner_client: Browser, owner: Person) -> None:
    action = add_client(owner)
    headers = {"HX-Request": "true", "HX-Current-URL": "http://testserver/more/"}

    answer = owner_client.post(undo_url(action), {"key": "a" * 32}, headers=headers)

    assert answer.headers["Location"] == "http://testserver/more/"


@pytest.mark.parametrize(
    "asked", ["", "https://elsewhere.example/jobs/", "javascript:alert(1)", "//elsewhere.example/"]
)
def test_the_way_back_leads_to_no_other_site(owner_client: Browser, owner: Person, asked: str) -> None:
    action = add_client(owner)

    answer = owner_client.post(undo_url(action), {"key": "a" * 32}, headers={"Referer": asked})

    assert answer.headers["Location"] == "/clients/"


def test_from_the_page_of_what_is_gone_the_way_back_leads_to_the_first_page(
    owner_client: Browser, owner: Person
) -> None:
    client = make_client()
    with recorded(hand(owner), "test.do", name="") as record:
        job = record.add(Job(number=1, name="Music school", client=client))
        record.answer = reverse("jobs:job", args=[job.pk])
    page = f"http://testserver{record.action.answer}?room=1"

    answer = owner_client.post(undo_url(record.action), {"key": "a" * 32}, headers={"Referer": page})

    assert not Job.objects.exists()
    assert answer.headers["Location"] == "/"


def test_what_cannot_be_taken_back_says_why(owner_client: Browser, owner: Person) -> None:
    action = add_client(owner)
    make_job(client=Client.objects.get())

    answer = post(owner_client, undo_url(action))

    assert answer.status_code == 303
    assert "It is in use and stays." in owner_client.get("/clients/").content.decode()
    assert Client.objects.exists()


def test_the_same_key_twice_takes_back_once(owner_client: Browser, owner: Person) -> None:
    action = add_client(owner)

    answers = [post(owner_client, undo_url(action), key="a" * 32) for _time in range(2)]

    assert [answer.status_code for answer in answers] == [303, 303]
    assert Action.objects.filter(verb="action.undo").count() == 1


def test_a_second_undo_with_another_key_says_that_it_was_done(owner_client: Browser, owner: Person) -> None:
    action = add_client(owner)
    post(owner_client, undo_url(action))

    post(owner_client, undo_url(action))

    assert "This was taken back before" in owner_client.get("/clients/").content.decode()


@pytest.mark.parametrize("key", ["", "x", "\0" * 32, hostile.LONG])
def test_without_a_key_nothing_is_taken_back(owner_client: Browser, owner: Person, key: str) -> None:
    action = add_client(owner)

    answer = owner_client.post(undo_url(action), {"key": key})

    assert answer.status_code == 303
    assert Client.objects.exists()
    assert "Nothing was taken back." in owner_client.get("/clients/").content.decode()


def test_staff_do_not_take_back_what_the_owner_did_nor_learn_what_it_was(staff_client: Browser, owner: Person) -> None:
    action = add_client(owner)
    actions.undo(action=add_client(owner, "Oak Street"), by=hand(owner))

    answers = [post(staff_client, undo_url(each)).status_code for each in Action.objects.all()]

    assert answers == [403, 403, 403]
    assert Client.objects.filter(pk=actions.row_of(action.thing).pk).exists()


def test_only_a_button_takes_back(owner_client: Browser, owner: Person) -> None:
    assert owner_client.get(undo_url(add_client(owner))).status_code == 405
    assert post(owner_client, reverse("front:undo", args=[10**30])).status_code == 404


def test_an_order_with_a_room_beside_it_is_told_in_both_traces(owner_client: Browser, owner: Person) -> None:
    room, order = make_room(name="Lobby"), make_order()
    with recorded(hand(owner), "test.do", order, about=[room], name="order and Lobby") as record:
        record.save(order, note="for the lobby")

    pages = [owner_client.get(trace_of(row)).content.decode() for row in (room, Order.objects.get())]

    assert all("Done to order and Lobby" in page for page in pages)
