"""The processes that do long work beside the server: begun again when they die, gone when their parent is.

The parent holds the other end of each worker's standard input. However the parent ends, also when it is
killed, the operating system closes it, and the worker sees the end of its input.
"""

import logging
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError, close_old_connections, connections
from django.utils import timezone
from django_tasks_db.management.commands.db_worker import Worker
from django_tasks_db.models import DBTaskResult

from workshop import work

GROUPS = {"documents": ["documents", "default"], "plans": ["plans"]}
LOOK_FOR_WORK_SECONDS = 0.5
BEAT_SECONDS = 5
LOOK_AFTER_SECONDS = 30
GRACE_SECONDS = 5
LONGEST_WAIT_SECONDS = 60
KEEP_DELIVERIES = timedelta(days=7)

log = logging.getLogger("workshop.worker")


def beat_file(group: str) -> Path:
    """The file whose time of change says when this machine's worker for the group was last alive."""
    return settings.DATA_DIR / "workers" / f"{group}.beat"


def seconds_silent(group: str) -> float | None:
    """How long ago the worker of this machine was last alive; nothing if it never was."""
    try:
        return abs(time.time() - beat_file(group).stat().st_mtime)
    except FileNotFoundError:
        return None


class Workers:
    """One worker process for each group of queues, begun and watched by the server's process."""

    def __init__(
        self, groups: dict[str, list[str]] = GROUPS, command: Callable[[str], list[str]] | None = None
    ) -> None:
        self.ending = threading.Event()
        self.command = command or _command
        self.children: dict[str, subprocess.Popen] = {}
        self.threads = [threading.Thread(target=self._watch, args=[group], daemon=True) for group in groups]

    def start(self) -> None:
        for thread in self.threads:
            thread.start()

    def stop(self) -> None:
        """Close every worker's input and wait until it is gone."""
        self.ending.set()
        for child in tuple(self.children.values()):
            child.stdin.close()
        for thread in self.threads:
            thread.join(GRACE_SECONDS + 5)
        for child in tuple(self.children.values()):
            if child.poll() is None:
                child.kill()

    def _watch(self, group: str) -> None:
        wait = 1
        while not self.ending.is_set():
            begun = time.monotonic()
            try:
                child = self.children[group] = _begin(self.command(group), group)
                if self.ending.is_set():
                    child.stdin.close()
                code: object = child.wait()
            except OSError as error:
                code = error
            if self.ending.is_set():
                return
            wait = 1 if time.monotonic() - begun > LONGEST_WAIT_SECONDS else min(2 * wait, LONGEST_WAIT_SECONDS)
            log.error("the worker for %s ended with code %s; it begins again in %d s", group, code, wait)
            self.ending.wait(wait)


def _command(group: str) -> list[str]:
    return [sys.executable, str(settings.BASE_DIR / "manage.py"), "worker", group, "--with-parent"]


def _begin(command: list[str], group: str) -> subprocess.Popen:
    """Start a process of low priority that Ctrl-C in the terminal does not reach."""
    options: dict[str, object] = {"start_new_session": True}
    if sys.platform == "win32":
        flags = subprocess.CREATE_NEW_PROCESS_GROUP | subprocess.BELOW_NORMAL_PRIORITY_CLASS
        options = {"creationflags": flags}
    return subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        env=os.environ | {"FLITCHBOOK_LOG": f"worker-{group}"},
        **options,
    )


def be_nice() -> None:
    """Give way to the server's pages. On Windows the parent has set the priority."""
    if hasattr(os, "nice"):
        os.nice(10)


def end_with_parent(ending: threading.Event) -> None:
    """Set the event once the standard input is at its end; end the process if the run goes on then."""

    def wait_for_end() -> None:
        while os.read(0, 1024):
            pass
        ending.set()
        time.sleep(GRACE_SECONDS)
        os._exit(0)

    threading.Thread(target=wait_for_end, daemon=True).start()


def run(group: str, ending: threading.Event) -> None:
    """Do the long work of a group of queues until the event is set."""
    queues = GROUPS[group]
    machine = Worker(
        queue_names=queues,
        interval=0,
        batch=True,
        backend_name="default",
        startup_delay=False,
        max_tasks=None,
        worker_id=f"{group}-{os.getpid()}",
        excluded_queue_names=[],
    )
    threading.Thread(target=_beat, args=[group, ending], daemon=True).start()
    threading.Thread(target=_end, args=[machine, ending], daemon=True).start()
    looked_after = -LOOK_AFTER_SECONDS
    while not ending.is_set():
        close_old_connections()
        try:
            if time.monotonic() - looked_after >= LOOK_AFTER_SECONDS:
                work.look_after()
                _forget_old_deliveries()
                looked_after = time.monotonic()
            if DBTaskResult.objects.ready().filter(queue_name__in=queues).exists():
                machine.run()
        except DatabaseError:
            log.exception("the database did not answer; another try in %d s", BEAT_SECONDS)
            connections.close_all()
            ending.wait(BEAT_SECONDS)
        ending.wait(LOOK_FOR_WORK_SECONDS)


def _end(machine: Worker, ending: threading.Event) -> None:
    ending.wait()
    machine.running = False
    work.end()


def _beat(group: str, ending: threading.Event) -> None:
    path = beat_file(group)
    path.parent.mkdir(parents=True, exist_ok=True)
    while not ending.is_set():
        path.write_text(f"{os.getpid()}\n", encoding="utf-8")
        close_old_connections()
        try:
            if work.beat():
                log.error("the run in hand is past its time box; this worker ends, and the piece goes back")
                os._exit(4)
        except DatabaseError:
            connections.close_all()
        ending.wait(BEAT_SECONDS)


def _forget_old_deliveries() -> None:
    old = DBTaskResult.objects.finished().filter(finished_at__lt=timezone.now() - KEEP_DELIVERIES)
    if old.exists():
        old.delete()
