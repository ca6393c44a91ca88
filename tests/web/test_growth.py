"""Headers, addresses and forms are read in time that grows with their length, up to their limits."""

import asyncio
from collections.abc import Callable
from typing import Any
from urllib.parse import parse_qsl

import pytest
from fastapi import FastAPI
from starlette.datastructures import Headers, QueryParams
from starlette.requests import Request
from starlette.types import Receive, Scope, Send

from service.documents.order import OrderRequest
from service.usecases.bill_keys import decode_key
from service.web.batches import full_lines
from service.web.bodies import BODY_LIMIT_BYTES, aside, must_be, parsed
from service.web.counter.forms import _read
from service.web.counter.question_form import query_fields
from service.web.counter.visits import KEPT_IN, visit_of
from service.web.cursors import read_cursor
from service.web.middleware import OwnCookies
from service.web.negotiation import negotiated
from service.web.queries import NoQuery, PageQuery, read_query
from service.web.question_query import QuestionQuery
from service.web.representations import JSON, is_known
from tests.support.growth import assert_linear
from tests.web.calls import get

_SIZE = 8_000


def _request(name: str, value: str) -> Request:
    headers = [(b"host", b"127.0.0.1"), (name.encode(), value.encode("latin-1"))]
    scope = {"type": "http", "method": "GET", "scheme": "http", "path": "/", "query_string": b"", "headers": headers}
    return Request(scope)


_TYPES = {"quotes": '\\";', "parameters": "a=b;", "spaces": " ", "semicolons": ";", "equals": "=", "quoted": '"'}


@pytest.mark.parametrize("name", _TYPES)
def test_content_types(name: str) -> None:
    """Whatever is repeated behind the type."""
    made = lambda n: _request("content-type", f"{JSON};" + _TYPES[name] * n)  # noqa: E731
    assert_linear(lambda request: must_be(JSON, request), made, _SIZE)


_ACCEPTED = {
    "commas": ",",
    "ranges": "a/b,",
    "weights": "a/b;q=0.1,",
    "parameters": ";q=1",
    "stars": "*/*,",
    "text": "a",
}


@pytest.mark.parametrize("name", _ACCEPTED)
def test_accept(name: str) -> None:
    """A browser sends ten ranges."""
    made = lambda n: _request("accept", _ACCEPTED[name] * n)  # noqa: E731
    assert_linear(lambda request: negotiated(request, (JSON, "text/html")), made, _SIZE)


_TAGS = {"quotes": '"', "tags": '"a",', "weak": "W/", "open": '"a', "commas": ","}


@pytest.mark.parametrize("name", _TAGS)
def test_entity_tags(name: str) -> None:
    made = lambda n: _request("if-none-match", _TAGS[name] * n)  # noqa: E731
    assert_linear(lambda request: is_known(request.scope, '"x"'), made, _SIZE)


_COOKIES = {"escapes": '\\"', "octals": "\\101", "pairs": "; a=b", "semicolons": ";", "equals": "="}


@pytest.mark.parametrize("name", _COOKIES)
def test_cookies(name: str) -> None:
    """Quoted ones too, which FastAPI would have taken apart at every request."""

    async def visited(scope: Scope, _receive: Receive, _send: Send) -> None:
        visit_of(Request(scope))

    def ask(request: Request) -> None:
        asyncio.run(OwnCookies(visited)(request.scope, request.receive, request._send))

    made = lambda n: _request("cookie", f'{KEPT_IN}="' + _COOKIES[name] * n + '"')  # noqa: E731
    assert_linear(ask, made, _SIZE)


def test_foreign_cookies_are_left_out(app: FastAPI) -> None:
    """Our own are read, whatever stands about them."""
    token = "t" * 32
    for cookies in (f"{KEPT_IN}={token}", f'a="b\\"; {KEPT_IN}={token}; c=d', f"x=y;{KEPT_IN}={token}"):
        assert f'value="{token}"' in get(app, "/ask", headers={"Cookie": cookies}).text


_QUERIES: dict[str, Callable[[int], str]] = {
    "names": lambda n: "&".join(f"n{i}=" for i in range(n)),
    "one name": lambda n: "chassis=a&" * n,
    "values": lambda n: "chassis=" + "a" * n,
    "escapes": lambda n: "%C3%A9=" * n,
    "broken escapes": lambda n: "%" * n,
    "signs": lambda n: "&=+;" * n,
    "a list": lambda n: "own_rail=" + "left:a:male," * n,
    "lists": lambda n: "exclude=a&" * n,
}


@pytest.mark.parametrize("name", _QUERIES)
def test_queries(name: str) -> None:
    """As parameters of the API and as the fields of the page."""

    def of_api(text: str) -> object:
        given = QueryParams(text).multi_items()
        return read_query(QuestionQuery, given).question()

    assert_linear(of_api, _QUERIES[name], _SIZE // 3)
    assert_linear(lambda text: query_fields(parse_qsl(text), "EUR"), _QUERIES[name], _SIZE // 3)
    assert_linear(lambda text: read_query(NoQuery, QueryParams(text).multi_items()), _QUERIES[name], _SIZE // 3)


_FORMS = {"fields": b"a=b&", "signs": b"&", "escapes": b"%41", "equals": b"="}


@pytest.mark.parametrize("name", _FORMS)
def test_forms(name: str) -> None:
    headers = Headers({"content-type": "application/x-www-form-urlencoded"})
    assert_linear(lambda raw: asyncio.run(_read(headers, raw)), lambda n: _FORMS[name] * n, 30_000)


_PARTS = {
    "breaks": b"\r\n",
    "returns": b"\r",
    "near boundaries": b"\r\n--xy",
    "boundaries": b"\r\n--xyz\r\n\r\n",
    "headers": b'\r\n--xyz\r\nContent-Disposition: form-data; name="' + b'\\";' * 900 + b'"\r\n\r\na',
}


@pytest.mark.parametrize("name", _PARTS)
def test_uploads(name: str) -> None:
    """What stands in the file, or in place of one."""
    headers = Headers({"content-type": "multipart/form-data; boundary=xyz"})
    head = b'--xyz\r\nContent-Disposition: form-data; name="f"; filename="a"\r\n\r\n'

    async def read(raw: bytes) -> None:
        form = await _read(headers, raw)
        await form.close()

    made = lambda n: head + _PARTS[name] * (n // len(_PARTS[name])) + b"\r\n--xyz--\r\n"  # noqa: E731
    assert_linear(lambda raw: asyncio.run(read(raw)), made, 400_000)


def test_cursors_and_keys() -> None:
    """Of any signs."""
    assert_linear(lambda text: read_cursor(text, "items", {}), lambda n: "A" * n, _SIZE)
    assert_linear(decode_key, lambda n: "1" + "A" * n, _SIZE)
    assert_linear(decode_key, lambda n: "1" + "_w" * n, _SIZE)
    with pytest.raises(Exception, match="cursor"):
        read_query(PageQuery, [("cursor", "A" * 60_000)])


@pytest.mark.parametrize(
    "filled", [b"\n", b" ", b" \n", b"{}\n", b"\r\n"], ids=["lines", "spaces", "both", "full", "ends"]
)
def test_batches(filled: bytes) -> None:
    """The lines of a batch, blank or not."""
    assert_linear(lambda raw: [*full_lines(raw)], lambda n: filled * n, 40_000)


def test_a_large_body_is_parsed_aside() -> None:
    """While it is, the event loop goes on: it is never kept for longer than a small part of the parsing."""
    raw = b'{"lines": [' + b'{"sku":"A","qty":1},' * (BODY_LIMIT_BYTES // 22) + b"1]}"

    async def longest_stand() -> tuple[float, float]:
        loop = asyncio.get_running_loop()
        start = loop.time()
        task = asyncio.create_task(aside(len(raw), _refused, raw))
        longest, last = 0.0, loop.time()
        while not task.done():
            await asyncio.sleep(0)
            longest, last = max(longest, loop.time() - last), loop.time()
        return longest, loop.time() - start

    tries = (asyncio.run(longest_stand()) for _ in range(10))  # a busy machine stands still by itself now and then
    assert any(stood_s < took_s / 2 for stood_s, took_s in tries)


def _refused(raw: bytes) -> Any:
    with pytest.raises(Exception, match="lines"):
        parsed(OrderRequest, raw)
