"""The least cost of a small board problem by trying everything, with nothing of the app in it."""

from functools import cache
from itertools import combinations
from random import Random

from jobs.calculations.milling.boards.problem import BoardPiece, BoardProblem, StockBoard


def least_cost(problem: BoardProblem) -> int | None:
    """The least cost over every way to put the pieces on boards; none where the boards do not do."""
    pieces = sorted((piece.length for piece in problem.pieces for _ in range(piece.quantity)), reverse=True)
    stock = [
        (board.length - 2 * problem.end_cut_off, board.cost, len(pieces) if board.quantity is None else board.quantity)
        for board in problem.stock
    ]

    @cache
    def best(left: tuple[int, ...], boards: tuple[int, ...]) -> int | None:
        if not left:
            return 0
        first, others = left[0], left[1:]
        found = None
        for count in range(len(others), -1, -1):
            for beside in set(combinations(others, count)):
                needed = first + sum(beside) + problem.kerf * count
                rest = list(others)
                for piece in beside:
                    rest.remove(piece)
                for place, (usable, cost, _) in enumerate(stock):
                    if needed <= usable and boards[place]:
                        fewer = tuple(each - (at == place) for at, each in enumerate(boards))
                        after = best(tuple(rest), fewer)
                        if after is not None and (found is None or cost + after < found):
                            found = cost + after
        return found

    return best(tuple(pieces), tuple(quantity for _, _, quantity in stock))


def random_problem(random: Random) -> BoardProblem:
    """A small problem with kerf, end cut-off, several lengths, some of which there are few of."""
    kerf, end = random.choice((0, 0, 3)), random.choice((0, 0, 5))
    stock = tuple(
        StockBoard(
            random.randint(60, 140),
            random.choice((1, 1, random.randint(2, 20))),
            random.choice((None, None, None, None, 2, 3)),
        )
        for _ in range(random.randint(1, 3))
    )
    longest = max(board.length for board in stock) - 2 * end
    pieces = tuple(
        BoardPiece(random.randint(max(4, longest // 8), longest), random.choice((1, 1, 2, 3)))
        for _ in range(random.randint(1, 5))
    )
    while sum(piece.quantity for piece in pieces) > 8:
        pieces = pieces[:-1]
    return BoardProblem(stock, pieces, kerf, end)
