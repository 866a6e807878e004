"""Money in whole minor units: currencies, rounding, splitting, reading, showing, tax and profit.

Amounts are plain integers of the currency's minor unit (cents), unit prices plain integers of millionths of
its major unit, rates plain integers of parts per million (8.25 % is 82,500). In between, everything is an
exact Fraction; no float and no Decimal takes part in a sum.

Reading order: errors, currencies, rounding, splitting, percent, tax, profit, reading, showing.
"""

from workshop.calculations.money.currencies import CURRENCIES, minor_digits, signs_of
from workshop.calculations.money.errors import (
    REASONS,
    AmountTooLarge,
    MoneyError,
    RateOutOfRange,
    SplitError,
    UnknownCurrency,
)
from workshop.calculations.money.profit import (
    checked_margin,
    margin_price,
    margin_to_markup,
    markup_price,
    markup_to_margin,
)
from workshop.calculations.money.reading import read_money, read_percent, read_price
from workshop.calculations.money.rounding import (
    MAX_MICRO,
    MAX_MINOR,
    MAX_PPM,
    PPM,
    amount_to_micro,
    from_minor,
    micro_to_amount,
    part_of,
    to_minor,
    within_limit,
)
from workshop.calculations.money.showing import (
    plain_money,
    plain_percent,
    plain_price,
    show_money,
    show_percent,
    show_price,
)
from workshop.calculations.money.splitting import split
from workshop.calculations.money.tax import checked_rate, tax_inside, tax_of
from workshop.calculations.numerals import round_half_up

__all__ = [
    "CURRENCIES",
    "MAX_MICRO",
    "MAX_MINOR",
    "MAX_PPM",
    "PPM",
    "REASONS",
    "AmountTooLarge",
    "MoneyError",
    "RateOutOfRange",
    "SplitError",
    "UnknownCurrency",
    "amount_to_micro",
    "checked_margin",
    "checked_rate",
    "from_minor",
    "margin_price",
    "margin_to_markup",
    "markup_price",
    "markup_to_margin",
    "micro_to_amount",
    "minor_digits",
    "part_of",
    "plain_money",
    "plain_percent",
    "plain_price",
    "read_money",
    "read_percent",
    "read_price",
    "round_half_up",
    "show_money",
    "show_percent",
    "show_price",
    "signs_of",
    "split",
    "tax_inside",
    "tax_of",
    "to_minor",
    "within_limit",
]
