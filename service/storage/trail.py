"""The trail: who did what to drafts and revisions, when and why. Entries are added, and never changed or deleted."""

from dataclasses import dataclass
from datetime import datetime
from json import dumps, loads
from typing import Any

from sqlalchemy import Connection, insert, select

from service.storage.engine import Database
from service.storage.tables import METADATA

_TRAIL = METADATA.tables["catalog_trail"]


@dataclass(frozen=True)
class Done:
    """Something that was done; `document` is what an object became, None where it was removed or none is meant;
    `fields` are those that were changed in it.

    `version`: that of the draft afterwards. `revision`: the one that was made or taken as the new base.
    """

    done_at: datetime
    author: str | None
    what: str
    reason: str | None = None
    draft: str | None = None
    version: int | None = None
    section: str | None = None
    key: str | None = None
    fields: tuple[str, ...] = ()
    document: str | None = None
    revision: int | None = None


def note(connection: Connection, done: Done) -> None:
    """Add an entry in the transaction of what was done."""
    connection.execute(insert(_TRAIL), vars(done) | {"fields": dumps(done.fields) if done.fields else None})


class TrailStore:
    """Reads the trail. Every method may raise any StorageError of `failures`."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def of_draft(self, draft: str, limit: int, after: int = 0) -> list[tuple[int, Done]]:
        """Return up to `limit` entries of a draft, oldest first, each with its number; those after a number."""
        wanted = select(_TRAIL).where(_TRAIL.c.draft == draft, _TRAIL.c.number > after)
        with self._database.reading() as connection:
            rows = connection.execute(wanted.order_by(_TRAIL.c.number).limit(limit)).mappings().all()
        return [_read(dict(row)) for row in rows]

    def last_of_draft(self, draft: str) -> list[Done]:
        """Return the last entry of a draft, none where there is none."""
        wanted = select(_TRAIL).where(_TRAIL.c.draft == draft).order_by(_TRAIL.c.number.desc()).limit(1)
        with self._database.reading() as connection:
            return [_read(dict(row))[1] for row in connection.execute(wanted).mappings()]

    def of_object(self, draft: str, section: str, key: str, limit: int) -> list[Done]:
        """Return the newest entries of an object of a draft, newest first."""
        named = _TRAIL.c.draft == draft, _TRAIL.c.section == section, _TRAIL.c.key == key
        wanted = select(_TRAIL).where(*named).order_by(_TRAIL.c.number.desc()).limit(limit)
        with self._database.reading() as connection:
            rows = connection.execute(wanted).mappings().all()
        return [_read(dict(row))[1] for row in rows]


def _read(columns: dict[str, Any]) -> tuple[int, Done]:
    number: int = columns.pop("number")
    fields = columns.pop("fields")
    return number, Done(**columns, fields=tuple(loads(fields)) if fields else ())
