"""Databases of earlier versions come along: brought up to date as `start` does it, they tell the same facts."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.reference import make_database
from tests.workshop.running import environment
from workshop.settings import BASE_DIR

KEPT = sorted(make_database.FOLDER.glob("*.sqlite3.gz"))
PATIENCE = 120


def run(*arguments: object) -> str:
    ended = subprocess.run(
        [sys.executable, "-m", "tests.reference.make_database", *map(str, arguments)],
        cwd=BASE_DIR,
        env=environment(),
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=PATIENCE,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    return ended.stdout


def facts_of(packed: Path) -> dict[str, dict[str, object]]:
    return json.loads(packed.with_name(packed.name.replace(".sqlite3.gz", ".json")).read_text(encoding="utf-8"))


@pytest.mark.parametrize("packed", [pytest.param(packed, id=packed.name) for packed in KEPT])
def test_a_database_of_an_earlier_version_comes_along_unharmed(packed: Path, tmp_path: Path) -> None:
    make_database.unpack(packed, tmp_path / "data")

    told = json.loads(run("--facts", tmp_path / "data"))

    expected = facts_of(packed)
    assert {kind: told["rows"].get(kind) for kind in expected["rows"]} == expected["rows"]
    assert (told["totals"], told["landed"]) == (expected["totals"], expected["landed"])


def test_the_recipe_keeps_a_small_database_with_what_is_in_it(tmp_path: Path) -> None:
    run("trial", tmp_path / "kept")

    packed = tmp_path / "kept" / "trial.sqlite3.gz"
    make_database.unpack(packed, tmp_path / "data")
    assert packed.stat().st_size < make_database.MOST_BYTES
    assert facts_of(packed)["rows"]["materials.Sheet"] > 40
    assert json.loads(run("--facts", tmp_path / "data")) == facts_of(packed)
