"""Amounts with their unit, against reference/units.csv (NIST Handbook 44 App. C, NIST SP 811, AHEC)."""

import csv
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import DimensionalityError, UndefinedUnitError

from workshop.calculations.numerals import round_half_up
from workshop.calculations.units import (
    UNITS,
    UnknownUnit,
    WrongDimension,
    amount_in,
    from_micro,
    quantity,
    registry,
    to_micro,
)

REFERENCE = Path(__file__).parents[1] / "reference" / "units.csv"
WITH_NAMES_OF_OUR_OWN = {"thousand board feet": "thousand_board_feet"}
NOT_OF_THE_TRADE = {"square (roofing, siding)", "cord", "US liquid pint", "Imperial gallon"}


def published_units() -> list[tuple[str, Fraction, str]]:
    with REFERENCE.open(encoding="utf-8", newline="") as file:
        return [
            (
                WITH_NAMES_OF_OUR_OWN.get(row["name"], row["pint_name"]),
                Fraction(row["exact_value"]),
                row["unit"],
            )
            for row in csv.DictReader(file)
            if row["name"] not in NOT_OF_THE_TRADE
        ]


@pytest.mark.parametrize(("name", "value", "unit"), published_units())
def test_a_unit_has_exactly_its_published_value(name: str, value: Fraction, unit: str) -> None:
    measured = registry.Quantity(1, name).to(unit)

    assert measured.magnitude == value


def test_all_published_units_of_the_trade_are_checked() -> None:
    assert len(published_units()) == 21


@pytest.mark.parametrize(
    ("amount", "code", "other", "expected"),
    [
        (1, "cubic_foot", "board_foot", Fraction(12)),
        (1, "gallon", "quart", Fraction(4)),
        (1, "gallon", "liter", Fraction("3.785411784")),
        (1, "square_meter", "square_foot", 1 / Fraction("0.09290304")),
        (Fraction(1, 3), "foot", "inch", Fraction(4)),
        (1, "cubic_meter", "board_foot", 1 / Fraction("0.002359737216")),
        (1, "square_meter_coat", "square_foot_coat", 1 / Fraction("0.09290304")),
    ],
)
def test_an_amount_is_told_exactly_in_another_unit(amount, code, other, expected) -> None:
    assert amount_in(quantity(amount, code), other) == expected


@pytest.mark.parametrize("code", UNITS)
def test_every_code_is_a_unit_of_the_registry_and_fits_a_column(code: str) -> None:
    unit = UNITS[code]

    assert amount_in(quantity(Fraction(5, 2), code), code) == Fraction(5, 2)
    assert code == unit.code == code.lower()
    assert code.isascii()
    assert len(code) <= 20
    assert unit.one
    assert unit.many


def test_the_codes_are_those_that_columns_hold() -> None:
    counts = {"sheet", "board", "piece", "box", "hole", "coat", "lump", "load"}
    packs = {"pack", "bundle", "pail", "can", "drum", "roll"}
    sizes = {"foot", "inch", "millimeter", "meter", "square_foot", "square_meter"}
    volumes = {
        "board_foot",
        "thousand_board_feet",
        "cubic_foot",
        "cubic_meter",
        "gallon",
        "quart",
        "liter",
        "milliliter",
    }
    others = {"hour", "minute", "pound", "kilogram", "square_foot_coat", "square_meter_coat"}

    assert set(UNITS) == counts | packs | sizes | volumes | others


@given(st.fractions(), st.sampled_from(sorted(UNITS)), st.sampled_from(sorted(UNITS)))
def test_units_convert_there_and_back_exactly_or_not_at_all(amount, code, other) -> None:
    measured = quantity(amount, code)
    alike = registry.Unit(code).dimensionality == registry.Unit(other).dimensionality

    if alike:
        assert amount_in(quantity(amount_in(measured, other), other), code) == amount
    else:
        with pytest.raises(WrongDimension):
            amount_in(measured, other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("foot", "square_foot"),
        ("square_foot", "square_foot_coat"),
        ("sheet", "board"),
        ("hole", "coat"),
        ("box", "piece"),
        ("lump", "piece"),
        ("hour", "foot"),
        ("gallon", "square_foot"),
    ],
)
def test_amounts_of_different_kinds_cannot_be_added(one: str, other: str) -> None:
    with pytest.raises(DimensionalityError):
        quantity(1, one) + quantity(1, other)


def test_a_bare_number_cannot_be_added_to_an_amount() -> None:
    with pytest.raises(DimensionalityError):
        quantity(1, "sheet") + 1


def test_a_length_times_a_length_is_an_area_and_times_coats_an_area_of_coats() -> None:
    area = quantity(4, "foot") * quantity(8, "foot")

    assert amount_in(area, "square_foot") == 32
    assert amount_in(area * quantity(3, "coat"), "square_foot_coat") == 96


@pytest.mark.parametrize(
    ("measured", "code", "message"),
    [
        (
            quantity(1, "foot"),
            "square_foot",
            "a length cannot be told as an area; 2 sq ft or 12 sq ft would do",
        ),
        (quantity(1, "sheet"), "hour", "a number of sheets cannot be told as a time; 2 h or 12 h would do"),
        (quantity(1, "foot") * quantity(2, "foot"), "hole", "an area cannot be told as a number of holes"),
        (quantity(1, "foot") * quantity(2, "sheet"), "box", "an amount of another kind cannot be told as"),
    ],
)
def test_a_wrong_dimension_names_both(measured, code: str, message: str) -> None:
    with pytest.raises(WrongDimension, match=message):
        amount_in(measured, code)


@pytest.mark.parametrize("code", ["acre_foot", "MBF", "", None, "Sheet", "__class__", "foot**2", ["foot"]])
def test_a_code_that_no_column_holds_is_refused(code: object) -> None:
    with pytest.raises(UnknownUnit, match="is not known; sheet or board_foot would do"):
        quantity(1, code)
    with pytest.raises(UnknownUnit):
        amount_in(quantity(1, "foot"), code)


@pytest.mark.parametrize("amount", [1.5, Decimal("1.5"), "1.5", True, None])
def test_an_amount_that_is_not_exact_is_refused(amount: object) -> None:
    with pytest.raises(TypeError, match=r"is not exact; 5 or Fraction\(5, 2\) would do"):
        quantity(amount, "foot")


def test_mbf_is_a_thousand_board_feet_and_mil_a_thousandth_of_an_inch() -> None:
    assert registry.Quantity(1, "MBF").to("board_foot").magnitude == 1000
    assert registry.Quantity(1, "mil").to("inch").magnitude == Fraction(1, 1000)


@pytest.mark.parametrize("name", ["megaboard_foot", "Mboard_foot", "FBM", "survey_foot", "cord", "mmil", "ksheet"])
def test_no_unit_arises_from_a_prefix_or_from_outside_the_trade(name: str) -> None:
    with pytest.raises(UndefinedUnitError):
        registry.Unit(name)


@given(st.integers(-(10**15), 10**15))
def test_millionths_come_back_as_they_went(micro: int) -> None:
    assert to_micro(from_micro(micro)) == micro


@pytest.mark.parametrize(
    ("amount", "micro"),
    [
        (Fraction(5, 2), 2_500_000),
        (Fraction(1, 3), 333_333),
        (Fraction(2, 3), 666_667),
        (Fraction(1, 2_000_000), 1),
        (Fraction(-1, 2_000_000), -1),
        (Fraction(3, 2_000_000), 2),
        (7, 7_000_000),
    ],
)
def test_millionths_are_rounded_half_away_from_zero(amount: Fraction, micro: int) -> None:
    assert to_micro(amount) == micro


@given(st.decimals(min_value=-(10**9), max_value=10**9, places=3))
def test_rounding_agrees_with_the_decimal_library(value: Decimal) -> None:
    assert round_half_up(Fraction(value)) == value.quantize(Decimal(1), ROUND_HALF_UP)
