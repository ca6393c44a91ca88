"""Writers that wait: for others on either database, and never in a reader's way."""

import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from datetime import datetime
from time import monotonic

import psycopg
import pytest
from sqlalchemy import make_url, text

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.errors import StorageBusyError
from service.storage.revisions import RevisionStore

WRITERS = 30
"""More than all connections of a database together."""
WAIT_MS = 1_500


@pytest.fixture(name="waiting")
def _waiting(database: Database, empty_url: str, small: Catalog, noon: datetime) -> Iterator[Database]:
    """The database with a revision, opened with less patience."""
    RevisionStore(database).add(small, created_at=noon)
    with closing(open_database(empty_url, wait_ms=WAIT_MS)) as opened:
        yield opened


@contextmanager
def _locked(url: str) -> Iterator[None]:
    """Hold what every writer needs, from outside."""
    if url.startswith("sqlite"):
        with closing(sqlite3.connect(url.removeprefix("sqlite:///"), isolation_level=None)) as shell:
            shell.execute("BEGIN IMMEDIATE")
            yield
            shell.execute("ROLLBACK")
    else:
        with psycopg.connect(make_url(url).render_as_string(hide_password=False)) as shell:
            shell.execute("LOCK TABLE revision IN EXCLUSIVE MODE")
            yield
            shell.rollback()


def _write(database: Database) -> float:
    """Write, and return how long it took to learn that others hold the lock; 0 where it was done."""
    started = monotonic()
    try:
        with database.writing() as connection:
            connection.execute(text("UPDATE revision SET maker_name = maker_name"))
    except StorageBusyError:
        return monotonic() - started
    return 0.0


def test_writers_that_wait_keep_no_reader_waiting(waiting: Database, empty_url: str) -> None:
    """Every read is done while all writers still wait; each of those gives up after its time."""
    store = RevisionStore(waiting)
    with ThreadPoolExecutor(WRITERS) as threads:
        with _locked(empty_url):
            writes = [threads.submit(_write, waiting) for _ in range(WRITERS)]
            for _ in range(50):
                assert store.latest() == 1
            assert not any(write.done() for write in writes)
            waits_s = [write.result() for write in writes]
        assert min(waits_s) > 0.9 * WAIT_MS / 1000
        assert max(waits_s) < 4 * WAIT_MS / 1000
        assert max(threads.map(_write, [waiting] * 8)) == 0.0


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_readers_see_one_state_while_others_write(waiting: Database) -> None:
    """A long read ends with what it began with, and holds up no write."""
    with waiting.reading() as connection:
        count = "SELECT count(*) FROM revision WHERE maker_name = 'new'"
        assert connection.execute(text(count)).scalar_one() == 0
        with waiting.writing() as writer:
            writer.execute(text("UPDATE revision SET maker_name = 'new'"))
        assert connection.execute(text(count)).scalar_one() == 0
    with waiting.reading() as connection:
        assert connection.execute(text(count)).scalar_one() == 1
