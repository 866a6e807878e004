"""Minor units, rounding, tax and profit against the published values of tests/reference."""

import csv
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from babel.numbers import get_currency_precision
from hypothesis import given
from hypothesis import strategies as st

from workshop.calculations.money import (
    CURRENCIES,
    MAX_MICRO,
    MAX_MINOR,
    AmountTooLarge,
    MoneyError,
    RateOutOfRange,
    UnknownCurrency,
    amount_to_micro,
    from_minor,
    margin_price,
    margin_to_markup,
    markup_price,
    markup_to_margin,
    micro_to_amount,
    minor_digits,
    part_of,
    round_half_up,
    tax_inside,
    tax_of,
    to_minor,
    within_limit,
)

REFERENCE = Path(__file__).parents[1] / "reference"


def _rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _money_rows(topic: str) -> list[dict[str, str]]:
    return [row for row in _rows("money.csv") if row["topic"] == topic]


ISO_PLACES = {row["code"]: row["minor_units"] for row in _rows("iso4217.csv")}


# Currencies. ISO 4217, list one of 2026-01-01 (iso4217.csv)


def test_every_current_currency_with_a_minor_unit_is_known_and_no_other() -> None:
    current = [code for code, places in ISO_PLACES.items() if places != "N.A."]

    assert list(CURRENCIES) == sorted(current)


@pytest.mark.parametrize("code", CURRENCIES)
def test_the_places_are_those_of_the_standard(code: str) -> None:
    assert minor_digits(code) == int(ISO_PLACES[code])


@pytest.mark.parametrize("row", _money_rows("iso4217 minor units"), ids=lambda row: row["item"])
def test_the_places_are_those_of_the_money_table(row: dict[str, str]) -> None:
    assert minor_digits(row["item"]) == int(row["value"])


def test_babel_agrees_but_for_the_currencies_whose_small_coins_are_out_of_use() -> None:
    differing = {code for code in CURRENCIES if get_currency_precision(code) != minor_digits(code)}

    assert differing == {
        *("AFN", "ALL", "IQD", "IRR", "KPW", "LAK", "LBP", "MGA", "MMK", "RSD", "SOS", "SYP", "YER"),
    }


@pytest.mark.parametrize("code", ["EURO", "usd", "", "XAU", "DEM", "BGN", "$", None])
def test_a_code_that_is_not_current_is_refused(code: str) -> None:
    with pytest.raises(UnknownCurrency, match=r"it is not a code of ISO 4217. Type USD or EUR"):
        minor_digits(code)


# Rounding


@pytest.mark.parametrize("row", _money_rows("decimal rounding"), ids=lambda row: row["item"].split()[0])
def test_a_half_goes_away_from_zero(row: dict[str, str]) -> None:
    """money.csv, computed there with the decimal module of Python."""
    amount, expected = row["item"].split()[0], row["value"].split(" / ")[0]

    minor = to_minor(Fraction(amount), "USD")

    assert from_minor(minor, "USD") == Fraction(expected)


@given(st.fractions(min_value=-(10**9), max_value=10**9, max_denominator=10**6))
def test_whole_numbers_are_the_nearest_ones(value: Fraction) -> None:
    whole = round_half_up(value)

    assert abs(whole - value) <= Fraction(1, 2)
    assert round_half_up(-value) == -whole


@given(st.decimals(min_value=-(10**9), max_value=10**9, places=4))
def test_rounding_is_that_of_the_decimal_library(value: Decimal) -> None:
    assert round_half_up(Fraction(value)) == int(value.quantize(Decimal(1), rounding=ROUND_HALF_UP))


@pytest.mark.parametrize(("currency", "minor"), [("JPY", 1235), ("USD", 123457), ("KWD", 1234568), ("CLF", 12345679)])
def test_an_amount_is_rounded_to_the_minor_unit_of_its_currency(currency: str, minor: int) -> None:
    assert to_minor(Fraction("1234.56789"), currency) == minor


@pytest.mark.parametrize("currency", ["JPY", "USD", "KWD", "CLF"])
def test_whole_minor_units_come_back_unchanged(currency: str) -> None:
    assert to_minor(from_minor(123457, currency), currency) == 123457


@pytest.mark.parametrize("minor", [MAX_MINOR, -MAX_MINOR, 0])
def test_ten_to_the_thirteenth_is_the_largest_amount(minor: int) -> None:
    assert within_limit(minor) == minor


@pytest.mark.parametrize("minor", [MAX_MINOR + 1, -MAX_MINOR - 1, 10**30])
def test_more_than_the_largest_amount_is_refused(minor: int) -> None:
    with pytest.raises(AmountTooLarge, match="it is more than an amount can be"):
        to_minor(Fraction(minor), "JPY")


@pytest.mark.parametrize("amount", [1.005, Decimal("1.005"), "1.005"])
def test_an_amount_that_is_not_exact_is_a_type_error(amount: object) -> None:
    with pytest.raises(TypeError, match="a whole number or a Fraction would do"):
        to_minor(amount, "USD")


# Unit prices


def test_a_price_is_held_in_millionths() -> None:
    assert amount_to_micro(Fraction("71.50")) == 71_500_000
    assert micro_to_amount(71_500_000) == Fraction(143, 2)


def test_a_price_finer_than_a_millionth_is_refused_with_its_neighbors() -> None:
    with pytest.raises(MoneyError, match=r"finer than a millionth. Type 0.333333 or 0.333334"):
        amount_to_micro(Fraction(1, 3))


def test_a_price_beyond_a_column_of_64_bits_is_refused() -> None:
    with pytest.raises(AmountTooLarge, match="cannot be read as a price"):
        amount_to_micro(Fraction(MAX_MICRO, 10**6) + 1)


# Tax


@pytest.mark.parametrize(
    "row",
    [row for row in _money_rows("sales tax rounding") if row["item"].startswith("tax before rounding")],
    ids=lambda row: row["item"].split()[-1],
)
def test_tax_is_rounded_as_the_streamlined_sales_tax_agreement_says(row: dict[str, str]) -> None:
    """money.csv: section 324, up to the next cent when the third decimal is over four."""
    before = Fraction(row["item"].split()[-1])

    assert to_minor(before, "USD") == Fraction(row["value"]) * 100


@pytest.mark.parametrize(
    ("net", "rate_ppm", "tax"),
    [(52889, 82500, 4363), (-52889, 82500, -4363), (100, 5000, 1), (99, 5000, 0), (52889, 0, 0)],
)
def test_tax_on_an_amount(net: int, rate_ppm: int, tax: int) -> None:
    """528.89 at 8.25 % is 43.633425; 0.5 % of 1.00 is half a cent. Worked by hand."""
    assert tax_of(net, rate_ppm) == tax


@pytest.mark.parametrize(
    ("gross", "rate_ppm", "tax"),
    [(10000, 82500, 762), (-10000, 82500, -762), (11900, 190000, 1900), (108, 80000, 8), (10000, 0, 0)],
)
def test_tax_inside_an_amount(gross: int, rate_ppm: int, tax: int) -> None:
    """100.00 x 8.25 / 108.25 is 7.6212...; 119.00 at 19 % holds 19.00. Worked by hand."""
    assert tax_inside(gross, rate_ppm) == tax


@given(st.integers(0, 10**9), st.integers(0, 10**7))
def test_tax_inside_the_sum_of_net_and_tax_is_that_tax(net: int, rate_ppm: int) -> None:
    tax = tax_of(net, rate_ppm)

    assert tax_inside(net + tax, rate_ppm) == tax


@pytest.mark.parametrize("tax", [tax_of, tax_inside])
@pytest.mark.parametrize(("rate_ppm", "typed"), [(-82500, "-8.25 %"), (10_000_001, "1000.0001 %")])
def test_a_rate_below_zero_or_far_too_high_is_refused(tax: object, rate_ppm: int, typed: str) -> None:
    with pytest.raises(RateOutOfRange, match=r"Type 0 % or 8.25 %") as refused:
        tax(10000, rate_ppm)

    assert refused.value.typed == typed


# Profit. money.csv, markup and margin


def test_cost_100_at_50_percent_markup_is_150() -> None:
    assert markup_price(10000, 500_000) == 15000


def test_cost_100_at_one_third_margin_is_150() -> None:
    assert margin_price(10000, 333_333) == 15000


@pytest.mark.parametrize(
    "row", [row for row in _money_rows("markup and margin") if "equals margin" in row["item"]], ids=str
)
def test_markup_and_margin_are_told_as_each_other(row: dict[str, str]) -> None:
    """The table prints markups to two places, 33.33 for a third, so the markup is held to two."""
    markup_ppm = int(Fraction(row["item"].split()[1]) * 10000)
    margin_ppm = int(Fraction(row["value"]) * 10000)

    assert round_half_up(Fraction(margin_to_markup(margin_ppm), 100)) * 100 == markup_ppm
    assert abs(markup_to_margin(markup_ppm) - margin_ppm) <= 20


@pytest.mark.parametrize(("markup_ppm", "margin_ppm"), [(500_000, 333_333), (200_000, 166_667), (1_000_000, 500_000)])
def test_exact_markups_give_the_margin_to_four_places(markup_ppm: int, margin_ppm: int) -> None:
    assert markup_to_margin(markup_ppm) == margin_ppm


@pytest.mark.parametrize("reckon", [lambda ppm: margin_price(100, ppm), margin_to_markup])
@pytest.mark.parametrize("margin_ppm", [1_000_000, 1_500_000])
def test_a_margin_of_100_percent_and_over_is_refused(reckon: object, margin_ppm: int) -> None:
    with pytest.raises(RateOutOfRange, match=r"leaves nothing for the cost. Type 20 % or 33.3 %"):
        reckon(margin_ppm)


@pytest.mark.parametrize("reckon", [markup_price, margin_price])
def test_a_profit_below_zero_is_refused(reckon: object) -> None:
    with pytest.raises(RateOutOfRange, match="it is below zero"):
        reckon(10000, -1)


def test_a_part_is_rounded_once() -> None:
    assert part_of(125, 100_000) == 13
    assert part_of(-125, 100_000) == -13
