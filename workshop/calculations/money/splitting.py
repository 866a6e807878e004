"""Splitting a total so that the parts add up to it, by the largest remainder (Hamilton's apportionment).

The minor unit takes the place of the seat. The published method leaves the order of equal remainders open;
here the earlier line takes the unit.
"""

from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from workshop.calculations.money.errors import (
    BELOW_ZERO,
    NO_WEIGHTS,
    NOT_EXACT,
    NOT_WHOLE,
    TOTAL,
    WEIGHT,
    SplitError,
)


def split(total_minor: int, weights: Sequence[int | Fraction]) -> list[int]:
    """The parts of a total by weight, by the largest remainder.

    Every part first gets the whole units of its exact share. The units left over go one each to the parts
    with the largest remainders, of equal remainders to the earlier. A total below zero is split like the one
    above zero and negated. When all weights are zero the parts are equal shares.

    Args:
        total_minor: what is split [minor]
        weights: one for each part, none below zero; their order decides between equal remainders [-]

    Returns:
        one part for each weight, in the same order; their sum is the total [minor]

    Raises:
        SplitError: there is no weight, a weight is below zero or a float, or the total is not a whole number

    Example:
        100.00 over 600.00 and 300.00 is 66.67 and 33.33: split(10000, [60000, 30000]) is [6667, 3333].
    """
    if isinstance(total_minor, bool) or not isinstance(total_minor, int):
        raise SplitError(total_minor, TOTAL, NOT_WHOLE, ("10000", "-10000"))
    if not weights:
        raise SplitError(total_minor, TOTAL, NO_WEIGHTS, ("1 line", "2 lines"))
    shares = _whole_weights(weights)
    whole = sum(shares)
    if not whole:
        shares, whole = [1] * len(shares), len(shares)

    size = abs(total_minor)
    parts = [size * share // whole for share in shares]
    remainders = [size * share % whole for share in shares]
    left_over = size - sum(parts)
    by_remainder = sorted(range(len(shares)), key=lambda place: (-remainders[place], place))
    for place in by_remainder[:left_over]:
        parts[place] += 1

    return [-part for part in parts] if total_minor < 0 else parts


def _whole_weights(weights: Sequence[int | Fraction]) -> list[int]:
    for weight in weights:
        if not isinstance(weight, (int, Fraction)):
            raise SplitError(weight, WEIGHT, NOT_EXACT, ("3", "1/2"))
        if weight < 0:
            raise SplitError(weight, WEIGHT, BELOW_ZERO, ("0", str(-weight)))
    denominator = lcm(*(weight.denominator for weight in weights))
    return [weight.numerator * (denominator // weight.denominator) for weight in weights]
