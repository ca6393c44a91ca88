"""The store of inquiries: kept under ids that nobody can guess, listed newest first, and deleted when they are done."""

import re
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Update, delete, func, insert, select, tuple_, update

from service.storage.engine import Database
from service.storage.errors import RowsRefusedError
from service.storage.keeping import KEY_DAYS, LAST_DAY, USUAL, Keeping, since
from service.storage.sweeping import sweep
from service.storage.tables import METADATA

_TABLE = METADATA.tables["inquiry"]
_ID = re.compile(r"[A-Za-z0-9_-]{1,64}")
_NEWEST_FIRST = (_TABLE.c.created_at.desc(), _TABLE.c.id.desc())


@dataclass(frozen=True)
class StoredInquiry:
    """An inquiry: `document` is the JSON that may be given out, `contact` and `note` are personal.

    `missing` is what it is grouped by; `body_digest` is the same for the same request, contact and note;
    `idempotency_key` is the caller's own, None where there is none.
    """

    id: str
    revision: int
    document: str
    missing: str
    contact: str
    note: str
    created_at: datetime
    idempotency_key: str | None
    body_digest: str


@dataclass(frozen=True)
class StoredGroup:
    """How many inquiries lacked the same, and when the newest came."""

    missing: str
    count: int
    newest: datetime


class InquiryStore:
    """Keeps inquiries and finds them. Every method may raise any StorageError of `failures`."""

    def __init__(self, database: Database, keeping: Keeping = USUAL) -> None:
        self._database = database
        self._keeping = keeping

    def save(self, inquiry: StoredInquiry) -> StoredInquiry:
        """Keep an inquiry and return it; where its idempotency key is taken, return the one that has it instead.

        Of several that come with one key at the same time, one is kept and all get that one. A key that has had its
        KEY_DAYS is free again. `created_at` needs a time zone.
        An inquiry of a revision that is not there raises RowsRefusedError.
        """
        try:
            with self._database.writing() as connection:
                if inquiry.idempotency_key is not None:
                    connection.execute(_freed(inquiry.idempotency_key))
                connection.execute(insert(_TABLE), vars(inquiry))
                was_personal = sweep(connection, self._keeping)
        except RowsRefusedError:
            kept = None if inquiry.idempotency_key is None else self.of_key(inquiry.idempotency_key)
            if kept is None:
                raise
            return kept
        if was_personal:
            self._database.erase_remains()
        return inquiry

    def get(self, id_: str) -> StoredInquiry | None:
        """Return the inquiry of an id, None for any other text."""
        return self._one(_TABLE.c.id == id_) if _ID.fullmatch(id_) else None

    def of_key(self, idempotency_key: str) -> StoredInquiry | None:
        """Return the inquiry that was kept with an idempotency key."""
        return self._one(_TABLE.c.idempotency_key == idempotency_key, KEY_DAYS)

    def page(self, limit: int, after: StoredInquiry | None = None, missing: str | None = None) -> list[StoredInquiry]:
        """Return up to `limit` inquiries, newest first: those that follow `after`, those that lacked `missing`."""
        wanted = select(_TABLE).where(self._is_kept()).order_by(*_NEWEST_FIRST).limit(limit)
        if after is not None:
            wanted = wanted.where(tuple_(_TABLE.c.created_at, _TABLE.c.id) < tuple_(after.created_at, after.id))
        if missing is not None:
            wanted = wanted.where(_TABLE.c.missing == missing)
        with self._database.reading() as connection:
            return [_read(dict(row)) for row in connection.execute(wanted).mappings()]

    def groups(self) -> list[StoredGroup]:
        """Return what was missing how often: the most frequent first, then the newest."""
        count, newest = func.count(), func.max(_TABLE.c.created_at)
        wanted = select(_TABLE.c.missing, count, newest).where(self._is_kept()).group_by(_TABLE.c.missing)
        with self._database.reading() as connection:
            rows = connection.execute(wanted.order_by(count.desc(), newest.desc(), _TABLE.c.missing)).all()
        return [StoredGroup(*row) for row in rows]

    def delete(self, id_: str) -> bool:
        """Delete the inquiry of an id with all that is personal in it; False where there is none."""
        if not _ID.fullmatch(id_):
            return False
        with self._database.writing() as connection:
            was_there = connection.execute(delete(_TABLE).where(_TABLE.c.id == id_)).rowcount == 1
        self._database.erase_remains()
        return was_there

    def _is_kept(self, days: int = LAST_DAY) -> ColumnElement[bool]:
        return _TABLE.c.created_at >= since(min(days, self._keeping.inquiries_days))

    def _one(self, condition: ColumnElement[bool], days: int = LAST_DAY) -> StoredInquiry | None:
        with self._database.reading() as connection:
            row = connection.execute(select(_TABLE).where(condition, self._is_kept(days))).mappings().one_or_none()
        return None if row is None else _read(dict(row))


def _read(columns: dict[str, Any]) -> StoredInquiry:
    return StoredInquiry(**columns)


def _freed(idempotency_key: str) -> Update:
    """Take a key from what has had it for long enough."""
    had = (_TABLE.c.idempotency_key == idempotency_key) & (_TABLE.c.created_at < since(KEY_DAYS))
    return update(_TABLE).where(had).values(idempotency_key=None)
