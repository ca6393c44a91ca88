"""What was asked before of the same revision is answered at once, before anything is worked out. Plain ASGI."""

import asyncio
from collections import deque
from collections.abc import Callable, Collection

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.errors import BodyTimeoutError
from service.web.kept_answers import KeptAnswer, KeptAnswers
from service.web.representations import REVISION, is_known
from service.web.visitors import visitor

FORMS = "forms"
"""Where the encoded forms of a kept answer stand in the state of a request."""

_OF_REVISION = REVISION.lower().encode()
_TAG = b"etag"
_BY_CONTENT = (b"content-length", b"content-type")
_DECIDING = (b"accept", b"content-type", b"content-encoding")
"""The headers by which an answer differs, beside the question itself."""
_FRESHEN = (b"cookie", b"authorization")


class Repeats:
    """Keeps the answers of status 200 that name the revision that they are of, and gives them again.

    What is private is not kept: it may be deleted at any time. What is kept holds for as long as the newest revision is
    the one that it was when the answer was made: `newest` gives its number, None where that is not certain. `posted`:
    the paths that only answer what is posted to them, and keep nothing. `timeout_s`: how long a body may take.
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        kept: KeptAnswers,
        newest: Callable[[], int | None],
        posted: Collection[str],
        timeout_s: float,
    ) -> None:
        self._app = app
        self._kept = kept
        self._newest = newest
        self._posted = posted
        self._timeout_s = timeout_s

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        kept, newest = self._kept, self._newest()
        if newest is None or not self._may_repeat(scope):
            await self._app(scope, receive, send)
            return
        if visitor().question is None:
            receive = await self._opened(receive)
        question = visitor().question
        if question is None:  # the client left before its question was whole
            await self._app(scope, receive, send)
            return
        key = (newest, question, *(value for name, value in scope["headers"] if name in _DECIDING))
        answer = kept.get(key)
        if answer is not None:
            await _give(answer, scope, send)
            return
        copy = _Copy(send)
        await self._app(scope, receive, copy.send)
        made = copy.answer()
        if made is not None and self._newest() == newest:
            kept.keep(key, made)

    def _may_repeat(self, scope: Scope) -> bool:
        if scope["type"] != "http" or any(name in _FRESHEN and value for name, value in scope["headers"]):
            return False
        return scope["method"] == "GET" or (scope["method"] == "POST" and scope["path"] in self._posted)

    async def _opened(self, receive: Receive) -> Receive:
        """Take what comes until the question is whole, and give it again. Raises BodyTimeoutError."""
        opened: deque[Message] = deque()
        try:
            async with asyncio.timeout(self._timeout_s):
                while not opened or opened[-1].get("more_body", False):
                    opened.append(await receive())
        except TimeoutError:
            raise BodyTimeoutError(self._timeout_s) from None

        async def again() -> Message:
            return opened.popleft() if opened else await receive()

        return again


async def _give(answer: KeptAnswer, scope: Scope, send: Send) -> None:
    tag = next((value for name, value in answer.headers if name == _TAG), None)
    if tag is not None and is_known(scope, tag.decode("latin-1")):
        headers = [header for header in answer.headers if header[0] not in _BY_CONTENT]
        await send({"type": "http.response.start", "status": 304, "headers": headers})
        await send({"type": "http.response.body", "body": b""})
        return
    scope["state"][FORMS] = answer.forms
    await send({"type": "http.response.start", "status": 200, "headers": list(answer.headers)})
    await send({"type": "http.response.body", "body": answer.content})


class _Copy:
    """What is sent, of which a copy is kept."""

    def __init__(self, send: Send) -> None:
        self._send = send
        self._start: Message | None = None
        self._parts: list[bytes] = []
        self._is_whole = False

    async def send(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self._start = {**message, "headers": list(message["headers"])}
        else:
            self._parts.append(message.get("body", b""))
            self._is_whole = not message.get("more_body", False)
        await self._send(message)

    def answer(self) -> KeptAnswer | None:
        """The answer, where it came whole and may be kept."""
        if self._start is None or self._start["status"] != 200 or not self._is_whole:
            return None
        headers = [(name.lower(), value) for name, value in self._start["headers"]]
        names = {name for name, _ in headers}
        is_private = any(name == b"cache-control" and b"private" in value for name, value in headers)
        if _OF_REVISION not in names or b"set-cookie" in names or is_private:
            return None
        return KeptAnswer(headers, b"".join(self._parts))
