"""Databases of every earlier version, made by its own code: brought to today's tables, or refused with what to do.

`frozen/VERSION_COMMIT.KIND.sql` is what the code of a commit makes, with a revision and what else it could keep. A
commit stands for all whose tables are the same; on PostgreSQL those are left out that the migrations still make.
"""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import inspect, make_url, text

from service.storage.engine import Database, open_database
from service.storage.errors import DamagedRevisionError, DatabaseVersionError
from service.storage.migrate import NEWEST, database_version, migrate
from service.storage.revisions import RevisionStore
from tests.storage.databases import described, empty_database

FROZEN = sorted((Path(__file__).parent / "frozen").glob("*.sql"))
LACKING = {"d991baf": "column joint.has_consumables is missing", "b33b2ed": "column item_screw.material is missing"}
"""Versions between releases whose tables lack what cannot be made up."""
_WITH_A_COLUMN_A_FIELD = FROZEN[0].with_name("0011_0174a5f.sqlite.sql")
KEPT = (
    "revision",
    "order_check",
    "inquiry",
    "short_link",
    "order_batch",
    "batch_order",
    "order_reading",
    "draft",
    "draft_object",
    "catalog_trail",
    "partner_case",
    "asked_question",
    "impact_sweep",
    "impact_part",
    "access_key",
    "sign_in",
)


def _kind(file: Path) -> str:
    return file.suffixes[0].removeprefix(".")


def _marked(file: Path) -> object:
    return pytest.param(file, id=file.stem, marks=[pytest.mark.postgres] if _kind(file) == "postgresql" else [])


@pytest.fixture(name="thawed", params=map(_marked, FROZEN))
def _thawed(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Path, Database]]:
    """A frozen database, opened."""
    file: Path = request.param
    script = file.read_text()
    with empty_database(_kind(file), tmp_path) as url:
        if _kind(file) == "sqlite":
            with closing(sqlite3.connect(url.removeprefix("sqlite:///"))) as connection:
                connection.executescript(script)
        else:
            with psycopg.connect(make_url(url).render_as_string(hide_password=False)) as connection:
                connection.execute(script.encode())
        with closing(open_database(url)) as database:
            yield file, database


@pytest.fixture(scope="module", name="fresh")
def _fresh(tmp_path_factory: pytest.TempPathFactory) -> dict[str, object]:
    """The tables of a new database, by the kind of database that is needed."""
    made: dict[str, object] = {}
    for kind in sorted({_kind(file) for file in FROZEN}):
        try:
            with empty_database(kind, tmp_path_factory.mktemp("fresh")) as url, closing(open_database(url)) as database:
                migrate(database)
                made[kind] = _tables(database)
        except pytest.skip.Exception:
            continue
    return made


def _tables(database: Database) -> dict[str, object]:
    """All that the database tells; PostgreSQL words the casts of a check anew when it reads a dump."""
    with database.reading() as connection:
        told = described(connection)
    return {name: re.sub(r"::[a-z ]+(\[\])?|[()]", "", repr(table)) for name, table in told.items()}


def _counts(database: Database) -> dict[str, int]:
    with database.reading() as connection:
        there = set(inspect(connection).get_table_names()) & set(KEPT)
        return {name: connection.execute(text(f"SELECT count(*) FROM {name}")).scalar_one() for name in there}


def test_a_frozen_database_becomes_today_s_or_is_refused(
    thawed: tuple[Path, Database], fresh: dict[str, object]
) -> None:
    """With all that is in it; one that is refused keeps its stamp and its tables."""
    file, database = thawed
    version, _, commit = file.stem.partition(".")[0].partition("_")
    before = _counts(database)
    assert set(before.values()) == {1}
    if commit in LACKING:
        tables = _tables(database)
        with pytest.raises(DatabaseVersionError, match=f"{LACKING[commit]}.*; .*import the catalog again"):
            migrate(database)
        assert database_version(database) == version
        assert _tables(database) == tables
        return
    migrate(database)
    assert database_version(database) == NEWEST
    assert _tables(database) == fresh[_kind(file)]
    assert _counts(database) == {name: before.get(name, 0) for name in KEPT}
    assert RevisionStore(database).load(1).items


def test_revisions_share_what_is_the_same_in_them(tmp_path: Path) -> None:
    """Of a database with a column a field: twice the same, the same in another order, and one changed by hand."""
    file = tmp_path / "old.db"
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript(_WITH_A_COLUMN_A_FIELD.read_text())
        for (table,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall():
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
            of = "number" if table == "revision" else "revision"
            if of in columns and table not in KEPT[1:]:
                copied = ", ".join("n" if name == of else name for name in columns)
                numbers = "(SELECT 2 AS n UNION SELECT 3 UNION SELECT 4)"
                connection.execute(f"INSERT INTO {table} SELECT {copied} FROM {table}, {numbers} WHERE {of} = 1")
        connection.execute("UPDATE item SET price = 5 WHERE revision = 3 AND position = 0")
        connection.execute("UPDATE item SET name = '' WHERE revision = 4 AND position = 0")
        connection.commit()
    with closing(open_database(f"sqlite:///{file}")) as database:
        migrate(database)
        store = RevisionStore(database)
        first = store.load(1)
        assert first == store.load(2)
        for number in (3, 4):
            with pytest.raises(DamagedRevisionError, match="its digest is"):
                store.load(number)
        with database.reading() as connection:
            begun = dict(connection.execute(text("SELECT since, count(*) FROM catalog_object GROUP BY since")).all())
        assert begun == {1: sum(first.counts().values()) + 2, 3: 1}
        assert store.add(first, created_at=datetime.now(UTC)) == 5
        assert store.load(5) == first


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        ("DROP TABLE batch_order", "the table batch_order is missing"),
        (
            "ALTER TABLE short_link RENAME COLUMN key TO keys",
            "the column short_link.key is missing, .*keys is not known",
        ),
        ("DROP INDEX ix_order_check_created_at", "the index ix_order_check_created_at is missing"),
    ],
)
def test_a_stamp_proves_nothing(database: Database, damage: str, told: str) -> None:
    """At every start the tables themselves are looked at."""
    with database.writing() as connection:
        connection.execute(text(damage))
    with pytest.raises(DatabaseVersionError, match=f"{told}; .*restore a copy"):
        migrate(database)


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_the_file_of_another_program_is_left_alone(empty_url: str) -> None:
    """No table is made in it, whatever the names of its own are."""
    file = empty_url.removeprefix("sqlite:///")
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("CREATE TABLE recipe (name TEXT)")
    with closing(open_database(empty_url)) as database:
        with pytest.raises(DatabaseVersionError, match="holds other tables already: recipe"):
            migrate(database)
        with database.reading() as connection:
            assert inspect(connection).get_table_names() == ["recipe"]
