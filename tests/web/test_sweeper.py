"""Deleting what has had its time while nobody writes."""

import asyncio
from collections.abc import Callable

from service.storage.errors import StorageError
from service.web.lanes import Lanes
from service.web.sweeper import sweep_now_and_then

PATIENCE_S = 10


def _until(sweep: Callable[[], bool], is_enough: Callable[[], bool]) -> None:
    async def run() -> None:
        sweeping = asyncio.create_task(sweep_now_and_then(Lanes(), sweep, every_s=0.001))
        async with asyncio.timeout(PATIENCE_S):
            while not is_enough():
                await asyncio.sleep(0.001)
        sweeping.cancel()

    asyncio.run(run())


def test_an_idle_service_sweeps_until_nothing_is_left_and_again_later() -> None:
    left = [True, True, False, True, False]
    swept: list[bool] = []

    def sweep() -> bool:
        swept.append(left.pop(0) if left else False)
        return swept[-1]

    _until(sweep, lambda: len(swept) > 5)
    assert swept[:6] == [True, True, False, True, False, False]


def test_a_database_that_fails_stops_no_later_sweep() -> None:
    tried: list[int] = []

    def sweep() -> bool:
        tried.append(len(tried))
        if len(tried) == 1:
            raise StorageError
        return False

    _until(sweep, lambda: len(tried) > 1)
