"""Writes that nobody waits for: deleting what has had its time, without which an idle service would keep everything;
and when keys were used last."""

import asyncio
import logging
from collections.abc import Callable

from service.storage.errors import StorageError
from service.web.errors import OverloadedError
from service.web.lanes import Lanes
from service.web.turns import Rank

EVERY_S = 600.0
USES_EVERY_S = 5.0
_BETWEEN_S = 1.0

_log = logging.getLogger(__name__)


async def sweep_now_and_then(lanes: Lanes, sweep: Callable[[], bool], every_s: float = EVERY_S) -> None:
    """Sweep so often, each time for as long as `sweep` says that there was something; people's writes go first."""
    await _now_and_then(lanes, sweep, every_s, "what has had its time could not be deleted")


async def note_uses_now_and_then(lanes: Lanes, note: Callable[[], bool], every_s: float = USES_EVERY_S) -> None:
    """Have the uses of keys noted so often."""
    await _now_and_then(lanes, note, every_s, "when keys were used could not be noted")


async def _now_and_then(lanes: Lanes, write: Callable[[], bool], every_s: float, failed: str) -> None:
    while True:
        await asyncio.sleep(every_s)
        try:
            while await lanes.writes.run(write, rank=Rank.BATCH):
                await asyncio.sleep(min(_BETWEEN_S, every_s))
        except (StorageError, OverloadedError) as error:  # the next time is soon
            _log.error("%s: %s", failed, error)
