"""Who asks, and whether they may: looked at before anything else, and before the body is read. Plain ASGI."""

from collections.abc import Callable
from dataclasses import dataclass, field
from urllib.parse import quote, unquote

import anyio
import anyio.to_thread
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.access.allowances import ByAddress, policy_of
from service.access.keys import parts_of
from service.access.roles import EVERYBODY, Caller, Right, Role
from service.usecases.access_keys import AccessKeys
from service.usecases.errors import UnknownKeyError
from service.web.addresses import Addresses, is_local
from service.web.asgi import Around
from service.web.errors import KeyRequiredError, NotAllowedError, TooManyRequestsError
from service.web.rate_limits import Quota, RateLimits
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
    """Whose keys are taken, and what is open to who shows none: who comes from this machine, and from elsewhere.

    `is_alone`: whether this machine alone reaches the service. `limits`: how often somebody may ask; `addresses`: what
    tells from where.
    """

    keys: AccessKeys
    here: Caller
    elsewhere: Caller
    is_alone: bool = False
    limits: RateLimits = field(default_factory=RateLimits)
    addresses: Addresses = field(default_factory=Addresses)


class Access(Around):
    """Lets through who has the right that the request asks for, as often as that is allowed.

    `asks_for_page`: whether a browser asks, which is sent to the page for signing in.
    """

    def __init__(self, app: ASGIApp, *, doors: Doors, rights: Rights, asks_for_page: Callable[[Scope], bool]) -> None:
        super().__init__(app)
        self._keys = doors.keys
        self._doors = doors
        self._rights = rights
        self._asks_for_page = asks_for_page

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        right = self._rights.of(scope["method"], scope["path"])
        caller = await self._caller(scope, right)
        quota = None if right is Right.NONE else await self._counted(scope, caller)
        if not caller.may(right):
            response = self._refused(scope, caller, right)
            await response(scope, receive, send)
            return
        set_caller(scope, caller)
        if caller.key is None:
            await self._app(scope, receive, send if quota is None else _telling(send, quota, is_private=False))
            return
        headers = [header for header in scope["headers"] if header[0] != _AUTHORIZATION]
        await self._app({**scope, "headers": headers}, receive, _telling(send, quota, is_private=True))

    async def _counted(self, scope: Scope, caller: Caller) -> Quota | None:
        """What is left to the caller after this request. Raises TooManyRequestsError where it was too much."""
        policy = policy_of(caller, is_local=caller.key is None and self._is_here(scope))
        quota = await self._doors.limits.count(policy, caller.key or self._doors.addresses.of(scope))
        if quota is not None and quota.is_over:
            raise TooManyRequestsError(quota.fields(), quota.anew_s)
        return quota

    def _is_here(self, scope: Scope) -> bool:
        return self._doors.is_alone and is_local(scope)

    async def _caller(self, scope: Scope, right: Right) -> Caller:
        """Who asks. Raises UnknownKeyError where a key is shown that is not good; TooManyRequestsError."""
        shown = next((value for name, value in scope["headers"] if name == _AUTHORIZATION), None)
        if shown is not None and right is not Right.NONE:
            text = shown.decode("latin-1")
            if not text.lower().startswith(_BEARER) or len(text) > _LONGEST_KEY:
                raise UnknownKeyError
            key = text[len(_BEARER) :].strip()
            parts = parts_of(key)
            return await self._judged(scope, self._keys.caller, key, "" if parts is None else parts[0])
        cookie = cookie_of(scope) if _takes_sessions(scope) else None
        if cookie is not None:
            try:
                return await self._judged(scope, self._signed_in, cookie, key_of(cookie))
            except (UnknownKeyError, TooManyRequestsError):
                pass  # a session that is over is none
        return self._doors.here if is_local(scope) else self._doors.elsewhere

    async def _judged(self, scope: Scope, judge: Callable[[str], Caller], text: str, id_: str) -> Caller:
        """The caller that a text is of, which tells the id of a key. What is not good is counted by its address; from
        where too many came, only keys are looked at that are known here."""
        if self._keys.is_at_hand(id_):
            return judge(text)  # takes no look at the database
        where = self._doors.addresses.of(scope)
        failed = await self._doors.limits.look(ByAddress.FAILED_KEYS, where)
        if failed is not None and failed.is_over and not self._keys.is_known(id_):
            raise TooManyRequestsError(failed.fields(), failed.anew_s)
        try:
            return await _aside(judge, text)
        except UnknownKeyError:
            await self._doors.limits.count(ByAddress.FAILED_KEYS, where)
            raise

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


def _telling(send: Send, quota: Quota | None, *, is_private: bool) -> Send:
    """Tell with the answer what is left. What is given for a key is for nobody else: caches between us and the client
    keep nothing of it."""

    async def send_telling(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = list(message["headers"])
            if is_private:
                headers = [(name, _private(value) if name == _CACHING else value) for name, value in headers]
            message = {**message, "headers": headers + ([] if quota is None else quota.headers())}
        await send(message)

    return send_telling


def _private(caching: bytes) -> bytes:
    return caching.replace(b"public", b"private")
