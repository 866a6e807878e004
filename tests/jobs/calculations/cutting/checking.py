"""An independent check of a cutting plan, from the coordinates alone: it knows nothing of cut trees."""

from collections import Counter
from collections.abc import Iterable
from itertools import pairwise

from jobs.calculations.cutting.plan import CuttingPlan
from jobs.calculations.cutting.problem import CuttingProblem

Rectangle = tuple[int, int, int, int]


def faults(problem: CuttingProblem, plan: CuttingPlan) -> list[str]:
    """Everything that is wrong with a plan, in words."""
    found = []
    cut = Counter(part.part for sheet in plan.sheets for part in sheet.parts)
    for place, part in enumerate(problem.parts):
        if cut[place] != part.quantity:
            found.append(f"part {place}: {cut[place]} of {part.quantity}")
    taken = Counter(sheet.stock for sheet in plan.sheets)
    for place, stock in enumerate(problem.stock):
        if stock.quantity is not None and taken[place] > stock.quantity:
            found.append(f"stock {place}: {taken[place]} of {stock.quantity}")
    if plan.cost != sum(problem.stock[sheet.stock].cost for sheet in plan.sheets):
        found.append("cost")
    for number, sheet in enumerate(plan.sheets):
        found += [f"sheet {number}: {fault}" for fault in _sheet_faults(problem, sheet)]
    return found


def _sheet_faults(problem: CuttingProblem, sheet) -> list[str]:
    found, saw, stock = [], problem.saw, problem.stock[sheet.stock]
    for piece in sheet.parts:
        part = problem.parts[piece.part]
        as_drawn = (piece.length, piece.width) == (part.length, part.width)
        as_turned = (piece.width, piece.length) == (part.length, part.width)
        if not (as_drawn or (as_turned and part.may_turn)):
            found.append(f"size or grain of part {piece.part}")
        if part.stock is not None and sheet.stock not in part.stock:
            found.append(f"part {piece.part} from a sheet of another tone")
        ends = (piece.x + piece.length, piece.y + piece.width)
        if min(piece.x, piece.y) < saw.trim or ends[0] > stock.length - saw.trim or ends[1] > stock.width - saw.trim:
            found.append(f"part {piece.part} in the edge clean-up")
    grown = [(part.x, part.y, part.x + part.length + saw.kerf, part.y + part.width + saw.kerf) for part in sheet.parts]
    found += ["overlap or less than a kerf between parts" for one, other in _pairs(grown) if _overlap(one, other)]
    if not is_guillotine(grown):
        found.append("no full cut parts the pieces")
    return found


def _pairs(rectangles: list[Rectangle]) -> Iterable[tuple[Rectangle, Rectangle]]:
    return ((one, other) for place, one in enumerate(rectangles) for other in rectangles[:place])


def _overlap(one: Rectangle, other: Rectangle) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def is_guillotine(rectangles: list[Rectangle]) -> bool:
    """Whether rectangles, each grown by the kerf, come apart by cuts from edge to edge."""
    if len(rectangles) <= 1:
        return True
    for axis in (0, 1):
        groups = _apart(rectangles, axis)
        if len(groups) > 1:
            return all(is_guillotine(group) for group in groups)
    return False


def _apart(rectangles: list[Rectangle], axis: int) -> list[list[Rectangle]]:
    """Rectangles in groups that a line across the axis keeps apart."""
    groups: list[list[Rectangle]] = []
    reach = None
    for rectangle in sorted(rectangles, key=lambda rectangle: rectangle[axis]):
        if reach is None or rectangle[axis] >= reach:
            groups.append([])
        groups[-1].append(rectangle)
        reach = max(reach or 0, rectangle[axis + 2])
    return groups


def stages(rectangles: list[Rectangle]) -> int:
    """The fewest turns in which cuts part the rectangles, without the cuts that free a part from its rest."""
    if len(rectangles) <= 1:
        return 0
    options = [_apart(rectangles, axis) for axis in (0, 1)]
    return 1 + min(max(stages(group) for group in groups) for groups in options if len(groups) > 1)


def lies_side_by_side(starts_and_ends: list[tuple[int, int]]) -> bool:
    """Whether stretches follow each other without overlap."""
    return all(one[1] <= other[0] for one, other in pairwise(sorted(starts_and_ends)))
