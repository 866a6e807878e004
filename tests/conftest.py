"""The cast: the owner, who sees money, and one of the staff, who does not."""

from collections.abc import Iterator

import pytest
from django.core.cache import cache
from django.db import connections
from django.test import Client as Browser
from django.test import override_settings
from hypothesis import settings

from tests.world import World, make_world
from workshop.models import Person

settings.register_profile("shop", deadline=None)
settings.load_profile("shop")

PASSWORD = "a long enough password"


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings: None, tmp_path_factory: pytest.TempPathFactory) -> None:
    """SQLite's tests use a file, as the shop does: in memory a second connection would not wait its turn."""
    for database in connections.settings.values():
        if database["ENGINE"].endswith("sqlite3"):
            file = tmp_path_factory.mktemp("database") / "test.sqlite3"
            database.setdefault("TEST", {})["NAME"] = str(file)


@pytest.fixture(scope="session", autouse=True)
def quick_passwords() -> Iterator[None]:
    """Passwords are worked out slowly on purpose; half a second a person would be most of the tests' time."""
    with override_settings(PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"]):
        yield


@pytest.fixture(autouse=True)
def _nothing_remembered() -> None:
    """What one test counted, as how much is late, is not the next one's."""
    cache.clear()


@pytest.fixture
def owner(db: None) -> Person:
    return Person.objects.create_user("owner", PASSWORD, name="Rosa Marten", role=Person.Role.OWNER)


@pytest.fixture
def staff(db: None) -> Person:
    return Person.objects.create_user("staff", PASSWORD, name="Ari Kest", role=Person.Role.STAFF)


@pytest.fixture
def owner_client(owner: Person) -> Browser:
    browser = Browser()
    browser.force_login(owner)
    return browser


@pytest.fixture
def staff_client(staff: Person) -> Browser:
    browser = Browser()
    browser.force_login(staff)
    return browser


@pytest.fixture
def world(owner: Person, staff: Person) -> World:
    """A small shop with one of everything."""
    return make_world(owner, staff)
