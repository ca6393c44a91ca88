"""The store of the questions that were asked: each different one with how often and when last, the last ones alone."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.dialects import postgresql, sqlite

from service.storage.store import Store
from service.storage.tables import METADATA

_TABLE = METADATA.tables["asked_question"]
_LAST_FIRST = (_TABLE.c.asked_at.desc(), _TABLE.c.digest.desc())
_MOST_TIMES = 2**31 - 1


@dataclass(frozen=True)
class AskedQuestion:
    """A canonical request with how often it was asked, and when last."""

    request: str
    times: int
    asked_at: datetime


class AskedQuestionStore(Store):
    """Counts questions."""

    def add(self, times: Mapping[str, int], at: datetime, most: int) -> None:
        """Count canonical requests that were asked so many times until a moment; the last `most` of all are kept."""
        insert = sqlite.insert if self._database.is_sqlite else postgresql.insert
        rows = [{"digest": _digest(x), "request": x, "times": n, "asked_at": at} for x, n in times.items()]
        rows.sort(key=lambda row: str(row["digest"]))  # whoever counts at the same time locks in the same order
        new = insert(_TABLE)
        counted = new.on_conflict_do_update(
            index_elements=["digest"],
            set_={"times": _TABLE.c.times + new.excluded.times, "asked_at": new.excluded.asked_at},
            where=_TABLE.c.times <= _MOST_TIMES - new.excluded.times,
        )
        beyond = select(_TABLE.c.digest).order_by(*_LAST_FIRST).limit(_MOST_TIMES).offset(most)
        if not self._database.is_sqlite:
            beyond = beyond.with_for_update(skip_locked=True)
        with self._database.writing() as connection:
            connection.execute(counted, rows)
            connection.execute(
                delete(_TABLE).where(_TABLE.c.digest.in_(select(beyond.cte("beyond", nesting=True).c.digest)))
            )

    def last(self, limit: int) -> list[AskedQuestion]:
        """Return up to `limit` questions, the last asked first."""
        wanted = select(_TABLE.c.request, _TABLE.c.times, _TABLE.c.asked_at).order_by(*_LAST_FIRST).limit(limit)
        with self._database.reading() as connection:
            return [AskedQuestion(*row) for row in connection.execute(wanted)]


def _digest(request: str) -> str:
    return hashlib.sha256(request.encode()).hexdigest()
