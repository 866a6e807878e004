"""Tone groups proposed from the readings: how many a lot really falls into, and how different they look.

Sheets are joined bottom-up by the mean difference of their groups (average linkage); so many groups are proposed as
have the greatest mean silhouette (Rousseeuw, Silhouettes, Journal of Computational and Applied Mathematics 20, 1987),
and one alone where even that is small: groups that lie so close are one. That a silhouette of 0.5 is enough, and that
sheets that all look accepted beside each other are one group, are our judgement.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from materials.calculations.color_steps import Step

MOST_GROUPS = 6
ENOUGH = 0.5
"""Mean silhouette from which groups are told apart."""


@dataclass(frozen=True)
class Groups:
    """Groups of a lot.

    Attributes:
        groups: the sheets of each, the largest group first [-]
        typical: per group the sheet nearest to all others of it [-]
        ranges: per group its largest difference, ten-thousandths [-]
        between: square of ten-thousandths between the typical sheets [-]
        silhouette: mean silhouette, 0 for one group [-]
    """

    groups: tuple[tuple[int, ...], ...]
    typical: tuple[int, ...]
    ranges: tuple[int, ...]
    between: tuple[tuple[int, ...], ...]
    silhouette: float


def proposed_groups(differences: Sequence[Sequence[int]], sheets: Sequence[int]) -> Groups:
    """The groups that a lot falls into.

    Args:
        differences: ten-thousandths between every two sheets of the lot [-]
        sheets: the sheets to group, each once, in any order [-]

    Returns:
        one to six groups; the same sheets always come to the same groups

    Example:
        >>> far = [[0, 9000, 60000, 61000], [9000, 0, 60000, 61000], [60000, 60000, 0, 8000], [61000, 61000, 8000, 0]]
        >>> proposed_groups(far, [0, 1, 2, 3]).groups
        ((0, 1), (2, 3))
    """
    sheets = sorted(sheets)
    if not sheets:
        return Groups((), (), (), (), 0.0)
    best, worth = [sheets], 0.0
    widest = max(differences[one][other] for one in sheets for other in sheets)
    if widest > (Step.SEEN_BESIDE_EACH_OTHER.value or 0):
        for groups in _joined(differences, sheets):
            silhouette = _silhouette(differences, groups)
            if silhouette >= ENOUGH and silhouette > worth:
                best, worth = groups, silhouette
    best = sorted(best, key=lambda group: (-len(group), group))
    typical = [min(group, key=lambda one: (sum(differences[one][other] for other in group), one)) for group in best]
    return Groups(
        tuple(tuple(group) for group in best),
        tuple(typical),
        tuple(max(differences[one][other] for one in group for other in group) for group in best),
        tuple(tuple(differences[one][other] for other in typical) for one in typical),
        worth,
    )


def _joined(differences: Sequence[Sequence[int]], sheets: list[int]) -> list[list[list[int]]]:
    """The groupings into 2 to MOST_GROUPS, the fewest first."""
    groups = {at: [sheet] for at, sheet in enumerate(sheets)}
    apart = [[float(differences[one][other]) for other in sheets] for one in sheets]
    found = []
    while len(groups) > 1:
        if len(groups) <= MOST_GROUPS:
            found.append([sorted(group) for group in groups.values()])
        numbers = list(groups)
        _, one, other = min(
            (apart[one][other], one, other) for at, one in enumerate(numbers) for other in numbers[at + 1 :]
        )
        here, there = len(groups[one]), len(groups[other])
        for third in numbers:
            mean = (here * apart[one][third] + there * apart[other][third]) / (here + there)
            apart[one][third] = apart[third][one] = mean
        groups[one] += groups.pop(other)
    return found[::-1]


def _silhouette(differences: Sequence[Sequence[int]], groups: list[list[int]]) -> float:
    """Mean over all sheets; a sheet alone counts 0."""
    total, number = 0.0, 0
    for at, group in enumerate(groups):
        for sheet in group:
            number += 1
            if len(group) == 1:
                continue
            row = differences[sheet]
            own = sum(row[other] for other in group) / (len(group) - 1)
            next_group = min(
                sum(row[other] for other in others) / len(others) for place, others in enumerate(groups) if place != at
            )
            if max(own, next_group) > 0:
                total += (next_group - own) / max(own, next_group)
    return total / number
