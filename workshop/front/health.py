"""Whether the app is well, for whatever watches over it. No account needed, nothing secret told."""

import logging
import shutil
import time

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.views.decorators.http import require_safe

from workshop import backups, worker

BEGUN = time.monotonic()
STARTING_SECONDS = 30
SILENT_SECONDS = 60
LOW_DISK_BYTES = 500 * 1024 * 1024

log = logging.getLogger("workshop.health")


@login_not_required
@require_safe
def health(_request: HttpRequest) -> JsonResponse:
    """200 while the database answers and the workers live, else 503; a full disk or no backup only shows."""
    parts = {
        "database": _database(),
        "worker": {group: _worker(group) for group in worker.GROUPS},
        "disk": _disk(),
        "last_backup": _last_backup(),
        "version": settings.VERSION,
    }
    well = parts["database"] == "ok" and "dead" not in parts["worker"].values()
    return JsonResponse({"well": well, **parts}, status=200 if well else 503)


def _database() -> str:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT count(*) FROM django_migrations")
            return "ok" if cursor.fetchone()[0] else "empty"
    except DatabaseError:
        log.exception("the database does not answer")
        return "no answer"


def _worker(group: str) -> str:
    silent = worker.seconds_silent(group)
    if silent is not None and silent < SILENT_SECONDS:
        return "ok"
    return "starting" if time.monotonic() - BEGUN < STARTING_SECONDS else "dead"


def _disk() -> dict[str, object]:
    free = shutil.disk_usage(settings.DATA_DIR).free
    return {"free_bytes": free, "low": free < LOW_DISK_BYTES}


def _last_backup() -> str | None:
    made = backups.made()
    return made[0].made_at.isoformat(timespec="seconds") if made else None
