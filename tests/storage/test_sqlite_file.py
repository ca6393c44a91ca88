"""The file of an SQLite database: for its owner alone, recognised at every use, never made anew behind one's back."""

import os
import shutil
import sqlite3
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from sqlalchemy import text

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.errors import (
    DamagedDatabaseError,
    StorageUnavailableError,
)
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.orders import ORDER, three_plugs
from tests.web.calls import check, get, problem
from tests.web.conftest import checks_of, inquiries_of, library_in

PRIVATE = 0o600
TOLD = r"was re(placed|moved) since the start; restart the service"
READY = "/v1/health/ready"


@pytest.fixture(name="file")
def _file(tmp_path: Path) -> Path:
    return tmp_path / "live" / "catalog.sqlite3"


@pytest.fixture(name="opened")
def _opened(file: Path, small: Catalog, noon: datetime) -> Iterator[Database]:
    """A database that is in use, with a revision."""
    with closing(open_database(f"sqlite:///{file}")) as database:
        migrate(database)
        RevisionStore(database).add(small, created_at=noon)
        yield database


def _beside(file: Path, end: str) -> Path:
    return file.with_name(file.name + end)


def _read(database: Database) -> int | None:
    return RevisionStore(database).latest()


def _write(database: Database) -> None:
    with database.writing() as connection:
        connection.execute(text("UPDATE revision SET maker_name = maker_name"))


def _another(folder: Path, **more: str) -> Path:
    """Make another whole database, closed."""
    folder.mkdir(parents=True)
    with library_in(folder / "other.db", small_catalog() | more):
        return folder / "other.db"


def _removed(file: Path) -> None:
    file.unlink()


def _all_removed(file: Path) -> None:
    for end in ("", "-wal", "-shm"):
        _beside(file, end).unlink()


def _moved_away(file: Path) -> None:
    file.rename(_beside(file, ".old"))


def _replaced(file: Path) -> None:
    _another(file.parent / "more").replace(file)


def _overwritten(file: Path) -> None:
    with sqlite3.connect(file.parent / "foreign.db") as connection:
        connection.execute("CREATE TABLE anything (x)")
        connection.executemany("INSERT INTO anything VALUES (?)", [("x" * 900,)] * 900)
    connection.close()
    shutil.copyfile(file.parent / "foreign.db", file)


def _emptied(file: Path) -> None:
    os.truncate(file, 0)


def _filled_with_text(file: Path) -> None:
    file.write_bytes(b"no database " * 9_000)


def _log_removed(file: Path) -> None:
    _beside(file, "-wal").unlink()


def _index_replaced(file: Path) -> None:
    shutil.copyfile(_beside(file, "-shm"), _beside(file, ".copy"))
    _beside(file, ".copy").replace(_beside(file, "-shm"))


@pytest.mark.parametrize(
    "happens",
    [
        *(_removed, _all_removed, _moved_away, _replaced, _overwritten, _emptied, _filled_with_text),
        *(_log_removed, _index_replaced),
    ],
)
def test_another_file_in_its_place_is_noticed(opened: Database, file: Path, happens: Callable[[Path], None]) -> None:
    """By readers and writers, on connections that are open and on new ones, for good; nothing is made anew."""
    happens(file)
    was_there = file.exists()
    for use in (_read, _write) * 2:
        with pytest.raises(StorageUnavailableError, match=TOLD):
            use(opened)
    opened._readers.dispose()
    opened._writers.dispose()
    for use in (_read, _write):
        with pytest.raises(StorageUnavailableError, match="since the start"):
            use(opened)
    assert file.exists() == was_there


def test_a_file_that_comes_back_is_known_again(opened: Database, file: Path) -> None:
    """It was moved away and back: it is the same file, with its log."""
    _moved_away(file)
    with pytest.raises(StorageUnavailableError, match="was removed since the start"):
        _read(opened)
    _beside(file, ".old").rename(file)
    assert _read(opened) == 1
    _write(opened)


def test_a_write_into_a_file_that_goes_meanwhile_is_not_told_as_kept(opened: Database, file: Path) -> None:
    """The commit went somewhere, but not where it will be found."""

    def use() -> None:
        with opened.writing() as connection:
            connection.execute(text("UPDATE revision SET maker_name = 'gone'"))
            _removed(file)

    with pytest.raises(StorageUnavailableError, match="was removed since the start"):
        use()


def test_many_uses_are_no_cause_for_alarm(opened: Database, file: Path, small: Catalog, noon: datetime) -> None:
    """Writes, an empty log, another process that comes and goes, all connections closed: the file is the same."""
    for number in range(2, 6):
        assert RevisionStore(opened).add(small, created_at=noon) == number
        opened.empty_log(wait_s=1)
        with closing(open_database(f"sqlite:///{file}")) as other:
            migrate(other)
            _write(other)
        opened._readers.dispose()
        opened._writers.dispose()
        assert _read(opened) == number


def test_a_replaced_file_is_taken_up_by_a_restart(opened: Database, file: Path) -> None:
    """What stands there then is used."""
    _replaced(file)
    opened.close()
    for end in ("-wal", "-shm"):
        _beside(file, end).unlink(missing_ok=True)
    with closing(open_database(f"sqlite:///{file}")) as database:
        migrate(database)
        assert _read(database) == 1


def test_the_service_says_that_its_file_is_gone(tmp_path: Path) -> None:
    """Questions, orders and `ready` are refused with when to try again; nothing is told as kept."""
    file = tmp_path / "catalog.sqlite3"
    with library_in(file, small_catalog()) as library:
        app = create_app(library, checks_of(library, three_plugs), kept_inquiries=inquiries_of(library))
        assert get(app, READY).status_code == 200
        assert check(app, ORDER).status_code == 201
        file.unlink()
        time.sleep(0.4)  # what a probe learned a moment ago is told again for so long
        for answer in (get(app, READY), get(app, "/v1/fuels"), check(app, ORDER)):
            problem(answer, 503, "storage-unavailable")
            assert answer.headers["Retry-After"] == "5"
        assert not file.exists()


@pytest.mark.parametrize("umask", [0o022, 0o000])
def test_others_cannot_read_the_files(tmp_path: Path, umask: int, small: Catalog, noon: datetime) -> None:
    """Whatever the umask is: the database, its log, its index, and the folders that are made for it."""
    before = os.umask(umask)
    try:
        folder = tmp_path / "data" / "portwright"
        with closing(open_database(f"sqlite:///{folder / 'catalog.sqlite3'}")) as database:
            migrate(database)
            RevisionStore(database).add(small, created_at=noon)
            files = sorted(folder.iterdir())
            assert [file.name for file in files] == [f"catalog.sqlite3{end}" for end in ("", "-shm", "-wal")]
            assert {stat.S_IMODE(file.stat().st_mode) for file in files} == {PRIVATE}
            assert {stat.S_IMODE(made.stat().st_mode) for made in (folder, folder.parent)} == {0o700}
    finally:
        os.umask(before)


def test_files_of_earlier_versions_are_closed_to_others(opened: Database, file: Path) -> None:
    """At the next start, with the log that somebody has open."""
    for end in ("", "-wal", "-shm"):
        _beside(file, end).chmod(0o664)
    with closing(open_database(f"sqlite:///{file}")) as database:
        migrate(database)
        assert {stat.S_IMODE(one.stat().st_mode) for one in file.parent.iterdir()} == {PRIVATE}


@pytest.mark.parametrize("length", [1, 50, 512, 4096, 9_000])
def test_a_file_that_is_cut_off_is_refused_at_the_start(opened: Database, file: Path, length: int) -> None:
    """Or, where its beginning is whole, at the first look at what is missing; it is left as it was."""
    opened.close()
    os.truncate(file, length)
    content = file.read_bytes()
    with closing(open_database(f"sqlite:///{file}")) as database, pytest.raises(DamagedDatabaseError):
        migrate(database)
    assert file.read_bytes() == content


def test_a_full_disk_is_told_and_got_over(tmp_path: Path) -> None:
    """An order is refused with when to try again; questions are answered; with room again orders are taken again."""
    with library_in(tmp_path / "catalog.sqlite3", small_catalog()) as library:
        app = create_app(library, checks_of(library, three_plugs))
        database: Database = library._store._database
        assert check(app, ORDER).status_code == 201

        def room(pages: int) -> None:
            with database.writing() as connection:
                used = connection.exec_driver_sql("PRAGMA page_count").scalar_one()
                connection.exec_driver_sql(f"PRAGMA max_page_count={used + pages}")

        room(0)
        full = next(answer for answer in (check(app, ORDER) for _ in range(50)) if answer.status_code != 201)
        problem(full, 503, "storage-unavailable")
        assert full.headers["Retry-After"] == "5"
        assert get(app, READY).status_code == get(app, "/v1/fuels").status_code == 200
        room(1_000)
        assert check(app, ORDER).status_code == 201
