"""Board feet against worked examples and rules as published (reference/board_foot_*.csv)."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calculations.board_feet import (
    Board,
    BoardSizeError,
    board_feet,
    nhla_tally,
    tapered_width,
)

REFERENCE = Path(__file__).parents[1] / "reference"
INCH = 25_400_000
FOOT = 12 * INCH


def nm(size: str | int | Fraction, unit: int = INCH) -> int:
    exact = Fraction(size) * unit
    assert exact.denominator == 1
    return int(exact)


def board(width: str | Fraction | int, length: str | int, thickness: str | int = 1) -> Board:
    """A board by its thickness and width in inches and its length in feet."""
    return Board(nm(thickness), nm(width), nm(length, FOOT))


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def mixed(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


EXAMPLES = rows("board_foot_examples.csv")
TALLIES = [row for row in EXAMPLES if row["method"] == "tally"]
EXACT = [row for row in EXAMPLES if row["method"] == "exact"]
RULES = {row["rule"]: row["statement"] for row in rows("board_foot_rules.csv")}


def of_example(row: dict[str, str]) -> Board:
    return board(row["width_in"], row["length_ft"], row["thickness_in"])


@pytest.mark.parametrize("row", TALLIES, ids=[row["id"] for row in TALLIES])
def test_the_tally_gives_the_published_board_feet(row: dict[str, str]) -> None:
    tally = nhla_tally([of_example(row)])

    assert tally.surface_measures == (int(row["surface_measure_tally"]),)
    assert tally.total == Fraction(row["published_board_feet"])


@pytest.mark.parametrize("row", TALLIES, ids=[row["id"] for row in TALLIES])
def test_the_surface_measure_before_rounding_is_the_published_one(row: dict[str, str]) -> None:
    one_inch_thick = board_feet(INCH, nm(row["width_in"]), nm(row["length_ft"], FOOT))

    assert one_inch_thick == mixed(row["surface_measure_exact"])


@pytest.mark.parametrize("row", EXACT, ids=[row["id"] for row in EXACT])
def test_the_exact_rule_gives_the_published_board_feet(row: dict[str, str]) -> None:
    piece = of_example(row)

    exact = board_feet(piece.thickness_nm, piece.width_nm, piece.length_nm)

    assert round(exact, len(row["published_board_feet"].partition(".")[2])) == Fraction(row["published_board_feet"])


@pytest.mark.parametrize("row", EXAMPLES, ids=[row["id"] for row in EXAMPLES])
def test_the_exact_rule_agrees_with_the_four_places_given(row: dict[str, str]) -> None:
    piece = of_example(row)

    exact = board_feet(piece.thickness_nm, piece.width_nm, piece.length_nm)

    assert round(exact, 4) == Fraction(row["exact_board_feet"])


def test_a_board_foot_is_144_cubic_inches() -> None:
    assert "144 cubic inches" in RULES["board foot"]
    assert board_feet(INCH, FOOT, FOOT) == 1


def test_the_length_counts_in_whole_feet_rounded_down() -> None:
    assert RULES["tally length"] == "always rounded down to the whole foot"
    assert nhla_tally([board(12, 8)]) == nhla_tally([Board(INCH, FOOT, nm(107))])
    assert nhla_tally([Board(INCH, FOOT, nm(96) - 1)]).surface_measures == (7,)


def test_a_board_shorter_than_a_foot_has_no_surface_measure() -> None:
    assert nhla_tally([Board(INCH, FOOT, FOOT - 1)]).total == 0


def test_an_exact_half_goes_alternately_up_and_down_in_the_order_entered() -> None:
    assert "exactly on the half inch alternately up and down" in RULES["tally width"]
    halves = [board(width, 12) for width in ("5.5", "6.5", "7.5", "5.5")]

    assert nhla_tally(halves).surface_measures == (6, 6, 8, 5)
    assert nhla_tally(halves[::-1]).surface_measures == (6, 7, 7, 5)


def test_boards_between_two_halves_do_not_change_the_turn() -> None:
    bundle = [board("5.5", 12), board(6, 12), board("6.25", 12), board("6.75", 12), board("5.5", 12)]

    assert nhla_tally(bundle).surface_measures == (6, 6, 6, 7, 5)


def test_every_tally_begins_with_a_half_that_goes_up() -> None:
    nhla_tally([board("5.5", 12)])

    assert nhla_tally([board("5.5", 12)]).surface_measures == (6,)


def test_one_nanometer_beside_the_half_is_no_half() -> None:
    below, above = Board(INCH, nm("5.5") - 1, 12 * FOOT), Board(INCH, nm("5.5") + 1, 12 * FOOT)

    assert nhla_tally([below, above, below]).surface_measures == (5, 6, 5)


def test_board_feet_are_surface_measure_times_thickness() -> None:
    tally = nhla_tally([board(6, 8, "5/4"), board(9, 8, "2")])

    assert tally.board_feet == (Fraction(5), Fraction(12))
    assert tally.total == 17


def test_the_tally_counts_a_thickness_under_an_inch_as_an_inch() -> None:
    assert "counted as 1 in" in RULES["thickness under 1 in"]  # NHLA rule book, from memory
    assert nhla_tally([board(6, 8, "3/4")]).total == nhla_tally([board(6, 8, 1)]).total == 4


def test_the_exact_rule_counts_the_thickness_as_it_is() -> None:
    assert board_feet(nm("3/4"), nm(6), nm(8, FOOT)) == 3


def test_no_boards_count_nothing() -> None:
    assert nhla_tally([]).total == 0


def test_a_tapered_board_is_measured_a_third_from_the_narrow_end() -> None:
    # NHLA rule book, from memory.
    assert tapered_width(nm(6), nm(9)) == tapered_width(nm(9), nm(6)) == nm(7)
    assert nhla_tally([Board(INCH, tapered_width(nm(6), nm(10)), 8 * FOOT)]).surface_measures == (5,)


@pytest.mark.parametrize("name", ["thickness", "width", "length"])
@pytest.mark.parametrize("size", [0, -INCH])
def test_a_size_of_zero_or_less_is_refused(name: str, size: int) -> None:
    sizes = {"thickness_nm": INCH, "width_nm": INCH, "length_nm": FOOT} | {f"{name}_nm": size}

    with pytest.raises(BoardSizeError, match=f"{name} {size} nm is not more than zero; 25400000"):
        board_feet(**sizes)
    with pytest.raises(BoardSizeError, match=f"{name} {size} nm is not more than zero"):
        nhla_tally([Board(**sizes)])


@given(st.lists(st.tuples(st.integers(1, 80), st.integers(1, 20)), max_size=30))
def test_a_tally_is_never_further_than_half_a_foot_a_board_from_the_exact_measure(sizes) -> None:
    bundle = [board(Fraction(quarters, 4), feet) for quarters, feet in sizes]

    tally = nhla_tally(bundle)

    exact = [board_feet(each.thickness_nm, each.width_nm, each.length_nm) for each in bundle]
    assert all(abs(a - b) <= Fraction(1, 2) for a, b in zip(tally.surface_measures, exact, strict=True))
    assert tally.total == sum(tally.board_feet)
    halves = [a - b for a, b in zip(tally.surface_measures, exact, strict=True) if (b * 2) % 2 == 1]
    assert halves == [Fraction(1, 2) if turn % 2 == 0 else Fraction(-1, 2) for turn in range(len(halves))]
