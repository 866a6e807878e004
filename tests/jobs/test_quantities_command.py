"""`manage.py quantities`: the figures of a drawing, exact, for a check from outside."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from jobs.models import Opening, Room
from jobs.surfaces import holes, writing
from tests.makers import hand, make_room
from workshop.models import Person

INCH = 25_400_000


def told(number: int) -> dict:
    out = StringIO()
    call_command("quantities", number, "--json", stdout=out)
    return json.loads(out.getvalue())


@pytest.fixture
def room(db: None) -> Room:
    return make_room(name="Practice 1")


def test_a_job_worked_on_paper_can_be_compared(room: Room, staff: Person) -> None:
    fields = {"width_nm": 222 * INCH, "height_nm": 96 * INCH, "module_nm": 24 * INCH, "reveal_nm": INCH * 3 // 16}
    surface = writing.add(room=room, by=hand(staff), name="B", **fields)
    door = {"left_nm": 99 * INCH, "width_nm": 24 * INCH, "height_nm": 80 * INCH}
    holes.add(surface=surface, model=Opening, by=hand(staff), kind="door", **door)

    found = told(room.job.number)

    # By hand: 222 by 96 in are 21,312 square inches, the door 24 by 80 in 1,920 of them.
    wall, sums = found["rooms"][0]["surfaces"][0], {each["kind"]: each["amount"] for each in found["rooms"][0]["sums"]}
    assert (found["unit"], wall["width"], wall["panels"][0]["cut_along_grain"]) == ("in", "222", "96")
    assert (sums["gross area"], sums["area of openings"], sums["net area"]) == ("21312", "1920", "19392")


def test_a_job_that_is_not_there_is_told_with_those_that_are(room: Room) -> None:
    with pytest.raises(CommandError, match=f"There are: {room.job.number}"):
        told(99)
