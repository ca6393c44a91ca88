"""Clients that leave, over a real server: what they asked for ends, and nothing that they sent is lost."""

import asyncio
import json
import logging
import socket
import time
from threading import Event

import pytest
from starlette.responses import Response
from starlette.types import Message, Receive, Scope, Send

from service.domain.work import AbandonedError, spend
from service.usecases.library import Edition, Library
from service.web.app import create_app
from service.web.routers import bills
from service.web.visitors import Visitors, visitor
from tests.web.conftest import QUESTION
from tests.web.test_order_batches_page import served_here

PATIENCE_S = 20


@pytest.fixture(name="endless")
def _endless(monkeypatch: pytest.MonkeyPatch) -> tuple[Event, Event]:
    """A question without end: whether it has begun, whether it was abandoned."""
    has_begun, was_abandoned = Event(), Event()

    def found_in(edition: Edition, question: object, detail: object) -> Response:
        try:
            while True:
                has_begun.set()
                spend(0, "bills")
                time.sleep(0.001)
        except AbandonedError:
            was_abandoned.set()
            raise

    monkeypatch.setattr(bills, "found_in", found_in)
    return has_begun, was_abandoned


def posted(path: str, body: bytes) -> bytes:
    """A request as it goes over the wire."""
    head = f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
    return f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body


def test_a_question_that_its_client_left_goes_on_no_longer(
    library: Library, endless: tuple[Event, Event], caplog: pytest.LogCaptureFixture
) -> None:
    """The next one of its lane is answered; the log has it as no failure."""
    caplog.set_level(logging.INFO)
    has_begun, was_abandoned = endless
    with served_here(create_app(library)) as client:
        with socket.create_connection((client.base_url.host, client.base_url.port)) as connection:
            connection.sendall(posted("/v1/bills", json.dumps(QUESTION).encode()))
            assert has_begun.wait(PATIENCE_S)
        assert was_abandoned.wait(PATIENCE_S)
        assert client.get("/v1/chassis/brook/layouts").status_code == 200
    assert "the caller left before the answer (499)" in caplog.text
    assert not [record for record in caplog.records if record.levelno >= logging.ERROR]


def test_what_follows_on_a_connection_is_not_lost(library: Library) -> None:
    """Two requests at once on one connection, the first with a body: both are answered, in order."""
    with served_here(create_app(library)) as client:
        address = (client.base_url.host, client.base_url.port)
        first = posted("/v1/bills", b'{"chassis": "brook", "layout": "hose-centre", "limit": 1}')
        second = b"GET /v1/health/live HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n"
        with socket.create_connection(address, timeout=PATIENCE_S) as connection:
            connection.sendall(first + second)
            answered = b""
            while part := connection.recv(65_536):
                answered += part
    assert answered.count(b"HTTP/1.1 200 OK") == 2
    assert answered.endswith(b'{"live":true}')


def test_a_body_in_parts_comes_whole_and_then_nothing() -> None:
    """Who reads on after the body is told of the departure alone, and every reader is."""
    parts: list[Message] = [
        {"type": "http.request", "body": b"a", "more_body": True},
        {"type": "http.request", "body": b"b", "more_body": False},
        {"type": "http.disconnect"},
    ]
    told: list[Message] = []
    questions: list[bytes | None] = []

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        for _ in range(2):
            told.append(await receive())
            questions.append(visitor().question)
        told.extend(await asyncio.gather(receive(), receive()))
        assert visitor().is_gone

    async def run() -> None:
        async def receive() -> Message:
            return parts.pop(0)

        async def send(message: Message) -> None:
            raise AssertionError("nobody answers")

        scope = {"type": "http", "method": "POST", "query_string": b"", "state": {}}
        scope["headers"] = [(b"transfer-encoding", b"chunked")]
        async with asyncio.timeout(PATIENCE_S):
            await Visitors(app)(scope, receive, send)

    asyncio.run(run())
    assert [message.get("body") for message in told] == [b"a", b"b", None, None]
    assert questions[0] is None
    assert questions[1] is not None
