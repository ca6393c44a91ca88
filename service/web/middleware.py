"""What goes round every request: its id, safe headers, its size, what becomes of errors. Plain ASGI throughout."""

import logging
import re
import uuid
from collections.abc import Callable, Mapping
from random import getrandbits

from starlette.datastructures import Headers
from starlette.requests import ClientDisconnect
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.storage.errors import StorageError
from service.web.asgi import Around
from service.web.errors import (
    BodyTooLargeError,
    InvalidQueryError,
    MalformedRequestError,
    OverloadedError,
    ParameterFault,
    WrongHostError,
)
from service.web.problems import Refusal, problem_response
from service.web.refusals import internal_error, refusal_of
from service.web.site import Site

COOKIES = "portwright-"
"""How the name of every cookie of this site begins."""

REQUEST_ID = "X-Request-ID"
STATUS, REFUSAL = "status", "refusal"
"""Under which the state of a request has what it was answered with, and the code of its problem if there is one."""

_log = logging.getLogger(__name__)
_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_MOST_DIGITS = 15
_MOST_COOKIE_BYTES = 200
_MOST_PARAMETERS = 200
_MOST_HELD_BYTES = 128 * 1024 * 1024
_HEALTH = "/v1/health"
_REQUEST_ID = REQUEST_ID.lower().encode()
_SAFE_HEADERS = {
    b"x-content-type-options": b"nosniff",
    b"content-security-policy": b"default-src 'none'; frame-ancestors 'none'",
    b"referrer-policy": b"no-referrer",
    b"cross-origin-resource-policy": b"same-origin",
}


def request_id_of(scope: Scope) -> str:
    """Return the id of the request, a UUID: the caller's own, or one made here."""
    return str(scope["state"]["request_id"])


def refused(error: Exception, request_id: str) -> Refusal:
    """Give the refusal for an error while it is handled; what is no fault of the caller's is logged."""
    refusal = refusal_of(error)
    if refusal is None:
        _log.exception("request %s failed", request_id)
        return internal_error()
    if isinstance(error, StorageError):
        _log.error("request %s: %s: %s", request_id, error.code, error)
    return refusal


class RequestId(Around):
    """Give each request an id, keep the caller's if it is a UUID, and send it back with the safe headers."""

    @staticmethod
    def headers(request_id: str) -> list[tuple[bytes, bytes]]:
        """The id and the safe headers for an answer that is given before there is a request."""
        return [(_REQUEST_ID, request_id.encode()), *_SAFE_HEADERS.items()]

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        given = next((value for name, value in scope["headers"] if name == _REQUEST_ID), b"").decode("latin-1").lower()
        # Nobody has to be kept from guessing it, and the system is not asked for each.
        request_id = given if _UUID.fullmatch(given) else str(uuid.UUID(int=getrandbits(128), version=4))
        scope.setdefault("state", {})["request_id"] = request_id

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                scope["state"][STATUS] = message["status"]
                safe = self.headers(request_id)
                told = [header for header in message["headers"] if header[0] != _REQUEST_ID and header not in safe]
                own = {name for name, _ in told}  # a page has a policy of its own
                message = {**message, "headers": told + [header for header in safe if header[0] not in own]}
            await send(message)

        await self._app(scope, receive, send_with_headers)


def _as_problem(scope: Scope, refusal: Refusal) -> Response:
    return problem_response(refusal, request_id_of(scope))


class Refusals(Around):
    """Answer every error with its problem; an unexpected one is logged and told without a word of the inside.

    `respond` makes the answer of a refusal.
    """

    def __init__(self, app: ASGIApp, respond: Callable[[Scope, Refusal], Response] = _as_problem) -> None:
        super().__init__(app)
        self._respond = respond

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        started = False

        async def watched_send(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self._app(scope, receive, watched_send)
        except ClientDisconnect:
            _log.info("request %s: the caller left before the body was whole", request_id_of(scope))
        except Exception as error:
            if started:
                raise
            refusal = refused(error, request_id_of(scope))
            scope["state"][REFUSAL] = refusal.code
            await self._respond(scope, refusal)(scope, receive, send)


class HeadAsGet(Around):
    """Answer HEAD wherever GET is answered: the same status and headers, no content."""

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["method"] != "HEAD":
            await self._app(scope, receive, send)
            return

        async def send_without_content(message: Message) -> None:
            if message["type"] == "http.response.body":
                message = {**message, "body": b""}
            await send(message)

        await self._app({**scope, "method": "GET"}, receive, send_without_content)


class KnownHosts(Around):
    """Refuse what is asked of a host that this site is not; whoever looks after its health may use any name."""

    def __init__(self, app: ASGIApp, site: Site) -> None:
        super().__init__(app)
        self._site = site

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        if not self._is_of_health(scope["path"]):
            hosts = Headers(scope=scope).getlist("host")
            if len(hosts) != 1:
                raise MalformedRequestError(f"it has the header Host {len(hosts)} times, not once")
            if not self._site.answers_to(hosts[0]):
                raise WrongHostError(hosts[0])
        await self._app(scope, receive, send)

    @staticmethod
    def _is_of_health(path: str) -> bool:
        return path == _HEALTH or path.startswith(f"{_HEALTH}/")


class OwnCookies(Around):
    """Leave of the cookies only those that are set here, and of these none that is quoted.

    The standard library's reader, which FastAPI asks at every request, takes a time that grows with the square of what
    is quoted.
    """

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        if any(name == b"cookie" for name, _ in scope["headers"]):
            given = [value for name, value in scope["headers"] if name == b"cookie"]
            pairs = (pair.strip() for value in given for pair in value.split(b";"))
            own = b"; ".join(pair for pair in pairs if self._is_own(pair))
            headers = [(name, value) for name, value in scope["headers"] if name != b"cookie"]
            scope = {**scope, "headers": [*headers, (b"cookie", own)]}
        await self._app(scope, receive, send)

    @staticmethod
    def _is_own(pair: bytes) -> bool:
        return pair.startswith(COOKIES.encode()) and len(pair) <= _MOST_COOKIE_BYTES and b'"' not in pair


class ParameterLimit(Around):
    """Refuse a query of more parameters than any question has, before they are taken apart."""

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["query_string"].count(b"&") >= _MOST_PARAMETERS:
            found = f"{scope['query_string'].count(b'&') + 1} parameters"
            raise InvalidQueryError(ParameterFault("the query of the address", found, f"at most {_MOST_PARAMETERS}"))
        await self._app(scope, receive, send)


class BodyLimit(Around):
    """Refuse a body over the limit by its Content-Length, or else as soon as too much has come.

    `own_limits` has the limits of paths that have one of their own. What all requests of this process hold of their
    bodies has a limit too: beyond `most_held_bytes` they are asked to come again.
    """

    def __init__(
        self,
        app: ASGIApp,
        limit_bytes: int,
        own_limits: Mapping[str, int],
        most_held_bytes: int = _MOST_HELD_BYTES,
    ) -> None:
        super().__init__(app)
        self._limit_bytes = limit_bytes
        self._own_limits = own_limits
        self._most_held_bytes = most_held_bytes
        self._held_bytes = 0

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        limit_bytes = self._own_limits.get(scope["path"], self._limit_bytes)
        declared = Headers(scope=scope).get("content-length", "")
        if declared.isdecimal() and (len(declared) > _MOST_DIGITS or int(declared) > limit_bytes):
            raise BodyTooLargeError(limit_bytes)
        taken = 0

        async def counted_receive() -> Message:
            nonlocal taken
            message = await receive()
            if message["type"] == "http.request":
                came = len(message.get("body", b""))
                taken += came
                self._held_bytes += came
                if taken > limit_bytes:
                    raise BodyTooLargeError(limit_bytes)
                if self._held_bytes > self._most_held_bytes:
                    raise OverloadedError
            return message

        try:
            await self._app(scope, counted_receive, send)
        finally:
            self._held_bytes -= taken
