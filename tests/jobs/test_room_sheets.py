"""The sheets of one room: given by stack, by number, and taken back."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import giving
from jobs.models import Given, Room
from materials.models import Half, Lot, Material, ToneGroup
from tests.makers import (
    hand,
    make_lot,
    make_need,
    make_room,
    make_stack,
    post,
)
from tests.queries import queries_of
from tests.typed import KEYS
from workshop import actions
from workshop.models import Action, Person


@pytest.fixture
def lot(pale: ToneGroup) -> Lot:
    lot = make_lot(material=pale.material)
    make_stack(pale, 3, lot)
    return lot


@pytest.fixture
def room(plywood: Material) -> Room:
    room = make_room(name="Practice 1")
    make_need(room=room, material=plywood, quantity_micro=2_500_000)
    return room


def url(room: Room) -> str:
    return reverse("jobs:room_sheets", args=[room.pk])


def take_back_url(room: Room) -> str:
    return reverse("jobs:take_back", args=[room.pk])


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def pieces(room: Room) -> list[str]:
    return [str(half) for half in giving.halves_of(room)]


def given(room: Room, pale: ToneGroup, halves: int, person: Person) -> list[Half]:
    rows = giving.give(room=room, material=pale.material, group=pale, halves=halves, by=hand(person))
    return [row.half for row in rows]


def test_each_stack_offers_what_the_room_is_short_of(staff_client: Browser, room: Room, lot: Lot) -> None:
    html = words_of(staff_client.get(url(room)))

    assert '<input type="text" name="count" value="2 1/2"' in html
    assert "Give Pale" in html
    assert "Give Brown" not in html


def test_a_count_given_here_leads_back_here(staff_client: Browser, room: Room, lot: Lot, pale: ToneGroup) -> None:
    answer = post(staff_client, reverse("jobs:give", args=[room.pk]), group=pale.pk, count="2 1/2", then="room")

    assert (answer.status_code, answer.url) == (303, url(room))
    assert len(pieces(room)) == 5


def test_single_sheets_and_halves_are_given_by_number(staff_client: Browser, room: Room, lot: Lot) -> None:
    answer = post(staff_client, url(room), lot=lot.pk, pieces="1, 3b")

    assert (answer.status_code, answer.url) == (303, url(room))
    assert pieces(room) == ["1A", "1B", "3B"]
    assert "Practice 1: 1 1/2 Pale given" in words_of(staff_client.get(url(room)))


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("", "This is empty."),
        ("x" * 100_000, "letters are too many here"),
        ("1\0", "There is a sign in it that cannot be typed."),
        ("<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt; is no sheet number."),
        ("1e400", "1e400 is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("NaN", "NaN is no sheet number."),
        ("-1", "-1 is no sheet number."),
        ("1" + "0" * 30, "is no sheet number."),
        ("9", "9 is not in this lot. Take them off the list, or free them first."),
        ("3-1", "3-1 runs backwards. Type 1-3 or 3."),
        ("1-400", "names too many sheets at once"),
    ],
)
def test_numbers_that_cannot_be_given_are_refused_at_the_field(
    staff_client: Browser, room: Room, lot: Lot, typed: str, message: str
) -> None:
    answer = post(staff_client, url(room), lot=lot.pk, pieces=typed)

    assert answer.status_code == 422
    assert message in words_of(answer)
    assert answer.context["pieces"]["pieces"].value() == typed
    assert (pieces(room), Action.objects.count()) == ([], 0)


@pytest.mark.parametrize("typed", KEYS)
def test_a_lot_that_is_not_there_is_refused(staff_client: Browser, room: Room, lot: Lot, typed: str) -> None:
    answer = post(staff_client, url(room), lot=typed, pieces="1")

    assert answer.status_code == 422
    assert answer.context["pieces"].errors.keys() == {"lot"}
    assert pieces(room) == []


def test_a_lot_of_which_nothing_is_free_is_not_offered(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup
) -> None:
    given(make_room(), pale, 6, staff)

    assert "Single sheets, by their numbers" not in words_of(staff_client.get(url(room)))
    assert post(staff_client, url(room), lot=lot.pk, pieces="1").status_code == 422


def test_a_room_that_takes_no_sheets_is_told_so(staff_client: Browser, lot: Lot) -> None:
    room = make_room()

    html = words_of(staff_client.get(url(room)))

    assert "This room needs no sheets yet." in html
    assert reverse("jobs:need_new", args=[room.pk]) in html


def test_chosen_halves_are_taken_back(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup
) -> None:
    halves = given(room, pale, 5, staff)

    answer = post(staff_client, take_back_url(room), halves=[halves[0].pk, halves[1].pk])

    assert (answer.status_code, answer.url) == (303, url(room))
    assert len(pieces(room)) == 3
    assert "Practice 1: 1 Pale taken back" in words_of(staff_client.get(url(room)))


def test_the_undo_beside_taking_back_gives_the_same_halves_again(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup
) -> None:
    halves = given(room, pale, 5, staff)
    before = pieces(room)
    post(staff_client, take_back_url(room), halves=[half.pk for half in halves])
    change = staff_client.get(url(room)).context["block"].changes[0]

    post(staff_client, change.undo_url, key=change.key)

    assert pieces(room) == before


@pytest.mark.parametrize("typed", KEYS)
def test_halves_that_are_not_in_the_room_are_refused(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup, typed: str
) -> None:
    half = given(room, pale, 2, staff)[0]

    answer = post(staff_client, take_back_url(room), halves=[half.pk, typed] if typed else [])

    assert answer.status_code == 422
    assert answer.context["taking"].errors.keys() == {"halves"}
    assert len(pieces(room)) == 2


def test_what_was_chosen_stays_chosen_after_a_refusal(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup
) -> None:
    half = given(room, pale, 2, staff)[0]

    html = words_of(post(staff_client, take_back_url(room), halves=[half.pk, "999999"]))

    assert html.count("checked") - html.count("data-key-switch checked") == 1


def test_a_half_of_another_room_is_not_taken_back(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup
) -> None:
    half = given(make_room(), pale, 2, staff)[0]

    answer = post(staff_client, take_back_url(room), halves=[half.pk])

    assert (answer.status_code, Given.objects.count()) == (422, 2)


def test_the_same_taking_back_sent_twice_is_done_once(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup
) -> None:
    half, key = given(room, pale, 2, staff)[0], actions.new_key()

    answers = [post(staff_client, take_back_url(room), key=key, halves=[half.pk]) for _time in range(2)]

    assert [answer.url for answer in answers] == [url(room)] * 2
    assert len(pieces(room)) == 1


@pytest.mark.parametrize("method", ["put", "delete", "patch"])
def test_the_page_takes_no_other_method(owner_client: Browser, room: Room, method: str) -> None:
    assert getattr(owner_client, method)(url(room)).status_code == 405


def test_a_room_of_many_halves_costs_the_queries_of_one(
    staff_client: Browser, staff: Person, room: Room, lot: Lot, pale: ToneGroup
) -> None:
    given(room, pale, 2, staff)
    of_two = queries_of(staff_client, url(room))

    make_stack(pale, 40, lot)
    given(room, pale, 80, staff)

    assert queries_of(staff_client, url(room)) == of_two
