"""Batches of orders: a file is kept as it came, its orders are judged bit by bit, and the results stand when all are.

Whoever looks at a batch that nobody works at may take the work over, so that none is lost with the process it was in.
"""

import json
import logging
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import BinaryIO

from service.domain.work import AbandonedError, TooCostlyError, spend
from service.storage.keeping import BATCH_DAYS
from service.storage.order_batches import BatchOrder, OrderBatchStore, StoredBatch
from service.usecases.check_sheet import Judged, Outcome, kept_outcome, outcome_of, refused
from service.usecases.errors import NotFoundError
from service.usecases.ids import new_id
from service.usecases.library import Library
from service.usecases.long_work import LongWorkError
from service.usecases.order_sheet import SheetError, SheetOrder, read_orders
from service.usecases.room import check_room

MOST_ORDERS = 5_000
MOST_BATCHES = 1_000
"""So many are kept at once; each may take some megabytes."""
KEPT_DAYS = BATCH_DAYS
LEASE_S = 30
"""So long a batch is its worker's after each sign of life."""
COMPLETE = "complete"

STEP_ORDERS = 20
"""So many orders are taken at a time: what was judged of them is lost with the process."""

_NOT_JUDGED = "this order could not be judged: the fault is the service's own and is in its log"
_TOO_COSTLY = "this order takes more work than is done for one; a layout, a finish or fewer lines make it less"

_log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Progress:
    """How far a batch is: orders in all, and how many have which verdict. `needs_worker`: nobody works at the rest."""

    id: str
    revision: int
    total: int
    verdicts: dict[str, int]
    needs_worker: bool

    @property
    def judged(self) -> int:
        return sum(self.verdicts.values())

    @property
    def is_done(self) -> bool:
        return self.judged == self.total


@dataclass(frozen=True)
class JudgedOrder:
    """An order as it was written, with its outcome."""

    position: int
    order: SheetOrder
    outcome: Outcome


@dataclass(frozen=True)
class Claim:
    """Orders of a batch that are this worker's to judge for a while."""

    batch: str
    revision: int
    orders: tuple[BatchOrder, ...]


class OrderBatches:
    """Keeps batches and judges them in the editions of a library. Safe to share by threads."""

    def __init__(self, library: Library, store: OrderBatchStore, worker: str | None = None) -> None:
        self._library = library
        self._store = store
        self._worker = worker or new_id()

    def of(self, account: str | None) -> "OrderBatches":
        """The same, as an account sees it; by the same worker."""
        return OrderBatches(self._library, self._store.of(account), self._worker)

    def has_room(self) -> bool:
        """Whether one more batch can be kept."""
        return self._store.count() < MOST_BATCHES

    def keep(self, file: BinaryIO) -> str:
        """Keep the orders of a CSV file, to be judged by the newest revision; the id of the batch.

        It is kept for KEPT_DAYS. Raises SheetError, NoCatalogError, FullError.
        """
        check_room(self._store)
        orders = read_orders(file, MOST_ORDERS)
        if not orders:
            raise SheetError("found no order, expected a row for each part of an order below the header")
        now = datetime.now(UTC)
        id_ = new_id()
        batch = StoredBatch(id_, self._library.edition().number, now, self._worker, _lease(now))
        rows = [_written(place, order) for place, order in enumerate(orders)]
        self._store.save(batch, rows)
        return id_

    def claim(self, id_: str) -> Claim:
        """Take the next orders of a batch to judge them; none where the work is another worker's, or done.

        Raises NotFoundError.
        """
        now = datetime.now(UTC)
        batch = self._batch(id_)
        if not self._store.claim(id_, self._worker, now, _lease(now)):
            return Claim(batch.id, batch.revision, ())
        return Claim(batch.id, batch.revision, tuple(self._store.unjudged(id_, STEP_ORDERS)))

    def judge(self, claim: Claim, order: BatchOrder) -> BatchOrder:
        """Judge one order; whatever befalls it, the others are judged.

        Raises what ends a question before its answer: TooCostlyError, LongWorkError.
        """
        edition = self._library.edition(claim.revision)
        try:
            return judged_as(order, outcome_of(edition, _order(order), self._library))
        except (TooCostlyError, AbandonedError, LongWorkError):
            raise
        except Exception:  # noqa: BLE001 whatever befalls one order, the others are judged
            _log.exception("an order of a batch could not be judged")
            return judged_as(order, refused(_NOT_JUDGED))

    def record(self, claim: Claim, judged: Iterable[BatchOrder]) -> None:
        """Keep what was judged of a claim."""
        self._store.record(claim.batch, judged)

    def progress(self, id_: str) -> Progress:
        """How far a batch is. Raises NotFoundError."""
        batch = self._batch(id_)
        counts = self._store.counts(id_)
        waiting = counts.get(None, 0)
        verdicts = {verdict: count for verdict, count in counts.items() if verdict is not None}
        is_left = batch.lease_ends < datetime.now(UTC)
        return Progress(id_, batch.revision, sum(counts.values()), verdicts, waiting > 0 and is_left)

    def to_mend(self, id_: str, limit: int) -> list[JudgedOrder]:
        """The first orders that are judged but not complete, in the order of the file."""
        return [_read(order) for order in self._store.judged(id_, without=COMPLETE, limit=limit)]

    def results(self, id_: str) -> Iterator[Judged]:
        """Every order that is judged, with its outcome, in the order of the file."""
        return ((judged.order, judged.outcome) for judged in map(_read, self._store.judged(id_)))

    def order(self, id_: str, position: int) -> SheetOrder:
        """An order of a batch by its place in the file, from 0. Raises NotFoundError."""
        found = self._store.order(self._batch(id_).id, position)
        if found is None:
            raise NotFoundError("order of this batch", str(position))
        return _order(found)

    def _batch(self, id_: str) -> StoredBatch:
        batch = self._store.get(id_)
        if batch is None:
            raise NotFoundError("batch of orders", id_)
        return batch


def _lease(now: datetime) -> datetime:
    return now + timedelta(seconds=LEASE_S)


def _written(place: int, order: SheetOrder) -> BatchOrder:
    spend(1 + len(order.rows), "order")
    return BatchOrder(place, json.dumps(asdict(order)))


def judged_as(order: BatchOrder, outcome: Outcome) -> BatchOrder:
    """An order with its outcome."""
    return replace(order, verdict=outcome.verdict, outcome=json.dumps(asdict(outcome)))


def too_costly(order: BatchOrder) -> BatchOrder:
    """An order that takes more steps than are allowed."""
    return judged_as(order, refused(_TOO_COSTLY))


def _read(order: BatchOrder) -> JudgedOrder:
    return JudgedOrder(order.position, _order(order), kept_outcome(json.loads(order.outcome or "[]")))


def _order(order: BatchOrder) -> SheetOrder:
    return SheetOrder(**json.loads(order.sheet_order))
