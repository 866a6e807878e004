"""A plan that gives sheets to rooms: its ranges, whether it keeps every condition, what is known of a better one."""

from collections import Counter
from dataclasses import dataclass, replace
from itertools import combinations

from jobs.calculations.tone.problem import Doorway, Problem

Rooms = tuple[tuple[int, ...], ...]
"""Per room its pieces in rising order: the sheet each is of, so a sheet of which both halves lie there stands twice."""


@dataclass(frozen=True)
class Plan:
    """Sheets given to rooms, and how good that is.

    Attributes:
        rooms: per room the sheet of each piece [-]
        ranges: per room the largest difference between two of its sheets [-]
        largest: the largest range of the rooms that count [-]
        weighted: sum of weight times range [-]
        shared: sheets with pieces in two or more rooms [-]
        largest_at_least: no plan has a smaller largest range than this [-]
        weighted_at_least: no plan with this largest range has a smaller sum than this [-]
        shared_at_least: no plan with this largest range and sum shares fewer sheets than this [-]
        found_by: runs, swaps or solver [-]
        solver: whether the solver that proves was there [-]
    """

    rooms: Rooms
    ranges: tuple[int, ...]
    largest: int
    weighted: int
    shared: int
    largest_at_least: int = 0
    weighted_at_least: int = 0
    shared_at_least: int = 0
    found_by: str = "runs"
    solver: bool = True

    @property
    def value(self) -> tuple[int, int, int]:
        """What plans are compared by, the smaller the better."""
        return self.largest, self.weighted, self.shared

    @property
    def largest_proven(self) -> bool:
        """Whether no plan has a smaller largest range."""
        return self.largest_at_least >= self.largest

    @property
    def weighted_proven(self) -> bool:
        """Whether no plan of the smallest largest range has a smaller sum."""
        return self.largest_proven and self.weighted_at_least >= self.weighted

    @property
    def proven(self) -> bool:
        """Whether no plan is better in any aim."""
        return self.weighted_proven and self.shared_at_least >= self.shared

    def known(self, *, largest: int = 0, weighted: int = 0, shared: int = 0) -> "Plan":
        """The same plan with what was proven since."""
        return replace(
            self,
            largest_at_least=max(self.largest_at_least, largest),
            weighted_at_least=max(self.weighted_at_least, weighted),
            shared_at_least=max(self.shared_at_least, shared),
        )


def range_of(problem: Problem, sheets: tuple[int, ...]) -> int:
    """The largest difference between any two sheets.

    Args:
        problem: the lot [-]
        sheets: sheets of a room, in any order, each as often as it likes [-]

    Returns:
        ten-thousandths, 0 for none or one sheet

    Example:
        >>> range_of(Problem(differences=[[0, 7], [7, 0]], rooms=()), (0, 1))
        7
    """
    return max((problem.differences[one][other] for one, other in combinations(set(sheets), 2)), default=0)


def plan(problem: Problem, rooms: Rooms, found_by: str = "runs", **known: int) -> Plan:
    """A plan with its figures.

    Args:
        problem: the lot and what is asked [-]
        rooms: per room the sheet of each piece [-]
        found_by: runs, swaps or solver [-]
        known: lower bounds largest_at_least, weighted_at_least, shared_at_least [-]

    Returns:
        the plan; that it keeps the conditions is not looked at, see faults()

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> lot = Problem(differences=[[0, 7], [7, 0]], rooms=(Room(need=2, weight=3),))
        >>> plan(lot, ((0, 1),)).weighted
        21
    """
    ranges = tuple(range_of(problem, sheets) for sheets in rooms)
    counted = (span for span, room in zip(ranges, problem.rooms, strict=True) if room.counts)
    homes = Counter(sheet for sheets in rooms for sheet in set(sheets))
    return Plan(
        rooms=tuple(tuple(sorted(sheets)) for sheets in rooms),
        ranges=ranges,
        largest=max(counted, default=0),
        weighted=sum(room.weight * span for room, span in zip(problem.rooms, ranges, strict=True)),
        shared=sum(number > 1 for number in homes.values()),
        found_by=found_by,
        **known,
    )


def faults(problem: Problem, rooms: Rooms) -> list[str]:
    """What a plan breaks, in plain English for tests and traces.

    Args:
        problem: the lot and what is asked [-]
        rooms: per room the sheet of each piece [-]

    Returns:
        one line a fault, none where the plan keeps every condition

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> faults(Problem(differences=[[0, 7], [7, 0]], rooms=(Room(need=2, limit=5),)), ((0, 1),))
        ['room 0 has a range of 7, its limit is 5']
    """
    found = []
    counts = [Counter(sheets) for sheets in rooms]
    for room, (asked, count) in enumerate(zip(problem.rooms, counts, strict=True)):
        if count.total() != asked.need:
            found.append(f"room {room} has {count.total()}, it needs {asked.need}")
        span = range_of(problem, rooms[room])
        if asked.limit is not None and span > asked.limit:
            found.append(f"room {room} has a range of {span}, its limit is {asked.limit}")
        found += [f"fixed sheet {one} left room {room}" for one, n in problem.held[room].items() if count[one] < n]
        found += [f"sheet {one} is kept out of room {room}" for one in count if (one, room) in problem.forbidden]
    used = sum(counts, Counter[int]())
    found += [f"sheet {one} is used {number} times" for one, number in used.items() if number > problem.pieces]
    found += [f"sheet {one} is rejected" for one in used if one in problem.rejected]
    for kept in problem.together:
        if any(0 < sum(count[one] for one in kept) < len(kept) * problem.pieces for count in counts):
            found.append(f"sheets {kept} do not stay together")
    found += [f"doorway {door.room}, {door.other}" for door in problem.doorways if not _agree(problem, door, rooms)]
    return found + _shades(problem, rooms)


def _agree(problem: Problem, door: Doorway, rooms: Rooms) -> bool:
    here, there = set(rooms[door.room]), set(rooms[door.other])
    near = {one: {other for other in there if problem.differences[one][other] <= door.limit} for one in here}
    if door.by_the_door is None:
        return all(len(others) == len(there) for others in near.values())
    chosen = combinations(near.values(), door.by_the_door)
    return any(len(set.intersection(*others)) >= door.by_the_door for others in chosen)


def _shades(problem: Problem, rooms: Rooms) -> list[str]:
    def lighter(one: int, other: int) -> bool:
        here, there = (sum(problem.lightness[sheet] for sheet in rooms[room]) for room in (one, other))
        return here * len(rooms[other]) > there * len(rooms[one])

    others = [room for room, sheets in enumerate(rooms) if sheets]
    found = []
    if problem.darkest is not None and any(lighter(problem.darkest, room) for room in others):
        found.append(f"room {problem.darkest} is not the darkest")
    if problem.lightest is not None and any(lighter(room, problem.lightest) for room in others):
        found.append(f"room {problem.lightest} is not the lightest")
    return found
