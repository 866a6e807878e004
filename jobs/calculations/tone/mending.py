"""Repairing a plan with the smallest change, when a sheet is spoiled, damaged or added later.

First the fewest pieces that change their room, then the smallest largest range, then the smallest sum; and what one and
two more moves would gain. Fixed pieces never move: they are part of the problem.
"""

from bisect import bisect_left
from collections import Counter
from dataclasses import dataclass
from typing import Any

from jobs.calculations.tone.bounds import NO_LIMIT, differing
from jobs.calculations.tone.plan import Plan, Rooms, faults, plan
from jobs.calculations.tone.problem import Problem
from jobs.calculations.tone.solver import Finding, Model, open_solver
from workshop.calculations.deadline import Deadline

MORE_MOVES = 2


@dataclass(frozen=True)
class Repair:
    """A plan that is whole again.

    Attributes:
        moved: pieces that lie in a room and leave it [-]
        plan: the plan [-]
        proven: whether no plan with so few moves is better [-]
    """

    moved: int
    plan: Plan
    proven: bool


def moved(before: Rooms, after: Rooms, problem: Problem) -> int:
    """How many pieces leave the room they lie in; those of rejected sheets do not count, nor do spares that are taken.

    Args:
        before: per room the sheet of each piece [-]
        after: the same, later [-]
        problem: the lot, which tells what is rejected now [-]

    Returns:
        pieces

    Example:
        >>> moved(((0, 1), (2,)), ((0, 2), (1,)), Problem(differences=[[0] * 3] * 3, rooms=()))
        2
    """
    there = [Counter(sheet for sheet in sheets if sheet not in problem.rejected) for sheets in before]
    return sum((old - Counter(new)).total() for old, new in zip(there, after, strict=True))


def repairs(problem: Problem, before: Rooms, seconds: float) -> list[Repair]:
    """Plans that keep every condition: with the fewest moves, then those that gain from a move or two more.

    Args:
        problem: the lot as it is now, the spoiled sheets among the rejected, the added ones with their differences [-]
        before: per room the sheet of each piece before, which may hold spoiled sheets or too few [-]
        seconds: the time it may take [-]

    Returns:
        each next one with more moves and a better plan; none where no plan keeps every condition or none was found

    Example:
        repairs(problem, before, 3)[0].moved is 0 where a spare takes the place of the spoiled sheet.
    """
    cp, deadline = open_solver(), Deadline(seconds)
    if cp is None:
        return _by_spares(problem, before)
    model = Model(cp, problem, NO_LIMIT)
    if model.impossible:
        return []
    model.model.minimize(_moves(model, before))
    fewest = model.solve(deadline.left)
    if fewest.found is None:
        return _by_spares(problem, before)
    least, found = moved(before, fewest.found.rooms, problem), []
    for moves in range(least, least + MORE_MOVES + 1):
        best = _best(cp, problem, before, moves, found[-1].plan if found else fewest.found, deadline)
        if best and (not found or best.plan.value < found[-1].plan.value):
            proven = best.proven and (bool(found) or fewest.best_proven)
            found.append(Repair(moved(before, best.plan.rooms, problem), best.plan, proven))
    return found


def fewest_moves(problem: Problem, given: Plan, before: Rooms, seconds: float) -> Plan:
    """Of the plans as good as this one the one with the fewest moves from an earlier one.

    Args:
        problem: the lot and what is asked [-]
        given: a plan [-]
        before: per room the sheet of each piece before [-]
        seconds: the time it may take [-]

    Returns:
        a plan of the same largest range and sum or smaller, with what was known of the given one

    Example:
        fewest_moves(problem, best, stacks, 2) leaves sheets where they lie as far as it costs nothing.
    """
    cp = open_solver()
    if cp is None:
        return given
    model = Model(cp, problem, given.largest)
    total = sum(room.weight * span for room, span in zip(problem.rooms, model.spans, strict=True))
    model.model.add(total <= given.weighted)
    model.hint(given)
    model.model.minimize(_moves(model, before))
    found = model.solve(seconds).found
    moves = moved(before, given.rooms, problem)
    if found is None or found.value > given.value or moved(before, found.rooms, problem) >= moves:
        return given
    return found.known(largest=given.largest_at_least, weighted=given.weighted_at_least, shared=given.shared_at_least)


def _moves(model: Model, before: Rooms) -> Any:
    """The pieces that leave their room, as the solver counts them."""
    leaving: list[Any] = []
    for room, sheets in enumerate(before):
        for sheet, number in Counter(sheets).items():
            if sheet in model.problem.rejected:
                continue
            here = model.count[room].get(sheet)
            if here is None:
                leaving.append(number)
            elif model.problem.pieces == 1:
                leaving.append(1 - here)
            else:
                gone = model.model.new_int_var(0, number, f"{sheet} leaves {room}")
                model.model.add(gone >= number - here)
                leaving.append(gone)
    return sum(leaving)


def _best(cp: Any, problem: Problem, before: Rooms, moves: int, known: Plan, deadline: Deadline) -> Repair | None:
    """The best plan with at most so many moves: the largest range by halving, then the sum."""
    values = [value for value in differing(problem) if value <= known.largest] or [0]
    best, sure = known if moved(before, known.rooms, problem) <= moves else None, True

    def ask(limit: int, sum_too: bool = False) -> Finding:
        model = Model(cp, problem, limit)
        if model.impossible:
            return Finding(None, 0, impossible=True)
        model.model.add(_moves(model, before) <= moves)
        if sum_too:
            spans = zip(problem.rooms, model.spans, strict=True)
            model.model.minimize(sum(room.weight * span for room, span in spans))
        return model.solve(deadline.left)

    def can(limit: int) -> bool:
        nonlocal best, sure
        finding = ask(limit)
        sure &= finding.impossible or finding.found is not None
        if finding.found and (best is None or finding.found.value < best.value):
            best = finding.found
        return finding.found is not None

    bisect_left(values, True, key=can)
    if best is None:
        return None
    last = ask(best.largest, sum_too=True)
    if last.found and last.found.value < best.value:
        best = last.found
    return Repair(moves, best, sure and last.best_proven)


def _by_spares(problem: Problem, before: Rooms) -> list[Repair]:
    """Without the solver: each gap takes the spare that keeps its room the most even."""
    rooms = [[sheet for sheet in sheets if sheet not in problem.rejected] for sheets in before]
    used = Counter(sheet for sheets in rooms for sheet in sheets)
    for room, asked in enumerate(problem.rooms):
        while len(rooms[room]) < asked.need:
            spares = [sheet for sheet in problem.sheets if used[sheet] < problem.pieces]
            if not spares:
                return []
            here = [problem.differences[sheet] for sheet in rooms[room]]
            best = min(spares, key=lambda sheet: (max((row[sheet] for row in here), default=0), sheet))
            rooms[room].append(best)
            used[best] += 1
    made = tuple(tuple(sorted(sheets)) for sheets in rooms)
    if faults(problem, made):
        return []
    return [Repair(moved(before, made, problem), plan(problem, made, "swaps"), proven=False)]
