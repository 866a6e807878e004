"""What every page shares: page or fragment, the refused form, the title block with the last changes."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client as Browser
from django.test import RequestFactory
from django.urls import reverse
from django.utils import timezone
from django_htmx.middleware import HtmxDetails

from jobs.models import Client
from tests.makers import hand, make_client, make_room
from tests.workshop.doing import add_client, save_client
from workshop import actions, clock, pages
from workshop.actions import Hand, recorded
from workshop.forms import ActionForm
from workshop.models import Action, Person, Shop
from workshop.pages import Block, Cell, change_of, done, page_or_fragment, refused

pytestmark = pytest.mark.django_db


def asked(rf: RequestFactory, person: Person, **headers: str) -> HttpRequest:
    request = rf.get("/somewhere/", headers=headers)
    request.user = person
    request.htmx = HtmxDetails(request)
    return request


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> None:
    """Templates answer with their own name."""

    def render(_request: HttpRequest, name: str, _context: dict, status: int) -> HttpResponse:
        return HttpResponse(name, status=status)

    monkeypatch.setattr(pages, "render", render)


# Page or fragment


@pytest.mark.parametrize(
    ("headers", "template"),
    [
        ({}, "page.html"),
        ({"HX-Request": "true"}, "_fragment.html"),
        ({"HX-Request": "true", "HX-Boosted": "true"}, "page.html"),
        ({"HX-Request": "true", "HX-History-Restore-Request": "true"}, "page.html"),
    ],
    ids=["a browser", "a swap", "a boosted link", "back in history"],
)
def test_a_swap_gets_the_fragment_and_everything_else_the_page(
    rf: RequestFactory, owner: Person, shown: None, headers: dict[str, str], template: str
) -> None:
    answer = page_or_fragment(asked(rf, owner, **headers), "page.html", "_fragment.html", {})

    assert answer.content.decode() == template
    assert answer.headers["Vary"] == "HX-Request"


def test_a_kept_form_leads_on_with_see_other() -> None:
    answer = done("/clients/")

    assert (answer.status_code, answer.headers["Location"]) == (303, "/clients/")


def test_a_refused_form_is_answered_422(rf: RequestFactory, owner: Person, shown: None) -> None:
    form = ActionForm({"key": actions.new_key()})

    answer = refused(asked(rf, owner), form, "page.html", {"form": form})

    assert (answer.status_code, answer.content.decode()) == (422, "page.html")


def test_a_refused_form_that_was_kept_meanwhile_gets_the_first_answer(
    rf: RequestFactory, owner: Person, shown: None
) -> None:
    add_client(owner, key="a" * 32)
    form = ActionForm({"key": "a" * 32})

    answer = refused(asked(rf, owner), form, "page.html", {"form": form})

    assert (answer.status_code, answer.headers["Location"]) == (303, "/clients/")


@pytest.mark.parametrize("key", ["\0", "a" * 31 + "\0", "a" * 100_000])
def test_a_refused_form_with_a_strange_key_stays_refused(
    rf: RequestFactory, owner: Person, shown: None, key: str
) -> None:
    form = ActionForm({})
    form.data = {"key": key}

    assert refused(asked(rf, owner), form, "page.html", {}).status_code == 422


# The title block


def test_without_cells_the_block_names_shop_and_person(rf: RequestFactory, owner: Person) -> None:
    Shop.get()
    Shop.objects.update(name="Corner Wood Shop")

    block = Block(asked(rf, owner), page="Today")

    assert block.cells == [Cell("Shop", "Corner Wood Shop")]
    assert block.third == Cell("Signed in", "R. M.", reverse("front:more"))


def test_the_block_counts_what_every_app_calls_late(
    rf: RequestFactory, owner: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pages, "COUNT_LATE", [lambda: 2, lambda: 3])

    assert Block(asked(rf, owner), page="Today").late == 5


def test_the_last_four_changes_of_what_the_page_is_about_stand_in_the_block(rf: RequestFactory, owner: Person) -> None:
    client = make_client(name="Elm Street")
    for number in range(6):
        save_client(client, owner, contact=f"Contact {number}")
    add_client(owner, "Oak Street")

    block = Block(asked(rf, owner), page="Client", about=[client])

    assert [change.text for change in block.changes] == ["Done to Elm Street"] * 4
    assert block.changes[0].undo_url == reverse("front:undo", args=[actions.trace(client)[0].pk])


def test_the_block_reads_no_rows_of_large_actions(rf: RequestFactory, owner: Person) -> None:
    add_client(owner)

    Block(asked(rf, owner), page="Today").changes  # noqa: B018
    last = actions.trace().defer("before", "after")[0]
    change_of(last, owner)

    assert last.get_deferred_fields() == {"before", "after"}


def test_staff_are_offered_to_take_back_only_what_they_did(rf: RequestFactory, owner: Person, staff: Person) -> None:
    add_client(owner, "Elm Street")
    add_client(staff, "Oak Street")

    changes = Block(asked(rf, staff), page="Clients").changes

    assert [bool(change.undo_url) for change in changes] == [True, False]


@pytest.mark.parametrize(
    ("happened", "said"),
    [
        (datetime(2026, 11, 25, 10, 42), "R. M., 10:42"),
        (datetime(2026, 11, 24, 7, 5), "R. M., Tue, Nov 24 07:05"),
        (datetime(2025, 11, 24, 7, 5), "R. M., Mon, Nov 24, 2025 07:05"),
    ],
)
def test_a_change_says_who_and_when_in_the_shops_time(owner: Person, happened: datetime, said: str) -> None:
    with timezone.override(ZoneInfo("America/Chicago")), clock.as_if(date(2026, 11, 25)):
        with recorded(Hand(owner, happened_at=timezone.make_aware(happened)), "test.do", name="") as record:
            record.add(Client(name="Elm Street"))

        change = change_of(record.action, owner)

    assert change.who == said


def test_a_change_nobody_made_says_only_when(owner: Person) -> None:
    change = change_of(add_client(None), owner)

    assert "," not in change.who


def test_each_change_has_a_key_of_its_own(rf: RequestFactory, owner: Person) -> None:
    add_client(owner, "Elm Street")
    add_client(owner, "Oak Street")

    changes = Block(asked(rf, owner), page="Clients").changes

    assert len({change.key for change in changes}) == 2


def test_a_page_asks_for_the_shop_once(owner_client: Browser, owner: Person, django_assert_num_queries) -> None:
    owner_client.get(reverse("front:password"))

    with django_assert_num_queries(5):
        # session, person, shop, changes, count of what is late
        owner_client.get(reverse("front:password"))


def test_what_a_room_and_its_job_saw_stands_on_the_rooms_page(owner_client: Browser, owner: Person) -> None:
    room = make_room(name="Recital room")
    with recorded(hand(owner), "test.do", room, about=[room.job], name="the Recital room") as record:
        record.save(room, place=7)

    page = owner_client.get(reverse("jobs:room", args=[room.pk])).content.decode()

    assert "Done to the Recital room" in page
    assert reverse("front:undo", args=[Action.objects.get().pk]) in page
