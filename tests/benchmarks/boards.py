"""Solve the board problems of a file and tell how good the plans are.

python -m tests.benchmarks.boards FILE [--seconds S] [--out SOLUTIONS.json] [--only TEXT ...]

A line for each instance, a summary line at the end. SOLUTIONS.json holds which piece comes from which board:
{id: {"seconds": s, "lower_bound": n, "boards": [{"stock": index, "pieces": [item index, ...]}]}}.
Every plan is checked here for pieces, lengths, kerf, end cut-off and the boards there are before it is told.
"""

import argparse
import json
import sys
from collections import Counter
from fractions import Fraction
from math import lcm
from pathlib import Path
from time import monotonic

from jobs.calculations.milling.boards.problem import BoardPiece, BoardProblem, StockBoard
from jobs.calculations.milling.boards.solve import BoardAnswer, answers

SPARE_SECONDS = 0.15
"""Kept back from the time box for writing the plan down."""


def read(path: Path) -> list[dict]:
    """The instances of a file, every number with a decimal point as an exact fraction."""
    return json.loads(path.read_text(encoding="utf-8"), parse_float=Fraction)["instances"]


def problem_of(instance: dict) -> tuple[BoardProblem, int]:
    """An instance in whole numbers, and how many of them make one unit of cost."""
    lengths = [instance["kerf"], instance["trim"], *(row[0] for row in (*instance["stock"], *instance["items"]))]
    units = lcm(*(Fraction(length).denominator for length in lengths))
    costs = lcm(*(Fraction(row[1]).denominator for row in instance["stock"]))

    def whole(length: Fraction | int) -> int:
        return int(Fraction(length) * units)

    stock = tuple(
        StockBoard(whole(length), int(Fraction(cost) * costs), quantity) for length, cost, quantity in instance["stock"]
    )
    pieces = tuple(BoardPiece(whole(length), quantity) for length, quantity in instance["items"])
    return BoardProblem(stock, pieces, whole(instance["kerf"]), whole(instance["trim"])), costs


def faults(problem: BoardProblem, answer: BoardAnswer) -> list[str]:
    """What is wrong with a plan, reckoned from the problem alone."""
    found = []
    cut = Counter(piece.piece for board in answer.plan.boards for piece in board.pieces)
    if cut != Counter({place: piece.quantity for place, piece in enumerate(problem.pieces)}):
        found.append("pieces are missing or cut too often")
    taken = Counter(board.stock for board in answer.plan.boards)
    for stock, count in taken.items():
        limit = problem.stock[stock].quantity
        if limit is not None and count > limit:
            found.append(f"{count} boards of stock {stock}, and there are {limit}")
    for board in answer.plan.boards:
        pieces = [problem.pieces[piece.piece].length for piece in board.pieces]
        needed = sum(pieces) + problem.kerf * (len(pieces) - 1) + 2 * problem.end_cut_off
        if needed > problem.stock[board.stock].length:
            found.append(f"pieces of {needed} on a board of {problem.stock[board.stock].length}")
    cost = sum(problem.stock[board.stock].cost for board in answer.plan.boards)
    if cost != answer.plan.cost or answer.lower_bound > cost:
        found.append("cost and bound do not agree with the boards")
    return found


def number(value: int, units: int) -> int | float:
    exact = Fraction(value, units)
    return exact.numerator if exact.denominator == 1 else float(exact)


def solution(answer: BoardAnswer, costs: int, seconds: float) -> dict:
    boards = [{"stock": board.stock, "pieces": [piece.piece for piece in board.pieces]} for board in answer.plan.boards]
    return {"seconds": round(seconds, 3), "lower_bound": number(answer.lower_bound, costs), "boards": boards}


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.boards")
    parser.add_argument("file", type=Path)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--out", type=Path)
    parser.add_argument("--only", nargs="*", default=[])
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args(arguments)
    solutions, gaps, first_gaps, reached, wrong = {}, [], [], 0, 0
    for instance in read(chosen.file):
        if chosen.only and not any(text in instance["id"] for text in chosen.only):
            continue
        begins = monotonic()
        problem, costs = problem_of(instance)
        first = answer = None
        for answer in answers(problem, max(0.1, chosen.seconds - SPARE_SECONDS), chosen.seed):
            if first is None:
                first, first_seconds = answer, monotonic() - begins
            found = monotonic() - begins
        seconds = monotonic() - begins
        solutions[instance["id"]] = solution(answer, costs, seconds)
        known = instance.get("best_known")
        line = (
            f"{instance['id']:26} {instance.get('objective', ''):6} first {number(first.plan.cost, costs)} "
            f"({first_seconds:.2f} s)  best {number(answer.plan.cost, costs)} ({found:.2f} s)  "
            f"at least {number(answer.lower_bound, costs)}{'  proven' if answer.is_proven else ''}  {seconds:.2f} s"
        )
        if known:
            gaps.append(100 * (float(Fraction(answer.plan.cost, costs) / Fraction(known)) - 1))
            first_gaps.append(100 * (float(Fraction(first.plan.cost, costs) / Fraction(known)) - 1))
            reached += answer.plan.cost <= Fraction(known) * costs
            line += f"  known {known}  gap {gaps[-1]:.2f} %"
        for fault in faults(problem, answer):
            wrong += 1
            line += f"  WRONG: {fault}"
        print(line, flush=True)
    summary = f"{len(solutions)} instances"
    if gaps:
        summary += (
            f", best known reached {reached} of {len(gaps)}, mean gap {sum(gaps) / len(gaps):.2f} %, "
            f"worst {max(gaps):.2f} %, mean gap of first answers {sum(first_gaps) / len(gaps):.2f} %"
        )
    print(f"{summary}, {wrong} faults")
    if chosen.out:
        chosen.out.write_text(json.dumps(solutions), encoding="utf-8")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
