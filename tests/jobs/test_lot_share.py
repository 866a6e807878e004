"""Lots that are not counted in sheets, shared out to rooms by quantity."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import giving
from jobs.models import LotShare, Room
from materials.models import Lot, Material
from tests.makers import hand, make_lot, make_material, make_need, make_room, make_sheets, post
from tests.queries import queries_of
from tests.together import at_once
from tests.typed import KEYS, NUMBERS
from workshop import actions
from workshop.models import Action, Person


@pytest.fixture
def ash(db: None) -> Material:
    return make_material(kind="lumber", name="Solid ash 8/4")


@pytest.fixture
def lot(ash: Material) -> Lot:
    return make_lot(material=ash, quantity_micro=180_000_000)


@pytest.fixture
def room(db: None) -> Room:
    return make_room(name="Practice 1")


def url(room: Room) -> str:
    return reverse("jobs:lot_share", args=[room.pk])


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def give(room: Room, lot: Lot, micro: int, person: Person) -> None:
    giving.give_quantity(room=room, lot=lot, quantity_micro=micro, by=hand(person))


def test_a_room_is_given_a_quantity_of_a_lot(staff_client: Browser, room: Room, lot: Lot) -> None:
    answer = post(staff_client, url(room), lot=lot.pk, quantity_micro="48 1/2")

    assert (answer.status_code, answer.url) == (303, reverse("jobs:room", args=[room.pk]))
    assert LotShare.objects.get().quantity_micro == 48_500_000
    sentence = actions.sentence_of(Action.objects.get())
    assert sentence == f"Practice 1: 48 1/2 bd ft of lot {lot.number}"


def test_another_unit_of_the_same_kind_is_converted(staff_client: Browser, room: Room, db: None) -> None:
    finish = make_lot(material=make_material(kind="finish", unit="gallon"), quantity_micro=6_000_000)

    post(staff_client, url(room), lot=finish.pk, quantity_micro="20 L")

    assert LotShare.objects.get().quantity_micro == 5_283_441  # NIST Handbook 44: 1 gal is 3.785411784 L


def test_more_than_the_lot_has_for_the_room_is_refused_at_the_field(
    staff_client: Browser, staff: Person, room: Room, lot: Lot
) -> None:
    give(make_room(), lot, 100_000_000, staff)

    answer = post(staff_client, url(room), lot=lot.pk, quantity_micro="90")

    assert answer.status_code == 422
    assert f"Lot {lot.number} has 80 bd ft for this room. Type that or less, or take another lot." in words_of(answer)
    assert 'name="quantity_micro" value="90"' in words_of(answer)
    assert LotShare.objects.filter(room=room).count() == 0


def test_what_the_room_has_counts_as_free_for_it(staff: Person, room: Room, lot: Lot) -> None:
    give(room, lot, 100_000_000, staff)

    give(room, lot, 180_000_000, staff)

    assert LotShare.objects.get().quantity_micro == 180_000_000


def test_nothing_takes_the_share_back(staff_client: Browser, staff: Person, room: Room, lot: Lot) -> None:
    give(room, lot, 100_000_000, staff)

    post(staff_client, url(room), lot=lot.pk, quantity_micro="0")

    assert LotShare.objects.count() == 0


def test_nothing_for_a_room_without_a_share_changes_nothing(staff: Person, room: Room, lot: Lot) -> None:
    give(room, lot, 0, staff)

    assert (LotShare.objects.count(), Action.objects.count()) == (0, 0)


@pytest.mark.parametrize("typed", [*NUMBERS, "3 sheets", "1 1/2 gal", "-0.5"])
def test_what_is_no_quantity_of_the_lot_is_refused(staff_client: Browser, room: Room, lot: Lot, typed: str) -> None:
    answer = post(staff_client, url(room), lot=lot.pk, quantity_micro=typed)

    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {"quantity_micro"}
    assert (LotShare.objects.count(), Action.objects.count()) == (0, 0)


@pytest.mark.parametrize("typed", KEYS)
def test_a_lot_that_is_not_there_is_refused(staff_client: Browser, room: Room, lot: Lot, typed: str) -> None:
    answer = post(staff_client, url(room), lot=typed, quantity_micro="5")

    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {"lot"}
    assert LotShare.objects.count() == 0


def test_a_lot_of_sheets_is_not_shared_by_quantity(staff_client: Browser, room: Room, lot: Lot) -> None:
    plywood = make_lot(quantity_micro=3_000_000)
    make_sheets(plywood, 3)

    assert post(staff_client, url(room), lot=plywood.pk, quantity_micro="1").status_code == 422


def test_boards_come_whole(staff_client: Browser, room: Room, db: None) -> None:
    boards = make_lot(material=make_material(kind="lumber", unit="board"), quantity_micro=9_000_000)

    answer = post(staff_client, url(room), lot=boards.pk, quantity_micro="2 1/2")

    assert answer.status_code == 422
    assert "2 1/2 is not a whole number. Type 2 or 3." in words_of(answer)


def test_what_the_room_needs_stands_first_and_what_is_used_up_is_left_out(
    staff: Person, room: Room, lot: Lot, ash: Material
) -> None:
    trim = make_material(kind="trim", name="Zebra trim")
    make_need(room=room, material=trim)
    needed = make_lot(material=trim, quantity_micro=20_000_000)
    used_up = make_lot(material=ash, quantity_micro=10_000_000)
    give(make_room(), used_up, 10_000_000, staff)

    assert giving.lots_for(room) == [needed, lot]


def test_the_room_sees_what_is_free_for_it(staff_client: Browser, staff: Person, room: Room, lot: Lot) -> None:
    give(room, lot, 30_000_000, staff)
    give(make_room(), lot, 100_000_000, staff)

    html = words_of(staff_client.get(url(room), {"lot": lot.pk}))

    assert f"Solid ash 8/4, lot {lot.number}: 80 bd ft free" in html
    assert f'<option value="{lot.pk}" selected>' in html
    assert "$" not in html


@pytest.mark.parametrize("asked", ["", "x", "\0", "9" * 40, "-1"])
def test_a_strange_lot_in_the_address_chooses_nothing(staff_client: Browser, room: Room, lot: Lot, asked: str) -> None:
    assert staff_client.get(url(room), {"lot": asked}).status_code == 200


def test_without_lots_the_page_says_where_they_come_from(staff_client: Browser, room: Room) -> None:
    html = words_of(staff_client.get(url(room)))

    assert "No lot has anything free but sheets." in html
    assert reverse("materials:deliveries") in html


def test_the_same_share_sent_twice_is_stored_once(staff_client: Browser, room: Room, lot: Lot) -> None:
    key = actions.new_key()

    answers = [post(staff_client, url(room), key=key, lot=lot.pk, quantity_micro="5") for _time in range(2)]

    assert [answer.status_code for answer in answers] == [303, 303]
    assert (LotShare.objects.count(), Action.objects.count()) == (1, 1)


def test_undo_puts_the_share_back_as_it_was(staff: Person, room: Room, lot: Lot) -> None:
    give(room, lot, 30_000_000, staff)
    give(room, lot, 40_000_000, staff)

    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert LotShare.objects.get().quantity_micro == 30_000_000


def test_undo_stops_where_the_lot_has_not_so_much_left(staff: Person, room: Room, lot: Lot) -> None:
    give(room, lot, 100_000_000, staff)
    give(room, lot, 10_000_000, staff)
    give(make_room(), lot, 150_000_000, staff)

    with pytest.raises(ValidationError, match=f"lot {lot.number} has only 30 bd ft left now"):
        actions.undo(action=Action.objects.filter(about__thing=actions.thing_of(room)).first(), by=hand(staff))

    assert LotShare.objects.get(room=room).quantity_micro == 10_000_000


@pytest.mark.parametrize("method", ["put", "delete"])
def test_the_page_takes_no_other_method(owner_client: Browser, room: Room, method: str) -> None:
    assert getattr(owner_client, method)(url(room)).status_code == 405


def test_many_lots_cost_the_queries_of_one(staff_client: Browser, room: Room, lot: Lot, ash: Material) -> None:
    of_one = queries_of(staff_client, url(room))

    for _number in range(20):
        LotShare.objects.create(
            lot=make_lot(material=ash, quantity_micro=9_000_000), room=room, quantity_micro=1_000_000
        )

    assert queries_of(staff_client, url(room)) == of_one


@pytest.mark.django_db(transaction=True)
def test_a_lot_is_never_shared_out_twice_when_eight_ask_at_once(staff: Person, lot: Lot) -> None:
    rooms = iter([make_room() for _number in range(8)])

    got = at_once(lambda: give(next(rooms), lot, 50_000_000, staff))

    refused = [one for one in got if isinstance(one, ValidationError)]
    assert (len(refused), sum(share.quantity_micro for share in LotShare.objects.all())) == (5, 150_000_000)
