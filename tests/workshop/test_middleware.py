"""Headers on every answer, and the first answer to a form sent again."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Client
from tests.makers import make_client, make_job, make_need, make_room, post
from tests.together import at_once
from workshop.actions import new_key
from workshop.middleware import CONTENT_SECURITY_POLICY
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db
STYLES = "/static/workshop/workshop.css"
GOOD = {"name": "Elm Street", "contact": "", "phone": "", "email": "", "address": ""}


def test_the_policy_lets_in_nothing_from_elsewhere_and_nothing_written_into_pages() -> None:
    rules = dict(rule.split(" ", 1) for rule in CONTENT_SECURITY_POLICY.split("; "))

    assert rules == {
        "default-src": "'self'",
        "base-uri": "'self'",
        "form-action": "'self'",
        "frame-ancestors": "'none'",
        "object-src": "'none'",
    }


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/", 200),
        ("/jobs/999999/", 404),
        ("/no/such/page/", 404),
        ("/actions/1/undo/", 405),
        (STYLES, 200),
        ("/static/no-such-file.css", 404),
    ],
)
def test_the_policy_stands_on_every_answer(owner_client: Browser, address: str, status: int) -> None:
    answer = owner_client.get(address)

    assert answer.status_code == status
    assert answer.headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Referrer-Policy"] == "same-origin"


def test_the_policy_stands_on_the_page_of_an_error(owner_client: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("workshop.front.finding.find", lambda text, **_: 1 / 0)
    owner_client.raise_request_exception = False

    answer = owner_client.get("/find/?q=ash")

    assert answer.status_code == 500
    assert answer.headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY


@pytest.mark.parametrize("address", ["/", "/login/", "/no/such/page/", "/health"])
def test_no_page_is_kept_by_a_cache(owner_client: Browser, address: str) -> None:
    assert "no-store" in owner_client.get(address).headers["Cache-Control"]


def test_static_files_may_be_kept(client: Browser) -> None:
    assert "no-store" not in client.get(STYLES).headers["Cache-Control"]


def test_a_host_that_is_not_ours_is_refused_and_told_no_more(client: Browser) -> None:
    answer = client.get("/login/", headers={"Host": "elsewhere.example"})

    assert answer.status_code == 400
    assert answer.headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY


# The first answer


def test_a_form_sent_twice_is_stored_once_and_led_to_the_same_page(owner_client: Browser) -> None:
    key = new_key()
    first = post(owner_client, reverse("jobs:client_new"), **GOOD, key=key)

    again = post(owner_client, reverse("jobs:client_new"), **GOOD, key=key)

    assert (again.status_code, again.headers["Location"]) == (303, first.headers["Location"])
    assert Client.objects.count() == 1


def test_the_first_answer_is_given_also_where_the_form_would_be_refused_now(owner_client: Browser) -> None:
    key = new_key()
    post(owner_client, reverse("jobs:client_new"), **GOOD, key=key)

    again = post(owner_client, reverse("jobs:client_new"), **GOOD | {"name": ""}, key=key)

    assert (again.status_code, again.headers["Location"]) == (303, reverse("jobs:clients"))


def test_the_first_answer_is_given_also_where_the_page_is_gone(owner_client: Browser) -> None:
    need, key = make_need(), new_key()
    address = reverse("jobs:need_remove", args=[need.pk])
    first = post(owner_client, address, key=key)

    again = post(owner_client, address, key=key)

    assert (first.status_code, again.status_code) == (303, 303)
    assert again.headers["Location"] == first.headers["Location"]


def test_a_key_used_by_another_form_leads_there_and_stores_nothing(owner_client: Browser) -> None:
    key = new_key()
    post(owner_client, reverse("jobs:client_new"), **GOOD, key=key)

    again = post(owner_client, reverse("jobs:room_new", args=[make_job().pk]), name="Lobby", key=key)

    assert (again.status_code, again.headers["Location"]) == (303, reverse("jobs:clients"))


def test_an_action_without_an_answer_leads_to_the_first_page(owner_client: Browser, owner: Person) -> None:
    Action.objects.create(
        key="a" * 32, person=owner, verb="x", happened_at="2026-11-25T00:00Z", recorded_at="2026-11-25T00:00Z"
    )

    assert post(owner_client, reverse("jobs:client_new"), key="a" * 32).headers["Location"] == "/"


@pytest.mark.parametrize("key", ["\0" * 32, "a" * 31 + "\0", "", "a" * 33, "a" * 100_000, "é" * 32])
def test_a_key_that_is_none_is_no_error(owner_client: Browser, key: str) -> None:
    answer = owner_client.post(reverse("jobs:client_new"), GOOD | {"key": key})

    assert answer.status_code == 422


def test_who_is_not_signed_in_gets_no_first_answer(owner_client: Browser, client: Browser) -> None:
    key = new_key()
    post(owner_client, reverse("jobs:client_new"), **GOOD, key=key)

    answer = post(client, reverse("jobs:client_new"), **GOOD, key=key)

    assert answer.headers["Location"].startswith(reverse("front:login"))


def signed_in(owner: Person) -> Browser:
    browser = Browser()
    browser.force_login(owner)
    return browser


@pytest.mark.django_db(transaction=True)
def test_one_form_sent_by_eight_clients_at_once_is_stored_once_and_answered_alike(owner: Person) -> None:
    key, browser = new_key(), signed_in(owner)

    def send() -> tuple[int, str]:
        mine = Browser()
        mine.cookies = browser.cookies
        answer = post(mine, reverse("jobs:client_new"), **GOOD, key=key)
        return answer.status_code, answer.headers.get("Location", "")

    got = at_once(send)

    assert got == [(303, reverse("jobs:clients"))] * 8
    assert (Client.objects.count(), Action.objects.count()) == (1, 1)


@pytest.mark.django_db(transaction=True)
def test_one_removal_sent_by_eight_clients_at_once_is_done_once_and_answered_alike(owner: Person) -> None:
    key, browser, room = new_key(), signed_in(owner), make_room()
    address = reverse("jobs:room_remove", args=[room.pk])

    def send() -> int:
        mine = Browser()
        mine.cookies = browser.cookies
        return post(mine, address, key=key).status_code

    got = at_once(send)

    assert got == [303] * 8
    assert Action.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_one_row_edited_by_eight_clients_at_once_is_saved_once_and_the_others_see_it(owner: Person) -> None:
    client, browser = make_client(name="Elm Street"), signed_in(owner)
    names = iter(range(8))

    def send() -> int:
        mine = Browser()
        mine.cookies = browser.cookies
        typed = GOOD | {"contact": f"Contact {next(names)}", "version": "1"}
        return post(mine, reverse("jobs:client", args=[client.pk]), **typed).status_code

    got = at_once(send)

    assert sorted(map(str, got)) == ["303"] + ["422"] * 7
    assert Client.objects.get().version == 2
