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
from tests.storage.databases import Spares, empty_database
from tests.support.catalogs import small_catalog


@pytest.fixture(scope="session", params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)], name="kind")
def _kind(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="session", name="spares")
def _spares() -> Iterator[Spares]:
    spares = Spares()
    yield spares
    spares.drop()


@pytest.fixture
def empty_url(kind: str, tmp_path: Path, spares: Spares, request: pytest.FixtureRequest) -> Iterator[str]:
    """The address of a database: without tables, or that of `database` where a test asks for both."""
    made = spares.database if "database" in request.fixturenames else empty_database
    with made(kind, tmp_path) as url:
        yield url


@pytest.fixture
def database(empty_url: str) -> Iterator[Database]:
    """A database with its tables, opened."""
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
