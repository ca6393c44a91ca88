"""/v1/sweeps: the whole impact in the background, with progress; kept, gone on with, cancelled."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest

from service.storage.impact_sweeps import ImpactSweepStore
from service.usecases.impact import impact_of, impact_told
from service.usecases.impact_sweeps import Sides, Sweeper
from service.usecases.library import Library
from service.usecases.standing import KeptQuestions
from service.web.app import create_app
from tests.support.catalogs import changed, small_catalog
from tests.web.calls import Caller, caller, problem, told
from tests.web.conftest import dearer, drafts_of, library_in, sweeps_of

RETIRED = changed(small_catalog(), {"/items/1/status": "retired"})


@pytest.fixture(scope="module", name="library")
def _library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    file: Path = tmp_path_factory.mktemp("sweeps") / "catalog.sqlite3"
    with library_in(file, small_catalog(), dearer(small_catalog()), RETIRED) as library:
        yield library


@pytest.fixture(scope="module", name="client")
def _client(library: Library) -> Iterator[Caller]:
    app = create_app(library, kept_drafts=drafts_of(library), kept_sweeps=sweeps_of(library))
    with caller(app) as client:
        yield client


def done(client: Caller, begun: httpx.Response) -> dict[str, Any]:
    assert (begun.status_code, begun.headers["retry-after"]) == (202, "2")
    assert begun.headers["location"] == f"/v1/sweeps/{begun.json()['id']}"
    for _ in range(10_000):
        found: dict[str, Any] = client.get(begun.headers["location"]).json()
        if found["status"] != "running":
            return found
    raise AssertionError("it comes to no end")


@pytest.mark.parametrize("to", [2, 3])
def test_a_sweep_tells_the_impact_by_page(client: Caller, library: Library, to: int) -> None:
    found = done(client, client.post("/v1/sweeps", json={"from": 1, "to": to}))
    assert (found["status"], found["done"]) == ("done", found["total"])
    page = client.get(found["impact"], params={"limit": 2}).json()
    questions = page["questions"]
    while page["next"] is not None:
        assert len(page["questions"]) == 2
        page = client.get(page["next"]).json()
        questions += page["questions"]
    before, after = library.edition(1), library.edition(to)
    orders: dict[str, Any] = {"looked_at": 0, "otherwise": 0, "ids": []}
    assert {**page, "questions": questions} == impact_told(impact_of(before, after), before, after) | {"orders": orders}
    assert client.delete(f"/v1/sweeps/{found['id']}").json()["status"] == "done"
    problem(client.get(f"/v1/sweeps/{found['id']}"), 404, "unknown-id")


def test_a_draft_is_swept_as_it_stands(client: Caller) -> None:
    draft = client.post("/v1/drafts", json={"name": "dear", "author": "Ottilie"}).json()
    path = f"/v1/drafts/{draft['id']}/items/{small_catalog()['items'][2]['sku']}"
    edited = client.patch(path, json={"price": 9_999}, headers={"If-Match": "*"})
    assert edited.status_code == 200, edited.text
    found = done(client, client.post("/v1/sweeps", json={"from": 3, "to": draft["id"]}))
    assert (found["status"], found["to"]) == ("done", draft["id"])
    assert client.get(found["impact"]).json()["to"] == draft["id"]


def test_what_was_interrupted_goes_on_when_somebody_looks(client: Caller, library: Library) -> None:
    """Once no worker holds it; a second wish for the same is the same sweep."""
    sides = Sides(library.edition(2), library.edition(3), (2, 3))
    left = Sweeper(ImpactSweepStore(library._store._database), KeptQuestions()).begin(sides)
    begun = client.post("/v1/sweeps", json={"from": 2, "to": 3})
    assert begun.json()["id"] == left.id
    assert done(client, begun)["status"] == "done"


def test_a_sweep_is_cancelled(client: Caller, library: Library) -> None:
    sides = Sides(library.edition(3), library.edition(2), (3, 2))
    begun = Sweeper(ImpactSweepStore(library._store._database), KeptQuestions()).begin(sides)
    cancelled = client.delete(f"/v1/sweeps/{begun.id}").json()
    assert (cancelled["status"], cancelled["impact"]) == ("cancelled", None)
    assert client.get(f"/v1/sweeps/{begun.id}").json() == cancelled
    problem(client.get(f"/v1/sweeps/{begun.id}/impact"), 404, "unknown-id")


@pytest.mark.parametrize(
    ("body", "place"),
    [({"from": 9, "to": 1}, "#/from"), ({"from": 1, "to": 9}, "#/to"), ({"from": 1, "to": "none"}, "#/to")],
)
def test_what_is_not_there_is_not_swept(client: Caller, body: dict[str, Any], place: str) -> None:
    refused = problem(client.post("/v1/sweeps", json=body), 422, "invalid-request")
    assert [at for at, _, _ in told(refused)] == [place]
