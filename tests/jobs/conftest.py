"""A plywood with the shop's ladder of tones, a room and jobs that need it, and an order of it."""

from datetime import date

import pytest

from jobs.models import Job, Room
from materials.models import Material, OrderLine, ToneGroup
from tests.jobs.sharing import DEC_18, needing
from tests.makers import make_ladder, make_material, make_need, make_order, make_room


@pytest.fixture
def plywood(db: None) -> Material:
    material = make_material(name="Ash-veneered plywood")
    make_ladder(material)
    return material


@pytest.fixture
def pale(plywood: Material) -> ToneGroup:
    return plywood.tone_groups.get(name="Pale")


@pytest.fixture
def cream(plywood: Material) -> ToneGroup:
    return plywood.tone_groups.get(name="Cream")


@pytest.fixture
def room(plywood: Material) -> Room:
    room = make_room(name="Practice 1")
    make_need(room=room, material=plywood, quantity_micro=5_000_000)
    return room


@pytest.fixture
def school(plywood: Material) -> Job:
    return needing(plywood, 12, "Music school", 20)


@pytest.fixture
def hall(plywood: Material) -> Job:
    """It needs the plywood ten days before the school."""
    return needing(plywood, 13, "Recital hall", 20, starts_on=DEC_18)


@pytest.fixture
def line(plywood: Material) -> OrderLine:
    """42 sheets, placed on Oct 28 with six weeks, due on Dec 9."""
    order = make_order(number=34, material=plywood, placed_on=date(2026, 10, 28), lead_count=6)
    return order.lines.select_related("order", "material").get()
