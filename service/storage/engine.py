"""Opening a database, SQLite or PostgreSQL, so that transactions on both mean the same and failures are told alike."""

import importlib.util
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, func, make_url, select
from sqlalchemy.exc import ArgumentError, SQLAlchemyError

from service.storage.errors import DatabaseUrlError, DatabaseVersionError, StorageUnavailableError
from service.storage.failures import failure

WAIT_MS = 5_000
"""How long a transaction waits for others, on either database."""

_POSTGRESQL_TIMEOUTS_MS = {"statement_timeout": 30_000, "idle_in_transaction_session_timeout": 60_000}
_CONNECT_TIMEOUT_S = 5
_POOL = {"pool_size": 16, "max_overflow": 4, "pool_timeout": 5, "pool_recycle": 1_800}
_TABLES_LOCK = 0x706F7274
"""The advisory lock of those who change tables on PostgreSQL; any number that nobody else uses."""

_KNOWN = "sqlite:///FILE or postgresql://USER@HOST/DATABASE"


class Database:
    """A database with its pool of connections. Safe to share by threads; each process opens its own."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._reading = {} if self.is_sqlite else {"isolation_level": "REPEATABLE READ"}
        self.name = engine.url.set(query={}).render_as_string(hide_password=True)

    @property
    def is_sqlite(self) -> bool:
        """Whether this is an SQLite file."""
        return self._engine.dialect.name == "sqlite"

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection in a transaction that sees one state and is never kept waiting by writers.

        Raises StorageError: see `failures`.
        """
        with self._told_alike(), self._engine.connect() as connection:
            yield connection.execution_options(**self._reading)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection in a transaction that is committed at the end and undone whole by any error.

        On SQLite there is one writer at a time, from the first line on. Raises StorageError: see `failures`.
        """
        with (
            self._told_alike(),
            self._engine.connect() as connection,
            connection.execution_options(writing=True).begin(),
        ):
            yield connection

    @contextmanager
    def changing_tables(self, wait_ms: int) -> Iterator[Connection]:
        """Give a `writing` connection that waits longer and may rebuild tables that others refer to.

        SQLite rebuilds a table to change it: references are not checked meanwhile, but before the commit.
        Raises DatabaseVersionError where one leads nowhere then, and StorageError: see `failures`.
        """
        with self._told_alike(), self._engine.connect() as connection:
            try:
                if self.is_sqlite:
                    cursor = connection.connection.cursor()
                    cursor.execute("PRAGMA foreign_keys=OFF")
                    cursor.execute(f"PRAGMA busy_timeout={wait_ms}")
                with connection.execution_options(writing=True).begin():
                    if self.is_sqlite:
                        yield connection
                        self._check_references(connection)
                    else:
                        _lock_postgresql(connection, wait_ms)
                        yield connection
            finally:
                connection.invalidate()

    def _check_references(self, connection: Connection) -> None:
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
        if broken is not None:
            raise DatabaseVersionError(
                self.name, f"rows of {broken[0]} refer to rows of {broken[2]} that are not there"
            )

    def close(self) -> None:
        """Close all connections."""
        self._engine.dispose()

    @contextmanager
    def _told_alike(self) -> Iterator[None]:
        try:
            yield
        except SQLAlchemyError as error:
            secrets = (self._engine.url.password, self._engine.url.query.get("password"))
            told = failure(error, self.name, secrets)
            if told is None:
                raise
            raise told from error


def open_database(url: str, wait_ms: int = WAIT_MS) -> Database:
    """Return the database at an address: `sqlite:///FILE` or `postgresql://USER@HOST/DATABASE`.

    Nothing is connected yet: a database that is down is told by the first use. The folder of an SQLite file is
    made. A transaction waits `wait_ms` for others before it gives up with StorageBusyError.
    Raises DatabaseUrlError for an address that cannot be used, StorageUnavailableError where the folder cannot
    be made.
    """
    try:
        address = make_url(url)
    except (ArgumentError, ValueError):
        raise DatabaseUrlError(f"the database address is not understood; expected {_KNOWN}") from None
    if address.drivername in ("sqlite", "sqlite+pysqlite"):
        return Database(_sqlite_engine(address, wait_ms))
    if address.drivername in ("postgresql", "postgres", "postgresql+psycopg"):
        return Database(_postgresql_engine(address, wait_ms))
    raise DatabaseUrlError(f"databases of the kind {address.drivername!r} are not supported; expected {_KNOWN}")


def _sqlite_engine(address: URL, wait_ms: int) -> Engine:
    file = address.database or ":memory:"
    if file.startswith((":memory:", "file:")):
        raise DatabaseUrlError(f"the database must be an ordinary file that outlives the process, not {file!r}")
    try:
        Path(file).parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StorageUnavailableError(str(address), f"its folder cannot be made: {error.strerror}") from error
    engine = create_engine(
        address,
        connect_args={"isolation_level": None, "timeout": wait_ms / 1000},
        hide_parameters=True,
        **_POOL,
    )
    event.listen(engine, "connect", _prepare_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _prepare_sqlite(connection: sqlite3.Connection, _record: object) -> None:
    try:
        for pragma in ("journal_mode=WAL", "foreign_keys=ON", "synchronous=FULL"):
            connection.execute(f"PRAGMA {pragma}").close()
    except sqlite3.Error:
        connection.close()
        raise


def _lock_postgresql(connection: Connection, wait_ms: int) -> None:
    for setting, value in (("lock_timeout", wait_ms), ("statement_timeout", 0)):
        connection.exec_driver_sql(f"SET LOCAL {setting} = {value}")
    connection.execute(select(func.pg_advisory_xact_lock(_TABLES_LOCK)))


def _begin_sqlite(connection: Connection) -> None:
    """Begin by hand. The driver's own way would begin late and lose updates that were read before."""
    writing = connection.get_execution_options().get("writing")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def _postgresql_engine(address: URL, wait_ms: int) -> Engine:
    if importlib.util.find_spec("psycopg") is None:
        raise DatabaseUrlError("PostgreSQL needs the extra 'postgres': pip install 'portwright[postgres]'")
    settings = _POSTGRESQL_TIMEOUTS_MS | {"lock_timeout": wait_ms}
    given = address.query.get("options", "")
    options = [f"-c {name}={value}" for name, value in settings.items()]
    connect_args: dict[str, Any] = {
        "options": " ".join([*options, given if isinstance(given, str) else " ".join(given)]).strip(),
        "connect_timeout": _CONNECT_TIMEOUT_S,
        "application_name": "portwright",
    }
    return create_engine(
        address.set(drivername="postgresql+psycopg").difference_update_query(["options"]),
        connect_args=connect_args,
        pool_pre_ping=True,
        hide_parameters=True,
        **_POOL,
    )
