"""The way back: what an action did is put back, in the opposite order."""

from collections.abc import Callable
from datetime import UTC, date, datetime

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs.models import Client, Given, Need, Room, RoomStage, Stage
from materials.models import Half, Lot, Sheet, ToneGroup
from tests.makers import hand, make_lot, make_material, make_room, make_sheets
from tests.workshop.doing import add_client, save_client
from workshop import actions
from workshop.actions import recorded
from workshop.actions.rows import plain
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db


def test_taking_back_an_added_row_removes_it(owner: Person) -> None:
    action = add_client(owner)

    undoing = actions.undo(action=action, by=hand(owner))

    action.refresh_from_db()
    assert not Client.objects.exists()
    assert action.undone_by == undoing
    assert actions.sentence_of(undoing) == "Taken back: Done to Elm Street Music School"


def test_taking_back_a_saved_row_puts_only_its_changes_back(owner: Person) -> None:
    add_client(owner)
    action = save_client(Client.objects.get(), owner, contact="Ms. Vogel")
    save_client(Client.objects.get(), owner, phone="555 0100")

    actions.undo(action=action, by=hand(owner))

    client = Client.objects.get()
    assert (client.contact, client.phone, client.version) == ("", "555 0100", 4)


def test_taking_back_a_removal_brings_the_row_back_under_its_key(owner: Person) -> None:
    add_client(owner)
    client = Client.objects.get()
    pk = client.pk
    with recorded(hand(owner), "test.do", client, name="") as record:
        record.remove(client)

    actions.undo(action=record.action, by=hand(owner))

    back = Client.objects.get()
    assert (back.pk, back.name) == (pk, "Elm Street Music School")
    assert [each.verb for each in actions.trace(back)] == ["action.undo", "test.do", "test.do"]


def test_a_row_brought_back_has_a_version_that_no_earlier_form_carries(owner: Person) -> None:
    add_client(owner)
    save_client(Client.objects.get(), owner, contact="Ms. Vogel")
    with recorded(hand(owner), "test.do", name="") as record:
        record.remove(Client.objects.get())

    actions.undo(action=record.action, by=hand(owner))

    assert Client.objects.get().version == 3


def _days_and_marks(owner: Person) -> dict[str, object]:
    lot = make_lot()
    sheet = make_sheets(lot, 1)[0]
    group = ToneGroup.objects.create(material=lot.material, place=1, name="Pale", color="#eadfc9")
    return {
        "sheet": sheet,
        "changes": {
            "tone_group": group,
            "place": 1,
            "sorted_by": owner,
            "left_on": date(2028, 2, 29),
            "is_damaged": True,
            "note": "Ash, 5 % off; “<b>”",
        },
    }


def test_days_keys_nothing_yes_no_and_text_come_back_as_they_were(owner: Person) -> None:
    made = _days_and_marks(owner)
    sheet, before = made["sheet"], Sheet.objects.values().get()
    with recorded(hand(owner), "test.do", sheet, name="") as there:
        there.save(sheet, **made["changes"])
    changed = Sheet.objects.values().get()

    undoing = actions.undo(action=there.action, by=hand(owner))

    back = Sheet.objects.values().get()
    assert back | {"version": 0} == before | {"version": 0}
    assert undoing.before[0]["fields"] == there.action.after[0]["fields"]
    assert changed["left_on"] == date(2028, 2, 29)


def test_a_removed_row_comes_back_with_all_its_days_keys_and_marks(owner: Person) -> None:
    made = _days_and_marks(owner)
    Half.objects.all().delete()
    with recorded(hand(owner), "test.do", name="") as there:
        there.save(made["sheet"], **made["changes"])
    before = Sheet.objects.values().get()
    with recorded(hand(owner), "test.do", name="") as record:
        record.remove(made["sheet"])

    actions.undo(action=record.action, by=hand(owner))

    assert Sheet.objects.values().get() | {"version": 0} == before | {"version": 0}


def test_a_moment_is_the_same_in_every_time_zone(owner: Person) -> None:
    here = datetime(2026, 11, 2, 7, 30, tzinfo=timezone.get_fixed_timezone(-360))

    assert plain(here) == plain(here.astimezone(UTC)) == "2026-11-02T13:30:00Z"


def test_a_row_added_and_saved_twice_in_one_action_can_be_taken_back(owner: Person) -> None:
    with recorded(hand(owner), "test.do", name="") as record:
        client = record.add(Client(name="Elm Street"))
        record.save(client, contact="Ms. Vogel")
        record.save(client, contact="Mr. Vogel", phone="555 0100")

    actions.undo(action=record.action, by=hand(owner))

    assert not Client.objects.exists()


def test_a_row_saved_twice_in_one_action_goes_back_to_where_it_began(owner: Person) -> None:
    add_client(owner)
    client = Client.objects.get()
    with recorded(hand(owner), "test.do", name="") as record:
        record.save(client, contact="Ms. Vogel")
        record.save(client, contact="Mr. Vogel")

    actions.undo(action=record.action, by=hand(owner))

    assert Client.objects.get().contact == ""


def test_a_row_added_and_removed_in_one_action_leaves_nothing_to_trip_over(owner: Person) -> None:
    with recorded(hand(owner), "test.do", name="") as record:
        record.add(Client(name="Elm Street"))
        record.remove(record.add(Client(name="Oak Street")))

    actions.undo(action=record.action, by=hand(owner))

    assert not Client.objects.exists()


def test_two_rows_that_changed_places_change_back(owner: Person) -> None:
    material = make_material()
    one, two = (
        ToneGroup.objects.create(material=material, place=place, name=name, color="#eadfc9")
        for place, name in [(1, "Pale"), (2, "Cream")]
    )
    with recorded(hand(owner), "test.do", name="") as record:
        record.save(one, place=99)
        record.save(two, place=1)
        record.save(one, place=2)

    actions.undo(action=record.action, by=hand(owner))

    assert list(ToneGroup.objects.values_list("name", "place")) == [("Pale", 1), ("Cream", 2)]


def make_delivery_of_sixty(owner: Person) -> Action:
    material = make_material()
    with recorded(hand(owner), "test.do", name="sixty") as record:
        lot = record.add(
            Lot(number=1, material=material, quantity_micro=60_000_000, currency="USD", arrived_on=date(2026, 11, 2))
        )
        sheets = record.add_many([Sheet(lot=lot, number=number) for number in range(1, 61)])
        record.add_many([Half(sheet=sheet, side=side) for sheet in sheets for side in "AB"])
        record.save(lot, landed_minor=310_350)
    return record.action


def test_sixty_sheets_and_their_halves_are_taken_back_with_their_lot_in_few_queries(
    owner: Person, django_assert_max_num_queries: Callable
) -> None:
    action = make_delivery_of_sixty(owner)

    with django_assert_max_num_queries(40):
        actions.undo(action=action, by=hand(owner))

    assert (Lot.objects.count(), Sheet.objects.count(), Half.objects.count()) == (0, 0, 0)


def test_a_delivery_is_not_taken_back_once_a_sheet_of_it_is_in_a_room(owner: Person) -> None:
    action = make_delivery_of_sixty(owner)
    Given.objects.create(half=Half.objects.last(), room=make_room())

    with pytest.raises(ValidationError, match=r"It is in use and stays\. Take out what uses it first"):
        actions.undo(action=action, by=hand(owner))

    action.refresh_from_db()
    assert (Sheet.objects.count(), Half.objects.count(), action.undone_by) == (60, 120, None)


def test_a_delivery_is_not_taken_back_once_a_sheet_of_it_is_noted(owner: Person) -> None:
    action = make_delivery_of_sixty(owner)
    sheet = Sheet.objects.get(number=31)
    Sheet.objects.filter(pk=sheet.pk).update(note="A scratch")

    with pytest.raises(ValidationError, match="Not taken back: sheet 31 was changed since"):
        actions.undo(action=action, by=hand(owner))

    assert Half.objects.count() == 120


def test_a_hundred_and_twenty_halves_taken_from_a_room_come_back_to_it(owner: Person) -> None:
    make_delivery_of_sixty(owner)
    room = make_room()
    Given.objects.bulk_create(Given(half=half, room=room) for half in Half.objects.all())
    before = set(Given.objects.values_list("pk", "half", "room"))
    with recorded(hand(owner), "test.do", room, name="") as record:
        for given in Given.objects.all():
            record.remove(given)

    actions.undo(action=record.action, by=hand(owner))

    assert set(Given.objects.values_list("pk", "half", "room")) == before


def test_a_room_with_its_need_and_stages_comes_back_in_the_order_that_its_keys_ask_for(owner: Person) -> None:
    room = make_room()
    stage = Stage.objects.create(job=room.job, lane=Stage.Lane.PANELS, place=101, name="Rip")
    RoomStage.objects.create(room=room, stage=stage, total=5)
    Need.objects.create(room=room, material=make_material(), quantity_micro=1)
    with recorded(hand(owner), "test.do", room, about=[room.job], name="") as record:
        for row in [*room.needs.all(), *room.room_stages.all(), room]:
            record.remove(row)

    actions.undo(action=record.action, by=hand(owner))

    assert (Room.objects.count(), Need.objects.count(), RoomStage.objects.count()) == (1, 1, 1)
