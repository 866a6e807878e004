"""Exact polygons: figures by hand, and what holds for all of them."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.calculations.surfaces import exact, regions

SQUARE = ((0, 0), (10, 0), (10, 10), (0, 10))
GABLE = ((0, 0), (12, 0), (12, 6), (6, 10), (0, 6))

whole_numbers = st.integers(0, 12)
boxes = st.tuples(whole_numbers, whole_numbers, st.integers(1, 8), st.integers(1, 8)).map(
    lambda box: regions.box(box[0], box[1], box[0] + box[2], box[1] + box[3])
)
triangles = (
    st.tuples(whole_numbers, whole_numbers, whole_numbers, whole_numbers, whole_numbers, whole_numbers)
    .map(lambda n: ((n[0], n[1]), (n[2], n[3]), (n[4], n[5])))
    .filter(lambda corners: exact.area(corners) != 0)
    .map(lambda corners: (corners if exact.area(corners) > 0 else corners[::-1],))
)
shapes = st.one_of(boxes, triangles)


@pytest.mark.parametrize(("square", "length"), [(0, 0), (2, 1), (3, 2), (9, 3), (Fraction(25, 4), 3), (10**18, 10**9)])
def test_a_root_is_the_nearest_whole_number(square: int, length: int) -> None:
    assert exact.root(square) == length


def test_the_sides_3_and_4_have_the_slope_5() -> None:
    assert exact.distance((1, 1), (4, 5)) == 5


def test_the_area_of_a_gable_is_that_of_its_rectangle_and_its_triangle() -> None:
    assert exact.area(GABLE) == 12 * 6 + 12 * 4 // 2


def test_an_outline_moved_in_stays_parallel() -> None:
    moved = exact.moved_in(SQUARE, (1, 2, 3, 4))

    assert moved == ((4, 1), (8, 1), (8, 7), (4, 7))


def test_a_slope_is_moved_square_to_itself() -> None:
    """A slope of 3 in 4 moved in by 4 sinks by 5 (3-4-5 triangle)."""
    outline = ((0, 0), (40, 0), (40, 60), (0, 30))

    moved = exact.moved_in(outline, (0, 0, 4, 0))

    assert moved == ((0, 0), (40, 0), (40, 55), (0, 25))


def test_edges_in_one_line_that_move_apart_get_a_step() -> None:
    outline = ((0, 0), (5, 0), (10, 0), (10, 10), (0, 10))

    moved = exact.moved_in(outline, (1, 2, 0, 0, 0))

    assert moved == ((0, 1), (5, 1), (5, 2), (10, 2), (10, 10), (0, 10))


@pytest.mark.parametrize(
    ("outline", "crosses"), [(SQUARE, False), (GABLE, False), (((0, 0), (10, 10), (10, 0), (0, 10)), True)]
)
def test_a_bow_tie_crosses_itself(outline: exact.Outline, crosses: bool) -> None:
    assert exact.crosses_itself(outline) is crosses


def test_a_hole_belongs_to_its_piece() -> None:
    frame = regions.without((SQUARE,), regions.box(2, 2, 4, 4))

    (piece,) = regions.pieces(frame)

    assert len(piece) == 2
    assert regions.area(piece) == 96


def test_a_strip_across_makes_two_pieces() -> None:
    parts = regions.pieces(regions.without((SQUARE,), regions.box(0, 5, 10, 6)))

    assert [regions.area(part) for part in parts] == [50, 40]


def test_pieces_that_touch_in_a_point_are_two() -> None:
    touching = regions.joined([regions.box(0, 0, 1, 1), regions.box(1, 1, 2, 2)])

    assert len(regions.pieces(touching)) == 2


def test_a_line_runs_through_a_gable_between_its_slopes() -> None:
    assert regions.level_stretches((GABLE,), 8) == ((3, 9),)
    assert regions.upright_stretches((GABLE,), 3) == ((0, 8),)


@given(shapes, shapes)
@settings(deadline=None, max_examples=60)
def test_what_is_common_and_what_is_left_add_up(one: regions.Region, other: regions.Region) -> None:
    common, left = regions.common(one, other), regions.without(one, other)

    assert regions.area(common) + regions.area(left) == regions.area(one)
    assert regions.common(common, left) == ()
    assert regions.area(regions.joined([one, other])) == regions.area(left) + regions.area(other)


@given(shapes, shapes, shapes)
@settings(deadline=None, max_examples=40)
def test_pieces_add_up_and_do_not_overlap(one: regions.Region, other: regions.Region, third: regions.Region) -> None:
    left = regions.without(regions.without(one, other), third)

    parts = regions.pieces(left)

    assert sum(regions.area(part) for part in parts) == regions.area(left)
    assert all(regions.common(a, b) == () for i, a in enumerate(parts) for b in parts[i + 1 :])
    assert all(sum(exact.area(outline) > 0 for outline in part) == 1 for part in parts)


@given(shapes, shapes)
@settings(deadline=None, max_examples=40)
def test_exchanging_the_axes_changes_no_area(one: regions.Region, other: regions.Region) -> None:
    left = regions.without(one, other)

    assert regions.area(regions.turned(left)) == regions.area(left)
    assert regions.turned(regions.turned(left)) == left
