"""The page of a piece of long work: how far it is, how to stop it, what came of it."""

from collections.abc import Callable

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from tests.workshop.long_work import MINUTE, ask, deliver_all
from workshop import work
from workshop.models import Person, Work
from workshop.models.work import State


@pytest.mark.django_db
def test_the_page_of_open_work_asks_for_itself_again_until_it_has_ended(
    do: Callable, owner: Person, owner_client: Browser
) -> None:
    piece = ask()
    address = reverse("front:work", args=[piece.pk])

    waiting = owner_client.get(address).content.decode()
    deliver_all()
    ended = owner_client.get(address, headers={"HX-Request": "true"}).content.decode()

    assert 'hx-trigger="every 2s"' in waiting and "<html" in waiting
    assert "every 2s" not in ended and "<html" not in ended
    assert ended.strip().startswith('<section class="sec" id="work"')


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("outcome", "shown"),
    [
        ({"words": "14 pages", "address": "/documents/3/"}, 'href="/documents/3/"'),
        ({"words": "14 pages", "address": "//evil.example/"}, "14 pages"),
        ({}, "Done"),
    ],
)
def test_the_page_of_done_work_tells_what_came_of_it(
    do: Callable, owner_client: Browser, outcome: dict[str, str], shown: str
) -> None:
    do(lambda piece: outcome)
    piece = ask()
    work.run(piece.pk)

    page = owner_client.get(reverse("front:work", args=[piece.pk])).content.decode()

    assert shown in page
    assert "evil.example" not in page


@pytest.mark.django_db
def test_the_page_of_running_work_shows_its_bar_and_words(do: Callable, owner_client: Browser) -> None:
    pages = []

    def sand(piece: Work) -> dict:
        work.progress(piece, 3, 10, "Practice 4, wall B")
        pages.append(owner_client.get(reverse("front:work", args=[piece.pk])).content.decode())
        return {}

    do(sand)

    work.run(ask().pk)

    assert "3 of 10" in pages[0]
    assert "Practice 4, wall B" in pages[0]
    assert '<progress class="count-bar" value="3" max="10"' in pages[0]


@pytest.mark.django_db
def test_the_page_of_failed_work_says_why(do: Callable, owner_client: Browser) -> None:
    piece = ask()
    Work.objects.filter(pk=piece.pk).update(
        started_at=timezone.now(), ended_at=timezone.now(), failure="Practice 4 has no panels."
    )

    page = owner_client.get(reverse("front:work", args=[piece.pk])).content.decode()

    assert "Practice 4 has no panels." in page


@pytest.mark.django_db
def test_staff_see_and_stop_only_what_they_asked_for(do: Callable, staff: Person, staff_client: Browser) -> None:
    own = work.ask(kind="sand", key="room:1", by=staff, time_box=MINUTE)
    anothers = ask("room:2")

    answers = {piece.key: staff_client.get(reverse("front:work", args=[piece.pk])) for piece in (own, anothers)}
    refused = staff_client.post(reverse("front:work_cancel", args=[anothers.pk]), {"key": "0" * 32})

    anothers.refresh_from_db()
    assert {key: answer.status_code for key, answer in answers.items()} == {"room:1": 200, "room:2": 404}
    assert (refused.status_code, anothers.state) == (404, State.WAITING)


@pytest.mark.django_db
def test_the_button_stops_the_work_and_leads_back_to_its_page(do: Callable, owner_client: Browser) -> None:
    piece = ask()

    answer = owner_client.post(reverse("front:work_cancel", args=[piece.pk]), {"key": "a" * 32})

    piece.refresh_from_db()
    assert (answer.status_code, answer.url) == (303, reverse("front:work", args=[piece.pk]))
    assert piece.state == State.CANCELLED


@pytest.mark.django_db
def test_looking_at_the_stop_address_is_refused(do: Callable, owner_client: Browser) -> None:
    piece = ask()

    answer = owner_client.get(reverse("front:work_cancel", args=[piece.pk]))

    assert answer.status_code == 405
