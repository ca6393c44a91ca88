"""What a database driver's error means to this service: one table a driver, from its own code to an error class."""

import re
from collections.abc import Iterable

from sqlalchemy.exc import (
    DataError,
    DBAPIError,
    IntegrityError,
    InterfaceError,
    InternalError,
    OperationalError,
    SQLAlchemyError,
)
from sqlalchemy.exc import TimeoutError as PoolTimeoutError

from service.storage.errors import (
    DamagedDatabaseError,
    DatabaseVersionError,
    RowsRefusedError,
    StorageBusyError,
    StorageError,
    StorageFullError,
    StorageSilentError,
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

_POSTGRESQL: dict[str, _Meaning | None] = {
    "08006": StorageSilentError,  # our own watch over the connection
    "25006": StorageUnavailableError,  # read-only
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


def failure(error: SQLAlchemyError, database: str, secrets: Iterable[object]) -> StorageError | None:
    """Return the storage error that an error of SQLAlchemy or of a driver amounts to, the secrets cut out.

    None: it is no condition of the database but a mistake of ours, to be seen as what it is.
    """
    meaning = _meaning(error)
    if meaning is None:
        return None
    cause = error.orig if isinstance(error, DBAPIError) else error
    reason = str(cause).strip().partition("\n")[0]
    for secret in filter(None, secrets):
        reason = reason.replace(str(secret), "***")
    return meaning(database, reason)


def _meaning(error: SQLAlchemyError) -> _Meaning | None:
    if isinstance(error, PoolTimeoutError):
        return StorageBusyError
    if not isinstance(error, DBAPIError):
        return None
    if isinstance(error, IntegrityError | DataError):
        return RowsRefusedError
    if isinstance(name := getattr(error.orig, "sqlite_errorname", None), str):
        return _sqlite_meaning(name, str(error.orig))
    at_fault = isinstance(error, OperationalError | InterfaceError | InternalError)
    return _POSTGRESQL.get(getattr(error.orig, "sqlstate", None) or "", StorageUnavailableError if at_fault else None)


def _sqlite_meaning(name: str, reason: str) -> _Meaning | None:
    if name == "SQLITE_IOERR_SHMSIZE":  # the index of the log did not fit on the disk
        return StorageFullError
    if name == "SQLITE_ERROR":
        return DatabaseVersionError if _OTHER_TABLES.search(reason) else None
    return _SQLITE.get("_".join(name.split("_")[:2]), StorageUnavailableError)
