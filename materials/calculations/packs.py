"""Amounts in the unit a material is bought in and in the unit it is used in, and whole packs of it.

A box of 500 screws is bought by the box and used by the piece; a pail of 5 gal is bought by the pail and used by
the gallon. What one bought unit holds is told in the used unit. Amounts are whole millionths, as they are kept.

The rules are plain arithmetic, worked out by hand in each example.
"""

from fractions import Fraction

MICRO = 10**6


def used_micro(bought_micro: int, contains_micro: int) -> int:
    """The amount in the used unit of an amount bought, to the nearest millionth, a half away from zero.

    Args:
        bought_micro: millionths of the unit it is bought in, not below zero [micro]
        contains_micro: millionths of the used unit that one bought unit holds [micro]

    Returns:
        millionths of the used unit [micro]

    Example:
        4 boxes of 500 pieces are 2,000 pieces.
    """
    return (2 * bought_micro * contains_micro + MICRO) // (2 * MICRO)


def bought_micro(wanted_micro: int, contains_micro: int, step_micro: int = 1, least_micro: int = 0) -> int:
    """The least amount to buy that holds what is wanted, in whole steps and not below the least quantity.

    Args:
        wanted_micro: millionths of the used unit that are wanted [micro]
        contains_micro: millionths of the used unit that one bought unit holds, above zero [micro]
        step_micro: what is sold is a multiple of this, in millionths of the bought unit [micro]
        least_micro: the least quantity sold, in millionths of the bought unit [micro]

    Returns:
        millionths of the bought unit [micro]

    Example:
        1,600 pieces in boxes of 500 are 4 boxes; sold in packs of 5 boxes they are 5.
    """
    least = max(Fraction(wanted_micro * MICRO, contains_micro), least_micro)
    return next_step(least, step_micro)


def next_step(amount_micro: int | Fraction, step_micro: int) -> int:
    """The amount rounded up to whole steps.

    Args:
        amount_micro: millionths of a unit [micro]
        step_micro: the step, above zero [micro]

    Returns:
        the least multiple of the step that is not below the amount [micro]

    Example:
        37 sheets in packs of 30 are 60.
    """
    return -(-Fraction(amount_micro) // step_micro) * step_micro


def would_do(amount_micro: int, step_micro: int, least_micro: int = 0) -> tuple[int, ...]:
    """The two nearest amounts that are sold; none where the amount itself is.

    Args:
        amount_micro: the amount wanted, above zero, in millionths of the bought unit [micro]
        step_micro: what is sold is a multiple of this; 1 where any amount is [micro]
        least_micro: the least quantity sold [micro]

    Returns:
        nothing, or two amounts, the smaller first [micro]

    Example:
        37 sheets in packs of 30: 30 or 60. 2 boxes where 5 are the least: 5 or 6.
    """
    if amount_micro >= least_micro and amount_micro % step_micro == 0:
        return ()
    first = next_step(max(least_micro, step_micro), step_micro)
    below = amount_micro // step_micro * step_micro
    lower = max(first, below)
    return lower, lower + (step_micro if step_micro > 1 else MICRO)
