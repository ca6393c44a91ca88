"""What a database driver's error means to this service: one table a driver, from its own code to an error class."""

import re
from collections.abc import Iterable

from sqlalchemy.exc import DataError, DBAPIError, IntegrityError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeoutError

from service.storage.errors import (
    DamagedDatabaseError,
    DatabaseVersionError,
    RowsRefusedError,
    StorageBusyError,
    StorageError,
    StorageFullError,
    StorageUnavailableError,
)

_Meaning = type[StorageUnavailableError | DamagedDatabaseError | DatabaseVersionError | RowsRefusedError]

_SQLITE: dict[str, _Meaning] = {
    "SQLITE_BUSY": StorageBusyError,
    "SQLITE_LOCKED": StorageBusyError,
    "SQLITE_FULL": StorageFullError,
    "SQLITE_CORRUPT": DamagedDatabaseError,
    "SQLITE_NOTADB": DamagedDatabaseError,
}
"""By the primary result code: SQLITE_BUSY stands for SQLITE_BUSY_SNAPSHOT too."""

_OTHER_TABLES = re.compile(r"no such (table|column)|has no column|already exists")
"""SQLite has one code for every fault of a statement; its text tells those apart that come of other tables."""

_POSTGRESQL: dict[str, _Meaning] = {
    "40001": StorageBusyError,  # serialization failure
    "40P01": StorageBusyError,  # deadlock
    "53300": StorageBusyError,  # too many connections
    "55P03": StorageBusyError,  # lock timeout
    "57014": StorageBusyError,  # statement timeout
    "53100": StorageFullError,  # disk full
    "42P01": DatabaseVersionError,  # no such table
    "42P07": DatabaseVersionError,  # table is there already
    "42703": DatabaseVersionError,  # no such column
    "XX001": DamagedDatabaseError,  # data corrupted
    "XX002": DamagedDatabaseError,  # index corrupted
}


def failure(error: SQLAlchemyError, database: str, secrets: Iterable[object]) -> StorageError:
    """Return the storage error that an error of SQLAlchemy or of a driver amounts to, the secrets cut out."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    reason = str(cause).strip().partition("\n")[0]
    for secret in filter(None, secrets):
        reason = reason.replace(str(secret), "***")
    return _meaning(error)(database, reason)


def _meaning(error: SQLAlchemyError) -> _Meaning:
    if isinstance(error, IntegrityError | DataError):
        return RowsRefusedError
    if isinstance(error, PoolTimeoutError):
        return StorageBusyError
    cause = error.orig if isinstance(error, DBAPIError) else None
    if isinstance(name := getattr(cause, "sqlite_errorname", None), str):
        if name == "SQLITE_ERROR" and _OTHER_TABLES.search(str(cause)):
            return DatabaseVersionError
        return _SQLITE.get("_".join(name.split("_")[:2]), StorageUnavailableError)
    return _POSTGRESQL.get(getattr(cause, "sqlstate", None) or "", StorageUnavailableError)
