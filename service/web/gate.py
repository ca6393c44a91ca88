"""A gate before the work: so many questions at once, so many waiting, none for longer than is sensible.

An answer takes processor time, and threads of one process share it: two at once take turns, so that each is slower,
their sum is slower too, and the event loop with them. So it is one at a time; more processors are used by more
workers. Whoever finds the queue full learns so at once and can ask elsewhere.
"""

import asyncio
from collections.abc import Callable
from typing import ParamSpec, TypeVar

from starlette.concurrency import run_in_threadpool

from service.web.errors import OverloadedError

P = ParamSpec("P")
T = TypeVar("T")


class Gate:
    """Lets `at_once` calls run in threads, keeps `waiting` more for at most `patience_s` seconds."""

    def __init__(self, at_once: int = 1, waiting: int = 200, patience_s: float = 10.0) -> None:
        self._free = asyncio.Semaphore(at_once)
        self._room = waiting
        self._patience_s = patience_s

    async def run(self, call: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Run a call that blocks or computes in a thread.

        Raises:
            OverloadedError: where the queue is full or stands for too long.
        """
        await self._enter()
        try:
            return await run_in_threadpool(call, *args, **kwargs)
        finally:
            self._free.release()

    async def _enter(self) -> None:
        if self._room <= 0:
            raise OverloadedError
        self._room -= 1
        try:
            async with asyncio.timeout(self._patience_s):
                await self._free.acquire()
        except TimeoutError:
            raise OverloadedError from None
        finally:
            self._room += 1
