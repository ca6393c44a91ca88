"""The store of inquiries: kept under ids that nobody can guess, listed newest first, answered, and deleted when they
are done."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, and_, delete, func, select, tuple_, update

from service.storage.kept_once import KeptOnce
from service.storage.outbox import ANSWERED, announce
from service.storage.store import ID
from service.storage.tables import METADATA

_TABLE = METADATA.tables["inquiry"]
_NEWEST_FIRST = (_TABLE.c.created_at.desc(), _TABLE.c.id.desc())
OPEN = "open"


@dataclass(frozen=True)
class StoredInquiry:
    """An inquiry: `document` is the JSON that may be given out, `contact` and `note` are personal.

    `missing` is what it is grouped by; `body_digest` is the same for the same request, contact and note;
    `idempotency_key` is the caller's own, None where there is none. `reply` was given at `answered_at`.
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
    status: str = OPEN
    reply: str | None = None
    answered_at: datetime | None = None
    account: str = ""


@dataclass(frozen=True)
class StoredGroup:
    """How many inquiries lacked the same, and when the newest came."""

    missing: str
    count: int
    newest: datetime


class InquiryStore(KeptOnce[StoredInquiry]):
    """Keeps inquiries and finds them."""

    _table = _TABLE
    _row = StoredInquiry
    _days = "inquiries_days"
    _many = "inquiries"

    def page(
        self, limit: int, after: StoredInquiry | None = None, missing: str | None = None, status: str | None = None
    ) -> list[StoredInquiry]:
        """Return up to `limit` inquiries, newest first: those that follow `after`, those that lacked `missing`, those
        of a status."""
        wanted = select(_TABLE).where(self._wanted(missing, status)).order_by(*_NEWEST_FIRST).limit(limit)
        if after is not None:
            wanted = wanted.where(tuple_(_TABLE.c.created_at, _TABLE.c.id) < tuple_(after.created_at, after.id))
        return self._read_all(StoredInquiry, wanted)

    def groups(self, status: str | None = None) -> list[StoredGroup]:
        """Return what was missing how often: the most frequent first, then the newest."""
        count, newest = func.count(), func.max(_TABLE.c.created_at)
        wanted = select(_TABLE.c.missing, count, newest).where(self._wanted(None, status))
        with self._database.reading() as connection:
            rows = connection.execute(
                wanted.group_by(_TABLE.c.missing).order_by(count.desc(), newest.desc(), _TABLE.c.missing)
            ).all()
        return [StoredGroup(*row) for row in rows]

    def change(self, id_: str, change: Callable[[StoredInquiry], StoredInquiry]) -> StoredInquiry | None:
        """Give the inquiry of an id another status and reply, as it stands when nobody else changes it; None where
        there is none. What `change` raises undoes all."""
        if not ID.fullmatch(id_):
            return None
        with self._database.writing() as connection:
            found = select(_TABLE).where(_TABLE.c.id == id_, self._is_kept()).with_for_update()
            row = connection.execute(found).mappings().one_or_none()
            if row is None:
                return None
            before = StoredInquiry(**row)
            changed = change(before)
            given = {"status": changed.status, "reply": changed.reply, "answered_at": changed.answered_at}
            connection.execute(update(_TABLE).where(_TABLE.c.id == id_).values(given))
            if changed.answered_at not in (None, before.answered_at):
                told = {"inquiry": changed.id, "status": changed.status}
                announce(connection, ANSWERED, told, changed.answered_at, changed.account)
        return changed

    def delete(self, id_: str) -> bool:
        """Delete the inquiry of an id with all that is personal in it; False where there is none."""
        if not ID.fullmatch(id_):
            return False
        with self._database.writing() as connection:
            was_there = connection.execute(delete(_TABLE).where(_TABLE.c.id == id_, self._is_own(_TABLE))).rowcount == 1
        self._database.erase_remains()
        return was_there

    def _wanted(self, missing: str | None, status: str | None) -> ColumnElement[bool]:
        wanted = [self._is_kept()]
        if missing is not None:
            wanted.append(_TABLE.c.missing == missing)
        if status is not None:
            wanted.append(_TABLE.c.status == status)
        return and_(*wanted)
