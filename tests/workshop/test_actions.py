"""The record of who did what: kept once for a key, whole or not at all, told as a trace."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs.models import Client
from materials.models import Lot, Sheet
from tests.makers import hand, make_lot, make_room
from tests.together import at_once
from tests.workshop.doing import add_client, save_client
from workshop import actions
from workshop.actions import AlreadyDone, Hand, Stale, recorded
from workshop.models import Action, ActionAbout, Person

pytestmark = pytest.mark.django_db


# Once for a key


def test_the_same_key_a_second_time_stores_nothing_and_says_what_was_done_first(owner: Person) -> None:
    first = add_client(owner, "Elm Street", key="a" * 32)

    with pytest.raises(AlreadyDone, match=f"action {first.pk}") as again:
        add_client(owner, "Oak Street", key="a" * 32)

    assert again.value.action == first
    assert [client.name for client in Client.objects.all()] == ["Elm Street"]


@pytest.mark.django_db(transaction=True)
def test_one_form_sent_by_eight_at_once_is_stored_once_and_all_get_the_first_answer(owner: Person) -> None:
    def send() -> str:
        try:
            return add_client(owner, key="b" * 32).answer
        except AlreadyDone as done:
            return done.action.answer

    got = at_once(send)

    assert got == ["/clients/"] * 8
    assert (Client.objects.count(), Action.objects.count()) == (1, 1)


@pytest.mark.django_db(transaction=True)
def test_the_same_name_added_by_eight_at_once_is_added_once_and_the_others_are_told(owner: Person) -> None:
    got = at_once(lambda: add_client(owner))

    refused = [each for each in got if isinstance(each, ValidationError)]
    assert (len(refused), Client.objects.count(), Action.objects.count()) == (7, 1, 1)


@pytest.mark.django_db(transaction=True)
def test_a_row_saved_by_eight_at_once_from_one_version_is_saved_once(owner: Person) -> None:
    add_client(owner)
    names = iter(range(8))

    def save() -> Action:
        return save_client(Client.objects.get(), owner, version=1, contact=f"Contact {next(names)}")

    got = at_once(save)

    assert [type(each) for each in got if not isinstance(each, Action)] == [Stale] * 7
    assert Client.objects.get().version == 2


# What is kept


def test_an_action_keeps_person_verb_thing_words_and_answer(owner: Person) -> None:
    action = Action.objects.get(pk=add_client(owner).pk)

    assert (action.person, action.verb, action.answer) == (owner, "test.do", "/clients/")
    assert action.thing == f"jobs.client:{Client.objects.get().pk}"
    assert action.words == {"name": "Elm Street Music School"}


def test_it_happened_when_it_was_recorded_unless_told_otherwise(owner: Person) -> None:
    told = datetime(2026, 11, 2, 7, 30, tzinfo=UTC)

    with recorded(Hand(owner, happened_at=told), "test.do", name="") as record:
        record.add(Client(name="Elm Street"))

    assert record.action.happened_at == told
    assert abs((timezone.now() - record.action.recorded_at).total_seconds()) < 10


def test_an_added_row_is_kept_whole_with_nothing_before(owner: Person) -> None:
    action = add_client(owner)

    assert [side["fields"] for side in action.before] == [None]
    assert action.after[0]["fields"] == {
        "name": "Elm Street Music School",
        "contact": "",
        "phone": "",
        "email": "",
        "address": "",
    }


def test_a_saved_row_keeps_only_what_changed(owner: Person) -> None:
    add_client(owner)

    action = save_client(Client.objects.get(), owner, name="Elm Street Music School", contact="Ms. Vogel")

    assert action.before[0]["fields"] == {"contact": ""}
    assert action.after[0]["fields"] == {"contact": "Ms. Vogel"}


def test_a_save_that_changes_nothing_leaves_no_action_and_the_same_version(owner: Person) -> None:
    add_client(owner)

    save_client(Client.objects.get(), owner, name="Elm Street Music School")

    assert (Action.objects.count(), Client.objects.get().version) == (1, 1)


def test_a_removed_row_is_kept_as_the_database_had_it_not_as_it_was_read(owner: Person) -> None:
    add_client(owner)
    read_before = Client.objects.get()
    save_client(Client.objects.get(), owner, contact="Ms. Vogel")

    with recorded(hand(owner), "test.do", name="") as record:
        record.remove(read_before)

    assert record.action.before[0]["fields"]["contact"] == "Ms. Vogel"
    assert [side["fields"] for side in record.action.after] == [None]


def test_a_removed_thing_keeps_its_name_in_the_record_and_in_what_it_is_about(owner: Person) -> None:
    add_client(owner)
    client = Client.objects.get()
    thing = actions.thing_of(client)

    with recorded(hand(owner), "test.do", client, about=[client], name="") as record:
        record.remove(client)

    assert record.action.thing == thing
    assert [about.thing for about in record.action.about.all()] == [thing]


def test_passwords_are_neither_in_what_was_nor_in_what_is(owner: Person) -> None:
    person = Person(username="mira", name="Mira Sand")
    person.set_password("a password nobody knows")

    with recorded(hand(owner), "test.do", name="") as record:
        record.add(person)
        record.save(person, name="Mira Sander", password="another hash")

    assert "password" not in str(record.action.before) + str(record.action.after)
    assert "nobody knows" not in str(Action.objects.values())


@pytest.mark.parametrize("micro", [2**63 - 1, 2**53 + 1, 1, 0], ids=str)
def test_big_whole_numbers_are_kept_exactly_and_come_back_exactly(owner: Person, micro: int) -> None:
    lot = make_lot(quantity_micro=5)
    with recorded(hand(owner), "test.do", lot, name="") as record:
        record.save(lot, quantity_micro=micro)
    with recorded(hand(owner), "test.do", lot, name="") as again:
        again.save(lot, quantity_micro=7)

    actions.undo(action=again.action, by=hand(owner))

    assert Action.objects.get(pk=record.action.pk).after[0]["fields"] == {"quantity_micro": micro}
    assert Lot.objects.get().quantity_micro == micro


def test_a_thousand_rows_are_added_in_few_queries_each_noted(
    owner: Person, django_assert_max_num_queries: Callable
) -> None:
    lot = make_lot()

    with django_assert_max_num_queries(30), recorded(hand(owner), "test.do", lot, name="") as record:
        made = record.add_many([Sheet(lot=lot, number=number) for number in range(1, 1001)])

    assert len({sheet.pk for sheet in made}) == Sheet.objects.count() == 1000
    assert len(Action.objects.get(pk=record.action.pk).after) == 1000


def test_adding_no_rows_is_no_action(owner: Person) -> None:
    with recorded(hand(owner), "test.do", name="") as record:
        assert record.add_many([]) == []

    assert not Action.objects.exists()


# The trace


def test_a_things_trace_holds_what_was_done_to_what_belongs_to_it_newest_first(owner: Person) -> None:
    room = make_room()
    with recorded(hand(owner), "test.do", room, about=[room.job], name="one") as first:
        first.save(room, name="Practice 1")
    with recorded(hand(owner), "test.do", room, about=[room.job, room], name="two") as second:
        second.save(room, name="Practice 2")
    add_client(owner)

    assert list(actions.trace(room.job)) == [second.action, first.action]
    assert list(actions.trace(room, room.job)) == [second.action, first.action]
    assert ActionAbout.objects.filter(action=second.action).count() == 2


def test_without_a_thing_the_trace_is_the_whole_shops(owner: Person) -> None:
    first, second = add_client(owner, "Elm Street"), add_client(owner, "Oak Street")

    assert list(actions.trace()) == [second, first]


@pytest.mark.parametrize(
    ("verb", "words", "said"),
    [
        ("test.do", {"name": "Practice 1"}, "Done to Practice 1"),
        ("test.do", {"name": "100 % ash %(x)s"}, "Done to 100 % ash %(x)s"),
        ("test.do", {}, "Done to ?"),
        ("test.unknown", {"name": "Practice 1"}, "test.unknown"),
    ],
)
def test_an_action_is_told_in_its_verbs_sentence(verb: str, words: dict, said: str) -> None:
    assert actions.sentence_of(Action(verb=verb, words=words)) == said
