"""From finished trim to rough boards, orders and the milling list."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.calculations.milling.boards_at_hand import from_boards
from jobs.calculations.milling.ordering import CLEAR_YIELD, TrimPiece, green_board_feet, order_range
from jobs.calculations.milling.rough import (
    Allowances,
    RoughBoard,
    RoughError,
    rough_lengths,
    rough_quarters,
    stretches,
    strips_across,
)
from jobs.calculations.milling.steps import Milled, Operation, milling_list
from materials.calculations.board_feet import Board, board_feet, nhla_tally
from workshop.calculations.lengths import FOOT_NM, INCH_NM, QUARTER_NM

REFERENCE = Path(__file__).resolve().parents[3] / "reference"
TAKEN = Allowances(INCH_NM // 4, INCH_NM // 8, INCH_NM // 2, INCH_NM // 8, INCH_NM, 6 * INCH_NM)


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def mixed(text: str) -> Fraction:
    return sum(Fraction(part) for part in text.split())


@pytest.mark.parametrize(
    "row",
    [row for row in rows("lumber_sizes.csv") if row["standard"] == "NHLA hardwood" and "/4" in row["quarter"]],
    ids=lambda row: row["quarter"],
)
def test_the_standard_thickness_comes_from_its_own_rough_board(row: dict[str, str]) -> None:
    """NHLA standard thicknesses surfaced on two sides; 10/4 from memory."""
    quarters = int(row["quarter"].split("/")[0])
    if quarters < 4:
        return

    assert rough_quarters(int(mixed(row["s2s_in"]) * INCH_NM), TAKEN) == quarters


def test_a_hair_more_than_the_standard_thickness_takes_the_next_board() -> None:
    assert rough_quarters(13 * INCH_NM // 16 + 1, TAKEN) == 5


def test_the_shop_s_own_loss_goes_before_the_standard_thickness() -> None:
    taken = Allowances(0, 0, 0, 0, 0, thickness_nm=INCH_NM // 8)

    assert rough_quarters(7 * INCH_NM // 8, taken) == 4


@pytest.mark.parametrize(
    ("board_in", "crook_in", "strips"),
    [(Fraction(6), 0, 2), (Fraction(49, 8), 0, 3), (Fraction(49, 8), Fraction(1, 2), 2), (Fraction(1), 0, 0)],
)
def test_strips_across_a_board(board_in: Fraction, crook_in: Fraction, strips: int) -> None:
    """1 3/4 in finished is ripped 1 7/8 in; worked by hand: n (1 7/8 + 1/8) - 1/8 + 1/4 within the board."""
    board, crook = int(board_in * INCH_NM), int(crook_in * INCH_NM)

    assert strips_across(board, 7 * INCH_NM // 4, TAKEN, crook) == strips


def test_a_board_is_as_wide_as_its_narrow_end_and_parted_by_its_defects() -> None:
    board = RoughBoard(
        "7",
        120 * INCH_NM,
        7 * INCH_NM,
        49 * INCH_NM // 8,
        0,
        ((60 * INCH_NM, 63 * INCH_NM), (118 * INCH_NM, 120 * INCH_NM)),
    )

    made = stretches(board, 7 * INCH_NM // 4, TAKEN)

    assert [(each.start_nm // INCH_NM, each.length_nm // INCH_NM, each.strips) for each in made] == [
        (1, 59, 3),
        (63, 55, 3),
    ]


def test_a_length_of_zero_is_refused() -> None:
    with pytest.raises(RoughError, match="24 in, or 8 ft, would do"):
        rough_lengths([0], TAKEN)


@pytest.mark.parametrize("row", rows("board_foot_examples.csv"), ids=lambda row: row["id"])
def test_board_feet_of_an_order_follow_the_published_examples(row: dict[str, str]) -> None:
    """American Hardwood Export Council, Measurement, and the pages named per row."""
    sizes = (
        int(row["thickness_in"]) * INCH_NM,
        int(Fraction(row["width_in"]) * INCH_NM),
        int(row["length_ft"]) * FOOT_NM,
    )

    found = nhla_tally([Board(*sizes)]).total if row["method"] == "tally" else board_feet(*sizes)

    assert abs(found - Fraction(row["published_board_feet"])) < Fraction(1, 100)


def test_an_order_is_a_range_from_the_best_to_the_worst_board_of_the_mix() -> None:
    """Worked by hand: 10 rough pieces of 46 1/2 in; boards of 8 ft give 2 a strip (94 in clear), of 7 ft 1 (82 in)."""
    pieces = [TrimPiece(3 * INCH_NM // 4, 7 * INCH_NM // 4, 46 * INCH_NM)] * 10
    mix = [(49 * INCH_NM // 8, 96 * INCH_NM), (49 * INCH_NM // 8, 84 * INCH_NM), (INCH_NM, 96 * INCH_NM)]

    made = order_range(pieces, mix, TAKEN, CLEAR_YIELD["FAS"], INCH_NM // 8)

    assert (made.best.length_nm // INCH_NM, made.best.strips, made.best.planned, made.best.boards) == (96, 5, 2, 3)
    assert (made.worst.length_nm // INCH_NM, made.worst.strips, made.worst.planned, made.worst.boards) == (84, 10, 4, 5)
    assert made.best.exact_board_feet == 3 * Fraction(49, 8) * 8 / 12
    assert made.best.tallied_board_feet == 12
    assert made.net_board_feet == 10 * Fraction(7, 4) * 46 / 144
    assert made.best.waste == 1 - made.net_board_feet / made.best.exact_board_feet
    assert made.useless == ((INCH_NM, 96 * INCH_NM),)


def test_a_mix_without_a_board_long_enough_is_told() -> None:
    with pytest.raises(RoughError, match="longer or wider boards, or more joints, would do"):
        order_range(
            [TrimPiece(INCH_NM // 2, INCH_NM, 120 * INCH_NM)], [(6 * INCH_NM, 96 * INCH_NM)], TAKEN, Fraction(1), 0
        )


def test_kiln_dried_lumber_on_gross_tally_is_about_seven_per_cent_short() -> None:
    """Common practice, no source."""
    assert round(float(green_board_feet(Fraction(100))), 1) == 107.5


def test_a_piece_comes_from_behind_the_knot_and_from_the_strip_it_is_given() -> None:
    board = RoughBoard("7", 102 * INCH_NM, 4 * INCH_NM, 4 * INCH_NM, 0, ((30 * INCH_NM, 33 * INCH_NM),))

    *_, made = from_boards([50 * INCH_NM, 50 * INCH_NM, 20 * INCH_NM], [board], INCH_NM, TAKEN, INCH_NM // 8, 1.0)

    assert [(piece.piece, piece.start_nm // INCH_NM, piece.length_nm // INCH_NM) for piece in made.pieces] == [
        (2, 1, 20),
        (0, 33, 50),
        (1, 33, 50),
    ]
    assert {piece.strip for piece in made.pieces if piece.piece < 2} == {1, 2}


def test_the_milling_list_is_in_the_order_of_work_with_one_set_up_for_each_setting() -> None:
    pieces = [
        Milled(3 * INCH_NM // 4, 2 * INCH_NM, 60 * INCH_NM, "cap", "A"),
        Milled(3 * INCH_NM // 4, 2 * INCH_NM, 40 * INCH_NM, "cap", "B"),
        Milled(3 * INCH_NM // 4, 3 * INCH_NM, 60 * INCH_NM, "", "C"),
    ]

    made = milling_list(pieces, TAKEN)

    order = [step.operation for step in made]
    assert order == sorted(order, key=list(Operation).index)
    rip = [step for step in made if step.operation is Operation.RIP]
    assert [(step.setting_nm, step.pieces) for step in rip] == [
        (25 * INCH_NM // 8, ("C",)),
        (17 * INCH_NM // 8, ("A", "B")),
    ]
    profile = next(step for step in made if step.operation is Operation.PROFILE)
    assert profile.length_nm == (60 + 40 + 1 + 6) * INCH_NM
    assert next(step for step in made if step.operation is Operation.JOINT).length_nm == int(161.5 * INCH_NM)


def test_quarters_of_an_inch_are_what_a_rough_board_is_told_in() -> None:
    assert rough_quarters(QUARTER_NM, TAKEN) == 4
