"""The back process, as the one in front sees it: what takes long is handed on whole, and its answer passed back.

Both speak HTTP/1.1 over a Unix-domain socket, where uvicorn answers with the same application. This side is a protocol
over httptools, as uvicorn's is: httpx takes about a millisecond for a request, and whoever is attacked has to pass on
many.
"""

import asyncio
import logging
from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import asynccontextmanager
from time import monotonic

import httptools
from starlette.types import Scope, Send

from service.domain.work import AbandonedError
from service.web.access import caller_of, told
from service.web.conduct import account_of
from service.web.errors import OverloadedError
from service.web.middleware import REFUSAL
from service.web.turns import Turns
from service.web.visitors import DETAIL, Visitor

VISITOR = b"portwright-visitor"
"""The header that tells the back process whose connection a request came by."""
CALLER = b"portwright-caller"
"""The header that tells it who asks: what is asked of a key was looked at in front."""
COST = b"portwright-cost"
"""The header by which it tells what the answer cost [s of processor time]."""

OUTCOME = b"portwright-outcome"
"""The header by which it tells the detail that was asked for and the code of a problem."""

_OWN = frozenset((VISITOR, CALLER, COST, OUTCOME))
_OF_THE_CONNECTION = frozenset((b"connection", b"keep-alive", b"transfer-encoding", b"content-length", b"expect"))
_REQUEST_ID = b"x-request-id"
_NOT_SENT = _OWN | _OF_THE_CONNECTION | {b"upgrade", _REQUEST_ID}
_NOT_TOLD = _OWN | {b"connection", b"keep-alive", b"transfer-encoding"}
_NOTED = (DETAIL, REFUSAL)
_COMES_WITHIN_S = 5.0
"""So long a question waits for a back process that is just being started anew."""
_LOOK_EVERY_S = 0.1
_BEGINS_WITHIN_S = 60.0
"""No question waits and is worked at for so long; lines of a batch may."""
_GONE_FOR_S = 15.0
_HEARD_LATELY_S = 1.0
_HELD_BYTES = 256 * 1024
_END = None

_log = logging.getLogger(__name__)


class BackGoneError(OverloadedError):
    """The back process ended, or stood, before the answer."""


class Back:
    """The back process behind a socket. `questions`, `files`: how many of either it may be handed at once."""

    def __init__(self, socket: str) -> None:
        self._socket = socket
        self._idle: list[_Line] = []
        self._was_there = False
        self._missed_since: float | None = None
        self._heard_at = -_HEARD_LATELY_S
        self.questions = Turns(at_once=24, waiting=400, patience_s=5.0)
        self.files = Turns(at_once=6, waiting=12, patience_s=5.0)

    @property
    def was_there(self) -> bool:
        """Whether it has been there since the start: until then all is answered in front."""
        return self._was_there

    async def watch_for_it(self) -> None:
        """Wait until it is there for the first time."""
        while not await self.is_there():
            await asyncio.sleep(_LOOK_EVERY_S)

    async def is_there(self) -> bool:
        """Whether it takes requests now."""
        try:
            line = await self._new_line()
        except OSError:
            return False
        self._idle.append(line)
        return True

    async def is_lost(self) -> bool:
        """Whether it was there and has been missing for longer than a new one takes to start."""
        is_known = monotonic() - self._heard_at < _HEARD_LATELY_S or any(line.is_idle for line in self._idle)
        if not self._was_there or is_known or await self.is_there():
            return False
        self._missed_since = self._missed_since or monotonic()
        return monotonic() - self._missed_since > _GONE_FOR_S

    async def answer(self, scope: Scope, body: bytes, send: Send, client: Visitor) -> None:
        """Have a request answered there; where its client leaves, the work ends there too.

        Raises BackGoneError before the answer has begun, AbandonedError.
        """
        working = asyncio.create_task(self._relay(scope, body, send))
        try:
            with client.on_leaving(working.cancel):
                await asyncio.shield(working)
        except asyncio.CancelledError:
            working.cancel()
            if client.is_gone:
                raise AbandonedError from None
            raise

    def close(self) -> None:
        """Close what is open to it."""
        while self._idle:
            self._idle.pop().close()

    async def _relay(self, scope: Scope, body: bytes, send: Send) -> None:
        async with self._line() as line:
            async with asyncio.timeout(_BEGINS_WITHIN_S):
                line.ask(_request(scope, body))
                status, headers = await line.head()
            self._heard_at = monotonic()
            for name, value in headers:
                if name == COST:
                    account_of(scope).add(float(value))
                elif name == OUTCOME:
                    _note(scope, value)
            passed = [(name, value) for name, value in headers if name not in _NOT_TOLD]
            await send({"type": "http.response.start", "status": status, "headers": passed})
            while (part := await line.part()) is not _END:
                await send({"type": "http.response.body", "body": part, "more_body": True})
        await send({"type": "http.response.body", "body": b"", "more_body": False})

    @asynccontextmanager
    async def _line(self) -> AsyncIterator["_Line"]:
        """A connection to it, kept for the next one where the answer came whole."""
        line = self._kept_line() or await self._fresh_line()
        try:
            yield line
        except TimeoutError:
            _log.error("the back process did not answer within %g s", _BEGINS_WITHIN_S)
            raise BackGoneError from None
        finally:
            if line.is_idle:
                self._idle.append(line)
            else:
                line.close()

    def _kept_line(self) -> "_Line | None":
        while self._idle:
            line = self._idle.pop()
            if line.is_idle:
                return line
        return None

    async def _fresh_line(self) -> "_Line":
        until = monotonic() + _COMES_WITHIN_S
        while True:
            try:
                return await self._new_line()
            except OSError:
                if monotonic() > until:
                    raise BackGoneError from None
                await asyncio.sleep(_LOOK_EVERY_S)

    async def _new_line(self) -> "_Line":
        _, line = await asyncio.get_running_loop().create_unix_connection(_Line, self._socket)
        self._was_there = True
        self._missed_since = None
        self._heard_at = monotonic()
        return line


def outcome(scope: Scope) -> bytes:
    """What is known of a request that was answered, as a header."""
    return ";".join(str(scope["state"].get(name) or "") for name in _NOTED).encode()


def _note(scope: Scope, value: bytes) -> None:
    told = zip(_NOTED, value.decode().split(";"), strict=True)
    scope["state"].update({name: text for name, text in told if text})


def _request(scope: Scope, body: bytes) -> bytes:
    """The bytes of a request as it came, but for what concerns its connection alone; with its id."""
    query = scope["query_string"]
    target = scope["raw_path"] + (b"?" + query if query else b"")
    lines = [b"%s %s HTTP/1.1\r\n" % (scope["method"].encode(), target)]
    lines += [b"%s: %s\r\n" % header for header in scope["headers"] if header[0] not in _NOT_SENT]
    host, port = scope.get("client") or ("", 0)
    lines.append(b"%s: %s\r\n" % (_REQUEST_ID, scope["state"]["request_id"].encode()))
    lines.append(b"%s: %s\r\n" % (CALLER, told(caller_of(scope))))
    lines.append(b"%s: %s %d\r\ncontent-length: %d\r\n\r\n" % (VISITOR, host.encode(), port, len(body)))
    return b"".join([*lines, body])


class _Line(asyncio.Protocol):
    """A connection to the back process, for one request after the other."""

    def __init__(self) -> None:
        self._transport: asyncio.Transport | None = None
        self._parser = httptools.HttpResponseParser(self)
        self._headers: list[tuple[bytes, bytes]] = []
        self._parts: list[bytes | None] = []
        self._held_bytes = 0
        self._has_head = False
        self._is_lost = False
        self._came = asyncio.Event()
        self.is_idle = True

    def ask(self, request: bytes) -> None:
        """Send a request."""
        self.is_idle = False
        self._headers, self._parts, self._has_head = [], [], False
        if self._transport is not None:
            self._transport.write(request)

    async def head(self) -> tuple[int, Iterable[tuple[bytes, bytes]]]:
        """Wait for status and headers. Raises BackGoneError."""
        await self._until(lambda: self._has_head)
        return self._parser.get_status_code(), self._headers

    async def part(self) -> bytes | None:
        """Wait for the next part of the body; None: it was the last. Raises BackGoneError."""
        await self._until(lambda: bool(self._parts))
        whole = b"".join(part for part in self._parts if part is not _END)
        is_end = self._parts[-1] is _END
        self._parts = [_END] if is_end and whole else []
        self._held_bytes = 0
        if self._transport is not None and not self.is_idle:
            self._transport.resume_reading()
        return _END if is_end and not whole else whole

    def close(self) -> None:
        """Close it, whatever is still to come."""
        self.is_idle = False
        if self._transport is not None:
            self._transport.abort()

    async def _until(self, holds: Callable[[], bool]) -> None:
        while not holds():
            if self._is_lost:
                raise BackGoneError
            self._came.clear()
            await self._came.wait()

    # What the event loop tells.

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        if not isinstance(transport, asyncio.Transport):
            raise TypeError("expected a transport of a stream")
        self._transport = transport

    def data_received(self, data: bytes) -> None:
        try:
            self._parser.feed_data(data)
        except httptools.HttpParserError:
            _log.exception("the back process answered what is no HTTP")
            self.close()
        self._came.set()

    def connection_lost(self, _: Exception | None) -> None:
        self._is_lost = True
        self.is_idle = False
        self._came.set()

    # What the parser tells.

    def on_header(self, name: bytes, value: bytes) -> None:
        self._headers.append((name, value))

    def on_headers_complete(self) -> None:
        self._has_head = True

    def on_body(self, body: bytes) -> None:
        self._parts.append(body)
        self._held_bytes += len(body)
        if self._held_bytes > _HELD_BYTES and self._transport is not None:
            self._transport.pause_reading()

    def on_message_complete(self) -> None:
        self._parts.append(_END)
        self.is_idle = True
