"""The demo: a small shop and its jobs, made through the same rules as any other, with its days counted from today.

Reading order: setting (people, days and amounts), then what the scenario is made of: catalog, orders, deliveries,
stock, jobs, walls, work, estimates. Each gives steps with their day; they are taken in the order of their days, so that
the trace of the demo reads as if it had been written day by day. Nobody worked on a day the shop was closed.
"""

import json
import secrets
from operator import attrgetter

from django.conf import settings
from django.contrib.auth.hashers import make_password
from django.db import transaction

from workshop import clock
from workshop.front.demo import catalog, deliveries, estimates, jobs, orders, stock, walls, work
from workshop.front.demo.setting import Setting
from workshop.models import Person

SCENARIO = settings.BASE_DIR / "fixtures" / "demo.json"
SUBJECTS = [catalog, jobs, walls, orders, deliveries, stock, work, estimates]


def load(password: str) -> None:
    """Make the demo if it is not there, and give its people this password, however short it is."""
    scenario = json.loads(SCENARIO.read_text(encoding="utf-8"))
    if not Person.objects.exists():
        with transaction.atomic():
            _make(Setting(scenario, clock.today(), secrets.token_urlsafe(24)))
    people_of_it = Person.objects.filter(username__in=[row["username"] for row in scenario["people"]])
    people_of_it.update(password=make_password(password))


def _make(setting: Setting) -> None:
    steps = [step for subject in SUBJECTS for step in subject.steps(setting)]
    for step in sorted(steps, key=attrgetter("day")):
        with clock.as_if(setting.worked(step.day)):
            step.take()
