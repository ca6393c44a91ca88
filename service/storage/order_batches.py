"""The store of order batches: orders kept as they came, judged by one worker at a time, outcomes beside them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, func, insert, or_, select, update

from service.storage.accounts import OfAccounts
from service.storage.keeping import since
from service.storage.store import ID
from service.storage.sweeping import writing_and_sweeping
from service.storage.tables import METADATA

_BATCHES = METADATA.tables["order_batch"]
_ORDERS = METADATA.tables["batch_order"]


@dataclass(frozen=True)
class StoredBatch:
    """A batch: whose work it is until `lease_ends`, and the revision that its orders are judged by."""

    id: str
    revision: int
    created_at: datetime
    worker: str
    lease_ends: datetime
    account: str = ""


@dataclass(frozen=True)
class BatchOrder:
    """An order of a batch; `sheet_order` and `outcome` are JSON; no outcome, no verdict: not judged yet."""

    position: int
    sheet_order: str
    verdict: str | None = None
    outcome: str | None = None


class OrderBatchStore(OfAccounts):
    """Keeps batches and gives out their work."""

    _table = _BATCHES
    _many = "batches"

    def save(self, batch: StoredBatch, orders: Sequence[BatchOrder]) -> None:
        """Keep a new batch with its orders. Raises RowsRefusedError for a revision that is not there."""
        with writing_and_sweeping(self._database, self._keeping) as connection:
            connection.execute(insert(_BATCHES), vars(batch) | {"account": self._keeps_for})
            if orders:
                connection.execute(insert(_ORDERS), [{"batch": batch.id, **vars(order)} for order in orders])

    def get(self, id_: str) -> StoredBatch | None:
        """Return the batch of an id, None for any other text."""
        if not ID.fullmatch(id_):
            return None
        found = select(_BATCHES).where(_BATCHES.c.id == id_, self._is_kept(), self._is_own(_BATCHES))
        return self._read_one(StoredBatch, found)

    def count(self) -> int:
        """Return how many batches are kept."""
        return self._count(_BATCHES, self._is_kept())

    def _is_kept(self) -> ColumnElement[bool]:
        return _BATCHES.c.created_at >= since(self._keeping.order_batches_days)

    def claim(self, id_: str, worker: str, now: datetime, until: datetime) -> bool:
        """Have a worker judge a batch until a moment, if it is that worker's already or nobody's at `now`."""
        free = or_(_BATCHES.c.worker == worker, _BATCHES.c.lease_ends < now)
        taken = update(_BATCHES).where(_BATCHES.c.id == id_, free).values(worker=worker, lease_ends=until)
        return self._changes_one(taken)

    def unjudged(self, id_: str, limit: int) -> list[BatchOrder]:
        """Return the first orders of a batch that have no outcome."""
        return self._read_all(BatchOrder, _of(id_).where(_ORDERS.c.verdict.is_(None)).limit(limit))

    def order(self, id_: str, position: int) -> BatchOrder | None:
        """Return the order of a batch at a place."""
        return self._read_one(BatchOrder, _of(id_).where(_ORDERS.c.position == position))

    def record(self, id_: str, judged: Iterable[BatchOrder]) -> None:
        """Keep outcomes; a batch that was deleted meanwhile takes none."""
        with self._database.writing() as connection:
            for order in judged:
                place = (_ORDERS.c.batch == id_) & (_ORDERS.c.position == order.position)
                given = {"verdict": order.verdict, "outcome": order.outcome}
                connection.execute(update(_ORDERS).where(place).values(given))

    def counts(self, id_: str) -> dict[str | None, int]:
        """Return how many orders of a batch have which verdict; None: how many are not judged yet."""
        wanted = (
            select(_ORDERS.c.verdict, func.count().label("orders"))
            .where(_ORDERS.c.batch == id_)
            .group_by(_ORDERS.c.verdict)
        )
        with self._database.reading() as connection:
            return {row.verdict: row.orders for row in connection.execute(wanted)}

    def judged(self, id_: str, *, without: str | None = None, limit: int | None = None) -> list[BatchOrder]:
        """Return the orders that have an outcome, in the order of the file; not those of the verdict `without`."""
        wanted = _of(id_).where(_ORDERS.c.verdict.is_not(None)).limit(limit)
        return self._read_all(BatchOrder, wanted if without is None else wanted.where(_ORDERS.c.verdict != without))


def _of(id_: str) -> Any:
    columns = (_ORDERS.c.position, _ORDERS.c.sheet_order, _ORDERS.c.verdict, _ORDERS.c.outcome)
    return select(*columns).where(_ORDERS.c.batch == id_).order_by(_ORDERS.c.position)
