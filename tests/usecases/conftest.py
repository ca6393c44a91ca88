"""A library over an SQLite file with the small catalog as revision 1."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from service.documents.catalog import Catalog
from service.usecases.library import Edition, Library
from tests.support.catalogs import small_catalog
from tests.usecases.counting_store import CountingStore, sqlite_store


@pytest.fixture
def store(tmp_path: Path) -> Iterator[CountingStore]:
    """A store without a revision."""
    with sqlite_store(tmp_path) as opened:
        yield opened


@pytest.fixture
def empty_library(store: CountingStore) -> Library:
    """A library without a revision."""
    return Library(store)


@pytest.fixture(scope="session")
def small() -> Catalog:
    """The small catalog."""
    return Catalog.model_validate(small_catalog())


@pytest.fixture
def library(empty_library: Library, small: Catalog) -> Library:
    """A library with the small catalog as revision 1."""
    empty_library.publish(small)
    return empty_library


@pytest.fixture(scope="session")
def edition(small: Catalog) -> Edition:
    """The small catalog made ready to answer."""
    return Edition(1, small)
