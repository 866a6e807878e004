"""The published lots of tests/reference/tone."""

import json
from pathlib import Path
from typing import Any

from jobs.calculations.tone.problem import Problem
from materials.calculations.color import in_ten_thousandths
from tests.benchmarks.tone import problem_of

REFERENCE = Path(__file__).resolve().parents[3] / "reference" / "tone"
ALLOCATION, HALVES, SEQUENCE = (REFERENCE / f"{name}.json" for name in ("allocation", "halves", "sequence"))


def told(file: Path, name: str) -> tuple[Problem, dict[str, Any]]:
    """A problem of a file and its best known values."""
    found = next(one for one in json.loads(file.read_text(encoding="utf-8")) if one["id"] == name)
    return problem_of(found), found["best"]


def whole(value: float) -> int:
    """A value of a file in ten-thousandths."""
    return in_ten_thousandths(value)
