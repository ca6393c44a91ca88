"""Several replicas over one PostgreSQL: at the proxy before them nothing fails but what was in a killed process.

With twenty publishes and each replica killed: `python -m tests.replicas`.
"""

import select
from contextlib import closing
from pathlib import Path

import pytest

from service.storage.engine import open_database
from service.storage.errors import StorageUnavailableError
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.publishing import catalogs, mixed
from tests.replicas import tried
from tests.storage.databases import empty_database

PATIENCE_S = 10
BUSY_S = 3.0
"""Processes that start anew beside others on two cores take their time."""


@pytest.mark.postgres
def test_replicas_are_killed_while_revisions_follow() -> None:
    """Two of three: nothing else fails, nothing is mixed, and each follows soon."""
    told = tried(publishes=4, kills=2, every_s=0.3, connections=3, answers=60, whole=False)
    assert (told.lost_elsewhere, told.statuses, mixed(told.seen)) == (0, {}, [])
    assert told.killed == 2
    assert max(one.revision for one in told.seen) == 5
    assert told.latest_s < BUSY_S


@pytest.mark.postgres
def test_a_publish_is_told_to_who_listens(tmp_path: Path) -> None:
    """Once, when it is kept, and not when it is undone; a connection that ends is told as such."""
    with empty_database("postgresql", tmp_path) as url, closing(open_database(url)) as database:
        migrate(database)
        library, revisions = Library(RevisionStore(database)), catalogs()
        listener = database.listener()
        assert listener is not None
        with closing(listener):
            assert not listener.heard()
            library.publish(next(revisions))
            assert select.select([listener], [], [], PATIENCE_S)[0] == [listener]
            assert listener.heard()
        with pytest.raises(StorageUnavailableError):
            listener.heard()


def test_a_file_tells_nothing(tmp_path: Path) -> None:
    """SQLite is looked at now and then instead."""
    with closing(open_database(f"sqlite:///{tmp_path / 'file'}")) as database:
        assert database.listener() is None
