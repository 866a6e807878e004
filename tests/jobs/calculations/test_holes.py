"""Screw rows, jigs and screws. Rules of the house; common practice, no source. Worked by hand in inches."""

from fractions import Fraction
from itertools import pairwise
from random import Random

import pytest

from jobs.calculations.holes import (
    HoleError,
    OnPanel,
    Set,
    Spacing,
    bearing,
    bearing_caution,
    equal_rows,
    panel_holes,
    panel_rows,
    room_rows,
)
from jobs.calculations.jig import jigs, screws
from workshop.calculations.lengths import INCH_NM

GIVEN = Spacing(3 * INCH_NM // 2, 3 * INCH_NM // 4, 8 * INCH_NM, 16 * INCH_NM)


def inches(values: object) -> list[Fraction]:
    return [Fraction(value) / INCH_NM for value in values]


@pytest.mark.parametrize("seed", range(40))
def test_rows_along_an_edge_are_equal_alike_from_both_ends_and_the_fewest(seed: int) -> None:
    random = Random(seed)
    length, end, most = random.randint(100, 10**7), random.randint(0, 50), random.randint(1, 10**6)

    rows = equal_rows(length, end, most)

    gaps = {later - earlier for earlier, later in pairwise(rows)}
    assert (rows[0], rows[-1]) == (end, length - end)
    assert [length - row for row in reversed(rows)] == list(rows)
    assert len(gaps) <= 1 and all(gap <= most for gap in gaps)
    assert len(rows) == 1 or Fraction(length - 2 * end, max(1, len(rows) - 2)) > most or len(rows) == 2


def test_a_panel_of_96_in_has_seven_rows_at_16_in() -> None:
    assert inches(equal_rows(96 * INCH_NM, 3 * INCH_NM // 2, 16 * INCH_NM)) == [
        Fraction(3, 2) + Fraction(31, 2) * n for n in range(7)
    ]


def test_a_short_panel_keeps_the_room_s_rows_and_adds_one_at_its_end_distance() -> None:
    room = room_rows(0, 96 * INCH_NM, 3 * INCH_NM // 2, 16 * INCH_NM)

    rows = inches(panel_rows(room, 60 * INCH_NM, 96 * INCH_NM, 3 * INCH_NM // 2))

    assert rows == [Fraction(123, 2), Fraction(127, 2), 79, Fraction(189, 2)]


def test_a_row_too_near_to_the_end_of_a_short_panel_is_left_out() -> None:
    assert inches(panel_rows([50 * INCH_NM], 49 * INCH_NM, 96 * INCH_NM, 3 * INCH_NM // 2)) == [
        Fraction(101, 2),
        Fraction(189, 2),
    ]


def test_edge_rows_and_field_rows_are_two_sets_and_field_rows_fall_on_studs() -> None:
    panel = OnPanel("N-2", 24 * INCH_NM, 48 * INCH_NM, 0, 96 * INCH_NM)
    edge, field = (room_rows(0, 96 * INCH_NM, GIVEN.end_nm, most) for most in (GIVEN.most_edge_nm, GIVEN.most_field_nm))

    holes = panel_holes(panel, GIVEN, edge, field, [16 * INCH_NM, 32 * INCH_NM, 48 * INCH_NM])

    by_set = {kind: sorted({hole.x_nm / INCH_NM for hole in holes if hole.set is kind}) for kind in Set}
    assert by_set == {Set.EDGE: [Fraction(3, 4), Fraction(93, 4)], Set.FIELD: [8]}
    assert [sum(hole.set is kind for hole in holes) for kind in Set] == [2 * 13, 7]


def test_the_bearing_at_a_joint_is_the_stud_less_the_reveal_halved() -> None:
    assert bearing(3 * INCH_NM // 2, 3 * INCH_NM // 16) / INCH_NM == Fraction(21, 32)


def test_a_bearing_smaller_than_the_screws_side_distance_is_a_caution() -> None:
    assert str(bearing_caution("joint 3", 3 * INCH_NM // 2, 3 * INCH_NM // 16, 3 * INCH_NM // 4)) == (
        "The bearing at joint 3 is 21/32″; 3/4″ is asked for."
    )
    assert bearing_caution("joint 3", 3 * INCH_NM // 2, 3 * INCH_NM // 16, 3 * INCH_NM // 8) is None


def test_a_jig_alike_from_both_ends_does_for_both_edges_and_gives_its_stops_from_either() -> None:
    rows = room_rows(0, 96 * INCH_NM, GIVEN.end_nm, GIVEN.most_edge_nm)
    panels = [OnPanel(name, 0, 24 * INCH_NM, 0, 96 * INCH_NM) for name in "AB"] + [
        OnPanel("C", 0, 24 * INCH_NM, 84 * INCH_NM, 96 * INCH_NM)
    ]

    made = jigs(panels, GIVEN, rows)

    assert [(jig.panels, jig.turns) for jig in made] == [(("A", "B"), True), (("C",), False)]
    assert all(stop.from_foot_nm + stop.from_top_nm == jig.length_nm for jig in made for stop in jig.stops)


def test_a_panel_drilled_by_hand_stays_out_of_the_jig() -> None:
    rows = room_rows(0, 96 * INCH_NM, GIVEN.end_nm, GIVEN.most_edge_nm)

    assert jigs([OnPanel("A", 0, 24 * INCH_NM, 0, 96 * INCH_NM)], GIVEN, rows, by_hand=["A"]) == ()


@pytest.mark.parametrize(
    ("holes", "spare", "box", "expected"),
    [(960, 5, 500, (48, 3, 492)), (1000, 0, 500, (0, 2, 0)), (1, 5, 100, (1, 1, 98)), (0, 5, 100, (0, 0, 0))],
)
def test_screws_come_in_whole_boxes_for_the_job_with_spare_ones(
    holes: int, spare: int, box: int, expected: tuple
) -> None:
    made = screws(holes, spare, box)

    assert (made.spare, made.boxes, made.over) == expected


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: equal_rows(INCH_NM, INCH_NM, INCH_NM), "smaller distance, or a longer panel, would do"),
        (lambda: equal_rows(INCH_NM, 0, 0), "16 in, or 12 in, would do"),
        (lambda: panel_rows([], 0, INCH_NM, INCH_NM), "clips or adhesive for this panel, would do"),
        (lambda: panel_holes(OnPanel("A", 0, INCH_NM, 0, 9 * INCH_NM), GIVEN, [], [], []), "a side distance of 3/4"),
    ],
)
def test_distances_that_leave_no_place_for_a_row_are_refused(call: object, message: str) -> None:
    with pytest.raises(HoleError, match=message):
        call()
