"""Surfaced thicknesses of hardwood lumber, against reference/lumber_sizes.csv (NHLA standard thicknesses)."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from materials.calculations.surfaced import surfaced_nm

INCH_NM = 25_400_000  # NIST Handbook 44, appendix C: 1 in is 25.4 mm exactly
REFERENCE = Path(__file__).parents[1] / "reference" / "lumber_sizes.csv"


def published() -> list[tuple[str, Fraction, Fraction]]:
    with REFERENCE.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["standard"] == "NHLA hardwood" and row["quarter"]]
    return [(row["quarter"], Fraction(row["nominal_decimal_in"]), Fraction(row["finished_decimal_in"])) for row in rows]


@pytest.mark.parametrize(("quarter", "rough", "planed"), published())
def test_a_rough_thickness_has_the_published_surfaced_one(quarter: str, rough: Fraction, planed: Fraction) -> None:
    assert surfaced_nm(int(rough * INCH_NM)) == int(planed * INCH_NM)


def test_all_published_quarters_are_checked() -> None:
    assert len(published()) == 10


@pytest.mark.parametrize("rough", [0, 1, INCH_NM + 1, 9 * INCH_NM // 4, 20 * INCH_NM])
def test_no_thickness_is_made_up_where_the_rules_name_none(rough: int) -> None:
    assert surfaced_nm(rough) is None
