"""What `manage.py start` refuses, in words that say what would do, and without touching anything."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.workshop.running import run
from workshop import start


@pytest.mark.parametrize("journal", ["delete", "wal"])
def test_a_database_of_a_newer_version_is_refused_and_not_touched(tmp_path: Path, journal: str) -> None:
    path = tmp_path / "flitchbook.sqlite3"
    with closing(sqlite3.connect(path)) as database, database:
        database.execute(f"PRAGMA journal_mode={journal}")
        database.execute("CREATE TABLE django_migrations (id INTEGER, app TEXT, name TEXT, applied TEXT)")
        database.execute("INSERT INTO django_migrations VALUES (1, 'workshop', '0099_veneer_matching', '')")
        database.execute("INSERT INTO django_migrations VALUES (2, 'boats', '0001_initial', '')")
    before = path.read_bytes()

    refused = run("start", "--port", 0, "--data", tmp_path)

    assert refused.returncode == 1
    assert refused.stderr.decode().startswith(
        "A newer Flitchbook has worked on this data; this one (0.1) does not know boats.0001_initial, "
        "workshop.0099_veneer_matching. Nothing was touched. Start the newer version, or start this one with "
    )
    assert path.read_bytes() == before
    assert not list(tmp_path.glob("flitchbook.sqlite3-*"))


def test_a_file_that_is_no_database_is_refused_and_not_touched(tmp_path: Path) -> None:
    path = tmp_path / "flitchbook.sqlite3"
    path.write_bytes(b"a shopping list" * 500)

    refused = run("start", "--port", 0, "--data", tmp_path)

    words = refused.stderr.decode()
    assert refused.returncode == 1
    assert "cannot be read (file is not a database). Put a backup from the folder backups in its place" in words
    assert path.read_bytes() == b"a shopping list" * 500


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_console_that_cannot_print_a_sign_does_not_break_the_start(tmp_path: Path, encoding: str) -> None:
    folder = tmp_path / "≈ ½ in ″"
    folder.mkdir()
    with closing(start.hold(folder)):
        refused = run("start", "--data", folder, PYTHONIOENCODING=encoding)

    assert refused.returncode == 1
    assert refused.stderr.decode(encoding).startswith("Flitchbook runs already on the data in ")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--port", "http"], "'http' is no port; write a number from 1 to 65535, as 8000 or 8080"),
        (["--port", "70000"], "'70000' is no port; write a number from 1 to 65535, as 8000 or 8080"),
        (["--today", "1 March"], "'1 March' is no date; write it as 2027-03-01, or leave it out"),
    ],
)
def test_a_wrong_option_is_refused_with_what_would_do(
    capsys: pytest.CaptureFixture[str], arguments: list[str], words: str
) -> None:
    with pytest.raises(SystemExit) as ended:
        start.main(arguments)

    assert ended.value.code == 2
    assert words in capsys.readouterr().err


def test_a_host_that_is_not_this_machines_is_refused(tmp_path: Path) -> None:
    refused = run("start", "--port", 0, "--data", tmp_path, "--host", "192.0.2.1")

    assert refused.returncode == 1
    assert refused.stderr.decode().startswith("192.0.2.1 is no address of this machine. Use --host 0.0.0.0")


def test_all_addresses_of_the_machine_are_allowed_with_the_open_host(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(start.server, "lan_addresses", lambda: ["192.168.1.20", "10.0.0.5"])
    monkeypatch.setattr(start.server.socket, "gethostname", lambda: "Shop-PC")

    assert start.hosts("0.0.0.0") == ["192.168.1.20", "10.0.0.5", "shop-pc", "shop-pc.local"]
    assert start.hosts("192.168.1.20") == ["192.168.1.20"]
    assert start.hosts("::1") == ["[::1]"]


def test_the_demo_does_not_open_on_a_shops_own_data(tmp_path: Path) -> None:
    (tmp_path / "flitchbook.sqlite3").touch()

    with pytest.raises(start.CannotStart, match=r"holds a shop's own data\. Start the demo with another folder, or"):
        start.keep_demo_apart(tmp_path, demo=True)


def test_a_shop_does_not_open_on_the_demos_data(tmp_path: Path) -> None:
    start.keep_demo_apart(tmp_path, demo=True)

    with pytest.raises(start.CannotStart, match=r"holds the demo\. Start it with --demo, or give your data another"):
        start.keep_demo_apart(tmp_path, demo=False)


def test_the_demo_opens_again_on_its_own_data(tmp_path: Path) -> None:
    start.keep_demo_apart(tmp_path, demo=True)
    (tmp_path / "flitchbook.sqlite3").touch()

    start.keep_demo_apart(tmp_path, demo=True)

    assert (tmp_path / "demo.txt").exists()


def test_a_wrong_value_in_the_environment_is_told_in_one_line(tmp_path: Path) -> None:
    refused = run("start", "--port", 0, "--data", tmp_path, TIME_ZONE="Chicago")

    assert refused.returncode == 1
    assert refused.stderr.decode().strip() == (
        "TIME_ZONE is 'Chicago'; write a name of the time zone database, as America/Chicago or Europe/Berlin"
    )


def test_a_data_folder_that_is_a_file_is_told_in_one_line(tmp_path: Path) -> None:
    file = tmp_path / "data"
    file.touch()

    refused = run("start", "--port", 0, "--data", file)

    assert refused.returncode == 1
    assert refused.stderr.decode().startswith(f"The folder {file} cannot be used (")
    assert refused.stderr.decode().strip().endswith("Give another by --data, or mend its rights.")
