"""Backups: all that a database keeps, as one SQLite file with the same tables; a database of either kind is made of it.

A backup is read in one transaction, so it is one state of the whole, whatever is written meanwhile.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Table, func, insert, select, text

from service.storage.engine import Database, open_database
from service.storage.errors import DamagedDatabaseError, DatabaseVersionError, NotEmptyError
from service.storage.migrate import migrate
from service.storage.patience import TABLES_S
from service.storage.tables import METADATA

_ROWS_AT_ONCE = 1_000
_ONLY_MINE = 0o600

Counts = dict[str, int]
"""How many rows of each table there are."""


def back_up(database: Database, file: Path) -> Counts:
    """Write all that is kept to a new file, which is there whole or not at all.

    Raises FileExistsError, OSError, and any StorageError of `failures`.
    """
    if file.exists():
        raise FileExistsError(17, "there is a file already", str(file))
    with _folder_beside(file) as folder:
        made = folder / file.name
        with _opened(made) as target:
            migrate(target)
            with database.reading(TABLES_S) as source, target.writing(TABLES_S) as rows:
                counts = _copy(source, rows)
        made.chmod(_ONLY_MINE)
        with made.open("rb") as written:
            os.fsync(written.fileno())
        os.link(made, file)  # unlike a renaming, it never takes the place of a file that came meanwhile
    return counts


def restore(file: Path, database: Database) -> Counts:
    """Fill a database with what a backup has; one of an earlier version is brought to today's tables on the way.

    Raises NotEmptyError where something is kept in the database already, OSError, and any StorageError of `failures`;
    then it is as it was.
    """
    migrate(database)
    with tempfile.TemporaryDirectory() as scratch:
        copy = Path(scratch) / "backup"
        shutil.copyfile(file, copy)
        with _opened(copy) as source:
            try:
                migrate(source)
            except (DamagedDatabaseError, DatabaseVersionError) as error:
                raise type(error)(f"sqlite:///{file}", error.reason) from error  # the copy is nobody's to look for
            with source.reading(TABLES_S) as rows, database.writing(TABLES_S) as target:
                kept = [table.name for table in METADATA.sorted_tables if _count(target, table)]
                if kept:
                    raise NotEmptyError(database.name, f"there are rows in {', '.join(kept)} already")
                counts = _copy(rows, target)
                _go_on_counting(target)
    return counts


def counts_of(connection: Connection) -> Counts:
    """How many rows of each table there are."""
    return {table.name: _count(connection, table) for table in METADATA.sorted_tables}


def _copy(source: Connection, target: Connection) -> Counts:
    return {table.name: _copy_table(source, target, table) for table in METADATA.sorted_tables}


def _copy_table(source: Connection, target: Connection, table: Table) -> int:
    count = 0
    found = source.execution_options(yield_per=_ROWS_AT_ONCE).execute(select(table).order_by(*table.primary_key))
    for rows in found.mappings().partitions():
        target.execute(insert(table), [dict(row) for row in rows])
        count += len(rows)
    return count


def _count(connection: Connection, table: Table) -> int:
    return connection.execute(select(func.count()).select_from(table)).scalar_one()


def _go_on_counting(connection: Connection) -> None:
    """Have PostgreSQL number new rows after those that were brought; SQLite does so by itself."""
    if connection.dialect.name != "postgresql":
        return
    for table in METADATA.sorted_tables:
        [*keys] = table.primary_key.columns
        column = table.autoincrement_column
        if column is None or len(keys) != 1:
            continue
        last = connection.execute(select(func.max(column))).scalar_one_or_none()
        sequence = func.pg_get_serial_sequence(text(f"'{table.name}'"), text(f"'{column.name}'"))
        if last is not None and connection.execute(select(sequence)).scalar_one_or_none() is not None:
            connection.execute(select(func.setval(sequence, last)))


@contextmanager
def _opened(file: Path) -> Iterator[Database]:
    database = open_database(f"sqlite:///{file.resolve()}")
    try:
        yield database
        database.empty_log(wait_s=1)
    finally:
        database.close()


@contextmanager
def _folder_beside(file: Path) -> Iterator[Path]:
    """A folder on the same disk, gone afterwards with what is left in it."""
    with tempfile.TemporaryDirectory(prefix=".backup-", dir=file.resolve().parent) as folder:
        yield Path(folder)
