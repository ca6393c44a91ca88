"""Opening a database, SQLite or PostgreSQL, so that transactions on both mean the same and failures are told alike."""

import importlib.util
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Lock
from time import monotonic
from typing import TYPE_CHECKING, Any

from sqlalchemy import URL, Connection, Engine, event, func, make_url, select
from sqlalchemy.exc import ArgumentError, SQLAlchemyError

from service.storage.errors import DatabaseUrlError, DatabaseVersionError, StorageError
from service.storage.failures import failure
from service.storage.outage import Outage
from service.storage.patience import READ_S, TABLES_S, WRITE_S, within
from service.storage.sqlite import sqlite_engine
from service.storage.sqlite_file import SqliteFile

if TYPE_CHECKING:
    from service.storage.listening import Listener  # needs the driver, which not everybody has

WAIT_MS = 3_000
"""How long a transaction waits for others, on either database."""

_READERS = {"pool_size": 16, "max_overflow": 4}
_WRITERS_AT_ONCE = {"sqlite": 1, "postgresql": 4}
_POOL_RECYCLE_S = {"sqlite": -1, "postgresql": 1_800}
_TABLES_LOCK = 0x706F7274
"""The advisory lock of those who change tables on PostgreSQL; any number that nobody else uses."""

_KNOWN = "sqlite:///FILE or postgresql://USER@HOST/DATABASE"

_log = logging.getLogger(__name__)


class Database:
    """A database with its connections. Safe to share by threads; each process opens its own.

    Writers have connections of their own: those that wait for one another keep none from readers.
    """

    def __init__(self, readers: Engine, writers: Engine, wait_ms: int, file: SqliteFile | None = None) -> None:
        self._readers = readers
        self._writers = writers
        self._wait_ms = wait_ms
        self._file = file
        self._keeper: Connection | None = None
        self._opening = Lock()
        self._outage = Outage()
        self._has_remains = False
        self._reading = {"isolation_level": "REPEATABLE READ"} if file is None else {}
        self.name = readers.url.set(query={}).render_as_string(hide_password=True)

    @property
    def is_sqlite(self) -> bool:
        """Whether this is an SQLite file."""
        return self._file is not None

    @contextmanager
    def reading(self, limit_s: float = READ_S) -> Iterator[Connection]:
        """Give a connection in a transaction that sees one state and is never kept waiting by writers.

        Raises StorageError: see `failures`.
        """
        with self._use(limit_s), self._readers.connect() as connection:
            self._check_file()
            yield connection.execution_options(**self._reading)

    @contextmanager
    def writing(self, limit_s: float = WRITE_S) -> Iterator[Connection]:
        """Give a connection in a transaction that is committed at the end and undone whole by any error.

        On SQLite there is one writer at a time, from the first line on. Raises StorageError: see `failures`.
        """
        with self._use(limit_s):
            until = monotonic() + self._wait_ms / 1000
            with self._writers.connect() as connection:
                self._check_file()
                self._wait_for_others(connection, until - monotonic())
                with connection.begin():
                    yield connection
            self._check_file()  # what went into a file that is gone by now must not be told as kept
        if self._has_remains:
            self.erase_remains(wait_s=0)

    @contextmanager
    def changing_tables(self, wait_ms: int) -> Iterator[Connection]:
        """Give a `writing` connection that waits longer and may rebuild tables that others refer to.

        SQLite rebuilds a table to change it: references are not checked meanwhile, but before the commit.
        Raises DatabaseVersionError where one leads nowhere then, and StorageError: see `failures`.
        """
        with self._use(TABLES_S), self._writers.connect() as connection:
            try:
                self._check_file()
                if self.is_sqlite:
                    _pragma(connection, "foreign_keys=OFF")
                self._wait_for_others(connection, wait_ms / 1000)
                with connection.begin():
                    if self.is_sqlite:
                        yield connection
                        self._check_references(connection)
                    else:
                        _lock_postgresql(connection, wait_ms)
                        yield connection
            finally:
                connection.invalidate()

    def listener(self) -> "Listener | None":
        """What hears of new revisions, by a connection outside the pools; None on SQLite. Raises StorageError."""
        if self.is_sqlite:
            return None
        from service.storage.listening import Listener

        with self._use(READ_S):
            lent = self._readers.raw_connection()
            connection: Any = lent.driver_connection
            lent.detach()
            return Listener(connection, self.name)

    def empty_log(self, wait_s: float) -> bool:
        """Move what stands in SQLite's log into the file; whether the log is empty now. Raises StorageError."""
        if not self.is_sqlite:
            return True
        with self._use(WRITE_S), self._writers.connect() as connection:
            self._wait_for_others(connection, wait_s)
            is_busy = _pragma(connection, "wal_checkpoint(TRUNCATE)")[0]
        return not is_busy

    def erase_remains(self, wait_s: float = WAIT_MS / 1000) -> None:
        """Take what was deleted out of SQLite's log as well.

        Readers may hold it up: then it is tried again after each write and at `close`, and the log of the service
        says so. On PostgreSQL this is the server's own work (VACUUM, its log, its backups).
        """
        try:
            is_done, reason = self.empty_log(wait_s), "others read it"
        except StorageError as error:
            is_done, reason = False, str(error)
        if not (is_done or self._has_remains):
            _log.warning("what was deleted is in %s-wal until that can be emptied: %s", self.name, reason)
        self._has_remains = not is_done

    def close(self) -> None:
        """Close all connections."""
        if self._has_remains:
            self.erase_remains()
        self._writers.dispose()
        self._readers.dispose()
        if self._keeper is not None:
            self._keeper.close()
        if self._file is not None:
            self._file.close()

    def _wait_for_others(self, connection: Connection, wait_s: float) -> None:
        """Set how long SQLite waits for other processes; PostgreSQL has it from the start."""
        if self.is_sqlite:
            _pragma(connection, f"busy_timeout={max(0, round(wait_s * 1000))}")

    def _check_references(self, connection: Connection) -> None:
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
        if broken is not None:
            raise DatabaseVersionError(
                self.name, f"rows of {broken[0]} refer to rows of {broken[2]} that are not there"
            )

    def _check_file(self) -> None:
        if self._file is not None:
            self._file.check()

    def _open_file(self) -> None:
        """Make or find the file, and keep a connection to it, which holds it and its log as they are."""
        if self._file is None or self._keeper is not None:
            return
        with self._opening:
            if self._keeper is None:
                self._file.prepare()
                keeper = self._readers.connect()
                try:
                    keeper.detach()
                    keeper.exec_driver_sql("SELECT count(*) FROM sqlite_master").close()
                    keeper.rollback()
                    self._file.recognise()
                except BaseException:
                    keeper.close()
                    raise
                self._keeper = keeper

    @contextmanager
    def _use(self, limit_s: float) -> Iterator[None]:
        """Bound a use of the database and tell its failures alike."""
        with within(limit_s), self._outage.noticed(self.name):
            try:
                self._open_file()
                self._check_file()
                yield
            except SQLAlchemyError as error:
                secrets = (self._readers.url.password, self._readers.url.query.get("password"))
                told = failure(error, self.name, secrets)
                if told is None:
                    raise
                raise told from error


def open_database(url: str, wait_ms: int = WAIT_MS) -> Database:
    """Return the database at an address: `sqlite:///FILE` or `postgresql://USER@HOST/DATABASE`.

    Nothing is connected yet: a database that is down is told by the first use, which makes an SQLite file with its
    folder where they are missing. A transaction waits `wait_ms` for others before it gives up with StorageBusyError.
    Raises DatabaseUrlError for an address that cannot be used.
    """
    try:
        address = make_url(url)
    except (ArgumentError, ValueError):
        raise DatabaseUrlError(f"the database address is not understood; expected {_KNOWN}") from None
    if address.drivername in ("sqlite", "sqlite+pysqlite"):
        return _sqlite(address, wait_ms)
    if address.drivername in ("postgresql", "postgres", "postgresql+psycopg"):
        return _postgresql(address, wait_ms)
    raise DatabaseUrlError(f"databases of the kind {address.drivername!r} are not supported; expected {_KNOWN}")


def _pools(kind: str, wait_ms: int) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return the settings of the pools of readers and of writers."""
    both = {"pool_timeout": wait_ms / 1000, "pool_recycle": _POOL_RECYCLE_S[kind]}
    return both | _READERS, both | {"pool_size": _WRITERS_AT_ONCE[kind], "max_overflow": 0}


def _sqlite(address: URL, wait_ms: int) -> Database:
    path = address.database or ":memory:"
    if path.startswith((":memory:", "file:")):
        raise DatabaseUrlError(f"the database must be an ordinary file that outlives the process, not {path!r}")
    file = SqliteFile(Path(path), str(address))
    readers, writers = _pools("sqlite", wait_ms)
    return Database(
        sqlite_engine(address, file, wait_ms, begin="BEGIN", **readers),
        sqlite_engine(address, file, wait_ms, begin="BEGIN IMMEDIATE", **writers),
        wait_ms,
        file,
    )


def _postgresql(address: URL, wait_ms: int) -> Database:
    if importlib.util.find_spec("psycopg") is None:
        raise DatabaseUrlError("PostgreSQL needs the extra 'postgres': pip install 'portwright[postgres]'")
    from service.storage.postgresql import postgresql_engine, same_database

    readers, writers = (postgresql_engine(address, wait_ms, **pool) for pool in _pools("postgresql", wait_ms))
    database = Database(readers, writers, wait_ms)
    is_same = same_database(database.name)
    for engine in (readers, writers):
        event.listen(engine, "connect", is_same)
    return database


def _lock_postgresql(connection: Connection, wait_ms: int) -> None:
    for setting, value in (("lock_timeout", wait_ms), ("statement_timeout", 0)):
        connection.exec_driver_sql(f"SET LOCAL {setting} = {value}")
    connection.execute(select(func.pg_advisory_xact_lock(_TABLES_LOCK)))


def _pragma(connection: Connection, setting: str) -> tuple[Any, ...]:
    """Set or ask something of SQLite outside a transaction; its first row."""
    cursor = connection.connection.cursor()
    try:
        cursor.execute(f"PRAGMA {setting}")
        return tuple(cursor.fetchone() or (None,))
    finally:
        cursor.close()
