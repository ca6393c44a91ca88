"""Who asks, and whether they may: looked at before anything else, and before the body is read. Plain ASGI."""

import ipaddress
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import quote, unquote

import anyio
import anyio.to_thread
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.access.roles import EVERYBODY, Caller, Right, Role
from service.usecases.access_keys import AccessKeys
from service.usecases.errors import UnknownKeyError
from service.web.asgi import Around
from service.web.errors import KeyRequiredError, NotAllowedError
from service.web.rights import Rights
from service.web.sessions import cookie_of, is_signed, key_of

SIGN_IN = "/sign-in"
_CALLER = "caller"
_BEARER = "bearer "
_LONGEST_KEY = 200
_CACHING, _AUTHORIZATION = b"cache-control", b"authorization"
_THREADS = anyio.CapacityLimiter(4)
_API = "/v1/"
_READING = ("GET", "HEAD")
_FORWARDED = (b"forwarded", b"x-forwarded-for", b"x-forwarded-host", b"via")


def caller_of(scope: Scope) -> Caller:
    """Who sent a request; everybody, where nobody is asked for a key."""
    caller = scope.get("state", {}).get(_CALLER, EVERYBODY)
    return caller if isinstance(caller, Caller) else EVERYBODY


def set_caller(scope: Scope, caller: Caller) -> None:
    """Say who sent a request."""
    scope.setdefault("state", {})[_CALLER] = caller


def told(caller: Caller) -> bytes:
    """A caller as a header, for the other process of this service."""
    rights = ",".join(sorted(right.value for right in caller.rights))
    return f"{quote(caller.account, safe='')};{rights};{caller.key or ''};{caller.role or ''}".encode()


def heard(header: bytes) -> Caller:
    """The caller that `told` has told."""
    account, rights, key, role = header.decode().split(";")
    named = frozenset(Right(name) for name in rights.split(",") if name)
    return Caller(unquote(account), named, key or None, Role(role) if role else None)


@dataclass(frozen=True)
class Doors:
    """Whose keys are taken, and what is open to who shows none: who comes from this machine, and from elsewhere."""

    keys: AccessKeys
    here: Caller
    elsewhere: Caller


class Access(Around):
    """Lets through who has the right that the request asks for.

    `asks_for_page`: whether a browser asks, which is sent to the page for signing in.
    """

    def __init__(
        self,
        app: ASGIApp,
        *,
        doors: Doors,
        rights: Rights,
        asks_for_page: Callable[[Scope], bool],
    ) -> None:
        super().__init__(app)
        self._keys = doors.keys
        self._doors = doors
        self._rights = rights
        self._asks_for_page = asks_for_page

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        right = self._rights.of(scope["method"], scope["path"])
        caller = await self._caller(scope, right)
        if not caller.may(right):
            response = self._refused(scope, caller, right)
            await response(scope, receive, send)
            return
        set_caller(scope, caller)
        if caller.key is None:
            await self._app(scope, receive, send)
            return
        headers = [header for header in scope["headers"] if header[0] != _AUTHORIZATION]
        await self._app({**scope, "headers": headers}, receive, _privately(send))

    async def _caller(self, scope: Scope, right: Right) -> Caller:
        """Who asks. Raises UnknownKeyError where a key is shown that is not good."""
        shown = next((value for name, value in scope["headers"] if name == _AUTHORIZATION), None)
        if shown is not None and right is not Right.NONE:
            text = shown.decode("latin-1")
            if not text.lower().startswith(_BEARER) or len(text) > _LONGEST_KEY:
                raise UnknownKeyError
            return await _aside(self._keys.caller, text[len(_BEARER) :].strip())
        cookie = cookie_of(scope) if _takes_sessions(scope) else None
        if cookie is not None:
            try:
                return await _aside(self._signed_in, cookie)
            except UnknownKeyError:
                pass  # a session that is over is none
        return self._doors.here if _is_local(scope) else self._doors.elsewhere

    def _signed_in(self, cookie: str) -> Caller:
        id_ = key_of(cookie)
        if not is_signed(cookie, self._keys.signing_key(id_)):
            raise UnknownKeyError
        return self._keys.caller_of_id(id_)

    def _refused(self, scope: Scope, caller: Caller, right: Right) -> Response:
        if caller.key is not None:
            raise NotAllowedError(caller.role, right)
        if not self._asks_for_page(scope):
            raise KeyRequiredError(right)
        query = scope["query_string"].decode("latin-1")
        back = quote(scope["path"] + (f"?{query}" if query else ""), safe="")
        return RedirectResponse(f"{SIGN_IN}?back={back}", status_code=303, headers={"Cache-Control": "no-store"})


async def _aside(call: Callable[[str], Caller], text: str) -> Caller:
    return await anyio.to_thread.run_sync(call, text, limiter=_THREADS)


def _takes_sessions(scope: Scope) -> bool:
    """Whether a cookie counts: at the pages, whose forms have a token, and where nothing is changed."""
    return not scope["path"].startswith(_API) or scope["method"] in _READING


def _is_local(scope: Scope) -> bool:
    """Whether a request came by the loopback of this machine, at both ends, and from nobody beyond a proxy."""
    if any(name in _FORWARDED for name, _ in scope["headers"]):
        return False
    ends = (scope.get("server"), scope.get("client"))
    return all(end is not None and _is_loopback(str(end[0])) for end in ends)


@lru_cache(1024)
def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _privately(send: Send) -> Send:
    """What is given for a key is for nobody else: caches between us and the client keep nothing of it."""

    async def send_privately(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = [(name, _private(value) if name == _CACHING else value) for name, value in message["headers"]]
            message = {**message, "headers": headers}
        await send(message)

    return send_privately


def _private(caching: bytes) -> bytes:
    return caching.replace(b"public", b"private")
