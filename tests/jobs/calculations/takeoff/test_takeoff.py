"""The take-off of plain rooms. Common practice, no source; figures by hand, in inches."""

import pytest

from jobs.calculations.panels import Band, Meets, Run, Start, Wish, lay_out
from jobs.calculations.surfaces import (
    EdgeCondition,
    EdgeKind,
    NotASize,
    Surface,
    SurfaceKind,
    alone,
    raked,
    rectangle,
    round_room,
)
from jobs.calculations.takeoff import (
    BattenWish,
    EndKind,
    Figure,
    Kind,
    TrimKind,
    TrimSize,
    TrimWish,
    Unit,
    Way,
    areas,
    backing,
    battens,
    behind,
    blocking,
    corners,
    edge_band,
    edges,
    take_off,
    total,
    trim_runs,
)
from tests.jobs.calculations.surfaces.making import (
    BATTENED,
    PLAIN,
    door,
    held_off,
    inch,
    square_inches,
    wall,
    window,
)


def square_room(**extras: object) -> list[Surface]:
    return [wall(120, 96, name=name, build_up=BATTENED, **extras) for name in "ABCD"]


def wish(**more: object) -> Wish:
    return Wish(inch(24), inch("3/16"), **{"start": Start.LEFT, **more})


def lengths(figures: tuple[Figure, ...]) -> list[int]:
    return [figure.amount for figure in figures]


def test_areas_are_told_gross_and_net_with_each_opening() -> None:
    """222 x 96 = 21,312; the door 36 x 84 = 3,024; with its reveals 36 3/8 x 84 3/16."""
    found = areas(alone(wall(222, 96, openings=(door(100),))))

    assert [(figure.kind, figure.place) for figure in found] == [
        (Kind.GROSS, ""),
        (Kind.OPENINGS, "door"),
        (Kind.NET, ""),
        (Kind.PANELLED, ""),
    ]
    assert [square_inches(figure.amount) for figure in found[:3]] == [21312, 3024, 18288]
    assert square_inches(found[3].amount) == 21312 - 36.375 * 84.1875


def test_edges_are_told_with_how_they_end() -> None:
    conditions = {"foot": EdgeCondition(EdgeKind.COVERED, inch("1/2")), "left": held_off("1/4")}

    found = edges(alone(wall(222, 96, conditions=conditions, openings=(window(100, 36, 40, 40),))))

    assert {figure.place: figure.amount for figure in found} == {
        "foot": inch("221 3/4"),
        "right": inch("95 1/2"),
        "top": inch("221 3/4"),
        "left": inch("95 1/2"),
        "window": 4 * inch("40 3/8"),
    }
    assert total(found, Kind.EDGE, of=EdgeKind.REVEAL.value) == inch("95 1/2") + 4 * inch("40 3/8")


def test_a_closed_room_of_four_walls_has_four_inside_corners() -> None:
    found = corners(round_room(square_room()))

    assert [(figure.kind, figure.surface, figure.of) for figure in found] == [
        (Kind.INSIDE_CORNER, "A", "B"),
        (Kind.INSIDE_CORNER, "B", "C"),
        (Kind.INSIDE_CORNER, "C", "D"),
        (Kind.INSIDE_CORNER, "D", "A"),
    ]
    assert total(found, Kind.INSIDE_CORNER) == 4 * inch(96)


def test_an_outside_corner_is_as_high_as_the_lower_wall() -> None:
    walls = [wall(120, 96, name="A"), wall(60, 90, name="B")]

    (found,) = corners(round_room(walls, closed=False, outside=frozenset("A")))

    assert (found.kind, found.amount) == (Kind.OUTSIDE_CORNER, inch(90))


def test_base_and_crown_go_between_the_finished_faces() -> None:
    runs = trim_runs(round_room(square_room()), TrimWish(base=TrimSize(inch(5)), crown=TrimSize(inch(3))))

    assert [run.length_nm for run in runs] == [inch(117)] * 8
    assert {(run.starts_at, run.ends_at) for run in runs} == {(EndKind.INSIDE, EndKind.INSIDE)}


def test_a_base_goes_round_an_outside_corner_over_both_build_ups() -> None:
    walls = [wall(100, 96, name=name, build_up=BATTENED) for name in "AB"]

    runs = trim_runs(round_room(walls, closed=False, outside=frozenset("A")), TrimWish(base=TrimSize(inch(5))))

    assert [run.length_nm for run in runs] == [inch("101 1/2")] * 2
    assert [(run.starts_at, run.ends_at) for run in runs] == [
        (EndKind.FREE, EndKind.OUTSIDE),
        (EndKind.OUTSIDE, EndKind.FREE),
    ]


def test_a_base_stops_at_the_casing_of_a_door_and_goes_on_under_a_window() -> None:
    """The door from 40 to 76, its casing 3 1/2 wide and set back 1/4: from 36 1/4 to 79 3/4."""
    surface = wall(222, 96, openings=(door(40), window(120, 36, 40, 40)))
    room = round_room([surface], closed=False)

    runs = trim_runs(room, TrimWish(base=TrimSize(inch(5)), casing=TrimSize(inch("3 1/2"), inch("1/4"))))

    base = [run for run in runs if run.kind is TrimKind.BASE]
    assert [run.length_nm for run in base] == [inch("36 1/4"), inch("142 1/4")]
    assert [(run.starts_at, run.ends_at) for run in base] == [
        (EndKind.FREE, EndKind.OPENING),
        (EndKind.OPENING, EndKind.FREE),
    ]
    assert len([run for run in runs if run.kind is TrimKind.CASING]) == 3 + 4


def test_a_crown_along_a_rake_has_its_slope() -> None:
    """A rise of 90 in 120 is 150 along the slope (3-4-5 triangle)."""
    room = round_room([raked("A", inch(120), inch(60), inch(150), PLAIN)], closed=False)

    (run,) = trim_runs(room, TrimWish(crown=TrimSize(inch(3))))

    assert (run.length_nm, run.slope) == (inch(150), pytest.approx(0.75))
    assert run.slope * 4 == 3


def test_a_corner_molding_stands_at_every_corner_of_two_walls() -> None:
    runs = trim_runs(round_room(square_room()), TrimWish(corner=TrimSize(inch(1))))

    assert [(run.surface, run.length_nm) for run in runs] == [(name, inch(96)) for name in "ABCD"]


def test_battens_go_in_rows_from_the_foot_and_along_the_top() -> None:
    """222 by 96, battens of 3 at 16: six rows from 1 1/2 to 81 1/2 and one along the top."""
    found = battens(alone(wall(222, 96)), BattenWish(inch(16), inch(3)))

    rows = [figure.at_nm for figure in found if figure.place == "row"]
    assert rows == [inch(at) for at in ("1 1/2", "17 1/2", "33 1/2", "49 1/2", "65 1/2", "81 1/2")]
    assert lengths(found) == [inch(222)] * 7


def test_openings_interrupt_the_battens_and_may_have_their_own() -> None:
    surface = wall(222, 96, openings=(door(100),))

    found = battens(alone(surface), BattenWish(inch(48), inch(3), round_openings=True))

    assert lengths(found) == [
        *[inch("99 13/16"), inch("85 13/16")] * 2,
        inch(222),
        2 * inch("84 3/16") + inch("36 3/8"),
    ]


def test_packers_stand_at_the_ends_of_a_batten_and_between() -> None:
    """100 in at 16: 6 1/4 spaces, so 7 spaces and 8 packers; three battens."""
    found = battens(alone(wall(100, 48)), BattenWish(inch(24), inch(3), packers_nm=inch(16)))

    assert total(found, Kind.PACKERS) == 3 * 8
    assert Kind.PACKERS.unit is Unit.COUNT


def test_battens_behind_panels_across_stand_upright() -> None:
    layout = lay_out(alone(wall(96, 96)), wish(run=Run.ACROSS))

    found = behind([layout], BattenWish(inch(48), inch(3)))

    assert lengths(battens(layout.face, BattenWish(inch(48), inch(3), Way.UPRIGHT))) == [inch(96)] * 3
    assert total(found, Kind.BATTENS) == 3 * inch(96)


def test_blocking_runs_through_behind_the_joints_between_panels() -> None:
    layout = lay_out(alone(wall(222, 108)), wish(cross_nm=(inch(96),)))

    found = blocking(layout)

    assert lengths(found) == [inch(222)]
    assert found[0].at_nm == inch(96)


def test_a_door_through_the_cross_joint_interrupts_the_blocking() -> None:
    layout = lay_out(alone(wall(222, 108, openings=(door(100, height=100),))), wish(cross_nm=(inch(96),)))

    assert lengths(blocking(layout)) == [inch("99 13/16"), inch("85 13/16")]


def test_backing_lies_behind_every_open_reveal() -> None:
    """96 wide, four panels: three joints of 107 13/16, right through the cross joint, which is counted panel by panel,
    3 x 23 13/16 + 24."""
    layout = lay_out(alone(wall(96, 108, conditions={"top": held_off()})), wish(cross_nm=(inch(96),)))

    found = backing(layout)

    assert lengths(tuple(each for each in found if each.place == "joint")) == [inch("107 13/16")] * 3
    assert sum(each.amount for each in found if each.place == "cross joint") == inch("95 7/16")
    assert [each.amount for each in found if each.place == "top"] == [inch(96)]


def test_joints_without_a_reveal_need_no_backing() -> None:
    layout = lay_out(alone(wall(96, 96)), Wish(inch(24), 0, start=Start.LEFT))

    assert backing(layout) == ()


def test_edge_band_is_counted_panel_by_panel() -> None:
    """Four panels of 96: six sides at the three joints."""
    layout = lay_out(alone(wall(96, 96)), wish(band=Band(inch("1/8"), on=frozenset({Meets.JOINT}))))

    found = edge_band(layout)

    assert [figure.place for figure in found] == ["B1", "B2", "B2", "B3", "B3", "B4"]
    assert total(found, Kind.EDGE_BAND) == 6 * inch(96)


def test_every_figure_of_a_room_is_traced_to_its_surface() -> None:
    ceiling = rectangle("ceiling", inch(120), inch(120), BATTENED, kind=SurfaceKind.CEILING)
    room = round_room(
        square_room(),
        ceiling=ceiling,
        ceiling_edges={"A": "foot", "B": "right", "C": "top", "D": "left"},
    )
    layouts = [lay_out(face, wish()) for face in room.faces.values()]

    found = take_off(room, layouts, trim=TrimWish(base=TrimSize(inch(5))), battens=BattenWish(inch(16), inch(3)))

    names = {"A", "B", "C", "D", "ceiling"}
    assert {figure.surface for figure in found.figures} == names
    for kind in (Kind.GROSS, Kind.PANELLED, Kind.BATTENS):
        assert sum(total(found.figures, kind, surface=name) for name in names) == total(found.figures, kind)
    assert square_inches(total(found.figures, Kind.GROSS)) == 4 * 120 * 96 + 120 * 120
    assert len(found.runs) == 4


def test_battens_have_a_width_and_centers() -> None:
    with pytest.raises(NotASize, match="battens: 0″ is not a size"):
        BattenWish(0, inch(3))
