"""/health: what watches over the app learns whether it is well, and nothing else."""

import os
import shutil
import time
from collections import namedtuple
from pathlib import Path

import pytest
from django.conf import LazySettings
from django.db import OperationalError, connection
from django.test import Client as Browser

from workshop import backups, worker
from workshop.front import health

Usage = namedtuple("Usage", "total used free")


@pytest.fixture
def folder(tmp_path: Path, settings: LazySettings, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A data folder in which both workers were alive a moment ago, of a server that runs for an hour."""
    settings.DATA_DIR = tmp_path
    monkeypatch.setattr(health, "BEGUN", time.monotonic() - 3600)
    for group in worker.GROUPS:
        worker.beat_file(group).parent.mkdir(exist_ok=True)
        worker.beat_file(group).touch()
    return tmp_path


def silent(group: str, seconds: float) -> None:
    moment = time.time() - seconds
    os.utime(worker.beat_file(group), (moment, moment))


@pytest.mark.django_db
def test_all_well_is_200_without_signing_in(client: Browser, folder: Path) -> None:
    answer = client.get("/health")

    facts = answer.json()
    assert answer.status_code == 200
    assert (facts["well"], facts["database"], facts["worker"]) == (
        True,
        "ok",
        {"documents": "ok", "plans": "ok"},
    )
    assert facts["disk"]["free_bytes"] > 0
    assert (facts["last_backup"], facts["version"]) == (None, "0.1")


@pytest.mark.django_db
def test_a_dead_worker_is_503_and_named(client: Browser, folder: Path) -> None:
    silent("plans", 90)

    answer = client.get("/health")

    assert answer.status_code == 503
    assert answer.json()["worker"] == {"documents": "ok", "plans": "dead"}


@pytest.mark.django_db
def test_a_worker_that_never_lived_is_dead(client: Browser, folder: Path) -> None:
    worker.beat_file("documents").unlink()

    assert client.get("/health").status_code == 503


@pytest.mark.django_db
def test_just_after_the_start_a_worker_has_time_to_come_up(
    client: Browser, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(health, "BEGUN", time.monotonic())
    silent("plans", 9000)

    answer = client.get("/health")

    assert (answer.status_code, answer.json()["worker"]["plans"]) == (200, "starting")


@pytest.mark.django_db
def test_a_database_that_does_not_answer_is_503(client: Browser, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def down() -> None:
        raise OperationalError("no connection to postgresql://shop:hunter2secret@db/shop")

    monkeypatch.setattr(connection, "cursor", down)

    answer = client.get("/health")

    assert (answer.status_code, answer.json()["database"]) == (503, "no answer")
    assert "hunter2secret" not in answer.content.decode()


@pytest.mark.django_db
def test_a_disk_that_fills_up_shows_before_it_is_full(
    client: Browser, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shutil, "disk_usage", lambda _path: Usage(10**12, 10**12, 400 * 1024 * 1024))

    answer = client.get("/health")

    assert (answer.status_code, answer.json()["disk"]["low"]) == (200, True)


@pytest.mark.django_db
def test_the_last_backup_is_told(client: Browser, folder: Path) -> None:
    backups.folder().mkdir()
    path = backups.folder() / "by-hand-20270301-101500.sqlite3"
    path.touch()
    os.utime(path, (1804759200, 1804759200))

    assert client.get("/health").json()["last_backup"] == "2027-03-11T10:00:00+00:00"


@pytest.mark.django_db
def test_neither_paths_nor_names_of_people_are_told(client: Browser, folder: Path) -> None:
    words = client.get("/health").content.decode()

    assert str(folder) not in words
    assert set(client.get("/health").json()) == {
        "well",
        "database",
        "worker",
        "disk",
        "last_backup",
        "version",
    }


def test_it_can_only_be_asked(client: Browser) -> None:
    assert client.post("/health").status_code == 405
