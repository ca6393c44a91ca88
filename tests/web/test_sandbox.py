"""The sandbox answers from the seed catalog, whatever is published, and only where it is asked."""

from pathlib import Path

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog, seed_folder
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.web.calls import ask, call, get, problem
from tests.web.conftest import QUESTION, dearer, library_in

SEED = load_catalog(seed_folder())
ASKED = {"chassis": SEED.chassis[0].id, "layout": SEED.layouts[0].id, "limit": 1}


def test_publishing_does_not_touch_it(tmp_path: Path) -> None:
    """The same bytes before and after, beside another catalog; keys lead to their bills there."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library)
        paths = ("/sandbox/v1/items?limit=2", "/sandbox/v1/chassis?q=zzz")
        before = [get(app, path).content for path in paths]
        bills = call(app, "POST", "/sandbox/v1/bills", json=ASKED)
        assert bills.headers["x-catalog-revision"] == "1"
        library.publish(Catalog.model_validate(dearer(small_catalog())))
        assert [get(app, path).content for path in paths] == before
        assert call(app, "POST", "/sandbox/v1/bills", json=ASKED).content == bills.content
        key = bills.json()["bills"][0]["key"]
        assert get(app, f"/sandbox/v1/bills/{key}").json()["current"]["valid"] is True
        assert get(app, "/v1/items").json()["revision"] == 2
        problem(ask(app, ASKED), 422, "invalid-request")


def test_it_answers_as_the_api_does(app: FastAPI) -> None:
    """Pages go on within it; what is not there, or not taken, is told."""
    page = get(app, "/sandbox/v1/items?limit=2").json()
    assert page["next"].startswith("/sandbox/v1/items?")
    skus = [item["sku"] for item in page["results"] + get(app, page["next"]).json()["results"]]
    assert skus == [item.sku for item in SEED.items[:4]]
    problem(get(app, "/sandbox/v1/items/NO-SUCH"), 404, "unknown-id")
    problem(call(app, "POST", "/sandbox/v1/bills", json=QUESTION), 422, "invalid-request")
    assert problem(call(app, "DELETE", "/sandbox/v1/items"), 405, "method-not-allowed")
    problem(get(app, "/sandbox/v1/items?limits=2"), 422, "invalid-request")


@pytest.mark.parametrize("path", ["drafts", "order-checks", "inquiries", "webhooks", "contract/cases", "health"])
def test_nothing_is_kept_there(app: FastAPI, path: str) -> None:
    """It only asks."""
    problem(get(app, f"/sandbox/v1/{path}"), 404, "unknown-path")


def test_it_needs_no_catalog() -> None:
    """Whoever tries it out waits for nobody's import."""
    app = create_app()
    assert get(app, "/sandbox/v1/fuels").json()["revision"] == 1
    problem(get(app, "/v1/fuels"), 503, "no-catalog")
