"""Deleting what has had its time while nobody writes: without it, an idle service would keep everything."""

import asyncio
import logging
from collections.abc import Callable

from service.storage.errors import StorageError
from service.web.errors import OverloadedError
from service.web.lanes import Lanes
from service.web.turns import Rank

EVERY_S = 600.0
_BETWEEN_S = 1.0

_log = logging.getLogger(__name__)


async def sweep_now_and_then(lanes: Lanes, sweep: Callable[[], bool], every_s: float = EVERY_S) -> None:
    """Sweep so often, each time for as long as `sweep` says that there was something; people's writes go first."""
    while True:
        await asyncio.sleep(every_s)
        try:
            while await lanes.writes.run(sweep, rank=Rank.BATCH):
                await asyncio.sleep(min(_BETWEEN_S, every_s))
        except (StorageError, OverloadedError) as error:  # the next time is soon
            _log.error("what has had its time could not be deleted: %s", error)
