"""What is answered by the back process: known by its kind, by what it cost before, or found to be long. Plain ASGI.

The process in front has one interpreter, whose lock all its threads share with the event loop. So it keeps what is
light, and hands on the rest as it came: a request is begun anew in the back process, where nothing of it was done.
"""

import asyncio
from collections.abc import Callable, Collection, Mapping

from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.asgi import Around
from service.web.back import Back
from service.web.conduct import Crowd
from service.web.errors import BodyTimeoutError, ElsewhereError, OverloadedError
from service.web.visitors import visitor

_HEALTH = "/v1/health"
_HANDED_ON_S, _FILE_S = 0.005, 0.2
"""What handing on is put down as, beside what the answer costs; of a file that is not known when its answer begins."""


def go_elsewhere() -> None:
    """Leave the request that is answered here to the back process. Raises ElsewhereError where there is one."""
    if visitor().may_go:
        raise ElsewhereError


class HandOver(Around):
    """Hands on what is meant for the back process, whole; all else is answered here.

    `is_long`: whether the question with this digest is known to be long. `files`: the paths that take files of orders,
    `work`: what all paths begin with that tell how far the work at them is. `explanations`: paths that are answered
    here unless there is a crowd. `timeout_s`: how long a body may take, `timeouts_s`: of paths with one of their own.
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        back: Back | None,
        crowd: Crowd,
        is_long: Callable[[bytes | None], bool],
        files: Collection[str],
        work: str,
        explanations: Collection[str],
        timeout_s: float,
        timeouts_s: Mapping[str, float],
    ) -> None:
        super().__init__(app)
        self._back = back
        self._crowd = crowd
        self._is_long = is_long
        self._files = files
        self._work = work
        self._explanations = explanations
        self._timeout_s = timeout_s
        self._timeouts_s = timeouts_s

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        back = self._back
        if back is None or not back.was_there or scope["path"].startswith(_HEALTH):
            await self._app(scope, receive, send)
            return
        client = visitor()
        is_file = scope["method"] == "POST" and scope["path"] in self._files
        turns = back.files if is_file else back.questions
        if turns.is_full():
            raise OverloadedError  # before its body is read
        letter = _Copied(receive, self._is_long)
        if not self._is_known_to_go(scope, is_file=is_file):
            client.may_go = True
            try:
                await self._app(scope, letter.receive, send)
            except ElsewhereError:
                client.may_go = False
            else:
                return
        body = await letter.whole(self._timeouts_s.get(scope["path"], self._timeout_s))
        async with turns.turn():
            client.account.add(_FILE_S if is_file else _HANDED_ON_S)
            await back.answer(scope, body, send, client)

    def _is_known_to_go(self, scope: Scope, *, is_file: bool) -> bool:
        client = visitor()
        is_crowding = self._crowd.is_there and (client.account.is_costly or scope["path"] in self._explanations)
        is_work = is_file or scope["path"].startswith(self._work)
        return is_work or is_crowding or self._is_long(client.question)


class _Copied:
    """What the client sends, of which a copy is kept."""

    def __init__(self, receive: Receive, is_long: Callable[[bytes | None], bool]) -> None:
        self._receive = receive
        self._is_long = is_long
        self._parts: list[bytes] = []
        self._is_whole = False

    async def receive(self) -> Message:
        """Receive the next message. Raises ElsewhereError where the question is whole and known to be long."""
        message = await self._next()
        if self._is_whole and self._is_long(visitor().question):
            go_elsewhere()
        return message

    async def _next(self) -> Message:
        message = await self._receive()
        if message["type"] == "http.request":
            self._parts.append(message.get("body", b""))
            self._is_whole = not message.get("more_body", False)
        return message

    async def whole(self, limit_s: float) -> bytes:
        """Read the rest. Raises BodyTimeoutError."""
        try:
            async with asyncio.timeout(limit_s):
                while not self._is_whole:
                    if (await self._next())["type"] == "http.disconnect":
                        raise ClientDisconnect
        except TimeoutError:
            raise BodyTimeoutError(limit_s) from None
        return b"".join(self._parts)
