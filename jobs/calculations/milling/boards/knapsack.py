"""The dearest filling of a board: whole prices for pieces, whole lengths, no piece taken more often than it is needed.

Source: bounded knapsack by dynamic programming with counts split in powers of two (Martello and Toth 1990).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jobs.calculations.milling.boards.instance import counted

if TYPE_CHECKING:
    import numpy as np


@dataclass(frozen=True)
class Worths:
    """The most that fits in every length from 0 to the longest board, and what it is."""

    table: "np.ndarray"
    steps: list[tuple[int, int, int, int]]
    taken: "np.ndarray"

    def most(self, length: int) -> int:
        return int(self.table[length]) if length >= 0 else 0

    def kinds(self, length: int) -> tuple[tuple[int, int], ...]:
        """Pieces worth the most that fits in a length."""
        found: dict[int, int] = {}
        for row in range(len(self.steps) - 1, -1, -1):
            if self.taken[row, length]:
                kind, part, size, _ = self.steps[row]
                found[kind] = found.get(kind, 0) + part
                length -= size
        return counted(found)


def worths(lengths: Sequence[int], prices: Sequence[int], counts: Sequence[int], longest: int) -> Worths:
    """Return the most that pieces in a board can be worth, for every length of board at once; exact.

    Args:
        lengths: of the kinds of pieces, in whole units [-]
        prices: of the kinds, whole numbers whose sum over all pieces stays under 2**62 [-]
        counts: how many of each kind are needed [-]
        longest: the longest board, in the same units [-]

    Returns:
        A table by length.

    Example: two pieces of 3 worth 4 and one of 5 worth 7 in a board of 8.

        >>> found = worths([5, 3], [7, 4], [1, 2], 8)
        >>> found.most(8), found.kinds(8), found.most(7)
        (11, ((0, 1), (1, 1)), 8)

    Source: see the module.
    """
    import numpy as np

    steps = []
    for kind, (length, price, count) in enumerate(zip(lengths, prices, counts, strict=True)):
        if price <= 0 or length <= 0:
            continue
        count, part = min(count, longest // length), 1
        while count > 0:
            part = min(part, count)
            steps.append((kind, part, part * length, part * price))
            count, part = count - part, part * 2
    table, sums = np.zeros(longest + 1, dtype=np.int64), np.empty(longest + 1, dtype=np.int64)
    taken = np.zeros((len(steps), longest + 1), dtype=bool)
    for row, (_, _, size, price) in enumerate(steps):
        rest = longest + 1 - size
        np.add(table[:rest], price, out=sums[:rest])
        np.greater(sums[:rest], table[size:], out=taken[row, size:])
        np.maximum(sums[:rest], table[size:], out=table[size:])
    return Worths(table, steps, taken)


class Fillings:
    """Every filling of a board that is worth enough, found exactly.

    A piece of length 0 or without a price is never in one. Only fillings to which no further piece can be added.
    """

    def __init__(self, lengths: Sequence[int], prices: Sequence[int], counts: Sequence[int], longest: int) -> None:
        self.lengths, self.prices, self.counts = lengths, prices, counts
        self.grid = max(1, len(lengths) * longest // MOST_CELLS)
        self.ceilings = self._ceilings(-(-longest // self.grid))

    def _ceilings(self, longest: int) -> list[list[int]]:
        """For each kind and each length left: not less than the kinds from there on can be worth."""
        import numpy as np

        rows = [np.zeros(longest + 1, dtype=np.int64)]
        for kind in range(len(self.lengths) - 1, -1, -1):
            size = self.lengths[kind] // self.grid
            before = rows[-1]
            row = before.copy()
            for count in range(1, self.counts[kind] + 1):
                if count * size > longest:
                    break
                fits = longest + 1 - count * size
                np.maximum(row[count * size :], before[:fits] + count * self.prices[kind], out=row[count * size :])
            rows.append(row)
        return [row.tolist() for row in reversed(rows)]

    def worth_at_least(self, length: int, least: int, most: int) -> list[tuple[tuple[int, int], ...]] | None:
        """The fillings of a board of that length worth at least so much; none where there are more than `most`."""
        found: list[tuple[tuple[int, int], ...]] = []
        lengths, prices, counts, ceilings, grid = self.lengths, self.prices, self.counts, self.ceilings, self.grid
        kinds, shortest = len(lengths), min(lengths)
        budget = most * STEPS_PER_FILLING

        def is_full(room: int, taken: list[tuple[int, int]]) -> bool:
            if room < shortest:
                return True
            cut = dict(taken)
            for kind in range(kinds - 1, -1, -1):
                if lengths[kind] > room:
                    return True
                if cut.get(kind, 0) < counts[kind]:
                    return False
            return True

        def go_on(kind: int, room: int, worth: int, taken: list[tuple[int, int]]) -> bool:
            nonlocal budget
            while kind < kinds:
                budget -= 1
                if budget < 0:
                    return False
                if worth + ceilings[kind][-(-room // grid)] < least:
                    return True
                if lengths[kind] <= room:
                    for count in range(min(counts[kind], room // lengths[kind]), 0, -1):
                        after = room - count * lengths[kind]
                        value = worth + count * prices[kind]
                        if value + ceilings[kind + 1][-(-after // grid)] >= least and not go_on(
                            kind + 1, after, value, [*taken, (kind, count)]
                        ):
                            return False
                kind += 1
            if worth >= least and taken and is_full(room, taken):
                if len(found) >= most:
                    return False
                found.append(tuple(taken))
            return True

        return found if go_on(0, length, 0, []) else None


MOST_CELLS, STEPS_PER_FILLING = 3_000_000, 60
"""Cells of the table of ceilings, lengths put on a coarser grid above it; and steps of the search for each filling."""
