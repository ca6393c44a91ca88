"""A real server and what is sent to it over raw sockets: heads and bodies that are late, large or of two minds."""

import asyncio
import json
import re
import socket
import time
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from urllib.parse import urlsplit

import httpx
import pytest
from starlette.requests import ClientDisconnect
from starlette.responses import PlainTextResponse, StreamingResponse
from starlette.types import ASGIApp, Receive, Scope, Send
from uvicorn.config import Config
from uvicorn.server import ServerState

from service.web.connection import MOST_HEAD_BYTES, Connection, _House
from service.web.places import Places
from tests.support.forked import served
from tests.support.server import PATIENCE_S

HEAD = b"Host: 127.0.0.1\r\n"
HEALTH = b"GET /v1/health/live HTTP/1.1\r\n" + HEAD + b"\r\n"
MOST = 40
HEAD_TIMEOUT_S = 1.0


@pytest.fixture(scope="module", name="server")
def _server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A server without a catalog, with few places and little patience."""
    url = f"sqlite:///{tmp_path_factory.mktemp('edge') / 'empty.sqlite3'}"
    settings = {"most_connections": str(2 * MOST), "most_connections_a_client": str(MOST)}
    with served(url, head_timeout_s=str(HEAD_TIMEOUT_S), back_process="false", **settings) as address:
        yield address


def connected(server: str, client: str = "127.0.0.1") -> socket.socket:
    address = urlsplit(server)
    place = (address.hostname or "", address.port or 0)
    return socket.create_connection(place, timeout=PATIENCE_S, source_address=(client, 0))


def read(connection: socket.socket) -> bytes:
    """All that is answered until the server closes."""
    answer = b""
    while part := connection.recv(65_536):
        answer += part
    return answer


def exchanged(server: str, sent: bytes) -> bytes:
    with connected(server) as connection:
        connection.sendall(sent)
        return read(connection)


def problem(answer: bytes) -> tuple[int, str]:
    """The status and the type of the one answer, which must be a whole problem document and the last."""
    head, _, body = answer.partition(b"\r\n\r\n")
    lines = head.lower().split(b"\r\n")
    assert b"content-type: application/problem+json" in lines
    assert b"connection: close" in lines
    assert b"x-content-type-options: nosniff" in lines
    told = json.loads(body)
    assert b"x-request-id: " + told["instance"].removeprefix("urn:uuid:").encode() in lines
    assert int(head.split()[1]) == told["status"]
    return told["status"], told["type"].rpartition("/")[2]


def statuses(answer: bytes) -> list[int]:
    return [int(found) for found in re.findall(rb"HTTP/1\.1 (\d{3}) ", answer)]


@pytest.mark.parametrize(
    "head",
    [
        b"Content-Length: 4\r\nTransfer-Encoding: chunked\r\n",
        b"Transfer-Encoding: chunked\r\nContent-Length: 4\r\n",
        b"Transfer-Encoding: chunked, identity\r\n",
        b"Content-Length: 4\r\nContent-Length: 5\r\n",
    ],
)
def test_a_body_that_may_end_in_two_ways_is_the_last(server: str, head: bytes) -> None:
    """RFC 9112, section 6.1: nothing behind it is answered."""
    sent = b"POST /v1/bills HTTP/1.1\r\n" + HEAD + b"Content-Type: application/json\r\n" + head
    answer = exchanged(server, sent + b"\r\n0\r\n\r\n" + HEALTH)
    assert problem(answer) == (400, "malformed-request")
    assert statuses(answer) == [400]


def test_requests_in_a_row_are_answered_in_their_order(server: str) -> None:
    """What is refused comes after what was asked before, and is the last."""
    answer = exchanged(server, HEALTH + HEALTH + b"GET / HTTP/1.1\r\n" + HEAD + b"Connection: close\r\n\r\n" + HEALTH)
    assert statuses(answer) == [200, 200, 303]
    with connected(server) as connection:
        connection.sendall(HEALTH)
        assert statuses(connection.recv(65_536)) == [200]
        connection.sendall(b"no request\r\n\r\n")
        assert problem(read(connection)) == (400, "malformed-request")


@pytest.mark.parametrize(
    ("sent", "status", "code"),
    [
        (b"GET /" + b"a" * MOST_HEAD_BYTES + b" HTTP/1.1\r\n" + HEAD + b"\r\n", 414, "address-too-long"),
        (b"GET /" + b"a" * 3 * MOST_HEAD_BYTES, 414, "address-too-long"),
        (b"GET / HTTP/1.1\r\n" + HEAD + b"A: " + b"a" * MOST_HEAD_BYTES + b"\r\n\r\n", 431, "head-too-large"),
        (b"GET / HTTP/1.1\r\n" + HEAD + b"a:b\r\n" * 300, 431, "head-too-large"),
        (b"GET / HTTP/1.1\r\n" + HEAD + b"A:" + b" " * 60_000 + b"\x00\r\n\r\n", 400, "malformed-request"),
        (b"GET / HTTP/1.1\r\nA: b\r\n\r\n", 400, "malformed-request"),
        (b"GET / HTTP/1.1\r\n" + HEAD + HEAD + b"\r\n", 400, "malformed-request"),
        (b"GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n", 421, "wrong-host"),
        (b"FETCH / HTTP/1.1\r\n" + HEAD + b"\r\n", 400, "malformed-request"),
        (b"\x16\x03\x01\x02\x00\x01\x00", 400, "malformed-request"),
    ],
    ids=["address", "no end", "header", "headers", "spaces", "no host", "two hosts", "other host", "method", "TLS"],
)
def test_heads_that_are_not_taken(server: str, sent: bytes, status: int, code: str) -> None:
    """Each is told with its problem, and at once."""
    start = time.monotonic()
    if b"Host" in sent and code in ("wrong-host", "malformed-request"):
        sent = sent.replace(b"\r\n\r\n", b"\r\nConnection: close\r\n\r\n")
    assert problem(exchanged(server, sent)) == (status, code)
    assert time.monotonic() - start < PATIENCE_S / 4


def test_the_largest_head_is_taken(server: str) -> None:
    """To the byte, with an address that holds a whole question."""
    head = b"GET /v1/bills?chassis=" + b"a" * 30_000 + b" HTTP/1.1\r\n" + HEAD + b"Connection: close\r\nA: "
    rest = MOST_HEAD_BYTES - len(head) + len(b"GET  HTTP/1.1\r\n") - len(b"\r\n")
    assert statuses(exchanged(server, head + b"a" * rest + b"\r\n\r\n")) == [422]
    assert statuses(exchanged(server, head + b"a" * (rest + 1) + b"\r\n\r\n")) == [431]


def test_a_body_in_frames_without_end_is_refused(server: str) -> None:
    """Trailers and extensions of chunks are not read for ever."""
    head = (
        b"POST /v1/bills HTTP/1.1\r\n" + HEAD + b"Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"
    )
    for endless in (b"1;" + b"x" * 400_000, b"1\r\n{\r\n0\r\nA: " + b"a" * 400_000):
        with connected(server) as connection:
            connection.sendall(head + endless)
            assert problem(read(connection)) == (400, "malformed-request")


def test_heads_that_are_not_ended_are_closed(server: str) -> None:
    """With a word to who has begun; without one to who has said nothing."""
    with connected(server) as silent, connected(server) as begun, connected(server) as late:
        begun.sendall(b"GET / HTT")
        late.sendall(HEALTH)
        assert statuses(late.recv(65_536)) == [200]
        late.sendall(HEALTH[:-2])
        assert problem(read(begun)) == (408, "head-timeout")
        assert problem(read(late)) == (408, "head-timeout")
        assert read(silent) == b""


def test_the_rest_of_a_body_is_not_waited_for_after_its_answer(server: str) -> None:
    """Nor by one byte after the other."""
    with connected(server) as connection:
        connection.sendall(b"POST /nothing HTTP/1.1\r\n" + HEAD + b"Content-Length: 1000\r\n\r\n")
        assert statuses(connection.recv(65_536)) == [404]
        start = time.monotonic()
        with pytest.raises(OSError, match=r".*"):  # noqa: PT012 the server closes between two of them
            while time.monotonic() - start < PATIENCE_S:
                connection.sendall(b"a")
                time.sleep(0.2)


def test_a_thousand_half_heads_stop_nobody(server: str) -> None:
    """They take the places of one another: who asks is answered, from the same address and from others."""
    with ExitStack() as stack:
        for number in range(1_100):
            half = stack.enter_context(connected(server))
            half.sendall(b"GET / HTTP/1.1\r\nHost: ")
            if number % 100 == 99:
                start = time.monotonic()
                assert httpx.get(f"{server}/v1/health/live", timeout=PATIENCE_S).status_code == 200
                assert time.monotonic() - start < 5


def test_an_upgrade_is_not_made(server: str) -> None:
    """The request is answered as it is, and is the last."""
    sent = HEALTH[:-2] + b"Connection: Upgrade\r\nUpgrade: websocket\r\n\r\n"
    assert statuses(exchanged(server, sent + HEALTH)) == [200]


def test_any_name_may_ask_for_health(server: str) -> None:
    """What looks after a container has names of its own."""
    for path in ("live", "ready"):
        answer = httpx.get(f"{server}/v1/health/{path}", headers={"Host": "pod.internal"}, timeout=PATIENCE_S)
        assert answer.status_code in (200, 503)


@contextmanager
def house(monkeypatch: pytest.MonkeyPatch, most: int, porch: int = 4) -> Iterator[Callable[[ASGIApp], Connection]]:
    """Makes connections of this process to an application, with so many places."""
    shared = _House(Places(most, most), Places(porch, porch), 10.0)
    monkeypatch.setattr("service.web.connection._house", lambda: shared)

    def made(app: ASGIApp) -> Connection:
        config = Config(app, lifespan="off", ws="none", log_config=None, access_log=False)
        config.load()
        return Connection(config, ServerState(), {})

    yield made


async def _asked(port: int) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
    reader, writer = await asyncio.open_connection("127.0.0.1", port, limit=1_000)
    writer.write(HEALTH)
    return reader, writer


def test_who_finds_no_place_is_told_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where all who have one are being worked for; there is one again as soon as one of them is answered."""
    end = asyncio.Event()

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        await end.wait()
        await PlainTextResponse("done")(scope, receive, send)

    async def run() -> None:
        with house(monkeypatch, most=2) as made:
            server = await asyncio.get_running_loop().create_server(lambda: made(app), "127.0.0.1", 0)
            port = server.sockets[0].getsockname()[1]
            asked = [await _asked(port) for _ in range(2)]
            await asyncio.sleep(0.1)
            reader, refused = await _asked(port)
            answer = await reader.read()
            assert answer.startswith(b"HTTP/1.1 503 ")
            assert b"retry-after: 1\r\n" in answer
            assert b"/v1/problems/overloaded" in answer
            end.set()
            for one, _ in asked:
                assert (await one.read(100)).startswith(b"HTTP/1.1 200 ")
            again, writer = await _asked(port)
            assert (await again.read(100)).startswith(b"HTTP/1.1 200 ")
            for closing in (refused, writer, *(other for _, other in asked)):
                closing.close()
            server.close()

    asyncio.run(run())


def test_an_answer_that_is_not_read_is_not_kept_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    """A client that takes nothing of it is left, and what makes the answer goes on to its end."""
    monkeypatch.setattr("service.web.connection._SENT_WITHIN_S", 0.3)
    monkeypatch.setattr("service.web.connection._LOOK_EVERY_S", 0.1)
    ended = asyncio.Event()

    async def chunks() -> AsyncIterator[bytes]:
        for _ in range(50):
            yield b"a" * 1_000_000

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        with suppress(ClientDisconnect):
            await StreamingResponse(chunks())(scope, receive, send)
        ended.set()

    async def run() -> None:
        with house(monkeypatch, most=2) as made:
            server = await asyncio.get_running_loop().create_server(lambda: made(app), "127.0.0.1", 0)
            reader, writer = await _asked(server.sockets[0].getsockname()[1])
            assert (await reader.read(100)).startswith(b"HTTP/1.1 200 ")
            async with asyncio.timeout(PATIENCE_S):
                await ended.wait()
            writer.close()
            server.close()

    asyncio.run(run())


class _Guest:
    def __init__(self, host: str, since: float | None) -> None:
        self.client_host = host
        self.since = since
        self.is_gone = False

    def waits_since(self) -> float | None:
        return self.since

    def give_way(self) -> None:
        self.is_gone = True


def test_who_keeps_the_server_waiting_for_the_longest_gives_way() -> None:
    """Of the same client where that has its share, else of all; never one that is being worked for."""
    places = Places(3, 2)
    busy, waiting, longer = _Guest("a", None), _Guest("b", 2.0), _Guest("b", 1.0)
    assert all(places.take(guest) for guest in (busy, waiting, longer))
    assert places.take(newest := _Guest("b", None))
    assert [guest.is_gone for guest in (busy, waiting, longer)] == [False, False, True]
    assert places.take(_Guest("c", None))
    assert (busy.is_gone, waiting.is_gone) == (False, True)
    assert not places.take(_Guest("d", None))
    places.leave(busy)
    places.leave(busy)
    assert places.take(_Guest("b", None))
    assert not places.take(_Guest("b", None))
    assert not newest.is_gone
