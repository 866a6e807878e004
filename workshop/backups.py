"""Backups of the shop's data, made while it is in use, and believed only after they were read back.

SQLite is copied by its own online backup. On PostgreSQL the owner's `pg_dump` makes them.
"""

import re
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from workshop import work
from workshop.models import Person, Work

TIME_BOX = timedelta(minutes=10)
_FINISHED = re.compile(r"(?P<reason>[a-z0-9-]+?)-\d{8}-\d{6}(-\d+)?\.sqlite3")


class NotBackedUp(work.NotDone):
    """No backup was made; the message says why, and what would help."""


@dataclass(frozen=True)
class Backup:
    path: Path
    reason: str
    made_at: datetime
    size_bytes: int


def folder() -> Path:
    return settings.DATA_DIR / "backups"


def are_ours() -> bool:
    """Whether the app makes the backups itself, as it does on SQLite."""
    return connection.vendor == "sqlite"


def ask(*, by: Person | None) -> Work:
    """Ask the worker for a backup now."""
    return work.ask(kind="backup", key="database", by=by, time_box=TIME_BOX)


def make(reason: str, *, database: Path | None = None) -> Path:
    """Back the database up, read the copy back, and return where it lies.

    Args:
        reason: why, as it stands in the file's name: "before-update", "by-hand".
        database: the SQLite file; the app's own unless told.

    Raises:
        NotBackedUp: the database is not SQLite, cannot be copied, or the copy does not hold what it should.
    """
    if database is None and not are_ours():
        raise NotBackedUp(
            _(
                "On PostgreSQL, back up with pg_dump (pg_dump --format=custom --file=shop.dump), "
                "or by what your host offers."
            )
        )
    folder().mkdir(parents=True, exist_ok=True, mode=0o700)
    target = _free_name(reason)
    part = target.with_suffix(".part")
    part.unlink(missing_ok=True)
    try:
        rows = _copy(database or Path(connection.settings_dict["NAME"]), part)
        _check(part, rows)
        part.replace(target)
    except (OSError, sqlite3.Error) as error:
        raise NotBackedUp(
            _("No backup was made (%(why)s). Make room on the disk, or look at the rights of its folder.")
            % {"why": error}
        ) from error
    finally:
        part.unlink(missing_ok=True)
    return target


def _free_name(reason: str) -> Path:
    stem = f"{slugify(reason)}-{timezone.localtime():%Y%m%d-%H%M%S}"
    names = [stem, *(f"{stem}-{again}" for again in range(2, 100))]
    return next(path for name in names if not (path := folder() / f"{name}.sqlite3").exists())


def _copy(source: Path, target: Path) -> dict[str, int]:
    """Copy the database as it is at one moment, whoever writes meanwhile; return the rows each table has."""
    with (
        closing(sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True, timeout=20)) as reading,
        closing(sqlite3.connect(target, timeout=20)) as writing,
    ):
        reading.isolation_level = None
        reading.execute("BEGIN")
        rows = _rows(reading)
        reading.backup(writing)
        reading.execute("COMMIT")
        writing.execute("PRAGMA journal_mode=DELETE")
    return rows


def _check(copy: Path, rows: dict[str, int]) -> None:
    with closing(sqlite3.connect(f"{copy.absolute().as_uri()}?mode=ro", uri=True)) as reading:
        found = reading.execute("PRAGMA integrity_check").fetchall()
        if found != [("ok",)]:
            raise sqlite3.DatabaseError(f"the copy is damaged, {found[0][0]}")
        if _rows(reading) != rows:
            raise sqlite3.DatabaseError("the copy does not hold the same number of rows")


def _rows(database: sqlite3.Connection) -> dict[str, int]:
    names = database.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    return {name: database.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for (name,) in names}


def made() -> list[Backup]:
    """The backups there are, newest first."""
    found = []
    for path in folder().glob("*.sqlite3"):
        if name := _FINISHED.fullmatch(path.name):
            facts = path.stat()
            made_at = datetime.fromtimestamp(facts.st_mtime, tz=UTC)
            found.append(Backup(path, name["reason"], made_at, facts.st_size))
    return sorted(found, key=lambda backup: (backup.made_at, backup.path.name), reverse=True)
