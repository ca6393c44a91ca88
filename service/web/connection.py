"""One connection of a client, held to limits: of its head, of the time it takes, of what it leaves unread.

uvicorn's protocol over httptools does the work. Its parser is llhttp, which looks at every byte once and refuses a
request whose end can be read in two ways (RFC 9112, section 6.1).
"""

import asyncio
import time
import uuid
from dataclasses import dataclass
from functools import cache
from random import uniform
from typing import Any

import httptools
from starlette.types import Receive, Scope, Send
from uvicorn.config import Config
from uvicorn.protocols.http.httptools_impl import STATUS_LINE, HttpToolsProtocol
from uvicorn.server import ServerState

from service.documents.rendering import printable
from service.settings import read_settings
from service.web.conduct import rest_of
from service.web.errors import (
    AddressTooLongError,
    EdgeError,
    HeadTimeoutError,
    HeadTooLargeError,
    MalformedRequestError,
    OverloadedError,
)
from service.web.middleware import Refusals, RequestId, refused
from service.web.places import Places
from service.web.problems import problem_response

MOST_HEAD_BYTES = 64 * 1024
"""Of a request's line and headers together. A whole question in an address takes some 20 KB."""

_MOST_HEADERS = 200
_READ_BYTES = 16 * 1024
"""So much is read at a time, with the others' turns between: chunks of one byte each take the longest."""
_READ_OF_BODY_BYTES = 256 * 1024
"""So much of a body whose length is told: its bytes are not looked at."""
_BUFFER = memoryview(bytearray(_READ_OF_BODY_BYTES))
"""What was read is copied at once, so that all connections share it."""
_MOST_FRAME_BYTES = 8
"""A byte in a chunk of its own comes with five others; what takes more is not meant to arrive."""
_LOOK_EVERY_S = 1.0
_LINGER_S = 5.0
"""So long may the rest of a body take after its answer, and a client to read the last answer."""
_SENT_WITHIN_S = 30.0
_LEAST_SENT_BYTES = 16 * 1024
"""A client that takes less than this of its answer within that time is not waited for."""
_SPREAD = (0.75, 1.25)
"""Who rested together is not read all at once."""
_PORCH = 64
"""So many connections more may wait to be told that there is no place."""


@dataclass(frozen=True)
class _House:
    """What the connections of a process share: the places, those of whom is sent away, the time for a head."""

    places: Places
    porch: Places
    head_timeout_s: float


@cache
def _house() -> _House:
    settings = read_settings()
    places = Places(settings.most_connections, settings.most_connections_a_client)
    return _House(places, Places(_PORCH, _PORCH), settings.head_timeout_s)


async def _no_place(_scope: Scope, _receive: Receive, _send: Send) -> None:
    raise OverloadedError


class Connection(HttpToolsProtocol, asyncio.BufferedProtocol):
    """uvicorn's protocol with a watch on its client.

    `_waits_since`: the server waits for this client since then: for a head, or the rest of a body; None while it is
    the client that waits.
    """

    def __init__(
        self,
        config: Config,
        server_state: ServerState,
        app_state: dict[str, Any],
        _loop: asyncio.AbstractEventLoop | None = None,
    ) -> None:
        super().__init__(config, server_state, app_state, _loop)
        self._came_bytes = 0
        self._body_bytes = 0
        self._has_head = False
        self._is_chunked = False
        self._is_over = False
        self._is_refused = False
        self._waits_since: float | None = time.monotonic()
        self._unsent_bytes = 0
        self._unsent_since: float | None = None
        self._watch: asyncio.TimerHandle | None = None

    # What the places ask.

    @property
    def client_host(self) -> str:
        return self.client[0] if self.client else ""

    def waits_since(self) -> float | None:
        is_answered = self.cycle is None or self.cycle.response_complete
        if self._unsent_since is not None and (is_answered or self.flow.write_paused):
            return self._unsent_since
        return self._waits_since

    def give_way(self) -> None:
        self.transport.abort()

    # What the event loop tells.

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        if not isinstance(transport, asyncio.Transport):
            raise TypeError("expected a transport of a stream")
        super().connection_made(transport)
        if not _house().places.take(self):
            self._is_refused = True
            self.app = RequestId(Refusals(_no_place))
            if not _house().porch.take(self):
                transport.abort()
        self._watch = self.loop.call_later(_LOOK_EVERY_S, self._look)

    def connection_lost(self, exc: Exception | None) -> None:
        if self._watch is not None:
            self._watch.cancel()
        _house().places.leave(self)
        _house().porch.leave(self)
        super().connection_lost(exc)

    def get_buffer(self, sizehint: int) -> memoryview:  # noqa: ARG002 the server's own measure, not the client's
        is_body = self._has_head and not self._is_chunked
        return _BUFFER if is_body else _BUFFER[:_READ_BYTES]

    def buffer_updated(self, nbytes: int) -> None:
        self.data_received(bytes(_BUFFER[:nbytes]))

    def data_received(self, data: bytes) -> None:
        self._unset_keepalive_if_required()
        if self._is_over:
            return
        if self._came_bytes == 0 and self._waits_since is not None:
            self._waits_since = time.monotonic()
        self._came_bytes += len(data)
        try:
            self.parser.feed_data(data)
        except httptools.HttpParserUpgrade:
            self.cycle.keep_alive = False  # the request is answered as it is; what follows may be anything
            self._is_over = True
        except httptools.HttpParserError as error:
            told = error.__context__
            self._refuse(told if isinstance(told, EdgeError) else MalformedRequestError(printable(str(error), 100)))
        else:
            self._hold_to_sizes()

    def resume_writing(self) -> None:
        super().resume_writing()
        self._unsent_since = None

    # What the parser tells.

    def on_header(self, name: bytes, value: bytes) -> None:
        super().on_header(name, value)
        self._is_chunked = self._is_chunked or name.lower() == b"transfer-encoding"
        if len(self.headers) > _MOST_HEADERS:
            raise HeadTooLargeError(MOST_HEAD_BYTES, _MOST_HEADERS)

    def on_headers_complete(self) -> None:
        size_bytes = len(self.url) + sum(len(name) + len(value) + len(": \r\n") for name, value in self.headers)
        if len(self.url) > MOST_HEAD_BYTES:
            raise AddressTooLongError(MOST_HEAD_BYTES)
        if size_bytes > MOST_HEAD_BYTES:
            raise HeadTooLargeError(MOST_HEAD_BYTES, _MOST_HEADERS)
        super().on_headers_complete()
        self._has_head = True
        if self._is_refused:
            self.cycle.keep_alive = False

    def on_body(self, body: bytes) -> None:
        self._body_bytes += len(body)
        super().on_body(body)

    def on_message_complete(self) -> None:
        super().on_message_complete()
        self._came_bytes = self._body_bytes = 0
        self._has_head = self._is_chunked = False
        self._waits_since = time.monotonic() if self.cycle.response_complete else None

    def on_response_complete(self) -> None:
        super().on_response_complete()
        if self.cycle.response_complete:
            self._waits_since = time.monotonic()
            self._rest(rest_of(self.cycle.scope))

    def _rest(self, rest_s: float) -> None:
        """Read nothing from this client for so long: whoever asks again at once after a refusal costs nothing."""
        if rest_s > 0 and not self.transport.is_closing():
            self.flow.pause_reading()
            spread_s = rest_s * uniform(*_SPREAD)  # noqa: S311 nothing is kept secret by it
            self.loop.call_later(spread_s, self.flow.resume_reading)

    # Limits.

    def _hold_to_sizes(self) -> None:
        """A head, and what comes with a body but is none of it: frames of chunks, trailers."""
        if self._came_bytes - self._body_bytes <= MOST_HEAD_BYTES + _MOST_FRAME_BYTES * self._body_bytes:
            return
        if self._has_head:
            self._refuse(MalformedRequestError("its body is lost in what comes with it"))
        elif len(self.url) > MOST_HEAD_BYTES - _READ_BYTES:
            self._refuse(AddressTooLongError(MOST_HEAD_BYTES))
        else:
            self._refuse(HeadTooLargeError(MOST_HEAD_BYTES, _MOST_HEADERS))

    def _look(self) -> None:
        """Look whether the client takes too long; time limits are kept to a second."""
        now = time.monotonic()
        if self._is_unread(now):
            self.transport.abort()
            return
        if self._waits_since is not None:
            self._mind_the_time(now - self._waits_since)
        self._watch = self.loop.call_later(_LOOK_EVERY_S, self._look)

    def _mind_the_time(self, waited_s: float) -> None:
        if self._is_over:
            if waited_s > _LINGER_S:
                self.transport.abort()
        elif self._has_head:
            if waited_s > _LINGER_S and self.cycle.response_complete:
                self.transport.close()
        elif waited_s > _house().head_timeout_s:
            if self._came_bytes:
                self._refuse(HeadTimeoutError(_house().head_timeout_s))
            else:
                self.transport.close()

    def _is_unread(self, now: float) -> bool:
        """Whether the client has left too much of its answer unread for too long."""
        unsent_bytes = self.transport.get_write_buffer_size()
        if unsent_bytes == 0:
            self._unsent_since = None
        elif self._unsent_since is None or unsent_bytes <= self._unsent_bytes - _LEAST_SENT_BYTES:
            self._unsent_bytes, self._unsent_since = unsent_bytes, now
        return self._unsent_since is not None and now - self._unsent_since > _SENT_WITHIN_S

    def _refuse(self, error: EdgeError) -> None:
        """Answer with a problem, read on without a look at what comes, and close when the client does.

        What was asked before is answered first and alone; an answer that has begun cannot be taken back.
        """
        self._is_over = True
        if self.cycle is not None and not self.cycle.response_complete:
            if not self.cycle.more_body:
                self.cycle.keep_alive = False
                return
            if self.cycle.response_started:
                self.transport.abort()
                return
            self.cycle.disconnected = True
            self.cycle.message_event.set()
        self._waits_since = time.monotonic()
        request_id = str(uuid.uuid4())
        self.transport.write(_written(error, request_id, self.server_state.default_headers))
        if self.transport.can_write_eof():
            self.transport.write_eof()


def _written(error: EdgeError, request_id: str, headers: list[tuple[bytes, bytes]]) -> bytes:
    """The bytes of an answer with the problem of an error."""
    response = problem_response(refused(error, request_id), request_id)
    told = [*headers, *response.raw_headers, *RequestId.headers(request_id)]
    lines = [b"%s: %s\r\n" % (name.lower(), value) for name, value in told]
    return b"".join([STATUS_LINE[response.status_code], *lines, b"\r\n", bytes(response.body)])
