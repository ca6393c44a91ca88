"""Several processes on one database, and processes that die."""

import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from datetime import datetime

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.migrate import NEWEST, database_version
from service.storage.revisions import RevisionStore
from tests.storage.worker import ADDS

PATIENCE_S = 60


@contextmanager
def _worker(task: str, url: str) -> Iterator[subprocess.Popen[str]]:
    """Give a worker that is ready and waits for the word to start."""
    command = [sys.executable, "-W", "error", "-m", "tests.storage.worker", task, url]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            assert process.stdout.readline() == "ready\n"
            yield process
        finally:
            process.kill()


def _start(process: subprocess.Popen[str]) -> None:
    assert process.stdin is not None
    process.stdin.write("go\n")
    process.stdin.flush()


def _together(tasks: list[str], url: str) -> list[str]:
    """Let several workers start at the same moment; return all lines that they print."""
    with ExitStack() as stack:
        workers = [stack.enter_context(_worker(task, url)) for task in tasks]
        for worker in workers:
            _start(worker)
        outputs = [worker.communicate(timeout=PATIENCE_S)[0] for worker in workers]
        assert [worker.returncode for worker in workers] == [0] * len(workers)
    return [line for output in outputs for line in output.split("\n") if line]


def test_workers_that_start_together_make_the_tables_once(empty_url: str) -> None:
    """Each of three finds the tables ready when it is through."""
    assert _together(["migrate"] * 3, empty_url) == ["migrated"] * 3
    with closing(open_database(empty_url)) as database:
        assert database_version(database) == NEWEST


def test_adds_at_the_same_time_get_numbers_of_their_own(empty_url: str, store: RevisionStore) -> None:
    """Two processes, five adds each: ten numbers without a gap."""
    numbers = [int(line) for line in _together(["add", "add"], empty_url)]
    assert sorted(numbers) == list(range(1, 2 * ADDS + 1))
    assert [summary.number for summary in store.summaries()] == sorted(numbers, reverse=True)


def test_a_killed_add_leaves_no_trace(
    empty_url: str, store: RevisionStore, database: Database, small: Catalog, noon: datetime
) -> None:
    """Kill -9 in the middle of an add: the old revision stands, the database is sound, the next add works."""
    store.add(small, created_at=noon)
    with _worker("stall", empty_url) as process:
        _start(process)
        assert process.stdout is not None
        assert process.stdout.readline() == "half way\n"
        assert store.latest() == 1
        process.kill()
        assert process.wait(PATIENCE_S) == -signal.SIGKILL
    assert store.latest() == 1
    assert store.load(1) == small
    if database.is_sqlite:
        with database.reading() as connection:
            assert connection.exec_driver_sql("PRAGMA integrity_check").all() == [("ok",)]
            assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []
    assert store.add(small, created_at=noon) == 2
    assert store.load(2) == small
