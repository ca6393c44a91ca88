"""The standing cases over HTTP: with keys, by revision, cacheable, as a file that can be kept."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.contract import CaseFile
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.found import by_itself
from tests.web.calls import ask, get, problem
from tests.web.conftest import QUESTION, checks_of, dearer, library_in

PROMISES = {"has_bill": True, "contains": ["RAIL-S"], "price": {"at_least": 1, "at_most": 90_000}}
CASES: list[dict[str, Any]] = [
    {"id": "keyed", "says": "s", "request": QUESTION | {"limit": 2}, "promises": PROMISES | {"keyed": True}},
    {"id": "plain", "says": "s", "request": QUESTION, "promises": PROMISES},
    {"id": "none", "says": "s", "request": QUESTION | {"max_price": 0}, "promises": {"has_bill": False}},
    {"id": "odd", "says": "s", "request": QUESTION | {"gauge": "1.top"}, "promises": {"has_bill": True, "keyed": True}},
]


@pytest.fixture(scope="module")
def case_app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    """Revision 1 has cases, revision 2 is dearer and has them too, revision 3 has none."""
    file: Path = tmp_path_factory.mktemp("cases") / "catalog.sqlite3"
    told = small_catalog() | {"contract_cases": CASES}
    with library_in(file, told, dearer(told), small_catalog()) as library:
        yield create_app(library, checks_of(library))


@pytest.mark.parametrize("revision", [1, 2])
def test_a_keyed_case_tells_the_first_bill_of_its_revision(case_app: FastAPI, revision: int) -> None:
    """And asks of that revision; the others are as the catalog has them."""
    told = get(case_app, "/v1/contract/cases", params={"revision": revision}).json()
    keyed, plain, none, odd = told["cases"]
    assert told["revision"] == keyed["request"]["revision"] == revision
    first = ask(case_app, keyed["request"] | {"detail": "full"}).json()["bills"][0]
    assert keyed["promises"] == PROMISES | {"key": first["key"]}
    assert get(case_app, f"/v1/bills/{first['key']}").json()["bill"] == by_itself(first)
    assert [plain, none] == CASES[1:3]
    assert odd["promises"] == {"has_bill": True}


def test_what_is_served_is_a_case_file(case_app: FastAPI) -> None:
    """As a partner may keep it, and read it again."""
    response = get(case_app, "/v1/contract/cases", params={"revision": 1})
    assert [case.id for case in CaseFile.model_validate_json(response.content).cases] == [case["id"] for case in CASES]
    assert "null" not in json.dumps(response.json())


def test_a_revision_without_cases(case_app: FastAPI) -> None:
    """Has none to tell."""
    assert get(case_app, "/v1/contract/cases").json() == {"revision": 3, "cases": []}


def test_it_is_cached_like_the_other_sections(case_app: FastAPI) -> None:
    """The newest is asked for again, one that is named lasts; 304 by its tag."""
    newest = get(case_app, "/v1/contract/cases")
    named = get(case_app, "/v1/contract/cases?revision=1")
    assert (newest.headers["cache-control"], named.headers["cache-control"]) == ("no-cache", "public, max-age=3600")
    again = get(case_app, "/v1/contract/cases?revision=1", headers={"If-None-Match": named.headers["etag"]})
    assert (again.status_code, again.content, again.headers["etag"]) == (304, b"", named.headers["etag"])


def test_refusals(case_app: FastAPI) -> None:
    """A revision that is not there, and a parameter that is none."""
    problem(get(case_app, "/v1/contract/cases?revision=9"), 404, "unknown-id")
    problem(get(case_app, "/v1/contract/cases?limit=9"), 422, "invalid-request")
