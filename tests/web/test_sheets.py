"""/v1/bills/{key}/sheet: the assembly sheet of a bill, in the media type that is asked for."""

import re

import pytest
from fastapi import FastAPI

from tests.web.calls import ask, call, get, problem, told
from tests.web.conftest import QUESTION

JSON = "application/json"


@pytest.fixture(scope="module")
def path(app: FastAPI) -> str:
    """The path of the sheet of a bill with a gauge and a return."""
    bill = ask(app, QUESTION | {"layout": "through-return", "gauge": "top"}).json()["bills"][0]
    return f"/v1/bills/{bill['key']}/sheet"


def test_a_sheet_is_of_its_bill(app: FastAPI, path: str) -> None:
    """Its key, its revision, its extras; kept for a while, as the bill is."""
    response = get(app, path)
    sheet, recalled = response.json(), get(app, path.removesuffix("/sheet")).json()
    bill = recalled["bill"]
    assert (sheet["key"], sheet["revision"]) == (bill["key"], recalled["revision"])
    assert sheet["consumables"] == bill["extras"]
    assert sheet["cautions"][: len(bill["cautions"])] == bill["cautions"]
    assert {spot["spot"]: spot["duty"] for rail in sheet["rails"] for spot in rail["spots"]} == bill["duties"]
    assert response.headers["content-type"] == JSON
    assert response.headers["cache-control"] == "public, max-age=3600"
    assert response.headers["x-catalog-revision"] == str(recalled["revision"])


def test_a_sheet_is_of_its_own_revision(app: FastAPI) -> None:
    """An older bill's sheet is told by the older catalog."""
    for revision in (1, 2):
        key = ask(app, QUESTION | {"revision": revision}).json()["bills"][0]["key"]
        assert get(app, f"/v1/bills/{key}/sheet").json()["revision"] == revision


@pytest.mark.parametrize("key", ["none", "1AAAA", "1%00", "9x", "1" + "A" * 20_000])
def test_what_is_no_key_is_not_found(app: FastAPI, key: str) -> None:
    """As of the bill itself; as a page for who asks for one."""
    page = get(app, f"/v1/bills/{key}/sheet", headers={"Accept": "text/html"})
    assert (page.status_code, page.headers["content-type"]) == (404, "text/html; charset=utf-8")
    for accept in (JSON, "*/*"):
        found = problem(get(app, f"/v1/bills/{key}/sheet", headers={"Accept": accept}), 404, "unknown-id")
        assert [place for place, _, _ in told(found)] == ["key"]


def test_no_other_media_type_is_given(app: FastAPI, path: str) -> None:
    """The problem tells what there is, and goes by Accept too."""
    response = get(app, path, headers={"Accept": "image/png"})
    found = problem(response, 406, "not-acceptable")
    [(place, given, expected)] = told(found)
    assert (place, given) == ("Accept", "image/png")
    assert JSON in expected
    assert response.headers["vary"] == "Accept"


def test_the_answer_goes_by_accept(app: FastAPI, path: str) -> None:
    """Caches are told so, also with 304; HEAD is as GET."""
    whole = get(app, path)
    tag = whole.headers["etag"]
    assert whole.headers["vary"] == "Accept, Accept-Encoding"
    assert re.fullmatch(r'"[0-9a-f]{32}"', tag)
    for method in ("GET", "HEAD"):
        known = call(app, method, path, headers={"If-None-Match": tag})
        assert (known.status_code, known.content, known.headers["vary"]) == (304, b"", "Accept, Accept-Encoding")
    bare = call(app, "HEAD", path)
    assert (bare.status_code, bare.content, bare.headers["etag"]) == (200, b"", tag)


def test_only_get_and_no_query(app: FastAPI, path: str) -> None:
    """As everywhere."""
    assert call(app, "POST", path).headers["allow"] == "GET, HEAD, OPTIONS"
    problem(get(app, path, params={"format": "html"}), 422, "invalid-request")
