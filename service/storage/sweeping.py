"""Deleting what has had its time: a little with every write, and more at the start and now and then."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime

from sqlalchemy import Column, Connection, Delete, delete, select

from service.storage.drafts import discard_untouched
from service.storage.engine import Database
from service.storage.keeping import ASKED_DAYS, NEWS_DAYS, SWEEP_DAYS, Keeping, since
from service.storage.tables import METADATA

_WITH_A_WRITE = 10
"""More than a write adds, so that nothing piles up; few enough to cost nothing."""
_AT_THE_START = 1_000
_BATCHES = 2
"""A batch has thousands of orders, which go with it."""
_PERSONAL = ("inquiry", "order_reading")
"""What may hold names and telephone numbers."""


@contextmanager
def writing_and_sweeping(database: Database, keeping: Keeping) -> Iterator[Connection]:
    """As `writing`, after which a little of what has had its time is deleted, the oldest first."""
    with database.writing() as connection:
        yield connection
        swept = _swept(connection, keeping, _WITH_A_WRITE)
    if _was_personal(swept):
        database.erase_remains()


def sweep_much(database: Database, keeping: Keeping) -> bool:
    """Delete what had its time while nothing was written; whether there was any, so that there may be more.

    Raises StorageError.
    """
    with database.writing() as connection:
        swept = _swept(connection, keeping, _AT_THE_START)
    if _was_personal(swept):
        database.erase_remains()
    return any(swept.values())


def _was_personal(swept: dict[str, int]) -> bool:
    return any(swept[kind] for kind in _PERSONAL)


def _swept(connection: Connection, keeping: Keeping, most: int) -> dict[str, int]:
    """Delete at most so many of a kind; how many of each there were."""
    swept = {
        moment.table.name: connection.execute(_oldest(moment, days, min(most, bound))).rowcount
        for moment, days, bound in _kinds(keeping)
    }
    return swept | {"draft": discard_untouched(connection, keeping.drafts_days, most)}


def _kinds(keeping: Keeping) -> Iterator[tuple[Column[datetime], int, int]]:
    """Yield (the moment from which it is kept, days, how many are deleted at once at most)."""
    tables = METADATA.tables
    yield tables["order_check"].c.created_at, keeping.order_checks_days, _AT_THE_START
    yield tables["inquiry"].c.created_at, keeping.inquiries_days, _AT_THE_START
    yield tables["short_link"].c.created_at, keeping.short_links_days, _AT_THE_START
    yield tables["order_reading"].c.created_at, keeping.order_readings_days, _AT_THE_START
    yield tables["order_batch"].c.created_at, keeping.order_batches_days, _BATCHES
    yield tables["asked_question"].c.asked_at, ASKED_DAYS, _AT_THE_START
    yield tables["webhook_message"].c.created_at, NEWS_DAYS, _AT_THE_START
    yield tables["impact_sweep"].c.created_at, SWEEP_DAYS, _BATCHES


def _oldest(moment: Column[datetime], days: int, most: int) -> Delete:
    table = moment.table
    [key] = table.primary_key.columns
    over = select(key).where(moment < since(days)).order_by(moment).limit(most)
    over = over.with_for_update(skip_locked=True)  # on PostgreSQL: what another writer deletes is waited for by nobody
    # Worked out once: a subquery that locks may be asked anew for each row, and then passes its limit.
    once = over.cte("over", nesting=True)
    return delete(table).where(key.in_(select(*once.columns)))
