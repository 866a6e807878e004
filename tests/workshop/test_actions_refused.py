"""What is refused leaves nothing: no action, no rows, and the key free for the next send."""

from unittest.mock import Mock

import pytest
from django.core.exceptions import ValidationError
from django.db import OperationalError

from jobs.models import Client
from materials.models import Sheet
from tests.makers import hand, make_job, make_lot
from tests.workshop.doing import add_client, save_client
from workshop.actions import Hand, Stale, recorded
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db


def test_a_refusal_inside_leaves_neither_action_nor_rows_and_the_key_free(owner: Person) -> None:
    with pytest.raises(ValidationError, match="no"), recorded(Hand(owner, "c" * 32), "test.do") as record:
        record.add(Client(name="Elm Street"))
        raise ValidationError("no")

    assert (Client.objects.count(), Action.objects.count()) == (0, 0)
    assert add_client(owner, key="c" * 32).pk


def test_a_row_that_is_not_valid_is_refused_at_its_field(owner: Person) -> None:
    add_client(owner)

    with pytest.raises(ValidationError) as refused:
        add_client(owner)

    assert refused.value.message_dict == {"name": ["There is a client of this name. Add what tells them apart."]}


def test_what_only_the_database_refuses_is_refused_in_words(owner: Person) -> None:
    lot = make_lot()

    with (
        pytest.raises(ValidationError, match="Somebody changed this in the same moment"),
        recorded(hand(owner), "test.do", name="") as record,
    ):
        record.add_many([Sheet(lot=lot, number=1), Sheet(lot=lot, number=1)])

    assert (Sheet.objects.count(), Action.objects.count()) == (0, 0)


def test_a_number_beyond_the_database_is_refused_in_words(owner: Person) -> None:
    lot = make_lot()

    with (
        pytest.raises(ValidationError, match="A number here is more than can be kept"),
        recorded(hand(owner), "test.do", name="") as record,
    ):
        record.add_many([Sheet(lot=lot, number=1, landed_minor=10**30)])

    assert Sheet.objects.count() == 0


def test_removing_what_is_in_use_is_refused_in_words(owner: Person) -> None:
    job = make_job()

    with (
        pytest.raises(ValidationError, match="It is in use and stays"),
        recorded(hand(owner), "test.do", name="") as record,
    ):
        record.remove(job.client)

    assert Client.objects.filter(pk=job.client_id).exists()


@pytest.mark.parametrize("version", [0, 2, 10**30])
def test_another_version_than_the_rows_own_is_stale_and_saves_nothing(owner: Person, version: int) -> None:
    add_client(owner)

    with pytest.raises(Stale, match="Somebody saved this meanwhile") as stale:
        save_client(Client.objects.get(), owner, version=version, contact="Ms. Vogel")

    assert stale.value.row == Client.objects.get()
    assert (Client.objects.get().contact, Action.objects.count()) == ("", 1)


def test_a_row_saved_since_it_was_read_is_stale_also_without_a_version_told(owner: Person) -> None:
    add_client(owner)
    read_before = Client.objects.get()
    save_client(Client.objects.get(), owner, contact="Ms. Vogel")

    with pytest.raises(Stale) as stale:
        save_client(read_before, owner, phone="555 0100")

    assert stale.value.row.contact == "Ms. Vogel"


@pytest.mark.parametrize("way", ["save", "remove"])
def test_a_row_taken_out_since_it_was_read_is_refused_in_words(owner: Person, way: str) -> None:
    add_client(owner)
    read_before = Client.objects.get()
    Client.objects.all().delete()

    with (
        pytest.raises(ValidationError, match="Somebody took this out meanwhile"),
        recorded(hand(owner), "test.do", name="") as record,
    ):
        record.save(read_before, contact="Ms. Vogel") if way == "save" else record.remove(read_before)

    assert Action.objects.count() == 1


@pytest.mark.parametrize(
    "cause", [Mock(sqlstate="40P01"), Mock(sqlstate=None, sqlite_errorname="SQLITE_BUSY_SNAPSHOT")]
)
def test_a_transaction_given_up_for_others_is_refused_in_words(owner: Person, cause: Mock) -> None:
    class Crowded(OperationalError):
        __cause__ = cause

    with (
        pytest.raises(ValidationError, match="Too many were writing in the same moment"),
        recorded(hand(owner), "test.do", name=""),
    ):
        raise Crowded


def test_a_database_that_is_broken_stays_an_error(owner: Person) -> None:
    with pytest.raises(OperationalError, match="disk"), recorded(hand(owner), "test.do", name=""):
        raise OperationalError("disk I/O error")
