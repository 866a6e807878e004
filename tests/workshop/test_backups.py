"""Backups: whole while others write, read back before they count, and never half made."""

import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest
from django.conf import LazySettings
from django.db import connection

from workshop import backups, work


@pytest.fixture
def shop(tmp_path: Path, settings: LazySettings) -> Path:
    """A database of 1,000 sheets, each with its two halves, in a data folder of its own."""
    settings.DATA_DIR = tmp_path
    path = tmp_path / "flitchbook.sqlite3"
    with closing(sqlite3.connect(path)) as database, database:
        database.execute("PRAGMA journal_mode=WAL")
        database.execute("CREATE TABLE sheet (id INTEGER PRIMARY KEY, words TEXT)")
        database.execute("CREATE TABLE half (id INTEGER PRIMARY KEY, sheet INTEGER REFERENCES sheet)")
        database.executemany("INSERT INTO sheet VALUES (?, ?)", [(n, "ash" * 100) for n in range(1000)])
        database.executemany("INSERT INTO half (sheet) VALUES (?)", [(n // 2,) for n in range(2000)])
    return path


def count(path: Path, table: str) -> int:
    with closing(sqlite3.connect(path)) as database:
        return database.execute(f"SELECT count(*) FROM {table}").fetchone()[0]


def test_a_backup_holds_every_row_and_passes_the_integrity_check(shop: Path) -> None:
    copy = backups.make("by-hand", database=shop)

    with closing(sqlite3.connect(copy)) as database:
        check = database.execute("PRAGMA integrity_check").fetchone()
    assert check == ("ok",)
    assert (count(copy, "sheet"), count(copy, "half")) == (1000, 2000)


def test_a_backup_is_one_file_alone(shop: Path) -> None:
    copy = backups.make("by-hand", database=shop)

    assert list(copy.parent.iterdir()) == [copy]


def test_a_backup_made_while_others_write_holds_whole_transactions_only(shop: Path) -> None:
    stop = threading.Event()
    written = []

    def write() -> None:
        with closing(sqlite3.connect(shop, timeout=20)) as database:
            while not stop.is_set():
                with database:
                    sheet = database.execute("INSERT INTO sheet (words) VALUES ('ash')").lastrowid
                    database.executemany("INSERT INTO half (sheet) VALUES (?)", [(sheet,), (sheet,)])
                written.append(sheet)

    writer = threading.Thread(target=write)
    writer.start()
    copies = [backups.make("by-hand", database=shop) for _copy in range(10)]
    stop.set()
    writer.join()

    assert written
    assert all(count(copy, "half") == 2 * count(copy, "sheet") for copy in copies)


def test_two_backups_in_one_second_are_two_files(shop: Path) -> None:
    first, second = backups.make("by-hand", database=shop), backups.make("by-hand", database=shop)

    assert first != second
    assert [backup.path for backup in backups.made()] == [second, first]


def test_the_list_tells_reason_time_and_size_newest_first(shop: Path) -> None:
    backups.make("before-update", database=shop)
    backups.make("by-hand", database=shop)

    made = backups.made()

    assert [backup.reason for backup in made] == ["by-hand", "before-update"]
    assert made[0].made_at >= made[1].made_at
    assert made[0].size_bytes > 300_000


def test_other_files_in_the_folder_are_no_backups(shop: Path) -> None:
    backups.folder().mkdir()
    (backups.folder() / "notes.sqlite3").write_bytes(b"")
    (backups.folder() / "by-hand-20270301-101500.part").write_bytes(b"half of it")

    assert backups.made() == []


def test_a_damaged_database_is_not_taken_for_a_backup(shop: Path) -> None:
    data = bytearray(shop.read_bytes())
    data[20 * 4096 : 24 * 4096] = b"\xff" * 4 * 4096
    shop.write_bytes(data)

    with pytest.raises(backups.NotBackedUp, match=r"No backup was made \(.+\)\. Make room on the disk, or look"):
        backups.make("by-hand", database=shop)

    assert list(backups.folder().iterdir()) == []


def test_a_full_disk_leaves_no_half_backup_and_says_what_would_help(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_source: Path, target: Path) -> dict[str, int]:
        target.write_bytes(b"half of it")
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(backups, "_copy", full)

    with pytest.raises(backups.NotBackedUp, match=r"database or disk is full.*Make room on the disk"):
        backups.make("by-hand", database=shop)

    assert list(backups.folder().iterdir()) == []


def test_a_copy_with_other_rows_than_the_database_is_refused(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    copy = backups._copy
    monkeypatch.setattr(backups, "_copy", lambda source, target: copy(source, target) | {"sheet": 1001})

    with pytest.raises(backups.NotBackedUp, match="the copy does not hold the same number of rows"):
        backups.make("by-hand", database=shop)


def test_on_postgresql_the_owner_is_told_to_use_pg_dump(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connection, "vendor", "postgresql")

    with pytest.raises(backups.NotBackedUp, match=r"pg_dump --format=custom --file=shop\.dump"):
        backups.make("by-hand")


@pytest.mark.django_db
def test_a_backup_asked_for_twice_is_one_piece_of_work() -> None:
    first = backups.ask(by=None)

    assert backups.ask(by=None) == first


@pytest.mark.django_db
def test_the_work_tells_the_name_of_the_file(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = backups.make("by-hand", database=shop)
    monkeypatch.setattr(backups, "make", lambda reason: made)
    piece = backups.ask(by=None)

    work.run(piece.pk)

    piece.refresh_from_db()
    assert piece.result == {"words": f"{made.name} lies in the folder backups."}


@pytest.mark.django_db
def test_a_backup_that_fails_says_so_on_its_page(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(reason: str) -> Path:
        raise backups.NotBackedUp("No backup was made (the disk is full).")

    monkeypatch.setattr(backups, "make", fail)
    piece = backups.ask(by=None)

    work.run(piece.pk)

    piece.refresh_from_db()
    assert piece.failure == "No backup was made (the disk is full)."
