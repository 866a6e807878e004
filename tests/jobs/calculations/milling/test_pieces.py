"""Pieces out of runs of trim, worked by hand in inches. Common practice, no source; lengths by geometry."""

from math import hypot

import pytest

from jobs.calculations.milling.ends import EndCut
from jobs.calculations.milling.joints import JointRules
from jobs.calculations.milling.pieces import MadePiece, Profile, pieces_of, room_pieces
from jobs.calculations.takeoff.trim import EndKind, TrimKind, TrimRun
from workshop.calculations.lengths import INCH_NM

BASE = Profile(3 * INCH_NM // 4, 5 * INCH_NM)
LONG = JointRules(165 * INCH_NM, from_end_nm=24 * INCH_NM)


def run(
    length: int,
    starts: EndKind = EndKind.INSIDE,
    ends: EndKind = EndKind.INSIDE,
    kind: TrimKind = TrimKind.BASE,
    rise: int = 0,
    left: int = 0,
) -> TrimRun:
    start, end = (left * INCH_NM, 0), ((left + length) * INCH_NM, rise * INCH_NM)
    return TrimRun(kind, "N", "foot", start, end, starts, ends, round(hypot(length, rise) * INCH_NM))


def told(piece: MadePiece) -> tuple[float, EndCut, EndCut]:
    return round(piece.length_nm / INCH_NM, 3), piece.left.cut, piece.right.cut


def test_a_base_between_inside_corners_is_coped_at_its_left_and_square_at_its_right() -> None:
    assert [told(piece) for piece in pieces_of(run(117), BASE, LONG)] == [(117, EndCut.COPE, EndCut.SQUARE)]


def test_an_outside_corner_adds_the_thickness_that_its_miter_goes_across() -> None:
    made = pieces_of(run(60, EndKind.OPENING, EndKind.OUTSIDE), BASE, LONG)

    assert [told(piece) for piece in made] == [(60.75, EndCut.SQUARE, EndCut.MITER)]
    assert made[0].right.angle_tenths == 450


def test_inside_corners_are_mitered_where_the_shop_does_so() -> None:
    profile = Profile(3 * INCH_NM // 4, 5 * INCH_NM, coped=False)

    assert [told(piece) for piece in pieces_of(run(60), profile, LONG)] == [(60, EndCut.MITER, EndCut.MITER)]


def test_22_ft_are_two_pieces_and_one_scarfed_joint() -> None:
    profile = Profile(3 * INCH_NM // 4, 5 * INCH_NM, scarf_tenths=450)

    made = pieces_of(run(264), profile, LONG)

    assert [told(piece) for piece in made] == [(132.75, EndCut.COPE, EndCut.BEVEL), (132, EndCut.BEVEL, EndCut.SQUARE)]


def test_no_piece_is_longer_than_the_longest_with_all_its_long_points() -> None:
    rules = JointRules(100 * INCH_NM)

    made = pieces_of(run(199, EndKind.OUTSIDE, EndKind.OUTSIDE), BASE, rules)

    assert len(made) == 3
    assert all(piece.length_nm <= rules.longest_nm for piece in made)


def test_a_casing_is_mitered_where_it_goes_on_and_told_by_its_long_points() -> None:
    head = TrimRun(
        TrimKind.CASING, "N", "door, head", (0, 0), (43 * INCH_NM, 0), EndKind.RUN, EndKind.RUN, 36 * INCH_NM
    )

    assert [told(piece) for piece in pieces_of(head, Profile(INCH_NM, 7 * INCH_NM // 2), LONG)] == [
        (43, EndCut.MITER, EndCut.MITER)
    ]


@pytest.mark.parametrize("kind", [TrimKind.BASE, TrimKind.CROWN])
def test_cut_plumb_on_a_rake_a_piece_is_longer_by_its_width_times_the_slope(kind: TrimKind) -> None:
    """3 in 4: 80 in along the wall are 100 in on the rake, and 5 in of width reach 3 3/4 in (3-4-5 triangle)."""
    made = pieces_of(run(80, kind=kind, rise=60), BASE, LONG)

    assert made[0].length_nm / INCH_NM == pytest.approx(103.75, abs=0.01)
    assert made[0].right.angle_tenths == 369


def test_at_a_peak_the_crown_is_mitered_in_two_halves_and_its_top_is_the_long_point() -> None:
    up = TrimRun(TrimKind.CROWN, "N", "top", (0, 0), (100, 100), EndKind.FREE, EndKind.RUN, 141)
    down = TrimRun(TrimKind.CROWN, "N", "top 2", (100, 100), (200, 0), EndKind.RUN, EndKind.FREE, 141)

    made = pieces_of(up, Profile(1, 10), JointRules(1000), beside=[up, down])

    assert (made[0].right.cut, made[0].right.angle_tenths) == (EndCut.MITER, 450)
    assert made[0].length_nm == 141 + 10


def test_a_second_run_of_the_same_kind_on_the_same_wall_staggers_its_joints() -> None:
    rules = JointRules(165 * INCH_NM, stagger_nm=24 * INCH_NM)
    runs = [run(264, EndKind.FREE, EndKind.FREE), run(264, EndKind.FREE, EndKind.FREE)]

    first, _, second, _ = room_pieces(runs, {TrimKind.BASE: BASE}, rules)

    assert abs(first.length_nm - second.length_nm) >= 24 * INCH_NM


def test_a_kind_without_a_profile_is_left_out() -> None:
    assert room_pieces([run(60)], {TrimKind.CROWN: BASE}, LONG) == ()
