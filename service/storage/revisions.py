"""The store of revisions: whole catalogs, numbered, never changed once they are there."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, func, insert, select, text

from service.documents.catalog import Catalog
from service.documents.packed import DoubledIdError, PackedCatalog, packed
from service.storage.engine import Database
from service.storage.errors import DamagedRevisionError, RowsRefusedError, UnknownRevisionError
from service.storage.objects import Progress, read_objects, write_objects
from service.storage.patience import CATALOG_S
from service.storage.tables import METADATA
from service.storage.tables.base import LAST_REVISION

_REVISION = METADATA.tables["revision"]


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

    def add(self, catalog: Catalog | PackedCatalog, *, created_at: datetime, progress: Progress | None = None) -> int:
        """Keep a catalog as the next revision, whole or not at all, and return its number.

        `created_at` needs a time zone (else ValueError). The catalog must have been checked: one with an id twice
        raises RowsRefusedError. Adds at the same time follow one another.
        """
        if created_at.tzinfo is None:
            raise ValueError(f"created_at needs a time zone, not {created_at.isoformat()}")
        try:
            told = packed(catalog)
        except DoubledIdError as error:
            raise RowsRefusedError(self._database.name, str(error)) from None
        about = {
            "created_at": created_at,
            "digest": told.digest(),
            "maker_name": told.maker.name,
            "counts": json.dumps(told.counts()),
        }
        with self._database.writing(CATALOG_S) as connection:
            number = _next_number(connection)
            connection.execute(insert(_REVISION), about | {"number": number})
            write_objects(connection, number, told.texts, progress or _quiet)
        return number

    def latest(self) -> int | None:
        """Return the number of the newest revision, None while there is none."""
        with self._database.reading() as connection:
            return _newest(connection)

    def newest_digest(self) -> tuple[int, str] | None:
        """The number and the digest of the newest revision, None while there is none."""
        newest = select(_REVISION.c.number, _REVISION.c.digest).order_by(_REVISION.c.number.desc()).limit(1)
        with self._database.reading() as connection:
            found = connection.execute(newest).one_or_none()
        return None if found is None else (found.number, found.digest)

    def load(self, number: int) -> PackedCatalog:
        """Return a revision's catalog, equal to the one that was added.

        Raises UnknownRevisionError, and DamagedRevisionError where the content was changed since.
        """
        with self._database.reading(CATALOG_S) as connection:
            known = 1 <= number <= LAST_REVISION
            found = select(_REVISION.c.digest).where(_REVISION.c.number == number)
            digest = connection.execute(found).scalar_one_or_none() if known else None
            if digest is None:
                raise UnknownRevisionError(number, _newest(connection))
            sections = read_objects(connection, number)
        catalog = PackedCatalog(sections)
        if (told := catalog.digest()) != digest:
            raise DamagedRevisionError(number, f"its digest is {told}, not {digest}")
        return catalog

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
                counts=json.loads(row["counts"]),
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


def _quiet(_done: int, _total: int) -> None:
    """Tell nobody."""
