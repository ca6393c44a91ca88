"""The work at sweeps in one process: one after the other, by processes of their own, as one task of the event loop."""

import asyncio
import contextvars
import logging
from functools import partial
from typing import Annotated

from fastapi import Depends

from service.storage.errors import StorageError
from service.usecases.errors import RefusedError
from service.usecases.impact_sweeps import Sweeps
from service.usecases.sweep_impact import SweepCancelledError
from service.usecases.sweep_workers import WorkersError
from service.web.errors import OverloadedError
from service.web.resources import Resources, kept_as

_log = logging.getLogger(__name__)


class SweepWork:
    """Works at the sweeps of an application. What stands still is begun again by who looks at it next."""

    def __init__(self, resources: Resources, sweeps: Sweeps) -> None:
        self._resources = resources
        self._sweeps = sweeps
        self._waiting: dict[str, None] = {}
        self._task: asyncio.Task[None] | None = None

    def begin(self, id_: str) -> None:
        """Have a sweep brought to its end, unless it is being so already."""
        self._waiting.setdefault(id_)
        if self._task is None or self._task.done():
            # In a context of its own: the work is for whoever looks later, not for whoever sent it and may leave.
            self._task = asyncio.create_task(self._work(), context=contextvars.Context())

    async def _work(self) -> None:
        while self._waiting:
            id_ = next(iter(self._waiting))
            try:
                await self._resources.lanes.sweep(partial(self._sweeps.work, id_))
            except SweepCancelledError:
                _log.info("sweep %s was cancelled or taken over", id_)
            except (StorageError, RefusedError, WorkersError, OverloadedError) as error:
                _log.error("sweep %s stands still: %s", id_, error)
            finally:
                self._waiting.pop(id_, None)


AppSweepWork = Annotated[SweepWork, Depends(kept_as("sweep_work", SweepWork))]
