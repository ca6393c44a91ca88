"""The service as it is run: the seed catalog, two workers, an import meanwhile, many questions at once, a lost file."""

import json
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from pathlib import Path
from typing import Any

import httpx
import pytest

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog, seed_folder
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from service.web.serving import FRESH_S
from tests.support.forked import served
from tests.support.found import by_itself
from tests.support.server import PATIENCE_S
from tests.web.calls import problem
from tests.web.conftest import dearer

_HEALTHY_WITHIN_S = 1.0


def _published(url: str, catalog: Catalog) -> int:
    """Import a catalog into the database as another process does, and give its revision."""
    database = open_database(url)
    migrate(database)
    number, new = Library(RevisionStore(database)).publish(catalog)
    database.close()
    assert new
    return number


@pytest.fixture(scope="module", name="catalog")
def _catalog() -> Catalog:
    return load_catalog(seed_folder())


@pytest.fixture(scope="module", name="url")
def _url(tmp_path_factory: pytest.TempPathFactory, catalog: Catalog) -> str:
    """The address of a database with the seed catalog as its revision 1."""
    url = f"sqlite:///{tmp_path_factory.mktemp('service') / 'catalog.sqlite3'}"
    assert _published(url, catalog) == 1
    return url


@pytest.fixture(scope="module", name="client")
def _client(url: str) -> Iterator[httpx.Client]:
    """Each call is a connection of its own, so that either of the two workers may take it."""
    alone = httpx.Limits(max_keepalive_connections=0)
    with served(url, workers=2) as server, httpx.Client(base_url=server, timeout=PATIENCE_S, limits=alone) as client:
        yield client


def _question(client: httpx.Client) -> dict[str, Any]:
    """The first layout of the first chassis that has bills."""
    chassis = client.get("/v1/chassis", params={"limit": 1}).json()["results"][0]["id"]
    choices = client.get(f"/v1/chassis/{chassis}/layouts").json()["layouts"]
    return {"chassis": chassis, "layout": next(choice["layout"] for choice in choices if choice["total_valid"])}


def test_every_worker_answers_alike(client: httpx.Client) -> None:
    """The same bytes and the same ETag whoever answers: bills, a bill by its key, a list."""
    question = _question(client)
    key = client.post("/v1/bills", json=question).json()["bills"][0]["key"]
    with ThreadPoolExecutor(4) as callers:
        assert len(set(callers.map(lambda _: client.post("/v1/bills", json=question).content, range(8)))) == 1
        for path in (f"/v1/bills/{key}", "/v1/items?kind=rail"):
            answers = list(callers.map(client.get, [path] * 8))
            assert {answer.status_code for answer in answers} == {200}
            assert len({(answer.content, answer.headers["etag"]) for answer in answers}) == 1


def _until_all_answer_from(client: httpx.Client, number: int) -> None:
    """Ask both workers, so many at once that neither can take all, until all answers tell a revision."""
    until = time.monotonic() + PATIENCE_S
    found: set[int] = set()
    with ThreadPoolExecutor(16) as callers:
        while found != {number}:
            assert time.monotonic() < until
            answers = callers.map(lambda _: client.get("/v1/health/ready").json()["revision"], range(64))
            found = set(answers)


def test_an_import_shows_soon_and_moves_nothing_that_began(url: str, client: httpx.Client, catalog: Catalog) -> None:
    """Every worker opens it beside the one before and then asks the newest; questions are answered throughout. A named
    revision, a key and a list that began stay where they are."""
    question = _question(client) | {"limit": 1, "detail": "full"}
    before = client.post("/v1/bills", json=question).json()
    [bill] = before["bills"]
    page = client.get("/v1/items", params={"limit": 50}).json()
    number = _published(url, Catalog.model_validate(dearer(catalog.model_dump(exclude_none=True))))
    assert client.post("/v1/bills", json=question).json()["revision"] in (number - 1, number)
    _until_all_answer_from(client, number)
    for _ in range(4):
        assert client.post("/v1/bills", json=question).json()["bills"][0]["price"] > bill["price"]
        assert client.post("/v1/bills", json=question | {"revision": number - 1}).json() == before
        assert client.get(f"/v1/bills/{bill['key']}").json()["bill"] == by_itself(bill)
        rest = client.get(page["next"]).json()
        assert rest["revision"] == page["revision"] == number - 1
        assert [item["sku"] for item in page["results"] + rest["results"]] == [item.sku for item in catalog.items]


def test_health_is_fast_while_many_bills_are_worked_out(client: httpx.Client, catalog: Catalog) -> None:
    """Every question is answered in the end; meanwhile nobody waits long to hear that the service is well."""
    wishes = {"gauge": "any", "group_variants": False, "limit": 100}
    pairs = list(product(catalog.chassis, catalog.layouts))[::5]
    questions = [{"chassis": chassis.id, "layout": layout.id} | wishes for chassis, layout in pairs]
    waits = []

    def ask(question: dict[str, Any]) -> int:
        """Ask again for as long as the service is too busy, when it says to."""
        while (reply := client.post("/v1/bills", json=question)).status_code == 503:
            time.sleep(float(reply.headers["retry-after"]))
        return reply.status_code

    with ThreadPoolExecutor(8) as callers:
        asked = [callers.submit(ask, question) for question in questions]
        while not all(one.done() for one in asked):
            for path in ("/v1/health/live", "/v1/health/ready"):
                started = time.perf_counter()
                assert client.get(path).status_code == 200
                waits.append(time.perf_counter() - started)
    assert {one.result() for one in asked} == {200}
    assert len(waits) > 4
    assert max(waits) < _HEALTHY_WITHIN_S


def test_a_database_that_is_spoilt_underneath_is_503(tmp_path: Path) -> None:
    """Questions are refused and say when to come again, health tells, and the process lives on."""
    file = tmp_path / "catalog.sqlite3"
    url = f"sqlite:///{file}"
    _published(url, load_catalog(seed_folder()))
    with served(url, back_process="false") as server, httpx.Client(base_url=server, timeout=PATIENCE_S) as client:
        question = _question(client)
        for beside in tmp_path.glob("catalog.sqlite3-*"):
            beside.unlink()
        file.write_bytes(b"no database " * 10_000)
        time.sleep(2 * FRESH_S["sqlite"])
        for response in (
            client.post("/v1/bills", json=question),
            client.get("/v1/items"),
            client.get("/v1/health/ready"),
        ):
            assert str(file) not in json.dumps(problem(response, 503, "storage-unavailable"))
            assert int(response.headers["retry-after"]) > 0
        assert client.get("/v1/health/live").json() == {"live": True}
