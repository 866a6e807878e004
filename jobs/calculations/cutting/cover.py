"""Choosing sheets: of all the good sheets a search came by, the cheapest choice that holds every part.

A set covering problem in whole numbers, given to the mixed integer solver of OR-Tools in a thread of its own, so that
the search goes on meanwhile. What it gives is a plan like any other; it proves nothing.
"""

from collections import Counter
from threading import Thread

from jobs.calculations.cutting.instance import Instance
from jobs.calculations.cutting.search import Pattern, Tree

MOST_CHOSEN_FROM = 4_000


class Cover:
    """One choice among patterns, made in the background."""

    def __init__(
        self, instance: Instance, patterns: dict[Pattern, Tree], best: list[tuple[int, Tree]], seconds: float
    ) -> None:
        self.instance, self.seconds = instance, seconds
        areas = [kind.area for kind in instance.kinds]
        in_use = {tree for _, tree in best}

        def price(pattern: Pattern) -> float:
            return instance.sheets[pattern[0]].cost / sum(areas[kind] for kind in pattern[1])

        ordered = sorted(patterns.items(), key=lambda found: (found[1] not in in_use, price(found[0])))
        self.patterns = ordered[:MOST_CHOSEN_FROM]
        self.hint = Counter(tree for _, tree in best)
        self.sheets: list[tuple[int, Tree]] | None = None
        self.solver = None
        self.thread = Thread(target=self._choose, daemon=True)
        self.thread.start()

    @property
    def is_over(self) -> bool:
        return not self.thread.is_alive()

    def end(self) -> None:
        """Stop choosing and wait until that is done."""
        if self.solver is not None:
            self.solver.InterruptSolve()
        self.thread.join()

    def _choose(self) -> None:
        from ortools.linear_solver import pywraplp

        solver = pywraplp.Solver.CreateSolver("SCIP")
        if solver is None:
            return
        self.solver = solver
        rows = [solver.Constraint(len(kind.items), solver.infinity()) for kind in self.instance.kinds]
        limits = [solver.Constraint(0, sheet.quantity) for sheet in self.instance.sheets]
        objective = solver.Objective()
        counts, hints = [], []
        for (stock, kinds), tree in self.patterns:
            held = Counter(kinds)
            most = max(-(-len(self.instance.kinds[kind].items) // count) for kind, count in held.items())
            count = solver.IntVar(0, most, "")
            for kind, pieces in held.items():
                rows[kind].SetCoefficient(count, pieces)
            limits[stock].SetCoefficient(count, 1)
            objective.SetCoefficient(count, self.instance.sheets[stock].cost)
            counts.append(count)
            hints.append(min(most, self.hint.get(tree, 0)))
        objective.SetMinimization()
        solver.SetHint(counts, hints)
        solver.SetTimeLimit(int(1000 * self.seconds))
        if solver.Solve() in (pywraplp.Solver.OPTIMAL, pywraplp.Solver.FEASIBLE):
            self.sheets = [
                (pattern[0], tree)
                for (pattern, tree), count in zip(self.patterns, counts, strict=True)
                for _ in range(round(count.solution_value()))
            ]
