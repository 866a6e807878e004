"""Weights of sheets and boards, loads to site, and the revised NIOSH lifting equation."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.calculations.lifting import IN_CENTIMETERS, NOT_COVERED, Grip, Lift, LiftError, limit
from jobs.calculations.weights import (
    DENSITIES,
    POUND_KG,
    Carried,
    Way,
    WeightError,
    loads,
    passes,
    weight_kg,
    wood_density,
)
from workshop.calculations.lengths import INCH_NM

FILE = Path(__file__).resolve().parents[2] / "reference" / "safety.csv"
with FILE.open(encoding="utf-8", newline="") as opened:
    PUBLISHED = {row["item"]: row["value"] for row in csv.DictReader(opened)}
METER = 10**9


def pounds(kind: str, thickness: Fraction) -> float:
    return float(weight_kg(96 * INCH_NM, 48 * INCH_NM, int(thickness * INCH_NM), DENSITIES[kind]) / POUND_KG)


# Weights


def test_a_sheet_of_3_4_softwood_plywood_weighs_72_lb() -> None:
    """APA Plywood Design Specification as quoted on theplywood.com: 3.0 lb for a square foot and inch."""
    assert pounds("softwood plywood", Fraction(3, 4)) == 72


def test_a_sheet_of_3_4_hardwood_plywood_weighs_what_is_published() -> None:
    """Hunker, How to Calculate the Weight of Plywood: 2.3 lb for a square foot, 73.6 lb."""
    assert pounds("hardwood plywood", Fraction(3, 4)) == pytest.approx(32 * float(PUBLISHED["3/4 in hardwood plywood"]))


@pytest.mark.parametrize(
    ("thickness", "published"),
    [(Fraction(1, 4), 1.08), (Fraction(5, 16), 1.35), (Fraction(3, 8), 1.49), (Fraction(7, 16), 1.90)],
)
def test_particleboard_weighs_what_is_published_within_15_per_cent(thickness: Fraction, published: float) -> None:
    """Panel weight table, receivinghelpdesk.com, lb for a square foot."""
    assert pounds("particleboard", thickness) / 32 == pytest.approx(published, rel=0.15)


@pytest.mark.parametrize(
    ("name", "density"), [("Ash, white", 672), ("Oak, northern red", Fraction("705.6")), ("Spruce, Sitka", None)]
)
def test_solid_wood_weighs_by_its_specific_gravity_and_its_water(name: str, density: Fraction | int | None) -> None:
    """Wood Handbook: density = 1000 x specific gravity x (1 + moisture content / 100); 0.60 and 0.63 at 12 %."""
    assert wood_density(name) == density


def test_a_size_of_nothing_is_refused() -> None:
    with pytest.raises(WeightError, match="thickness of 0"):
        weight_kg(1, 1, 0, Fraction(600))


# Loads


def pieces(room: str, count: int, kg: int, ready: bool = True) -> list[Carried]:
    return [Carried(room, f"{room}-{number}", Fraction(kg), ready) for number in range(1, count + 1)]


def test_a_room_that_fits_on_a_trip_is_not_parted() -> None:
    made = loads([*pieces("A", 3, 100), *pieces("B", 3, 100)], 500)

    assert [[piece.room for piece in load.pieces] for load in made] == [["A"] * 3, ["B"] * 3]


def test_a_room_too_heavy_for_a_trip_is_parted_in_hanging_order() -> None:
    made = loads(pieces("A", 7, 100), 300)

    assert [[piece.name for piece in load.pieces] for load in made] == [
        ["A-1", "A-2", "A-3"],
        ["A-4", "A-5", "A-6"],
        ["A-7"],
    ]
    assert all(load.kg <= 300 for load in made)


def test_the_site_s_space_limits_a_trip_too() -> None:
    assert [len(load.pieces) for load in loads(pieces("A", 5, 1), 1000, most_pieces=2)] == [2, 2, 1]


def test_a_load_is_ready_when_its_pieces_are_finished_and_dry() -> None:
    ready, waiting = loads([*pieces("A", 1, 10), *pieces("B", 1, 10, ready=False)], 10)

    assert (ready.is_ready, waiting.is_ready, waiting.waiting) == (True, False, ("B-1",))


def test_a_piece_heavier_than_the_payload_is_refused() -> None:
    with pytest.raises(WeightError, match="piece A-1: a payload in kg below its own"):
        loads(pieces("A", 1, 600), 500)


@pytest.mark.parametrize(
    ("size", "way", "stuck"),
    [
        ((96, 48, 1), Way(36 * INCH_NM, 80 * INCH_NM), ()),
        ((120, 90, 1), Way(36 * INCH_NM, 80 * INCH_NM), ("door",)),
        ((96, 48, 1), Way(36 * INCH_NM, 80 * INCH_NM, (54 * INCH_NM, 51 * INCH_NM, 96 * INCH_NM)), ()),
        ((100, 48, 1), Way(36 * INCH_NM, 80 * INCH_NM, (54 * INCH_NM, 51 * INCH_NM, 96 * INCH_NM)), ()),
        ((120, 48, 1), Way(36 * INCH_NM, 80 * INCH_NM, (54 * INCH_NM, 51 * INCH_NM, 96 * INCH_NM)), ("lift",)),
        ((168, 4, 1), Way(36 * INCH_NM, 80 * INCH_NM, None, 156 * INCH_NM), ("stair",)),
    ],
)
def test_what_passes_door_lift_and_stair(size: tuple[int, int, int], way: Way, stuck: tuple[str, ...]) -> None:
    """Geometry, worked by hand: the slant of 54 by 96 in is 110 in."""
    assert passes(*(each * INCH_NM for each in size), way) == stuck


# Lifting


def test_the_manual_s_worked_example_at_its_start() -> None:
    """NIOSH 94-110, loading punch press stock (from memory): 16.3 lb by rounded multipliers, 16.03 by the formulas."""
    made = limit(Lift(23 * INCH_NM, 15 * INCH_NM, 48 * INCH_NM, grip=Grip.FAIR))

    assert float(made.kg / POUND_KG) == pytest.approx(16.03, abs=0.005)
    assert float(made.kg / POUND_KG) == pytest.approx(float(PUBLISHED["example RWL at origin"]), rel=0.02)
    assert round(float(made.index(44 * POUND_KG)), 1) == pytest.approx(float(PUBLISHED["example LI at origin"]))


def test_the_manual_s_worked_example_at_its_end() -> None:
    """The same (from memory): 14.5 lb by rounded multipliers, 14.31 by the formulas."""
    made = limit(Lift(23 * INCH_NM, 63 * INCH_NM, 48 * INCH_NM, grip=Grip.FAIR))

    assert float(made.kg / POUND_KG) == pytest.approx(14.31, abs=0.005)
    assert float(made.kg / POUND_KG) == pytest.approx(float(PUBLISHED["example RWL at destination"]), rel=0.02)


@pytest.mark.parametrize(
    ("figures", "unit", "near", "knuckles"), [(None, INCH_NM, 10, 30), (IN_CENTIMETERS, 10**7, 25, 75)]
)
def test_the_best_lift_there_is_has_the_whole_load_constant(
    figures: object, unit: int, near: int, knuckles: int
) -> None:
    """NIOSH 94-110 as quoted: 51 lb or 23 kg."""
    made = limit(Lift(near * unit, knuckles * unit, near * unit, grip=Grip.GOOD), *([figures] if figures else []))

    published = 23 if figures else 51 * POUND_KG
    assert made.kg == published


@pytest.mark.parametrize(
    ("hours", "a_minute", "multiplier"),
    [
        (1, Fraction(1, 5), 1),
        (2, Fraction(1, 5), Fraction("0.95")),
        (8, Fraction(1, 5), Fraction("0.85")),
        (1, Fraction(16), 0),
        (8, Fraction("4.5"), Fraction("0.35")),
    ],
)
def test_more_lifts_and_longer_work_lower_the_limit(hours: int, a_minute: Fraction, multiplier: Fraction) -> None:
    """NIOSH 94-110, frequency multipliers (from memory); between two rows that of more lifts."""
    assert limit(Lift(10 * INCH_NM, 30 * INCH_NM, 10 * INCH_NM, 0, a_minute, Fraction(hours))).frequency == multiplier


@pytest.mark.parametrize(
    "lift",
    [
        Lift(26 * INCH_NM, 30 * INCH_NM, 0),
        Lift(10 * INCH_NM, 71 * INCH_NM, 0),
        Lift(10 * INCH_NM, 30 * INCH_NM, 71 * INCH_NM),
        Lift(10 * INCH_NM, 30 * INCH_NM, 0, turned_degrees=136),
    ],
)
def test_beyond_its_limits_nothing_should_be_lifted(lift: Lift) -> None:
    """NIOSH 94-110 (from memory): reach over 25 in, height or travel over 70 in, turned over 135 degrees."""
    assert limit(lift).kg == 0
    assert limit(lift).index(10) is None


def test_a_quarter_turn_takes_29_per_cent() -> None:
    """NIOSH 94-110 (from memory): 1 - 0.0032 x 90."""
    assert limit(Lift(10 * INCH_NM, 30 * INCH_NM, 0, 90)).turned == Fraction("0.712")


@pytest.mark.parametrize("left_out", ["Carrying", "ceiling", "feeding a saw", "two people"])
def test_what_the_equation_does_not_cover_is_said(left_out: str) -> None:
    assert left_out in NOT_COVERED


@pytest.mark.parametrize(
    ("lift", "message"),
    [(Lift(-1, 0, 0), "a reach in nm of -1"), (Lift(0, 0, 0, hours=Fraction(9)), "hours of lifting of 9")],
)
def test_a_figure_that_no_lift_has_is_refused(lift: Lift, message: str) -> None:
    with pytest.raises(LiftError, match=message):
        limit(lift)
