"""A lane: so many calls at once in threads of their own, so many waiting, none for longer than is sensible.

An answer takes processor time, and threads of one process share it: two at once take turns, so that each is slower,
their sum is slower too, and the event loop with them. So few lanes have more than one place; more processors are used
by more workers. Whoever finds the queue full learns so at once and can ask elsewhere.
"""

import asyncio
import contextlib
from collections import deque
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from enum import IntEnum
from functools import partial
from time import monotonic, thread_time
from typing import NamedTuple, TypeVar

from service.domain.work import AbandonedError, Meter, metered
from service.web.errors import OverloadedError
from service.web.visitors import Account, visitor

T = TypeVar("T")


class Rank(IntEnum):
    """Who goes first of those that wait in a lane."""

    PERSON = 0
    KNOWN_COSTLY = 1
    """Asks what was too costly before."""
    BATCH = 2
    """One of many, for which nobody waits; it waits without end, and gets a turn now and then."""


_BATCH_EVERY_S = 2.0
"""However many people wait, a batch has a turn so often: they notice it little, and it does not stand for ever."""


_OLDEST_EVERY = 4


class _Waiting(NamedTuple):
    """A turn that somebody waits for."""

    turn: asyncio.Future[None]
    account: Account


class Lane:
    """Lets `at_once` calls run, keeps `waiting` more of each rank for at most `patience_s` seconds.

    Of people, whose connection took least time lately goes first, and now and then who has waited longest.
    """

    def __init__(self, name: str, at_once: int = 1, waiting: int = 200, patience_s: float = 10.0) -> None:
        self._free = at_once
        self._waiting = waiting
        self._patience_s = patience_s
        self._queues: tuple[deque[_Waiting], ...] = tuple(deque() for _ in Rank)
        self._batch_at = 0.0
        self._turns = 0
        self._begun: dict[object, float] = {}
        self._threads = ThreadPoolExecutor(at_once, thread_name_prefix=f"lane-{name}")

    def stands_s(self) -> float:
        """How long the call has been running that has run longest; 0 where none does."""
        return monotonic() - min(self._begun.values(), default=monotonic())

    def is_busy(self) -> bool:
        """Whether a person waits for what is worked at here."""
        return bool(self._begun) or bool(self._queues[Rank.PERSON])

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
        await self._enter(rank)
        me = object()
        self._begun[me] = monotonic()
        working = asyncio.get_running_loop().run_in_executor(self._threads, _counted, call, counted, client.account)
        working.add_done_callback(partial(self._leave, me))
        try:
            with client.on_leaving(counted.abandon):
                return await asyncio.shield(working)
        except (asyncio.CancelledError, AbandonedError):
            counted.abandon()
            raise

    async def _enter(self, rank: Rank) -> None:
        if self._free > 0:
            self._free -= 1
            return
        queue = self._queues[rank]
        if rank is not Rank.BATCH and len(queue) >= self._waiting:
            raise OverloadedError
        turn: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        if rank is Rank.BATCH and not queue:
            self._batch_at = monotonic()
        waiting = _Waiting(turn, visitor().account)
        queue.append(waiting)
        try:
            with visitor().on_leaving(partial(_give_up, turn)):
                async with asyncio.timeout(None if rank is Rank.BATCH else self._patience_s):
                    await turn
        except BaseException as error:
            if turn.done() and not turn.cancelled() and turn.exception() is None:
                self._pass_on()  # the turn came in the very moment in which it was given up
            else:
                with contextlib.suppress(ValueError):
                    queue.remove(waiting)
            if isinstance(error, TimeoutError):
                raise OverloadedError from None
            raise

    def _leave(self, me: object, working: asyncio.Future[T]) -> None:
        if not working.cancelled():
            working.exception()  # seen, though perhaps nobody waits for it any more
        del self._begun[me]
        self._pass_on()

    def _pass_on(self) -> None:
        is_due = monotonic() - self._batch_at > _BATCH_EVERY_S
        batches = self._queues[Rank.BATCH]
        for queue in (batches, *self._queues) if is_due else self._queues:
            while queue:
                turn = self._taken(queue)
                if not turn.done():
                    turn.set_result(None)
                    if queue is batches:
                        self._batch_at = monotonic()
                    return
        self._free += 1

    def _taken(self, queue: deque[_Waiting]) -> asyncio.Future[None]:
        self._turns += 1
        if self._turns % _OLDEST_EVERY == 0 or queue is not self._queues[Rank.PERSON]:
            return queue.popleft().turn
        least = min(queue, key=lambda waiting: waiting.account.spent_s())
        queue.remove(least)
        return least.turn


def _counted(call: Callable[[], T], meter: Meter, account: Account) -> T:
    begun_s = thread_time()
    try:
        with metered(meter):
            return call()
    finally:
        account.add(thread_time() - begun_s)


def _give_up(turn: asyncio.Future[None]) -> None:
    if not turn.done():
        turn.set_exception(AbandonedError())
