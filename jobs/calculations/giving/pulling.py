"""Which sheets are taken from a stack, and in which order: from the top down, opened sheets first."""

from collections.abc import Sequence
from dataclasses import dataclass

HALVES_A_SHEET = 2


class HalvesNotToTake(ValueError):
    """Fewer than no halves wanted."""

    def __init__(self, halves: int) -> None:
        self.halves = halves
        super().__init__(f"{halves} halves cannot be taken: write 0 for none, or how many are wanted.")


class TooFewHalves(ValueError):
    """More halves asked of a stack than it has free."""

    def __init__(self, asked: int, free: int) -> None:
        self.asked, self.free = asked, free
        super().__init__(
            f"{asked} halves are asked of a stack that has {free} free: "
            f"take {free} or fewer, or take the rest from another stack."
        )


@dataclass(frozen=True)
class StackedSheet:
    """A sheet of a stack: its place from the bottom, from 1, and its free halves, 1 where it is opened."""

    key: int | str
    place: int
    free_halves: int = HALVES_A_SHEET


@dataclass(frozen=True)
class Pull:
    """A sheet to take from a stack, and how many of its halves."""

    key: int | str
    place: int
    halves: int


def pull_order(stack: Sequence[StackedSheet], halves: int) -> tuple[Pull, ...]:
    """Return the sheets to take from a stack for a count of halves, in the order in which they are taken.

    A half left over of an opened sheet is used first, the highest one first; then whole sheets from the top
    down. An odd count opens the last sheet.

    Args:
        stack: the sheets of the stack with their free halves, any order [-]
        halves: how many halves are wanted [-]

    Returns:
        The sheets with the halves taken of each; none for 0 halves.

    Raises:
        HalvesNotToTake: fewer than 0 halves.
        TooFewHalves: the stack has fewer free; the exception tells how many.

    Example: sheet 7 is opened; three halves.

        >>> stack = [StackedSheet(4, 1), StackedSheet(7, 2, free_halves=1), StackedSheet(9, 3)]
        >>> [(pull.key, pull.halves) for pull in pull_order(stack, 3)]
        [(7, 1), (9, 2)]

    Source: house rule, see DEVELOPERS.md.
    """
    if halves < 0:
        raise HalvesNotToTake(halves)
    free = sum(sheet.free_halves for sheet in stack)
    if halves > free:
        raise TooFewHalves(halves, free)
    pulls, wanted = [], halves
    for sheet in sorted(stack, key=lambda sheet: (sheet.free_halves != 1, -sheet.place)):
        taken = min(sheet.free_halves, wanted)
        if taken:
            pulls.append(Pull(sheet.key, sheet.place, taken))
            wanted -= taken
    return tuple(pulls)
