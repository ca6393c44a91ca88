"""The work at batches in one process: a few orders of one batch, then of the next, whenever no person waits.

So a small batch is done soon, however many large ones came before it, and people notice none of them.
"""

import asyncio
import contextvars
import logging
from collections import deque
from time import monotonic
from typing import Annotated

from fastapi import Depends

from service.domain.work import TooCostlyError
from service.storage.errors import StorageError
from service.storage.order_batches import BatchOrder
from service.usecases.errors import NotFoundError
from service.usecases.order_batches import LEASE_S, Claim, OrderBatches, too_costly
from service.web.errors import OverloadedError
from service.web.resources import Resources, kept_as

MOST_WAITING = 250
"""So many batches are taken in before the first of them has to be done."""
_STEP_S = LEASE_S / 3
"""So long at most is worked at one batch until what was judged is kept, the next one gets its turn, and this one is
claimed anew: it would be another worker's after LEASE_S."""
_BUSY_S = 1.0
_LONGEST_PAUSE_S = 0.5

_log = logging.getLogger(__name__)


class BatchWork:
    """Works at the batches of an application, one after the other in turns, as one task of the event loop."""

    def __init__(self, resources: Resources, batches: OrderBatches) -> None:
        self._resources = resources
        self._batches = batches
        self._waiting: deque[str] = deque()
        self._begun: set[str] = set()
        self._task: asyncio.Task[None] | None = None

    @property
    def is_full(self) -> bool:
        """Whether as many batches are waiting as are taken in."""
        return len(self._waiting) >= MOST_WAITING

    def is_waiting(self, id_: str) -> bool:
        """Whether a batch has had no turn yet."""
        return id_ in self._waiting and id_ not in self._begun

    def begin(self, id_: str) -> None:
        """Have a batch worked at to its end, unless it is already or there are too many."""
        if id_ in self._begun or id_ in self._waiting or self.is_full:
            return
        self._waiting.append(id_)
        if self._task is None or self._task.done():
            # In a context of its own: the work is for whoever looks later, not for whoever sent it and may leave.
            self._task = asyncio.create_task(self._work(), context=contextvars.Context())

    async def _work(self) -> None:
        while self._waiting:
            id_ = self._waiting.popleft()
            self._begun.add(id_)
            has_more = False
            try:
                has_more = await self._has_more(id_)
            finally:
                if has_more:
                    self._waiting.append(id_)
                else:
                    self._begun.discard(id_)

    async def _has_more(self, id_: str) -> bool:
        """Judge some orders of a batch. A storage that fails leaves the rest to who looks next at the batch."""
        try:
            claim = await self._resources.write(self._batches.claim, id_)
            until, judged = monotonic() + _STEP_S, list[BatchOrder]()
            for order in claim.orders:
                judged.append(await self._judged(claim, order))
                if monotonic() > until:  # in a crowd each waits for its turn: what is done is kept, the batch held
                    break
            if judged:
                await self._resources.write(self._batches.record, claim, judged)
            return bool(judged)
        except OverloadedError:
            await asyncio.sleep(_BUSY_S)
            return True
        except NotFoundError:
            return False
        except StorageError as error:
            _log.error("batch %s stands still: %s: %s", id_, error.code, error)
            return False

    async def _judged(self, claim: Claim, order: BatchOrder) -> BatchOrder:
        """Judge an order and pause for as long as that took, so that half of the time at least is for others."""
        begun = monotonic()
        try:
            return await self._resources.run_in_batch(self._batches.judge, claim, order)
        except TooCostlyError:
            return too_costly(order)
        finally:
            await asyncio.sleep(min(monotonic() - begun, _LONGEST_PAUSE_S))


AppBatchWork = Annotated[BatchWork, Depends(kept_as("batch_work", BatchWork))]
