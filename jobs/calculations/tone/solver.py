"""The problem as OR-Tools CP-SAT sees it: to prove that no better plan exists, and to find one where swaps do not.

Everything is whole numbers, so that what the solver proves is proven. OR-Tools is imported by open_solver() only.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from types import ModuleType
from typing import Any

from jobs.calculations.tone.bounds import agreeing, covered, differing, room_limit
from jobs.calculations.tone.plan import Plan, plan
from jobs.calculations.tone.problem import Problem

WORKERS = 2


def open_solver() -> ModuleType | None:
    """The solver's module.

    Returns:
        ortools.sat.python.cp_model; none where OR-Tools is not installed, and then only quick bounds are proven

    Example:
        open_solver() is none on a machine where OR-Tools cannot be installed.
    """
    try:
        from ortools.sat.python import cp_model
    except ImportError:
        return None
    return cp_model


@dataclass(frozen=True)
class Finding:
    """What a question to the solver came to.

    Attributes:
        found: a plan that keeps what was asked, or none [-]
        at_least: for a smallest value, that no plan is below it [-]
        impossible: whether it is proven that no plan keeps what was asked [-]
        best_proven: whether the plan found is proven the best for what was asked [-]
    """

    found: Plan | None
    at_least: int
    impossible: bool
    best_proven: bool = False


class Model:
    """Variables and conditions for plans within a limit."""

    def __init__(self, cp: ModuleType, problem: Problem, limit: int, stop: Callable[[], bool] = lambda: False) -> None:
        self.cp, self.problem, self.limit, self.stop = cp, problem, limit, stop
        self.cut = False  # laid out in part only, because it was stopped: then nothing may be asked or concluded
        self.model, self.solver = cp.CpModel(), cp.CpSolver()
        self.impossible = False
        self.lies: list[dict[int, Any]] = []
        self.count: list[dict[int, Any]] = []
        self.agrees: list[dict[int, int]] = []
        for room in range(len(problem.rooms)):
            if self._stopped():
                return
            agrees = agreeing(problem, room, room_limit(problem, room, limit))
            self.impossible |= agrees is None
            self.agrees.append(agrees or {})
        if not self.impossible:
            self._place()
        if not self.impossible and not self.cut:
            self._doorways()
            self._together()
            self._shades()

    def _stopped(self) -> bool:
        self.cut = self.cut or self.stop()
        return self.cut

    def _place(self) -> None:
        model, problem = self.model, self.problem
        for room, agrees in enumerate(self.agrees):
            if self._stopped():
                return
            lies = {sheet: model.new_bool_var(f"{sheet} in {room}") for sheet in agrees}
            count: dict[int, Any] = dict(lies)
            if problem.pieces == 2:
                for sheet, here in lies.items():
                    whole = model.new_bool_var(f"both of {sheet} in {room}")
                    model.add_implication(whole, here)
                    count[sheet] = here + whole
            for sheet, number in problem.held[room].items():
                model.add(count[sheet] >= number)
            model.add(sum(count.values()) == problem.rooms[room].need)
            all_sheets = sum(1 << sheet for sheet in agrees)
            for group in covered({sheet: all_sheets & ~bits for sheet, bits in agrees.items()}):
                model.add_at_most_one(lies[sheet] for sheet in group)
            self.lies.append(lies)
            self.count.append(count)
        for sheet in problem.sheets:
            uses = [count[sheet] for count in self.count if sheet in count]
            if problem.pieces == 1:
                model.add_at_most_one(uses)
            else:
                model.add(sum(uses) <= problem.pieces)

    def _doorways(self) -> None:
        far = self.problem.differences
        for door in self.problem.doorways:
            sides = [self.lies[door.room], self.lies[door.other]]
            if door.by_the_door is not None:
                sides = [self._by_the_door(side, door.by_the_door) for side in sides]
            for one, here in sides[0].items():
                for other, there in sides[1].items():
                    if far[one][other] > door.limit:
                        self.model.add_bool_or(here.negated(), there.negated())

    def _by_the_door(self, lies: dict[int, Any], number: int) -> dict[int, Any]:
        near = {sheet: self.model.new_bool_var(f"{sheet} by the door") for sheet in lies}
        for sheet, here in lies.items():
            self.model.add_implication(near[sheet], here)
        self.model.add(sum(near.values()) >= number)
        return near

    def _together(self) -> None:
        for kept in self.problem.together:
            first = kept[0]
            for count in self.count:
                for sheet in kept[1:]:
                    self.model.add(count.get(sheet, 0) == count.get(first, 0))
                if self.problem.pieces == 2 and first in count:
                    self.model.add(count[first] != 1)

    def _shades(self) -> None:
        problem = self.problem
        if problem.darkest is None and problem.lightest is None:
            return
        light = [sum(problem.lightness[sheet] * part for sheet, part in count.items()) for count in self.count]
        for dark, bright in [(problem.darkest, None), (None, problem.lightest)]:
            own = dark if dark is not None else bright
            for room, asked in enumerate(problem.rooms):
                if own is not None and room != own and asked.need:
                    here, there = light[own] * asked.need, light[room] * problem.rooms[own].need
                    self.model.add(here <= there if dark is not None else here >= there)

    @cached_property
    def spans(self) -> list[Any]:
        """Per room a variable that is no smaller than its range."""
        model, problem, far = self.model, self.problem, self.problem.differences
        values, spans = differing(problem), []
        for room, (asked, lies, agrees) in enumerate(zip(problem.rooms, self.lies, self.agrees, strict=True)):
            if self._stopped():
                return spans
            limit = room_limit(problem, room, self.limit)
            span = model.new_int_var_from_domain(
                self.cp.Domain.from_values([value for value in values if value <= limit]), f"range of {room}"
            )
            spans.append(span)
            least = -(-asked.need // problem.pieces)
            for one in lies:
                own = sorted(far[one][other] for other in lies if agrees[one] >> other & 1)
                if least and own[least - 1]:
                    model.add(span >= own[least - 1]).only_enforce_if(lies[one])
            for one, other in combinations(lies, 2):
                if agrees[one] >> other & 1 and far[one][other]:
                    both = agrees[one] & agrees[other]
                    reach = sorted(max(far[one][third], far[other][third]) for third in lies if both >> third & 1)
                    at_least = max(far[one][other], reach[least - 1])
                    model.add(span >= at_least).only_enforce_if(lies[one], lies[other])
        return spans

    def hint(self, known: Plan) -> None:
        """Tell the solver a plan to begin from."""
        for sheets, lies in zip(known.rooms, self.lies, strict=False):  # no variables where it is impossible
            for sheet, here in lies.items():
                self.model.add_hint(here, sheet in sheets)

    def _read(self, value: Callable[[Any], int]) -> Plan:
        rooms = tuple(tuple(sheet for sheet, part in count.items() for _ in range(value(part))) for count in self.count)
        return plan(self.problem, rooms, "solver")

    def solve(
        self,
        seconds: float,
        found: Callable[[Plan], None] | None = None,
        bound: Callable[[int], None] | None = None,
        workers: int = WORKERS,
        seed: int = 0,
    ) -> Finding:
        """Ask the solver; from another thread solver.stop_search() ends it."""
        if self.impossible or self.cut or seconds <= 0:
            return Finding(None, 0, self.impossible)
        cp, solver, read = self.cp, self.solver, self._read

        class Told(cp.CpSolverSolutionCallback):  # type: ignore[misc]
            def on_solution_callback(self) -> None:
                if found:
                    found(read(self.value))

        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = workers
        solver.parameters.random_seed = seed
        if bound:
            solver.best_bound_callback = lambda value: bound(int(value // 1))
        status = solver.solve(self.model, Told())
        if status == cp.INFEASIBLE:
            return Finding(None, 0, impossible=True)
        if status not in (cp.OPTIMAL, cp.FEASIBLE):
            return Finding(None, 0, impossible=False)
        at_least = round(solver.objective_value) if status == cp.OPTIMAL and self.model.has_objective() else 0
        return Finding(read(solver.value), at_least, impossible=False, best_proven=status == cp.OPTIMAL)
