"""Hours worked on several rooms at once, shared by the pieces each room has of the stage."""

from collections.abc import Sequence

from workshop.calculations.money import split


def shared_minutes(minutes: int, pieces: Sequence[int]) -> list[int]:
    """Return the minutes of each room, by the largest remainder; they add up to all of them.

    Args:
        minutes: what was worked on all rooms together, 0 or more [minute]
        pieces: how many pieces each room has of the stage, none below zero; of equal remainders the earlier room gets
            the minute [-]

    Returns:
        The minutes in the order of the rooms; equal shares where no room has pieces.

    Raises:
        SplitError: there is no room, or a count is below zero.

    Example:
        >>> shared_minutes(100, [12, 6, 6]), shared_minutes(100, [0, 0, 0])
        ([50, 25, 25], [34, 33, 33])

    Source:
        House rule, DEVELOPERS.md "Hours on several rooms"; largest remainder as in `workshop/calculations/money`.
    """
    return split(minutes, pieces)
