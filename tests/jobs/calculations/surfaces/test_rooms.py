"""What surfaces lose where they meet. Common practice, no source; figures by hand."""

import pytest

from jobs.calculations.surfaces import (
    BuildUp,
    Corner,
    EdgeCondition,
    EdgeKind,
    EdgesContradict,
    Meeting,
    NameTwice,
    NoSuchEdge,
    Room,
    Surface,
    SurfaceKind,
    alone,
    gabled,
    loss_at,
    rectangle,
    regions,
    round_room,
    sloped_ceiling,
    with_conditions,
)
from tests.jobs.calculations.surfaces.making import BATTENED, PLAIN, door, held_off, inch, square_inches, wall

LAPS, DIES, MITERED = (EdgeCondition(kind) for kind in (EdgeKind.LAPS, EdgeKind.DIES, EdgeKind.MITERED))
THICK = BuildUp(panel_nm=inch("1/2"), battens_nm=inch("3/4"), packers_nm=inch("1/4"))


def face_width(room: Room, name: str) -> int:
    left, _, right, _ = regions.bounds((room.faces[name].outline,))
    return right - left


def square_room(**extras: object) -> list[Surface]:
    return [wall(120, 96, name=name, build_up=BATTENED, **extras) for name in "ABCD"]


@pytest.mark.parametrize(
    ("condition", "corner", "loss"),
    [
        (LAPS, Corner.INSIDE, "0"),
        (DIES, Corner.INSIDE, "1 1/2"),
        (MITERED, Corner.INSIDE, "1"),
        (EdgeCondition(EdgeKind.REVEAL, inch("1/4")), Corner.INSIDE, "1 3/4"),
        (EdgeCondition(EdgeKind.REVEAL, inch("1/4"), first=True), Corner.INSIDE, "1/4"),
        (EdgeCondition(EdgeKind.COVERED, inch("1/2")), Corner.INSIDE, "2"),
        (EdgeCondition(EdgeKind.SCRIBED, inch("1/2")), Corner.INSIDE, "1 1/2"),
        (LAPS, Corner.OUTSIDE, "-1 -1/2"),
        (DIES, Corner.OUTSIDE, "-1"),
        (MITERED, Corner.OUTSIDE, "-1 -1/2"),
    ],
)
def test_a_face_loses_what_the_other_is_built_up(condition: EdgeCondition, corner: Corner, loss: str) -> None:
    """The other is 1 in to the back of its panel and 1 1/2 in to its face."""
    assert loss_at(condition, BATTENED, THICK, corner) == inch(loss)


def test_round_a_room_each_wall_loses_one_build_up() -> None:
    room = round_room(square_room())

    assert [face_width(room, name) for name in "ABCD"] == [inch("118 1/2")] * 4


def test_the_wall_that_butts_loses_the_other_ones_build_up() -> None:
    thin = wall(100, 96, name="A", build_up=PLAIN)
    thick = wall(100, 96, name="B", build_up=THICK)

    room = round_room([with_conditions(thin, {"right": DIES}), thick], closed=False)

    assert face_width(room, "A") == inch("98 1/2")
    assert face_width(room, "B") == inch(100)


def test_at_an_outside_corner_the_wall_that_laps_covers_the_other_ones_edge() -> None:
    one = wall(100, 96, name="A", build_up=BATTENED, conditions={"right": LAPS})

    room = round_room([one, wall(50, 96, name="B", build_up=BATTENED)], closed=False, outside=frozenset("A"))

    assert face_width(room, "A") == inch("101 1/2")
    assert face_width(room, "B") == inch("50 3/4")


def test_the_ceiling_is_hung_before_the_walls() -> None:
    ceiling = rectangle("ceiling", inch(120), inch(120), BATTENED, kind=SurfaceKind.CEILING)
    meets = {"A": "foot", "B": "right", "C": "top", "D": "left"}

    room = round_room(square_room(), ceiling=ceiling, ceiling_edges=meets)

    assert regions.bounds((room.faces["A"].outline,))[3] == inch("94 1/2")
    assert square_inches(regions.area((room.faces["ceiling"].outline,))) == 120 * 120


def test_under_a_ridge_two_ceilings_are_hung_before_the_gable() -> None:
    """Rakes of 3 in 4: ceilings 1 1/2 in thick take 1 7/8 in upright off the gable (3-4-5 triangle)."""
    gable = gabled("A", inch(160), inch(60), inch(60), inch(120), inch(80), PLAIN)
    ceilings = [sloped_ceiling(name, inch(200), inch(80), inch(60), BATTENED) for name in ("west", "east")]
    meetings = [Meeting("west", "left", "A", "left rake"), Meeting("east", "right", "A", "right rake")]

    room = round_room([gable], closed=False, more=ceilings, more_meetings=meetings)

    assert regions.bounds((room.faces["A"].outline,))[3] == inch("118 1/8")
    assert [ceiling.height_nm for ceiling in ceilings] == [inch(100)] * 2


def test_a_reveal_along_a_rake_is_square_to_it() -> None:
    """A rake of 3 in 4: 1/4 in square to it is 5/16 in upright (3-4-5 triangle)."""
    surface = gabled(
        "A", inch(160), inch(96), inch(96), inch(156), inch(80), PLAIN, conditions={"left rake": held_off("1/4")}
    )

    face = alone(surface)

    assert regions.upright_stretches(face.region, 0) == ((0, inch("95 11/16")),)


def test_where_nothing_is_said_an_edge_takes_what_goes_with_the_other() -> None:
    one = wall(100, name="A", conditions={"right": MITERED})

    room = round_room([one, wall(100, name="B")], closed=False)

    assert room.faces["B"].ends["left"].condition == MITERED


def test_an_opening_with_its_reveal_is_not_panelled() -> None:
    face = alone(wall(222, 96, openings=(door(100),)))

    gone = 222 * 96 - square_inches(regions.area(face.region))

    assert gone == (36 + 2 * 3 / 16) * (84 + 3 / 16)


@pytest.mark.parametrize(
    ("right", "left", "message"),
    [
        (LAPS, LAPS, "A: it meets B, and both are hung first there; that A laps over B or that B laps over A would do"),
        (DIES, DIES, "A: it meets B, and neither runs through to the corner"),
        (MITERED, DIES, "A: it is mitered and B is not; that both are mitered or that A laps over B would do"),
        (DIES, MITERED, "B: it is mitered and A is not"),
    ],
)
def test_conditions_that_do_not_go_together_are_refused(
    right: EdgeCondition, left: EdgeCondition, message: str
) -> None:
    walls = [wall(name="A", conditions={"right": right}), wall(name="B", conditions={"left": left})]

    with pytest.raises(EdgesContradict, match=message):
        round_room(walls, closed=False)


def test_an_edge_meets_one_surface() -> None:
    walls = [wall(name=name) for name in "ABC"]
    meetings = (Meeting("A", "right", "B", "left"), Meeting("A", "right", "C", "left"))

    with pytest.raises(EdgesContradict, match="A: it meets two surfaces at its edge right"):
        Room(tuple(walls), meetings)


def test_surfaces_of_a_room_have_names_of_their_own() -> None:
    with pytest.raises(NameTwice, match="A: a surface of this name is there"):
        round_room([wall(name="A"), wall(name="A")])


def test_a_meeting_names_edges_that_are_there() -> None:
    with pytest.raises(NoSuchEdge, match="it has no edge roof"):
        Room((wall(name="A"), wall(name="B")), (Meeting("A", "roof", "B", "left"),))
