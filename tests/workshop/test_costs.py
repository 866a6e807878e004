"""Quantity times rate for every kind of rate.

Conversions by definition: NIST Handbook 44, appendix C (gallon 231 cubic inches, foot 0.3048 m); board foot
144 cubic inches (American Hardwood Export Council, Measurement). The money is worked by hand from them.
"""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workshop.calculations.costs import Rate, cost, rate_from_micro
from workshop.calculations.money import AmountTooLarge, UnknownCurrency, round_half_up
from workshop.calculations.units import UNITS, UnknownUnit, WrongDimension, quantity


def _usd(price: str, per: str) -> Rate:
    return Rate(Fraction(price), "USD", per)


@pytest.mark.parametrize(
    ("amount", "unit", "price", "per", "minor"),
    [
        pytest.param(42, "sheet", "71.50", "sheet", 300300, id="a sheet"),
        pytest.param("87.5", "board_foot", "6.35", "board_foot", 55563, id="a board foot, 555.625 up"),
        pytest.param(1, "cubic_foot", "6.35", "board_foot", 7620, id="12 board feet to the cubic foot"),
        pytest.param("147.5", "inch", "3.85", "foot", 4732, id="a linear foot, 12 7/24 ft"),
        pytest.param(3000, "millimeter", "3.85", "foot", 3789, id="a linear foot, 9.8425 ft"),
        pytest.param(32, "square_foot", "24.00", "square_meter", 7135, id="a square meter, 2.97289728 m2"),
        pytest.param("0.75", "square_meter", "24.00", "square_meter", 1800, id="a square meter"),
        pytest.param(3, "quart", "58.40", "gallon", 4380, id="a gallon, 3/4"),
        pytest.param(5, "liter", "58.40", "gallon", 7714, id="a gallon, 1.32086 gal"),
        pytest.param("6.75", "hour", "48.00", "hour", 32400, id="an hour"),
        pytest.param(Fraction(20, 60), "hour", "48.50", "hour", 1617, id="an hour, twenty minutes"),
        pytest.param(1260, "hole", "0.0845", "hole", 10647, id="a hole"),
        pytest.param(640, "square_foot_coat", "0.31", "square_foot_coat", 19840, id="a square foot of a coat"),
        pytest.param(10, "square_meter_coat", "0.31", "square_foot_coat", 3337, id="107.639 square feet of a coat"),
        pytest.param(1, "lump", "315.00", "lump", 31500, id="a lump"),
    ],
)
def test_a_cost_is_quantity_times_rate_rounded_once(
    amount: int | str | Fraction, unit: str, price: str, per: str, minor: int
) -> None:
    assert cost(quantity(Fraction(amount), unit), _usd(price, per)) == minor


@pytest.mark.parametrize(("currency", "minor"), [("JPY", 1), ("USD", 50), ("KWD", 500), ("CLF", 5000)])
def test_a_half_of_the_major_unit_is_rounded_to_the_minor_unit_of_its_currency(currency: str, minor: int) -> None:
    assert cost(quantity(Fraction(1, 2), "hour"), Rate(Fraction(1), currency, "hour")) == minor


@pytest.mark.parametrize(("amount", "minor"), [("0.5", 1), ("-0.5", -1), ("0.49", 0), ("1.5", 2)])
def test_an_exact_half_goes_away_from_zero(amount: str, minor: int) -> None:
    assert cost(quantity(Fraction(amount), "hole"), _usd("0.01", "hole")) == minor


def test_inches_at_a_rate_per_foot_are_converted_without_rounding() -> None:
    """5 in at 0.012 a foot is half a cent exactly; by 0.4167 ft or less it would come out as none."""
    assert cost(quantity(5, "inch"), _usd("0.012", "foot")) == 1


@pytest.mark.parametrize(
    ("unit", "per", "got", "wanted"),
    [
        ("square_foot", "foot", "an area", "a length"),
        ("sheet", "board", "a number of sheets", "a number of boards"),
        ("square_foot", "square_foot_coat", "an area", "an area times coats"),
        ("hour", "lump", "a time", "a number of lumps"),
        ("hole", "hour", "a number of holes", "a time"),
    ],
)
def test_a_quantity_of_another_kind_is_refused_and_both_kinds_are_named(
    unit: str, per: str, got: str, wanted: str
) -> None:
    with pytest.raises(WrongDimension, match=f"{got} cannot be told as {wanted}"):
        cost(quantity(1, unit), _usd("1.00", per))


@settings(deadline=None)
@given(
    st.sampled_from(sorted(UNITS)),
    st.fractions(min_value=-1000, max_value=1000, max_denominator=64),
    st.integers(0, 10**9),
)
def test_without_a_conversion_a_cost_is_the_rounded_product(unit: str, amount: Fraction, price_micro: int) -> None:
    rate = rate_from_micro(price_micro, "KWD", unit)

    assert cost(quantity(amount, unit), rate) == round_half_up(amount * Fraction(price_micro, 1000))


def test_a_rate_of_a_stored_price_is_exact() -> None:
    assert rate_from_micro(71_500_000, "USD", "sheet") == _usd("71.50", "sheet")


def test_a_cost_beyond_the_largest_amount_is_refused() -> None:
    with pytest.raises(AmountTooLarge, match="it is more than an amount can be"):
        cost(quantity(10**9, "sheet"), _usd("1000000", "sheet"))


@pytest.mark.parametrize(
    ("price", "currency", "per", "kind"),
    [
        (71.5, "USD", "sheet", TypeError),
        (Fraction(1), "EURO", "sheet", UnknownCurrency),
        (Fraction(1), "USD", "armful", UnknownUnit),
    ],
)
def test_a_rate_that_cannot_be_used_is_not_made(price: object, currency: str, per: str, kind: type[Exception]) -> None:
    with pytest.raises(kind, match=r"would do|Type USD or EUR"):
        Rate(price, currency, per)
