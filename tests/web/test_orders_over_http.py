"""Orders as callers send them: over real HTTP, to one worker and to several, before and after a restart."""

import http.client
import json
import socket
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlsplit

import httpx
import pytest

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.support.catalogs import small_catalog
from tests.support.forked import served
from tests.support.server import PATIENCE_S
from tests.web.calls import lines_of, problem, told

_CAR = {"chassis": "brook", "layout": "factory"}
_NDJSON = {"Content-Type": "application/x-ndjson"}
_BATCH = "/v1/order-checks/batch"


@pytest.fixture(scope="module", name="url")
def _url(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of a database with the small catalog in it."""
    url = f"sqlite:///{tmp_path_factory.mktemp('orders') / 'catalog.sqlite3'}"
    database = open_database(url)
    migrate(database)
    catalog = Catalog.model_validate(small_catalog())
    RevisionStore(database).add(catalog, created_at=datetime(2026, 3, 1, tzinfo=UTC))
    database.close()
    return url


@pytest.fixture(scope="module", name="server")
def _server(url: str) -> Iterator[str]:
    with served(url, workers=2) as address:
        yield address


@pytest.fixture(name="client")
def _client(server: str) -> Iterator[httpx.Client]:
    """Each call is a connection of its own, so that either of the two workers may take it."""
    alone = httpx.Limits(max_keepalive_connections=0)
    with httpx.Client(base_url=server, timeout=PATIENCE_S, limits=alone) as client:
        yield client


@pytest.fixture(name="order")
def _order(client: httpx.Client) -> dict[str, Any]:
    """The order of a bill: what has to be bought for it."""
    [bill] = client.post("/v1/bills", json=_CAR | {"limit": 1}).json()["bills"]
    bought = [{"sku": line["sku"], "qty": line["qty"]} for line in bill["lines"] if line["source"] == "buy"]
    return _CAR | {"lines": bought}


def test_an_order_from_bill_to_restart(url: str, client: httpx.Client, order: dict[str, Any]) -> None:
    """What a bill has to be bought is complete; the check stands in a process that started later."""
    key = {"Idempotency-Key": "journey"}
    made = client.post("/v1/order-checks", json=order, headers=key)
    assert (made.status_code, made.json()["verdict"]) == (201, "complete")
    path = made.headers["location"]
    found = client.get(path)
    assert found.json() == made.json() | {"current": found.json()["current"]}
    assert found.json()["current"]["same"] is True
    with served(url, back_process="false") as other, httpx.Client(base_url=other, timeout=PATIENCE_S) as there:
        again = there.post("/v1/order-checks", json=order, headers=key)
        assert (again.status_code, again.content) == (200, made.content)
        recalled = there.get(path)
        assert (recalled.content, recalled.headers["etag"]) == (found.content, found.headers["etag"])
        refused = there.post("/v1/order-checks", json=order | {"sets": 2}, headers=key)
        problem(refused, 422, "idempotency-key-reused")


def test_one_key_at_many_callers_is_one_check(client: httpx.Client, order: dict[str, Any]) -> None:
    """Whichever worker they come to, all at once: the same bytes, made once."""

    def send(_: int) -> httpx.Response:
        return client.post("/v1/order-checks", json=order, headers={"Idempotency-Key": "crowd"})

    with ThreadPoolExecutor(6) as callers:
        answers = list(callers.map(send, range(6)))
    assert sorted(answer.status_code for answer in answers) == [200] * 5 + [201]
    assert len({answer.content for answer in answers}) == 1


def test_a_batch_with_one_bad_line(client: httpx.Client, order: dict[str, Any]) -> None:
    """The good ones are judged and kept, the bad one is told."""
    lines = [order, order | {"chassis": "brok"}, order | {"lines": order["lines"][:1]}]
    response = client.post(_BATCH, content="".join(json.dumps(line) + "\n" for line in lines), headers=_NDJSON)
    first, bad, last = lines_of(response)
    assert (first["result"]["verdict"], last["result"]["verdict"]) == ("complete", "short")
    assert (bad["line"], bad["status"]) == (2, 422)
    assert [place for place, _, _ in told(bad["problem"])] == ["#/chassis"]
    for answer in (first, last):
        recalled = client.get(f"/v1/order-checks/{answer['result']['id']}").json()
        assert recalled == answer["result"] | {"current": recalled["current"]}


def _unread_lines() -> bytes:
    """As many lines as there may be, none an order, as large as a batch may be."""
    return (b'{"wings": 2' + b" " * 16_700 + b"}\n") * 500


def _pieces(raw: bytes) -> Iterator[bytes]:
    for start in range(0, len(raw), 65_536):
        yield raw[start : start + 65_536]


@pytest.mark.parametrize("chunked", [False, True], ids=["plain", "chunked"])
def test_a_large_batch_is_answered_line_by_line(client: httpx.Client, chunked: bool) -> None:
    """Sent with its length or in chunks."""
    raw = _unread_lines()
    response = client.post(_BATCH, content=_pieces(raw) if chunked else raw, headers=_NDJSON)
    answers = lines_of(response)
    assert [answer["line"] for answer in answers] == list(range(1, 501))
    assert {answer["status"] for answer in answers} == {422}
    assert "content-length" not in response.headers


def test_who_sends_all_before_reading_is_answered_too(server: str) -> None:
    """A simple client, with a large batch and with one that is too large."""
    for raw, status in ((_unread_lines(), 200), (b" " * 10_000_000, 413)):
        connection = http.client.HTTPConnection(urlsplit(server).netloc, timeout=PATIENCE_S)
        connection.request("POST", _BATCH, raw, _NDJSON)
        response = connection.getresponse()
        assert response.status == status
        assert response.read()
        connection.close()


def test_a_caller_that_leaves_a_batch_does_no_harm(server: str, client: httpx.Client) -> None:
    """In the midst of the body, or of the answer: the server goes on, without a word of it in its log."""
    head = b"POST /v1/order-checks/batch HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/x-ndjson\r\n"
    head += b"Content-Length: "
    address = urlsplit(server)
    for body in (b"{", _unread_lines()):
        with socket.create_connection((address.hostname or "", address.port or 0), timeout=PATIENCE_S) as connection:
            length = 100 if len(body) == 1 else len(body)
            connection.sendall(head + str(length).encode() + b"\r\n\r\n" + body)
            if length == len(body):
                assert connection.recv(100).startswith(b"HTTP/1.1 200 ")
    assert lines_of(client.post(_BATCH, content=b"{}\n", headers=_NDJSON))[0]["status"] == 422
