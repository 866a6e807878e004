"""Giving sheets to rooms: a first plan at once, better ones as they are found, with what is proven of them.

Two searches run side by side: swaps and restarts here, the solver in a thread of its own. The first looks for the
smallest largest range, then for the smallest sum; the solver proves, or finds what swaps do not.
"""

from collections.abc import Iterator
from itertools import islice

from jobs.calculations.tone.bounds import line_bound
from jobs.calculations.tone.plan import Plan, faults, plan
from jobs.calculations.tone.problem import Problem
from jobs.calculations.tone.proving import Prover, State
from jobs.calculations.tone.restarts import FEW, Search
from jobs.calculations.tone.runs import MOST_ROOMS_IN_ANY_ORDER, orders, runs
from jobs.calculations.tone.swaps import Stop
from workshop.calculations.deadline import Deadline

CARE, CARE_MANY = 0.12, 0.75
"""Share of the time for swaps toward the largest range while it is not proven: with few sheets, and with many."""


class NoPlanFound(ValueError):
    """In the time given no plan was found that keeps every condition; or it is proven that there is none."""

    def __init__(self, impossible: bool) -> None:
        self.impossible = impossible
        super().__init__(
            "no plan keeps every condition; a wider limit or fewer fixed sheets would do"
            if impossible
            else "no plan that keeps every condition was found in this time; more time or a wider limit would do"
        )


def first_plan(problem: Problem) -> Plan | None:
    """A plan at once, without numpy and without the solver.

    Args:
        problem: the lot and what is asked [-]

    Returns:
        the best of a few plans of runs that keeps every condition, with what is known of a better one; none where
        these runs keep not every condition

    Example:
        first_plan(problem).largest of a lot with one scale of tone is the smallest largest range there is.
    """
    best, proven = None, False
    for order in islice(orders(problem), 3) if len(problem.sheets) > FEW else orders(problem):
        rooms = runs(problem, order)
        if rooms is None or faults(problem, rooms):
            continue
        found = plan(problem, rooms)
        if len(problem.rooms) <= MOST_ROOMS_IN_ANY_ORDER and line_bound(problem, order, found.largest):
            proven = True
        if best is None or found.value < best.value:
            best = found
    if best is None:
        return None
    return best.known(largest=best.largest) if proven else best


def allocate(
    problem: Problem, seconds: float, stop: Stop | None = None, seed: int = 0, solver: bool = True
) -> Iterator[Plan]:
    """Plans for a lot, each better than the one before or better known, until the best is proven or the time is over.

    Args:
        problem: the lot and what is asked [-]
        seconds: the time it may take; the first plan comes at once [-]
        stop: asked now and then whether to end earlier [-]
        seed: of the drawn numbers; the same seed draws the same, but how far a search comes depends on the machine [-]
        solver: whether to ask the solver too [-]

    Returns:
        plans that keep every condition; the last one is the best

    Raises:
        NoPlanFound: no plan keeps every condition, or none was found in the time; raised at the end

    Example:
        for better in allocate(problem, seconds=8): better.ranges, better.largest_proven
    """
    deadline = Deadline(seconds)
    state = State(problem, first_plan(problem))
    if state.best:
        yield state.best
    if problem.need == 0:
        return

    def over() -> bool:
        return deadline.passed or bool(stop and stop()) or state.closed

    prover = Prover(problem, state, deadline, over, seed) if solver else None
    search = _search(problem, seed)
    few = len(problem.sheets) * problem.pieces <= FEW
    try:
        if prover and (few or search is None):
            prover.start()
        if search:
            yield from _narrowed(search, state, Deadline(deadline.left * (CARE if few else CARE_MANY)), over)
        if prover and not prover.begun and not over():
            prover.start()
        if search:
            yield from _lightened(search, state, over)
        while prover and prover.is_alive() and not over():
            state.changed.wait(0.02)
            yield from state.news()
    finally:
        state.closed = True
        if prover:
            prover.end()
    if state.failure:
        raise state.failure
    yield from state.news()
    if state.best is None:
        raise NoPlanFound(state.impossible)


def _search(problem: Problem, seed: int) -> Search | None:
    """The search by swaps; none where conditions are asked that it cannot see, or where numpy is not there."""
    try:
        import numpy  # noqa: F401
    except ImportError:
        return None
    return Search(problem, seed) if problem.is_plain else None


def _narrowed(search: Search, state: State, care: Deadline, over: Stop) -> Iterator[Plan]:
    """Toward the smallest largest range, until it is proven or the time for it is over."""

    def enough() -> bool:
        known = state.best
        return over() or (known is not None and (known.largest_proven or care.passed))

    for found in search.narrow(state.best, enough):
        state.offer(found)
        yield from state.news()


def _lightened(search: Search, state: State, over: Stop) -> Iterator[Plan]:
    """Toward the smallest sum; again from the beginning whenever the solver finds a smaller largest range."""
    while not over() and state.best and not state.best.weighted_proven:
        limit = state.best.largest

        def enough(limit: int = limit) -> bool:
            return over() or state.best.largest < limit or state.best.weighted_proven

        for found in search.lighten(state.best, enough):
            state.offer(found)
            yield from state.news()
