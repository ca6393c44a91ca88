"""Query strings that are refused: by parameter, what was found, and what would be right."""

import base64

import pytest
from fastapi import FastAPI

from tests.web.calls import call, get, problem, told
from tests.web.conftest import QUESTION

_LIMIT = "how many at most, a whole number from 1 to 200"
_REVISION = "the number of a revision, from 1; default: the newest"
_MATES = "STANDARD:END, that is the id of a port standard, then :male or :female; "
_OF_ITEMS = "one of revision, limit, cursor, q, sku, status, sold, kind, mates, fits"
_REFUSED = {
    "/v1/items?limit=0": ("limit", "0", _LIMIT),
    "/v1/items?limit=201": ("limit", "201", _LIMIT),
    "/v1/items?limit=-1": ("limit", '"-1"', _LIMIT),
    "/v1/items?limit=1.5": ("limit", '"1.5"', _LIMIT),
    "/v1/items?limit=1_0": ("limit", '"1_0"', _LIMIT),
    "/v1/items?limit=%2010": ("limit", '" 10"', _LIMIT),
    "/v1/items?limit=%D9%A3": ("limit", '"\u0663"', _LIMIT),
    "/v1/items?limit=true": ("limit", '"true"', _LIMIT),
    "/v1/items?limit=": ("limit", '""', _LIMIT),
    "/v1/items?limit=" + "9" * 5_000: ("limit", '"' + "9" * 57 + "\u2026", _LIMIT),
    "/v1/items?limit=5&limit=6": ("limit", "it 2 times", "it once"),
    "/v1/items?limits=5": (
        "limits",
        "this name",
        _OF_ITEMS,
    ),
    "/v1/items?%00=5": (
        "\\u0000",
        "this name",
        _OF_ITEMS,
    ),
    "/v1/items?kind=bolt": ("kind", '"bolt"', "a kind of item: rail, fitting, plug, gauge, line, regulator, seal, "),
    "/v1/items?mates=boss-8": ("mates", '"boss-8"', _MATES),
    "/v1/items?mates=boss-8:both": ("mates", '"boss-8:both"', _MATES),
    "/v1/items?mates=%00:male": ("mates", '"\\u0000:male"', _MATES),
    "/v1/items?mates=boss-9:male": ("mates", '"boss-9"', "the id of a known port standard, then :male or :female"),
    "/v1/items?fits=brok": ("fits", '"brok"', "the id of a known chassis"),
    "/v1/items?fits=%0A": ("fits", '"\\u000a"', "the id of a chassis; "),
    "/v1/items?revision=0": ("revision", "0", _REVISION),
    f"/v1/items?revision={2**31}": ("revision", str(2**31), _REVISION),
    f"/v1/items/PLUG-T?revision={2**63}": ("revision", f'"{2**63}"', _REVISION),
    "/v1/items/PLUG-T?limit=5": ("limit", "this name", "one of revision"),
    "/v1/chassis?kind=rail": ("kind", "this name", "one of revision, limit, cursor"),
    "/v1/chassis/brook/layouts?revision=x": ("revision", '"x"', _REVISION),
    "/v1/bills/1x?revision=1": ("revision", "this name", "no query parameter at all"),
    "/v1/schema/catalog?x=1": ("x", "this name", "no query parameter at all"),
    "/v1/problems/unknown-id?x=1": ("x", "this name", "no query parameter at all"),
    "/v1/health?x": ("x", "this name", "no query parameter at all"),
    "/v1/health/live?x=": ("x", "this name", "no query parameter at all"),
    "/openapi.json?x=1": ("x", "this name", "no query parameter at all"),
}


@pytest.mark.parametrize("path", list(_REFUSED), ids=[path[:60] for path in _REFUSED])
def test_a_query_is_taken_strictly(app: FastAPI, path: str) -> None:
    """The one fault is told."""
    response = get(app, path)
    [(parameter, found, expected)] = told(problem(response, 422, "invalid-request"))
    assert (parameter, found[:59]) == (_REFUSED[path][0], _REFUSED[path][1][:59])
    assert expected.startswith(_REFUSED[path][2])
    assert len(response.content) < 2_000


def test_a_question_takes_no_query(app: FastAPI) -> None:
    """A wish in the wrong place is not silently left out."""
    response = call(app, "POST", "/v1/bills?limit=5", json=QUESTION)
    assert told(problem(response, 422, "invalid-request")) == [("limit", "this name", "no query parameter at all")]


def test_every_fault_is_told(app: FastAPI) -> None:
    """Not the first alone."""
    found = problem(get(app, "/v1/items?limit=0&kind=bolt&fit=brook&kind=bolt"), 422, "invalid-request")
    assert {place for place, _, _ in told(found)} == {"limit", "kind", "fit"}
    [fit] = [fault for fault in found["errors"] if fault["parameter"] == "fit"]
    assert fit["nearest"] == ["fits"]


def _cursor(app: FastAPI, path: str) -> str:
    return str(get(app, path).json()["next"].partition("cursor=")[2])


def _forged(content: str) -> str:
    return base64.urlsafe_b64encode(content.encode()).decode().rstrip("=")


@pytest.mark.parametrize(
    "cursor",
    ["x", "%00", "!" * 20, "A" * 80, "A" * 81, "%C3%A9", _forged("2.5"), _forged("2.5.0123456789abcdef")],
    ids=["short", "control", "no base64", "long", "too long", "not ASCII", "no digest", "forged"],
)
def test_what_is_no_cursor_is_refused(app: FastAPI, cursor: str) -> None:
    """Only what a next link has is taken."""
    assert [place for place, _, _ in told(problem(get(app, f"/v1/items?cursor={cursor}"), 422, "invalid-request"))] == [
        "cursor"
    ]


def test_a_cursor_belongs_to_its_list(app: FastAPI) -> None:
    """Other filters, another section or another revision are refused; another limit is not."""
    cursor = _cursor(app, "/v1/items?limit=1&kind=plug")
    assert get(app, f"/v1/items?kind=plug&limit=7&cursor={cursor}").status_code == 200
    assert get(app, f"/v1/items?kind=plug&revision=2&cursor={cursor}").status_code == 200
    for query in ("", "kind=rail&", "kind=plug&fits=brook&"):
        problem(get(app, f"/v1/items?{query}cursor={cursor}"), 422, "invalid-request")
    problem(get(app, f"/v1/chassis?cursor={cursor}"), 422, "invalid-request")
    found = problem(get(app, f"/v1/items?kind=plug&revision=1&cursor={cursor}"), 422, "invalid-request")
    assert told(found) == [("revision", "1", "2, where the cursor began, or nothing")]


@pytest.mark.parametrize("spoil", [lambda text: text[:-1], lambda text: text + "=", str.swapcase, str.lower])
def test_a_cursor_is_taken_unchanged(app: FastAPI, spoil: object) -> None:
    """A cursor that was cut, padded or had its case changed is refused."""
    assert callable(spoil)
    changed = spoil(_cursor(app, "/v1/items?limit=1"))
    problem(get(app, f"/v1/items?cursor={changed}"), 422, "invalid-request")
