"""How connections rest: in a crowd, after refusals, the longer the more there were in a row."""

import asyncio
from collections.abc import Sequence

import pytest
from starlette.types import Message, Receive, Scope, Send

from service.web.conduct import CROWD, Conduct, Crowd, rest_of


def rests(statuses: Sequence[int], others: int) -> list[float]:
    """How long [s] a connection rests after each of these answers, beside so many other requests."""
    crowd = Crowd()
    crowd.count = others
    given = iter(statuses)
    found = []

    async def answer(scope: Scope, receive: Receive, send: Send) -> None:
        await send({"type": "http.response.start", "status": next(given), "headers": []})

    async def none(_message: Message | None = None) -> Message:
        return {}

    async def ask() -> None:
        app = Conduct(answer, crowd)
        for _ in statuses:
            scope = {"type": "http", "client": ("127.0.0.1", 1), "headers": [], "state": {}}
            await app(scope, none, none)
            found.append(rest_of(scope))

    asyncio.run(ask())
    return found


@pytest.mark.parametrize(
    ("statuses", "others", "expected_s"),
    [
        ([422] * 8, CROWD - 2, [0.0] * 8),
        ([422] * 8, CROWD, [0.5, 0.5, 1.0, 2.0, 4.0, 4.0, 4.0, 4.0]),
        ([422, 422, 422, 200, 422], CROWD, [0.5, 0.5, 1.0, 0.0, 0.5]),
        ([200, 503], CROWD, [0.0, 1.0]),
    ],
    ids=["few", "in-a-row", "an-answer-between", "come-again"],
)
def test_who_is_refused_in_a_crowd_rests(statuses: list[int], others: int, expected_s: list[float]) -> None:
    """Twice as long each time, up to a bound; whoever is answered again begins anew."""
    assert rests(statuses, others) == pytest.approx(expected_s)
