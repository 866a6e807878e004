"""What no wall can have is refused at its field, with two things that would do."""

from collections.abc import Callable

import pytest

from jobs.calculations.surfaces import (
    AccessMark,
    BuildUp,
    CutOut,
    CutOutKind,
    CutOutOutside,
    EdgeCondition,
    EdgeKind,
    EdgesContradict,
    MakingError,
    MarkOutside,
    NameTwice,
    NoSuchEdge,
    NotASize,
    NotASurface,
    NothingLeft,
    Opening,
    OpeningOutside,
    OpeningsOverlap,
    SizesContradict,
    alone,
    gabled,
    polygon,
    raked,
    stepped,
)
from tests.jobs.calculations.surfaces.making import PLAIN, door, held_off, inch, wall, window


def box(x: int, y: int, size: int = 4, depth: int = 2, name: str = "box") -> CutOut:
    return CutOut(name, CutOutKind.BOX, inch(x), inch(y), inch(size), inch(size), inch(depth))


@pytest.mark.parametrize(
    ("make", "kind", "field", "message"),
    [
        (lambda: wall(0, 96), NotASize, "width_nm", "B: 0″ is not a size; 2′-0″ or 1/64″ would do"),
        (lambda: wall(96, -8), NotASize, "height_nm", "B: −8″ is not a size; 8″ or 1/64″ would do"),
        (lambda: wall(10**9, 96), NotASize, "width_nm", "more than 1 km"),
        (lambda: raked("A", inch(9), inch(96), 0, PLAIN), NotASize, "right_height_nm", "0″ is not a size"),
        (
            lambda: gabled("A", inch(96), inch(96), inch(96), inch(120), inch(100), PLAIN),
            SizesContradict,
            "ridge_place_nm",
            "the ridge does not lie between the ends; a place 4′-0″ from the left end or a width of 16′-8″ would do",
        ),
        (
            lambda: gabled("A", inch(96), inch(96), inch(96), inch(90), inch(48), PLAIN),
            SizesContradict,
            "ridge_height_nm",
            "the ridge is no higher than a side; a height of 9′-4″ or a height of 10′-0″ would do",
        ),
        (lambda: stepped("A", (), PLAIN), NotASurface, "steps", "one width and its height or two widths"),
        (
            lambda: polygon("A", ((0, 0), (9, 9), (9, 0), (0, 9)), PLAIN),
            NotASurface,
            "outline",
            "its corners do not go round one surface",
        ),
        (lambda: polygon("A", ((0, 0), (9, 0), (4, 0)), PLAIN), NotASurface, "outline", "three corners"),
        (lambda: BuildUp(0), NotASize, "panel_nm", "build-up: 0″ is not a size"),
        (lambda: BuildUp(1, battens_nm=-1), NotASize, "battens_nm", "is below zero"),
        (lambda: wall(conditions={"roof": held_off()}), NoSuchEdge, "conditions", "the edge foot or the edge right"),
        (
            lambda: alone(wall(10, 10, conditions={"left": held_off(6), "right": held_off(6)})),
            NothingLeft,
            "conditions",
            "its edges leave no face to be panelled",
        ),
        (
            lambda: EdgeCondition(EdgeKind.DIES, 5),
            EdgesContradict,
            "amount_nm",
            "no amount or an edge that is held off by a reveal would do",
        ),
        (lambda: EdgeCondition(EdgeKind.DIES, first=True), EdgesContradict, "first", "laps over the next surface"),
    ],
)
def test_a_surface_that_cannot_be_is_refused(
    make: Callable[[], object], kind: type[MakingError], field: str, message: str
) -> None:
    with pytest.raises(kind) as refused:
        make()

    assert refused.value.field == field
    assert message in str(refused.value)
    assert len(refused.value.would_do) == 2


@pytest.mark.parametrize(
    ("opening", "field", "message"),
    [
        (window(200, 30, 40, 40), "width_nm", "a width of at most 1′-10″ or a place at most 15′-2″ from the left end"),
        (
            window(230, 30, 40, 40),
            "left_nm",
            "a place at most 15′-2″ from the left end or a place 0″ from the left end",
        ),
        (window(10, 80, 40, 40), "height_nm", "a height of at most 1′-4″ or a place at most 4′-8″ above the foot"),
        (window(-5, 30, 40, 40), "left_nm", "a place at most 15′-2″ from the left end or a place 0″ from"),
        (window(10, -5, 40, 40), "foot_nm", "a place at most 4′-8″ above the foot or a place 0″ above the foot"),
        (window(10, 30, 300, 40), "width_nm", "a width of at most 17′-8″ or a smaller size"),
        (door(10, height=97), "height_nm", "a height of at most 8′-0″"),
    ],
)
def test_an_opening_beyond_its_wall_is_refused(opening: Opening, field: str, message: str) -> None:
    with pytest.raises(OpeningOutside) as refused:
        wall(222, 96, openings=(opening,))

    assert refused.value.field == field
    assert message in str(refused.value)


def test_under_a_rake_the_lower_end_counts() -> None:
    """The rake falls from 128 to 96 in on 96 in: 30 in from the low end it is 106 in high, at its end 96."""
    with pytest.raises(OpeningOutside, match="a height of at most 3′-0″ or a place at most 4′-8″ above the foot"):
        gabled("A", inch(192), inch(96), inch(96), inch(128), inch(96), PLAIN, openings=(window(0, 60, 30, 40),))


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(window(40, 30, 20, 20, name="other"), id="partly over it"),
        pytest.param(window(20, 10, 10, 10, name="other"), id="inside it"),
        pytest.param(window(46, 30, 20, 20, name="other"), id="beside it, without room for both reveals"),
    ],
)
def test_openings_that_overlap_are_refused(other: Opening) -> None:
    with pytest.raises(OpeningsOverlap, match="other: it lies over door; a place beside door or a smaller size"):
        wall(222, 96, openings=(door(10), other))


def test_two_openings_of_one_name_are_refused() -> None:
    with pytest.raises(NameTwice, match="the name door is taken; the name door 2 or the name door 3 would do"):
        wall(222, 96, openings=(door(10), door(100)))


def test_round_an_opening_no_panel_laps() -> None:
    with pytest.raises(EdgesContradict, match="round an opening a panel never laps"):
        wall(222, 96, openings=(door(10, edge=EdgeCondition(EdgeKind.LAPS)),))


@pytest.mark.parametrize(
    ("cut_outs", "message"),
    [
        ((box(1, 20),), "it reaches beyond the surface"),
        ((box(20, 20),), "it lies over door"),
        ((box(100, 20), box(103, 20, name="other")), "it lies over box"),
    ],
)
def test_a_cut_out_that_is_in_no_panel_is_refused(cut_outs: tuple[CutOut, ...], message: str) -> None:
    with pytest.raises(CutOutOutside, match=message):
        wall(222, 96, openings=(door(10),), cut_outs=cut_outs)


def test_a_cut_out_without_depth_is_refused() -> None:
    with pytest.raises(NotASize) as refused:
        wall(cut_outs=(box(20, 20, depth=0),))

    assert refused.value.field == "depth_nm"


@pytest.mark.parametrize("place", [(20, 20), (300, 20), (20, -1)])
def test_a_mark_for_access_where_no_panel_is_is_refused(place: tuple[int, int]) -> None:
    with pytest.raises(MarkOutside, match="there is no panel at this place"):
        wall(openings=(door(10),), marks=(AccessMark("valve", inch(place[0]), inch(place[1])),))
