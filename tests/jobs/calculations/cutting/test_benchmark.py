"""The benchmark writes what anyone can check, in the units of the file it read."""

import json
from pathlib import Path

import pytest

from tests.benchmarks import sheets

FILE = Path(__file__).parents[3] / "reference" / "cutting" / "sheets.json"
"""Sources: tests/reference/cutting/sheets_SOURCES.md."""


def test_every_part_is_written_with_its_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "solutions.json"
    instance = next(row for row in sheets.read(FILE) if row["id"] == "shop_p1_practice_rooms")

    sheets.main([str(FILE), "--seconds", "1", "--out", str(out), "--only", "shop_p1"])

    told = json.loads(out.read_text(encoding="utf-8"))["shop_p1_practice_rooms"]
    placed = [part for sheet in told["sheets"] for part in sheet["parts"]]
    assert len(placed) == sum(row[2] for row in instance["items"])
    assert min(part["x"] for part in placed) == 10
    assert told["lower_bound"] <= len(told["sheets"])
    assert "1 instances, best known reached" in capsys.readouterr().out
