"""The demo, as `start --demo` loads it."""

from datetime import date
from pathlib import Path

import pytest
from pytest_django import Settings

from estimates import pricing
from estimates.models import Estimate
from jobs.models import Job, Room
from workshop import clock
from workshop.front import demo
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def photos_apart(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.mark.parametrize("password", ["demo", "a long one with words"])
def test_its_people_sign_in_with_the_password_given_however_short_it_is(password: str) -> None:
    demo.load(password)

    assert {person.username: person.check_password(password) for person in Person.objects.all()} == {
        "demo": True,
        "ari": True,
    }


def test_loaded_again_it_keeps_what_was_done_and_takes_the_new_password() -> None:
    demo.load("demo")
    Room.objects.filter(name="Lobby").update(name="Entrance")
    before = Job.objects.count(), Action.objects.count()

    demo.load("another")

    assert (Job.objects.count(), Action.objects.count()) == before
    assert Room.objects.filter(name="Entrance").exists()
    assert Person.objects.get(username="demo").check_password("another")


@pytest.mark.parametrize("day", [date(2026, 1, 2), date(2027, 2, 28), date(2028, 2, 29), date(2026, 12, 31)])
def test_it_can_be_loaded_on_any_day_and_its_estimates_have_a_price(day: date) -> None:
    with clock.as_if(day):
        demo.load("demo")

    estimates = [pricing.priced(estimate) for estimate in Estimate.objects.all()]
    assert len(estimates) == 2
    assert not any(priced.problem for priced in estimates)
    assert all(priced.price.total_minor > 0 for priced in estimates)
