"""Opening PostgreSQL: connections whose every wait ends, also where the network between says nothing any more.

The server's own timeouts help only while its words get through. So the client watches too: a wait that takes too long
closes the connection, and its user is told SQLSTATE 08006.
"""

from collections.abc import Callable
from math import ceil
from time import monotonic
from typing import Any, TypeVar

import psycopg
from psycopg.abc import PQGen
from sqlalchemy import URL, Engine, create_engine, event

from service.storage.errors import StorageUnavailableError
from service.storage.patience import left_s

_LEAST_WAIT_S = 0.5
_CONNECT_S = 3
_KEEPALIVES = {"keepalives_idle": 15, "keepalives_interval": 5, "keepalives_count": 3}
"""Whoever only listens learns by these [s, s, number] that the server is gone without a word."""
_TIMEOUTS_MS = {"statement_timeout": 8_000, "idle_in_transaction_session_timeout": 10_000}

_ANOTHER = "another database took its place since the start; restart the service to go on with it"

T = TypeVar("T")


class FellSilentError(psycopg.OperationalError):
    """The connection did not say what it was waited for in time. It is closed."""

    sqlstate = "08006"


class WatchedConnection(psycopg.Connection[Any]):
    """A connection on which no wait is longer than its user has time."""

    silence_s = 10.0
    """So long at most it says nothing to one statement, in a use that has more time."""
    ping_s = 1.5
    """So long at most it says nothing to the pool, which asks before each use whether it is alive."""

    def wait(self, gen: PQGen[T], interval: float = 0.1, timeout: float | None = None) -> T:
        """Wait for what the generator does, or close the connection and raise FellSilentError."""
        return super().wait(self._watched(gen), interval=interval, timeout=timeout)

    def _watched(self, gen: PQGen[T]) -> PQGen[T]:
        started = monotonic()
        silence_s = self.ping_s if self.autocommit else self.silence_s
        limit_s = max(_LEAST_WAIT_S, min(silence_s, left_s()))
        try:
            state = next(gen)
            while True:
                ready = yield state
                if monotonic() - started > limit_s:
                    self.close()
                    raise FellSilentError(f"the server said nothing for {limit_s:.1f} s")
                state = gen.send(ready)
        except StopIteration as end:
            result: T = end.value
            return result


def postgresql_engine(address: URL, wait_ms: int, **pool: Any) -> Engine:
    """Return an engine over the database at an address."""
    settings = _TIMEOUTS_MS | {"lock_timeout": wait_ms}
    given = address.query.get("options", "")
    options = [f"-c {setting}={value}" for setting, value in settings.items()]
    engine = create_engine(
        address.set(drivername="postgresql+psycopg").difference_update_query(["options"]),
        connect_args={
            "options": " ".join([*options, given if isinstance(given, str) else " ".join(given)]).strip(),
            "application_name": "portwright",
            **{name: value for name, value in _KEEPALIVES.items() if name not in address.query},
        },
        pool_pre_ping=True,
        hide_parameters=True,
        **pool,
    )
    event.listen(engine, "do_connect", _connect)
    return engine


def same_database(name: str) -> Callable[[psycopg.Connection[Any], object], None]:
    """Return a listener to new connections that refuses those to another database than the first one led to."""
    known: list[int] = []

    def check(connection: psycopg.Connection[Any], _record: object) -> None:
        try:
            row = connection.execute("SELECT oid FROM pg_database WHERE datname = current_database()").fetchone()
            connection.rollback()
            known[:] = known or [row[0] if row else 0]
            if row is None or row[0] != known[0]:
                raise StorageUnavailableError(name, _ANOTHER)
        except BaseException:
            connection.close()
            raise

    return check


def _connect(_dialect: object, _record: object, arguments: list[Any], options: dict[str, Any]) -> WatchedConnection:
    limit_s = max(1, min(_CONNECT_S, ceil(min(left_s(), _CONNECT_S))))
    try:
        return WatchedConnection.connect(*arguments, **({"connect_timeout": limit_s} | options))
    except psycopg.errors.ConnectionTimeout as error:
        raise FellSilentError(str(error)) from error
