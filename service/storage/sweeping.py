"""Deleting what has had its time: a little with every write, and more at the start and now and then."""

from collections.abc import Iterator

from sqlalchemy import Connection, Delete, Table, delete, select

from service.storage.engine import Database
from service.storage.keeping import Keeping, since
from service.storage.tables import METADATA

_WITH_A_WRITE = 10
"""More than a write adds, so that nothing piles up; few enough to cost nothing."""
_AT_THE_START = 1_000
_BATCHES = 2
"""A batch has thousands of orders, which go with it."""
_PERSONAL = "inquiry"


def sweep(connection: Connection, keeping: Keeping, most: int = _WITH_A_WRITE) -> bool:
    """Delete what has had its time, the oldest first, at most so many of a kind; whether that was personal."""
    return _swept(connection, keeping, most)[_PERSONAL] > 0


def sweep_much(database: Database, keeping: Keeping) -> bool:
    """Delete what had its time while nothing was written; whether there was any, so that there may be more.

    Raises StorageError.
    """
    with database.writing() as connection:
        swept = _swept(connection, keeping, _AT_THE_START)
    if swept[_PERSONAL]:
        database.erase_remains()
    return any(swept.values())


def _swept(connection: Connection, keeping: Keeping, most: int) -> dict[str, int]:
    """Delete at most so many of a kind; how many of each there were."""
    return {
        table.name: connection.execute(_oldest(table, days, min(most, bound))).rowcount
        for table, days, bound in _kinds(keeping)
    }


def _kinds(keeping: Keeping) -> Iterator[tuple[Table, int, int]]:
    """Yield (table, days, how many are deleted at once at most)."""
    yield METADATA.tables["order_check"], keeping.order_checks_days, _AT_THE_START
    yield METADATA.tables[_PERSONAL], keeping.inquiries_days, _AT_THE_START
    yield METADATA.tables["short_link"], keeping.short_links_days, _AT_THE_START
    yield METADATA.tables["order_batch"], keeping.order_batches_days, _BATCHES


def _oldest(table: Table, days: int, most: int) -> Delete:
    [key] = table.primary_key.columns
    over = (
        select(key)
        .where(table.c.created_at < since(days))
        .order_by(table.c.created_at)
        .limit(most)
        .with_for_update(skip_locked=True)  # on PostgreSQL: what another writer deletes is waited for by nobody
    )
    return delete(table).where(key.in_(over))
