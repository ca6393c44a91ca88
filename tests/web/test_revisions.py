"""Revisions over HTTP: listed, compared, one's impact on another, and which part next."""

import asyncio
import time
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.usecases.impact import impact_of, impact_told
from service.usecases.library import Edition
from service.usecases.next_parts import next_parts_in
from service.web.app import create_app
from tests.support.builders import GONE, catalog
from tests.web.calls import get, problem
from tests.web.conftest import inquiries_of, library_in

CATALOGS = [
    catalog(),
    catalog({"items/PLUG-B8/price": 1234, "chassis/heron/stock_kw": 200.0}),
    catalog({"items/PLUG-B8/status": "retired", "layouts/3": GONE}),
]
PATIENCE_S = 60


class Client:
    """A client of an application in an event loop that lives on between its calls, as what is done behind people
    needs."""

    def __init__(self, app: FastAPI, runner: asyncio.Runner) -> None:
        self._app = app
        self._runner = runner

    def get(self, path: str, params: Any = None) -> httpx.Response:
        return self._runner.run(self._call("GET", path, params=params))

    def post(self, path: str, document: Any) -> httpx.Response:
        return self._runner.run(self._call("POST", path, json=document))

    def wait(self) -> None:
        self._runner.run(asyncio.sleep(0.05))

    async def _call(self, method: str, path: str, **sent: Any) -> httpx.Response:
        transport = httpx.ASGITransport(self._app)
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            return await client.request(method, path, **sent)


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Client]:
    file = tmp_path_factory.mktemp("revisions") / "catalog.sqlite3"
    with library_in(file, *CATALOGS) as library, asyncio.Runner() as runner:
        yield Client(create_app(library, kept_inquiries=inquiries_of(library)), runner)


def editions() -> list[Edition]:
    return [Edition(number, Catalog.model_validate(one)) for number, one in enumerate(CATALOGS, 1)]


def there(client: Client, path: str, **params: Any) -> httpx.Response:
    """The answer once it is worked out; until then 202 tells when to ask again."""
    until = time.monotonic() + PATIENCE_S
    while (response := client.get(path, params=params)).status_code == 202:
        assert int(response.headers["retry-after"]) > 0
        assert response.headers["cache-control"] == "no-store"
        assert time.monotonic() < until
        client.wait()
    return response


def test_revisions_are_listed_newest_first(client: Client) -> None:
    """By page, each with its content's digest and counts."""
    first = client.get("/v1/revisions", params={"limit": 2}).json()
    assert [one["number"] for one in first["results"]] == [3, 2]
    second = client.get(first["next"]).json()
    assert [one["number"] for one in second["results"]] == [1]
    assert "next" not in second
    assert len({one["digest"] for one in first["results"]}) == 2
    assert first["results"][0]["counts"]["items"] == len(CATALOGS[2]["items"])


def test_changes_are_told_by_revision(client: Client) -> None:
    """With the fields that differ; a part that is no longer made is retired."""
    told = client.get("/v1/changes", params={"since": 1}).json()
    assert (told["since"], told["revision"]) == (1, 3)
    assert [one["revision"] for one in told["revisions"]] == [2, 3]
    assert told["revisions"][0]["changes"] == [
        {"kind": "item", "id": "PLUG-B8", "what": "changed", "fields": ["price"]},
        {"kind": "chassis", "id": "heron", "what": "changed", "fields": ["stock_kw"]},
    ]
    third = {(one["kind"], one["id"]): one["what"] for one in told["revisions"][1]["changes"]}
    assert third["item", "PLUG-B8"] == "retired"
    assert third["layout", CATALOGS[0]["layouts"][3]["id"]] == "removed"
    assert client.get("/v1/changes", params={"since": 3}).json()["revisions"] == []


def test_impact_is_worked_out_behind_people(client: Client) -> None:
    """The same as that of the use case, by page."""
    before, _, after = editions()
    whole = impact_told(impact_of(before, after), before, after)
    assert {"lost", "gone"} <= whole["counts"].keys()
    told = there(client, "/v1/revisions/1/impact/3", limit=2).json()
    questions = told["questions"]
    while told["next"] is not None:
        assert len(told["questions"]) == 2
        told = client.get(told["next"]).json()
        questions += told["questions"]
    assert told.pop("orders") == {"looked_at": 0, "otherwise": 0, "ids": []}
    assert {**told, "questions": questions} == whole


def test_next_parts_are_worked_out_behind_people(client: Client) -> None:
    """The same as those of the use case: the plug that was retired is wanted back."""
    told = there(client, "/v1/next-parts")
    assert told.headers["x-catalog-revision"] == "3"
    assert told.json() == next_parts_in(editions()[2])
    assert told.json()[0]["ports"] == [{"standard": "boss-8", "end": "male"}]
    assert told.json()[0]["unlocks"] == len(told.json()[0]["questions"])


def test_next_parts_go_by_the_inquiries_so_far(client: Client) -> None:
    """An inquiry that comes later counts: the part that it wants is asked for once more."""
    before = there(client, "/v1/next-parts").json()[0]
    request = {name: before["questions"][0]["request"][name] for name in ("chassis", "layout")}
    assert client.post("/v1/inquiries", {"request": request, "contact": "Ottilie, +00 555 0119"}).status_code == 201
    after = there(client, "/v1/next-parts").json()[0]
    assert (after["ports"], after["asked"]) == (before["ports"], before["asked"] + 1)


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("/v1/revisions/1/impact/4", 404),
        ("/v1/revisions/0/impact/1", 404),
        ("/v1/revisions/one/impact/1", 404),
        ("/v1/revisions/1/impact/2?cursor=no", 422),
        ("/v1/revisions?cursor=no", 422),
        ("/v1/revisions?since=1", 422),
        ("/v1/changes", 422),
        ("/v1/changes?since=0", 422),
        ("/v1/changes?since=99", 422),
        ("/v1/next-parts?revision=99", 404),
    ],
)
def test_what_is_not_there_is_refused(client: Client, path: str, status: int) -> None:
    assert client.get(path).status_code == status


def test_without_a_catalog_there_is_none() -> None:
    app = create_app()
    for path in ("/v1/revisions", "/v1/next-parts", "/v1/changes?since=1", "/v1/revisions/1/impact/2"):
        problem(get(app, path), 503, "no-catalog")
