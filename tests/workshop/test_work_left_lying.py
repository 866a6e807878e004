"""Long work whose worker is gone, stuck or told to end: it goes back once, and is never done twice."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.db import transaction
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from tests.workshop.long_work import MINUTE, ask, deliver_all, left_lying
from workshop import work
from workshop.models import Work
from workshop.models.work import State


@pytest.mark.django_db
def test_a_run_past_its_time_box_goes_back_once_and_then_fails_in_words(do: Callable) -> None:
    def sand(piece: Work) -> dict:
        piece.started_at -= 2 * MINUTE
        work.progress(piece, 1, 2)
        return {}

    do(sand)
    piece = ask()

    work.run(piece.pk)
    piece.refresh_from_db()
    after_one = piece.state
    deliver_all()

    piece.refresh_from_db()
    assert (after_one, piece.state, piece.attempt) == (State.WAITING, State.FAILED, 2)
    assert piece.failure.startswith("It was begun 2 times and not ended within 60 seconds.")


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("started_at", "heartbeat_at"),
    [
        pytest.param(0.2 * MINUTE, 1.1 * MINUTE, id="its worker is gone"),
        pytest.param(2.1 * MINUTE, 0 * MINUTE, id="its worker is stuck past the time box"),
        pytest.param(0 * MINUTE, -70 * MINUTE, id="the clock was set back"),
    ],
)
def test_a_piece_left_lying_is_delivered_and_done_again(
    do: Callable, started_at: timedelta, heartbeat_at: timedelta
) -> None:
    piece = ask()
    left_lying(piece, started_at=started_at, heartbeat_at=heartbeat_at)

    work.look_after()
    deliver_all()

    piece.refresh_from_db()
    assert (piece.state, piece.attempt) == (State.DONE, 2)


@pytest.mark.django_db
def test_a_piece_left_lying_twice_fails_in_words(do: Callable) -> None:
    piece = ask()
    left_lying(piece, started_at=2 * MINUTE, heartbeat_at=2 * MINUTE)
    Work.objects.filter(pk=piece.pk).update(attempt=2)

    work.look_after()

    piece.refresh_from_db()
    assert piece.state == State.FAILED
    assert "Ask for it again" in piece.failure


@pytest.mark.django_db
def test_a_piece_in_good_hands_is_left_alone(do: Callable) -> None:
    piece = ask()
    left_lying(piece, started_at=MINUTE / 2, heartbeat_at=MINUTE / 12)

    work.look_after()

    piece.refresh_from_db()
    assert (piece.state, piece.attempt) == (State.RUNNING, 1)


@pytest.mark.django_db
def test_a_run_taken_for_dead_can_neither_write_nor_end_the_piece(do: Callable) -> None:
    refusals = []

    def sand(piece: Work) -> dict:
        if piece.attempt == 1:
            Work.objects.filter(pk=piece.pk).update(heartbeat_at=timezone.now() - 2 * MINUTE)
            work.look_after()
            for step in (lambda: work.unchanged(piece, ""), lambda: work.progress(piece, 1, 2)):
                with pytest.raises(work.Cancelled), transaction.atomic():
                    step()
                refusals.append(piece.attempt)
        return {"run": piece.attempt}

    do(sand)
    piece = ask()

    work.run(piece.pk)
    piece.refresh_from_db()
    after_first = piece.state
    deliver_all()

    piece.refresh_from_db()
    assert (refusals, after_first, piece.result) == ([1, 1], State.WAITING, {"run": 2})


@pytest.mark.django_db
def test_a_delivery_that_was_lost_is_made_again(do: Callable) -> None:
    piece = ask()
    DBTaskResult.objects.all().delete()
    Work.objects.update(asked_at=timezone.now() - 2 * MINUTE)

    work.look_after()
    deliver_all()

    piece.refresh_from_db()
    assert piece.state == State.DONE


@pytest.mark.django_db
def test_a_worker_that_ends_puts_its_piece_back_and_the_run_does_not_count(do: Callable) -> None:
    def sand(piece: Work) -> dict:
        work.end()
        work.progress(piece, 1, 2)
        return {}

    do(sand)
    piece = ask()

    work.run(piece.pk)

    piece.refresh_from_db()
    assert (piece.state, piece.attempt, piece.progress_done) == (State.WAITING, 0, 0)
    assert DBTaskResult.objects.ready().filter(pk=piece.delivery).exists()


@pytest.mark.django_db
def test_the_heartbeat_says_when_the_run_in_hand_must_be_killed(do: Callable) -> None:
    must_die = []

    def sand(piece: Work) -> dict:
        must_die.append(work.beat())
        piece.started_at -= 2 * MINUTE
        must_die.append(work.beat())
        return {}

    do(sand)

    work.run(ask().pk)

    assert must_die == [False, True]
