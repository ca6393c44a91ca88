"""A store in an SQLite file that counts what is asked of it."""

from collections import Counter
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from service.documents.packed import PackedCatalog
from service.storage.engine import Database, open_database
from service.storage.revisions import RevisionStore
from tests.support.sqlite_files import with_tables


class CountingStore(RevisionStore):
    """The real store; `loads` has how often each revision was read."""

    def __init__(self, database: Database) -> None:
        super().__init__(database)
        self.loads: Counter[int] = Counter()

    def load(self, number: int) -> PackedCatalog:
        self.loads[number] += 1
        return super().load(number)


@contextmanager
def sqlite_store(folder: Path) -> Iterator[CountingStore]:
    """A store without a revision, in a new SQLite file of the folder."""
    with_tables(folder / "catalog.db")
    with closing(open_database(f"sqlite:///{folder / 'catalog.db'}")) as database:
        yield CountingStore(database)
