"""Lanes: who asks little waits for nobody who asks much, who writes holds up no reader, batches come last."""

import asyncio
import threading
from collections.abc import Awaitable, Callable, Coroutine, Iterator
from contextlib import contextmanager
from functools import partial
from typing import Any

import pytest

from service.domain.work import AbandonedError, TooCostlyError, spend
from service.usecases.long_work import begin_long_work
from service.web.errors import OverloadedError
from service.web.gate import Lane
from service.web.lanes import LIGHT_STEPS, LONGER_STEPS, Lanes
from service.web.turns import Rank
from service.web.visitors import _VISITOR, Visitor

PATIENCE_S = 10
MOST = 10 * LONGER_STEPS


class Held:
    """A call that waits until it is let."""

    def __init__(self) -> None:
        self.begun = threading.Event()
        self.let = threading.Event()

    def __call__(self) -> str:
        self.begun.set()
        assert self.let.wait(PATIENCE_S)
        return "held"


def run(then: Callable[[], Coroutine[Any, Any, None]]) -> None:
    async def timed() -> None:
        async with asyncio.timeout(PATIENCE_S):
            await then()

    asyncio.run(timed())


async def begun(held: Held, running: Awaitable[Any]) -> "asyncio.Future[Any]":
    task = asyncio.ensure_future(running)
    while not held.begun.is_set():
        await asyncio.sleep(0.001)
    return task


def thread_after(steps: int) -> str:
    """Where a call of so many steps ends up."""
    for _ in range(10):
        spend(steps // 10, "bills")
    return threading.current_thread().name.split("_")[0]


@pytest.mark.parametrize(
    ("steps", "lane"),
    [
        *((0, "questions"), (LIGHT_STEPS, "questions"), (2 * LIGHT_STEPS, "longer"), (LONGER_STEPS, "longer")),
        *((2 * LONGER_STEPS, "heavy"), (MOST, "heavy")),
    ],
)
def test_a_question_is_worked_out_where_its_steps_lead(steps: int, lane: str) -> None:
    async def ask() -> None:
        assert await Lanes(MOST).ask(partial(thread_after, steps)) == f"lane-{lane}"

    run(ask)


def test_a_question_past_the_limit_is_too_costly() -> None:
    """With the limit that was set, not with that of a lane; also where that is less than a lane's."""

    async def ask() -> None:
        for limit in (MOST, LIGHT_STEPS // 2):
            with pytest.raises(TooCostlyError) as refused:
                await Lanes(limit).ask(partial(thread_after, 2 * limit))
            assert refused.value.limit == limit

    run(ask)


def test_a_light_question_waits_for_no_other_kind_of_work() -> None:
    """A heavy question, a write, an upload and a look stand still; a light question is answered."""

    async def look() -> None:
        lanes = Lanes(MOST)
        holders = [Held() for _ in range(5)]

        def heavy() -> str:
            begin_long_work()
            return holders[0]()

        others = [
            await begun(holders[0], lanes.ask(heavy)),
            await begun(holders[1], lanes.writes.run(holders[1])),
            await begun(holders[2], lanes.writes.run(holders[2])),
            await begun(holders[3], lanes.uploads.run(holders[3])),
            await begun(holders[4], lanes.look(holders[4])),
        ]
        assert await lanes.ask(partial(thread_after, 1)) == "lane-questions"
        assert await lanes.look(partial(thread_after, 1)) == "lane-browsing"
        for holder in holders:
            holder.let.set()
        assert await asyncio.gather(*others) == ["held"] * 5

    run(look)


@contextmanager
def asking(question: bytes) -> Iterator[Visitor]:
    """Be the client of a request."""
    client = Visitor()
    client.question = question
    token = _VISITOR.set(client)
    try:
        yield client
    finally:
        _VISITOR.reset(token)


def test_what_a_question_cost_is_remembered() -> None:
    """Asked again it begins where it went before, and takes no turn of light questions."""
    places: list[str] = []

    def costly() -> None:
        places.append(threading.current_thread().name.split("_")[0])
        spend(2 * LONGER_STEPS, "bills")

    async def ask() -> None:
        lanes = Lanes(MOST)
        for question in (b"one", b"one", b"other"):
            with asking(question):
                await lanes.ask(costly)

    run(ask)
    through = ["lane-questions", "lane-longer", "lane-heavy"]
    assert places == [*through, "lane-heavy", *through]


def test_what_was_too_costly_comes_after_what_was_not() -> None:
    """It is worked out again, as nothing says that it must be refused; people with other questions go first."""
    order: list[str] = []

    def much(name: str, steps: int) -> None:
        begin_long_work()
        order.append(name)
        spend(steps, "bills")

    async def ask() -> None:
        lanes = Lanes(LIGHT_STEPS)
        held = Held()
        with asking(b"costly"):
            with pytest.raises(TooCostlyError):
                await lanes.ask(partial(much, "first", 2 * LIGHT_STEPS))
            holder = await begun(held, lanes.heavy.run(held))
            again = asyncio.create_task(lanes.ask(partial(much, "again", 2 * LIGHT_STEPS)))
            await asyncio.sleep(0.01)
        with asking(b"other"):
            other = asyncio.create_task(lanes.ask(partial(much, "other", 1)))
            await asyncio.sleep(0.01)
        held.let.set()
        await asyncio.gather(holder, other)
        with pytest.raises(TooCostlyError):
            await again

    run(ask)
    assert order == ["first", "other", "again"]


def test_who_took_little_goes_before_who_took_much(monkeypatch: pytest.MonkeyPatch) -> None:
    """But for some turns, which are the oldest's, so that nobody stands for ever."""
    monkeypatch.setattr("service.web.turns._OLDEST_EVERY", 4)
    order: list[str] = []

    async def look() -> None:
        lane = Lane("test")
        held = Held()
        holder = await begun(held, lane.run(held))
        calls = []
        for name, seconds in (("much 1", 3.0), ("much 2", 2.0), ("little 1", 0.2), ("little 2", 0.1), ("none", 0.0)):
            with asking(b"") as client:
                client.account.add(seconds)
                calls.append(asyncio.create_task(lane.run(partial(order.append, name))))
                await asyncio.sleep(0.001)
        held.let.set()
        await asyncio.gather(holder, *calls)

    run(look)
    assert order == ["none", "little 2", "little 1", "much 1", "much 2"]


def test_a_batch_comes_after_people_and_waits_as_long_as_it_takes() -> None:
    order: list[str] = []

    async def look() -> None:
        lane = Lane("test", patience_s=0.5)
        held = Held()
        holder = await begun(held, lane.run(held))
        batch = asyncio.create_task(lane.run(partial(order.append, "batch"), rank=Rank.BATCH))
        await asyncio.sleep(0.6)
        person = asyncio.create_task(lane.run(partial(order.append, "person")))
        await asyncio.sleep(0.01)
        held.let.set()
        await asyncio.gather(holder, batch, person)

    run(look)
    assert order == ["person", "batch"]


def test_a_batch_does_not_stand_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    """Among people who never cease it gets a turn now and then."""
    monkeypatch.setattr("service.web.turns._BATCH_EVERY_S", 0.05)
    order: list[str] = []

    async def look() -> None:
        lane = Lane("test")
        held = Held()
        holder = await begun(held, lane.run(held))
        calls = [asyncio.create_task(lane.run(partial(order.append, "batch"), rank=Rank.BATCH)) for _ in range(2)]
        calls += [asyncio.create_task(lane.run(partial(order.append, "person"))) for _ in range(2)]
        await asyncio.sleep(0.1)
        held.let.set()
        await asyncio.gather(holder, *calls)

    run(look)
    assert order == ["batch", "person", "person", "batch"]


def test_who_leaves_the_queue_leaves_its_place() -> None:
    """The call of a client that is gone is never made, and the next one's is."""
    made: list[str] = []

    async def look() -> None:
        lane = Lane("test", waiting=1)
        held = Held()
        holder = await begun(held, lane.run(held))
        with asking(b"") as client:
            waiting = asyncio.create_task(lane.run(partial(made.append, "gone")))
            await asyncio.sleep(0.01)
            client.leave()
            with pytest.raises(AbandonedError):
                await waiting
            with pytest.raises(AbandonedError):
                await lane.run(partial(made.append, "gone as well"))
        next_one = asyncio.create_task(lane.run(partial(made.append, "next")))
        await asyncio.sleep(0.01)
        with pytest.raises(OverloadedError):
            await lane.run(partial(made.append, "too many"))
        held.let.set()
        await asyncio.gather(holder, next_one)

    run(look)
    assert made == ["next"]


def test_work_ends_at_its_next_step_once_its_client_is_gone() -> None:
    """Its place is free when it has ended, whoever stopped waiting before."""
    ended = threading.Event()

    def endless(started: threading.Event) -> None:
        try:
            while True:
                started.set()
                spend(0, "bills")
                ended.wait(0.001)
        finally:
            ended.set()

    async def look() -> None:
        for leave in (True, False):
            lane = Lane("test")
            started = threading.Event()
            ended.clear()
            with asking(b"") as client:
                working = asyncio.create_task(lane.run(partial(endless, started)))
                while not started.is_set():
                    await asyncio.sleep(0.001)
                if leave:
                    client.leave()
                else:
                    working.cancel()
                with pytest.raises(AbandonedError if leave else asyncio.CancelledError):
                    await working
            assert await lane.run(ended.is_set)

    run(look)
