"""The one cost model: a rate is money per a quantity, and a cost is quantity times rate, rounded once.

Every app prices with it: a sheet, a board foot, a linear foot, a square meter, a gallon, an hour, a hole, a
square foot of a coat, a lump. Units are converted exactly, so the only rounding is the one to minor units.
"""

from dataclasses import dataclass
from fractions import Fraction

import pint

from workshop.calculations.money import micro_to_amount, minor_digits, to_minor
from workshop.calculations.units import amount_in, quantity


@dataclass(frozen=True)
class Rate:
    """Money per one of a unit.

    Attributes:
        price: money for one unit [major]
        currency: code of ISO 4217 [-]
        per: code of the unit, as sheet, board_foot or hour [-]
    """

    price: Fraction
    currency: str
    per: str

    def __post_init__(self) -> None:
        if not isinstance(self.price, (int, Fraction)):
            raise TypeError(f"the price {self.price!r} is not exact; a whole number or a Fraction would do")
        minor_digits(self.currency)
        quantity(1, self.per)


def rate_from_micro(price_micro: int, currency: str, per: str) -> Rate:
    """The rate of a stored unit price.

    Args:
        price_micro: the price of one unit in millionths of the major unit [micro]
        currency: code of ISO 4217 [-]
        per: code of the unit [-]

    Returns:
        the rate, exact

    Raises:
        UnknownCurrency: the code is not in the current list
        UnknownUnit: the shop has no such unit

    Example:
        rate_from_micro(71_500_000, "USD", "sheet") is 71.50 a sheet.
    """
    return Rate(price=micro_to_amount(price_micro), currency=currency, per=per)


def cost(amount: pint.Quantity, rate: Rate) -> int:
    """Quantity times rate, rounded once to the minor unit, half away from zero.

    Args:
        amount: what is priced, in any unit of the rate's kind [quantity]
        rate: money per a unit, as 71.50 USD a sheet [-]

    Returns:
        the cost in the rate's currency [minor]

    Raises:
        WrongDimension: the quantity is of another kind than the rate, an area at a price a foot
        AmountTooLarge: more than 10^13 minor units

    Example:
        147 1/2 in of trim at 3.85 USD a foot is 47.32: 12 7/24 ft x 3.85 is 47.3229...
    """
    return to_minor(amount_in(amount, rate.per) * rate.price, rate.currency)
