"""Swapping sheets of a room: one comes, another goes back, in one action."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import giving
from jobs.models import Given, Room
from materials import sorting
from materials.models import Lot, Material, Sheet, ToneGroup
from tests.jobs.handling import last_sentence, pieces
from tests.makers import hand, make_lot, make_room, make_stack, post
from tests.together import at_once
from tests.typed import KEYS, TEXTS
from workshop import actions
from workshop.models import Action, Person


@pytest.fixture
def lot(plywood: Material, pale: ToneGroup, cream: ToneGroup) -> Lot:
    """Sheets 1 to 4 are Pale, 5 and 6 Cream."""
    lot = make_lot(material=plywood, number=8)
    make_stack(pale, 4, lot)
    make_stack(cream, 2, lot)
    return lot


@pytest.fixture
def held(room: Room, lot: Lot) -> Room:
    """The room holds sheet 1."""
    Given.objects.bulk_create(Given(room=room, half=half) for half in lot.sheets.get(number=1).halves.all())
    return room


def url(room: Room) -> str:
    return reverse("jobs:swap", args=[room.pk])


def halves(room: Room) -> list[int]:
    return [half.pk for half in giving.halves_of(room)]


def numbered(lot: Lot, number: int) -> Sheet:
    return lot.sheets.get(number=number)


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def test_a_sheet_comes_and_another_goes_back_in_one_action(staff_client: Browser, held: Room, lot: Lot) -> None:
    answer = post(staff_client, url(held), halves=halves(held), lot=lot.pk, pieces="3")

    assert (answer.status_code, answer.url) == (303, reverse("jobs:room_sheets", args=[held.pk]))
    assert pieces(held) == ["3A", "3B"]
    assert Action.objects.count() == 1
    assert last_sentence() == "Practice 1: 1 Pale given for 1 Pale taken back"


def test_both_sheets_and_the_room_tell_it_in_their_trace(staff_client: Browser, held: Room, lot: Lot) -> None:
    post(staff_client, url(held), halves=halves(held), lot=lot.pk, pieces="3")

    traced = [held, numbered(lot, 1), numbered(lot, 3), lot]
    assert [actions.trace(thing).count() for thing in traced] == [1, 1, 1, 1]


def test_a_half_can_be_swapped_for_another(staff_client: Browser, held: Room, lot: Lot) -> None:
    post(staff_client, url(held), halves=halves(held)[:1], lot=lot.pk, pieces="2B")

    assert pieces(held) == ["1B", "2B"]


def test_undo_puts_both_back(staff_client: Browser, staff: Person, held: Room, lot: Lot) -> None:
    post(staff_client, url(held), halves=halves(held), lot=lot.pk, pieces="3")

    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert pieces(held) == ["1A", "1B"]


def test_a_sheet_set_aside_since_does_not_come_back(staff_client: Browser, staff: Person, held: Room, lot: Lot) -> None:
    post(staff_client, url(held), halves=halves(held), lot=lot.pk, pieces="3")
    action, sheet = Action.objects.first(), numbered(lot, 1)
    sorting.set_aside(sheet=sheet, why="Warped", by=hand(staff), version=sheet.version)

    with pytest.raises(ValidationError, match="sheet 1 was set aside or went back since"):
        actions.undo(action=action, by=hand(staff))


def test_a_swap_to_another_tone_group_is_asked_about(staff_client: Browser, held: Room, lot: Lot) -> None:
    chosen = halves(held)[:1]

    asked = post(staff_client, url(held), halves=chosen, lot=lot.pk, pieces="5A")
    meant = post(staff_client, url(held), halves=chosen, lot=lot.pk, pieces="5A", mixes="1")

    assert (asked.status_code, meant.status_code) == (422, 303)
    assert "Practice 1 would hold 2 tone groups: Pale 1/2, Cream 1/2." in words_of(asked)
    assert f'formaction="{url(held)}"' in words_of(asked)


def test_a_swap_of_all_to_another_tone_group_leaves_one_and_asks_nothing(
    staff_client: Browser, held: Room, lot: Lot
) -> None:
    answer = post(staff_client, url(held), halves=halves(held), lot=lot.pk, pieces="5")

    assert (answer.status_code, pieces(held)) == (303, ["5A", "5B"])


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("1A", "In Practice 1 already: 1A."),
        ("99", "99 is not in this lot"),
        ("2", "2A is in Lobby"),
        ("", "This is empty. Fill it in."),
        ("x", "x is no sheet number"),
    ],
)
def test_what_cannot_come_is_refused_and_nothing_goes_back(
    staff_client: Browser, held: Room, lot: Lot, typed: str, message: str
) -> None:
    lobby = make_room(name="Lobby", job=held.job)
    Given.objects.create(room=lobby, half=numbered(lot, 2).halves.first())

    answer = post(staff_client, url(held), halves=halves(held), lot=lot.pk, pieces=typed)

    assert answer.status_code == 422
    assert message in words_of(answer)
    assert pieces(held) == ["1A", "1B"]


@pytest.mark.parametrize(("name", "typed"), [("halves", key) for key in KEYS] + [("lot", key) for key in KEYS])
def test_no_key_trips_a_swap(staff_client: Browser, held: Room, lot: Lot, name: str, typed: object) -> None:
    fields = {"halves": halves(held), "lot": lot.pk, "pieces": "3", name: typed}

    assert post(staff_client, url(held), **fields).status_code == 422
    assert pieces(held) == ["1A", "1B"]


@pytest.mark.parametrize("typed", TEXTS)
def test_no_text_trips_a_swap(staff_client: Browser, held: Room, lot: Lot, typed: str) -> None:
    assert post(staff_client, url(held), halves=halves(held), lot=lot.pk, pieces=typed).status_code == 422


def test_what_is_not_in_the_room_is_not_taken_back(staff: Person, held: Room, lot: Lot) -> None:
    other = list(numbered(lot, 2).halves.select_related("sheet__lot"))

    with pytest.raises(ValidationError, match="None of these is in the room"):
        giving.swap(room=held, halves=other, lot=lot, pieces=[(3, "A")], by=hand(staff))


def test_the_same_key_twice_swaps_once(staff_client: Browser, held: Room, lot: Lot) -> None:
    key, chosen = actions.new_key(), halves(held)

    post(staff_client, url(held), key=key, halves=chosen, lot=lot.pk, pieces="3")
    again = post(staff_client, url(held), key=key, halves=chosen, lot=lot.pk, pieces="3")

    assert (again.status_code, Action.objects.count()) == (303, 1)


def test_swapping_takes_a_post(staff_client: Browser, held: Room) -> None:
    assert staff_client.get(url(held)).status_code == 405


@pytest.mark.django_db(transaction=True)
def test_of_two_who_swap_for_the_same_sheet_at_once_one_is_refused() -> None:
    person = Person.objects.create_user("staff", "a long enough password", name="Ari Kest", role="staff")
    lot = make_lot()
    group = ToneGroup.objects.create(material=lot.material, place=1, name="Pale", color="#eadfc9")
    make_stack(group, 3, lot)
    rooms = [make_room(), make_room()]
    for number, room in enumerate(rooms, 1):
        Given.objects.create(room=room, half=numbered(lot, number).halves.get(side="A"))
    turns = iter(rooms)

    def swap_one() -> None:
        room = next(turns)
        giving.swap(room=room, halves=list(giving.halves_of(room)), lot=lot, pieces=[(3, "A")], by=hand(person))

    got = at_once(swap_one, times=2)

    assert sorted(str(type(each).__name__) for each in got) == ["NoneType", "ValidationError"]
    assert Given.objects.count() == 2
