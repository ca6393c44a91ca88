"""Who waits for an answer: noticed when they leave, so that nobody works on for them. Plain ASGI."""

import asyncio
import hashlib
import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from typing import Any

from starlette.types import Message, Receive, Scope, Send

from service.access.roles import Role
from service.domain.work import AbandonedError
from service.web.access import caller_of
from service.web.asgi import Around
from service.web.conduct import Account, account_of

_log = logging.getLogger(__name__)


_LONGEST_QUESTION_BYTES = 256 * 1024
"""A longer body is no question that is asked again, and takes a while to digest."""
DETAIL = "detail"
"""Under which the state of a request has the detail that it asks for."""


class Visitor:
    """The client of one request. `role`: that of its key, None without one.

    `question`: a digest of all that it asks, once it has come whole; None of what is too long to be asked again.
    `may_go`: whether another process can answer it. `state`: that of its request, which is at hand from all that goes
    round it.
    """

    def __init__(
        self, account: Account | None = None, state: dict[str, Any] | None = None, role: Role | None = None
    ) -> None:
        self.state = {} if state is None else state
        self.account = account or Account()
        self.role = role
        self.is_gone = False
        self.question: bytes | None = None
        self.may_go = False
        self._leaving: list[Callable[[], object]] = []

    def leave(self) -> None:
        """Tell everybody who works for the client that it is gone."""
        self.is_gone = True
        for call in tuple(self._leaving):
            call()

    @contextmanager
    def on_leaving(self, call: Callable[[], object]) -> Iterator[None]:
        """Have `call` made when the client leaves within the block. Raises AbandonedError where it has left."""
        if self.is_gone:
            raise AbandonedError
        self._leaving.append(call)
        try:
            yield
        finally:
            self._leaving.remove(call)


_VISITOR: ContextVar[Visitor] = ContextVar("visitor")


def visitor() -> Visitor:
    """The client of the request that is answered here; elsewhere one that never leaves."""
    return _VISITOR.get(None) or Visitor()


class Visitors(Around):
    """Watch for a client that leaves once its body is whole; what it asked for then ends without an answer."""

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        client = Visitor(account_of(scope), scope["state"], caller_of(scope).role)
        letter = _Letter(receive, client, _head_digest(scope))
        token = _VISITOR.set(client)
        try:
            if not _has_body(scope):
                await letter.open()
            await self._app(scope, letter.receive, send)
        except AbandonedError:
            _log.info("request %s: the caller left before the answer (499)", scope["state"]["request_id"])
        finally:
            _VISITOR.reset(token)
            await letter.close()


def _head_digest(scope: Scope) -> "hashlib._Hash":
    return hashlib.sha256(b"\n".join((scope["method"].encode(), scope.get("raw_path") or b"", scope["query_string"])))


def _has_body(scope: Scope) -> bool:
    told = [value for name, value in scope["headers"] if name in (b"content-length", b"transfer-encoding")]
    return any(value != b"0" for value in told)


class _Letter:
    """What the client sends: its body as it comes, then nothing until it leaves.

    The server may be asked for the next message from one place alone, so that all who wait for the client to leave wait
    for this watch. It begins when the body is whole: what is awaited before that is the body.
    """

    def __init__(self, receive: Receive, client: Visitor, digest: "hashlib._Hash") -> None:
        self._receive = receive
        self._client = client
        self._digest = digest
        self._came_bytes = 0
        self._left = asyncio.Event()
        self._watch: asyncio.Task[None] | None = None
        self._opened: Message | None = None

    async def open(self) -> None:
        """Take what comes first, and give it again to who asks for it."""
        self._opened = await self.receive()

    async def receive(self) -> Message:
        if self._opened is not None:
            opened, self._opened = self._opened, None
            return opened
        if self._watch is not None:
            await self._left.wait()
            return {"type": "http.disconnect"}
        message = await self._receive()
        body = message.get("body", b"")
        self._came_bytes += len(body)
        is_short = self._came_bytes <= _LONGEST_QUESTION_BYTES
        if is_short:
            self._digest.update(body)
        if message["type"] == "http.request" and not message.get("more_body", False):
            self._client.question = self._digest.digest() if is_short else None
            self._watch = asyncio.create_task(self._wait())
        return message

    async def close(self) -> None:
        if self._watch is not None:
            self._watch.cancel()
            with suppress(asyncio.CancelledError):
                await self._watch

    async def _wait(self) -> None:
        while (await self._receive())["type"] != "http.disconnect":
            pass
        self._left.set()
        self._client.leave()
