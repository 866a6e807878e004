"""What tests of long work share: a kind called "sand", asked for and delivered inside the test's transaction."""

from collections.abc import Callable, Iterator
from datetime import timedelta

import pytest
from django.utils import timezone
from django_tasks_db.management.commands import db_worker
from django_tasks_db.models import DBTaskResult

from workshop import work
from workshop.models import Work

MINUTE = timedelta(minutes=1)


@pytest.fixture
def do(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[Callable[..., dict]], None]]:
    """Says what the kind "sand" does in this test.

    The worker runs inside the test's transaction, so it may not close the connection between two tasks.
    """
    monkeypatch.setattr(db_worker, "close_old_connections", lambda: None)

    def register(run: Callable[..., dict]) -> None:
        work.kind("sand", queue="plans", words="Sanding")(run)

    register(lambda piece, **_arguments: {})
    yield register
    work._kinds.pop("sand", None)
    work._ending = False


def ask(key: str = "room:1", **arguments: object) -> Work:
    return work.ask(kind="sand", key=key, by=None, time_box=MINUTE, **arguments)


def deliver_all(queues: tuple[str, ...] = ("plans",)) -> None:
    db_worker.Worker(
        queue_names=list(queues),
        interval=0,
        batch=True,
        backend_name="default",
        startup_delay=False,
        max_tasks=None,
        worker_id="test",
        excluded_queue_names=[],
    ).run()


def left_lying(piece: Work, **ago: timedelta) -> None:
    """As if its worker had begun it some time ago and was never heard of again."""
    times = {name: timezone.now() - span for name, span in ago.items()}
    Work.objects.filter(pk=piece.pk).update(attempt=1, **times)
    DBTaskResult.objects.filter(pk=piece.delivery).update(status="RUNNING")
