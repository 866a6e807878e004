"""The progress page with all that can stand on it: sixty rooms cost the queries of two."""

from datetime import date, timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import standing
from jobs.models import Job, LineShare
from materials.models import Sample
from tests.jobs.handling import give
from tests.makers import (
    make_drawing,
    make_hours,
    make_job,
    make_ladder,
    make_material,
    make_need,
    make_order,
    make_revision,
    make_room,
    make_room_stage,
    make_stack,
)
from tests.queries import queries_of
from workshop.models import Person

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


def full_job(rooms: int, person: Person) -> Job:
    """Rooms in work whose trim comes late on orders shared out to the job, one of them held, with drawings."""
    job, plywood = make_job(), make_material()
    pale = make_ladder(plywood)[0]
    make_stack(pale, rooms)
    make_revision(drawing=make_drawing(job=job))
    for at in range(rooms):
        room = make_room(job=job, starts_on=TODAY + timedelta(days=at % 9), fire_class="A")
        trim = make_material(kind="trim", name=f"Ash trim {room.pk}")
        make_room_stage(room=room, planned_minutes=60, total=4, done=1)
        make_need(room=room, material=plywood, quantity_micro=1_000_000)
        make_need(room=room, material=trim, quantity_micro=8_000_000)
        make_hours(room=room, person=person, batch=at)
        give(room, pale, 2, person)
        order = make_order(material=trim, quantity_micro=8_000_000, placed_on=TODAY)
        LineShare.objects.create(line=order.lines.get(), job=job, quantity_micro=8_000_000)
        Sample.objects.create(material=trim, order=order, what="Finish panel", sent_to="Architect", sent_on=TODAY)
    return job


def test_sixty_rooms_with_late_words_and_shares_cost_the_queries_of_two(staff_client: Browser, staff: Person) -> None:
    few, many = full_job(2, staff), full_job(60, staff)

    assert all("late" in room.late for room in standing.of_job(many).rooms)
    of_few, of_many = (queries_of(staff_client, reverse("jobs:job", args=[job.pk])) for job in (few, many))
    assert of_many <= of_few


def test_the_lead_times_of_sixty_orders_cost_the_queries_of_two(staff_client: Browser, staff: Person) -> None:
    url = reverse("jobs:lead_times")
    full_job(2, staff)
    of_few = queries_of(staff_client, url)

    full_job(60, staff)

    assert queries_of(staff_client, url) <= of_few
    html = staff_client.get(url).content.decode()
    assert "Held: a sample is not approved" in html
