"""The second priority: of plans that cost the same, one with a larger offcut worth keeping.

One sheet of the plan is made shorter or narrower by the offcut wanted, and the parts are planned again on the sheets
there are then. The offcut wanted is halved in on.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

from jobs.calculations.cutting.instance import Instance, Sheet, instance_of
from jobs.calculations.cutting.offcuts import usable_offcuts
from jobs.calculations.cutting.plan import CuttingPlan, plan_of
from jobs.calculations.cutting.problem import CuttingProblem
from jobs.calculations.cutting.search import Search
from workshop.calculations.deadline import Deadline

ROUNDS = 5


def with_larger_offcut(
    problem: CuttingProblem,
    plan: CuttingPlan,
    seconds: float,
    least_length: int = 1,
    least_width: int = 1,
    seed: int = 1,
    stop: Callable[[], bool] | None = None,
) -> CuttingPlan:
    """Return a plan on the same sheets whose largest usable offcut is larger, or the plan itself.

    Args:
        problem: sheets, parts and saw [-]
        plan: a plan that holds every part [-]
        seconds: time box in seconds [-]
        least_length: the shop's least longer side of an offcut [nm]
        least_width: the shop's least shorter side of an offcut [nm]
        seed: of the random choices [-]
        stop: asked now and then; true ends the search [-]

    Returns:
        A plan that costs the same.

    Example: `with_larger_offcut(problem, answer.plan, 3, least_length, least_width)`.

    Source: house rule.
    """
    if not plan.sheets:
        return plan
    deadline, instance = Deadline(seconds), instance_of(problem)
    best, ended = plan, stop or (lambda: False)
    counts = Counter(sheet.stock for sheet in plan.sheets)
    weakest = min(plan.sheets, key=lambda sheet: sum(part.length * part.width for part in sheet.parts)).stock
    sheet = instance.sheets[weakest]
    free = sum(instance.sheets[stock].area * count for stock, count in counts.items()) - sum(
        kind.area * len(kind.items) for kind in instance.kinds
    )
    kerf = -(-instance.kerf // instance.unit)
    for side in (1,) if instance.rips_first else (0, 1):
        whole, other = (sheet.length, sheet.width) if side == 0 else (sheet.width, sheet.length)
        most, least = min(whole - 1, free // other), _largest(best, least_length, least_width) // other // instance.unit
        for number in range(ROUNDS):
            wanted = (least + most + 1) // 2
            if wanted <= max(least, kerf) or most <= least or deadline.passed or ended():
                break
            box = Deadline(deadline.left / (2 * ROUNDS - number - ROUNDS * side))
            found = _plan_beside(
                problem, instance, counts, weakest, side, wanted, seed, lambda b=box: b.passed or ended()
            )
            if found is None:
                most = wanted - 1
                continue
            least = wanted
            if _largest(found, least_length, least_width) > _largest(best, least_length, least_width):
                best = found
    return best


def _largest(plan: CuttingPlan, least_length: int, least_width: int) -> int:
    return max((offcut.area for offcut in usable_offcuts(plan, least_length, least_width)), default=0)


def _plan_beside(
    problem: CuttingProblem,
    instance: Instance,
    counts: Counter[int],
    weakest: int,
    side: int,
    offcut: int,
    seed: int,
    is_over: Callable[[], bool],
) -> CuttingPlan | None:
    """A plan on the sheets taken, one of them without an offcut along one side; none where none was found."""
    whole = instance.sheets[weakest]
    less = (whole.length - offcut, whole.width) if side == 0 else (whole.length, whole.width - offcut)
    sheets = [
        replace(sheet, quantity=counts[stock] - (stock == weakest), limited=True)
        for stock, sheet in enumerate(instance.sheets)
    ]
    sheets.append(Sheet(*less, whole.cost, 1, True))
    kinds = tuple(
        replace(kind, stock=kind.stock | {len(instance.sheets)})
        if weakest in kind.stock and any(size[0] <= less[0] and size[1] <= less[1] for size in kind.sizes)
        else kind
        for kind in instance.kinds
    )
    stages = None if instance.most_stages is None else instance.most_stages - 1
    if stages == 0:
        return None
    search = Search(replace(instance, sheets=tuple(sheets), kinds=kinds, most_stages=stages), seed)
    search.build()
    if search.best is None:
        search.run(is_over, 0)
    if search.best is None:
        return None
    trees = [
        (stock, tree) if stock < len(instance.sheets) else (weakest, (whole.length, whole.width, side, (tree,)))
        for stock, tree in search.best
    ]
    trim = 2 * problem.saw.trim
    return plan_of(instance, trees, [(stock.length - trim, stock.width - trim) for stock in problem.stock])
