"""A lane: turns for calls that block or compute, each in a thread.

An answer takes processor time, and threads of one process share it: two at once take turns, so that each is slower,
their sum is slower too, and the event loop with them. So few lanes have more than one place; more processors are used
by more processes.
"""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from time import monotonic, thread_time
from typing import TypeVar

from service.domain.work import AbandonedError, Meter, metered
from service.web.conduct import Account
from service.web.metrics import steps_in
from service.web.turns import Rank, Turns
from service.web.visitors import visitor

T = TypeVar("T")


class Lane(Turns):
    """Lets `at_once` calls run in threads of its own.

    `ahead`: so many more may stand before the threads, so that these need not wait for the event loop between two
    short calls.
    """

    def __init__(
        self,
        name: str,
        at_once: int = 1,
        waiting: int = 200,
        patience_s: float = 10.0,
        *,
        ahead: int = 0,
        crowded: int = 1_000,
    ) -> None:
        super().__init__(at_once + ahead, waiting, patience_s, crowded)
        self._count_steps = steps_in(name)
        self._begun: dict[object, float] = {}
        self._threads = ThreadPoolExecutor(at_once, thread_name_prefix=f"lane-{name}")

    def stands_s(self) -> float:
        """How long the call has been running that has run longest; 0 where none does."""
        return monotonic() - min(self._begun.values(), default=monotonic())

    def is_busy(self) -> bool:
        """Whether a person waits for what is worked at here."""
        return bool(self._begun) or self.people_waiting > 0

    async def run(self, call: Callable[[], T], meter: Meter | None = None, rank: Rank = Rank.PERSON) -> T:
        """Run a call that blocks or computes, its steps counted by `meter`, when it is its turn.

        Its place is free again when the call has ended, not when nobody waits for it any more.

        Raises:
            OverloadedError: where the queue is full or stands for too long.
            AbandonedError: where the client left, before the call or at one of its steps.
        """
        counted = meter or Meter()
        client = visitor()
        if client.is_gone:
            raise AbandonedError
        await self.enter(rank)
        me = object()
        self._begun[me] = monotonic()
        working = asyncio.get_running_loop().run_in_executor(
            self._threads, self._counted, call, counted, client.account
        )
        working.add_done_callback(partial(self._leave, me))
        try:
            with client.on_leaving(counted.abandon):
                return await asyncio.shield(working)
        except (asyncio.CancelledError, AbandonedError):
            counted.abandon()
            raise

    def run_here(self, call: Callable[[], T], meter: Meter) -> T:
        """Run a short call at once, out of turn, in the thread that asks; its steps count as those of the lane."""
        return self._counted(call, meter, visitor().account)

    def _leave(self, me: object, working: asyncio.Future[T]) -> None:
        if not working.cancelled():
            working.exception()  # seen, though perhaps nobody waits for it any more
        del self._begun[me]
        self.pass_on()

    def _counted(self, call: Callable[[], T], meter: Meter, account: Account) -> T:
        begun_s = thread_time()
        try:
            with metered(meter):
                return call()
        finally:
            account.add(thread_time() - begun_s)
            self._count_steps(meter.spent)
