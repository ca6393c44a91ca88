"""What was asked before of the same revision is answered at once, before anything else is done. Plain ASGI."""

import asyncio
from collections import deque
from collections.abc import Callable, Collection
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.asgi import Around
from service.web.compressing import accepted
from service.web.kept_answers import KeptAnswer, KeptAnswers
from service.web.languages import wished
from service.web.representations import REVISION, is_known
from service.web.visitors import DETAIL

IS_KEPT = "is_kept"
"""Stands in the state of a request that was answered before."""

_OF_REVISION = REVISION.lower().encode()
_KNOWN_TAGS, _ENCODINGS = b"if-none-match", b"accept-encoding"
_LANGUAGES = b"accept-language"
_BY_CONTENT = (b"content-length", b"content-type", b"content-encoding")
_DECIDING = (b"host", b"accept", b"content-type", b"content-encoding")
"""The headers by which an answer differs, beside the question itself, the encoding that is taken and the language that
is wished for."""
_FRESHEN = (b"cookie", b"authorization")
_HAS_BODY = b"content-length", b"transfer-encoding"
_LONGEST_QUESTION = 4 * 1024
"""Its address, body and deciding headers together: what is kept has its question with it."""
_COMES_WITHIN_S = 0.5
"""A short body comes with its head; whoever takes longer is waited for by who reads it."""
_READING = ("GET", "HEAD")


class Repeats(Around):
    """Keeps the answers of status 200 that name the revision that they are of, and gives them again.

    What is private is not kept: it may be deleted at any time. What is kept holds for as long as the newest revision is
    the one that it was when the answer was made: `newest` gives its number, None where that is not certain. `posted`:
    the paths that only answer what is posted to them, and keep nothing. `asked_again` is told the query or the body of
    what is answered again on the path `counted`. Whoever has the answer already, by the tag that it names (RFC 9110,
    section 13.1.2), is told so; what is asked within is always the whole answer.
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        kept: KeptAnswers,
        newest: Callable[[], int | None],
        posted: Collection[str],
        counted: str,
        asked_again: Callable[[bytes, bytes | None], None],
    ) -> None:
        super().__init__(app)
        self._kept = kept
        self._newest = newest
        self._posted = posted
        self._counted = counted
        self._asked_again = asked_again

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        is_read = scope["method"] in _READING
        if not (is_read or (scope["method"] == "POST" and scope["path"] in self._posted)):
            await self._app(scope, receive, send)
            return
        head = _Head.of(scope)
        key, receive = await self._key(scope, head, receive)
        answer = None if key is None else self._kept.get(key)
        state = scope["state"]
        if answer is not None and key is not None:
            state[IS_KEPT], state[DETAIL] = True, answer.detail
            await _give(answer, head, send)
            if scope["path"] == self._counted:
                self._asked_again(scope["query_string"], None if is_read else key[-1])
            return
        copy = _Copy(send, head if is_read else None)
        await self._app(head.without_tags(scope) if is_read else scope, receive, copy.send)
        made = copy.answer() if key is not None and self._newest() == key[0] else None
        if made is not None:
            self._kept.keep(key, replace(made, detail=state.get(DETAIL)))

    async def _key(self, scope: Scope, head: "_Head", receive: Receive) -> "tuple[_Key | None, Receive]":
        """What a question is known by, None where its answer may not be kept; and what receives its body again."""
        newest = self._newest()
        if newest is None or not head.may_repeat or scope["method"] == "HEAD":
            return None, receive
        path, query = scope.get("raw_path") or scope["path"].encode(), scope["query_string"]
        question = (newest, scope["method"], path, query, *head.deciding)
        room = _LONGEST_QUESTION - len(path) - len(query) - head.size_bytes
        if room < 0:
            return None, receive
        if scope["method"] == "GET":
            return (None if head.has_body else question), receive
        came: deque[Message] = deque()
        size = 0
        with suppress(TimeoutError):
            async with asyncio.timeout(_COMES_WITHIN_S):
                while size <= room and (not came or came[-1].get("more_body", False)):
                    came.append(await receive())
                    size += len(came[-1].get("body", b""))
        is_whole = bool(came) and came[-1]["type"] == "http.request" and not came[-1].get("more_body", False)
        body = b"".join(message.get("body", b"") for message in came)
        is_short = is_whole and size <= room
        return ((*question, body) if is_short else None), _after(came, receive)


_Key = tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class _Head:
    """What the headers of a request say: by what its answer differs, and the tags of what its client has."""

    deciding: tuple[object, ...]
    tags: tuple[bytes, ...]
    size_bytes: int
    may_repeat: bool
    has_body: bool

    @staticmethod
    def of(scope: Scope) -> "_Head":
        deciding: list[object] = []
        encodings, tags, languages, size_bytes = b"", [], [], 0
        may_repeat, has_body = True, False
        for name, value in scope["headers"]:
            if name in _DECIDING:
                deciding += (name, value)
                size_bytes += len(value)
            elif name == _ENCODINGS:
                encodings += b"," + value if encodings else value
            elif name == _LANGUAGES:
                languages.append(value.decode("latin-1"))
                size_bytes += len(value)
            elif name == _KNOWN_TAGS:
                tags.append(value)
            elif name in _FRESHEN:
                may_repeat = may_repeat and not value
            elif name in _HAS_BODY:
                has_body = has_body or value != b"0"
        deciding += (_encoding(encodings), wished(languages) if languages else "")
        return _Head(tuple(deciding), tuple(tags), size_bytes, may_repeat, has_body)

    def without_tags(self, scope: Scope) -> Scope:
        """The same request for who has nothing yet."""
        if not self.tags:
            return scope
        return {**scope, "headers": [header for header in scope["headers"] if header[0] != _KNOWN_TAGS]}

    def has(self, headers: list[tuple[bytes, bytes]]) -> bool:
        """Whether the client has the answer with these headers."""
        return bool(self.tags) and any(name == b"etag" and is_known(self.tags, value) for name, value in headers)


@lru_cache(256)
def _encoding(encodings: bytes) -> str | None:
    return accepted([encodings])


def _after(came: "deque[Message]", receive: Receive) -> Receive:
    """Receive what came again, then what follows it."""

    async def again() -> Message:
        return came.popleft() if came else await receive()

    return again


async def _give(answer: KeptAnswer, head: _Head, send: Send) -> None:
    headers = list(answer.headers)
    if head.has(headers):
        await _send_unchanged(headers, send)
        return
    await send({"type": "http.response.start", "status": 200, "headers": headers})
    await send({"type": "http.response.body", "body": answer.content})


async def _send_unchanged(headers: list[tuple[bytes, bytes]], send: Send) -> None:
    told = [header for header in headers if header[0] not in _BY_CONTENT]
    await send({"type": "http.response.start", "status": 304, "headers": told})
    await send({"type": "http.response.body", "body": b""})


class _Copy:
    """What is sent, of which a copy is kept; `head`: of a client that may have it already."""

    def __init__(self, send: Send, head: _Head | None) -> None:
        self._send = send
        self._head = head
        self._status = 0
        self._headers: list[tuple[bytes, bytes]] = []
        self._parts: list[bytes] = []
        self._is_whole = False
        self._is_unchanged = False

    async def send(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self._status = message["status"]
            self._headers = [(name.lower(), value) for name, value in message["headers"]]
            self._is_unchanged = self._status == 200 and self._head is not None and self._head.has(self._headers)
        else:
            self._parts.append(message.get("body", b""))
            self._is_whole = not message.get("more_body", False)
        if not self._is_unchanged:
            await self._send(message)
        elif self._is_whole:
            await _send_unchanged(self._headers, self._send)

    def answer(self) -> KeptAnswer | None:
        """The answer, where it came whole and may be kept."""
        if self._status != 200 or not self._is_whole:
            return None
        names = {name for name, _ in self._headers}
        is_private = any(name == b"cache-control" and b"private" in value for name, value in self._headers)
        if _OF_REVISION not in names or b"set-cookie" in names or is_private:
            return None
        return KeptAnswer(tuple(self._headers), b"".join(self._parts))
