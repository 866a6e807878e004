"""Progress by room: the page of a job."""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from jobs import standing
from jobs.models import Given, Job, Room
from materials.models import Half
from tests.makers import (
    make_hours,
    make_job,
    make_ladder,
    make_lot,
    make_material,
    make_need,
    make_order,
    make_room,
    make_room_stage,
    make_sheets,
    make_supplier,
)
from workshop.models import Person

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


def url(job: Job) -> str:
    return reverse("jobs:job", args=[job.pk])


def give(room: Room, material, halves: int, group=None) -> None:
    lot = make_lot(material=material)
    make_sheets(lot, (halves + 1) // 2)
    if group:
        for place, sheet in enumerate(lot.sheets.all(), 1):
            lot.sheets.filter(pk=sheet.pk).update(tone_group=group, place=place)
    for half in Half.objects.filter(sheet__lot=lot)[:halves]:
        Given.objects.create(half=half, room=room)


def need_on_order(room: Room) -> None:
    need = make_need(room=room)
    make_order(material=need.material, placed_on=TODAY)


def need_in_stock(room: Room) -> None:
    need = make_need(room=room)
    make_sheets(make_lot(material=need.material), 5)


def row_of(room: Room) -> standing.RoomStanding:
    return next(row for row in standing.of_job(room.job).rooms if row.room == room)


def test_a_room_shows_per_cent_hours_and_what_is_next(staff_client: Browser, staff: Person) -> None:
    room = make_room(name="Practice 1")
    make_need(room=room, material=make_material(kind="lumber"))
    make_room_stage(room=room, planned_minutes=600, total=12, done=3)
    make_hours(room=room, person=staff, minutes=180)

    page = staff_client.get(url(room.job)).content.decode()

    assert "25%" in page
    assert "3 of 10 h" in page
    assert "Next: cut panels, 9 of 12 left" in page
    assert "25% done; 3 of 10 planned hours spent" in page


def test_the_bar_has_one_sentence_as_its_name(staff_client: Browser) -> None:
    room = make_room(name="Practice 1")
    make_need(room=room, material=make_material(kind="lumber"))
    make_room_stage(room=room, planned_minutes=600, total=12, done=3)

    page = staff_client.get(url(room.job)).content.decode()

    assert 'aria-label="Practice 1: 25% done. Next: cut panels, 9 of 12 left."' in page


def test_a_room_shows_its_sheets_and_their_tone_group(staff_client: Browser) -> None:
    room, material = make_room(), make_material()
    make_need(room=room, material=material, quantity_micro=5_000_000)
    give(room, material, 9, make_ladder(material)[0])

    row = row_of(room)

    assert row.sheets_words == "4 1/2 of 5 sheets"
    assert [(tone.group.name, tone.halves) for tone in row.tones] == [("Pale", 9)]
    assert row.next.words == "Next: give 1/2 sheet"
    assert "Pale" in staff_client.get(url(room.job)).content.decode()


def test_two_tone_groups_in_a_room_show_their_counts(staff_client: Browser) -> None:
    room, material = make_room(), make_material()
    pale, cream, *_rest = make_ladder(material)
    give(room, material, 8, pale)
    give(room, material, 2, cream)

    page = " ".join(staff_client.get(url(room.job)).content.decode().split())

    assert "Pale 4 sheets" in page
    assert "Cream 1 sheet" in page


def test_sheets_of_another_material_do_not_cover_a_need(db: None) -> None:
    room, wanted, other = make_room(), make_material(), make_material()
    make_need(room=room, material=wanted, quantity_micro=2_000_000)
    give(room, other, 4)

    assert row_of(room).sheets_short_micro == 2_000_000


@pytest.mark.parametrize(
    ("make", "words", "name"),
    [
        (lambda room: None, "Next: list what it takes", "jobs:need_new"),
        (lambda room: make_need(room=room), "Next: order 5 sheets", "jobs:lead_times"),
        (need_on_order, "Next: plan the stages", "jobs:room_plan"),
        (need_in_stock, "Next: give 5 sheets", "jobs:giving"),
        (
            lambda room: make_need(room=room, material=make_material(kind="lumber")),
            "Next: plan the stages",
            "jobs:room_plan",
        ),
    ],
)
def test_a_new_room_leads_on(db: None, make, words: str, name: str) -> None:
    room = make_room()
    make_room_stage(room=room)
    make(room)

    step = row_of(room).next

    assert step.words == words
    args = {"jobs:giving": [room.job_id], "jobs:lead_times": []}.get(name, [room.pk])
    assert step.url == reverse(name, args=args)


def test_sheets_on_order_are_said_to_come_once_the_stages_are_planned(db: None) -> None:
    room = make_room()
    make_room_stage(room=room, planned_minutes=60)
    need_on_order(room)

    assert row_of(room).next.words == "Next: 5 sheets to come"


def test_work_that_starts_later_says_from_when(db: None) -> None:
    room = make_room(starts_on=date(2026, 12, 7))
    make_need(room=room, material=make_material(kind="lumber"))
    make_room_stage(room=room, planned_minutes=60)

    assert row_of(room).next.words == "Next: cut panels, from Mon, Dec 7"


def test_a_stage_in_work_comes_before_one_not_begun(db: None) -> None:
    room = make_room()
    make_room_stage(room=room, planned_minutes=60)
    make_room_stage(room=room, lane="trim", name="Mill", planned_minutes=60, total=4, done=1)

    assert row_of(room).next.words == "Next: mill trim, 3 of 4 left"


def test_a_room_with_all_done_is_done(db: None) -> None:
    room = make_room()
    make_room_stage(room=room, planned_minutes=60, total=4, done=4)

    row = row_of(room)

    assert (row.mark, row.next.words, row.progress.percent) == ("done", "Done", 100)


def test_material_not_ordered_in_time_is_late_in_its_lane(staff_client: Browser) -> None:
    room = make_room(starts_on=TODAY)
    make_room_stage(room=room, planned_minutes=60)
    make_room_stage(room=room, lane="trim", name="Mill", planned_minutes=60)
    ash = make_material(kind="lumber", name="Solid ash 8/4", usual_supplier=make_supplier())
    make_need(room=room, material=ash)

    row = row_of(room)

    assert row.mark == "late"
    assert "Solid ash 8/4" in row.next.words
    assert {slot["name"]: slot["state"] for slot in row.slots} == {"Cut": "not_started", "Mill": "late"}
    assert "is-late" in staff_client.get(url(room.job)).content.decode()


def test_a_stage_that_is_not_in_the_room_is_not_drawn(db: None) -> None:
    room = make_room()
    make_room_stage(room=room, planned_minutes=60)
    make_room_stage(room=room, name="Edge", total=0)

    assert [slot["name"] for slot in row_of(room).slots] == ["Cut"]


def test_all_rooms_lie_under_one_ruler(db: None) -> None:
    job = make_job()
    for planned in (60, 180):
        room = make_room(job=job)
        make_room_stage(room=room, planned_minutes=planned)
        make_room_stage(room=room, lane="site", name="Walls", planned_minutes=planned)

    first, second = standing.of_job(job).rooms

    assert [slot["start"] for slot in first.slots] == [slot["start"] for slot in second.slots] == [0, 0.5]


def test_the_page_refreshes_itself_with_the_fragment(staff_client: Browser) -> None:
    job = make_room().job

    page = staff_client.get(url(job)).content.decode()
    part = staff_client.get(url(job), headers={"HX-Request": "true"}).content.decode()

    assert 'hx-trigger="every 30s"' in page
    assert "<html" in page
    assert "<html" not in part
    assert part.strip().startswith('<div id="progress"')
    assert page.count('id="last-changes"') == part.count('id="last-changes"') == 1


def test_a_job_without_rooms_says_what_to_do_first(staff_client: Browser) -> None:
    job = make_job()

    page = staff_client.get(url(job)).content.decode()

    assert "Add the first room" in page
    assert reverse("jobs:room_new", args=[job.pk]) in page
    assert "every 30s" not in page


def test_staff_get_no_way_to_the_estimate(staff_client: Browser, owner_client: Browser) -> None:
    job = make_room().job
    estimate = reverse("estimates:estimate", args=[job.pk])

    assert estimate not in staff_client.get(url(job)).content.decode()
    assert estimate in owner_client.get(url(job)).content.decode()


def full_job(rooms: int, person: Person) -> Job:
    job, material = make_job(), make_material()
    group = make_ladder(material)[0]
    for _at in range(rooms):
        room = make_room(job=job, starts_on=TODAY + timedelta(days=30))
        make_room_stage(room=room, planned_minutes=60, total=4, done=1)
        make_need(room=room, material=material)
        make_hours(room=room, person=person)
        give(room, material, 2, group)
    return job


def queries_of(browser: Browser, job: Job) -> int:
    browser.get(url(job))
    with CaptureQueriesContext(connection) as found:
        browser.get(url(job))
    return len(found)


def test_sixty_rooms_cost_the_queries_of_two(staff_client: Browser, staff: Person) -> None:
    few, many = full_job(2, staff), full_job(60, staff)

    assert queries_of(staff_client, many) <= queries_of(staff_client, few)
