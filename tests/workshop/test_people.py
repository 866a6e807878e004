"""Who may sign in, and as what: people are added and changed by an owner."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from tests import hostile
from tests.conftest import PASSWORD
from tests.makers import hand, post
from tests.together import at_once
from tests.typed import TEXTS
from workshop import people
from workshop.actions import sentence_of, trace
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db
NEW = {"name": "Mira Sand", "username": "mira", "role": "staff", "password": "a dozen letters or more"}


def add_owner(username: str, owner: Person) -> Person:
    return people.add(
        by=hand(owner), username=username, name=username, role="owner", password="a dozen letters or more"
    )


def test_the_owner_adds_somebody_who_may_then_sign_in(owner_client: Browser, client: Browser) -> None:
    answer = post(owner_client, reverse("front:person_new"), **NEW)

    assert (answer.status_code, answer.headers["Location"]) == (303, reverse("front:people"))
    assert client.login(username="mira", password=NEW["password"])
    assert "Mira Sand may sign in" in owner_client.get(reverse("front:people")).content.decode()


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("name", "", "This is empty. Fill it in."),
        ("username", "owner", "This sign-in name is taken. Add a letter or a number to it."),
        ("role", "chief", "This is not one of the choices. Choose one from the list."),
        ("role", "", "This is empty. Fill it in."),
        ("password", "", "This is empty. Fill it in."),
        ("password", "short", "This password is too short. It must contain at least 12 characters."),
        ("password", "password1234", "This password is too common."),
        ("password", "Mira Sand 12", "The password is too similar to the Name."),
        ("password", "x" * 129, "129 letters are too many here. At most 128 do; make it shorter."),
        ("password", "x" * 12 + "\0", "There is a sign in it that cannot be typed. Type it anew."),
    ],
)
def test_what_cannot_be_taken_is_refused_at_its_field(
    owner_client: Browser, field: str, typed: str, words: str
) -> None:
    answer = post(owner_client, reverse("front:person_new"), **NEW | {field: typed})

    assert answer.status_code == 422
    assert words in answer.context["form"].errors[field]
    assert Person.objects.count() == 1


@pytest.mark.parametrize("typed", TEXTS)
@pytest.mark.parametrize("field", ["name", "username", "role", "password"])
def test_hostile_texts_are_refused_and_kept_unless_secret(owner_client: Browser, field: str, typed: str) -> None:
    answer = post(owner_client, reverse("front:person_new"), **NEW | {field: typed})

    assert answer.status_code == 422
    assert Person.objects.count() == 1
    assert (typed in answer.content.decode()) == (field in ("name", "username"))


def test_a_refused_password_is_not_sent_back(owner_client: Browser) -> None:
    answer = post(owner_client, reverse("front:person_new"), **NEW | {"password": "short one"})

    assert "short one" not in answer.content.decode()


def test_the_same_person_sent_twice_is_added_once(owner_client: Browser) -> None:
    for _time in range(2):
        answer = post(owner_client, reverse("front:person_new"), **NEW, key="a" * 32)

    assert answer.status_code == 303
    assert Person.objects.filter(username="mira").count() == 1


def test_a_person_is_changed_without_a_new_password(owner_client: Browser, staff: Person) -> None:
    typed = {"name": "Ari Kestrel", "username": "ari", "role": "owner", "is_active": "on", "password": ""}

    answer = post(owner_client, reverse("front:person", args=[staff.pk]), **typed, version="1")

    person = Person.objects.get(pk=staff.pk)
    assert answer.status_code == 303
    assert (person.name, person.username, person.role, person.version) == ("Ari Kestrel", "ari", "owner", 2)
    assert person.check_password(PASSWORD)


def test_a_new_password_ends_that_persons_sessions(owner_client: Browser, staff_client: Browser, staff: Person) -> None:
    typed = {"name": staff.name, "username": "staff", "role": "staff", "is_active": "on", "version": "1"}

    post(
        owner_client,
        reverse("front:person", args=[staff.pk]),
        **typed,
        password="another dozen letters",
    )

    assert Person.objects.get(pk=staff.pk).check_password("another dozen letters")
    assert staff_client.get("/").status_code == 302
    assert "Account of Ari Kest changed" in [sentence_of(action) for action in trace(staff)]


def test_who_may_not_sign_in_any_more_is_out_at_once(
    owner_client: Browser, staff_client: Browser, staff: Person
) -> None:
    typed = {"name": staff.name, "username": "staff", "role": "staff", "password": "", "version": "1"}

    post(owner_client, reverse("front:person", args=[staff.pk]), **typed)

    assert staff_client.get("/").status_code == 302
    assert not Browser().login(username="staff", password=PASSWORD)


@pytest.mark.parametrize("change", [{"role": "staff"}, {"is_active": ""}])
def test_the_last_owner_stays_owner_and_may_sign_in(
    owner_client: Browser, owner: Person, change: dict[str, str]
) -> None:
    typed = {"name": owner.name, "username": "owner", "role": "owner", "is_active": "on", "password": ""}

    answer = post(owner_client, reverse("front:person", args=[owner.pk]), **typed | change, version="1")

    words = "The shop needs one owner who may sign in. Make somebody else owner first."
    assert answer.status_code == 422
    assert answer.context["form"].errors["role"] == [words]
    assert Person.objects.filter(role="owner", is_active=True).get() == owner


def test_an_owner_beside_another_may_become_staff(owner_client: Browser, owner: Person) -> None:
    add_owner("second", owner)
    typed = {"name": owner.name, "username": "owner", "role": "staff", "is_active": "on", "password": ""}

    post(owner_client, reverse("front:person", args=[owner.pk]), **typed, version="1")

    assert owner_client.get(reverse("front:people")).status_code == 403


@pytest.mark.django_db(transaction=True)
def test_two_owners_who_make_each_other_staff_at_once_leave_one(owner: Person) -> None:
    pair = iter([owner, add_owner("second", owner)])

    def demote() -> Person:
        person = next(pair)
        return people.change(person=person, by=hand(person), version=1, role="staff")

    got = at_once(demote, times=2)

    assert sum(isinstance(each, ValidationError) for each in got) == 1
    assert Person.objects.filter(role="owner").count() == 1


def test_a_person_changed_meanwhile_shows_both_values(owner_client: Browser, staff: Person, owner: Person) -> None:
    people.change(person=Person.objects.get(pk=staff.pk), by=hand(owner), version=1, name="Ari Kestrel")
    typed = {"name": "Ari Kite", "username": "staff", "role": "staff", "is_active": "on", "password": ""}

    answer = post(owner_client, reverse("front:person", args=[staff.pk]), **typed, version="1")

    assert answer.status_code == 422
    assert answer.context["form"].errors["name"] == ["Stored now: Ari Kestrel"]
    assert answer.context["form"]["name"].value() == "Ari Kite"


# The own password


def test_everybody_changes_their_own_password_and_stays_signed_in(staff_client: Browser, staff: Person) -> None:
    typed = {"now": PASSWORD, "new": "another dozen letters"}

    answer = post(staff_client, reverse("front:password"), **typed)

    assert (answer.status_code, answer.headers["Location"]) == (303, reverse("front:more"))
    assert Person.objects.get(pk=staff.pk).check_password("another dozen letters")
    assert staff_client.get("/").status_code == 200
    assert [sentence_of(action) for action in trace(staff)] == ["Ari Kest has a new password"]


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("now", ""),
        ("now", "not the password"),
        ("now", hostile.LONG),
        ("now", "\0"),
        ("new", ""),
        ("new", "short"),
        ("new", "Ari Kest staff"),
        ("new", hostile.LONG),
        ("new", "x" * 12 + "\0"),
    ],
)
def test_a_password_that_cannot_be_taken_is_refused_at_its_field(
    staff_client: Browser, staff: Person, field: str, typed: str
) -> None:
    answer = post(
        staff_client, reverse("front:password"), **{"now": PASSWORD, "new": "another dozen letters", field: typed}
    )

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [field]
    assert Person.objects.get(pk=staff.pk).check_password(PASSWORD)


def test_no_account_is_taken_back(owner_client: Browser, owner: Person) -> None:
    post(owner_client, reverse("front:person_new"), **NEW)

    answer = post(owner_client, reverse("front:undo", args=[Action.objects.get().pk]))

    assert answer.status_code == 403
    assert Person.objects.filter(username="mira").exists()
