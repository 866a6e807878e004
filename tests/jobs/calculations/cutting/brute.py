"""The cheapest guillotine plan of a very small problem, by trying everything; no kerf, no clean-up."""

from functools import cache

from jobs.calculations.cutting.problem import CuttingProblem


def cheapest(problem: CuttingProblem) -> int | None:
    """The least cost; none where no plan holds every part."""
    pieces = [part for part in problem.parts for _ in range(part.quantity)]
    everything = (1 << len(pieces)) - 1

    @cache
    def fits(chosen: int, length: int, width: int) -> bool:
        members = [place for place in range(len(pieces)) if chosen >> place & 1]
        if sum(pieces[place].length * pieces[place].width for place in members) > length * width:
            return False
        if len(members) == 1:
            part = pieces[members[0]]
            lies = part.length <= length and part.width <= width
            return lies or (part.may_turn and part.width <= length and part.length <= width)
        first = chosen & -chosen
        some = (chosen - 1) & chosen
        while some:
            if some & first:
                others = chosen ^ some
                if any(fits(some, cut, width) and fits(others, length - cut, width) for cut in range(1, length)):
                    return True
                if any(fits(some, length, cut) and fits(others, length, width - cut) for cut in range(1, width)):
                    return True
            some = (some - 1) & chosen
        return False

    def allowed(chosen: int, stock: int) -> bool:
        return all(
            part.stock is None or stock in part.stock for place, part in enumerate(pieces) if chosen >> place & 1
        )

    @cache
    def cost(left: int, used: tuple[int, ...]) -> int | None:
        if not left:
            return 0
        first, best = left & -left, None
        chosen = left
        while chosen:
            if chosen & first:
                for place, stock in enumerate(problem.stock):
                    if stock.quantity is not None and used[place] >= stock.quantity:
                        continue
                    if allowed(chosen, place) and fits(chosen, stock.length, stock.width):
                        now = tuple(count + (number == place) for number, count in enumerate(used))
                        rest = cost(left ^ chosen, now)
                        if rest is not None and (best is None or rest + stock.cost < best):
                            best = rest + stock.cost
            chosen = (chosen - 1) & left
        return best

    return cost(everything, (0,) * len(problem.stock))
