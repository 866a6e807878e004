"""Giving sheets to the rooms of a job: the page, the button of a room, the suggestion."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import giving
from jobs.models import Given, Job, Need, Room
from materials.models import Material, Sheet, ToneGroup
from tests.makers import (
    hand,
    make_job,
    make_lot,
    make_need,
    make_room,
    make_sheets,
    make_stack,
    post,
)
from tests.queries import queries_of
from tests.typed import KEYS, NUMBERS
from workshop import actions
from workshop.models import Action, Person


@pytest.fixture
def job(db: None) -> Job:
    return make_job(name="Music school")


@pytest.fixture
def room(job: Job, plywood: Material) -> Room:
    room = make_room(job=job, name="Practice 1")
    make_need(room=room, material=plywood, quantity_micro=5_000_000)
    return room


def page_url(job: Job) -> str:
    return reverse("jobs:giving", args=[job.pk])


def give_url(room: Room) -> str:
    return reverse("jobs:give", args=[room.pk])


def suggestion_url(job: Job) -> str:
    return reverse("jobs:give_suggested", args=[job.pk])


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def seen(browser: Browser, job: Job) -> str:
    """The suggestion as the page shows it, as its form sends it back."""
    return browser.get(page_url(job)).context["tables"][0].plan_seen


def test_the_page_shows_stacks_rooms_and_what_each_would_get(
    staff_client: Browser, job: Job, room: Room, pale: ToneGroup
) -> None:
    make_stack(pale, 7)

    html = words_of(staff_client.get(page_url(job)))

    assert "<b>7</b> free of 7" in html
    assert "Practice 1 gets 5 Pale." in html
    assert "Give 5 Pale" in html


def test_the_page_tells_what_is_still_to_sort_and_set_aside(
    staff_client: Browser, job: Job, room: Room, plywood: Material
) -> None:
    lot = make_lot(material=plywood)
    make_sheets(lot, 2)
    make_sheets(lot, 1, set_aside_on=date(2026, 11, 25))

    html = words_of(staff_client.get(page_url(job)))

    assert "2 sheets are not sorted yet." in html
    assert "1 sheet is set aside." in html
    assert "Practice 1 still lacks 5 sheets." in html


def test_a_job_without_sheets_says_what_to_do_first(staff_client: Browser, job: Job) -> None:
    assert "Say first what the rooms need" in words_of(staff_client.get(page_url(job)))


def test_a_room_is_given_what_its_button_says(staff_client: Browser, job: Job, room: Room, pale: ToneGroup) -> None:
    make_stack(pale, 7)

    answer = post(staff_client, give_url(room), group=pale.pk, count="5")

    assert (answer.status_code, answer.url) == (303, page_url(job))
    assert Given.objects.filter(room=room).count() == 10
    assert "Practice 1: 5 Pale given" in words_of(staff_client.get(page_url(job)))


def test_a_room_that_got_more_than_it_needs_is_told_so_in_words(
    staff_client: Browser, job: Job, room: Room, pale: ToneGroup
) -> None:
    make_stack(pale, 8)

    answer = post(staff_client, give_url(room), group=pale.pk, count="7")

    words = "Practice 1 now has 2 sheets more than it needs."
    assert answer.status_code == 303
    assert words in words_of(staff_client.get(page_url(job)))
    assert words in words_of(staff_client.get(reverse("jobs:room_sheets", args=[room.pk])))
    of_room = words_of(staff_client.get(reverse("jobs:room", args=[room.pk])))
    assert "All given, and 2 sheets more than it needs" in of_room


def test_once_every_room_has_its_sheets_the_page_leads_to_the_pull_list(
    staff_client: Browser, job: Job, room: Room, pale: ToneGroup
) -> None:
    make_stack(pale, 8)
    before = words_of(staff_client.get(page_url(job)))

    post(staff_client, give_url(room), group=pale.pk, count="5")

    leads = f'id="pull" href="{reverse("jobs:pull_list", args=[job.pk])}"'
    assert leads not in before
    assert leads in words_of(staff_client.get(page_url(job)))


def test_a_room_that_got_what_it_needs_is_not_told_of_more(
    staff_client: Browser, job: Job, room: Room, pale: ToneGroup
) -> None:
    make_stack(pale, 8)

    post(staff_client, give_url(room), group=pale.pk, count="5")

    assert "more than it needs" not in words_of(staff_client.get(page_url(job)))


def test_htmx_gets_the_stacks_and_rooms_alone_with_the_last_changes(
    staff_client: Browser, job: Job, room: Room, pale: ToneGroup
) -> None:
    make_stack(pale, 7)
    post(staff_client, give_url(room), htmx=True, group=pale.pk, count="2 1/2")

    html = words_of(staff_client.get(page_url(job), headers={"HX-Request": "true"}))

    assert html.startswith('<div id="giving">')
    assert '<p class="visually-hidden" data-say>Practice 1: 2 1/2 Pale given</p>' in html
    assert 'id="last-changes"' in html


def test_more_than_is_free_is_refused_at_the_field_with_what_was_typed(
    staff_client: Browser, room: Room, pale: ToneGroup
) -> None:
    make_stack(pale, 4)

    answer = post(staff_client, give_url(room), group=pale.pk, count="5")

    html = words_of(answer)
    assert answer.status_code == 422
    assert '<input type="text" name="count" value="5"' in html
    assert "Pale has 4 sheets free. Type that or less, or choose another tone group." in html
    assert f'data-fill="4" data-for="group_{pale.pk}_count"' in html
    assert Given.objects.count() == 0


def test_a_refusal_over_htmx_stands_above_the_stacks_as_they_are(
    staff_client: Browser, room: Room, pale: ToneGroup
) -> None:
    make_stack(pale, 4)

    answer = post(staff_client, give_url(room), htmx=True, group=pale.pk, count="5")

    assert answer.status_code == 422
    assert words_of(answer).startswith('<div id="giving"> <div class="note is-red"')


@pytest.mark.parametrize("typed", [*NUMBERS, "0", "2.3", "1/3", "5 ft", "10" + "0" * 12])
def test_what_is_no_number_of_sheets_is_refused(staff_client: Browser, room: Room, pale: ToneGroup, typed: str) -> None:
    make_stack(pale, 4)

    answer = post(staff_client, give_url(room), group=pale.pk, count=typed)

    assert answer.status_code == 422
    assert answer.context["refusal"].errors.keys() == {"count"}
    assert (Given.objects.count(), Action.objects.count()) == (0, 0)


@pytest.mark.parametrize("typed", KEYS)
@pytest.mark.parametrize("htmx", [False, True])
def test_a_group_that_is_not_there_is_refused(
    staff_client: Browser, room: Room, pale: ToneGroup, typed: str, htmx: bool
) -> None:
    make_stack(pale, 4)

    answer = post(staff_client, give_url(room), htmx=htmx, group=typed, count="1")

    assert answer.status_code == 422
    assert (Given.objects.count(), Action.objects.count()) == (0, 0)


def test_the_same_giving_sent_twice_is_done_once(staff_client: Browser, room: Room, pale: ToneGroup) -> None:
    make_stack(pale, 7)
    key = actions.new_key()

    answers = [post(staff_client, give_url(room), key=key, group=pale.pk, count="2") for _time in range(2)]

    assert [answer.url for answer in answers] == [page_url(room.job)] * 2
    assert Given.objects.count() == 4


def test_a_giving_without_a_key_is_refused(staff_client: Browser, room: Room, pale: ToneGroup) -> None:
    make_stack(pale, 7)

    answer = staff_client.post(give_url(room), {"group": pale.pk, "count": "2"})

    assert (answer.status_code, Given.objects.count()) == (422, 0)


def test_the_undo_beside_a_giving_takes_it_back(staff_client: Browser, job: Job, room: Room, pale: ToneGroup) -> None:
    make_stack(pale, 7)
    post(staff_client, give_url(room), group=pale.pk, count="5")
    change = staff_client.get(page_url(job)).context["block"].changes[0]

    post(staff_client, change.undo_url, key=change.key)

    assert Given.objects.count() == 0


@pytest.mark.parametrize("name", ["give", "give_suggested", "take_back"])
def test_giving_and_taking_are_posts(owner_client: Browser, room: Room, name: str) -> None:
    pk = room.job_id if name == "give_suggested" else room.pk

    assert owner_client.get(reverse(f"jobs:{name}", args=[pk])).status_code == 405


@pytest.mark.parametrize("name", ["giving", "pull_list"])
def test_the_pages_of_a_job_are_only_read(owner_client: Browser, job: Job, name: str) -> None:
    assert post(owner_client, reverse(f"jobs:{name}", args=[job.pk])).status_code == 405


@pytest.mark.parametrize("name", ["giving", "pull_list", "give_suggested", "give", "take_back", "room_sheets"])
def test_a_job_or_room_that_is_not_there_is_not_found(owner_client: Browser, db: None, name: str) -> None:
    url = reverse(f"jobs:{name}", args=[999])

    assert 404 in (owner_client.get(url).status_code, post(owner_client, url).status_code)


def test_all_is_given_as_suggested_in_one_step_and_taken_back_in_one(
    staff_client: Browser, job: Job, room: Room, plywood: Material, pale: ToneGroup
) -> None:
    make_need(room=make_room(job=job, name="Lobby"), material=plywood, quantity_micro=2_500_000)
    make_stack(pale, 9)

    answer = post(staff_client, suggestion_url(job), material=plywood.pk, seen=seen(staff_client, job))

    assert (answer.status_code, answer.url) == (303, page_url(job))
    assert Given.objects.count() == 15
    change = staff_client.get(page_url(job)).context["block"].changes[0]
    assert change.text == "Ash-veneered plywood given as suggested to Practice 1, Lobby"
    post(staff_client, change.undo_url, key=change.key)
    assert Given.objects.count() == 0


def test_another_suggestion_than_was_seen_is_not_given(
    staff_client: Browser, staff: Person, job: Job, room: Room, plywood: Material, pale: ToneGroup
) -> None:
    make_stack(pale, 5)
    was_seen = seen(staff_client, job)
    giving.give(room=make_room(), material=plywood, group=pale, halves=2, by=hand(staff))

    answer = post(staff_client, suggestion_url(job), htmx=True, material=plywood.pk, seen=was_seen)

    assert answer.status_code == 422
    assert "Stacks or needs changed meanwhile." in words_of(answer)
    assert "Practice 1 gets 4 Pale." in words_of(answer)
    assert Given.objects.filter(room=room).count() == 0


@pytest.mark.parametrize("field", ["material", "seen"])
@pytest.mark.parametrize("typed", KEYS)
def test_a_suggestion_with_strange_hidden_fields_is_refused(
    staff_client: Browser, job: Job, room: Room, plywood: Material, pale: ToneGroup, field: str, typed: str
) -> None:
    make_stack(pale, 5)
    sent = {"material": plywood.pk, "seen": seen(staff_client, job)} | {field: typed}

    answer = post(staff_client, suggestion_url(job), **sent)

    assert (answer.status_code, Given.objects.count(), Action.objects.count()) == (422, 0, 0)


def make_volume(job: Job, plywood: Material, rooms: int, groups: int) -> None:
    for place in range(plywood.tone_groups.count() + 1, groups + 1):
        ToneGroup.objects.create(material=plywood, place=place, name=f"Group {place}", color="#9c7b54")
    first = job.rooms.count() + 1
    made = Room.objects.bulk_create(Room(job=job, name=f"Room {n}", place=n) for n in range(first, first + rooms))
    Need.objects.bulk_create(Need(room=room, material=plywood, quantity_micro=2_500_000) for room in made)
    lot = make_lot(material=plywood)
    for group in plywood.tone_groups.all():
        make_stack(group, 10, lot)
    halves = list(giving.free_halves([plywood]).filter(sheet__in=Sheet.objects.filter(lot=lot))[: len(made)])
    Given.objects.bulk_create(Given(half=half, room=room) for half, room in zip(halves, made, strict=False))


@pytest.mark.parametrize("name", ["giving", "pull_list"])
def test_sixty_rooms_and_twelve_groups_cost_the_queries_of_one(
    staff_client: Browser, job: Job, plywood: Material, name: str
) -> None:
    url = reverse(f"jobs:{name}", args=[job.pk])
    make_volume(job, plywood, rooms=1, groups=4)
    of_one = queries_of(staff_client, url)

    make_volume(job, plywood, rooms=60, groups=12)

    assert queries_of(staff_client, url) == of_one
