"""Which supply serves which need: what is here first, then orders as they are expected."""

from collections import defaultdict
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True)
class Wanted:
    """A room's open need of a material: what was given to it is taken off."""

    key: Hashable
    material: Hashable
    quantity: int
    needed_on: date | None
    rank: tuple


@dataclass(frozen=True)
class Coming:
    """What is still to come of an order line."""

    key: Hashable
    material: Hashable
    quantity: int
    expected_on: date


@dataclass
class Cover:
    """`here` and `missing` by need, `served` the needs of an order line with how much each takes of it."""

    here: dict[Hashable, int] = field(default_factory=dict)
    missing: dict[Hashable, int] = field(default_factory=dict)
    coming: dict[Hashable, list[tuple[Hashable, int]]] = field(default_factory=lambda: defaultdict(list))
    served: dict[Hashable, list[tuple[Hashable, int]]] = field(default_factory=lambda: defaultdict(list))


def cover(wanted: Sequence[Wanted], on_hand: Mapping[Hashable, int], coming: Sequence[Coming]) -> Cover:
    """Serve the needs in the order of their dates, from what is here and then from what comes first.

    Args:
        wanted: open needs, in any order; one without a date comes last, `rank` settles equal dates [micro]
        on_hand: what is here and free, by material [micro]
        coming: what is still to come of each order line, in any order [micro]

    Returns:
        For each need what is here, which order lines serve it and what nothing covers; for each order line the needs
        it serves, the earliest first. What is given out never exceeds what there is.

    Example:
        Two rooms need 5 and 6 sheets, 7 are here and 10 come: the first has 5 here, the second 2 here and 4 coming.

    Source:
        House rule, DEVELOPERS.md "Lead times".
    """
    result = Cover()
    left = dict(on_hand)
    queues: dict[Hashable, list[list]] = defaultdict(list)
    for supply in sorted(coming, key=lambda c: c.expected_on):
        queues[supply.material].append([supply.key, supply.quantity])
    for need in sorted(wanted, key=lambda w: (w.needed_on or date.max, w.rank)):
        open_ = need.quantity
        here = min(open_, max(left.get(need.material, 0), 0))
        left[need.material] = left.get(need.material, 0) - here
        open_ -= here
        result.here[need.key] = here
        for queue in queues[need.material]:
            taken = min(open_, queue[1])
            if taken:
                queue[1] -= taken
                open_ -= taken
                result.coming[need.key].append((queue[0], taken))
                result.served[queue[0]].append((need.key, taken))
        result.missing[need.key] = open_
    return result
