"""What a delivery can do: how many rooms it keeps under a limit, and the smallest limit that can be kept.

"This delivery cannot keep four rooms under 1.8; three can", while sheets can still be refused.
"""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass, replace

from jobs.calculations.tone.bounds import NO_LIMIT, differing
from jobs.calculations.tone.plan import Plan
from jobs.calculations.tone.problem import Problem
from jobs.calculations.tone.solver import Model, open_solver
from workshop.calculations.deadline import Deadline


@dataclass(frozen=True)
class Kept:
    """How many rooms can be kept under a limit.

    Attributes:
        number: so many can, as the plan shows [-]
        at_most: more than so many cannot [-]
        plan: the plan, none where none was found or the solver is not there [-]
    """

    number: int
    at_most: int
    plan: Plan | None

    @property
    def proven(self) -> bool:
        """Whether no plan keeps more."""
        return self.number >= self.at_most


@dataclass(frozen=True)
class SmallestLimit:
    """The smallest value of a limit with which a plan exists.

    Attributes:
        limit: with this one a plan was found, none where none was found at all; ten-thousandths [-]
        at_least: with a smaller one there is none, ten-thousandths [-]
        plan: the plan [-]
    """

    limit: int | None
    at_least: int
    plan: Plan | None

    @property
    def proven(self) -> bool:
        """Whether no smaller limit can be kept."""
        return self.limit is not None and self.at_least >= self.limit


def rooms_within(problem: Problem, limit: int, seconds: float) -> Kept:
    """How many rooms can have a range within a limit at the same time, every condition kept.

    Args:
        problem: the lot and what is asked [-]
        limit: range in ten-thousandths [-]
        seconds: the time it may take [-]

    Returns:
        the number, the most that is possible as far as proven, and a plan

    Example:
        rooms_within(problem, 18_000, 3).number is 3 of 4 rooms.
    """
    number = len(problem.rooms)
    cp = open_solver()
    if cp is None:
        return Kept(0, number, None)
    model = Model(cp, problem, NO_LIMIT)
    if model.impossible:
        return Kept(0, 0, None)
    keeps = []
    for room, lies in enumerate(model.lies):
        keeps.append(model.model.new_bool_var(f"room {room} is even"))
        sheets = list(lies)
        for at, one in enumerate(sheets):
            for other in sheets[:at]:
                if problem.differences[one][other] > limit:
                    apart = [lies[one].negated(), lies[other].negated(), keeps[-1].negated()]
                    model.model.add_bool_or(apart)
    model.model.maximize(sum(keeps))
    finding = model.solve(seconds)
    if finding.found is None:
        return Kept(0, 0 if finding.impossible else number, None)
    kept = sum(span <= limit for span in finding.found.ranges)
    return Kept(kept, kept if finding.best_proven else number, finding.found)


def smallest_doorway_limit(problem: Problem, doorway: int, seconds: float) -> SmallestLimit:
    """The smallest limit of a doorway with which a plan exists, everything else kept.

    Args:
        problem: the lot and what is asked [-]
        doorway: place of the doorway among the problem's [-]
        seconds: the time it may take [-]

    Returns:
        the limit and a plan

    Example:
        smallest_doorway_limit(problem, 0, 3).limit is 24_310 where 20_000 cannot be kept.
    """

    def with_limit(limit: int) -> Problem:
        doors = list(problem.doorways)
        doors[doorway] = replace(doors[doorway], limit=limit)
        return replace(problem, doorways=tuple(doors))

    return _smallest(problem, with_limit, seconds)


def smallest_room_limit(problem: Problem, room: int, seconds: float) -> SmallestLimit:
    """The smallest limit of a room's own range with which a plan exists, everything else kept.

    Args:
        problem: the lot and what is asked [-]
        room: the room [-]
        seconds: the time it may take [-]

    Returns:
        the limit and a plan

    Example:
        smallest_room_limit(problem, 2, 3).limit is 9_800 where 8_000 cannot be kept.
    """

    def with_limit(limit: int) -> Problem:
        rooms = list(problem.rooms)
        rooms[room] = replace(rooms[room], limit=limit)
        return replace(problem, rooms=tuple(rooms))

    return _smallest(problem, with_limit, seconds)


def _smallest(problem: Problem, with_limit: Callable[[int], Problem], seconds: float) -> SmallestLimit:
    cp, deadline, values = open_solver(), Deadline(seconds), differing(problem)
    if cp is None:
        return SmallestLimit(None, 0, None)
    known: dict[int, Plan] = {}
    no_less = 0

    def can(limit: int) -> bool:
        nonlocal no_less
        finding = Model(cp, with_limit(limit), NO_LIMIT).solve(deadline.left)
        if finding.found:
            known[limit] = finding.found
        elif finding.impossible:
            no_less = max(no_less, values.index(limit) + 1)
        return finding.found is not None

    bisect_left(values, True, key=can)
    smallest = min(known, default=None)
    if smallest is None and can(values[-1]):
        smallest = values[-1]
    return SmallestLimit(
        smallest, values[min(no_less, len(values) - 1)], known[smallest] if smallest is not None else None
    )
