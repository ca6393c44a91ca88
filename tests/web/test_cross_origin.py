"""Pages of allowed origins call the API as their browsers do, over real HTTP; others, and the HTML pages, stay shut."""

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.support.catalogs import small_catalog
from tests.support.forked import served
from tests.support.server import PATIENCE_S
from tests.web.calls import call, problem

SHOP, OTHER_SHOP, STRANGER = "https://shop.example", "http://127.0.0.1:8081", "https://shop.example.evil"
QUESTION = {"chassis": "brook", "layout": "hose-centre"}
EXPOSED = (
    "Deprecation, ETag, Link, Location, RateLimit, RateLimit-Policy, Retry-After, Sunset, "
    "X-Catalog-Revision, X-Request-ID"
)


@pytest.fixture(scope="module", name="client")
def _client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[httpx.Client]:
    url = f"sqlite:///{tmp_path_factory.mktemp('shop') / 'catalog.sqlite3'}"
    database = open_database(url)
    migrate(database)
    catalog = Catalog.model_validate(small_catalog())
    RevisionStore(database).add(catalog, created_at=datetime(2026, 3, 1, tzinfo=UTC))
    database.close()
    with (
        served(url, allowed_origins=f"{SHOP},{OTHER_SHOP}", back_process="false") as server,
        httpx.Client(base_url=server, timeout=PATIENCE_S) as client,
    ):
        yield client


def cors(response: httpx.Response) -> dict[str, str]:
    """What the answer allows."""
    names = [name for name in response.headers if name.startswith("access-control-")]
    return {name.removeprefix("access-control-"): response.headers[name] for name in names}


def vary(response: httpx.Response) -> list[str]:
    return [part.strip() for part in response.headers.get("vary", "").split(",") if part.strip()]


CALLS: dict[str, tuple[str, str, dict[str, Any], int]] = {
    "a list": ("GET", "/v1/chassis", {}, 200),
    "a question as a query": ("GET", "/v1/bills", {"params": QUESTION}, 200),
    "its head": ("HEAD", "/v1/bills", {"params": QUESTION}, 200),
    "a question": ("POST", "/v1/bills", {"json": QUESTION}, 200),
    "an inquiry": ("POST", "/v1/inquiries", {"json": {"request": QUESTION, "contact": "x"}}, 201),
    "the description": ("GET", "/openapi.json", {}, 200),
    "the sandbox": ("GET", "/sandbox/v1/fuels", {}, 200),
    "an unknown path": ("GET", "/v1/nothing", {}, 404),
    "an unknown id": ("GET", "/v1/chassis/nothing", {}, 404),
    "a wrong method": ("DELETE", "/v1/chassis", {}, 405),
    "a wrong question": ("GET", "/v1/bills", {"params": {"chassis": "brook"}}, 422),
    "no JSON": ("POST", "/v1/bills", {"content": b"{", "headers": {"Content-Type": "application/json"}}, 400),
    "another media type": ("POST", "/v1/bills", {"content": b"{}"}, 415),
    "too large a body": ("POST", "/v1/bills", {"content": b" " * 300_000}, 413),
}


@pytest.mark.parametrize("name", list(CALLS))
@pytest.mark.parametrize("origin", [SHOP, OTHER_SHOP, STRANGER, "null", None])
def test_who_may_read_an_answer(client: httpx.Client, name: str, origin: str | None) -> None:
    """Allowed origins read all answers, refusals as well; nobody else any; each answer says what it depends on."""
    method, path, options, status = CALLS[name]
    headers = options.get("headers", {}) | ({} if origin is None else {"Origin": origin})
    response = client.request(method, path, **options | {"headers": headers})
    assert response.status_code == status
    assert vary(response).count("Origin") == 1
    if origin in (SHOP, OTHER_SHOP):
        assert cors(response) == {"allow-origin": origin, "expose-headers": EXPOSED}
        assert response.headers["cross-origin-resource-policy"] == "cross-origin"
    else:
        assert cors(response) == {}
        assert response.headers["cross-origin-resource-policy"] == "same-origin"
    assert response.headers["x-request-id"]


@pytest.mark.parametrize(("origin", "readable"), [(SHOP, True), (STRANGER, False), (None, False)])
def test_what_is_not_sent_again(client: httpx.Client, origin: str | None, readable: bool) -> None:
    """A 304 allows what the whole answer allows, and varies by the same."""
    headers = {} if origin is None else {"Origin": origin}
    whole = client.get("/v1/bills", params=QUESTION, headers=headers)
    bare = client.get("/v1/bills", params=QUESTION, headers=headers | {"If-None-Match": whole.headers["etag"]})
    assert (whole.status_code, bare.status_code) == (200, 304)
    assert cors(bare) == cors(whole)
    assert ("allow-origin" in cors(bare)) is readable
    for name in ("vary", "etag", "cache-control", "cross-origin-resource-policy"):
        assert bare.headers[name] == whole.headers[name]


@pytest.mark.parametrize("accept", ["application/json", "text/html"])
@pytest.mark.parametrize("known", [False, True])
def test_pages_stay_shut(client: httpx.Client, accept: str, known: bool) -> None:
    """The sheet as JSON is read by shops, as a page never, nor its 304; it varies by what is accepted as well."""
    key = client.get("/v1/bills", params=QUESTION).json()["bills"][0]["key"]
    headers = {"Origin": SHOP, "Accept": accept}
    sheet = client.get(f"/v1/bills/{key}/sheet", headers=headers)
    if known:
        sheet = client.get(f"/v1/bills/{key}/sheet", headers=headers | {"If-None-Match": sheet.headers["etag"]})
    assert sheet.status_code == (304 if known else 200)
    assert vary(sheet) == ["Accept", "Accept-Encoding", "Origin"]
    assert bool(cors(sheet)) is (accept == "application/json")
    shut = sheet.headers["cross-origin-resource-policy"] == "same-origin"
    assert shut is (accept == "text/html")


@pytest.mark.parametrize("path", ["/", "/b/00000000", "/inquiries", "/v1", "/openapi.jsonx"])
def test_other_paths_stay_shut(client: httpx.Client, path: str) -> None:
    """Only the API and its description are for shops."""
    assert cors(client.get(path, headers={"Origin": SHOP})) == {}


def preflight(client: httpx.Client, path: str, origin: str, method: str, headers: str | None) -> httpx.Response:
    asked = {"Origin": origin, "Access-Control-Request-Method": method}
    if headers is not None:
        asked["Access-Control-Request-Headers"] = headers
    return client.options(path, headers=asked)


@pytest.mark.parametrize("method", ["GET", "HEAD", "POST"])
@pytest.mark.parametrize("headers", [None, "content-type", "content-type,idempotency-key", "if-none-match"])
@pytest.mark.parametrize("path", ["/v1/bills", "/v1/order-checks", "/openapi.json"])
def test_preflights_that_are_allowed(client: httpx.Client, path: str, method: str, headers: str | None) -> None:
    """Say what may be sent, for ten minutes, and never with credentials."""
    response = preflight(client, path, SHOP, method, headers)
    assert response.status_code == 200
    allowed = cors(response)
    assert allowed["allow-origin"] == SHOP
    assert set(allowed["allow-methods"].split(", ")) == {"GET", "HEAD", "POST"}
    assert {"Content-Type", "Idempotency-Key", "If-None-Match"} <= set(allowed["allow-headers"].split(", "))
    assert "allow-credentials" not in allowed
    assert allowed["max-age"] == "600"
    assert "Origin" in vary(response)


@pytest.mark.parametrize(
    ("path", "origin", "method", "headers"),
    [
        ("/v1/bills", STRANGER, "POST", "content-type"),
        ("/v1/bills", "null", "POST", "content-type"),
        ("/v1/bills", SHOP, "DELETE", None),
        ("/v1/bills", SHOP, "POST", "content-type,authorization"),
        ("/v1/bills", SHOP, "POST", "cookie"),
    ],
)
def test_preflights_that_are_not_allowed(
    client: httpx.Client, path: str, origin: str, method: str, headers: str | None
) -> None:
    """Are answered as any OPTIONS is, without a word that would let the browser go on."""
    response = preflight(client, path, origin, method, headers)
    assert (response.status_code, response.headers["allow"]) == (204, "GET, HEAD, OPTIONS, POST")
    assert not {"allow-methods", "allow-headers"} & set(cors(response))
    assert "Origin" in vary(response)


def test_without_allowed_origins_nothing_is_said(app: FastAPI) -> None:
    """Neither of a simple call nor of a preflight, and answers do not vary."""
    plain = call(app, "GET", "/v1/chassis", headers={"Origin": SHOP})
    asked = {"Origin": SHOP, "Access-Control-Request-Method": "POST"}
    before = call(app, "OPTIONS", "/v1/bills", headers=asked)
    for response in (plain, before):
        assert cors(response) == {}
        assert "origin" not in response.headers.get("vary", "").lower()
    problem(call(app, "PUT", "/v1/bills", headers={"Origin": SHOP}), 405, "method-not-allowed")
