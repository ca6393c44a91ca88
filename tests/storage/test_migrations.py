"""New tables are those that the code works with, migrations know what is not theirs, and nothing is changed twice."""

from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import inspect, text

from service.documents.catalog import Catalog
from service.storage import migrations
from service.storage.engine import Database, open_database
from service.storage.errors import DatabaseVersionError
from service.storage.migrate import NEWEST, migrate
from service.storage.revisions import RevisionStore
from service.storage.tables import METADATA
from tests.storage.databases import described, empty_database


@pytest.fixture
def untouched(empty_url: str) -> Iterator[Database]:
    """A database without tables."""
    with closing(open_database(empty_url)) as opened:
        yield opened


def test_migrations_make_the_tables_of_the_code(kind: str, database: Database, tmp_path: Path) -> None:
    """No difference to Alembic's eye, nor in keys, references and checks to the database's own."""
    with database.reading() as connection:
        options = {"compare_type": True, "compare_server_default": True}
        assert compare_metadata(MigrationContext.configure(connection, opts=options), METADATA) == []
        migrated = described(connection)
    with empty_database(kind, tmp_path) as url, closing(open_database(url)) as made_at_once:
        with made_at_once.writing() as connection:
            METADATA.create_all(connection)
        with made_at_once.reading() as connection:
            assert migrated == described(connection)
    assert set(migrated) == set(METADATA.tables)


def test_the_newest_version_is_that_of_the_last_migration() -> None:
    """A start compares versions without a look at the migrations."""
    versions = Path(migrations.__file__).parent / "versions"
    assert max(versions.glob("v*.py")).name.startswith(f"v{NEWEST}_")


def test_migrating_again_changes_nothing(
    database: Database, store: RevisionStore, small: Catalog, noon: datetime
) -> None:
    """What is stored stays."""
    store.add(small, created_at=noon)
    migrate(database)
    assert store.load(1) == small


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_references_are_kept_after_a_migration(database: Database) -> None:
    """The connection that changed tables without references is not used again."""
    with database.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar_one() == 1
        assert connection.exec_driver_sql("PRAGMA busy_timeout").scalar_one() == 3000


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_a_step_that_breaks_references_is_undone(
    database: Database, store: RevisionStore, small: Catalog, noon: datetime
) -> None:
    """SQLite changes tables without looking at references: they are looked at before the commit."""
    store.add(small, created_at=noon)
    with (
        pytest.raises(DatabaseVersionError, match=r"rows of .* refer to rows of revision that are not there"),
        database.changing_tables(wait_ms=100) as connection,
    ):
        connection.execute(text("DELETE FROM revision WHERE number = 1"))
    assert store.load(1) == small


def test_tables_of_a_newer_service_are_left_alone(database: Database) -> None:
    """A version that this service does not know is told, with those that it knows."""
    with database.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(DatabaseVersionError, match=f"version '9999' is not among .*{NEWEST}"):
        migrate(database)


def test_tables_of_somebody_else_are_left_alone(untouched: Database) -> None:
    """A database that has a `revision` already is not ours: nothing is changed in it."""
    with untouched.writing() as connection:
        connection.execute(text("CREATE TABLE revision (name VARCHAR)"))
    with pytest.raises(DatabaseVersionError, match="already"):
        migrate(untouched)
    with untouched.reading() as connection:
        assert inspect(connection).get_table_names() == ["revision"]


def test_missing_tables_are_told(untouched: Database) -> None:
    """A database that was never migrated is no mystery."""
    with pytest.raises(DatabaseVersionError, match="revision"):
        RevisionStore(untouched).latest()
