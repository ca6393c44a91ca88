"""The two clients: they carry the same calls, one at once, the other awaited."""

import asyncio
import time
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator
from functools import partial, update_wrapper
from typing import Any, Generic, ParamSpec, Self, TypeVar, overload

import httpx

from service.client import operations
from service.client.calls import Call
from service.client.errors import AddressError, UnreachableError
from service.client.retries import Retries
from service.client.sections import Listed, Page, Section
from service.documents.rendering import printable

P = ParamSpec("P")
T = TypeVar("T")
D = TypeVar("D")

TIMEOUT_S = 30.0
_LAST_PORT = 65_535


class _Method(Generic[P, T]):
    """An operation as a method: of the one client it gives the answer, of the other what can be awaited."""

    def __init__(self, make: Callable[P, Call[T]]) -> None:
        self._make = make
        self.__doc__ = make.__doc__

    @overload
    def __get__(self, client: "Client", owner: type) -> Callable[P, T]: ...
    @overload
    def __get__(self, client: "AsyncClient", owner: type) -> Callable[P, Awaitable[T]]: ...
    @overload
    def __get__(self, client: None, owner: type) -> Self: ...
    def __get__(self, client: "Client | AsyncClient | None", owner: type) -> Any:
        if client is None:
            return self
        return update_wrapper(partial(_sent, client, self._make), self._make)


def _sent(client: "Client | AsyncClient", make: Callable[..., Call[T]], *args: Any, **kwargs: Any) -> Any:
    return client.send(make(*args, **kwargs))


class _Operations:
    """The operations; what each takes and gives stands in `operations`."""

    find_bills = _Method(operations.find_bills)
    find_bills_in_brief = _Method(operations.find_bills_in_brief)
    find_bills_by_query = _Method(operations.find_bills_by_query)
    recall_bill = _Method(operations.recall_bill)
    sheet = _Method(operations.sheet)
    explain = _Method(operations.explain)
    read_question = _Method(operations.read_question)
    read_order = _Method(operations.read_order)
    check_order = _Method(operations.check_order)
    recall_order_check = _Method(operations.recall_order_check)
    chassis_layouts = _Method(operations.chassis_layouts)
    join = _Method(operations.join)
    uses = _Method(operations.uses)
    contract_cases = _Method(operations.contract_cases)
    health = _Method(operations.health)


class Client(_Operations):
    """Asks the service at `base_url` and waits for the answers.

    Every method raises ClientError. `key`: a key of the service, which every call shows; None: none is.
    `retries` bounds what is tried again, `timeout_s` each wait for the network.
    """

    def __init__(
        self,
        base_url: str,
        *,
        key: str | None = None,
        timeout_s: float = TIMEOUT_S,
        retries: Retries | None = None,
        transport: httpx.BaseTransport | None = None,
        sleep: Callable[[float], None] = time.sleep,
    ) -> None:
        self._http = httpx.Client(
            base_url=_address(base_url), headers=_shown(key), timeout=timeout_s, transport=transport
        )
        self._retries = retries or Retries()
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
        tried = 0
        while True:
            tried += 1
            response, fault = self._try(call)
            wait_s = _wait_s(self._retries, call, tried, response)
            if wait_s is None:
                return _read(call, response, fault)
            self._sleep(wait_s)

    def pages(self, section: Listed[D], **asked: Any) -> Iterator[Page[D]]:
        """Every page of a list; `asked` as for `operations.page`."""
        call: Call[Page[D]] | None = operations.page(section, **asked)
        while call is not None:
            page = self.send(call)
            yield page
            call = operations.page_after(section, page)

    def each(self, section: Listed[D], **asked: Any) -> Iterator[D]:
        """Everything in a list, through all its pages; `asked` as for `operations.page`."""
        for page in self.pages(section, **asked):
            yield from page.results

    def one(self, section: Section[D], wanted: str, *, revision: int | None = None) -> D:
        """One document of a section by its id (of an item: its SKU)."""
        return self.send(operations.detail(section, wanted, revision=revision)).result

    def _try(self, call: Call[T]) -> tuple[httpx.Response | None, httpx.HTTPError | None]:
        try:
            return self._http.send(call.request(self._http)), None
        except httpx.HTTPError as error:
            return None, error


class AsyncClient(_Operations):
    """Asks the service at `base_url`; the answers are awaited. All else is as with `Client`."""

    def __init__(
        self,
        base_url: str,
        *,
        key: str | None = None,
        timeout_s: float = TIMEOUT_S,
        retries: Retries | None = None,
        transport: httpx.AsyncBaseTransport | None = None,
        sleep: Callable[[float], Awaitable[None]] = asyncio.sleep,
    ) -> None:
        self._http = httpx.AsyncClient(
            base_url=_address(base_url), headers=_shown(key), timeout=timeout_s, transport=transport
        )
        self._retries = retries or Retries()
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
        tried = 0
        while True:
            tried += 1
            response, fault = await self._try(call)
            wait_s = _wait_s(self._retries, call, tried, response)
            if wait_s is None:
                return _read(call, response, fault)
            await self._sleep(wait_s)

    async def pages(self, section: Listed[D], **asked: Any) -> AsyncIterator[Page[D]]:
        """Every page of a list; `asked` as for `operations.page`."""
        call: Call[Page[D]] | None = operations.page(section, **asked)
        while call is not None:
            page = await self.send(call)
            yield page
            call = operations.page_after(section, page)

    async def each(self, section: Listed[D], **asked: Any) -> AsyncIterator[D]:
        """Everything in a list, through all its pages; `asked` as for `operations.page`."""
        async for page in self.pages(section, **asked):
            for document in page.results:
                yield document

    async def one(self, section: Section[D], wanted: str, *, revision: int | None = None) -> D:
        """One document of a section by its id (of an item: its SKU)."""
        return (await self.send(operations.detail(section, wanted, revision=revision))).result

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


def _wait_s(retries: Retries, call: Call[T], tried: int, response: httpx.Response | None) -> float | None:
    if not call.repeatable:
        return None
    if response is None:
        return retries.wait_s(tried, status=None, retry_after=None)
    return retries.wait_s(tried, status=response.status_code, retry_after=response.headers.get("retry-after"))


def _read(call: Call[T], response: httpx.Response | None, fault: httpx.HTTPError | None) -> T:
    if response is None:
        said = printable(str(fault), 200) if fault is not None else ""
        raise UnreachableError(f"{call.method} {call.path}: {said or type(fault).__name__}") from fault
    return call.read(response)
