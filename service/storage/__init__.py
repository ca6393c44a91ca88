"""The storage of revisions in SQLite or PostgreSQL: rows never leave this folder, documents do."""

from service.storage.engine import Database, open_database
from service.storage.errors import (
    DamagedDatabaseError,
    DamagedRevisionError,
    DatabaseUrlError,
    DatabaseVersionError,
    RowsRefusedError,
    StorageBusyError,
    StorageError,
    StorageFullError,
    StorageSilentError,
    StorageUnavailableError,
    UnknownRevisionError,
)
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore, RevisionSummary

__all__ = [
    "DamagedDatabaseError",
    "DamagedRevisionError",
    "Database",
    "DatabaseUrlError",
    "DatabaseVersionError",
    "RevisionStore",
    "RevisionSummary",
    "RowsRefusedError",
    "StorageBusyError",
    "StorageError",
    "StorageFullError",
    "StorageSilentError",
    "StorageUnavailableError",
    "UnknownRevisionError",
    "migrate",
    "open_database",
]
