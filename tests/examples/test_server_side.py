"""The shop's own server asks a real one, and says in words what comes of it; it works without a script."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from wsgiref.simple_server import WSGIRequestHandler, make_server

import httpx
import pytest

from service.client import Client, Retries
from service.documents.catalog import Catalog
from service.examples.shop.server_side import shop
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.support.catalogs import changed, small_catalog
from tests.support.forked import served
from tests.support.server import PATIENCE_S

HOSTILE = "<script>alert('x')</script>&\"'"
NOWHERE = "http://127.0.0.1:9"


class _Quiet(WSGIRequestHandler):
    def log_message(self, *_: Any) -> None:
        """Say nothing."""


@contextmanager
def opened(api: str) -> Iterator[httpx.Client]:
    """The shop over an API, served on a port of its own, and a browser without scripts before it."""
    with (
        Client(api, retries=Retries(most=0)) as client,
        make_server("127.0.0.1", 0, shop(client), handler_class=_Quiet) as server,
        httpx.Client(base_url=f"http://127.0.0.1:{server.server_port}", timeout=PATIENCE_S) as browser,
    ):
        serving = threading.Thread(target=server.serve_forever)
        serving.start()
        try:
            yield browser
        finally:
            server.shutdown()
            serving.join()


@pytest.fixture(scope="module", name="api")
def _api(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A real service; the first car has a hostile name."""
    url = f"sqlite:///{tmp_path_factory.mktemp('shop') / 'catalog.sqlite3'}"
    database = open_database(url)
    migrate(database)
    catalog = Catalog.model_validate(changed(small_catalog(), {"/chassis/0/name": HOSTILE}))
    RevisionStore(database).add(catalog, created_at=datetime(2026, 3, 1, tzinfo=UTC))
    database.close()
    with served(url, back_process="false") as server:
        yield server


@pytest.fixture(scope="module", name="browser")
def _browser(api: str) -> Iterator[httpx.Client]:
    with opened(api) as browser:
        yield browser


def _tags(page: str) -> list[tuple[str, dict[str, str | None]]]:
    found: list[tuple[str, dict[str, str | None]]] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.append((tag, dict(attrs)))

    Reader().feed(page)
    return found


def test_from_the_car_to_what_to_buy(browser: httpx.Client, api: str) -> None:
    """Each page leads on to the next by a form, and the last has what the API says: units, SKUs and prices."""
    first = browser.get("/")
    cars = [attrs["value"] for tag, attrs in _tags(first.text) if tag == "option"]
    assert "brook" in cars
    second = browser.get("/", params={"car": "brook"})
    assert "hose-centre" in [attrs["value"] for tag, attrs in _tags(second.text) if tag == "option"]
    third = browser.get("/", params={"car": "brook", "layout": "hose-centre"})
    assert {page.status_code for page in (first, second, third)} == {200}
    answer = httpx.get(f"{api}/v1/bills", params={"chassis": "brook", "layout": "hose-centre", "limit": "1"}).json()
    [bill] = answer["bills"]
    assert f"OVC {bill['price'] / 100:,.2f}" in third.text
    for line in bill["lines"]:
        row = f"<td>{line['qty']} \u00d7</td><td>{line['sku']}</td>"
        assert (row in third.text) is (line["source"] in ("buy", "elsewhere"))
    for caution in answer["safety"]:
        assert caution in unescape(third.text)


def test_no_bill_is_told(browser: httpx.Client) -> None:
    """With the cause, and that is no failure."""
    page = browser.get("/", params={"car": "brook", "layout": "linked-banks"})
    assert page.status_code == 200
    assert "No set of parts does this" in page.text
    assert "for engines with two banks" in page.text


@pytest.mark.parametrize(
    ("method", "path", "status", "words"),
    [
        ("GET", "/?car=nobody", 404, "nobody"),
        ("GET", "/?car=brook&layout=hose-center", 404, "hose-centre"),
        ("GET", "/nothing", 404, "nothing here"),
        ("POST", "/", 405, "GET alone"),
        ("GET", "/shop.css", 200, "font"),
        ("HEAD", "/?car=brook", 200, ""),
    ],
)
def test_other_requests(browser: httpx.Client, method: str, path: str, status: int, words: str) -> None:
    """What is not there is told by its name, the nearest with it; every answer is as safe as the page."""
    answer = browser.request(method, path)
    assert answer.status_code == status
    assert words in answer.text
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_hostile_text_stays_text(browser: httpx.Client) -> None:
    """From the catalog and from the query; nothing on the page is inline or from elsewhere."""
    for page in (browser.get("/"), browser.get("/", params={"car": HOSTILE, "layout": HOSTILE})):
        tags = _tags(page.text)
        assert not [tag for tag, attrs in tags if tag in ("script", "style") or "style" in attrs]
        assert {attrs.get("href") for tag, attrs in tags if tag == "link"} == {"data:,", "/shop.css"}
        assert "&lt;script&gt;" in page.text


def test_a_service_that_is_away_is_told() -> None:
    """503 in plain words."""
    with opened(NOWHERE) as browser:
        page = browser.get("/", params={"car": "brook"})
        assert page.status_code == 503
        assert "cannot be reached just now" in page.text


def test_a_service_without_a_catalog_is_told(tmp_path: Path) -> None:
    """503 too, with what the service says."""
    with served(f"sqlite:///{tmp_path / 'empty.sqlite3'}", back_process="false") as api, opened(api) as browser:
        page = browser.get("/")
        assert page.status_code == 503
        assert "No catalog has been imported yet" in page.text
