"""The database that a command works on, with its tables ready."""

from collections.abc import Iterator
from contextlib import contextmanager

from pydantic import SecretStr

from service.settings import Settings
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore


@contextmanager
def revision_store(url: SecretStr | None = None) -> Iterator[RevisionStore]:
    """Give the store at an address, or else at the one that is set; its tables are made where they are missing.

    Raises StorageError.
    """
    address = url or Settings().database_url
    database = open_database(address.get_secret_value())
    try:
        migrate(database)
        yield RevisionStore(database)
    finally:
        database.close()
