"""The store of revisions: whole catalogs, numbered, never changed once they are there."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, func, insert, select, text

from service.documents.catalog import Catalog
from service.documents.packed import DoubledIdError, PackedCatalog, packed
from service.storage.errors import DamagedRevisionError, NewerRevisionError, RowsRefusedError, UnknownRevisionError
from service.storage.notices import tell_of_revision
from service.storage.objects import Progress, read_objects, write_objects
from service.storage.outbox import PUBLISHED, announce
from service.storage.patience import CATALOG_S
from service.storage.store import Store
from service.storage.tables import METADATA
from service.storage.tables.base import LAST_REVISION
from service.storage.trail import Done, note

_REVISION = METADATA.tables["revision"]


@dataclass(frozen=True)
class Publishing:
    """By whom a revision is published, and why; `accept`: why although answers are lost with it."""

    author: str | None = None
    reason: str | None = None
    accept: str | None = None


NOBODY = Publishing()


@dataclass(frozen=True)
class RevisionSummary:
    """A revision without its content; `counts` has the number of elements by section (`items`, `chassis` ...)."""

    number: int
    created_at: datetime
    maker: str
    digest: str
    counts: Mapping[str, int]
    publishing: Publishing = NOBODY


class RevisionStore(Store):
    """Adds and loads revisions."""

    def add(
        self,
        catalog: Catalog | PackedCatalog,
        *,
        created_at: datetime,
        progress: Progress | None = None,
        publishing: Publishing = NOBODY,
        restored: int | None = None,
        follows: int | None = None,
    ) -> int:
        """Keep a catalog as the next revision, whole or not at all, and return its number.

        `created_at` needs a time zone (else ValueError). The catalog must have been checked: one with an id twice
        raises RowsRefusedError. Adds at the same time follow one another. `restored`: the revision whose catalog it is
        again. `follows`: the revision that must be the newest still, else NewerRevisionError; None: any.
        """
        if created_at.tzinfo is None:
            raise ValueError(f"created_at needs a time zone, not {created_at.isoformat()}")
        try:
            told = packed(catalog)
        except DoubledIdError as error:
            raise RowsRefusedError(self._database.name, str(error)) from None
        what = "imported" if restored is None else f"restored {restored}"
        with self._database.writing(CATALOG_S) as connection:
            number = next_number(connection, follows)
            add_revision(connection, number, told, created_at, publishing, progress)
            note(connection, Done(created_at, publishing.author, what, publishing.reason, revision=number))
        return number

    def latest(self) -> int | None:
        """Return the number of the newest revision, None while there is none."""
        with self._database.reading() as connection:
            return _newest(connection)

    def newest_published(self) -> tuple[int, datetime] | None:
        """The number of the newest revision and when it was made, None while there is none."""
        newest = select(_REVISION.c.number, _REVISION.c.created_at).order_by(_REVISION.c.number.desc()).limit(1)
        with self._database.reading() as connection:
            found = connection.execute(newest).one_or_none()
        return None if found is None else (found.number, found.created_at)

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
                publishing=Publishing(row["author"], row["reason"], row["accept"]),
            )
            for row in found
        ]


def next_number(connection: Connection, follows: int | None = None) -> int:
    """Return the number after the newest; from here to the commit nobody else can take it.

    Raises NewerRevisionError where the newest is not the one that it is to follow.
    """
    if connection.dialect.name == "postgresql":
        connection.execute(text("LOCK TABLE revision IN SHARE ROW EXCLUSIVE MODE"))
    newest = _newest(connection)
    if follows not in (None, newest):
        raise NewerRevisionError(follows, newest)
    return (newest or 0) + 1


def add_revision(
    connection: Connection,
    number: int,
    told: PackedCatalog,
    created_at: datetime,
    publishing: Publishing,
    progress: Progress | None = None,
) -> None:
    """Write a revision under its number, and the news of it."""
    about = {
        "number": number,
        "created_at": created_at,
        "digest": told.digest(),
        "maker_name": told.maker.name,
        "counts": json.dumps(told.counts()),
    }
    connection.execute(insert(_REVISION), about | vars(publishing))
    write_objects(connection, number, told.texts, progress or _quiet)
    tell_of_revision(connection)
    announce(connection, PUBLISHED, {"revision": number, "digest": about["digest"]}, created_at)


def _newest(connection: Connection) -> int | None:
    return connection.execute(select(func.max(_REVISION.c.number))).scalar_one_or_none()


def _quiet(_done: int, _total: int) -> None:
    """Tell nobody."""
