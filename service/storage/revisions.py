"""The store of revisions: whole catalogs, numbered, never changed once they are there."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from typing import Any

from pydantic import ValidationError
from sqlalchemy import Connection, func, insert, select, text

from service.documents.catalog import Catalog
from service.storage.catalog_parts import (
    CATALOG_TABLES,
    SECTIONS,
    catalog_once,
    catalog_to_rows,
    rows_to_catalog,
)
from service.storage.digest import catalog_digest
from service.storage.engine import Database
from service.storage.errors import DamagedRevisionError, UnknownRevisionError
from service.storage.patience import CATALOG_S
from service.storage.tables import METADATA
from service.storage.tables.base import LAST_REVISION

Progress = Callable[[int, int], None]
"""Told (rows written, rows in all) during an `add`."""

_REVISION = METADATA.tables["revision"]
_ROWS_AT_ONCE = 1_000


@dataclass(frozen=True)
class RevisionSummary:
    """A revision without its content; `counts` has the number of elements by section (`items`, `chassis` ...)."""

    number: int
    created_at: datetime
    maker: str
    digest: str
    counts: Mapping[str, int]


class RevisionStore:
    """Adds and loads revisions. Every method is one transaction and may raise any StorageError of `failures`."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, catalog: Catalog, *, created_at: datetime, progress: Progress | None = None) -> int:
        """Keep a catalog as the next revision, whole or not at all, and return its number.

        `created_at` needs a time zone (else ValueError). The catalog's integrity must have been checked: one
        that breaks the tables' rules raises RowsRefusedError. Adds at the same time follow one another.
        """
        if created_at.tzinfo is None:
            raise ValueError(f"created_at needs a time zone, not {created_at.isoformat()}")
        document = catalog.model_dump(exclude_none=True)
        rows = catalog_to_rows(document)
        about = catalog_once(document) | {"created_at": created_at, "digest": catalog_digest(catalog)}
        with self._database.writing(CATALOG_S) as connection:
            number = _next_number(connection)
            connection.execute(insert(_REVISION), about | {"number": number})
            _insert(connection, number, rows, progress or _quiet)
        return number

    def latest(self) -> int | None:
        """Return the number of the newest revision, None while there is none."""
        with self._database.reading() as connection:
            return _newest(connection)

    def load(self, number: int) -> Catalog:
        """Return a revision's catalog, equal to the one that was added.

        Raises UnknownRevisionError, and DamagedRevisionError where the content was changed since.
        """
        with self._database.reading(CATALOG_S) as connection:
            known = 1 <= number <= LAST_REVISION
            found = select(_REVISION).where(_REVISION.c.number == number)
            revision = connection.execute(found).mappings().one_or_none() if known else None
            if revision is None:
                raise UnknownRevisionError(number, _newest(connection))
            rows = {
                table.name: connection.execute(
                    select(table).where(table.c.revision == number).order_by(table.c.position)
                )
                .mappings()
                .all()
                for table in CATALOG_TABLES
            }
        return _checked(number, str(revision["digest"]), rows_to_catalog(dict(revision), rows))

    def summaries(self) -> list[RevisionSummary]:
        """Return what there is, the newest first."""
        with self._database.reading() as connection:
            found = connection.execute(select(_REVISION).order_by(_REVISION.c.number.desc())).mappings().all()
        return [
            RevisionSummary(
                number=row["number"],
                created_at=row["created_at"],
                maker=row["maker_name"],
                digest=row["digest"],
                counts={section.field: row[f"{section.table}_count"] or 0 for section in SECTIONS},
            )
            for row in found
        ]


def _next_number(connection: Connection) -> int:
    """Return the number after the newest; from here to the commit nobody else can take it."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("LOCK TABLE revision IN SHARE ROW EXCLUSIVE MODE"))
    return (_newest(connection) or 0) + 1


def _newest(connection: Connection) -> int | None:
    return connection.execute(select(func.max(_REVISION.c.number))).scalar_one_or_none()


def _insert(connection: Connection, number: int, rows: Mapping[str, list[dict[str, Any]]], progress: Progress) -> None:
    total = sum(map(len, rows.values()))
    done = 0
    for table in CATALOG_TABLES:
        waiting = iter(rows[table.name])
        while batch := [row | {"revision": number} for row in islice(waiting, _ROWS_AT_ONCE)]:
            connection.execute(insert(table), batch)
            done += len(batch)
            progress(done, total)


def _quiet(_done: int, _total: int) -> None:
    """Tell nobody."""


def _checked(number: int, digest: str, document: dict[str, Any]) -> Catalog:
    try:
        catalog = Catalog.model_validate(document)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        place = "/".join(map(str, first["loc"]))
        raise DamagedRevisionError(number, f"{place}: {first['msg']}") from error
    if (found := catalog_digest(catalog)) != digest:
        raise DamagedRevisionError(number, f"its digest is {found}, not {digest}")
    return catalog
