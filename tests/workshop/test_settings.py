"""Settings: wrong values from outside are refused at the start, by name; the database is set right."""

import runpy
import sqlite3
import stat
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.db import connection
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.utils import ConnectionHandler
from pytest_django import DjangoDbBlocker

SETTINGS = Path(settings.BASE_DIR) / "workshop" / "settings.py"


@pytest.fixture
def read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., dict]:
    """Reads the settings file anew, with these values in the environment and no others of ours."""
    for name in ("DATABASE_URL", "PUBLIC_URL", "ALLOWED_HOSTS", "TIME_ZONE", "SECRET_KEY", "DEBUG"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("FLITCHBOOK_DATA", str(tmp_path))

    def read_with(**values: str) -> dict:
        for name, value in values.items():
            monkeypatch.setenv(name, value)
        return runpy.run_path(str(SETTINGS))

    return read_with


@pytest.fixture
def sqlite(read: Callable[..., dict], django_db_blocker: DjangoDbBlocker) -> Iterator[BaseDatabaseWrapper]:
    """A connection to an empty SQLite file, made as the app makes its own."""
    handler = ConnectionHandler({"default": read()["DATABASES"]["default"]})
    with django_db_blocker.unblock():
        yield handler["default"]
        handler["default"].close()


def pragma(database: BaseDatabaseWrapper, name: str) -> object:
    with database.cursor() as cursor:
        return cursor.execute(f"PRAGMA {name}").fetchone()[0]


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("FLITCHBOOK_TODAY", "1 March", "FLITCHBOOK_TODAY is '1 March'; write a date as 2027-03-01"),
        ("PUBLIC_URL", "shop.example", "PUBLIC_URL is 'shop.example'; write scheme and host only, as https"),
        ("PUBLIC_URL", "https://shop.example/app", "PUBLIC_URL is 'https://shop.example/app'; write scheme"),
        (
            "PUBLIC_URL",
            "https://shop.example:port",
            "PUBLIC_URL is 'https://shop.example:port'; write scheme",
        ),
        (
            "PUBLIC_URL",
            "ftp://shop.example",
            "PUBLIC_URL is 'ftp://shop.example'; write scheme and host only",
        ),
        (
            "DATABASE_URL",
            "mysql://shop@db/shop",
            "DATABASE_URL is 'mysql://shop@db/shop'; write postgresql://",
        ),
        (
            "DATABASE_URL",
            "postgresql://db:x/shop",
            "DATABASE_URL is 'postgresql://db:x/shop'; write postgresql",
        ),
        (
            "DATABASE_URL",
            "postgresql://db",
            "DATABASE_URL is 'postgresql://db'; write postgresql://user:password",
        ),
        (
            "ALLOWED_HOSTS",
            "shop.local,*",
            "ALLOWED_HOSTS holds '*'; write names parted by commas, as shop.local",
        ),
        ("ALLOWED_HOSTS", "http://shop", "ALLOWED_HOSTS holds 'http://shop'; write names parted by commas"),
        (
            "TIME_ZONE",
            "Chicago",
            "TIME_ZONE is 'Chicago'; write a name of the time zone database, as America",
        ),
        ("DEBUG", "true", "DEBUG is 'true'; write 1 for on, or 0 for off"),
    ],
)
def test_a_wrong_value_is_refused_with_its_name_and_what_would_do(
    read: Callable[..., dict], name: str, value: str, words: str
) -> None:
    with pytest.raises(ImproperlyConfigured) as refusal:
        read(**{name: value})

    assert str(refusal.value).startswith(words)


def test_a_refused_database_address_does_not_show_its_password(read: Callable[..., dict]) -> None:
    with pytest.raises(ImproperlyConfigured) as refusal:
        read(DATABASE_URL="mysql://shop:hunter2@db/shop")

    assert "hunter2" not in str(refusal.value)


def test_the_public_address_sets_hosts_origin_proxy_and_secure_cookies(read: Callable[..., dict]) -> None:
    found = read(PUBLIC_URL="https://shop.example")

    assert "shop.example" in found["ALLOWED_HOSTS"]
    assert found["CSRF_TRUSTED_ORIGINS"] == ["https://shop.example"]
    assert found["SECURE_PROXY_SSL_HEADER"] == ("HTTP_X_FORWARDED_PROTO", "https")
    assert (found["SESSION_COOKIE_SECURE"], found["CSRF_COOKIE_SECURE"]) == (True, True)


def test_a_public_address_without_tls_trusts_no_proxy_and_keeps_plain_cookies(
    read: Callable[..., dict],
) -> None:
    found = read(PUBLIC_URL="http://192.168.1.20:8000")

    assert "192.168.1.20" in found["ALLOWED_HOSTS"]
    assert "SECURE_PROXY_SSL_HEADER" not in found
    assert "SESSION_COOKIE_SECURE" not in found


def test_the_secret_key_is_made_once_and_kept_for_its_owner_alone(read: Callable[..., dict], tmp_path: Path) -> None:
    first, second = read()["SECRET_KEY"], read()["SECRET_KEY"]

    file = tmp_path / "secret-key.txt"
    assert first == second == file.read_text(encoding="utf-8")
    assert len(first) >= 50
    if sys.platform != "win32":
        assert stat.S_IMODE(file.stat().st_mode) == 0o600


def test_debug_is_off_unless_switched_on(read: Callable[..., dict]) -> None:
    assert read()["DEBUG"] is False


def test_the_password_of_the_database_is_hidden_in_the_log(read: Callable[..., dict]) -> None:
    formatters = read(DATABASE_URL="postgresql://shop:hunter2@db/shop")["LOGGING"]["formatters"]

    assert all("hunter2" in formatter["secrets"] for formatter in formatters.values())


@pytest.mark.parametrize(
    ("name", "value"),
    [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("busy_timeout", 20000)],
)
def test_every_sqlite_connection_is_set_so(sqlite: BaseDatabaseWrapper, name: str, value: object) -> None:
    found = [pragma(sqlite, name)]

    def in_another_thread() -> None:
        other = sqlite.copy()
        found.append(pragma(other, name))
        other.close()

    thread = threading.Thread(target=in_another_thread)
    thread.start()
    thread.join()

    assert found == [value, value]


def test_a_sqlite_transaction_takes_the_right_to_write_when_it_begins(
    sqlite: BaseDatabaseWrapper, tmp_path: Path
) -> None:
    sqlite.ensure_connection()
    sqlite.set_autocommit(False, force_begin_transaction_with_broken_autocommit=True)

    with (
        closing(sqlite3.connect(tmp_path / "flitchbook.sqlite3", timeout=0)) as other,
        pytest.raises(sqlite3.OperationalError, match="database is locked"),
    ):
        other.execute("BEGIN IMMEDIATE")
    sqlite.rollback()


def test_a_sqlite_connection_is_kept_from_request_to_request(sqlite: BaseDatabaseWrapper) -> None:
    sqlite.ensure_connection()
    before = sqlite.connection

    sqlite.close_if_unusable_or_obsolete()

    assert sqlite.connection is before


def test_on_postgresql_connections_are_checked_and_give_up_in_time(read: Callable[..., dict]) -> None:
    found = read(DATABASE_URL="postgresql://shop:x@db/shop?sslmode=require")["DATABASES"]["default"]

    assert (found["CONN_MAX_AGE"], found["CONN_HEALTH_CHECKS"]) == (600, True)
    assert found["OPTIONS"] == {"connect_timeout": 5, "sslmode": "require"}


@pytest.mark.django_db
def test_a_connection_postgresql_has_dropped_is_opened_anew_by_the_next_request() -> None:
    if connection.vendor != "postgresql":
        pytest.skip("SQLite has no server that drops connections")
    handler = ConnectionHandler({"default": connection.settings_dict | {"CONN_HEALTH_CHECKS": True}})
    kept = handler["default"]
    with kept.cursor() as cursor:
        cursor.execute("SELECT pg_backend_pid()")
        backend = cursor.fetchone()[0]
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_terminate_backend(%s)", [backend])

    kept.close_if_unusable_or_obsolete()

    with kept.cursor() as cursor:
        cursor.execute("SELECT pg_backend_pid()")
        assert cursor.fetchone()[0] != backend
    kept.close()
