"""The database that a command works on, with its tables ready."""

from collections.abc import Iterator
from contextlib import contextmanager

from pydantic import SecretStr

from service.settings import read_settings
from service.storage.engine import Database, open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore


@contextmanager
def opened_database(url: SecretStr | None = None) -> Iterator[Database]:
    """Give the database at an address, or else the one that is set; its tables are made where they are missing.

    Raises StorageError.
    """
    address = url or read_settings().database_url
    database = open_database(address.get_secret_value())
    try:
        migrate(database)
        yield database
    finally:
        database.close()


@contextmanager
def revision_store(url: SecretStr | None = None) -> Iterator[RevisionStore]:
    """Give the store of revisions in that database. Raises StorageError."""
    with opened_database(url) as database:
        yield RevisionStore(database)
