"""Sheets on their stacks: a plywood with the shop's ladder of tones."""

import pytest

from jobs.models import Room
from materials.models import Material, ToneGroup
from tests.makers import make_ladder, make_material, make_need, make_room


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
