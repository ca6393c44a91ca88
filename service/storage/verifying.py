"""Looking through all that is kept: whether it is what was written, and leads where it should."""

import json
from collections.abc import Iterator

from sqlalchemy import Connection, Table, select

from service.documents.packed import PackedCatalog
from service.storage.backup import Counts, counts_of
from service.storage.engine import Database
from service.storage.objects import read_objects
from service.storage.patience import TABLES_S
from service.storage.tables import METADATA

_ROWS_AT_ONCE = 500
_DOCUMENTS = (
    ("order_check", ("request", "result")),
    ("inquiry", ("document",)),
    ("order_reading", ("document",)),
    ("batch_order", ("sheet_order", "outcome")),
    ("draft_object", ("document",)),
    ("partner_case", ("document", "body")),
    ("asked_question", ("request",)),
)
"""The columns that hold JSON."""


def verify(database: Database) -> tuple[Counts, list[str]]:
    """How many rows of each table there are, and what is wrong, a sentence each.

    Every revision has its content hash; the trail is whole; what is JSON can be read; what refers to something finds
    it; the database finds nothing wrong with its own file. Raises any StorageError of `failures`.
    """
    with database.reading(TABLES_S) as connection:
        return counts_of(connection), list(_faults(connection))


def _faults(connection: Connection) -> Iterator[str]:
    yield from _own_faults(connection)
    yield from _references(connection)
    yield from _revisions(connection)
    yield from _trail(connection)
    for name, columns in _DOCUMENTS:
        yield from _documents(connection, METADATA.tables[name], columns)


def _own_faults(connection: Connection) -> Iterator[str]:
    if connection.dialect.name == "sqlite":
        for (told,) in connection.exec_driver_sql("PRAGMA integrity_check"):
            if told != "ok":
                yield f"the file: {told}"


def _references(connection: Connection) -> Iterator[str]:
    for table in METADATA.sorted_tables:
        for constraint in table.foreign_key_constraints:
            [own] = constraint.columns
            [key] = (element.column for element in constraint.elements)
            there = select(key).where(key == own).correlate(table).exists()
            lost = connection.execute(select(own).where(own.is_not(None), ~there).limit(1)).first()
            if lost is not None:
                yield f"{table.name}.{own.name} names {lost[0]}, and there is no such {key.table.name}"


def _revisions(connection: Connection) -> Iterator[str]:
    table = METADATA.tables["revision"]
    before = 0
    for number, digest in connection.execute(select(table.c.number, table.c.digest).order_by(table.c.number)).all():
        if number != before + 1:
            yield f"revision {number} follows {before}"
        before = number
        told = PackedCatalog(read_objects(connection, number)).digest()
        if told != digest:
            yield f"revision {number} has the content hash {told}, not {digest}"


def _trail(connection: Connection) -> Iterator[str]:
    """Entries are only ever added: their moments do not run back, and each revision has the one that made it."""
    trail, revision = METADATA.tables["catalog_trail"], METADATA.tables["revision"]
    made = {
        row.revision
        for row in connection.execute(select(trail.c.revision, trail.c.what).where(trail.c.revision.is_not(None)))
        if row.what not in ("begun", "rebased")
    }
    first = min(made, default=None)
    for (number,) in connection.execute(select(revision.c.number).order_by(revision.c.number)):
        if first is not None and number >= first and number not in made:
            yield f"the trail does not say how revision {number} came about"


def _documents(connection: Connection, table: Table, columns: tuple[str, ...]) -> Iterator[str]:
    keys = list(table.primary_key.columns)
    wanted = select(*keys, *(table.c[name] for name in columns))
    for row in connection.execution_options(yield_per=_ROWS_AT_ONCE).execute(wanted).mappings():
        for name in columns:
            if row[name] is not None and not _is_json(row[name]):
                named = ", ".join(str(row[key.name]) for key in keys)
                yield f"{table.name} {named}: {name} is not the JSON that was written"


def _is_json(said: str) -> bool:
    try:
        json.loads(said)
    except ValueError:
        return False
    return True
