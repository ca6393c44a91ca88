"""Probes: what is well is told again while it is fresh; what is not, is looked at each time."""

import asyncio

import pytest
from starlette.types import Message, Receive, Scope, Send

from service.web import probes
from service.web.probes import Probes


class _Health:
    """An application that answers with a status, and counts how often it is asked."""

    def __init__(self) -> None:
        self.status = 200
        self.asked = 0
        self.pause = asyncio.Event()
        self.pause.set()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        self.asked += 1
        await self.pause.wait()
        await send({"type": "http.response.start", "status": self.status, "headers": []})
        await send({"type": "http.response.body", "body": b"%d" % self.asked})


async def _ask(app: Probes, **other: object) -> list[object]:
    told: list[object] = []

    async def send(message: Message) -> None:
        told.append(message.get("status", message.get("body")))

    async def receive() -> Message:
        return {"type": "http.request", "body": b""}

    usual = {"type": "http", "method": "GET", "path": "/v1/health/ready", "query_string": b"", "headers": []}
    await app(usual | other, receive, send)
    return told


def test_what_is_well_is_told_again_while_it_is_fresh(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same answer at once; a new one later."""
    now = 100.0
    monkeypatch.setattr(probes, "monotonic", lambda: now)
    health = _Health()
    app = Probes(health)

    async def probe() -> list[list[object]]:
        nonlocal now
        found = [await _ask(app), await _ask(app)]
        now += 0.2
        return [*found, await _ask(app)]

    assert asyncio.run(probe()) == [[200, b"1"], [200, b"1"], [200, b"2"]]


def test_what_is_not_well_is_looked_at_each_time() -> None:
    """And what was well before is forgotten."""
    health = _Health()
    health.status = 503
    app = Probes(health)

    async def probe() -> list[list[object]]:
        return [await _ask(app), await _ask(app)]

    assert asyncio.run(probe()) == [[503, b"1"], [503, b"2"]]


def test_one_looks_for_all(monkeypatch: pytest.MonkeyPatch) -> None:
    """While one finds out anew, the others are told what was found last, for as long as that is not old."""
    now = 100.0
    monkeypatch.setattr(probes, "monotonic", lambda: now)
    health = _Health()
    app = Probes(health)

    async def probe() -> None:
        nonlocal now
        await _ask(app)
        now += 0.2
        health.pause.clear()
        first = asyncio.create_task(_ask(app))
        await asyncio.sleep(0)
        assert await _ask(app) == [200, b"1"]
        now += 0.9
        late = asyncio.create_task(_ask(app))
        await asyncio.sleep(0)
        health.pause.set()
        assert (await first, await late) == ([200, b"3"], [200, b"3"])

    asyncio.run(probe())


@pytest.mark.parametrize(
    "other", [{"path": "/v1/items"}, {"method": "HEAD"}, {"query_string": b"x=1"}], ids=["path", "method", "query"]
)
def test_all_else_goes_its_way(other: dict[str, object]) -> None:
    """Other paths and methods, and what has a query, which is to be refused."""
    app = Probes(_Health())

    async def probe() -> list[list[object]]:
        return [await _ask(app, **other), await _ask(app, **other)]

    assert asyncio.run(probe()) == [[200, b"1"], [200, b"2"]]
