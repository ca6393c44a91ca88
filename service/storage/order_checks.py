"""The store of order checks: kept once under an id that nobody can guess, and given again word for word."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from service.storage.kept_once import KeptOnce
from service.storage.tables import METADATA


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
    account: str = ""


class OrderCheckStore(KeptOnce[StoredOrderCheck]):
    """Keeps order checks and finds them."""

    _table = METADATA.tables["order_check"]
    _row = StoredOrderCheck
    _days = "order_checks_days"
    _many = "order-checks"

    def page(self, limit: int) -> list[StoredOrderCheck]:
        """Return up to `limit` checks, the newest first. Raises StorageError."""
        columns = self._table.c
        wanted = select(self._table).where(self._is_kept()).order_by(columns.created_at.desc(), columns.id).limit(limit)
        return self._read_all(StoredOrderCheck, wanted)
