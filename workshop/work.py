"""The rules of long work: asked for once, done by a worker, told while it goes, stopped in time.

A kind of work is a function in some app's `tasks.py`. It calculates first, tells how far it is now and then,
and writes at the end, after a look whether its input is still the same:

    @kind("cutting-plan", queue="plans", words=_lazy("Cutting plan"))
    def cutting_plan(work: Work, *, job: int) -> dict: ...

Every run has a number (`attempt`), and only the run that holds it may tell progress, write or end the piece:
a run that was taken for dead and begun anew by another worker cannot write.
"""

import logging
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone
from django.utils.module_loading import autodiscover_modules
from django.utils.translation import gettext as _
from django_tasks_db.models import DBTaskResult

from workshop import failures
from workshop.models import Person, Work
from workshop.models.work import WorkQuerySet

SILENT_AFTER = timedelta(seconds=60)
PAST_TIME_BOX = timedelta(seconds=60)
RUNS = 2
TELL_EVERY = timedelta(seconds=1)

log = logging.getLogger("workshop.work")


class Stopped(Exception):
    """The run is to end now, without writing anything. Kinds let it pass."""


class Cancelled(Stopped):
    """Somebody asked for it, or the time box is over, or another worker has the piece."""


class PutBack(Stopped):
    """The worker ends, so the piece waits again."""


class NotDone(Exception):
    """The work cannot be done; the message says why in words for the person who asked."""


class InputChanged(NotDone):
    """What the work was calculated from was changed meanwhile, so nothing is written."""


@dataclass(frozen=True)
class Kind:
    name: str
    queue: str
    words: str
    run: Callable[..., dict]


_kinds: dict[str, Kind] = {}
_in_hand: list[Work] = []
_ending = False


def kind(name: str, *, queue: str, words: str) -> Callable[[Callable[..., dict]], Callable[..., dict]]:
    """Register a function as a kind of long work.

    Args:
        name: as it is asked for and stored.
        queue: "documents", "plans" or "default".
        words: what the page calls it, translated lazily.
    """

    def register(run: Callable[..., dict]) -> Callable[..., dict]:
        _kinds[name] = Kind(name, queue, words, run)
        return run

    return register


def kind_of(name: str) -> Kind:
    """The kind of that name.

    Raises:
        LookupError: no app has it; the message names the kinds there are.
    """
    autodiscover_modules("tasks")
    if name not in _kinds:
        raise LookupError(f"no kind of work is called {name!r}; there are {', '.join(sorted(_kinds))}")
    return _kinds[name]


def words_for(piece: Work) -> str:
    """What the page calls a piece of work, also one whose kind an older version had."""
    try:
        return str(kind_of(piece.kind).words)
    except LookupError:
        return piece.kind


def ask(
    *,
    kind: str,
    key: str,
    by: Person | None,
    time_box: timedelta,
    input_version: str = "",
    **arguments: object,
) -> Work:
    """Ask for a piece of work, or get the one that is open already for the same subject.

    Args:
        kind: name of a registered kind.
        key: the subject, as "job:12"; at most one piece is open for a kind and a key.
        by: who asks; nobody for what the app does by itself.
        time_box: how long one run may take.
        input_version: what the input is at now, for `unchanged` before writing.
        arguments: given to the kind; plain values.
    """
    kind_of(kind)
    for _try in range(30):
        if there := Work.objects.open().filter(kind=kind, key=key).first():
            return there
        with suppress(IntegrityError), transaction.atomic():
            piece = Work.objects.create(
                kind=kind,
                key=key,
                arguments=arguments,
                input_version=input_version,
                asked_by=by,
                time_box_seconds=int(time_box.total_seconds()),
            )
            _deliver(piece)
            return piece
    raise NotDone(_("Somebody asks for the same again and again. Try it in a moment."))


def _deliver(piece: Work) -> None:
    from workshop.tasks import run_work

    queued = run_work.using(queue_name=kind_of(piece.kind).queue).enqueue(piece.pk)
    piece.delivery = queued.id
    piece.save(update_fields=["delivery"])


def run(pk: int) -> None:
    """Do the piece of work, if it waits; delivered a second time, do nothing."""
    now = timezone.now()
    if not Work.objects.waiting().filter(pk=pk).update(started_at=now, heartbeat_at=now, attempt=F("attempt") + 1):
        return
    piece = Work.objects.select_related("asked_by").get(pk=pk)
    _in_hand.append(piece)
    try:
        finish(piece, kind_of(piece.kind).run(piece, **piece.arguments))
    except Stopped as stop:
        _after_stop(piece, counts=isinstance(stop, Cancelled))
    except NotDone as reason:
        fail(piece, str(reason))
    except Exception:
        number = failures.new_number()
        log.exception("work %s stopped", piece, extra={"error_number": number})
        words = _("It stopped with an error. Ask for it again, or look up error number %(number)s in the log.")
        fail(piece, words % {"number": number})
    finally:
        _in_hand.remove(piece)


def progress(piece: Work, done: int, total: int, words: str = "") -> None:
    """Tell how far the run is; call it often and outside a transaction, it writes at most once a second.

    Raises:
        Cancelled: somebody asked for that, the time box is over, or another worker has the piece.
        PutBack: the worker is to end.
    """
    if _ending:
        raise PutBack
    now = timezone.now()
    if piece.ends_at and now > piece.ends_at:
        raise Cancelled
    told = getattr(piece, "told_at", None)
    if told and timedelta() <= now - told < TELL_EVERY and done < total:
        return
    piece.told_at = now
    piece.progress_done, piece.progress_total, piece.progress_words = done, total, words[:200]
    if (
        not _held(piece)
        .filter(cancel_asked_at=None)
        .update(progress_done=done, progress_total=total, progress_words=words[:200], heartbeat_at=now)
    ):
        raise Cancelled


def time_left(piece: Work) -> timedelta:
    """What is left of the time box, for a calculation that takes the best it has found by then."""
    return max(timedelta(), piece.ends_at - timezone.now()) if piece.ends_at else timedelta()


def unchanged(piece: Work, input_version: str) -> None:
    """Call it in the transaction that writes, with the version the input has there.

    Raises:
        InputChanged: it is not the one the work was asked for.
        Cancelled: this run does not hold the piece any more.
    """
    if input_version != piece.input_version:
        raise InputChanged(_("It was changed while this was worked out, so nothing was written. Ask again."))
    if not _held(piece).select_for_update().first():
        raise Cancelled


def cancel(piece: Work) -> None:
    """Ask a running piece to stop, or end one that still waits."""
    now = timezone.now()
    with transaction.atomic():
        Work.objects.open().filter(pk=piece.pk, cancel_asked_at=None).update(cancel_asked_at=now)
        Work.objects.waiting().filter(pk=piece.pk).update(ended_at=now)


def finish(piece: Work, result: dict | None = None) -> None:
    """End the run with what came of it; `address` and `words` in it are shown on its page."""
    _held(piece).update(ended_at=timezone.now(), result=result or {})


def fail(piece: Work, words: str) -> None:
    """End the run without a result, and say why."""
    _held(piece).update(ended_at=timezone.now(), failure=words)


def _held(piece: Work) -> WorkQuerySet:
    """The piece as a row, if this run still holds it."""
    return Work.objects.running().filter(pk=piece.pk, attempt=piece.attempt)


def _after_stop(piece: Work, *, counts: bool) -> None:
    """End a piece that was to be cancelled; let any other wait again, but fail it if two runs were begun.

    Args:
        piece: held by the run that stopped.
        counts: whether that run was one of the two; not where only the worker ended.
    """
    if _held(piece).exclude(cancel_asked_at=None).update(ended_at=timezone.now()):
        return
    if counts and piece.attempt >= RUNS:
        words = _(
            "It was begun %(runs)d times and not ended within %(seconds)d seconds. "
            "Ask for it again when less is going on, or for a smaller part."
        )
        fail(piece, words % {"runs": piece.attempt, "seconds": piece.time_box_seconds})
        return
    with transaction.atomic():
        if _held(piece).update(
            started_at=None,
            heartbeat_at=None,
            progress_done=0,
            progress_total=0,
            progress_words="",
            attempt=F("attempt") - (0 if counts else 1),
        ):
            _deliver(piece)


def end() -> None:
    """This process is to end: a run in it stops where it tells progress next, and its piece waits again."""
    global _ending
    _ending = True


def beat() -> bool:
    """Note that the run in this process is alive; say whether it is past its time box and must be killed."""
    now = timezone.now()
    for piece in tuple(_in_hand):
        _held(piece).update(heartbeat_at=now)
    return any(now > piece.ends_at + PAST_TIME_BOX / 2 for piece in tuple(_in_hand))


def look_after() -> None:
    """Take care of what was left lying: runs whose worker is gone or stuck, deliveries that were lost."""
    now = timezone.now()
    for piece in Work.objects.running():
        silent = abs(now - piece.heartbeat_at) > SILENT_AFTER
        if silent or now > piece.ends_at + PAST_TIME_BOX:
            log.warning("work %s was left lying in run %d", piece, piece.attempt)
            _after_stop(piece, counts=True)
    for piece in Work.objects.waiting().filter(asked_at__lt=now - SILENT_AFTER):
        if not DBTaskResult.objects.ready().filter(pk=piece.delivery).exists():
            log.warning("work %s was never begun", piece)
            _deliver(piece)
