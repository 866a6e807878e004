"""Keep the demo's database as this version makes it, so that later versions can be held to bring it along unharmed.

    python -m tests.reference.make_database 0.1

writes `tests/reference/databases/0.1.sqlite3.gz` and beside it `0.1.json`: how many rows of each kind there are, and
what the estimates come to. `tests/test_upgrades.py` brings a copy of each up to date and asks for the same facts.
Where a later version means to change such a fact, the JSON is changed with it, by hand.
"""

import gzip
import json
import os
import sqlite3
import sys
import tempfile
from contextlib import closing
from pathlib import Path

import django

FOLDER = Path(__file__).resolve().parent / "databases"
TODAY = "2026-11-25"
MOST_BYTES = 500_000
PASSING = ("sessions", "auth", "contenttypes", "django_tasks_database")


def begin(data: Path) -> None:
    """Let this process work on a data folder of its own, brought up to date as `start` does it."""
    left = {name: text for name, text in os.environ.items() if name != "DATABASE_URL"}
    os.environ.clear()
    os.environ.update(left, DJANGO_SETTINGS_MODULE="workshop.settings", FLITCHBOOK_DATA=str(data))
    os.environ.setdefault("FLITCHBOOK_TODAY", TODAY)
    django.setup()
    from workshop import upgrades

    upgrades.bring_up_to_date()


def facts() -> dict[str, dict[str, object]]:
    """How many rows of each kind there are, what each estimate comes to, and what every lot cost."""
    from django.apps import apps

    from estimates import pricing
    from estimates.models import Estimate
    from materials.models import Lot

    models = [model for model in apps.get_models() if model._meta.app_label not in PASSING]
    return {
        "rows": {model._meta.label: model._base_manager.count() for model in models},
        "totals": {str(each.number): pricing.priced(each).price.total_minor for each in Estimate.objects.all()},
        "landed": {str(lot.number): lot.landed_minor for lot in Lot.objects.all()},
    }


def make(name: str, folder: Path = FOLDER) -> Path:
    """The demo in a database, packed, with its facts beside it.

    Raises:
        SystemExit: there is one of this name, or it is too large to be kept.
    """
    packed = folder / f"{name}.sqlite3.gz"
    if packed.exists():
        raise SystemExit(f"{packed} is there already; it is kept as it is, so give another name")
    from django.conf import settings

    from workshop.front import demo
    from workshop.models import Person

    demo.load("")
    Person.objects.update(password="!")
    with tempfile.TemporaryDirectory() as place:
        plain = Path(place) / "plain.sqlite3"
        with closing(sqlite3.connect(settings.DATABASES["default"]["NAME"])) as database:
            database.execute("VACUUM INTO ?", [str(plain)])
        content = gzip.compress(plain.read_bytes(), mtime=0)
    if len(content) > MOST_BYTES:
        raise SystemExit(f"{len(content)} bytes are too many to keep; {MOST_BYTES} do")
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{name}.json").write_text(json.dumps(facts(), indent=2) + "\n", encoding="utf-8", newline="\n")
    packed.write_bytes(content)
    return packed


def unpack(packed: Path, data: Path) -> None:
    """Put a kept database into a data folder."""
    data.mkdir(parents=True, exist_ok=True)
    (data / "flitchbook.sqlite3").write_bytes(gzip.decompress(packed.read_bytes()))


def main(arguments: list[str]) -> None:
    """Make one of a name; or with --facts and a data folder, bring that up to date and print its facts."""
    if arguments[0] == "--facts":
        begin(Path(arguments[1]))
        print(json.dumps(facts()))
        return
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as data:
        begin(Path(data))
        print(make(arguments[0], *map(Path, arguments[1:])))
        from django.db import connections

        connections.close_all()


if __name__ == "__main__":
    main(sys.argv[1:])
