"""The service as callers meet it: over real HTTP, through uvicorn, on a free port."""

import http.client
import json
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlsplit

import httpx
import pytest

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.support.catalogs import small_catalog
from tests.support.forked import served
from tests.support.found import by_itself
from tests.support.server import PATIENCE_S
from tests.web.calls import PLAIN, problem, told

_QUESTION = {"chassis": "brook", "layout": "factory"}
_TEN_MB = 10 * 1000 * 1000
_JSON = {"Content-Type": "application/json"}


@pytest.fixture(scope="module", name="url")
def _url(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of a database with the small catalog in it."""
    url = f"sqlite:///{tmp_path_factory.mktemp('http') / 'catalog.sqlite3'}"
    database = open_database(url)
    migrate(database)
    catalog = Catalog.model_validate(small_catalog())
    RevisionStore(database).add(catalog, created_at=datetime(2026, 3, 1, tzinfo=UTC))
    database.close()
    return url


@pytest.fixture(scope="module", name="server")
def _server(url: str) -> Iterator[str]:
    with served(url, back_process="false") as address:
        yield address


@pytest.fixture(name="client")
def _client(server: str) -> Iterator[httpx.Client]:
    with httpx.Client(base_url=server, timeout=PATIENCE_S) as client:
        yield client


def test_the_whole_journey(url: str, client: httpx.Client) -> None:
    """From the schema to a bill that comes back in a process that started later, as after a restart."""
    schema = client.get("/v1/schema/catalog").json()
    assert "items" in schema["required"]
    chassis = client.get("/v1/chassis").json()["results"][0]
    choices = client.get(f"/v1/chassis/{chassis['id']}/layouts").json()["layouts"]
    choice = next(choice for choice in choices if choice["total_valid"])
    question = {"chassis": chassis["id"], "layout": choice["layout"]}
    answer = client.post("/v1/bills", json=question | {"detail": "full"}).json()
    assert answer["total_valid"] == choice["total_valid"]
    bill = answer["bills"][0]
    assert bill["price"] == choice["lowest_price"]
    for line in bill["lines"]:
        item = client.get(f"/v1/items/{line['sku']}", params={"revision": answer["revision"]}).json()["result"]
        assert item["name"] == line["name"]
    recalled = client.get(f"/v1/bills/{bill['key']}")
    assert recalled.json()["bill"] == by_itself(bill)
    with served(url, back_process="false") as other:
        response = httpx.get(f"{other}/v1/bills/{bill['key']}", timeout=PATIENCE_S)
        assert response.content == recalled.content
        assert response.headers["etag"] == recalled.headers["etag"]


def test_a_conditional_get(client: httpx.Client) -> None:
    """304 has no content, and the connection goes on."""
    tag = client.get("/v1/items").headers["etag"]
    bare = client.get("/v1/items", headers={"If-None-Match": tag})
    assert (bare.status_code, bare.content) == (304, b"")
    assert client.get("/v1/items").status_code == 200


def test_head_over_http(client: httpx.Client) -> None:
    """The length is told, nothing is sent, and the connection goes on."""
    whole = client.get("/v1/items", headers=PLAIN)
    bare = client.head("/v1/items", headers=PLAIN)
    assert (bare.status_code, bare.content) == (200, b"")
    assert bare.headers["content-length"] == str(len(whole.content))
    assert client.get("/v1/items").content == whole.content


def test_a_sheet_in_each_form(client: httpx.Client) -> None:
    """JSON and a page with its stylesheet, each known again by its own tag."""
    bill = client.post("/v1/bills", json=_QUESTION).json()["bills"][0]
    path = f"/v1/bills/{bill['key']}/sheet"
    assert client.get(path).json()["key"] == bill["key"]
    page = client.get(path, headers={"Accept": "text/html"})
    assert (page.status_code, page.headers["content-type"]) == (200, "text/html; charset=utf-8")
    [stylesheet] = re.findall(r'<link rel="stylesheet" href="([^"]+)">', page.text)
    assert client.get(stylesheet).headers["content-type"] == "text/css; charset=utf-8"
    known = client.get(path, headers={"Accept": "text/html", "If-None-Match": page.headers["etag"]})
    assert (known.status_code, known.content) == (304, b"")


_WRONG: dict[str, tuple[bytes, dict[str, str], int, str, str | None]] = {
    "unknown id": (b'{"chassis": "brok", "layout": "factory"}', _JSON, 422, "invalid-request", "#/chassis"),
    "negative clearance": (
        json.dumps(_QUESTION | {"clearances": [{"spot": "left", "axial_mm": -3}]}).encode(),
        *(_JSON, 422, "invalid-request", "#/clearances/0/axial_mm"),
    ),
    "NaN": (b'{"chassis": "brook", "layout": "factory", "power_kw": NaN}', _JSON, 422, "invalid-request", "#/power_kw"),
    "1e400": (
        b'{"chassis": "brook", "layout": "factory", "power_kw": 1e400}',
        *(_JSON, 422, "invalid-request", "#/power_kw"),
    ),
    "lone surrogate": (b'{"chassis": "\\ud800", "layout": "factory"}', _JSON, 422, "invalid-request", "#/chassis"),
    "zero character": (b'{"chassis": "a\\u0000", "layout": "factory"}', _JSON, 422, "invalid-request", "#/chassis"),
    "unknown field": (json.dumps(_QUESTION | {"colour": 1}).encode(), _JSON, 422, "invalid-request", "#/colour"),
    "doubled key": (b'{"chassis": "brook", "chassis": "brook"}', _JSON, 422, "invalid-request", "#/chassis"),
    "text for a number": (json.dumps(_QUESTION | {"limit": "7"}).encode(), _JSON, 422, "invalid-request", "#/limit"),
    "deep": (b"[" * 100_000, _JSON, 400, "malformed-json", None),
    "huge integer": (b'{"limit": ' + b"1" * 5_000 + b"}", _JSON, 400, "malformed-json", None),
    "undecodable": (b"\xff\xfe\xfd", _JSON, 400, "malformed-json", None),
    "malformed": (b'{"chassis"', _JSON, 400, "malformed-json", None),
    "empty": (b"", _JSON, 400, "malformed-json", None),
    "text": (json.dumps(_QUESTION).encode(), {"Content-Type": "text/plain"}, 415, "unsupported-media-type", None),
    "10 MB": (b" " * _TEN_MB, _JSON, 413, "body-too-large", None),
    "10 MB of nesting": (b"[" * _TEN_MB, _JSON, 413, "body-too-large", None),
}


def _pieces(raw: bytes) -> Iterator[bytes]:
    for start in range(0, len(raw), 65_536):
        yield raw[start : start + 65_536]


@pytest.mark.parametrize("chunked", [False, True], ids=["plain", "chunked"])
@pytest.mark.parametrize("name", list(_WRONG))
def test_wrong_bodies(client: httpx.Client, name: str, chunked: bool) -> None:
    """Each is a problem with its place, sent with its length or in chunks; the server goes on."""
    raw, headers, status, code, pointer = _WRONG[name]
    found = problem(client.post("/v1/bills", content=_pieces(raw) if chunked else raw, headers=headers), status, code)
    if pointer is not None:
        assert [place for place, _, _ in told(found)] == [pointer]
    assert client.post("/v1/bills", json=_QUESTION).status_code == 200


@pytest.mark.parametrize(
    ("method", "path", "status", "code"),
    [
        ("GET", "/v1/items/PLUG-B9", 404, "unknown-id"),
        ("GET", "/v1/items/%00", 404, "unknown-id"),
        ("GET", "/v1/items/%ED%A0%80", 404, "unknown-id"),
        ("GET", "/v1/bills/nonsense", 404, "unknown-id"),
        ("GET", "/v1/nowhere", 404, "unknown-path"),
        ("GET", f"/v1/items?revision={2**63}", 422, "invalid-request"),
        ("GET", "/v1/items?colour=red", 422, "invalid-request"),
        ("GET", "/v1/items?limit=1&limit=1", 422, "invalid-request"),
        ("GET", "/v1/items?limit=%FF", 422, "invalid-request"),
        ("GET", "/v1/explain", 405, "method-not-allowed"),
        ("DELETE", "/v1/items", 405, "method-not-allowed"),
    ],
)
def test_wrong_requests(client: httpx.Client, method: str, path: str, status: int, code: str) -> None:
    """Each is a problem of its type."""
    problem(client.request(method, path), status, code)


def test_ids_with_slashes_come_through(client: httpx.Client) -> None:
    """As they are, or escaped."""
    for written in ("taper-1/8", "taper-1%2F8"):
        assert client.get(f"/v1/port-standards/{written}").json()["result"]["id"] == "taper-1/8"


def _connection(server: str) -> socket.socket:
    address = urlsplit(server)
    return socket.create_connection((address.hostname or "", address.port or 0), timeout=PATIENCE_S)


def test_who_sends_all_before_reading_is_answered_too(server: str) -> None:
    """Ten megabytes by a simple client: it is not cut off before it can read the refusal."""
    connection = http.client.HTTPConnection(urlsplit(server).netloc, timeout=PATIENCE_S)
    connection.request("POST", "/v1/bills", b" " * _TEN_MB, _JSON)
    assert connection.getresponse().status == 413
    connection.close()


def test_too_much_is_refused_before_it_is_sent(server: str) -> None:
    """A length over the limit is answered although nothing of the body has come."""
    with _connection(server) as connection:
        connection.sendall(
            b"POST /v1/bills HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
            b"Content-Length: 10000000\r\n\r\n"
        )
        assert connection.recv(1_000).startswith(b"HTTP/1.1 413 ")


def test_chunks_are_refused_as_soon_as_they_are_too_many(server: str) -> None:
    """A body that never ends is answered at its first byte over the limit."""
    with _connection(server) as connection:
        connection.sendall(
            b"POST /v1/bills HTTP/1.1\r\nHost: 127.0.0.1\r\n"
            b"Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"
        )
        for _ in range(5):
            connection.sendall(b"%x\r\n" % 65_536 + b" " * 65_536 + b"\r\n")
        assert connection.recv(1_000).startswith(b"HTTP/1.1 413 ")


def test_a_caller_that_leaves_does_no_harm(server: str, client: httpx.Client) -> None:
    """Half a body, then nothing: the server goes on, without a word of it in its log (see `served`)."""
    with _connection(server) as connection:
        connection.sendall(
            b"POST /v1/bills HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
            b"Content-Length: 100\r\n\r\n{"
        )
    time.sleep(0.1)
    assert client.post("/v1/bills", json=_QUESTION).status_code == 200


def test_a_damaged_database_is_refused_at_the_start(tmp_path: Path) -> None:
    """A worker does not come up over a file that is no database, and says so."""
    file = tmp_path / "catalog.sqlite3"
    file.write_bytes(b"no database " * 1_000)
    command = [sys.executable, "-c", "from service.web.serving import app_from_environment as app; app()"]
    environment = {"PORTWRIGHT_DATABASE_URL": f"sqlite:///{file}"}
    result = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=PATIENCE_S, check=False)
    assert result.returncode != 0
    assert "is damaged or is no database" in result.stderr
