"""The gate: so many at once, so many waiting; whoever comes after that is told at once. Health does not wait there."""

import asyncio
import threading
import time
from collections.abc import Awaitable, Callable
from functools import partial

import httpx
import pytest

from service.usecases.library import Edition, Library
from service.web.app import create_app
from service.web.errors import OverloadedError
from service.web.gate import Lane
from service.web.lanes import Lanes
from service.web.routers import health
from tests.web.calls import problem


async def _eventually(holds: Callable[[], bool]) -> None:
    async with asyncio.timeout(10):
        while not holds():
            await asyncio.sleep(0.001)


def test_no_more_run_at_once_than_are_let() -> None:
    """Eight calls through a gate for two: two at a time, all answered in the end."""
    lock = threading.Lock()
    running: list[int] = []
    most = 0

    def work(number: int) -> int:
        nonlocal most
        with lock:
            running.append(number)
            most = max(most, len(running))
        time.sleep(0.01)
        with lock:
            running.remove(number)
        return number

    async def all_of_them() -> list[int]:
        gate = Lane("test", at_once=2, waiting=8)
        return await asyncio.gather(*(gate.run(partial(work, number)) for number in range(8)))

    assert asyncio.run(all_of_them()) == list(range(8))
    assert most == 2


def _held(gate: Lane, then: Callable[[Lane], Awaitable[None]]) -> None:
    """Do something while the one place of a gate is taken; afterwards the gate must let calls through again."""

    async def run() -> None:
        release = threading.Event()
        started = threading.Event()

        def hold() -> None:
            started.set()
            release.wait(10)

        holder = asyncio.create_task(gate.run(hold))
        try:
            await _eventually(started.is_set)
            await then(gate)
        finally:
            release.set()
            await holder
        assert await gate.run(lambda: int("7")) == 7

    asyncio.run(run())


def test_a_full_queue_refuses_at_once() -> None:
    """One runs, one waits, the third is refused; the one that waited gets its turn."""

    async def third(gate: Lane) -> None:
        second = asyncio.create_task(gate.run(lambda: int("2")))
        await asyncio.sleep(0)
        with pytest.raises(OverloadedError):
            await gate.run(lambda: int("3"))
        second.cancel()

    _held(Lane("test", waiting=1), third)


def test_a_slow_queue_refuses_after_a_while() -> None:
    """Nobody waits without end."""

    async def second(gate: Lane) -> None:
        with pytest.raises(OverloadedError):
            await gate.run(lambda: int("2"))

    _held(Lane("test", waiting=5, patience_s=0.05), second)


def test_a_failure_gives_its_place_back() -> None:
    """As many failures as there are places do not close the gate."""

    async def run() -> int:
        gate = Lane("test", at_once=2)
        for _ in range(5):
            with pytest.raises(ValueError, match="invalid literal"):
                await gate.run(lambda: int("x"))
        return await gate.run(lambda: int("7"))

    assert asyncio.run(run()) == 7


def test_health_answers_while_the_gate_is_shut(library: Library) -> None:
    """Questions are refused as too many, and say when to come again; the process is live and ready all the same."""

    async def look(gate: Lane) -> None:
        transport = httpx.ASGITransport(create_app(library, lanes=Lanes(browsing=gate)))
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            refused = await client.get("/v1/items")
            problem(refused, 503, "overloaded")
            assert int(refused.headers["retry-after"]) > 0
            for path in ("/v1/health/live", "/v1/health/ready", "/v1/health"):
                assert (await client.get(path)).status_code == 200

    _held(Lane("test", waiting=1, patience_s=0.05), look)


def test_a_lane_that_stands_is_not_ready(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """A question that takes longer than its steps can waits for something that does not come, and others behind it."""
    monkeypatch.setattr(health, "_STANDS_S", 0.02)

    async def look(lane: Lane) -> None:
        await asyncio.sleep(0.05)
        transport = httpx.ASGITransport(create_app(library, lanes=Lanes(questions=lane)))
        async with httpx.AsyncClient(transport=transport, base_url="http://portwright") as client:
            problem(await client.get("/v1/health/ready"), 503, "storage-unavailable")
            assert (await client.get("/v1/health/live")).status_code == 200

    _held(Lane("test"), look)


class _Slow(Library):
    """A library that takes its time."""

    def __init__(self, wait: threading.Event) -> None:
        self._wait = wait

    def newest_at_hand(self) -> int | None:
        return None

    def edition(self, number: int | None = None) -> Edition:
        self._wait.wait(10)
        raise AssertionError("nobody waits for this")


def test_what_is_not_ready_in_time_is_not_ready(monkeypatch: pytest.MonkeyPatch) -> None:
    """Readiness gives up on a database that hangs; liveness does not ask it."""
    monkeypatch.setattr(health, "_PATIENCE_S", 0.05)
    wait = threading.Event()

    async def look() -> None:
        transport = httpx.ASGITransport(create_app(_Slow(wait)))
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            problem(await client.get("/v1/health/ready"), 503, "storage-unavailable")
            assert (await client.get("/v1/health/live")).status_code == 200
        wait.set()

    asyncio.run(look())
