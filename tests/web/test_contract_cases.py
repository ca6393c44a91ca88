"""The standing cases over HTTP: with keys, by revision, cacheable, as a file that can be kept."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.documents.contract_kinds import CaseFile
from service.usecases import partner_cases
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.found import by_itself
from tests.web.calls import ask, call, get, problem, told
from tests.web.conftest import QUESTION, cases_of, checks_of, dearer, library_in

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
        yield create_app(library, checks_of(library), partner_cases=cases_of(library))


CASE: dict[str, Any] = {
    "account": "shop-7",
    "id": "front/page",
    "says": "s",
    "request": QUESTION,
    "promises": {"has_bill": True, "contains": ["RAIL-S"]},
}


def keep(app: FastAPI, case: dict[str, Any]) -> httpx.Response:
    return call(app, "POST", "/v1/contract/cases", json=case)


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
    assert get(case_app, "/v1/contract/cases").json() == {"revision": 3, "currency": "OVC", "cases": []}


def test_it_is_asked_for_again_each_time(case_app: FastAPI) -> None:
    """Partners come and go whatever the revision; 304 by its tag."""
    named = get(case_app, "/v1/contract/cases?revision=1")
    assert named.headers["cache-control"] == "private, no-cache"
    again = get(case_app, "/v1/contract/cases?revision=1", headers={"If-None-Match": named.headers["etag"]})
    assert (again.status_code, again.content, again.headers["etag"]) == (304, b"", named.headers["etag"])


def test_refusals(case_app: FastAPI) -> None:
    """A revision that is not there, and a parameter that is none."""
    problem(get(case_app, "/v1/contract/cases?revision=9"), 404, "unknown-id")
    problem(get(case_app, "/v1/contract/cases?limit=9"), 422, "invalid-request")


def test_a_partner_s_case_is_kept_listed_and_deleted(case_app: FastAPI) -> None:
    """Once under its account and id, after those of the catalog; another one in its place is refused."""
    made = keep(case_app, CASE)
    assert (made.status_code, made.headers["location"]) == (201, "/v1/contract/cases/shop-7/front/page")
    assert made.json() == {"case": CASE, "revision": 3, "currency": "OVC", "tax": None, "not_kept": []}
    again = keep(case_app, CASE)
    assert (again.status_code, again.json()) == (200, made.json())
    problem(keep(case_app, CASE | {"says": "other"}), 409, "case-exists")
    assert get(case_app, made.headers["location"]).json() == CASE
    assert get(case_app, "/v1/contract/cases").json() == {"revision": 3, "currency": "OVC", "cases": [CASE]}
    assert get(case_app, "/v1/contract/cases?revision=1").json()["cases"][-1] == CASE
    gone = call(case_app, "DELETE", made.headers["location"])
    assert (gone.status_code, gone.json()) == (200, CASE)
    for method in ("GET", "DELETE"):
        problem(call(case_app, method, made.headers["location"]), 404, "unknown-id")
    assert get(case_app, "/v1/contract/cases").json()["cases"] == []


def test_what_a_case_does_not_keep_today_is_told(case_app: FastAPI) -> None:
    """A price that it never had; a key keeps for as long as its bill is the best."""
    key = ask(case_app, QUESTION | {"revision": 3, "detail": "brief"}).json()["bills"][0]["key"]
    promises = {"has_bill": True, "price": {"at_least": 0, "at_most": 1}, "key": key}
    made = keep(case_app, CASE | {"id": "told", "promises": promises}).json()
    assert (made["not_kept"], made["case"]["promises"]) == (["price"], promises)
    call(case_app, "DELETE", "/v1/contract/cases/shop-7/told")


def other(kind: str, request: dict[str, Any], **promises: Any) -> dict[str, Any]:
    return {"kind": kind, "request": request, "promises": promises}


LINES = [{"sku": "x", "qty": 1}]
WRONG: list[tuple[dict[str, Any], str]] = [
    ({"account": "a/b"}, "#/account"),
    ({"account": "x" * 61}, "#/account"),
    ({"request": QUESTION | {"chassis": "brok"}}, "#/request/chassis"),
    ({"request": QUESTION | {"revision": 9}}, "#/request/revision"),
    ({"promises": {"has_bill": True, "contains": ["RAIL"]}}, "#/promises/contains/0"),
    ({"promises": {"has_bill": False, "contains": ["RAIL-S"]}}, "#/promises/contains"),
    ({"promises": {"has_bill": True, "keyed": True}}, "#/promises/keyed"),
    ({"promises": {"has_bill": True, "key": "no key"}}, "#/promises/key"),
    ({"kind": "price"}, "#/kind"),
    ({"kind": 7}, "#/kind"),
    ({"kind": "item", "request": {}, "promises": {}}, "#/request/sku"),
    (other("layouts", {"chassis": "brok"}), "#/request/chassis"),
    (other("layouts", {"chassis": "brook"}, with_bills=["x"]), "#/promises/with_bills/0"),
    (other("explain", {"request": QUESTION, "sku": "x"}), "#/request/sku"),
    (other("explain", {"request": QUESTION | {"revision": 9}, "sku": "x"}), "#/request/request/revision"),
    (other("joint", {"one": {"sku": "x"}, "other": {"sku": "RAIL-S"}}), "#/request/one/sku"),
    (other("order_check", {"key": "1x", "lines": LINES}), "#/request/key"),
    (other("order_check", QUESTION | {"lines": LINES}, layout="x"), "#/promises/layout"),
    (other("item", {"sku": "x"}, exists=False, status="active"), "#/promises/status"),
]


@pytest.mark.parametrize(("change", "place"), WRONG)
def test_a_wrong_case_is_told_and_not_kept(case_app: FastAPI, change: dict[str, Any], place: str) -> None:
    faults = told(problem(keep(case_app, CASE | {"id": "wrong"} | change), 422, "invalid-request"))
    assert [at for at, _, _ in faults] == [place]
    problem(get(case_app, "/v1/contract/cases/shop-7/wrong"), 404, "unknown-id")


def test_the_key_of_another_question_is_no_promise_of_this_one(case_app: FastAPI) -> None:
    key = ask(case_app, QUESTION | {"gauge": "any", "detail": "brief"}).json()["bills"][0]["key"]
    refused = problem(keep(case_app, CASE | {"promises": {"has_bill": True, "key": key}}), 422, "invalid-request")
    assert told(refused)[0][0] == "#/promises/key"


def test_cases_are_bounded_in_number_and_size(case_app: FastAPI, monkeypatch: pytest.MonkeyPatch) -> None:
    """507 says to delete some; the bytes are told."""
    monkeypatch.setattr(partner_cases, "MOST_OF_ACCOUNT", 1)
    assert keep(case_app, CASE | {"id": "1"}).status_code == 201
    assert "delete some" in problem(keep(case_app, CASE | {"id": "2"}), 507, "no-room")["detail"]
    assert keep(case_app, CASE | {"id": "1", "account": "other"}).status_code == 201
    for account in ("shop-7", "other"):
        call(case_app, "DELETE", f"/v1/contract/cases/{account}/1")
    monkeypatch.setattr(partner_cases, "MOST_BYTES", 100)
    assert "at most 100 bytes" in problem(keep(case_app, CASE), 422, "invalid-request")["detail"]
