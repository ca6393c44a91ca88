"""The trail: who did what to drafts and revisions, when and why. Entries are added, and never changed or deleted."""

from dataclasses import dataclass
from datetime import datetime
from json import dumps, loads
from typing import Any

from sqlalchemy import Connection, insert, select

from service.storage.store import Store
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


class TrailStore(Store):
    """Reads the trail."""

    def of_draft(self, draft: str, limit: int, after: int = 0) -> list[tuple[int, Done]]:
        """Return up to `limit` entries of a draft, oldest first, each with its number; those after a number."""
        wanted = select(_TRAIL).where(_TRAIL.c.draft == draft, _TRAIL.c.number > after)
        return self._read_all(_read, wanted.order_by(_TRAIL.c.number).limit(limit))

    def last_of_draft(self, draft: str) -> list[Done]:
        """Return the last entry of a draft, none where there is none."""
        wanted = select(_TRAIL).where(_TRAIL.c.draft == draft).order_by(_TRAIL.c.number.desc()).limit(1)
        return [done for _, done in self._read_all(_read, wanted)]

    def of_object(self, draft: str, section: str, key: str, limit: int) -> list[Done]:
        """Return the newest entries of an object of a draft, newest first."""
        named = _TRAIL.c.draft == draft, _TRAIL.c.section == section, _TRAIL.c.key == key
        wanted = select(_TRAIL).where(*named).order_by(_TRAIL.c.number.desc()).limit(limit)
        return [done for _, done in self._read_all(_read, wanted)]


def _read(number: int, fields: str | None, **columns: Any) -> tuple[int, Done]:
    return number, Done(**columns, fields=tuple(loads(fields)) if fields else ())
