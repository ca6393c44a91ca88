"""Opening an SQLite file: connections that read and those that write, all durable, checked and bounded in time."""

import sqlite3
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event

from service.storage.sqlite_file import SqliteFile

_SETTINGS = (
    "journal_mode=WAL",
    "foreign_keys=ON",
    "synchronous=FULL",
    "secure_delete=ON",  # what is deleted is overwritten; some builds do it by default, others do not
    "temp_store=MEMORY",  # a full folder for temporary files stops nobody, and nothing personal gets there
)


def sqlite_engine(address: URL, file: SqliteFile, wait_ms: int, *, begin: str, **pool: Any) -> Engine:
    """Return an engine over the file whose transactions begin with a statement."""
    engine = create_engine(
        address, connect_args={"isolation_level": None, "timeout": wait_ms / 1000}, hide_parameters=True, **pool
    )

    def connect(_dialect: object, _record: object, arguments: list[Any], options: dict[str, Any]) -> sqlite3.Connection:
        # "rw": a file that is missing is not made anew
        target = f"{file.path.absolute().as_uri()}?mode=rw"
        connection: sqlite3.Connection = sqlite3.connect(target, *arguments[1:], **(options | {"uri": True}))
        return connection

    def start(connection: Connection) -> None:
        """Begin by hand. The driver's own way would begin late and lose updates that were read before."""
        connection.exec_driver_sql(begin)

    event.listen(engine, "do_connect", connect)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", start)
    return engine


def _prepare(connection: sqlite3.Connection, _record: object) -> None:
    try:
        for setting in _SETTINGS:
            connection.execute(f"PRAGMA {setting}").close()
    except sqlite3.Error:
        connection.close()
        raise
