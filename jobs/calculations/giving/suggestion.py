"""Which tone groups go to which rooms: a suggestion that keeps a room in one group wherever it can.

Sheets are counted in halves, two to a sheet. The groups stand in the order of the shop's ladder, light to
dark; a step is the distance of two neighbors on it. What is wanted, strictly in this order (house rule, see
DEVELOPERS.md):

1. the most need met; where there is too little, the rooms first in order are met first;
2. the smallest largest range of a room, in steps;
3. the fewest rooms that hold more than one group;
4. the fewest steps over all rooms;
5. what is left lies together: the largest sum of the squares of what is left of each group.

The search runs over arrangements in which rooms follow each other along the ladder, so that at most one
room lies across the border of two groups. For rooms that hold nothing yet no arrangement is better in 1 to
3: two rooms across the same border can trade sheets until one is clear of it, and neither gets wider. The
search has a fixed number of steps, the same on every machine; where it ends early, is_proven says so and
the best arrangement found is given.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.calculations.giving.arrangements import Kind
from jobs.calculations.giving.search import best_arrangement


class HalvesWrong(ValueError):
    """A count of halves below nothing."""

    def __init__(self, what: str, halves: int) -> None:
        self.what, self.halves = what, halves
        super().__init__(f"{halves} halves {what} cannot be: write 0 for none, or count them again.")


class GroupNotOnLadder(ValueError):
    """A group a room holds that the ladder does not have."""

    def __init__(self, group: int, groups: int) -> None:
        self.group, self.groups = group, groups
        super().__init__(
            f"Group {group} is not on the ladder of {groups}: use 0 to {groups - 1}, or add the group to it."
        )


@dataclass(frozen=True)
class RoomNeed:
    """What a room still needs, in halves, and the groups it holds already, by their place from 0."""

    key: int | str
    halves: int
    holds: tuple[int, ...] = ()


@dataclass(frozen=True)
class RoomSuggestion:
    """What a room gets: halves by group, light to dark; what it lacks; the groups it then holds."""

    key: int | str
    gives: tuple[tuple[int, int], ...]
    missing: int
    groups: tuple[int, ...]

    @property
    def steps(self) -> int:
        return self.groups[-1] - self.groups[0] if self.groups else 0


@dataclass(frozen=True)
class Suggestion:
    """The rooms in the order given, what is left of each group, and whether 2 and 3 above are proven."""

    rooms: tuple[RoomSuggestion, ...]
    left: tuple[int, ...]
    is_proven: bool

    @property
    def missing(self) -> int:
        return sum(room.missing for room in self.rooms)

    @property
    def largest_steps(self) -> int:
        return max((room.steps for room in self.rooms), default=0)

    @property
    def mixed_rooms(self) -> tuple[RoomSuggestion, ...]:
        return tuple(room for room in self.rooms if len(room.groups) > 1)


def suggest(rooms: Sequence[RoomNeed], free: Sequence[int]) -> Suggestion:
    """Return which tone groups each room is to get.

    The same rooms and groups give the same suggestion every time. Of rooms with the same need those first
    in order get the lighter groups.

    Args:
        rooms: the rooms in the order in which they are met when there is too little [-]
        free: the free halves of each group along the ladder, 0 for a group that is used up [-]

    Returns:
        One suggestion for each room in the order given. is_proven tells that no arrangement that meets the
        same needs has a smaller largest range, nor with that range fewer rooms with more than one group; it
        may be False where the search ended early, and where rooms that hold sheets already end up mixed.

    Raises:
        HalvesWrong: a need or a group below 0 halves.
        GroupNotOnLadder: a room holds a group that the ladder does not have.

    Example: 5 sheets for a practice room and 9 for the lobby, of 6, 9 and 2.

        >>> found = suggest([RoomNeed("practice", 10), RoomNeed("lobby", 18)], [12, 18, 4])
        >>> [room.gives for room in found.rooms], found.left
        ([((0, 10),), ((1, 18),)], (2, 0, 4))

    Source: house rule, see DEVELOPERS.md; limits of the claim at the head of this module.
    """
    _check(rooms, free)
    supply = sum(free)
    kinds, members = {}, {}
    for index, room in enumerate(rooms):
        halves = min(room.halves, supply)
        supply -= halves
        if halves:
            kind = Kind(halves, tuple(sorted(set(room.holds))))
            kinds[kind] = kinds.get(kind, 0) + 1
            members.setdefault(kind, []).append(index)
    pieces, is_proven = best_arrangement(kinds, tuple(free))
    gives: dict[int, tuple[tuple[int, int], ...]] = {}
    for kind, given in sorted(pieces, key=lambda piece: piece[1]):
        gives[members[kind].pop(0)] = given
    suggested = tuple(_suggestion(room, gives.get(index, ())) for index, room in enumerate(rooms))
    left = list(free)
    for room in suggested:
        for group, halves in room.gives:
            left[group] -= halves
    return Suggestion(suggested, tuple(left), is_proven and not _idle_room_is_wider(suggested))


def _idle_room_is_wider(rooms: Sequence[RoomSuggestion]) -> bool:
    """Whether a room that gets nothing spans more steps than all that get something, and one of those is mixed.

    The search kept every range below that room's, which fewer mixed rooms might not need.
    """
    served = [room for room in rooms if room.gives]
    widest = max((room.steps for room in served), default=0)
    idle = max((room.steps for room in rooms if not room.gives), default=0)
    return idle > widest and any(len(room.groups) > 1 for room in served)


def _check(rooms: Sequence[RoomNeed], free: Sequence[int]) -> None:
    for halves in free:
        if halves < 0:
            raise HalvesWrong("free", halves)
    for room in rooms:
        if room.halves < 0:
            raise HalvesWrong("needed", room.halves)
        for group in room.holds:
            if not 0 <= group < len(free):
                raise GroupNotOnLadder(group, len(free))


def _suggestion(room: RoomNeed, gives: tuple[tuple[int, int], ...]) -> RoomSuggestion:
    groups = sorted({*room.holds, *(group for group, _ in gives)})
    return RoomSuggestion(room.key, gives, room.halves - sum(halves for _, halves in gives), tuple(groups))
