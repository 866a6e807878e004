"""Several at the same stacks in the same moment: a half is in one room at most, and set aside or given, not both."""

import pytest
from django.core.exceptions import ValidationError

from jobs import giving
from jobs.models import Given, Room
from materials import sorting
from materials.models import Half, ToneGroup
from tests.jobs.handling import give
from tests.makers import (
    hand,
    make_lot,
    make_room,
    make_stack,
)
from tests.together import at_once
from workshop.models import Person


@pytest.mark.django_db(transaction=True)
def test_a_half_is_in_one_room_when_eight_give_at_once(room: Room, pale: ToneGroup, staff: Person) -> None:
    make_stack(pale, 5)
    rooms = iter([make_room(job=room.job) for _number in range(8)])

    got = at_once(lambda: give(next(rooms), pale, 4, staff))

    refused = [one for one in got if isinstance(one, Exception)]
    assert (len(got), len(refused), Given.objects.count()) == (8, 6, 8)
    assert all(isinstance(one, ValidationError) for one in refused)


@pytest.mark.django_db(transaction=True)
def test_a_half_named_by_two_at_once_goes_to_one_of_them(room: Room, pale: ToneGroup, staff: Person) -> None:
    lot = make_lot(material=pale.material)
    make_stack(pale, 1, lot)
    rooms = iter([make_room(job=room.job) for _number in range(4)])

    got = at_once(lambda: giving.give_pieces(room=next(rooms), lot=lot, pieces=[(1, "A")], by=hand(staff)), times=4)

    assert sorted(isinstance(one, ValidationError) for one in got) == [False, True, True, True]
    assert Given.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_a_sheet_is_set_aside_or_given_but_not_both(room: Room, pale: ToneGroup, staff: Person) -> None:
    (sheet,) = make_stack(pale, 1)
    doing = iter(
        [
            lambda: give(room, pale, 2, staff),
            lambda: sorting.set_aside(sheet=sheet, why="Edge split", by=hand(staff), version=sheet.version),
        ]
    )

    got = at_once(lambda: next(doing)(), times=2)

    assert sorted(isinstance(one, ValidationError) for one in got) == [False, True]
    assert Half.objects.exclude(given=None).exclude(sheet__set_aside_on=None).count() == 0
