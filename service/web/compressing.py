"""Content compressed as the caller takes it: by Accept-Encoding (RFC 9110, section 12.5.3). Plain ASGI."""

import gzip
import re
from collections.abc import Callable, Iterable

import anyio.to_thread
import zstandard
from starlette.datastructures import MutableHeaders
from starlette.types import Message, Receive, Scope, Send

from service.documents.problem import MEDIA_TYPE as PROBLEM
from service.web.asgi import Around
from service.web.counter.visits import SENT_AS
from service.web.representations import CSS, HTML, JAVASCRIPT, JSON

SHORTEST_BYTES = 1024
"""What is shorter goes into one packet or two as it is."""

_ZSTD_LEVEL, _GZIP_LEVEL = 3, 5
_AT_ONCE_BYTES = 96 * 1024
"""What is no longer takes about a millisecond: going to a thread and back would take a good part of that."""
_ENCODERS: dict[str, Callable[[bytes], bytes]] = {
    "zstd": lambda content: zstandard.compress(content, _ZSTD_LEVEL),
    "gzip": lambda content: gzip.compress(content, _GZIP_LEVEL, mtime=0),
}
"""By encoding, the one first that is taken where the caller does not mind."""
_TYPES = (JSON, PROBLEM, CSS, JAVASCRIPT, HTML, "image/svg+xml", "text/csv")
_QUALITY = re.compile(r"[qQ]=(0(\.\d{0,3})?|1(\.0{0,3})?)")
_LONGEST_ASKED = 1_000
_SECRET = f'name="{SENT_AS}"'.encode()
"""A page with a secret stays as it is: what else stands in it may be somebody's words, and its length would tell."""


class Compressed(Around):
    """Compresses what is long enough and whole. Each form has an entity tag of its own."""

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        encoding = accepted(value for name, value in scope["headers"] if name == b"accept-encoding")
        await self._app(scope, receive, _Encoded(send, encoding).send)


def accepted(asked: Iterable[bytes]) -> str | None:
    """The encoding that a caller prefers of those that are known here; None: none."""
    text = b",".join(asked).decode("latin-1")
    if not text or len(text) > _LONGEST_ASKED:
        return None
    wanted: dict[str, float] = {}
    for part in text.split(","):
        name, *parameters = (piece.strip() for piece in part.split(";"))
        quality = _QUALITY.fullmatch(parameters[0]) if parameters else None
        wanted[name.lower()] = 1.0 if quality is None else float(quality[1])
    known = {name: wanted.get(name, wanted.get("*", 0.0)) for name in _ENCODERS}
    best = max(known, key=known.__getitem__)
    return best if known[best] > 0 else None


class _Encoded:
    """Sends an answer on, encoded where it may be."""

    def __init__(self, send: Send, encoding: str | None) -> None:
        self._send = send
        self._encoding = encoding
        self._start: Message | None = None
        self._parts: list[bytes] = []

    async def send(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            await self._begin(message)
        elif self._start is None:
            await self._send(message)
        else:
            self._parts.append(message.get("body", b""))
            if not message.get("more_body", False):
                await self._finish(self._start)

    async def _begin(self, message: Message) -> None:
        headers = MutableHeaders(scope=message)
        if not _may_be_encoded(headers):
            await self._send(message)
            return
        headers.add_vary_header("Accept-Encoding")
        if self._encoding is None:
            await self._send(message)
            return
        self._start = message

    async def _finish(self, start: Message) -> None:
        encoding, content = self._encoding or "", b"".join(self._parts)
        headers = MutableHeaders(scope=start)
        if _SECRET in content:
            await self._send(start)
            await self._send({"type": "http.response.body", "body": content})
            return
        is_long = len(content) > _AT_ONCE_BYTES
        encode = _ENCODERS[encoding]
        content = await anyio.to_thread.run_sync(encode, content) if is_long else encode(content)
        headers["Content-Encoding"] = encoding
        headers["Content-Length"] = str(len(content))
        if (tag := headers.get("ETag", "")).endswith('"'):
            headers["ETag"] = f'{tag[:-1]}-{encoding}"'
        await self._send(start)
        await self._send({"type": "http.response.body", "body": content})


def _may_be_encoded(headers: MutableHeaders) -> bool:
    """Whether it is whole, long enough, and of a type that shrinks."""
    length = headers.get("Content-Length", "")
    type_ = headers.get("Content-Type", "").partition(";")[0]
    is_long = length.isdecimal() and int(length) >= SHORTEST_BYTES
    return is_long and type_ in _TYPES and "Content-Encoding" not in headers
