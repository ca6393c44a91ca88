"""The store of order checks: kept once under an id that nobody can guess, and given again word for word."""

import re
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Update, insert, select, update

from service.storage.engine import Database
from service.storage.errors import RowsRefusedError
from service.storage.keeping import KEY_DAYS, LAST_DAY, USUAL, Keeping, since
from service.storage.sweeping import sweep
from service.storage.tables import METADATA

_TABLE = METADATA.tables["order_check"]
_ID = re.compile(r"[A-Za-z0-9_-]{1,64}")


@dataclass(frozen=True)
class StoredOrderCheck:
    """A checked order: `request` as it was understood and `result` as it was answered, both JSON.

    `body_digest` is the same for the same request; `idempotency_key` is the caller's own, None where there is none.
    """

    id: str
    revision: int
    request: str
    result: str
    created_at: datetime
    idempotency_key: str | None
    body_digest: str


class OrderCheckStore:
    """Keeps order checks and finds them. Every method may raise any StorageError of `failures`."""

    def __init__(self, database: Database, keeping: Keeping = USUAL) -> None:
        self._database = database
        self._keeping = keeping

    def save(self, check: StoredOrderCheck) -> StoredOrderCheck:
        """Keep a check and return it; where its idempotency key is taken, return the one that has it instead.

        Of several that come with one key at the same time, one is kept and all get that one. A key that has had its
        KEY_DAYS is free again. `created_at` needs a time zone.
        A check of a revision that is not there raises RowsRefusedError.
        """
        try:
            with self._database.writing() as connection:
                if check.idempotency_key is not None:
                    connection.execute(_freed(check.idempotency_key))
                connection.execute(insert(_TABLE), vars(check))
                was_personal = sweep(connection, self._keeping)
        except RowsRefusedError:
            kept = None if check.idempotency_key is None else self.of_key(check.idempotency_key)
            if kept is None:
                raise
            return kept
        if was_personal:
            self._database.erase_remains()
        return check

    def get(self, id_: str) -> StoredOrderCheck | None:
        """Return the check of an id, None for any other text."""
        return self._one(_TABLE.c.id == id_) if _ID.fullmatch(id_) else None

    def of_key(self, idempotency_key: str) -> StoredOrderCheck | None:
        """Return the check that was kept with an idempotency key."""
        return self._one(_TABLE.c.idempotency_key == idempotency_key, KEY_DAYS)

    def _one(self, condition: ColumnElement[bool], days: int = LAST_DAY) -> StoredOrderCheck | None:
        is_kept = _TABLE.c.created_at >= since(min(days, self._keeping.order_checks_days))
        with self._database.reading() as connection:
            row = connection.execute(select(_TABLE).where(condition, is_kept)).mappings().one_or_none()
        if row is None:
            return None
        columns: dict[str, Any] = dict(row)
        return StoredOrderCheck(**columns)


def _freed(idempotency_key: str) -> Update:
    """Take a key from what has had it for long enough."""
    had = (_TABLE.c.idempotency_key == idempotency_key) & (_TABLE.c.created_at < since(KEY_DAYS))
    return update(_TABLE).where(had).values(idempotency_key=None)
