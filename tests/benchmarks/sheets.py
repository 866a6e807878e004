"""Solve the cutting problems of a file and tell how good the plans are.

python -m tests.benchmarks.sheets FILE [--seconds S] [--out SOLUTIONS.json] [--only TEXT ...]

A line for each instance, a summary line at the end. SOLUTIONS.json holds every placement, positions from the corner of
the whole sheet with its factory edge:

{id: {"seconds": s, "lower_bound": n,
      "sheets": [{"stock": index, "parts": [{"item": index, "x": , "y": , "w": , "h": }]}]}}
"""

import argparse
import json
import sys
from fractions import Fraction
from math import lcm
from pathlib import Path
from time import monotonic

from jobs.calculations.cutting.problem import CuttingProblem, Part, Saw, StockSheet
from jobs.calculations.cutting.solve import Answer, answers

SPARE_SECONDS = 0.25
"""Kept back from the time box for writing the plan down."""


def read(path: Path) -> list[dict]:
    """The instances of a file, every number with a decimal point as an exact fraction."""
    return json.loads(path.read_text(encoding="utf-8"), parse_float=Fraction)["instances"]


def problem_of(instance: dict) -> tuple[CuttingProblem, int]:
    """An instance in whole numbers, and how many of them make one unit of the file."""
    lengths = [instance["kerf"], instance["trim"]]
    lengths += [side for row in (*instance["stock"], *instance["items"]) for side in row[:2]]
    units = lcm(*(Fraction(length).denominator for length in lengths))
    costs = lcm(*(Fraction(row[2]).denominator for row in instance["stock"]))

    def whole(length: Fraction | int) -> int:
        return int(Fraction(length) * units)

    stock = tuple(
        StockSheet(whole(w), whole(h), int(Fraction(cost) * costs), quantity)
        for w, h, cost, quantity in instance["stock"]
    )
    parts = tuple(Part(whole(w), whole(h), quantity, bool(turn)) for w, h, quantity, turn in instance["items"])
    return CuttingProblem(stock, parts, Saw(whole(instance["kerf"]), whole(instance["trim"]))), units


def number(value: int, units: int) -> int | float:
    """A length in the file's unit; one decimal fraction of it is exact enough to be read back."""
    exact = Fraction(value, units)
    return exact.numerator if exact.denominator == 1 else float(exact)


def solution(answer: Answer, units: int, seconds: float) -> dict:
    sheets = [
        {
            "stock": sheet.stock,
            "parts": [
                {"item": part.part}
                | {
                    key: number(size, units)
                    for key, size in (("x", part.x), ("y", part.y), ("w", part.length), ("h", part.width))
                }
                for part in sheet.parts
            ],
        }
        for sheet in answer.plan.sheets
    ]
    return {"seconds": round(seconds, 3), "lower_bound": answer.lower_bound, "sheets": sheets}


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.sheets")
    parser.add_argument("file", type=Path)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--out", type=Path)
    parser.add_argument("--only", nargs="*", default=[])
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args(arguments)
    solutions, gaps, reached, first_gaps = {}, [], 0, []
    for instance in read(chosen.file):
        if chosen.only and not any(text in instance["id"] for text in chosen.only):
            continue
        begins = monotonic()
        problem, units = problem_of(instance)
        first = answer = None
        for answer in answers(problem, max(0.1, chosen.seconds - SPARE_SECONDS), chosen.seed):
            if first is None:
                first, first_seconds = answer, monotonic() - begins
            found = monotonic() - begins
        seconds = monotonic() - begins
        solutions[instance["id"]] = solution(answer, units, seconds)
        known = instance.get("best_known")
        line = (
            f"{instance['id']:26} {instance['objective']:6} first {first.plan.cost} ({first_seconds:.2f} s)"
            f"  best {answer.plan.cost} ({found:.2f} s)  at least {answer.lower_bound}"
            f"{'  proven' if answer.is_proven else ''}  {seconds:.2f} s"
        )
        if known:
            gap = 100 * (answer.plan.cost / known - 1)
            gaps.append(gap)
            first_gaps.append(100 * (first.plan.cost / known - 1))
            reached += answer.plan.cost <= known
            line += f"  known {known}  gap {gap:.2f} %"
        print(line, flush=True)
    if gaps:
        print(
            f"{len(solutions)} instances, best known reached {reached} of {len(gaps)}, "
            f"mean gap {sum(gaps) / len(gaps):.2f} %, "
            f"worst {max(gaps):.2f} %, mean gap of first answers {sum(first_gaps) / len(gaps):.2f} %"
        )
    else:
        print(f"{len(solutions)} instances")
    if chosen.out:
        chosen.out.write_text(json.dumps(solutions), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
