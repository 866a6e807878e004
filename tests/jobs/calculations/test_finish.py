"""Finish against published coverage and films (tests/reference/SOURCES.md, finish_coverage.csv)."""

import csv
from fractions import Fraction
from itertools import product
from pathlib import Path
from random import Random

import pytest

from jobs.calculations.coats import Can, Coat, cans, hours_until_dry, needed, racks
from jobs.calculations.finish import (
    MICROMETERS_IN_MIL,
    FinishError,
    Side,
    areas,
    dry_film,
    in_square_feet_a_gallon,
    spreading_rate,
    thinned,
    wet_film,
)

FILE = Path(__file__).resolve().parents[2] / "reference" / "finish_coverage.csv"
with FILE.open(encoding="utf-8", newline="") as opened:
    PUBLISHED = {
        row["id"]: Fraction(row["published"])
        for row in csv.DictReader(opened)
        if row["published"].replace(".", "").isdecimal()
    }
METER = 10**9


def us(solids: Fraction | int, mil: Fraction | int, transfer: Fraction | int = 1) -> float:
    return float(in_square_feet_a_gallon(spreading_rate(solids, mil * MICROMETERS_IN_MIL, transfer)))


@pytest.mark.parametrize(
    ("name", "found", "within"),
    [
        ("constant", us(100, 1), 0.2),
        ("coverage_65_5", us(65, 5), 0.03),
        ("coverage_65_125um", float(spreading_rate(65, 125)), 0),
        ("coverage_52_1.5_te30", us(52, Fraction("1.5"), Fraction("0.3")), 0.5),
        ("coverage_50_dry1", us(50, 1), 0.1),
        ("wet_10mil", us(100, 10), 0.01),
        ("wft_from_dft", float(wet_film(Fraction("1.5"), 42)), 0.005),
    ],
)
def test_a_published_figure_is_met(name: str, found: float, within: float) -> None:
    """Ron Joseph, Paints and Coatings Resource Center (2003), Spreading Rate sheet, GEI International and others."""
    assert found == pytest.approx(float(PUBLISHED[name]), abs=within + 1e-9)


def test_three_coats_build_the_sum_of_their_dry_films() -> None:
    """Own example on the rule dry = wet x volume solids, computed."""
    assert 3 * dry_film(4, 30) == Fraction("3.6")


def test_thinner_lowers_the_volume_solids_by_its_share() -> None:
    """Rule stated by Paints and Coatings Resource Center (2003); own figures."""
    assert round(float(thinned(42, 10)), 4) == 38.1818


def test_thinner_adds_volume_and_not_cover() -> None:
    plain, thin = (needed([Coat("satin", Fraction(8), thinner_percent=Fraction(p))], Fraction(40))[0] for p in (0, 10))

    assert (plain.liters, thin.liters, thin.thinner_liters) == (5, 5, Fraction("0.5"))


def test_a_sealer_and_two_coats_of_satin_are_two_products() -> None:
    coats = [
        Coat("sealer", Fraction(10)),
        Coat("satin", Fraction(8)),
        Coat("satin", Fraction(8), transfer=Fraction(1, 2)),
    ]

    assert [(each.product, each.liters) for each in needed(coats, Fraction(40))] == [("sealer", 4), ("satin", 15)]


def test_a_coat_without_a_label_rate_covers_by_its_solids_and_film() -> None:
    coat = Coat("satin", solids_percent=Fraction(65), dry_film_micrometers=Fraction(125))

    assert needed([coat], Fraction(52))[0].liters == 10


def test_backs_count_where_they_are_sealed_and_edges_where_they_are_marked() -> None:
    made = areas([Side(2 * METER, METER, METER // 50, 3, back=True, edges=(2, 1))])

    assert (made.face, made.back, made.edge) == (6, 6, Fraction(3, 10))


def test_sheets_bought_finished_take_finish_on_cut_edges_only() -> None:
    made = areas([Side(2 * METER, METER, METER // 50, back=True, edges=(1, 1))], bought_finished=True)

    assert (made.face, made.back, made.total) == (0, 0, Fraction(6, 100))


@pytest.mark.parametrize("seed", range(40))
def test_no_other_cans_cost_less_or_leave_less_over(seed: int) -> None:
    random = Random(seed)
    sizes = [Can(Fraction(random.randint(1, 12), 2), random.randint(100, 900)) for _ in range(random.randint(1, 3))]
    liters = Fraction(random.randint(1, 40), 3)
    most = [range(int(-(-liters // can.liters)) + 1) for can in sizes]
    filled = [
        (sum(n * can.price_minor for n, can in zip(counts, sizes, strict=True)), held - liters)
        for counts in product(*most)
        if (held := sum(n * can.liters for n, can in zip(counts, sizes, strict=True))) >= liters
    ]

    made = cans(liters, sizes)

    assert (made.price_minor, made.over_liters) == min(filled)
    assert sum(n * can.liters for n, can in zip(made.counts, sizes, strict=True)) - liters == made.over_liters


def test_of_cans_that_cost_the_same_the_least_is_left_over() -> None:
    assert cans(Fraction(4), [Can(Fraction(5), 5000), Can(Fraction(4), 5000)]).counts == (0, 1)


def test_nothing_to_coat_takes_no_can() -> None:
    assert cans(Fraction(0), [Can(Fraction(1), 100)]).counts == (0,)


def test_a_rack_is_in_the_finish_from_its_first_coat_until_the_last_is_dry() -> None:
    coats = [
        Coat("sealer", recoat_hours=Fraction(1)),
        *[Coat("satin", recoat_hours=Fraction(3), dry_hours=Fraction(12))] * 2,
    ]

    assert hours_until_dry(coats) == 1 + 3 + 12
    assert racks(45, 20) == 3


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: spreading_rate(0, 25), "volume solids in per cent of 0; 50 or 100 would do"),
        (lambda: spreading_rate(50, 0), "a dry film in micrometers of 0"),
        (lambda: thinned(42, -1), "thinner in per cent of -1"),
        (lambda: needed([Coat("satin")], Fraction(1)), "the label's rate or volume solids and film would do"),
        (lambda: cans(Fraction(1), []), "a number of can sizes of 0"),
        (lambda: racks(1, 0), "a drying space in pieces of 0"),
    ],
)
def test_a_figure_that_no_finish_has_is_refused(call: object, message: str) -> None:
    with pytest.raises(FinishError, match=message):
        call()
