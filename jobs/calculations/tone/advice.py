"""What one sheet does to its room, and what would be gained by taking it away or by changing its place."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from jobs.calculations.tone.plan import Plan, Rooms, faults, plan, range_of
from jobs.calculations.tone.problem import Problem


class Remedy(Enum):
    """What can be done about a sheet that makes its room uneven."""

    REJECT = "reject it and take a spare"
    SWAP = "change it for a sheet of another room"
    HIDE = "hide it, behind the door"


@dataclass(frozen=True)
class Influence:
    """What a sheet does to its room: "Sheet 31 alone makes the recital room plain: without it 1.2 instead of 3.1".

    Attributes:
        sheet: the sheet [-]
        room: its room [-]
        range_now: range of the room, ten-thousandths [-]
        range_without: range of the room's other sheets, ten-thousandths [-]
    """

    sheet: int
    room: int
    range_now: int
    range_without: int

    @property
    def gain(self) -> int:
        """By how much the room is more even without it."""
        return self.range_now - self.range_without


@dataclass(frozen=True)
class Proposal:
    """Something that can be done about a sheet, and the plan it leads to.

    Attributes:
        remedy: what is done [-]
        sheet: the sheet [-]
        other: the sheet that comes in its place, none where it only is hidden [-]
        range_after: range of its room then, ten-thousandths [-]
        after: the plan then; where the sheet is hidden the plan stays [-]
    """

    remedy: Remedy
    sheet: int
    other: int | None
    range_after: int
    after: Plan


def influences(problem: Problem, given: Plan) -> list[Influence]:
    """The sheets without which their room would be more even, those that gain most first.

    Args:
        problem: the lot and what is asked [-]
        given: a plan [-]

    Returns:
        one for each such sheet

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> lot = Problem(differences=[[0, 2, 9], [2, 0, 7], [9, 7, 0]], rooms=(Room(3),))
        >>> [(one.sheet, one.range_without) for one in influences(lot, plan(lot, ((0, 1, 2),)))]
        [(2, 2), (0, 7)]
    """
    found = []
    for room, (sheets, span) in enumerate(zip(given.rooms, given.ranges, strict=True)):
        for sheet in sorted(set(sheets)):
            left = range_of(problem, tuple(other for other in sheets if other != sheet))
            if left < span:
                found.append(Influence(sheet, room, span, left))
    return sorted(found, key=lambda one: (-one.gain, one.room, one.sheet))


def proposals(problem: Problem, given: Plan, sheet: int, room: int) -> list[Proposal]:
    """What can be done about a sheet in a room, the most gained first; nothing that breaks a condition.

    Args:
        problem: the lot and what is asked [-]
        given: a plan [-]
        sheet: the sheet [-]
        room: the room it is in [-]

    Returns:
        the best spare in its place, the best change with another room, and hiding it, each where the room is more even

    Example:
        >>> from jobs.calculations.tone.problem import Room
        >>> lot = Problem(differences=[[0, 2, 9], [2, 0, 7], [9, 7, 0]], rooms=(Room(2),))
        >>> [(one.remedy.name, one.other) for one in proposals(lot, plan(lot, ((0, 2),)), 2, 0)]
        [('HIDE', None), ('REJECT', 1)]
    """
    span = given.ranges[room]
    left = range_of(problem, tuple(other for other in given.rooms[room] if other != sheet))
    found = [Proposal(Remedy.HIDE, sheet, None, left, given)]
    if not problem.held[room][sheet]:
        for remedy, tried in ((Remedy.REJECT, _with_spares), (Remedy.SWAP, _with_rooms)):
            made = ((other, plan(problem, rooms, "swaps")) for other, rooms in tried(problem, given, sheet, room))
            good = [(after.value, other, after) for other, after in made if not faults(problem, after.rooms)]
            if good:
                _, other, after = min(good, key=lambda one: one[:2])
                found.append(Proposal(remedy, sheet, other, after.ranges[room], after))
    better = [one for one in found if one.range_after < span and one.after.largest <= given.largest]
    return sorted(better, key=lambda one: (one.range_after, one.remedy.value))


def _with_spares(problem: Problem, given: Plan, sheet: int, room: int) -> Iterator[tuple[int, Rooms]]:
    used = {one for sheets in given.rooms for one in sheets}
    for spare in problem.sheets:
        if spare not in used:
            rooms = [list(sheets) for sheets in given.rooms]
            rooms[room] = [spare if one == sheet else one for one in rooms[room]]
            yield spare, tuple(tuple(sorted(sheets)) for sheets in rooms)


def _with_rooms(problem: Problem, given: Plan, sheet: int, room: int) -> Iterator[tuple[int, Rooms]]:
    for other_room, sheets in enumerate(given.rooms):
        for other in sorted(set(sheets)) if other_room != room else ():
            if problem.held[other_room][other] or other == sheet:
                continue
            rooms = [list(one) for one in given.rooms]
            rooms[room][rooms[room].index(sheet)] = other
            rooms[other_room][rooms[other_room].index(other)] = sheet
            yield other, tuple(tuple(sorted(one)) for one in rooms)
