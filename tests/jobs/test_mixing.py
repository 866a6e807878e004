"""The question before a room holds two tone groups: once, in place, also without script. House rule."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import giving
from jobs.models import Given, Room
from materials.models import Material, ToneGroup
from tests.jobs.handling import give, last_sentence, pieces
from tests.makers import hand, make_lot, make_sheets, make_stack, post
from workshop.models import Person


@pytest.fixture
def pale_room(room: Room, pale: ToneGroup, cream: ToneGroup, staff: Person) -> Room:
    """Practice 1 needs five and holds four Pale; of Cream seven are free."""
    make_stack(pale, 4)
    make_stack(cream, 7)
    give(room, pale, 8, staff)
    return room


def give_url(room: Room) -> str:
    return reverse("jobs:give", args=[room.pk])


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


QUESTION = "Practice 1 would hold 2 tone groups: Pale 4, Cream 1."


@pytest.mark.parametrize("htmx", [True, False])
def test_a_room_with_pale_that_gets_cream_is_asked_about_in_its_row(
    staff_client: Browser, pale_room: Room, cream: ToneGroup, htmx: bool
) -> None:
    answer = post(staff_client, give_url(pale_room), htmx=htmx, group=cream.pk, count="1")

    html = words_of(answer)
    assert answer.status_code == 422
    assert QUESTION in html
    assert "Give 1 Cream all the same" in html
    assert "Not saved" not in html
    assert ("<html" in html) is not htmx
    assert Given.objects.count() == 8


def test_the_button_that_means_it_gives_with_the_same_key(
    staff_client: Browser, pale_room: Room, cream: ToneGroup
) -> None:
    asked = post(staff_client, give_url(pale_room), group=cream.pk, count="1")
    key = asked.context["refusal"]["key"].value()

    answer = post(staff_client, give_url(pale_room), key=key, group=cream.pk, count="1", mixes="1")
    again = post(staff_client, give_url(pale_room), key=key, group=cream.pk, count="1", mixes="1")

    assert (answer.status_code, again.status_code, Given.objects.count()) == (303, 303, 10)
    assert last_sentence() == "Practice 1: 1 Cream given"


def test_on_the_page_of_the_room_it_is_asked_beside_the_stack(
    staff_client: Browser, pale_room: Room, cream: ToneGroup
) -> None:
    answer = post(staff_client, give_url(pale_room), group=cream.pk, count="1", then="room")

    assert answer.status_code == 422
    assert QUESTION in words_of(answer)
    assert 'name="mixes" value="1"' in words_of(answer)
    assert "Sheets of Practice 1" in words_of(answer)


def test_once_a_room_holds_both_more_of_them_is_not_asked_about(
    staff_client: Browser, pale_room: Room, cream: ToneGroup, staff: Person
) -> None:
    give(pale_room, cream, 1, staff)

    assert post(staff_client, give_url(pale_room), group=cream.pk, count="1").status_code == 303


def test_more_of_the_group_a_room_holds_is_not_asked_about(
    staff_client: Browser, room: Room, pale: ToneGroup, staff: Person
) -> None:
    make_stack(pale, 5)
    give(room, pale, 2, staff)

    assert post(staff_client, give_url(room), group=pale.pk, count="4").status_code == 303


def test_two_materials_in_a_room_may_have_a_group_each(staff_client: Browser, pale_room: Room, staff: Person) -> None:
    other = Material.objects.create(kind="sheet", name="Ash-veneered board", unit="sheet")
    group = ToneGroup.objects.create(material=other, place=1, name="Honey", color="#d1b487")
    make_stack(group, 2)

    assert post(staff_client, give_url(pale_room), group=group.pk, count="2").status_code == 303


def test_too_few_are_refused_before_anything_is_asked(staff_client: Browser, pale_room: Room, cream: ToneGroup) -> None:
    html = words_of(post(staff_client, give_url(pale_room), group=cream.pk, count="8", then="room"))

    assert "Cream has 7 sheets free." in html
    assert "would hold" not in html


def test_single_sheets_are_asked_about_as_well(
    staff_client: Browser, pale_room: Room, cream: ToneGroup, plywood: Material
) -> None:
    lot = make_lot(material=plywood)
    make_stack(cream, 1, lot)
    url = reverse("jobs:room_sheets", args=[pale_room.pk])

    asked = post(staff_client, url, lot=lot.pk, pieces="1")
    meant = post(staff_client, url, lot=lot.pk, pieces="1", mixes="1")

    assert (asked.status_code, meant.status_code) == (422, 303)
    assert QUESTION in words_of(asked)


def test_a_sheet_that_is_not_sorted_counts_as_a_group(pale_room: Room, plywood: Material, staff: Person) -> None:
    lot = make_lot(material=plywood)
    make_sheets(lot, 1)

    with pytest.raises(giving.WouldMix, match="would hold 2 tone groups: not sorted 1/2, Pale 4"):
        giving.give_pieces(room=pale_room, lot=lot, pieces=[(1, "A")], by=hand(staff), may_mix=False)


def test_two_groups_for_an_empty_room_are_asked_about(
    room: Room, pale: ToneGroup, cream: ToneGroup, plywood: Material, staff: Person
) -> None:
    lot = make_lot(material=plywood)
    (first,), (second,) = make_stack(pale, 1, lot), make_stack(cream, 1, lot)

    with pytest.raises(giving.WouldMix, match="Practice 1 would hold 2 tone groups: Pale 1/2, Cream 1/2"):
        numbers = [(first.number, "A"), (second.number, "A")]
        giving.give_pieces(room=room, lot=lot, pieces=numbers, by=hand(staff), may_mix=False)
    assert pieces(room) == []


# A whole group


def test_a_whole_group_is_given_with_one_button(staff_client: Browser, room: Room, cream: ToneGroup) -> None:
    make_stack(cream, 7)
    page = words_of(staff_client.get(reverse("jobs:room_sheets", args=[room.pk])))

    answer = post(staff_client, give_url(room), group=cream.pk, count="what stood there", all="7", then="room")

    assert 'name="all" value="7"' in page
    assert "Give all 7" in page
    assert (answer.status_code, Given.objects.filter(room=room).count()) == (303, 14)


def test_a_whole_group_of_which_somebody_took_some_is_refused_with_what_is_left(
    staff_client: Browser, room: Room, cream: ToneGroup
) -> None:
    make_stack(cream, 5)

    answer = post(staff_client, give_url(room), group=cream.pk, count="", all="7", then="room")

    assert answer.status_code == 422
    assert "Cream has 5 sheets free." in words_of(answer)


@pytest.mark.parametrize("typed", ["-1", "x" * 100_000, "1e400", "\x00", "<b>"])
def test_no_value_of_the_button_trips_it(staff_client: Browser, room: Room, cream: ToneGroup, typed: str) -> None:
    make_stack(cream, 5)

    assert post(staff_client, give_url(room), group=cream.pk, count="1", all=typed, then="room").status_code == 422
    assert Given.objects.count() == 0


def test_the_rule_refuses_as_any_refusal(pale_room: Room, cream: ToneGroup, staff: Person) -> None:
    with pytest.raises(ValidationError, match="would hold 2 tone groups"):
        giving.give(room=pale_room, material=cream.material, group=cream, halves=2, by=hand(staff), may_mix=False)
