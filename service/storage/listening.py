"""A connection of its own on which PostgreSQL tells of new revisions."""

from contextlib import suppress

import psycopg
from psycopg import sql

from service.storage.errors import StorageUnavailableError
from service.storage.notices import CHANNEL


class Listener:
    """Hears of new revisions from its making on; belongs to one thread. `name`: the database, as it is told of."""

    def __init__(self, connection: psycopg.Connection[object], name: str) -> None:
        self._connection = connection
        self._name = name
        try:
            connection.rollback()
            connection.autocommit = True
            connection.execute(sql.SQL("LISTEN {}").format(sql.Identifier(CHANNEL)))
        except psycopg.Error as error:
            connection.close()
            raise StorageUnavailableError(name, str(error)) from error

    def fileno(self) -> int:
        """The socket that can be read once there is a word."""
        return self._connection.fileno()

    def heard(self) -> bool:
        """Take what has come, without waiting; whether a revision was told of. Raises StorageUnavailableError."""
        told = False
        try:
            self._connection.pgconn.consume_input()
            while self._connection.pgconn.notifies() is not None:
                told = True
        except psycopg.Error as error:
            raise StorageUnavailableError(self._name, str(error)) from error
        return told

    def close(self) -> None:
        """Hear no more."""
        with suppress(psycopg.Error):
            self._connection.close()
