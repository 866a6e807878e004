"""Reading amounts, unit prices and percentages; what is taken and refused is a house rule."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workshop.calculations.money import (
    CURRENCIES,
    MAX_MICRO,
    MAX_MINOR,
    MAX_PPM,
    AmountTooLarge,
    MoneyError,
    RateOutOfRange,
    amount_to_micro,
    plain_money,
    plain_percent,
    plain_price,
    read_money,
    read_percent,
    read_price,
    show_money,
    to_minor,
)

HOSTILE = [
    "",
    "   ",
    "NaN",
    "Infinity",
    "1e400",
    "1e3",
    "0x10",
    "1_000",
    "\0",
    "5\0",
    "<b>5</b>",
    "'; drop table",
    "=1+1",
    "x" * 100_000,
    "9" * 100_000,
    " " * 100_000 + "5x",
    "1" + "0" * 30,
    "٧١٫٥٠",
    "７１",
    "²",
    "½",
    "--5",
    "5-",
    "+5",
    "(5.00)",
    ".",
    ",",
    "$",
    "12 sheets",
    "30 February",
]


@pytest.mark.parametrize(
    ("text", "currency", "mark", "amount"),
    [
        ("71.50", "USD", ".", "71.50"),
        ("  71.5 ", "USD", ".", "71.50"),
        ("71.", "USD", ".", "71"),
        (".50", "USD", ".", "0.50"),
        ("0", "USD", ".", "0"),
        ("007.50", "USD", ".", "7.50"),
        ("71.500", "USD", ".", "71.50"),
        ("$71.50", "USD", ".", "71.50"),
        ("$ 71.50", "USD", ".", "71.50"),
        ("US$71.50", "USD", ".", "71.50"),
        ("71.50 USD", "USD", ".", "71.50"),
        ("usd 71.50", "USD", ".", "71.50"),
        ("$71.50 USD", "USD", ".", "71.50"),
        ("$71.50", "CAD", ".", "71.50"),
        ("71,50 €", "EUR", ",", "71.50"),
        ("¥1250", "JPY", ".", "1250"),
        ("1.250 KWD", "KWD", ".", "1.25"),
        ("1,234.50", "USD", ".", "1234.50"),
        ("1,234", "USD", ".", "1234"),
        ("1,234,567.89", "USD", ".", "1234567.89"),
        ("1.234,50", "EUR", ",", "1234.50"),
        ("1.234", "EUR", ",", "1234"),
        ("1 234,50 kr", "SEK", ",", "1234.50"),
        ("1\u202f234,50\u00a0€", "EUR", ",", "1234.50"),
        ("CHF 1’234.50", "CHF", ".", "1234.50"),
        ("1,234.500", "KWD", ".", "1234.50"),
    ],
)
def test_amounts_are_read_as_they_stand_on_invoices(text: str, currency: str, mark: str, amount: str) -> None:
    assert read_money(text, currency, mark) == Fraction(amount)


@pytest.mark.parametrize(
    ("text", "currency", "mark", "would_do"),
    [
        ("1,23", "USD", ".", ("1.23", "123")),
        ("1.23", "EUR", ",", ("1,23", "123")),
        ("1.234,50", "USD", ".", ("1234.50", "123450")),
        ("1,234.50", "EUR", ",", ("1234,50", "123450")),
        ("1.234.567", "USD", ".", ("1234567", "1,234,567")),
        ("1,234,56", "USD", ".", ("123456", "123,456")),
        ("0,123", "USD", ".", ("0.12", "123")),
        ("1,2345", "USD", ".", ("1.23", "12345")),
        ("1 2", "USD", ".", ("12", "12.50")),
        ("1,234", "KWD", ".", ("1.234", "1234")),
        ("1,234 567", "USD", ".", ("1.23", "1234567")),
    ],
)
def test_what_can_be_read_two_ways_is_refused_with_both(
    text: str, currency: str, mark: str, would_do: tuple[str, str]
) -> None:
    with pytest.raises(MoneyError, match="it can be read two ways") as refused:
        read_money(text, currency, mark)

    assert refused.value.would_do == would_do


@pytest.mark.parametrize(
    ("text", "currency", "would_do"),
    [
        ("71.5049", "USD", ("71.50", "71.51")),
        ("1.234", "USD", ("1.23", "1234")),
        ("71.50", "JPY", ("71", "72")),
        ("1.2345", "KWD", ("1.234", "1.235")),
        ("0.00001", "CLF", ("0.0000", "0.0001")),
    ],
)
def test_an_amount_finer_than_the_minor_unit_is_refused(text: str, currency: str, would_do: tuple[str, str]) -> None:
    with pytest.raises(MoneyError, match="it is finer than the smallest unit of its currency") as refused:
        read_money(text, currency)

    assert refused.value.would_do == would_do


@pytest.mark.parametrize("text", ["€71.50", "71.50 EUR", "£71.50", "CA$71.50"])
def test_an_amount_in_another_currency_is_refused(text: str) -> None:
    with pytest.raises(MoneyError, match="it is in another currency"):
        read_money(text, "USD")


@pytest.mark.parametrize("text", ["-5", "−5", "-$5", "$-5", "- 5.00"])
def test_an_amount_below_zero_is_read_only_where_it_may_stand(text: str) -> None:
    assert read_money(text, "USD", negative=True) == -5
    with pytest.raises(MoneyError, match="it is below zero") as refused:
        read_money(text, "USD")

    assert type(refused.value) is MoneyError
    assert refused.value.would_do[1] == "0"


@pytest.mark.parametrize(
    ("currency", "most"), [("USD", "100000000000"), ("JPY", "10000000000000"), ("KWD", "10000000000")]
)
def test_the_largest_amount_is_ten_to_the_thirteenth_minor_units(currency: str, most: str) -> None:
    assert to_minor(read_money(most, currency), currency) == MAX_MINOR
    with pytest.raises(AmountTooLarge, match="it is more than an amount can be"):
        read_money(str(int(most) + 1), currency)


def test_the_largest_price_fits_its_column() -> None:
    assert amount_to_micro(read_price("1000000000000", "JPY")) == MAX_MICRO
    with pytest.raises(AmountTooLarge, match="cannot be read as a price"):
        read_price("1000000000000.000001", "JPY")


@pytest.mark.parametrize(("text", "price"), [("0.0845", "0.0845"), ("$3.123456", "3.123456"), ("1.234", "1.234")])
def test_a_price_may_be_finer_than_the_minor_unit(text: str, price: str) -> None:
    assert read_price(text, "USD") == Fraction(price)


def test_a_price_finer_than_a_millionth_is_refused() -> None:
    with pytest.raises(MoneyError, match=r"it is finer than a millionth. Type 3.123456 or 3.123457"):
        read_price("3.1234565", "USD")


@pytest.mark.parametrize(
    ("text", "mark", "rate_ppm"),
    [
        ("8.25", ".", 82_500),
        ("8.25 %", ".", 82_500),
        ("8,25%", ",", 82_500),
        ("0", ".", 0),
        ("100%", ".", 1_000_000),
        ("1000", ".", MAX_PPM),
        ("33.3333", ".", 333_333),
    ],
)
def test_percentages_are_read_exactly(text: str, mark: str, rate_ppm: int) -> None:
    assert read_percent(text, mark) == rate_ppm


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("-1", RateOutOfRange, "it is below zero. Type 1 or 0"),
        ("1001", RateOutOfRange, "it is more than 1,000 %. Type 20 or 8.25"),
        ("8,25", MoneyError, "it can be read two ways. Type 8.25 or 825"),
        ("1,000", MoneyError, "it can be read two ways. Type 1.000 or 1000"),
        ("8.25001", MoneyError, "more than four places after the decimal mark. Type 8.2500 or 8.2501"),
    ],
)
def test_percentages_that_cannot_stand_are_refused(text: str, kind: type[MoneyError], message: str) -> None:
    with pytest.raises(kind, match=message):
        read_percent(text)


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: repr(text[:20]))
@pytest.mark.parametrize("mark", [".", ","])
@pytest.mark.parametrize(
    "read", [lambda t, m: read_money(t, "USD", m), lambda t, m: read_price(t, "JPY", m), read_percent]
)
def test_hostile_texts_are_refused_with_two_texts_that_read(text: str, mark: str, read: object) -> None:
    with pytest.raises(MoneyError, match="cannot be read as") as refused:
        read(text, mark)

    assert len(refused.value.typed) <= 40
    first, second = refused.value.would_do
    assert read(first, mark) != read(second, mark)


@settings(deadline=None)
@given(st.text(alphabet="0123456789.,-'  $€%eEx\0٣−’USDKW", max_size=50), st.sampled_from(".,"))
def test_any_text_is_read_or_refused_with_two_texts_that_read(text: str, mark: str) -> None:
    for read in (
        lambda t: read_money(t, "KWD", mark),
        lambda t: read_price(t, "USD", mark, True),
        lambda t: read_percent(t, mark),
    ):
        try:
            read(text)
        except MoneyError as refused:
            first, second = refused.would_do
            read(first)
            read(second)
            assert first != second


@settings(deadline=None)
@given(st.integers(-MAX_MINOR, MAX_MINOR), st.sampled_from(CURRENCIES), st.sampled_from(".,"))
def test_an_edit_field_reads_what_it_shows(minor: int, currency: str, mark: str) -> None:
    shown = plain_money(minor, currency, mark)

    assert to_minor(read_money(shown, currency, mark, negative=True), currency) == minor


@settings(deadline=None)
@given(st.integers(0, 10**15), st.sampled_from(["USD", "JPY", "KWD", "CLF"]), st.sampled_from(".,"))
def test_a_price_field_reads_what_it_shows(price_micro: int, currency: str, mark: str) -> None:
    shown = plain_price(price_micro, currency, mark)

    assert amount_to_micro(read_price(shown, currency, mark)) == price_micro


@settings(deadline=None)
@given(st.integers(0, MAX_PPM), st.sampled_from(".,"))
def test_a_percent_field_reads_what_it_shows(rate_ppm: int, mark: str) -> None:
    assert read_percent(plain_percent(rate_ppm, mark), mark) == rate_ppm


@settings(deadline=None)
@given(
    st.integers(-MAX_MINOR, MAX_MINOR),
    st.sampled_from(["USD", "EUR", "JPY", "CAD", "CHF"]),
    st.sampled_from([("en_US", "."), ("en_GB", "."), ("de_DE", ","), ("fr_FR", ","), ("sv_SE", ","), ("de_CH", ".")]),
)
def test_what_is_shown_can_be_copied_into_a_field(minor: int, currency: str, language: tuple[str, str]) -> None:
    locale, mark = language
    shown = show_money(minor, currency, locale, symbol=False)

    assert to_minor(read_money(shown, currency, mark, negative=True), currency) == minor


def test_an_unknown_decimal_mark_is_refused() -> None:
    with pytest.raises(ValueError, match=r"decimal mark ';' is not known; . or , would do"):
        read_money("5", "USD", ";")
