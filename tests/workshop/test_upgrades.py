"""Whether a version and a PostgreSQL database fit together. SQLite is tried in test_start, file and all."""

import pytest
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from workshop import upgrades


@pytest.fixture
def postgresql(db: None) -> None:
    if connection.vendor != "postgresql":
        pytest.skip("for PostgreSQL; SQLite is tried in test_start")


def test_a_database_that_fits_is_neither_refused_nor_backed_up(postgresql: None) -> None:
    assert upgrades.bring_up_to_date() is None


def test_a_newer_database_is_refused_by_the_names_of_what_is_not_known(postgresql: None) -> None:
    for number in range(7):
        MigrationRecorder(connection).record_applied("workshop", f"009{number}_later")

    with pytest.raises(upgrades.Refused, match=r"workshop\.0090_later, .*workshop\.0094_later and 2 more\. Nothing"):
        upgrades.bring_up_to_date(backed_up=True)


def test_a_due_migration_waits_until_the_owner_has_made_the_backup(postgresql: None) -> None:
    MigrationRecorder.Migration.objects.filter(app="estimates").delete()

    with pytest.raises(upgrades.Refused, match=r"pg_dump --format=custom .*start once with --no-backup\."):
        upgrades.bring_up_to_date()
