"""The migrations make the tables that the code works with, up and down, and know what is not theirs."""

from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import inspect, text

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.errors import DatabaseVersionError
from service.storage.migrate import change_version, database_version, migrate, newest_version
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


def test_up_and_down_and_up(untouched: Database, small: Catalog, noon: datetime) -> None:
    """Down to nothing and up again, with data in the tables; the result is like the first."""
    store = RevisionStore(untouched)
    migrate(untouched)
    with untouched.reading() as connection:
        first = described(connection)
    store.add(small, created_at=noon)
    change_version(untouched, "base")
    assert database_version(untouched) is None
    with untouched.reading() as connection:
        assert described(connection) == {}
    migrate(untouched)
    with untouched.reading() as connection:
        assert described(connection) == first
    assert store.add(small, created_at=noon) == 1


def test_migrating_again_changes_nothing(
    database: Database, store: RevisionStore, small: Catalog, noon: datetime
) -> None:
    """What is stored stays."""
    store.add(small, created_at=noon)
    migrate(database)
    change_version(database, newest_version())
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
        pytest.raises(DatabaseVersionError, match=r"rows of .* refer to rows of joint that are not there"),
        database.changing_tables(wait_ms=100) as connection,
    ):
        connection.execute(text("DELETE FROM joint WHERE id = 'flare-turn'"))
    assert store.load(1) == small


def test_tables_of_a_newer_service_are_left_alone(database: Database) -> None:
    """A version that this service does not know is told, with those that it knows."""
    with database.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(DatabaseVersionError, match=f"version '9999' is not among .*{newest_version()}"):
        migrate(database)


def test_tables_of_somebody_else_are_left_alone(untouched: Database) -> None:
    """A database that has an `item` already is not ours: nothing is changed in it."""
    with untouched.writing() as connection:
        connection.execute(text("CREATE TABLE item (name VARCHAR)"))
    with pytest.raises(DatabaseVersionError, match="already"):
        migrate(untouched)
    with untouched.reading() as connection:
        assert inspect(connection).get_table_names() == ["item"]


def test_missing_tables_are_told(untouched: Database) -> None:
    """A database that was never migrated is no mystery."""
    with pytest.raises(DatabaseVersionError, match="revision"):
        RevisionStore(untouched).latest()


def test_a_catalog_from_before_engineering_is_the_same_after(
    database: Database, store: RevisionStore, small: Catalog, noon: datetime
) -> None:
    """A revision of the tables of version 0002 is loaded as it was, its digest proving it."""
    store.add(small, created_at=noon)
    change_version(database, "0002")
    migrate(database)
    assert store.load(1) == small
