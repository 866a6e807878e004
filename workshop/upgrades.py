"""Whether this version and the database fit together, and how the database is brought up to it."""

import sqlite3
from contextlib import closing
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder
from django.utils.translation import gettext as _

from workshop import backups


class Refused(Exception):
    """The database stays as it is; the message says why, and what to do."""


def applied() -> set[tuple[str, str]]:
    """The migrations the database has had, found without changing anything in it.

    Raises:
        Refused: the file is no database, or damaged.
    """
    if connection.vendor != "sqlite":
        return set(MigrationRecorder(connection).applied_migrations())
    path = Path(connection.settings_dict["NAME"])
    if not path.exists() or not path.stat().st_size:
        return set()
    log_of_writes = path.with_name(f"{path.name}-wal")
    how = "mode=ro" if log_of_writes.exists() else "mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?{how}", uri=True, timeout=20)) as reading:
            if not reading.execute("SELECT 1 FROM sqlite_master WHERE name = 'django_migrations'").fetchone():
                return set()
            return set(reading.execute("SELECT app, name FROM django_migrations"))
    except sqlite3.DatabaseError as error:
        raise Refused(
            _(
                "%(path)s cannot be read (%(why)s). Put a backup from the folder backups in its place, "
                "or start with another folder by --data."
            )
            % {"path": path, "why": error}
        ) from error


def known() -> set[tuple[str, str]]:
    """The migrations this version has on disk, and those they replaced."""
    on_disk = MigrationLoader(None).disk_migrations
    return set(on_disk).union(*(migration.replaces for migration in on_disk.values()))


def refuse_newer() -> None:
    """Leave a database alone that a newer version has worked on.

    Raises:
        Refused: it has had migrations this version does not know.
    """
    unknown = sorted(applied() - known())
    if not unknown:
        return
    names = ", ".join(f"{app}.{name}" for app, name in unknown[:5])
    more = _(" and %(count)d more") % {"count": len(unknown) - 5} if len(unknown) > 5 else ""
    raise Refused(
        _(
            "A newer Flitchbook has worked on this data; this one (%(version)s) does not know %(names)s. "
            "Nothing was touched. Start the newer version, or start this one with a folder of its own by "
            "--data and a backup made before the update."
        )
        % {"version": settings.VERSION, "names": names + more}
    )


def bring_up_to_date(*, backed_up: bool = False) -> Path | None:
    """Migrate if that is due, after a backup if there is anything to lose; return the backup.

    Args:
        backed_up: on PostgreSQL, that the owner has made a backup.

    Raises:
        Refused: the database is newer, or on PostgreSQL and not backed up.
        NotBackedUp: the backup failed, so nothing was migrated.
    """
    refuse_newer()
    has_data = bool(applied())
    executor = MigrationExecutor(connection)
    if not executor.migration_plan(executor.loader.graph.leaf_nodes()):
        return None
    backup = None
    if has_data and backups.are_ours():
        backup = backups.make("before-update")
    elif has_data and not backed_up:
        raise Refused(
            _(
                "This version changes the database, and on PostgreSQL the backup is yours to make: "
                "pg_dump --format=custom --file=before-update.dump, with your DATABASE_URL. "
                "Then start once with --no-backup."
            )
        )
    call_command("migrate", interactive=False, verbosity=0)
    return backup
