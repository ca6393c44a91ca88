"""What the stores have in common: a database, how long things are kept, and transactions of one statement."""

import re
from collections.abc import Callable
from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Delete, Select, Table, Update, func, insert, select

from service.storage.engine import Database
from service.storage.keeping import USUAL, Keeping

R = TypeVar("R")
V = TypeVar("V")

ID = re.compile(r"[A-Za-z0-9_-]{1,64}")
"""What an id may be; no other text is looked for."""


class Store:
    """A store. Each of its methods is one transaction, and may raise any StorageError of `failures`."""

    def __init__(self, database: Database, keeping: Keeping = USUAL) -> None:
        self._database = database
        self._keeping = keeping

    def _read_all(self, kind: Callable[..., R], wanted: Select[Any]) -> list[R]:
        """The rows that are wanted, each made into a kind by its columns."""
        with self._database.reading() as connection:
            return [kind(**row) for row in connection.execute(wanted).mappings()]

    def _read_one(self, kind: Callable[..., R], wanted: Select[Any]) -> R | None:
        """As `_read_all`, of the one row that is wanted; None where there is none."""
        with self._database.reading() as connection:
            row = connection.execute(wanted).mappings().one_or_none()
        return None if row is None else kind(**row)

    def _value(self, wanted: Select[V]) -> V | None:
        """The one column of the one row that is wanted, None where there is none."""
        with self._database.reading() as connection:
            return connection.execute(wanted).scalar_one_or_none()

    def _count(self, table: Table, *conditions: ColumnElement[bool]) -> int:
        with self._database.reading() as connection:
            return connection.execute(select(func.count()).select_from(table).where(*conditions)).scalar_one()

    def _add(self, table: Table, row: object) -> None:
        """Add a row with the fields of an object as its columns."""
        with self._database.writing() as connection:
            connection.execute(insert(table), vars(row))

    def _changes_one(self, statement: Update | Delete) -> bool:
        """Carry out a statement; whether there was a row that it changed."""
        with self._database.writing() as connection:
            return connection.execute(statement).rowcount == 1
