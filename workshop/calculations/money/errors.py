"""What can be wrong with an amount, told with the value and two things that would do.

The reasons are constant texts without figures in them, so that a page can translate them.
"""

from workshop.calculations.numerals import NOTHING, OTHER_DIGITS, TOO_LONG, TypedError

AMOUNT = "an amount"
PRICE = "a price"
PERCENTAGE = "a percentage"
CURRENCY = "a currency"
TOTAL = "a total to be split"
WEIGHT = "a weight"

NOT_A_NUMBER = "it is not a number"
OTHER_CURRENCY = "it is in another currency"
BELOW_ZERO = "it is below zero"
TWO_READINGS = "it can be read two ways"
FINER_THAN_MINOR = "it is finer than the smallest unit of its currency"
FINER_THAN_MILLIONTH = "it is finer than a millionth"
FINER_THAN_PPM = "it has more than four places after the decimal mark"
TOO_LARGE = "it is more than an amount can be"
RATE_TOO_LARGE = "it is more than 1,000 %"
MARGIN_TOO_LARGE = "a margin of 100 % and over leaves nothing for the cost"
UNKNOWN_CURRENCY = "it is not a code of ISO 4217"
NOT_WHOLE = "it is not a whole number of minor units"
NO_WEIGHTS = "there is no line to split over"
NOT_EXACT = "it is not a whole number or a fraction"

REASONS = (
    NOTHING,
    TOO_LONG,
    OTHER_DIGITS,
    NOT_A_NUMBER,
    OTHER_CURRENCY,
    BELOW_ZERO,
    TWO_READINGS,
    FINER_THAN_MINOR,
    FINER_THAN_MILLIONTH,
    FINER_THAN_PPM,
    TOO_LARGE,
    RATE_TOO_LARGE,
    MARGIN_TOO_LARGE,
    UNKNOWN_CURRENCY,
    NOT_WHOLE,
    NO_WEIGHTS,
    NOT_EXACT,
)


class MoneyError(TypedError):
    """A value that cannot stand as money.

    Attributes:
        typed: the value as it was typed or given, at most 40 characters of it
        what: what it was to be read as
        reason: one of REASONS
        would_do: two texts that are taken in its place
    """

    def __init__(self, typed: object, what: str, reason: str, would_do: tuple[str, str]) -> None:
        super().__init__(str(typed), what, reason, would_do)


class AmountTooLarge(MoneyError):
    """An amount of more than 10^13 minor units, or a price of more than 10^18 millionths."""


class UnknownCurrency(MoneyError):
    """A currency code that is not in the current list of ISO 4217."""


class SplitError(MoneyError):
    """A total or a weight that cannot be split to the minor unit."""


class RateOutOfRange(MoneyError):
    """A tax, overhead or profit rate below zero or beyond what it can be."""
