"""Amounts, prices and percentages as text. Patterns by language: Unicode CLDR as carried by Babel."""

import pytest

from workshop.calculations.money import (
    UnknownCurrency,
    plain_money,
    plain_percent,
    plain_price,
    show_money,
    show_percent,
    show_price,
)

NO_BREAK = "\u00a0"
NARROW = "\u202f"


@pytest.mark.parametrize(
    ("minor", "currency", "locale", "text"),
    [
        (310350, "USD", "en_US", "$3,103.50"),
        (310350, "USD", "en-us", "$3,103.50"),
        (-5, "USD", "en_US", "-$0.05"),
        (0, "USD", "en_US", "$0.00"),
        (1250, "JPY", "en_US", "¥1,250"),
        (1250, "KWD", "en_US", f"KWD{NO_BREAK}1.250"),
        (310350, "EUR", "de_DE", f"3.103,50{NO_BREAK}€"),
        (310350, "EUR", "fr_FR", f"3{NARROW}103,50{NO_BREAK}€"),
        (310350, "RSD", "en_US", f"RSD{NO_BREAK}3,103.50"),
        (10**13, "USD", "en_US", "$100,000,000,000.00"),
    ],
)
def test_an_amount_is_shown_to_the_minor_unit_as_the_language_writes_it(
    minor: int, currency: str, locale: str, text: str
) -> None:
    assert show_money(minor, currency, locale) == text


def test_an_amount_is_shown_without_its_sign_where_the_currency_is_named_once() -> None:
    assert show_money(310350, "USD", symbol=False) == "3,103.50"


@pytest.mark.parametrize(
    ("price_micro", "currency", "text"),
    [
        (71_500_000, "USD", "$71.50"),
        (84_500, "USD", "$0.0845"),
        (1, "USD", "$0.000001"),
        (1_250_000_000, "JPY", "¥1,250"),
        (1_500_000, "JPY", "¥1.5"),
        (71_500_000, "KWD", f"KWD{NO_BREAK}71.500"),
    ],
)
def test_a_price_shows_every_place_it_has_and_the_minor_unit_at_least(
    price_micro: int, currency: str, text: str
) -> None:
    assert show_price(price_micro, currency) == text


@pytest.mark.parametrize(
    ("rate_ppm", "locale", "text"),
    [
        (82_500, "en_US", "8.25%"),
        (82_500, "de_DE", f"8,25{NO_BREAK}%"),
        (500_000, "en_US", "50%"),
        (333_333, "en_US", "33.3333%"),
        (10_000_000, "en_US", "1,000%"),
        (0, "en_US", "0%"),
    ],
)
def test_a_percentage_is_shown_with_the_places_it_needs(rate_ppm: int, locale: str, text: str) -> None:
    assert show_percent(rate_ppm, locale) == text


@pytest.mark.parametrize(
    ("minor", "currency", "mark", "text"),
    [
        (310350, "USD", ".", "3103.50"),
        (310350, "EUR", ",", "3103,50"),
        (-5, "USD", ".", "-0.05"),
        (1250, "JPY", ".", "1250"),
        (5, "KWD", ".", "0.005"),
    ],
)
def test_an_edit_field_shows_an_amount_without_marks_between(minor: int, currency: str, mark: str, text: str) -> None:
    assert plain_money(minor, currency, mark) == text


def test_an_edit_field_shows_a_price_and_a_percentage_exactly() -> None:
    assert plain_price(84_500, "USD") == "0.0845"
    assert plain_price(71_500_000, "USD", ",") == "71,50"
    assert plain_percent(82_500) == "8.25"
    assert plain_percent(500_000) == "50"


@pytest.mark.parametrize("show", [show_money, show_price, plain_money, plain_price])
def test_an_amount_in_an_unknown_currency_is_not_shown(show: object) -> None:
    with pytest.raises(UnknownCurrency, match="EURO cannot be read as a currency"):
        show(100, "EURO")
