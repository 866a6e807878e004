"""`manage.py start`, run as a person runs it: in a process of its own, on a data folder of its own."""

import os
import re
import signal
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from tests.workshop.running import Running, lives, run, wait_for
from workshop import start

POSIX_ONLY = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no SIGKILL")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    running = Running(tmp_path_factory.mktemp("shop") / "data")
    yield running
    running.process.kill()


def test_the_terminal_shows_the_address_and_the_one_time_code(shop: Running) -> None:
    lines = shop.printed.splitlines()

    assert lines[0] == f"Flitchbook runs at {shop.address}"
    assert lines[1].startswith(f"Nobody has an account yet. Make the owner's at {shop.address}")
    assert re.fullmatch(r"The one-time code for it is \d{6}", lines[2])


def test_the_app_answers_and_its_workers_live(shop: Running) -> None:
    health = wait_for(lambda: (facts := shop.health())["worker"] == {"documents": "ok", "plans": "ok"} and facts)

    assert health["well"] is True


def test_a_second_start_on_the_same_data_is_refused_with_the_address_of_the_first(shop: Running) -> None:
    second = run("start", "--port", 0, "--data", shop.data)

    assert second.returncode == 1
    assert second.stderr.decode().strip() == (
        f"Flitchbook runs already on the data in {shop.data}. Open {shop.address}, "
        "or give this one a folder of its own by --data."
    )


def test_a_taken_port_is_refused_with_two_ways_out(shop: Running, tmp_path: Path) -> None:
    second = run("start", "--port", shop.port, "--data", tmp_path)

    assert second.returncode == 1
    assert second.stderr.decode().strip() == (
        f"Port {shop.port} is taken by another program, or by a Flitchbook that still runs. "
        f"Stop that one, or start here with --port {shop.port + 1 if shop.port < 65535 else shop.port - 1}."
    )
    assert not (tmp_path / "flitchbook.sqlite3").exists()


def test_more_than_25_mb_are_refused_in_words_and_never_reach_the_app(shop: Running) -> None:
    size = 25 * 1024 * 1024 + 1
    head = f"POST /start/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: {size}\r\n\r\n".encode()

    answer = shop.send(head + b"x" * size).decode()

    assert answer.startswith("HTTP/1.1 413 ")
    assert "What was sent is over 25 MB. Nothing was saved. Go back, send fewer or smaller files." in answer


@pytest.mark.parametrize(("header", "status"), [("Transfer-Encoding: chunked", "411"), ("Content-Length: -1", "400")])
def test_a_body_of_unknown_length_is_refused(shop: Running, header: str, status: str) -> None:
    answer = shop.send(f"POST /start/ HTTP/1.1\r\nHost: localhost\r\n{header}\r\n\r\n".encode())

    assert answer.startswith(f"HTTP/1.1 {status} ".encode())


def test_a_proxys_header_cannot_be_forged_with_underscores(shop: Running) -> None:
    head = b"GET /health HTTP/1.1\r\nHost: localhost\r\nContent_Length: nonsense\r\nConnection: close\r\n\r\n"

    assert shop.send(head).startswith(b"HTTP/1.1 200 ")


def test_another_hosts_name_is_not_answered(shop: Running) -> None:
    answer = shop.send(b"GET /health HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n")

    assert answer.startswith(b"HTTP/1.1 400 ")


def test_a_backup_asked_for_is_made_by_the_worker(shop: Running) -> None:
    program = "from workshop import backups; backups.ask(by=None)"

    asked = run("shell", "-c", program, FLITCHBOOK_DATA=str(shop.data))

    assert asked.returncode == 0
    wait_for(lambda: shop.health()["last_backup"])
    assert len(list((shop.data / "backups").glob("by-hand-*.sqlite3"))) == 1


def test_a_worker_that_dies_is_begun_again(shop: Running) -> None:
    first = wait_for(lambda: shop.worker("plans"))

    os.kill(first, signal.SIGTERM)

    assert wait_for(lambda: shop.worker("plans") not in (0, first))


def test_the_log_holds_no_code_and_the_folder_no_open_key(shop: Running) -> None:
    code = re.search(r"\d{6}$", shop.printed, re.MULTILINE)[0]
    logs = "".join(path.read_text(encoding="utf-8") for path in (shop.data / "logs").glob("*.log"))

    assert code not in logs
    assert (shop.data / "secret-key.txt").read_text(encoding="utf-8") not in logs + shop.printed


def test_a_stopped_app_ends_its_workers_and_lets_go_of_its_data(tmp_path: Path) -> None:
    app = Running(tmp_path)
    workers = [wait_for(lambda group=group: app.worker(group)) for group in ("documents", "plans")]

    code = app.stop()

    assert code == 0
    assert app.printed.endswith(f"Stopped.{os.linesep}")
    assert not any(lives(worker) for worker in workers)
    start.hold(tmp_path).close()


@POSIX_ONLY
def test_workers_end_when_the_server_is_killed(tmp_path: Path) -> None:
    app = Running(tmp_path)
    workers = [wait_for(lambda group=group: app.worker(group)) for group in ("documents", "plans")]

    app.process.kill()
    app.process.wait()

    wait_for(lambda: not any(lives(worker) for worker in workers))
    start.hold(tmp_path).close()


def test_a_due_migration_backs_the_data_up_first(tmp_path: Path) -> None:
    migrated = run("migrate", "contenttypes", FLITCHBOOK_DATA=str(tmp_path))
    app = Running(tmp_path, "--today", "2027-03-01")
    app.process.kill()

    backup = next((tmp_path / "backups").glob("before-update-*.sqlite3"))
    with closing(sqlite3.connect(backup)) as database:
        apps = database.execute("SELECT DISTINCT app FROM django_migrations").fetchall()
    assert migrated.returncode == 0
    assert apps == [("contenttypes",)]
    assert f"The database was updated. As it was before, it lies in {backup}" in app.printed
