"""Long work: one piece for a subject, done once, told while it goes, and stopped when asked."""

import threading
from collections.abc import Callable

import pytest
from django.db import IntegrityError, connection, transaction
from django_tasks_db.models import DBTaskResult

from tests.workshop.long_work import MINUTE, ask, deliver_all
from workshop import work
from workshop.models import Work
from workshop.models.work import State


@pytest.mark.django_db
def test_what_was_asked_for_is_done_by_the_worker_of_its_queue(do: Callable) -> None:
    do(lambda piece, grit: {"words": f"sanded to {grit}"})
    piece = ask(grit=180)

    deliver_all(("documents",))
    piece.refresh_from_db()
    waited = piece.state
    deliver_all(("plans",))

    piece.refresh_from_db()
    assert waited == State.WAITING
    assert (piece.state, piece.result, piece.attempt) == (State.DONE, {"words": "sanded to 180"}, 1)


@pytest.mark.django_db
def test_asking_again_for_an_open_subject_gives_the_piece_there_is(do: Callable) -> None:
    first = ask("room:1")

    again, other = ask("room:1"), ask("room:2")

    assert again == first
    assert other != first
    assert DBTaskResult.objects.count() == 2


@pytest.mark.django_db
def test_a_subject_whose_work_has_ended_can_be_asked_for_anew(do: Callable) -> None:
    first = ask()
    deliver_all()

    again = ask()

    assert again != first


@pytest.mark.django_db
def test_the_database_itself_refuses_a_second_open_piece_for_a_subject(do: Callable) -> None:
    ask("room:1")

    with pytest.raises(IntegrityError, match=r"work_one_open_for_a_subject|UNIQUE"), transaction.atomic():
        Work.objects.create(kind="sand", key="room:1", time_box_seconds=60)


def test_a_kind_nobody_registered_is_refused_by_name() -> None:
    with pytest.raises(LookupError, match="no kind of work is called 'weld'; there are backup"):
        work.ask(kind="weld", key="room:1", by=None, time_box=MINUTE)


@pytest.mark.django_db
def test_a_second_delivery_of_the_same_piece_does_nothing(do: Callable) -> None:
    runs = []
    do(lambda piece: {"run": runs.append(piece.attempt)})
    piece = ask()
    work.run(piece.pk)

    work.run(piece.pk)

    piece.refresh_from_db()
    assert runs == [1]
    assert piece.state == State.DONE


@pytest.mark.django_db(transaction=True)
def test_two_workers_given_the_same_piece_do_it_once(do: Callable) -> None:
    if connection.vendor == "sqlite":
        pytest.skip("the tests' SQLite lies in memory, where a second connection does not wait its turn")
    runs = []
    do(lambda piece: {"run": runs.append(piece.attempt)})
    piece = ask()

    def worker() -> None:
        work.run(piece.pk)
        connection.close()

    threads = [threading.Thread(target=worker) for _worker in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert runs == [1]


@pytest.mark.django_db
def test_progress_is_kept_with_its_words(do: Callable) -> None:
    seen = {}

    def sand(piece: Work) -> dict:
        work.progress(piece, 3, 10, "Practice 4, wall B")
        seen.update(Work.objects.filter(pk=piece.pk).values("progress_done", "progress_total", "progress_words").get())
        return {}

    do(sand)

    work.run(ask().pk)

    assert seen == {"progress_done": 3, "progress_total": 10, "progress_words": "Practice 4, wall B"}


@pytest.mark.django_db
def test_progress_told_ten_thousand_times_writes_once_a_second_at_most(
    do: Callable, django_assert_max_num_queries: Callable
) -> None:
    def sand(piece: Work) -> dict:
        with django_assert_max_num_queries(10):
            for done in range(10_000):
                work.progress(piece, done, 10_000)
        return {}

    do(sand)
    piece = ask()

    work.run(piece.pk)

    piece.refresh_from_db()
    assert piece.state == State.DONE


@pytest.mark.django_db
def test_a_cancelled_run_stops_at_its_next_progress_and_gives_no_result(do: Callable) -> None:
    went_on = []

    def sand(piece: Work) -> dict:
        work.cancel(Work.objects.get(pk=piece.pk))
        work.progress(piece, 1, 2)
        went_on.append(True)
        return {}

    do(sand)
    piece = ask()

    work.run(piece.pk)

    piece.refresh_from_db()
    assert (piece.state, piece.result, went_on) == (State.CANCELLED, None, [])


@pytest.mark.django_db
def test_a_piece_cancelled_while_it_waits_is_never_begun(do: Callable) -> None:
    runs = []
    do(lambda piece: {"run": runs.append(1)})
    piece = ask()

    work.cancel(piece)
    deliver_all()

    piece.refresh_from_db()
    assert (piece.state, runs) == (State.CANCELLED, [])


@pytest.mark.django_db
def test_nothing_is_written_from_an_input_that_was_changed_meanwhile(do: Callable) -> None:
    def sand(piece: Work) -> dict:
        with transaction.atomic():
            work.unchanged(piece, "version 8")
        return {}

    do(sand)
    piece = ask(input_version="version 7")

    work.run(piece.pk)

    piece.refresh_from_db()
    assert piece.failure == "It was changed while this was worked out, so nothing was written. Ask again."


@pytest.mark.django_db
def test_an_unforeseen_error_is_told_with_a_number_that_stands_in_the_log(
    do: Callable, caplog: pytest.LogCaptureFixture
) -> None:
    do(lambda piece: {"share": 1 / 0})
    piece = ask()

    work.run(piece.pk)

    piece.refresh_from_db()
    number = caplog.records[-1].error_number
    assert piece.state == State.FAILED
    assert f"error number {number}" in piece.failure
    assert "ZeroDivisionError" in caplog.text


@pytest.mark.django_db
def test_work_that_cannot_be_done_fails_in_its_own_words(do: Callable) -> None:
    def sand(piece: Work) -> dict:
        raise work.NotDone("Practice 4 has no panels. Add them first.")

    do(sand)
    piece = ask()

    work.run(piece.pk)

    piece.refresh_from_db()
    assert (piece.state, piece.failure) == (State.FAILED, "Practice 4 has no panels. Add them first.")
