"""Doors from outside: the first start with the code from the terminal, signing in and out."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from tests import hostile
from tests.conftest import PASSWORD
from tests.makers import post
from tests.together import at_once
from workshop import first_start, people
from workshop.actions import Hand, sentence_of, trace
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db
FIRST = {"name": "Rosa Marten", "username": "rosa", "password": "a dozen letters or more"}
START = "/first-start/"


@pytest.fixture
def code() -> str:
    first_start.used()
    return first_start.code()


def test_without_anybody_every_door_leads_to_the_first_start(client: Browser, code: str) -> None:
    answer = client.get("/", follow=True)

    assert answer.redirect_chain == [("/login/?next=/", 302), (START, 302)]
    assert answer.status_code == 200


def test_with_the_code_the_first_owner_is_made_and_signed_in(client: Browser, code: str) -> None:
    answer = post(client, START, **FIRST, code=code)

    owner = Person.objects.get()
    assert (owner.username, owner.is_owner, owner.check_password(FIRST["password"])) == ("rosa", True, True)
    assert (answer.status_code, answer.headers["Location"]) == (303, reverse("front:shop"))
    assert client.get(reverse("front:shop")).status_code == 200
    assert [sentence_of(action) for action in trace(owner)] == ["Owner Rosa Marten added"]


@pytest.mark.parametrize("typed", ["", "000", "abc", hostile.LONG, hostile.NUL, "٠٠٠٠٠٠"])
def test_with_another_code_nobody_is_made(client: Browser, code: str, typed: str) -> None:
    answer = post(client, START, **FIRST, code=typed)

    assert answer.status_code == 422
    assert "code" in answer.context["form"].errors
    assert not Person.objects.exists()
    assert answer.context["form"]["name"].value() == "Rosa Marten"


def test_a_wrong_code_does_not_hide_what_is_wrong_with_the_password(client: Browser, code: str) -> None:
    answer = post(client, START, **FIRST | {"password": "short"}, code="000")

    assert set(answer.context["form"].errors) == {"code", "password"}


def test_the_first_start_is_there_once(client: Browser, owner: Person, code: str) -> None:
    assert client.get(START).headers["Location"] == reverse("front:login")
    assert post(client, START, **FIRST, code=code).headers["Location"] == reverse("front:login")
    assert Person.objects.count() == 1


def test_the_code_is_used_up_by_the_first_owner(client: Browser, code: str) -> None:
    post(client, START, **FIRST, code=code)

    assert not first_start.check(code)


def test_a_first_owner_made_before_is_said_by_the_rule(owner: Person) -> None:
    with pytest.raises(ValidationError, match=r"The owner's account was made before\. Sign in instead\."):
        people.make_owner(by=Hand(None), **FIRST)


@pytest.mark.django_db(transaction=True)
def test_eight_first_starts_at_once_make_one_owner(code: str) -> None:
    numbers = iter(range(8))

    def start() -> int:
        return post(Browser(), START, **FIRST | {"username": f"rosa{next(numbers)}"}, code=code).status_code

    got = at_once(start)

    assert Person.objects.count() == 1
    assert sorted(set(map(str, got))) in (["303", "422"], ["302", "303"], ["302", "303", "422"])
    assert got.count(303) == 1


@pytest.mark.django_db(transaction=True)
def test_the_first_start_sent_by_eight_at_once_makes_one_owner(code: str) -> None:
    got = at_once(lambda: post(Browser(), START, **FIRST, code=code, key="a" * 32).status_code)

    assert Person.objects.count() == Action.objects.count() == 1
    assert {str(status)[0] for status in got} == {"3"}


def test_who_is_signed_in_stays_so_and_signs_out_by_a_button(client: Browser, owner: Person) -> None:
    client.post(reverse("front:login"), {"username": "owner", "password": PASSWORD})
    assert client.get("/").status_code == 200

    answer = client.post(reverse("front:logout"))

    assert answer.headers["Location"] == reverse("front:login")
    assert client.get("/").status_code == 302
    assert client.get(reverse("front:logout")).status_code in (302, 405)


@pytest.mark.parametrize(
    ("username", "password"),
    [
        ("", ""),
        ("owner", "not the password"),
        ("nobody", PASSWORD),
        ("owner\0", PASSWORD),
        ("owner", "\0"),
        (hostile.LONG, PASSWORD),
        ("owner", hostile.LONG),
        (hostile.MARKUP, hostile.MARKUP),
    ],
)
def test_a_wrong_sign_in_is_refused_with_what_was_typed(
    client: Browser, owner: Person, username: str, password: str
) -> None:
    answer = client.post(reverse("front:login"), {"username": username, "password": password})

    assert answer.status_code == 422
    assert answer.context["form"]["username"].value() == username
    assert hostile.MARKUP not in answer.content.decode()
    assert client.get("/").status_code == 302


@pytest.mark.parametrize(
    ("asked", "led"),
    [
        ("/jobs/", "/jobs/"),
        ("https://elsewhere.example/", "/"),
        ("//elsewhere.example/", "/"),
        ("javascript:alert(1)", "/"),
    ],
)
def test_signing_in_leads_on_to_pages_of_ours_only(client: Browser, owner: Person, asked: str, led: str) -> None:
    answer = client.post(reverse("front:login"), {"username": "owner", "password": PASSWORD, "next": asked})

    assert answer.headers["Location"] == led
