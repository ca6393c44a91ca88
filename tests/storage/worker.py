"""A process of its own that works on a database: `python -m tests.storage.worker TASK URL`."""

import sys
import time
from contextlib import closing
from datetime import UTC, datetime

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.storage.rich_catalog import rich_catalog

ADDS = 5


def _say(*words: object) -> None:
    print(*words, flush=True)


def _stall(done: int, total: int) -> None:
    """Tell that the add is under way, then never come back."""
    if done > total / 2:
        _say("half way")
        time.sleep(600)


def main(task: str, url: str) -> None:
    """Do the task; each line that is printed is a result. A line on standard input starts the work."""
    catalog = Catalog.model_validate(rich_catalog())
    _say("ready")
    sys.stdin.readline()
    with closing(open_database(url)) as database:
        store = RevisionStore(database)
        if task == "migrate":
            migrate(database)
            _say("migrated")
        elif task == "add":
            for _ in range(ADDS):
                _say(store.add(catalog, created_at=datetime.now(UTC)))
        elif task == "stall":
            store.add(catalog, created_at=datetime.now(UTC), progress=_stall)


if __name__ == "__main__":
    main(*sys.argv[1:])
