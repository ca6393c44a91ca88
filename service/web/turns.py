"""Turns: so many at once, so many waiting, none for longer than is sensible.

Whoever finds the queue full learns so at once and can ask elsewhere.
"""

import asyncio
import contextlib
from collections import deque
from collections.abc import AsyncIterator
from enum import IntEnum
from functools import partial
from random import uniform
from time import monotonic
from typing import NamedTuple

from service.domain.work import AbandonedError
from service.web.errors import ElsewhereError, OverloadedError
from service.web.visitors import Visitor, visitor


class Rank(IntEnum):
    """Who goes first of those that wait for a turn."""

    PERSON = 0
    KNOWN_COSTLY = 1
    """Asks what was too costly before."""
    BATCH = 2
    """One of many, for which nobody waits; it waits without end, and gets a turn now and then."""


_BATCH_EVERY_S = 2.0
"""However many people wait, a batch has a turn so often: they notice it little, and it does not stand for ever."""
_OLDEST_EVERY = 8
_SPREAD = (0.5, 1.0)
"""Who came together is not told all at once: a hundred refusals in a row are noticed by everybody else."""


class _Waiting(NamedTuple):
    """A turn that somebody waits for."""

    turn: asyncio.Future[None]
    client: Visitor

    @property
    def usual_s(self) -> float:
        """What its client usually asks."""
        return self.client.account.usual_s()


class Turns:
    """Gives out `at_once` turns, keeps `waiting` more of each rank for `patience_s` at most, half of it at least.

    Where more than `crowded` people wait, who asks most of them is sent to the back process, if there is one.

    Of people, whose connection asked least of late goes first, and now and then who has waited longest.
    """

    def __init__(self, at_once: int = 1, waiting: int = 200, patience_s: float = 10.0, crowded: int = 1_000) -> None:
        self._free = at_once
        self._waiting = waiting
        self._patience_s = patience_s
        self._crowded = crowded
        self._queues: tuple[deque[_Waiting], ...] = tuple(deque() for _ in Rank)
        self._batch_at = 0.0
        self._turns = 0

    @property
    def people_waiting(self) -> int:
        """How many people wait for a turn."""
        return len(self._queues[Rank.PERSON])

    def is_full(self, rank: Rank = Rank.PERSON) -> bool:
        """Whether nobody of this rank can be kept waiting any more."""
        return self._free == 0 and rank is not Rank.BATCH and len(self._queues[rank]) >= self._waiting

    @contextlib.asynccontextmanager
    async def turn(self, rank: Rank = Rank.PERSON) -> AsyncIterator[None]:
        """Have a turn for the length of the block. Raises as `enter`."""
        await self.enter(rank)
        try:
            yield
        finally:
            self.pass_on()

    async def enter(self, rank: Rank) -> None:
        """Wait for a turn, which is given back by `pass_on`.

        Raises:
            OverloadedError: where the queue is full or stands for too long.
            AbandonedError: where the client left meanwhile.
        """
        if self._free > 0:
            self._free -= 1
            return
        if self.is_full(rank):
            raise OverloadedError
        if rank is Rank.PERSON and self.people_waiting >= self._crowded:
            self._send_one_off()
        queue = self._queues[rank]
        turn: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        if rank is Rank.BATCH and not queue:
            self._batch_at = monotonic()
        waiting = _Waiting(turn, visitor())
        queue.append(waiting)
        patience_s = self._patience_s * uniform(*_SPREAD)  # noqa: S311 nothing is kept secret by it
        try:
            with visitor().on_leaving(partial(_give_up, turn)):
                async with asyncio.timeout(None if rank is Rank.BATCH else patience_s):
                    await turn
        except BaseException as error:
            if turn.done() and not turn.cancelled() and turn.exception() is None:
                self.pass_on()  # the turn came in the very moment in which it was given up
            else:
                with contextlib.suppress(ValueError):
                    queue.remove(waiting)
            if isinstance(error, TimeoutError):
                raise OverloadedError from None
            raise

    def pass_on(self) -> None:
        """Give a turn back: to who is next, or to who comes."""
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

    def _send_one_off(self) -> None:
        """Send to the back process who asks most of all that may go there, whoever just came among them."""
        me = visitor()
        people = self._queues[Rank.PERSON]
        most = max((waiting for waiting in people if waiting.client.may_go), key=_usual_s, default=None)
        if me.may_go and (most is None or me.account.usual_s() >= most.usual_s):
            raise ElsewhereError
        if most is not None and not most.turn.done():
            most.turn.set_exception(ElsewhereError())
            people.remove(most)

    def _taken(self, queue: deque[_Waiting]) -> asyncio.Future[None]:
        self._turns += 1
        if self._turns % _OLDEST_EVERY == 0 or queue is not self._queues[Rank.PERSON]:
            return queue.popleft().turn
        least = min(queue, key=_usual_s)
        queue.remove(least)
        return least.turn


def _usual_s(waiting: _Waiting) -> float:
    return waiting.usual_s


def _give_up(turn: asyncio.Future[None]) -> None:
    if not turn.done():
        turn.set_exception(AbandonedError())
