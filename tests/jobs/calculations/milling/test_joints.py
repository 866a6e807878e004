"""Joints in runs longer than a board, and the ends of pieces. Rules of the house; common practice, no source."""

from fractions import Fraction
from itertools import combinations
from random import Random

import pytest

from jobs.calculations.milling.ends import EndCut, Hand, PieceEnd, corner_tenths, long_points, rake_tenths, reach
from jobs.calculations.milling.joints import JointError, JointRules, Share, joints, longest_finished, pieces_between
from workshop.calculations.lengths import INCH_NM


def inches(*lengths: float) -> list[int]:
    return [int(length * INCH_NM) for length in lengths]


def test_a_run_of_22_ft_from_14_ft_boards_is_two_pieces_and_one_joint() -> None:
    longest = longest_finished(168 * INCH_NM, INCH_NM, INCH_NM)

    made = joints(264 * INCH_NM, JointRules(longest))

    assert pieces_between(264 * INCH_NM, made) == (132 * INCH_NM, 132 * INCH_NM)


def test_a_run_as_long_as_the_longest_piece_has_no_joint() -> None:
    assert joints(100, JointRules(100)) == ()


def test_the_longest_first_is_as_long_as_the_distance_from_the_end_lets_it_be() -> None:
    rules = JointRules(165 * INCH_NM, from_end_nm=24 * INCH_NM, share=Share.LONGEST_FIRST)

    assert joints(264 * INCH_NM, rules) == (165 * INCH_NM,)
    assert joints(180 * INCH_NM, rules) == (156 * INCH_NM,)


def test_a_joint_lies_over_a_stud_the_nearest_to_the_middle() -> None:
    studs = inches(*range(16, 264, 16))

    assert joints(264 * INCH_NM, JointRules(165 * INCH_NM), studs) == (128 * INCH_NM,)


def test_a_joint_keeps_its_stagger_from_the_parallel_run() -> None:
    rules = JointRules(165 * INCH_NM, stagger_nm=24 * INCH_NM)

    made = joints(264 * INCH_NM, rules, parallel_nm=inches(132))

    assert made[0] in inches(108, 156)


def test_fewest_joints_go_before_equal_pieces() -> None:
    rules = JointRules(100 * INCH_NM)

    made = joints(195 * INCH_NM, rules, solid_nm=inches(65, 96, 130))

    assert made == tuple(inches(96))


def test_where_pieces_cannot_be_equal_on_the_grid_the_later_takes_the_difference() -> None:
    made = pieces_between(101, joints(101, JointRules(60, grid_nm=10)))

    assert made == (50, 51)


@pytest.mark.parametrize(
    ("rules", "solid", "message"),
    [
        (JointRules(100, from_end_nm=90), None, "smaller distance or stagger, would do"),
        (JointRules(100), [20], "more to join over, would do"),
        (JointRules(0), None, "zero or less"),
    ],
)
def test_rules_that_no_joint_keeps_to_are_told_with_two_things_that_would_do(
    rules: JointRules, solid: list[int] | None, message: str
) -> None:
    with pytest.raises(JointError, match=message):
        joints(170, rules, solid)


@pytest.mark.parametrize("seed", range(60))
@pytest.mark.parametrize("share", Share)
def test_no_other_joints_are_fewer_or_shared_better(seed: int, share: Share) -> None:
    random = Random(seed)
    anywhere = seed % 2 == 0
    length, longest = random.randint(40, 90 if anywhere else 160), random.randint(35, 60)
    least = random.choice((0, 8))
    rules = JointRules(longest, random.choice((0, 10)), random.choice((0, 6)), least, share, grid_nm=1)
    solid = None if anywhere else sorted(random.sample(range(1, length), min(14, length - 1)))
    parallel = [random.randint(1, length) for _ in range(seed % 3)]

    best = None
    places = solid if solid is not None else range(1, length)
    for count in range(1, 4 if anywhere else 6):
        for chosen in combinations(places, count):
            pieces = pieces_between(length, chosen)
            if (
                max(pieces) <= longest
                and min(pieces) >= least
                and all(rules.from_end_nm <= at <= length - rules.from_end_nm for at in chosen)
                and all(abs(at - other) >= rules.stagger_nm for at in chosen for other in parallel)
            ):
                rank = sum(p * p for p in pieces) if share is Share.EQUAL else tuple(-p for p in pieces)
                best = rank if best is None or rank < best else best
        if best is not None or length <= longest:
            break

    if length <= longest:
        assert joints(length, rules, solid, parallel) == ()
    elif best is None:
        with pytest.raises(JointError):
            joints(length, rules, solid, parallel)
    else:
        made = pieces_between(length, joints(length, rules, solid, parallel))
        rank = sum(p * p for p in made) if share is Share.EQUAL else tuple(-p for p in made)
        assert rank == best


@pytest.mark.parametrize(("slope", "tenths"), [(Fraction(0), 0), (Fraction(5, 12), 226), (Fraction(-1), 450)])
def test_a_plumb_cut_on_a_rake_has_the_angle_of_the_rake(slope: Fraction, tenths: int) -> None:
    assert rake_tenths(slope) == tenths


def test_the_long_points_of_a_mitered_casing_reach_its_width_beyond_the_short_ones() -> None:
    ends = tuple(PieceEnd(EndCut.MITER, hand, 450) for hand in Hand)

    assert long_points(36 * INCH_NM, 7 * INCH_NM // 2, ends) == 43 * INCH_NM


def test_a_coped_or_square_end_adds_nothing() -> None:
    ends = PieceEnd(EndCut.COPE, Hand.LEFT, 450), PieceEnd(EndCut.SQUARE, Hand.RIGHT)

    assert long_points(1000, 100, ends) == 1000


def test_a_corner_is_mitered_in_two_halves() -> None:
    assert [corner_tenths(corner) for corner in (900, 1350, 880)] == [450, 225, 460]


def test_no_end_is_cut_along_its_piece() -> None:
    with pytest.raises(ValueError, match="from square is none; 45 or"):
        reach(100, 900)
