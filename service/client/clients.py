"""The two clients: they carry the same calls, one at once, the other awaited."""

import asyncio
import time
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator, Mapping
from typing import Any, Self, TypeVar

import httpx

from .calls import Call, Listed
from .errors import AddressError, StillWorkingError, UnreachableError
from .methods import Methods
from .retries import Retries, asked_wait_s
from .text import printable

T = TypeVar("T")
P = TypeVar("P", bound=Mapping[str, Any])
E = TypeVar("E")

TIMEOUT_S = 30.0
PATIENCE_S = 600.0
_PENDING_S = 1.0
_LAST_PORT = 65_535


class _Tries:
    """How often a call was tried, and how long its answer has been waited for."""

    def __init__(self, call: Call[Any], retries: Retries, patience_s: float) -> None:
        self._call = call
        self._retries = retries
        self._left_s = patience_s
        self._tried = 0

    def wait_s(self, response: httpx.Response | None) -> float | None:
        """How long to wait before the call is sent again, after this answer or none; None: it is not sent again."""
        status = None if response is None else response.status_code
        asked = None if response is None else response.headers.get("retry-after")
        if self._call.pending and status == httpx.codes.ACCEPTED:
            wait_s = asked_wait_s(asked, self._retries.now())
            wait_s = _PENDING_S if wait_s is None else wait_s
            self._left_s -= wait_s
            self._tried = 0
            return wait_s if self._left_s >= 0 else None
        self._tried += 1
        if not self._call.repeatable:
            return None
        return self._retries.wait_s(self._tried, status=status, retry_after=asked)


class Client(Methods):
    """Asks the service at `base_url` and waits for the answers.

    Every method raises ClientError. `key`: a key of the service, which every call shows; None: none is.
    `retries` bounds what is tried again, `timeout_s` each wait for the network, `patience_s` all waits for an answer
    that is worked out in the background. The sandbox is a service at the same URL with `/sandbox` behind it.
    """

    def __init__(
        self,
        base_url: str,
        *,
        key: str | None = None,
        timeout_s: float = TIMEOUT_S,
        retries: Retries | None = None,
        patience_s: float = PATIENCE_S,
        transport: httpx.BaseTransport | None = None,
        sleep: Callable[[float], None] = time.sleep,
    ) -> None:
        self._http = httpx.Client(
            base_url=_address(base_url), headers=_shown(key), timeout=timeout_s, transport=transport
        )
        self._retries = retries or Retries()
        self._patience_s = patience_s
        self._sleep = sleep

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the connections."""
        self._http.close()

    def send(self, call: Call[T]) -> T:
        """Send any call, again where that may help, and read its answer."""
        tries = _Tries(call, self._retries, self._patience_s)
        while True:
            response, fault = self._try(call)
            wait_s = tries.wait_s(response)
            if wait_s is None:
                return _read(call, response, fault)
            self._sleep(wait_s)

    def pages(self, call: Listed[P, Any]) -> Iterator[P]:
        """Every page of a list, from that of the call on."""
        following: Listed[P, Any] | None = call
        while following is not None:
            page = self.send(following)
            yield page
            following = call.after(page)

    def each(self, call: Listed[Any, E]) -> Iterator[E]:
        """Everything in a list, through all its pages."""
        for page in self.pages(call):
            yield from call.of(page)

    def _try(self, call: Call[T]) -> tuple[httpx.Response | None, httpx.HTTPError | None]:
        try:
            return self._http.send(call.request(self._http)), None
        except httpx.HTTPError as error:
            return None, error


class AsyncClient(Methods):
    """Asks the service at `base_url`; the answers are awaited. All else is as with `Client`."""

    def __init__(
        self,
        base_url: str,
        *,
        key: str | None = None,
        timeout_s: float = TIMEOUT_S,
        retries: Retries | None = None,
        patience_s: float = PATIENCE_S,
        transport: httpx.AsyncBaseTransport | None = None,
        sleep: Callable[[float], Awaitable[None]] = asyncio.sleep,
    ) -> None:
        self._http = httpx.AsyncClient(
            base_url=_address(base_url), headers=_shown(key), timeout=timeout_s, transport=transport
        )
        self._retries = retries or Retries()
        self._patience_s = patience_s
        self._sleep = sleep

    async def __aenter__(self) -> Self:
        return self

    async def __aexit__(self, *_: object) -> None:
        await self.close()

    async def close(self) -> None:
        """Close the connections."""
        await self._http.aclose()

    async def send(self, call: Call[T]) -> T:
        """Send any call, again where that may help, and read its answer."""
        tries = _Tries(call, self._retries, self._patience_s)
        while True:
            response, fault = await self._try(call)
            wait_s = tries.wait_s(response)
            if wait_s is None:
                return _read(call, response, fault)
            await self._sleep(wait_s)

    async def pages(self, call: Listed[P, Any]) -> AsyncIterator[P]:
        """Every page of a list, from that of the call on."""
        following: Listed[P, Any] | None = call
        while following is not None:
            page = await self.send(following)
            yield page
            following = call.after(page)

    async def each(self, call: Listed[Any, E]) -> AsyncIterator[E]:
        """Everything in a list, through all its pages."""
        async for page in self.pages(call):
            for one in call.of(page):
                yield one

    async def _try(self, call: Call[T]) -> tuple[httpx.Response | None, httpx.HTTPError | None]:
        try:
            return await self._http.send(call.request(self._http)), None
        except httpx.HTTPError as error:
            return None, error


def _shown(key: str | None) -> dict[str, str]:
    return {} if key is None else {"Authorization": f"Bearer {key}"}


def _address(base_url: str) -> httpx.URL:
    try:
        url = httpx.URL(base_url)
    except httpx.InvalidURL as error:
        raise AddressError(base_url) from error
    plain = url.scheme in ("http", "https") and url.host and not url.query and not url.fragment
    if not plain or not 0 < (url.port or 80) <= _LAST_PORT:
        raise AddressError(base_url)
    return url


def _read(call: Call[T], response: httpx.Response | None, fault: httpx.HTTPError | None) -> T:
    if response is None:
        said = printable(str(fault), 200) if fault is not None else ""
        raise UnreachableError(f"{call.method} {call.path}: {said or type(fault).__name__}") from fault
    if call.pending and response.status_code == httpx.codes.ACCEPTED:
        raise StillWorkingError(f"{call.method} {call.path}: the answer is not there yet; ask again later")
    return call.read(response)
