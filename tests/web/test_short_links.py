"""Short links over the API: made, made again, followed to the sheet."""

from typing import Any

import pytest
from fastapi import FastAPI

from service.web.app import create_app
from tests.web.calls import ask, call, get, problem
from tests.web.conftest import QUESTION


@pytest.fixture(name="key", scope="module")
def _key(app: FastAPI) -> str:
    return str(ask(app, QUESTION).json()["bills"][0]["key"])


@pytest.fixture(name="link", scope="module")
def _link(app: FastAPI, key: str) -> dict[str, Any]:
    made = call(app, "POST", f"/v1/bills/{key}/link")
    assert made.status_code in (200, 201)
    told: dict[str, Any] = made.json()
    return told


def test_a_link_is_made_once(app: FastAPI, key: str, link: dict[str, Any]) -> None:
    """Then given again, with its place."""
    again = call(app, "POST", f"/v1/bills/{key}/link")
    assert (again.status_code, again.json()) == (200, link)
    assert again.headers["location"] == link["path"] == f"/b/{link['code']}"
    assert again.headers["cache-control"] == "no-store"


@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_a_link_leads_to_the_sheet(app: FastAPI, key: str, link: dict[str, Any], method: str) -> None:
    """Which is there; in capitals too."""
    for path in (link["path"], f"/b/{link['code'].upper()}"):
        followed = call(app, method, path)
        assert (followed.status_code, followed.content) == (302, b"")
        assert followed.headers["location"] == f"/v1/bills/{key}/sheet"
        assert followed.headers["cache-control"] == "public, max-age=3600"
    assert get(app, followed.headers["location"], headers={"Accept": "text/html"}).status_code == 200


def test_what_is_not_there(app: FastAPI) -> None:
    """No bill, no code, no link."""
    found = problem(call(app, "POST", "/v1/bills/none/link"), 404, "unknown-id")
    assert found["errors"][0]["parameter"] == "key"
    found = problem(get(app, "/b/zzzzzzzz"), 404, "unknown-id")
    assert (found["errors"][0]["parameter"], found["errors"][0]["expected"]) == (
        "code",
        "the code of a known short link",
    )
    problem(get(app, "/b/"), 404, "unknown-path")
    problem(get(app, "/b/%2e%2e%2fv1"), 404, "unknown-path")
    problem(call(app, "POST", "/b/zzzzzzzz"), 405, "method-not-allowed")


def test_without_a_catalog() -> None:
    """503."""
    problem(get(create_app(), "/b/zzzzzzzz"), 503, "no-catalog")
