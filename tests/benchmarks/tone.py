"""Measure the tone calculation on files of problems.

    python -m tests.benchmarks.tone allocation|halves|sequence FILE [--seconds S] [--out SOLUTIONS.json]

FILE holds a list of problems as tests/reference/tone/README.md describes them. A line is printed for each problem with
its value, what is proven of it and, where the file tells a best known answer, how far from it; then a summary. The
seconds of a problem count from its colors to its answer.
"""

import argparse
import json
from collections import Counter
from pathlib import Path
from time import monotonic
from typing import Any

from jobs.calculations.tone.allocation import NoPlanFound, allocate
from jobs.calculations.tone.plan import Plan, faults
from jobs.calculations.tone.problem import Doorway, Problem, Room
from jobs.calculations.tone.wall import wall_order
from materials.calculations.color import (
    PER_UNIT,
    differences,
    differences_of_grades,
    differences_of_lightness,
    in_ten_thousandths,
    lab,
)

MARGIN, SHARE = 0.25, 0.04
"""Seconds, and share of all, kept back for ending the searches and for writing the answer."""


def distances(told: dict[str, Any]) -> list[list[int]]:
    """The differences between every two sheets of a problem, by the kind of tone it has."""
    match told["tone"]:
        case "lab":
            return differences([lab(*sheet["lab"]) for sheet in told["sheets"]])
        case "lightness":
            return differences_of_lightness([sheet["lightness"] for sheet in told["sheets"]])
        case _:
            return differences_of_grades([sheet["grade"] for sheet in told["sheets"]])


def problem_of(told: dict[str, Any]) -> Problem:
    """A problem of allocation.json or halves.json."""
    sheet = {one["id"]: at for at, one in enumerate(told["sheets"])}
    room = {one["id"]: at for at, one in enumerate(told["rooms"])}
    halves = "need_halves" in told["rooms"][0]
    return Problem(
        differences=distances(told),
        rooms=tuple(Room(one["need_halves" if halves else "need"], one.get("weight", 1)) for one in told["rooms"]),
        fixed=tuple((sheet[one["sheet"]], room[one["room"]], one.get("halves", 1)) for one in told.get("fixed", [])),
        rejected=frozenset(sheet[one["id"]] for one in told["sheets"] if one.get("rejected")),
        doorways=tuple(
            Doorway(room[one["rooms"][0]], room[one["rooms"][1]], in_ten_thousandths(one["limit"]))
            for one in told.get("adjoining", [])
        ),
        pieces=2 if halves else 1,
    )


def hang(told: dict[str, Any]) -> tuple[dict[str, Any], str]:
    """The order of a wall as the contract asks for it, and its line."""
    begun = monotonic()
    found = wall_order(differences([lab(*panel["lab"]) for panel in told["panels"]]))
    taken = monotonic() - begun
    answer = {
        "seconds": round(taken, 3),
        "order": [told["panels"][at]["id"] for at in found.panels],
        "largest_step": found.largest_step / PER_UNIT,
        "total": found.total / PER_UNIT,
        "bottleneck_lower_bound": found.largest_step_at_least / PER_UNIT,
        "proven": found.proven,
    }
    words = [f"largest step {found.largest_step / PER_UNIT:.4f}", f"sum {found.total / PER_UNIT:.4f}"]
    for name, value in (("largest_step", found.largest_step), ("total", found.total)):
        if told.get("best", {}).get(name):
            words.append(f"{100 * (value / in_ten_thousandths(told['best'][name]) - 1):+.2f} %")
    return answer, f"{told['id']:6} {taken:6.2f} s  {'  '.join(words)}  {'proven' if found.proven else 'not proven'}"


def solve(told: dict[str, Any], seconds: float) -> tuple[dict[str, Any], str]:
    """The answer to a problem as the contract asks for it, and its line."""
    begun = monotonic()
    problem = problem_of(told)
    ready, reached, best = monotonic(), [0.0, 0.0, 0.0], None
    try:
        for better in allocate(problem, seconds * (1 - SHARE) - MARGIN - (ready - begun)):
            now = monotonic() - begun
            reached[0] = reached[0] if best else now - (ready - begun)
            reached[1] = reached[1] if best and best.largest == better.largest else now
            reached[2] = reached[2] if best and best.value[:2] == better.value[:2] else now
            best = better
    except NoPlanFound as nothing:
        return {"seconds": round(monotonic() - begun, 3)}, f"{told['id']:6} {nothing}"
    taken = monotonic() - begun
    broken = faults(problem, best.rooms)
    if broken:
        raise AssertionError(f"{told['id']}: {broken}")
    sheets, rooms = [one["id"] for one in told["sheets"]], [one["id"] for one in told["rooms"]]
    answer: dict[str, Any] = {"seconds": round(taken, 3)}
    if problem.pieces == 1:
        answer["rooms"] = {room: [sheets[one] for one in given] for room, given in zip(rooms, best.rooms, strict=True)}
    else:
        counts = (Counter(sheets[one] for one in given) for given in best.rooms)
        answer["halves"] = dict(zip(rooms, map(dict, counts), strict=True))
    answer["bottleneck"], answer["weighted_sum"] = best.largest / PER_UNIT, best.weighted / PER_UNIT
    answer["bottleneck_lower_bound"] = best.largest_at_least / PER_UNIT
    answer["weighted_sum_lower_bound"] = best.weighted_at_least / PER_UNIT
    answer["proven"] = best.proven
    return answer, f"{told['id']:6} {_times(taken, *reached)}  {_worth(best, told)}"


def _times(taken: float, first: float, largest: float, weighted: float) -> str:
    return f"{taken:6.2f} s: first plan {first:5.3f}, largest {largest:5.2f}, sum {weighted:5.2f} s "


def _worth(best: Plan, told: dict[str, Any]) -> str:
    known = told.get("best", {})
    words = [f"largest {best.largest / PER_UNIT:.4f} ({_known(best.largest, best.largest_at_least)})"]
    words.append(f"sum {best.weighted / PER_UNIT:.4f} ({_known(best.weighted, best.weighted_at_least)})")
    if "sheets_shared_by_two_rooms" in known:
        proven = "proven" if best.proven else "open"
        words.append(f"shared {best.shared} ({proven}; best known {known['sheets_shared_by_two_rooms']})")
    for name, value in (("bottleneck", best.largest), ("weighted_sum", best.weighted)):
        if known.get(name):
            words.append(f"{100 * (value / in_ten_thousandths(known[name]) - 1):+.2f} %")
    return "  ".join(words)


def _known(value: int, at_least: int) -> str:
    if at_least >= value:
        return "proven"
    return f"at most {100 * (value / at_least - 1):.1f} % over" if at_least else "open"


def main(words: list[str] | None = None) -> dict[str, Any]:
    """Solve every problem of a file, print and write the answers."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.tone")
    parser.add_argument("kind", choices=["allocation", "halves", "sequence"])
    parser.add_argument("file", type=Path)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--out", type=Path)
    parser.add_argument("--only", nargs="*", help="ids of problems")
    asked = parser.parse_args(words)
    answers = {}
    for told in json.loads(asked.file.read_text(encoding="utf-8")):
        if not asked.only or told["id"] in asked.only:
            answers[told["id"]], line = hang(told) if asked.kind == "sequence" else solve(told, asked.seconds)
            print(line, flush=True)
    proven = sum(answer.get("proven", False) for answer in answers.values())
    slowest = max((answer["seconds"] for answer in answers.values()), default=0)
    print(f"{len(answers)} problems, {proven} proven in every aim, the slowest in {slowest:.2f} s")
    if asked.out:
        asked.out.write_text(json.dumps(answers, indent=1), encoding="utf-8")
    return answers


if __name__ == "__main__":
    main()
