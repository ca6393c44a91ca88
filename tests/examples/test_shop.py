"""The shop page is shipped whole, asks the API that it names and nobody else, and gets what it reads."""

import re
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path

import httpx
import pytest
from hatchling.builders.wheel import WheelBuilder

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.support.catalogs import small_catalog
from tests.support.forked import served
from tests.support.server import PATIENCE_S

ROOT = Path(__file__).parents[2]
SHOP = ROOT / "service" / "examples" / "shop"
PAGE = (SHOP / "index.html").read_text(encoding="utf-8")
SCRIPT = (SHOP / "shop.js").read_text(encoding="utf-8")
STYLE = (SHOP / "shop.css").read_text(encoding="utf-8")
ORIGIN = "https://shop.example"


class _Read(HTMLParser):
    """What stands in a page: its tags with their attributes, and the text of scripts and styles."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inline = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        if self.tags and self.tags[-1][0] in ("script", "style"):
            self.inline += data.strip()


@pytest.fixture(name="page")
def _page() -> _Read:
    read = _Read()
    read.feed(PAGE)
    return read


def test_it_is_in_the_wheel(tmp_path: Path) -> None:
    """Byte by byte."""
    [wheel] = WheelBuilder(str(ROOT)).build(directory=str(tmp_path), versions=["standard"])
    with zipfile.ZipFile(wheel) as archive:
        for file in SHOP.iterdir():
            if file.is_file():
                assert archive.read(f"service/examples/shop/{file.name}") == file.read_bytes()


def test_it_names_one_address(page: _Read) -> None:
    """That of the API, alike in both places; no other in any file, and no file but its own."""
    [html] = [attrs for tag, attrs in page.tags if tag == "html"]
    [policy] = [attrs["content"] for tag, attrs in page.tags if attrs.get("http-equiv") == "Content-Security-Policy"]
    api = html["data-api"]
    assert policy is not None
    assert f"connect-src {api};" in policy
    assert set(re.findall(r"\b[a-z]+:?//[^\s\"';]+", PAGE + SCRIPT + STYLE)) == {api}
    loaded = {attrs.get("src") or attrs.get("href") for tag, attrs in page.tags if tag in ("script", "link", "img")}
    assert loaded == {"shop.js", "shop.css", "data:,"}
    assert not re.search(r"@import|url\(|\bimport\b|importScripts", SCRIPT + STYLE)


def test_its_policy_is_strict(page: _Read) -> None:
    """Nothing by default, nothing inline, nothing written as markup."""
    [policy] = [attrs["content"] for tag, attrs in page.tags if attrs.get("http-equiv") == "Content-Security-Policy"]
    rules = dict(rule.split(" ", 1) for rule in str(policy).split("; "))
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
    assert rules["script-src"] == rules["style-src"] == "'self'"
    assert "unsafe" not in str(policy)
    assert page.inline == ""
    assert not [attrs for _, attrs in page.tags if any(name == "style" or name.startswith("on") for name in attrs)]
    assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|Function\(", SCRIPT)


def test_what_the_script_looks_for_is_there(page: _Read) -> None:
    """Each id once; each field has its label."""
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(set(ids)) == len(ids)
    assert set(re.findall(r'\bat\("([a-z-]+)"\)', SCRIPT)) <= set(ids)
    labelled = {attrs["for"] for tag, attrs in page.tags if tag == "label"}
    assert labelled == {attrs["id"] for tag, attrs in page.tags if tag in ("select", "input")}


@pytest.fixture(scope="module", name="api")
def _api(tmp_path_factory: pytest.TempPathFactory) -> Iterator[httpx.Client]:
    url = f"sqlite:///{tmp_path_factory.mktemp('shop') / 'catalog.sqlite3'}"
    database = open_database(url)
    migrate(database)
    catalog = Catalog.model_validate(small_catalog())
    RevisionStore(database).add(catalog, created_at=datetime(2026, 3, 1, tzinfo=UTC))
    database.close()
    headers = {"Origin": ORIGIN, "Accept": "application/json"}
    with (
        served(url, allowed_origins=ORIGIN, back_process="false") as server,
        httpx.Client(base_url=server, timeout=PATIENCE_S, headers=headers) as client,
    ):
        yield client


def test_its_questions_are_answered_from_another_origin(api: httpx.Client) -> None:
    """The cars, a car's layouts and the bills of each, with all that the page shows; and what is refused has words."""
    answers = []
    [path] = re.findall(r'all\("([^"]+)"\)', SCRIPT)
    cars = api.get(path)
    for car in cars.json()["results"]:
        assert {"id", "name", "engine"} <= set(car)
        layouts = api.get(f"/v1/chassis/{car['id']}/layouts")
        answers += [cars, layouts]
        for layout in layouts.json()["layouts"]:
            query = {"chassis": car["id"], "layout": layout["layout"], "limit": "1"}
            bills = api.get("/v1/bills", params=query)
            answers.append(bills)
            for bill in bills.json()["bills"]:
                assert {"key", "price", "lead_days", "cautions", "extras"} <= set(bill)
                assert all({"qty", "sku", "name", "source", "price"} <= set(line) for line in bill["lines"])
                answers.append(api.get(f"/v1/bills/{bill['key']}/sheet"))
            if not bills.json()["bills"]:
                assert bills.json()["stories"][0]["text"]
    refused = api.get("/v1/bills", params={"chassis": "nobody", "layout": "none"})
    assert {"title", "detail"} <= set(refused.json())
    assert {answer.status_code for answer in answers} == {200}
    assert {answer.headers["access-control-allow-origin"] for answer in [*answers, refused]} == {ORIGIN}
