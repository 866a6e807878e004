"""No way back: where something was changed or rests on what was done, nothing is put back."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError

from jobs import job
from jobs.models import Client, Job
from materials.models import Order, Supplier
from tests.makers import hand, make_estimate, make_job, make_line, make_room
from tests.together import at_once
from tests.workshop.doing import add_client, save_client
from workshop import actions
from workshop.actions import AlreadyDone, Hand, recorded
from workshop.models import Action, Person, Shop

pytestmark = pytest.mark.django_db


@pytest.mark.django_db(transaction=True)
def test_an_action_taken_back_by_eight_at_once_is_taken_back_once(owner: Person) -> None:
    action = add_client(owner)

    got = at_once(lambda: actions.undo(action=action, by=hand(owner)))

    told = [each.messages[0] for each in got if isinstance(each, ValidationError)]
    assert told == ["This was taken back before: Done to Elm Street Music School"] * 7
    assert Client.objects.count() == 0


def test_what_was_changed_since_is_not_taken_back_and_named(owner: Person) -> None:
    add_client(owner)
    action = save_client(Client.objects.get(), owner, contact="Ms. Vogel")
    save_client(Client.objects.get(), owner, contact="Mr. Vogel")

    with pytest.raises(
        ValidationError,
        match=r"Not taken back: client Elm Street Music School was changed since\. Take back the later",
    ):
        actions.undo(action=action, by=hand(owner))

    action.refresh_from_db()
    assert (Client.objects.get().contact, action.undone_by) == ("Mr. Vogel", None)


def test_what_was_taken_out_since_is_not_taken_back(owner: Person) -> None:
    add_client(owner)
    action = save_client(Client.objects.get(), owner, contact="Ms. Vogel")
    Client.objects.all().delete()

    with pytest.raises(ValidationError, match="Not taken back: client was changed since"):
        actions.undo(action=action, by=hand(owner))


def test_a_later_change_taken_back_frees_the_earlier_one(owner: Person) -> None:
    add_client(owner)
    action = save_client(Client.objects.get(), owner, contact="Ms. Vogel")
    later = save_client(Client.objects.get(), owner, contact="Mr. Vogel")
    actions.undo(action=later, by=hand(owner))

    actions.undo(action=action, by=hand(owner))

    assert Client.objects.get().contact == ""


def test_an_added_row_that_is_used_since_is_not_taken_back(owner: Person) -> None:
    action = add_client(owner)
    make_job(client=Client.objects.get())

    with pytest.raises(ValidationError, match="It is in use and stays"):
        actions.undo(action=action, by=hand(owner))


def test_a_removed_row_does_not_come_back_where_its_name_is_taken_since(owner: Person) -> None:
    add_client(owner)
    with recorded(hand(owner), "test.do", name="") as record:
        record.remove(Client.objects.get())
    add_client(owner)

    with pytest.raises(ValidationError, match="Not taken back: There is a client of this name"):
        actions.undo(action=record.action, by=hand(owner))

    assert Client.objects.count() == 1


def test_a_removed_row_does_not_come_back_where_what_it_belongs_to_is_gone(owner: Person) -> None:
    room = make_room()
    with recorded(hand(owner), "test.do", name="") as record:
        record.remove(room)
    room.job.delete()

    with pytest.raises(ValidationError, match="Not taken back: the job it belongs to was taken out since"):
        actions.undo(action=record.action, by=hand(owner))


def test_an_action_is_taken_back_once(owner: Person) -> None:
    action = add_client(owner)
    actions.undo(action=action, by=hand(owner))

    with pytest.raises(ValidationError, match="This was taken back before: Done to Elm Street Music School"):
        actions.undo(action=action, by=hand(owner))


def test_the_taking_back_itself_is_not_taken_back(owner: Person) -> None:
    undoing = actions.undo(action=add_client(owner), by=hand(owner))

    with pytest.raises(ValidationError, match="There is no way back from this: Taken back: Done to"):
        actions.undo(action=undoing, by=hand(owner))

    assert not actions.can_undo(undoing, owner)


def test_the_same_key_of_an_undo_a_second_time_does_nothing(owner: Person) -> None:
    one, other = add_client(owner, "Elm Street"), add_client(owner, "Oak Street")
    actions.undo(action=one, by=Hand(owner, "d" * 32))

    with pytest.raises(AlreadyDone):
        actions.undo(action=other, by=Hand(owner, "d" * 32))

    assert Client.objects.get().name == "Oak Street"


@pytest.mark.parametrize("known", ["test.gone", "test.final"])
def test_there_is_no_way_back_from_a_verb_without_one(owner: Person, known: str) -> None:
    actions.say("test.final", "Final", undo=False)
    with recorded(hand(owner), known, name="") as record:
        record.add(Client(name="Elm Street"))

    with pytest.raises(ValidationError, match="There is no way back from this"):
        actions.undo(action=record.action, by=hand(owner))

    assert not actions.can_undo(record.action, owner)


def test_what_an_older_version_of_the_app_made_is_not_taken_back(owner: Person) -> None:
    action = add_client(owner)
    Action.objects.update(
        before=[{"row": "jobs.gone:1", "fields": None}], after=[{"row": "jobs.gone:1", "fields": {"name": "x"}}]
    )

    with pytest.raises(ValidationError, match="made by an older version of the app"):
        actions.undo(action=action, by=hand(owner))


def test_a_verb_can_refuse_where_something_rests_on_it_though_no_row_of_it_changed(owner: Person) -> None:
    def look(action: Action) -> None:
        raise ValidationError("A sheet of it is given to Practice 4.")

    actions.say("test.rests", "Done", check_undo=look)
    with recorded(hand(owner), "test.rests") as record:
        record.add(Client(name="Elm Street"))

    with pytest.raises(ValidationError, match="given to Practice 4"):
        actions.undo(action=record.action, by=hand(owner))

    assert Client.objects.exists()


def test_an_action_without_rows_is_kept_when_asked_and_has_no_way_back(owner: Person) -> None:
    with recorded(hand(owner), "test.do", owner, name="") as record:
        record.keep()

    with pytest.raises(ValidationError, match="There is no way back"):
        actions.undo(action=record.action, by=hand(owner))

    assert Action.objects.get().thing == actions.thing_of(owner)


def test_staff_take_back_their_own_and_the_owner_everybodys(owner: Person, staff: Person) -> None:
    owners, staffs = add_client(owner, "Elm Street"), add_client(staff, "Oak Street")

    assert [actions.can_undo(action, owner) for action in (owners, staffs)] == [True, True]
    assert [actions.can_undo(action, staff) for action in (owners, staffs)] == [False, True]


def test_two_actions_over_several_tables_are_taken_back_last_first(owner: Person) -> None:
    shop = Shop.get()
    with recorded(hand(owner), "test.do", name="") as first:
        supplier = first.add(Supplier(name="Supplier A"))
        first.save(shop, name="Corner Shop")
        order = first.add(Order(number=1, supplier=supplier, currency="USD", lead_count=2, lead_unit="weeks"))
        first.save(order, note="by phone")
    with recorded(hand(owner), "test.do", name="") as second:
        second.save(order, placed_on=date(2026, 11, 2))
        second.save(shop, name="Corner Wood Shop")

    actions.undo(action=second.action, by=hand(owner))
    actions.undo(action=first.action, by=hand(owner))

    assert (Supplier.objects.count(), Order.objects.count(), Shop.objects.get().name) == (0, 0, "")


def test_a_job_does_not_go_back_to_another_currency_once_it_has_amounts(owner: Person) -> None:
    made = make_job(currency="USD")
    fields = {"name": made.name, "client": made.client, "unit_system": "us", "precision_nm": made.precision_nm}
    job.change(job=made, by=hand(owner), version=1, currency="EUR", **fields)
    make_line(make_estimate(job=made), 100)

    with pytest.raises(ValidationError, match=r"Not taken back: job .* has amounts in its new currency already"):
        actions.undo(action=actions.trace(made)[0], by=hand(owner))

    assert Job.objects.get().currency == "EUR"
