"""Which supply serves which need: what is here first, then orders as they are expected.

A part of an order line can be for one job. It serves the needs of that job and no other's.
"""

from collections import defaultdict
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple


class Wanted(NamedTuple):
    """A room's open need of a material: what was given to it is taken off."""

    key: Hashable
    material: Hashable
    quantity: int
    needed_on: date | None
    rank: tuple
    job: Hashable = None


@dataclass(frozen=True)
class Coming:
    """What is still to come of an order line, and how much of it is for which job; the rest is for stock."""

    key: Hashable
    material: Hashable
    quantity: int
    expected_on: date
    shares: Mapping[Hashable, int] = field(default_factory=dict)


@dataclass
class Cover:
    """`here` and `missing` by need, `served` the needs of an order line with how much each takes of it."""

    here: dict[Hashable, int] = field(default_factory=dict)
    missing: dict[Hashable, int] = field(default_factory=dict)
    coming: dict[Hashable, list[tuple[Hashable, int]]] = field(default_factory=lambda: defaultdict(list))
    served: dict[Hashable, list[tuple[Hashable, int]]] = field(default_factory=lambda: defaultdict(list))


@dataclass
class _Part:
    """What is left of a part of an order line: of a job's share, or of the rest."""

    line: Hashable
    job: Hashable
    expected_on: date
    left: int


def cover(wanted: Sequence[Wanted], on_hand: Mapping[Hashable, int], coming: Sequence[Coming]) -> Cover:
    """Serve the needs in the order of their dates, from what is here and then from what comes first.

    A need takes first what comes in time for its own job, then what is here, then what comes, as it is expected: its
    own job's share or what is for stock. So nothing that is here is taken from others without need.

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
    parts: dict[Hashable, list[_Part]] = defaultdict(list)
    for supply in sorted(coming, key=lambda c: c.expected_on):
        parts[supply.material] += _parts(supply)
    for need in sorted(wanted, key=lambda w: (w.needed_on or date.max, w.rank)):
        usable = [part for part in parts[need.material] if part.left and part.job in (None, need.job)]
        in_time = [p for p in usable if p.job is not None and p.expected_on <= (need.needed_on or date.max)]
        open_ = _take(result, need, need.quantity, in_time)
        here = min(open_, max(left.get(need.material, 0), 0))
        left[need.material] = left.get(need.material, 0) - here
        result.here[need.key] = here
        result.missing[need.key] = _take(result, need, open_ - here, usable)
    return result


def _parts(supply: Coming) -> list[_Part]:
    """The shares of a line, then its rest; a share is at most what is still to come."""
    parts, rest = [], supply.quantity
    for job, quantity in supply.shares.items():
        share = min(quantity, rest)
        rest -= share
        parts.append(_Part(supply.key, job, supply.expected_on, share))
    return [*parts, _Part(supply.key, None, supply.expected_on, rest)]


def _take(result: Cover, need: Wanted, open_: int, parts: Sequence[_Part]) -> int:
    """Serve a need from parts in their order; what stays open is given back."""
    for part in parts:
        taken = min(open_, part.left)
        if taken:
            part.left -= taken
            open_ -= taken
            _add(result.coming[need.key], part.line, taken)
            _add(result.served[part.line], need.key, taken)
    return open_


def _add(listed: list[tuple[Hashable, int]], key: Hashable, taken: int) -> None:
    """One entry where a need takes of two parts of a line one after the other."""
    if listed and listed[-1][0] == key:
        taken += listed.pop()[1]
    listed.append((key, taken))


def still_to_come(shares: Mapping[Hashable, int], arrived: int) -> dict[Hashable, int]:
    """Return what of each share of an order line is still to come.

    What came counts to the shares first, in their order; what is for stock comes last.

    Args:
        shares: how much of the line is for which job, in the order in which they are met [micro]
        arrived: what came of the line [micro]

    Returns:
        The shares of which something is still to come, with how much.

    Example:
        >>> still_to_come({"school": 20, "hall": 10}, 24)
        {'hall': 6}

    Source:
        House rule, DEVELOPERS.md "Lead times".
    """
    left = {}
    for job, quantity in shares.items():
        met = min(quantity, arrived)
        arrived -= met
        if quantity > met:
            left[job] = quantity - met
    return left
