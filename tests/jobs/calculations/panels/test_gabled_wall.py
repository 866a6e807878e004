"""A gabled wall with two windows and a door, worked by hand as on paper. Common practice, no source.

The recital room's end wall A stands between the walls D and B, which are hung first. Sizes in inches.

    wall          240 wide, sides 60, ridge 150 in the middle: a rise of 90 in 120, 3 in 4 (3-4-5 triangle)
    build-up      battens 3/4, panels 3/4 on all three walls: A butts at both ends and loses 1 1/2 at each
    foot          1/2 off the floor, covered by the base
    rakes         held off by 1/4 square to the slope, that is 1/4 x 5/4 = 5/16 upright
    module        24, reveal 3/16: panels 23 13/16; least width 5
    sheets        49 x 97, clean-up 1/2: 48 x 96 to use
    door          36 x 80 at 102 from the left end
    window 1      23 13/16 x 36 at 48 3/32, its sill 36 up
    window 2      24 x 36 at 160, its sill 36 up; reveals of 3/16 round all three

Face: from 1 1/2 to 238 1/2, 237 wide. Joint at the center: 118 1/2 - 3/32 - 4 x 24 = 22 13/32 at both ends. Panel at
the center: (237 - 23 13/16) / 2 - 3/16 - 4 x 24 = 10 13/32. So the joint, and ten places:

    22 13/32 + 8 x 23 13/16 + 22 13/32 + 9 x 3/16 = 44 13/16 + 190 1/2 + 1 11/16 = 237

Joints from 23 29/32, 47 29/32, 71 29/32 ... on. The door's reveal begins at 101 13/16: the leg of A5 is 101 13/16 -
96 3/32 = 5 23/32, kept; that of A6 the same. Window 1 with its reveals goes from 47 29/32 to 72 3/32: both edges in a
joint, A3 covered right across. Window 2 from 159 13/16 to 184 3/16: legs of 159 13/16 - 144 3/32 = 15 23/32 and
191 29/32 - 184 3/16 = 7 23/32, over it the joint at 167 29/32: 8 3/32 and 16 3/32 from its edges. Nothing is shifted.

Top of the face at x from the left end: 59 11/16 + 3/4 x. One sheet from the foot goes to 96 1/2: cross joint from there
to 96 11/16, where the top is higher: A3 to A8. The slope passes 96 11/16 at x = 37 / (3/4) = 49 1/3.
"""

from fractions import Fraction

import pytest

from jobs.calculations.panels import Layout, Stock, Wish, cross_joints, lay_out
from jobs.calculations.surfaces import (
    EdgeCondition,
    EdgeKind,
    Room,
    gabled,
    regions,
    round_room,
)
from jobs.calculations.takeoff import (
    BattenWish,
    Kind,
    TakeOff,
    TrimKind,
    TrimSize,
    TrimWish,
    take_off,
    total,
)
from tests.jobs.calculations.surfaces.making import BATTENED, door, held_off, inch, square_inches, wall, window
from workshop.calculations.lengths import INCH_NM

DIES = EdgeCondition(EdgeKind.DIES)


def exactly(text: str) -> Fraction:
    """Inches that no nanometer ends on: thirds of an inch, 128ths."""
    return sum(Fraction(part) for part in text.split()) * INCH_NM


@pytest.fixture(scope="module")
def room() -> Room:
    end = gabled(
        "A",
        inch(240),
        inch(60),
        inch(60),
        inch(150),
        inch(120),
        BATTENED,
        conditions={
            "left": DIES,
            "right": DIES,
            "foot": EdgeCondition(EdgeKind.COVERED, inch("1/2")),
            "left rake": held_off("1/4"),
            "right rake": held_off("1/4"),
        },
        openings=(
            door(102, 36, 80),
            window("48 3/32", 36, "23 13/16", 36, name="window 1"),
            window(160, 36, 24, 36, name="window 2"),
        ),
    )
    sides = [wall(300, 60, name=name, build_up=BATTENED) for name in "DB"]
    return round_room([sides[0], end, sides[1]], closed=False)


@pytest.fixture(scope="module")
def layout(room: Room) -> Layout:
    wish = Wish(inch(24), inch("3/16"), least_nm=inch(5), stock=Stock(inch(49), inch(97), inch("1/2")))
    cross = cross_joints([room.faces["A"]], wish)
    assert cross == (inch("96 1/2"),)
    return lay_out(room.faces["A"], Wish(**{**vars(wish), "cross_nm": cross}))


@pytest.fixture(scope="module")
def taken_off(room: Room, layout: Layout) -> TakeOff:
    trim = TrimWish(base=TrimSize(inch(5)), crown=TrimSize(inch(3)), casing=TrimSize(inch("3 1/2"), inch("1/4")))
    return take_off(room, [layout], trim=trim, battens=BattenWish(inch(24), inch(3)))


HANGING = [
    # name, width, length: the rectangle it is cut from, foot to highest point
    ("A1", "22 13/32", "77 15/128"),  # 59 11/16 + 3/4 x 23 29/32 = 77 79/128, less 1/2
    ("A2", "23 13/16", "95 15/128"),  # 59 11/16 + 3/4 x 47 29/32 = 95 79/128, less 1/2: no cross joint
    ("A3.1", "23 13/16", "35 5/16"),  # under window 1: 36 - 3/16 - 1/2
    ("A3.2", "23 13/16", "24 5/16"),  # over it: 96 1/2 - 72 3/16, a corner raked
    ("A3.3", "22 55/96", "16 119/128"),  # 71 29/32 - 49 1/3; 113 79/128 - 96 11/16: a triangle
    ("A4.1", "23 13/16", "96"),
    ("A4.2", "23 13/16", "34 119/128"),  # 131 79/128 - 96 11/16
    ("A5.1", "23 13/16", "96"),  # notched by the door
    ("A5.2", "23 13/16", "52 119/128"),
    ("A6.1", "23 13/16", "96"),  # notched by the door
    ("A6.2", "23 13/16", "52 119/128"),
    ("A7.1", "23 13/16", "96"),  # notched by window 2
    ("A7.2", "23 13/16", "34 119/128"),
    ("A8.1", "23 13/16", "96"),  # notched by window 2, a corner raked
    ("A8.2", "22 55/96", "16 119/128"),
    ("A9", "23 13/16", "95 15/128"),
    ("A10", "22 13/32", "77 15/128"),
]


def test_every_panel_has_its_name_and_its_size(layout: Layout) -> None:
    made = [(panel.name, *_extent(panel.shape)) for panel in layout.panels]

    assert made == [(name, exactly(width), exactly(length)) for name, width, length in HANGING]


def _extent(shape: regions.Region) -> tuple[Fraction, Fraction]:
    left, foot, right, top = regions.bounds(shape)
    return right - left, top - foot


def test_the_rakes_are_cut_at_36_9_degrees(layout: Layout) -> None:
    """Arc tangent of 3/4 (any table)."""
    raked = {panel.name: {cut.angle_tenths for cut in panel.raked_cuts} for panel in layout.panels if panel.raked_cuts}

    assert set(raked) == {"A1", "A2", "A3.2", "A3.3", "A4.2", "A5.2", "A6.2", "A7.2", "A8.1", "A8.2", "A9", "A10"}
    assert set().union(*raked.values()) == {369}


def test_the_door_and_the_second_window_are_notched_out(layout: Layout) -> None:
    assert [panel.name for panel in layout.panels if panel.is_notched] == ["A5.1", "A6.1", "A7.1", "A8.1"]


def test_nothing_is_shifted_and_there_is_nothing_to_tell(layout: Layout) -> None:
    assert layout.shift_nm == 0
    assert layout.findings == ()


def test_the_areas_of_the_wall(taken_off: TakeOff) -> None:
    """240 x 60 + 240 x 90 / 2 = 25,200; door 2,880, windows 857 1/4 and 864; net 20,598 3/4."""
    figures = taken_off.figures

    assert square_inches(total(figures, Kind.GROSS, surface="A")) == 25200
    assert square_inches(total(figures, Kind.OPENINGS, surface="A")) == Fraction("4601.25")
    assert square_inches(total(figures, Kind.NET, surface="A")) == Fraction("20598.75")


def test_the_trim_of_the_wall(taken_off: TakeOff) -> None:
    """Base: 102 - 3 3/4 - 1 1/2 = 96 3/4 on both sides of the door. Crown: 118 1/2 level x 5/4 = 148 1/8 a rake.
    Casing of the door: legs 80 + 1/4 + 3 1/2, head 36 + 1/2 + 7; between short points 80 1/4 and 36 1/2. Window 2: legs
    36 + 1/2 + 7, head and foot 24 + 1/2 + 7."""
    runs = [run for run in taken_off.runs if run.surface == "A"]
    base = [run.length_nm for run in runs if run.kind is TrimKind.BASE]
    crown = [run.length_nm for run in runs if run.kind is TrimKind.CROWN]
    round_door = [(run.length_nm, run.short_nm) for run in runs if run.place.startswith("door")]
    round_window = [run.length_nm for run in runs if run.place.startswith("window 2")]

    assert base == [inch("96 3/4")] * 2
    assert crown == [inch("148 1/8")] * 2
    assert round_door == [
        (inch("83 3/4"), inch("80 1/4")),
        (inch("83 3/4"), inch("80 1/4")),
        (inch("43 1/2"), inch("36 1/2")),
    ]
    assert round_window == [inch("43 1/2")] * 2 + [inch("31 1/2")] * 2


def test_the_battens_and_the_blocking_of_the_wall(taken_off: TakeOff) -> None:
    """Rows centered 2, 26, 50 in ... up. At 2 and 26: 237 less 36 3/8 at the door. At 50: 237 less 36 3/8, 24 3/16 and
    24 3/8. Blocking behind the middle of the cross joint, 96 19/32 up: from x = 36 29/32 / (3/4) = 49 5/24 to as far
    from the right end, 141 7/12."""
    rows: dict[Fraction, Fraction] = {}
    for figure in taken_off.figures:
        if figure.kind is Kind.BATTENS and figure.at_nm is not None:
            rows[figure.at_nm] = rows.get(figure.at_nm, 0) + figure.amount

    assert [rows[inch(at)] for at in (2, 26, 50)] == [inch("200 5/8"), inch("200 5/8"), inch("152 1/16")]
    assert total(taken_off.figures, Kind.BLOCKING, surface="A") == exactly("141 7/12")


def test_the_backing_behind_the_joint_over_the_door(taken_off: TakeOff) -> None:
    """From the head of the door's reveal, 80 3/16, to the ridge of the face, 149 11/16: 69 1/2."""
    over_door = [
        figure.amount
        for figure in taken_off.figures
        if figure.kind is Kind.BACKING and figure.place == "joint" and figure.at_nm == inch("119 29/32")
    ]

    assert over_door == [inch("69 1/2")]
