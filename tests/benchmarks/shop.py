"""A database file for a benchmark, with its tables straight from the models."""

import os
import tempfile
from pathlib import Path

import django
from django.conf import settings
from django.core.management import call_command
from django.db import connection


def set_up(folder: str) -> None:
    """Start Django with everything it keeps in a folder of its own."""
    os.environ["FLITCHBOOK_DATA"] = folder
    os.environ["FLITCHBOOK_TODAY"] = "2026-11-25"
    os.environ["FLITCHBOOK_LOG"] = "benchmark"
    os.environ.pop("DATABASE_URL", None)
    os.environ["DJANGO_SETTINGS_MODULE"] = "workshop.settings"
    django.setup()
    settings.ALLOWED_HOSTS = ["*"]
    settings.MIGRATION_MODULES = {app.split(".")[0]: None for app in ("workshop", "materials", "jobs", "estimates")}


def folder() -> tempfile.TemporaryDirectory:
    return tempfile.TemporaryDirectory(prefix="benchmark-", ignore_cleanup_errors=True)


_OPEN: dict[str, object] = {}


def use(file: Path) -> None:
    """Work on this database file from now on, made where it is not there; both stay open, so that none is read anew."""
    before = str(connection.settings_dict["NAME"])
    if before == str(file):
        return
    _OPEN[before], connection.connection = connection.connection, _OPEN.get(str(file))
    connection.settings_dict["NAME"] = str(file)
    if not file.exists():
        call_command("migrate", run_syncdb=True, verbosity=0)
