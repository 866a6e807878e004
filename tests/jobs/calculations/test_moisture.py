"""Moisture against the Wood Handbook's tables and worked examples (tests/reference/SOURCES.md)."""

import csv
import json
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.calculations.moisture import (
    OUTSIDE,
    MoistureError,
    Ready,
    celsius,
    dried,
    movement,
    per_point_of,
    ready_to_machine,
    reveal_on_site,
    settles_at,
)
from jobs.calculations.species import SPECIES, UnknownSpecies, species

REFERENCE = Path(__file__).resolve().parents[2] / "reference"


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_wood_settles_at_what_the_handbook_s_table_says() -> None:
    """Wood Handbook (2010), Table 4-2, 193 cells, to 0.1 of a point."""
    table = rows("wood_handbook_emc.csv")

    off = [
        row
        for row in table
        if abs(settles_at(celsius(int(row["temp_F"])), int(row["rh_percent"])) - Fraction(row["emc_percent_table"]))
        > Fraction(1, 10)
    ]

    assert (len(table), off) == (193, [])


def test_the_checkpoint_at_140_degrees_is_beyond_what_was_checked_in_full() -> None:
    """Wood Handbook, as quoted on liquisearch.com: 8.4 % at 140 degrees F and 55 %; the table here ends at 130."""
    checks = json.loads((REFERENCE / "wood_emc_coefficients.json").read_text(encoding="utf-8"))["checks"]

    assert checks[0]["T_F"] == 140
    with pytest.raises(MoistureError, match="from -1 to 54 would do"):
        settles_at(celsius(140), 55)


@pytest.mark.parametrize("row", rows("wood_shrinkage.csv"), ids=lambda row: row["species"])
def test_a_species_has_the_handbook_s_figures(row: dict[str, str]) -> None:
    """Wood Handbook (2010), Table 13-5 (13-3 in some editions) and Table 5-3; from memory as marked by row."""
    found = species(row["species"])

    assert (found.radial_per_point, found.tangential_per_point) == (Fraction(row["CR"]), Fraction(row["CT"]))
    assert found.gravity == (int(Fraction(row["sg_12mc"]) * 100) if row["sg_12mc"] else None)
    assert found.moves_from_memory == (row["coefficient_basis"] == "memory")


@pytest.mark.parametrize(
    "row", [row for row in rows("wood_shrinkage.csv") if row["agrees"] == "yes"], ids=lambda row: row["species"]
)
def test_the_coefficients_follow_from_the_shrinkage(row: dict[str, str]) -> None:
    """Wood Handbook (2010), Table 4-3 against the coefficients; the two groups of oak follow from no one species."""
    for shrinkage, coefficient in (("radial_percent", "CR"), ("tangential_percent", "CT")):
        found = per_point_of(Fraction(row[shrinkage]), 10, int(row["shrinkage_start_mc"]))
        assert float(found) == pytest.approx(float(row[coefficient]), abs=0.0000151)


@pytest.mark.parametrize("row", rows("wood_movement_examples.csv"), ids=lambda row: row["id"])
def test_a_published_change_of_width_is_met(row: dict[str, str]) -> None:
    """Wood Handbook ch. 13, NWFA, WOOD magazine, Missouri S&T course problem 4.34."""
    millionths = int(Fraction(row["initial_size"]) * 10**6)
    places = len(row["published_change"].split(".")[1])

    found = movement(
        millionths, Fraction(row["coefficient_per_point"]), Fraction(row["mc_initial"]), Fraction(row["mc_final"])
    )

    assert round(float(found.change_nm) / 10**6, places) == pytest.approx(float(row["published_change"]), abs=1e-9)


@pytest.mark.parametrize(("start", "end", "note"), [(6, 14, ""), (8, 11, ""), (5, 8, OUTSIDE), (8, 15, OUTSIDE)])
def test_beyond_6_to_14_per_cent_a_note_says_so(start: int, end: int, note: str) -> None:
    assert movement(10**8, Fraction("0.00274"), start, end).note == note


def test_wood_dried_to_nothing_has_shrunk_by_all_of_it_and_above_the_start_by_none() -> None:
    """Definition of shrinkage, Wood Handbook ch. 4."""
    assert dried(1000, Fraction("7.8"), 0) == 922
    assert dried(1000, Fraction("7.8"), 35) == 1000


def test_a_reveal_is_less_by_what_its_neighbors_swell() -> None:
    assert reveal_on_site(100, [Fraction(30), Fraction(40)]) == 30
    assert reveal_on_site(50, [Fraction(30), Fraction(40)]) == -20


@pytest.mark.parametrize(
    ("readings", "ready"),
    [([7, 8, 9], Ready.READY), ([11, 12], Ready.TOO_WET), ([4, 5], Ready.TOO_DRY), ([6, 11], Ready.UNEVEN)],
)
def test_lumber_is_ready_within_two_points_of_the_site(readings: list[int], ready: Ready) -> None:
    """Common practice, no source."""
    assert ready_to_machine(readings, Fraction(8)).ready is ready


def test_the_advice_names_its_numbers() -> None:
    assert str(ready_to_machine([11, 13], Fraction(8))) == (
        "too wet: it will shrink after machining. Readings 11.0 to 13.0 %, mean 12.0 %; "
        "on site it settles at 8.0 %, 4.0 points below."
    )


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: settles_at(20, 95), "a relative humidity in per cent of 95; 45 or from 5 to 90 would do"),
        (lambda: movement(0, Fraction(1), 8, 9), "a width in nm of 0"),
        (lambda: movement(1, Fraction(1), -1, 9), "a moisture content in per cent of -1"),
        (lambda: ready_to_machine([], Fraction(8)), "a number of readings of 0"),
    ],
)
def test_a_figure_that_no_air_or_wood_has_is_refused(call: object, message: str) -> None:
    with pytest.raises(MoistureError, match=message):
        call()


def test_a_species_that_is_not_in_the_table_is_told() -> None:
    assert len(SPECIES) == 40
    with pytest.raises(UnknownSpecies, match="Ash, white or Oak, white would do"):
        species("Ash, blue")
