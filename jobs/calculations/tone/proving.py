"""The solver beside the search by swaps, in a thread of its own: what it proves and finds meets in one state."""

from bisect import bisect_left
from collections.abc import Callable, Iterator
from dataclasses import replace
from threading import Event, Lock, Thread

from jobs.calculations.tone.bounds import differing, quick_bound
from jobs.calculations.tone.plan import Plan
from jobs.calculations.tone.problem import Problem
from jobs.calculations.tone.solver import WORKERS, Finding, Model, open_solver
from jobs.calculations.tone.swaps import Stop
from workshop.calculations.deadline import Deadline

LARGEST_SHARE = 0.6
"""Share of the time after which the solver leaves the largest range unproven and turns to the sum."""
SWAPS_FIRST = 10
"""So many seconds one of two cores is left to the swaps while a smaller sum is looked for."""
LARGE, LONG_FOR_MANY, LONG = 700, 15, 60
"""With more sheets times rooms than this the solver is asked only where so many seconds are left, for the sum more."""
PATIENCE = 20
"""Hundredths of a second in which the thread may end."""
AGAIN_SECONDS = 2.5
"""So long the solver begins again when swaps find a smaller sum."""


class State:
    """The best plan and what is known of a better one, shared by the searches."""

    def __init__(self, problem: Problem, best: Plan | None) -> None:
        self.problem, self.best, self.told = problem, best, best
        self.least = {"largest": best.largest_at_least if best else 0, "weighted": 0, "shared": 0}
        self.of_value: tuple[int, int] = (best.largest, best.weighted) if best else (0, 0)
        self.closed = self.impossible = False
        self.solver, self.failure = True, None
        self.lock, self.changed = Lock(), Event()
        self.on_better: Callable[[], object] | None = None

    def offer(self, found: Plan) -> None:
        """Take a plan that keeps every condition, if it is better than the best."""
        with self.lock:
            if self.best is None or found.value < self.best.value:
                if self.best is not None and found.largest < self.best.largest:
                    self.least["weighted"] = self.least["shared"] = 0
                elif self.best is not None and found.weighted < self.best.weighted:
                    self.least["shared"] = 0
                self.best = found
                self._renew()
                if self.on_better:
                    self.on_better()

    def bound(self, *, largest: int = 0, weighted: int = 0, shared: int = 0, of: Plan | None = None) -> None:
        """Take a lower bound; for the sum of plans with the largest range of a plan, for sharing with its sum too."""
        with self.lock:
            self.least["largest"] = max(self.least["largest"], largest)
            if of and self.best and self.best.largest == of.largest:
                self.least["weighted"] = max(self.least["weighted"], weighted)
                if self.best.weighted == of.weighted:
                    self.least["shared"] = max(self.least["shared"], shared)
            self._renew()

    def without_solver(self) -> None:
        """Note that the solver is not there, so that nothing more will be proven."""
        with self.lock:
            self.solver = False
            self._renew()

    def _renew(self) -> None:
        if self.best:
            self.best = replace(self.best.known(**self.least), solver=self.solver)
        self.changed.set()

    def news(self) -> Iterator[Plan]:
        """The best plan, where it changed since it was last told."""
        with self.lock:
            self.changed.clear()
            best = self.best
        if best is not None and best != self.told:
            self.told = best
            yield best


class Prover(Thread):
    """The solver's questions one after the other: a smaller largest range, a smaller sum, fewer shared sheets."""

    def __init__(self, problem: Problem, state: State, deadline: Deadline, over: Stop, seed: int) -> None:
        super().__init__(daemon=True)
        self.beside_swaps = problem.is_plain
        self.problem, self.state, self.deadline, self.over, self.seed = problem, state, deadline, over, seed
        self.model: Model | None = None
        self.gives_up = False
        self.asked_for_sum = Deadline(SWAPS_FIRST)

    def end(self) -> None:
        """Stop the question that is asked now; a thread that is still laying out a question ends before asking it."""
        for _ in range(PATIENCE if self.is_alive() else 0):
            if self.model:
                self.model.solver.stop_search()
            self.join(0.01)

    @property
    def begun(self) -> bool:
        """Whether it was started, be it at an end or not."""
        return self.ident is not None

    def run(self) -> None:
        """All questions; what fails here is raised where the plans are asked for."""
        try:
            self._prove()
        except Exception as failure:
            self.state.failure = failure

    def _prove(self) -> None:
        """All questions, until there is nothing left to prove or no time."""
        cp = open_solver()
        if cp is None:
            self.state.without_solver()
            return
        self.cp = cp
        if self.state.best and self.state.best.largest_at_least == 0:
            self.state.bound(largest=quick_bound(self.problem, self.state.best.largest, self.over))
        if self._is_large() and self.deadline.left < LONG_FOR_MANY:
            return
        self._largest()
        while not self.over() and self.state.best and not self.state.best.proven and not self.gives_up:
            if not self.state.best.weighted_proven:
                self._weighted()
            elif not self.state.best.proven:
                self._shared()

    def _ask(
        self,
        model: Model,
        seconds: float,
        wanted: Callable[[], bool],
        bound: Callable[[int], None] | None = None,
        workers: int = WORKERS,
    ) -> Finding:
        """Ask one question, ended early where it is no longer wanted."""
        self.model = model
        self.state.on_better = lambda: wanted() or model.solver.stop_search()
        if not wanted() or self.over():
            return Finding(None, 0, impossible=False)
        finding = model.solve(min(seconds, self.deadline.left), self.state.offer, bound, workers, self.seed)
        self.state.on_better = None
        return finding

    def _is_large(self) -> bool:
        return len(self.problem.sheets) * len(self.problem.rooms) > LARGE

    def _largest(self) -> None:
        """Is a smaller largest range possible? One step smaller beside a search by swaps, else by halving."""
        state, values = self.state, differing(self.problem)
        until = Deadline(self.deadline.left * LARGEST_SHARE)
        while not self.over() and not until.passed:
            known = state.best
            if known is None:
                at = len(values) - 1
            elif known.largest_proven:
                return
            else:
                at = values.index(known.largest) - 1
                if not self.beside_swaps:
                    at = max((bisect_left(values, known.largest_at_least) + at) // 2, 0)
            if at < 0:
                return  # a range of 0 is the smallest there is
            model = Model(self.cp, self.problem, values[at], self.over)
            if known:
                model.hint(known)
            target = values[at]
            finding = self._ask(
                model, until.left, lambda target=target: state.best is None or state.best.largest > target
            )
            if finding.impossible and known is None:
                state.impossible = state.closed = True
                return
            if finding.impossible:
                state.bound(largest=values[at + 1])
            elif finding.found is None and (state.best is None or state.best.largest > target):
                return

    def _weighted(self) -> None:
        """Is a smaller sum possible with this largest range?"""
        state, known = self.state, self.state.best
        if self._is_large() and self.deadline.left < LONG:
            self.gives_up = True
            return
        model = Model(self.cp, self.problem, known.largest, self.over)
        spans = model.spans
        if model.cut:
            return
        total = sum(room.weight * span for room, span in zip(self.problem.rooms, spans, strict=True))
        model.model.add(total <= known.weighted - 1)
        model.model.minimize(total)
        begun = Deadline(AGAIN_SECONDS)

        def wanted() -> bool:
            now = state.best
            return now.largest == known.largest and (begun.passed or now.weighted == known.weighted)

        alone = self.asked_for_sum.left
        finding = self._ask(
            model,
            min(alone, self.deadline.left) if alone else self.deadline.left,
            wanted,
            lambda least: state.bound(weighted=least, of=known),
            1 if alone else WORKERS,
        )
        if finding.impossible:
            state.bound(weighted=known.weighted, of=known)
        elif finding.at_least:
            state.bound(weighted=finding.at_least, of=known)

    def _shared(self) -> None:
        """Can fewer sheets be shared by two rooms, with this largest range and sum?"""
        state, known = self.state, self.state.best
        model = Model(self.cp, self.problem, known.largest, self.over)
        spans = model.spans
        if model.cut:
            return
        total = sum(room.weight * span for room, span in zip(self.problem.rooms, spans, strict=True))
        model.model.add(total <= known.weighted)
        shared = []
        for sheet in self.problem.sheets:
            lies = [room[sheet] for room in model.lies if sheet in room]
            if len(lies) > 1:
                shared.append(model.model.new_bool_var(f"{sheet} is shared"))
                model.model.add(sum(lies) <= 1 + shared[-1])
        model.model.minimize(sum(shared))
        model.hint(known)
        finding = self._ask(model, self.deadline.left, lambda: state.best.value[:2] == known.value[:2])
        if finding.found and finding.at_least >= finding.found.shared:
            state.bound(shared=finding.at_least, of=finding.found)
