"""Light strips against Ohm's law, a wire resistance table and the limits of Class 2."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.calculations.light import CLASS_2_WATTS, LightError, Strip, drop, ohms, supplies, watts

FILE = Path(__file__).resolve().parents[2] / "reference" / "safety.csv"
METER, THOUSAND_FEET = 10**9, 304_800_000_000


@pytest.mark.parametrize(("gauge", "published"), [(14, 3.07), (12, 1.93), (10, 1.21)])
def test_a_wire_at_75_degrees_has_the_resistance_of_the_code_s_table(gauge: int, published: float) -> None:
    """National Electrical Code, Chapter 9, Table 8, uncoated copper (read as reprinted on voltdropcalc.com)."""
    assert float(ohms(THOUSAND_FEET, gauge) / 2) == pytest.approx(published, abs=0.006)


@pytest.mark.parametrize(
    ("gauge", "published"),
    [(12, "1.588"), (14, "2.525"), (16, "4.016"), (18, "6.385"), (20, "10.15"), (22, "16.14"), (24, "25.67")],
)
def test_a_wire_at_20_degrees_has_the_resistance_of_the_wire_table(gauge: int, published: str) -> None:
    """Wire resistance table of Cirris, ohms for 100 ft of one conductor (read)."""
    assert ohms(THOUSAND_FEET, gauge, 20) / 2 == Fraction(published)


def test_a_wire_between_two_published_temperatures() -> None:
    """electricianmath.com, Conductor Resistance: 400 ft of 18 AWG have 2.602 ohm (read; 25 degrees from memory)."""
    assert float(ohms(THOUSAND_FEET * 4 // 10, 18, 25) / 2) == pytest.approx(2.602, abs=0.004)


@pytest.mark.parametrize("volts", [12, 24])
def test_the_limits_of_class_2_are_those_published(volts: int) -> None:
    with FILE.open(encoding="utf-8", newline="") as opened:
        published = {row["item"]: row["value"] for row in csv.DictReader(opened)}

    assert CLASS_2_WATTS[volts] == int(published[f"Class 2 driver, {volts} V DC"])


def test_the_drop_is_amperes_times_ohms_there_and_back() -> None:
    """Ohm's law by hand: 48 W at 24 V are 2 A; 2 x 5 m of 18 AWG have 10 / 304.8 x 6.385 = 0.20948 ohm."""
    made = drop(Strip(Fraction("9.6"), 24, Fraction("0.04")), 5 * METER, 5 * METER, 18, 20)

    assert float(made.feed_volts) == pytest.approx(2 * 0.20948, abs=0.0001)
    assert made.strip_volts == 2 * Fraction("0.2") / 2
    assert made.share == made.volts / 24


def test_half_the_voltage_loses_four_times_the_share() -> None:
    at_24, at_12 = (drop(Strip(Fraction(10), volts), 5 * METER, 5 * METER, 18).share for volts in (24, 12))

    assert at_12 == 4 * at_24


def test_runs_are_split_over_supplies_of_class_2_with_headroom() -> None:
    made = supplies([Fraction(40), Fraction(60), Fraction(30)], 24, [30, 60, 96])

    assert [(each.runs, each.rated_watts, each.load_watts) for each in made] == [((1,), 96, 60), ((0, 2), 96, 70)]
    assert all(each.is_class_2 for each in made)


def test_a_run_beyond_class_2_is_told_and_left_to_the_electrician() -> None:
    made = supplies([Fraction(100)], 24, [96, 150])

    assert (made[0].is_class_2, made[0].rated_watts) == (False, 150)
    assert "A licensed electrician and the local code decide." in made[0].note


def test_a_supply_is_no_more_than_the_headroom_leaves() -> None:
    assert supplies([Fraction("76.8")], 24, [60, 96])[0].rated_watts == 96
    with pytest.raises(LightError, match="a larger supply or the run fed in two parts would do"):
        supplies([Fraction(77)], 24, [60, 96])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: watts(0, Strip(Fraction(9), 24)), "a length in m of 0; 1 or 5 would do"),
        (lambda: watts(METER, Strip(Fraction(0), 24)), "watts for a meter of 0"),
        (lambda: supplies([Fraction(1)], 5, [60]), "volts of 5; 12 or 24 would do"),
        (lambda: supplies([Fraction(1)], 24, []), "a supply in watts of 0"),
        (lambda: supplies([Fraction(1)], 24, [60], 100), "a headroom in per cent of 100"),
        (lambda: ohms(METER, 13), "a wire gauge of 13; 18 or 16 would do"),
    ],
)
def test_a_figure_that_no_strip_or_wire_has_is_refused(call: object, message: str) -> None:
    with pytest.raises(LightError, match=message):
        call()
