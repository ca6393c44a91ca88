"""Databases, each test that asks for one once over SQLite and once over PostgreSQL."""

from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.storage.databases import empty_database
from tests.support.catalogs import small_catalog
from tests.support.sqlite_files import with_tables


@pytest.fixture(scope="session", params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)], name="kind")
def _kind(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def empty_url(kind: str, tmp_path: Path) -> Iterator[str]:
    """The address of a database without tables."""
    with empty_database(kind, tmp_path) as url:
        yield url


@pytest.fixture
def database(kind: str, empty_url: str) -> Iterator[Database]:
    """A database with its tables, opened."""
    if kind == "sqlite":
        with_tables(Path(empty_url.removeprefix("sqlite:///")))
    with closing(open_database(empty_url)) as opened:
        migrate(opened)
        yield opened


@pytest.fixture
def store(database: Database) -> RevisionStore:
    """A store without a revision."""
    return RevisionStore(database)


@pytest.fixture(scope="session")
def small() -> Catalog:
    """The small catalog."""
    return Catalog.model_validate(small_catalog())


@pytest.fixture(scope="session")
def noon() -> datetime:
    """Some moment of yesterday: what is kept has an end."""
    return (datetime.now(UTC) - timedelta(days=1)).replace(hour=12, minute=0, second=0, microsecond=250)
