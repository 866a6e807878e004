"""Colors and their differences against published tables."""

import csv
from itertools import pairwise
from pathlib import Path
from random import Random

import pytest

from materials.calculations.color import (
    Lab,
    NotALightness,
    NotAnSrgbValue,
    ciede2000,
    difference_ab,
    differences,
    differences_of_grades,
    differences_of_lightness,
    in_ten_thousandths,
    lab,
    srgb_to_lab,
)
from materials.calculations.color_steps import GRAY_SCALE, Step, gray_scale_grade, step

REFERENCE = Path(__file__).resolve().parents[2] / "reference" / "tone"


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


PAIRS = rows("ciede2000_sharma2005.csv")
POINTS = rows("srgb_cielab_d65.csv")
GRAY = [row for row in rows("thresholds.csv") if row["topic"] == "grey scale"]
AT_WOOD_TONE = [row for row in rows("thresholds.csv") if row["topic"] == "grey scale at wood tone"]


# CIEDE2000: Sharma, Wu, Dalal 2005, Table 1, printed to four decimals


def test_the_table_has_all_34_pairs() -> None:
    assert len(PAIRS) == 34


@pytest.mark.parametrize("row", PAIRS, ids=[row["pair"] for row in PAIRS])
def test_ciede2000_rounds_to_the_printed_value_both_ways_round(row: dict[str, str]) -> None:
    one = Lab(*(float(row[name]) for name in ("L1", "a1", "b1")))
    other = Lab(*(float(row[name]) for name in ("L2", "a2", "b2")))

    assert [f"{ciede2000(one, other):.4f}", f"{ciede2000(other, one):.4f}"] == [row["deltaE00"]] * 2


def test_ciede2000_is_that_of_a_reference_library_for_wood_tones() -> None:
    library = pytest.importorskip("coloraide").Color  # coloraide, delta_e(method="2000")
    draw = Random(5)
    colors = [(draw.uniform(20, 95), draw.uniform(-5, 25), draw.uniform(-5, 45)) for _ in range(40)]

    for one, other in pairwise(colors):
        expected = library("lab-d65", one).delta_e(library("lab-d65", other), method="2000")
        assert ciede2000(Lab(*one), Lab(*other)) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("row", AT_WOOD_TONE, ids=[row["note"] for row in AT_WOOD_TONE])
def test_a_gray_step_at_a_wood_tone_is_as_large_as_computed_from_the_formula(row: dict[str, str]) -> None:
    lower = float(row["note"].split("against (")[1].split(",")[0])

    assert round(ciede2000(lab(78, 5, 19), lab(lower, 5, 19)), 4) == float(row["value"])


def test_a_color_differs_from_itself_by_nothing() -> None:
    assert ciede2000(lab(78, 5, 19), lab(78, 5, 19)) == 0


# A whole lot


def test_the_differences_of_a_lot_are_those_of_its_pairs() -> None:
    draw = Random(7)
    colors = [lab(draw.uniform(50, 90), draw.uniform(0, 12), draw.uniform(10, 30)) for _ in range(12)]

    square = differences(colors)

    assert square == [[in_ten_thousandths(ciede2000(one, other)) for other in colors] for one in colors]
    assert square == [list(column) for column in zip(*square, strict=True)]


def test_lightness_alone_is_ciede2000_of_grays() -> None:
    assert differences_of_lightness([80, 70.5])[0][1] == in_ten_thousandths(ciede2000(lab(80, 0, 0), lab(70.5, 0, 0)))


def test_steps_by_eye_differ_by_whole_steps() -> None:
    assert differences_of_grades([1, 3, 6]) == [[0, 20000, 50000], [20000, 0, 30000], [50000, 30000, 0]]


# sRGB: published points (Lindbloom) to the last digit of its table, libraries within their spread of 0.03


@pytest.mark.parametrize("row", POINTS, ids=[row["name"] for row in POINTS])
def test_srgb_comes_to_the_published_cielab(row: dict[str, str]) -> None:
    found = srgb_to_lab(*(int(row[name]) for name in "RGB"))

    if row["published_L"]:
        assert found == pytest.approx([float(row[f"published_{name}"]) for name in "Lab"], abs=6e-5)
    assert found == pytest.approx([float(row[f"coloraide_{name}"]) for name in "Lab"], abs=0.03)


@pytest.mark.parametrize("value", [-1, 256, float("nan")])
def test_an_srgb_value_outside_its_range_is_refused(value: float) -> None:
    with pytest.raises(NotAnSrgbValue, match=r"is not from 0 to 255; 200 or 127\.5 would do"):
        srgb_to_lab(10, value, 10)


@pytest.mark.parametrize("lightness", [-0.1, 100.5, float("nan")])
def test_a_lightness_outside_its_range_is_refused(lightness: float) -> None:
    with pytest.raises(NotALightness, match=r"is not from 0 to 100; 78\.5 or 80 would do"):
        lab(lightness, 5, 19)


# Words and grades


def test_the_gray_scale_is_that_of_iso_105_a02() -> None:
    told = {row["item"].removeprefix("ISO 105-A02 grade "): float(row["value"]) for row in GRAY}

    assert {one.grade: one.difference for one in GRAY_SCALE} == told


@pytest.mark.parametrize("row", GRAY[1:], ids=[row["item"] for row in GRAY[1:]])
def test_the_tolerances_of_the_gray_scale_are_those_of_the_standard(row: dict[str, str]) -> None:
    tolerance = next(one.tolerance for one in GRAY_SCALE if row["item"].endswith(f"grade {one.grade}"))

    assert f"tolerance +/- {tolerance:g}" in row["note"]


@pytest.mark.parametrize(
    ("difference", "grade"), [(0, "5"), (0.39, "5"), (0.4, "4-5"), (1.7, "4"), (2.9, "3-4"), (2.95, "3"), (40, "1")]
)
def test_a_difference_takes_the_nearest_grade_and_of_two_the_worse(difference: float, grade: str) -> None:
    assert gray_scale_grade(difference) == grade


def test_a_difference_of_1976_is_the_straight_distance() -> None:
    assert difference_ab(lab(50, 0, 3), lab(50, 4, 0)) == 5


@pytest.mark.parametrize(  # Paravina et al. 2015 for 0.8 and 1.8; 3 and 5 are our judgement
    ("difference", "word"),
    [
        (0, Step.HARDLY_SEEN),
        (8_000, Step.HARDLY_SEEN),
        (8_001, Step.SEEN_BESIDE_EACH_OTHER),
        (18_000, Step.SEEN_BESIDE_EACH_OTHER),
        (30_000, Step.SEEN),
        (50_000, Step.PLAIN),
        (50_001, Step.TWO_TONES),
    ],
)
def test_a_step_between_neighbors_has_a_word(difference: int, word: Step) -> None:
    assert step(difference) is word
