"""The clients and the hours of a room cost as many queries, however many there are."""

from datetime import date, timedelta

from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Client, Hours
from tests.makers import make_client, make_hours, make_room
from tests.queries import queries_of
from workshop.models import Person


def test_a_thousand_clients_cost_the_queries_of_one(staff_client: Browser) -> None:
    make_client()
    few = queries_of(staff_client, reverse("jobs:clients"))

    Client.objects.bulk_create(Client(name=f"Client {at}") for at in range(1000))

    assert queries_of(staff_client, reverse("jobs:clients")) == few


def test_a_thousand_hours_on_a_room_cost_the_queries_of_two(staff_client: Browser, staff: Person) -> None:
    room, day = make_room(), date(2026, 11, 2)
    make_hours(room=room, person=staff)
    make_hours(room=room, person=staff, batch=1)
    few = queries_of(staff_client, reverse("jobs:hours", args=[room.pk]))

    Hours.objects.bulk_create(
        Hours(room=room, person=staff, worked_on=day - timedelta(days=at % 300), minutes=30, batch=at % 7 or None)
        for at in range(1000)
    )

    assert queries_of(staff_client, reverse("jobs:hours", args=[room.pk])) == few
