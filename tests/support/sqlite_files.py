"""SQLite files with all tables, made once a process and copied: making the tables takes longer than most tests."""

import shutil
import tempfile
from contextlib import closing
from functools import cache
from pathlib import Path

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.support.catalogs import small_catalog


def with_tables(file: Path) -> None:
    """Make a database file without a revision; one that is there stays as it is."""
    _copied(_made(with_catalog=False), file)


def with_small_catalog(file: Path) -> None:
    """Make a database file with the small catalog as revision 1; one that is there stays as it is."""
    _copied(_made(with_catalog=True), file)


def _copied(content: bytes, file: Path) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    if not file.exists():
        file.write_bytes(content)


@cache
def _made(*, with_catalog: bool) -> bytes:
    folder = Path(tempfile.mkdtemp())
    try:
        with closing(open_database(f"sqlite:///{folder / 'made'}")) as database:
            migrate(database)
            if with_catalog:
                Library(RevisionStore(database)).publish(Catalog.model_validate(small_catalog()))
        return (folder / "made").read_bytes()
    finally:
        shutil.rmtree(folder)
