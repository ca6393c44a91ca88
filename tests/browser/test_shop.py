"""The shop page in a browser, on an origin of its own; and texts of a catalog that would be markup if they could."""

from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.support.catalogs import small_catalog
from tests.support.forked import served
from tests.web.test_sheet_page import HOSTILE

pytestmark = pytest.mark.browser

IN_THE_EXAMPLE = "http://127.0.0.1:8000"


class _Quiet(SimpleHTTPRequestHandler):
    """A web server that keeps no log."""

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002 base class
        """Say nothing."""


def hostile_catalog() -> dict[str, Any]:
    """The small catalog with names that would be markup; the cars and layouts begin with their ids."""
    document = small_catalog()
    for section in ("chassis", "layouts", "items"):
        for element in document[section]:
            element["name"] = f"{element.get('id', element.get('sku'))} {HOSTILE}"
    for layout in document["layouts"]:
        layout["summary"] = HOSTILE
    return document


@pytest.fixture(scope="module", name="addresses")
def _addresses(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, str]]:
    """The API, and the shop that asks it, whose origin it allows."""
    url = f"sqlite:///{tmp_path_factory.mktemp('api') / 'catalog.sqlite3'}"
    database = open_database(url)
    migrate(database)
    Library(RevisionStore(database)).publish(Catalog.model_validate(hostile_catalog()))
    database.close()
    folder = tmp_path_factory.mktemp("shop")
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=folder)) as shop:
        Thread(target=shop.serve_forever, daemon=True).start()
        origin = f"http://127.0.0.1:{shop.server_port}"
        with served(url, allowed_origins=origin, back_process="false") as api:
            for file in ("index.html", "shop.css", "shop.js"):
                text = (files("service.examples.shop") / file).read_text(encoding="utf-8")
                (Path(folder) / file).write_text(text.replace(IN_THE_EXAMPLE, api), encoding="utf-8")
            yield api, origin
        shop.shutdown()


@pytest.fixture(name="opened")
def _opened(browser: Browser) -> Iterator[Page]:
    """A page in which no text of a catalog may become a script, an image or a complaint of the console."""
    context = browser.new_context()
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text) if message.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("dialog", lambda dialog: said.append(dialog.message))
    yield page
    context.close()
    assert said == []


def test_from_the_car_to_what_to_buy(opened: Page, addresses: tuple[str, str]) -> None:
    api, origin = addresses
    opened.goto(f"{origin}/index.html")
    expect(opened.get_by_label("Car")).to_be_enabled()
    opened.get_by_label("Car").select_option("brook")
    opened.get_by_label("How the fuel runs").select_option("hose-centre")
    opened.get_by_role("button", name="Show what to buy").click()
    expect(opened.locator("#lines tr").first).to_be_visible()
    answer = opened.request.get(f"{api}/v1/bills?chassis=brook&layout=hose-centre&limit=1").json()
    bought = [line for line in answer["bills"][0]["lines"] if line["source"] == "buy"]
    shown = opened.locator("#lines")
    for line in bought:
        expect(shown).to_contain_text(line["sku"])
        expect(shown).to_contain_text(line["name"])
    expect(opened.locator("#safety li").first).to_be_visible()
    expect(opened.locator("img")).to_have_count(0)


def test_an_origin_that_is_not_allowed_gets_no_answer(browser: Browser, addresses: tuple[str, str]) -> None:
    """The page says so in words and keeps working."""
    _, origin = addresses
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{origin.replace('127.0.0.1', 'localhost')}/index.html")
    expect(page.locator("#message")).to_contain_text("cannot be reached")
    context.close()


@pytest.mark.parametrize(
    "path",
    [
        "/ask?car=brook",
        "/ask?chassis=brook&layout=hose-centre&gauge=any",
        "/order?chassis=brook&lines=2x+RAIL-S",
        "/catalog",
        "/catalog/RAIL-S?car=brook&layout=factory&cars=yes",
        "/drop-curves?chassis=brook",
        "drawing",
        "sheet",
    ],
)
def test_hostile_names_stay_names(opened: Page, addresses: tuple[str, str], path: str) -> None:
    api, _ = addresses
    if not path.startswith("/"):
        key = opened.request.get(f"{api}/v1/bills?chassis=brook&layout=hose-centre").json()["bills"][0]["key"]
        path = {"drawing": f"/bills/{key}/drawing", "sheet": f"/v1/bills/{key}/sheet"}[path]
    opened.goto(f"{api}{path}")
    expect(opened.locator("body")).to_contain_text("<script>alert(1)</script>")
    expect(opened.locator("img, body script:not([src])")).to_have_count(0)
