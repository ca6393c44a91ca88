"""/v1/explain: why a part is, or is not, in the bills, over HTTP; wrong questions of every kind, and never a 500."""

import json
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from service.web import examples
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.served_document import served_document
from tests.web.calls import call, problem, told
from tests.web.conftest import QUESTION, library_in

Json = dict[str, Any]
ASKED: Json = {"request": QUESTION, "sku": "ADAPT-B8-F6"}


def ask(app: FastAPI, body: Any, **headers: str) -> httpx.Response:
    """Ask about a part; bytes are sent as they are, as JSON."""
    raw = body if isinstance(body, bytes) else json.dumps(body).encode()
    return call(app, "POST", "/v1/explain", content=raw, headers={"Content-Type": "application/json"} | headers)


def faults(app: FastAPI, body: Any) -> list[tuple[str, str, str]]:
    return told(problem(ask(app, body), 422, "invalid-request"))


def test_a_part_that_is_in_the_bills(app: FastAPI) -> None:
    """Where it stands, in the newest revision unless another is named; the answer is not kept."""
    response = ask(app, ASKED)
    answer = response.json()
    assert response.status_code == 200
    assert (answer["revision"], response.headers["x-catalog-revision"]) == (2, "2")
    assert response.headers["cache-control"] == "no-store"
    assert (answer["sku"], answer["in_bills"], answer["where"]) == ("ADAPT-B8-F6", True, ["centre"])
    assert [verdict["spot"] for verdict in answer["verdicts"]] == ["centre", "left", "right", "top"]
    assert [verdict["stands"] for verdict in answer["verdicts"]] == [True, False, False, False]
    named = ask(app, ASKED | {"request": QUESTION | {"revision": 1}})
    assert (named.json()["revision"], named.headers["x-catalog-revision"]) == (1, "1")


def test_a_part_that_is_not(app: FastAPI) -> None:
    """What stops it, by how much, and what to change."""
    clearances = [{"spot": "centre", "axial_mm": 24.6}]
    answer = ask(app, {"request": QUESTION | {"clearances": clearances}, "sku": "ADAPT-B8-F6", "spot": "centre"}).json()
    [verdict] = answer["verdicts"]
    [rule] = verdict["rules"]
    assert (rule["rule"], rule["margin"]["left"], rule["margin"]["unit"]) == ("clearance", -1.4, "mm")
    assert verdict["change"]["change"] == {"clearances/centre/axial_mm": 26.0}
    changed = QUESTION | {"clearances": [{"spot": "centre", "axial_mm": 26.0}]}
    assert ask(app, {"request": changed, "sku": "ADAPT-B8-F6"}).json()["in_bills"]


def test_a_request_without_any_bill_is_answered(app: FastAPI) -> None:
    """As one with bills."""
    response = ask(app, {"request": QUESTION | {"chassis": "heron"}, "sku": "PLUG-B8"})
    assert (response.status_code, response.json()["in_bills"]) == (200, False)
    assert [verdict["duty"] for verdict in response.json()["verdicts"]] == [None]


REFUSED: dict[str, tuple[Any, list[tuple[str, str, str]]]] = {
    "unknown SKU": (ASKED | {"sku": "ADAPT-B9"}, [("#/sku", "ADAPT-B9", "the id of an item of this revision")]),
    "unknown spot": (
        ASKED | {"spot": "2.left"},
        [("#/spot", "2.left", "a spot of a rail for brook: centre, left, right, top")],
    ),
    "no spot at all": (
        ASKED | {"spot": "middle"},
        [("#/spot", '"middle"', "a spot: left, centre, right or top, with 1. or 2. before it on two banks")],
    ),
    "unknown car": (
        {"request": QUESTION | {"chassis": "brok"}, "sku": "PLUG-B8"},
        [("#/request/chassis", "brok", "the id of a chassis of this revision")],
    ),
    "unknown revision": (
        {"request": QUESTION | {"revision": 9}, "sku": "PLUG-B8"},
        [("#/request/revision", "9", "the number of a known revision")],
    ),
    "no request": ({"sku": "PLUG-B8"}, [("#/request", "nothing", "a value: the field is required")]),
    "no SKU": ({"request": QUESTION}, [("#/sku", "nothing", "a value: the field is required")]),
    "no layout": (
        {"request": {"chassis": "brook"}, "sku": "PLUG-B8"},
        [("#/request/layout", "nothing", "a value: the field is required")],
    ),
    "unknown field": (ASKED | {"skus": "X"}, [("#/skus", '"X"', "no such field; nearest: sku")]),
    "unknown field of the request": (
        {"request": QUESTION | {"fule": "e85"}, "sku": "PLUG-B8"},
        [("#/request/fule", '"e85"', "no such field; nearest: fuel")],
    ),
    "text for a request": ({"request": "brook", "sku": "PLUG-B8"}, [("#/request", '"brook"', "an object")]),
    "number for a SKU": (ASKED | {"sku": 7}, [("#/sku", "7", "a text")]),
    "zero character": (
        ASKED | {"sku": "A\0"},
        [("#/sku", '"A\\u0000"', "an id: letters, digits and . _ / - with a letter or digit first")],
    ),
    "a list": ([ASKED], [("#", '[{"request": {…}, "sku": "ADAPT-B8-F6"}]', "an object")]),
}


@pytest.mark.parametrize(("body", "expected"), REFUSED.values(), ids=REFUSED.keys())
def test_what_is_no_question_is_422(app: FastAPI, body: Any, expected: list[tuple[str, str, str]]) -> None:
    """Each fault by its pointer, with what stood there and what would be right."""
    assert faults(app, body) == expected


def test_suggestions_for_what_is_not_known(app: FastAPI) -> None:
    """The nearest known names."""
    found = problem(ask(app, ASKED | {"sku": "ADAPT-B8-F7", "spot": "1.right"}), 422, "invalid-request")
    assert [error["nearest"] for error in found["errors"]] == [["ADAPT-B8-F6"], ["right"]]


@pytest.mark.parametrize("body", [b"", b"{", b"sku=RAIL-S", b"\xff"], ids=["nothing", "cut", "form", "bytes"])
def test_what_is_no_json_is_400(app: FastAPI, body: bytes) -> None:
    problem(ask(app, body), 400, "malformed-json")


def test_what_else_is_refused(app: FastAPI) -> None:
    """Another media type, another method, too much, a query."""
    problem(ask(app, ASKED, **{"Content-Type": "text/plain"}), 415, "unsupported-media-type")
    refused = call(app, "GET", "/v1/explain")
    problem(refused, 405, "method-not-allowed")
    assert refused.headers["allow"] == "OPTIONS, POST"
    problem(ask(app, b" " * 300_000), 413, "body-too-large")
    found = problem(call(app, "POST", "/v1/explain?sku=A", json=ASKED), 422, "invalid-request")
    assert [place for place, _, _ in told(found)] == ["sku"]


def test_without_a_catalog(tmp_path: Path) -> None:
    with library_in(tmp_path / "file") as empty:
        problem(ask(create_app(empty), ASKED), 503, "no-catalog")


CATALOG = small_catalog()
SKUS = [item["sku"] for item in CATALOG["items"]]
SPOTS = ["left", "centre", "right", "top", "1.left", "2.top"]
REQUESTS = st.fixed_dictionaries(
    {
        "chassis": st.sampled_from([car["id"] for car in CATALOG["chassis"]]),
        "layout": st.sampled_from([layout["id"] for layout in CATALOG["layouts"]]),
    },
    optional={
        "fuel": st.sampled_from(["petrol", "e85"]),
        "power_kw": st.sampled_from([0.1, 90.0, 2_000, 5_000]),
        "pump_l_h": st.sampled_from([0.1, 255, 20_000]),
        "feed_hose_m": st.sampled_from([0, 100]),
        "boost_kpa": st.sampled_from([0, 399.96, 1_000]),
        "addons": st.sampled_from([[], ["blower"]]),
        "clearances": st.lists(
            st.fixed_dictionaries(
                {"spot": st.sampled_from(SPOTS)}, optional={"axial_mm": st.sampled_from([0, 7.4, 30])}
            ),
            max_size=2,
        ),
        "gauge": st.sampled_from(["none", "any", *SPOTS]),
        "finish": st.sampled_from(["slate", "black"]),
        "exclude": st.lists(st.sampled_from(SKUS), max_size=2),
        "in_stock_only": st.booleans(),
        "allow_unsold": st.booleans(),
        "max_price": st.sampled_from([0, 30_000, 10**12]),
        "have": st.lists(st.fixed_dictionaries({"sku": st.sampled_from(SKUS), "qty": st.integers(1, 3)}), max_size=2),
        "own_rail": st.sampled_from([{"left": {"standard": "boss-8", "end": "female"}}]),
        "order_by": st.sampled_from(["price", "margin"]),
    },
)
ANSWER = served_document()["paths"]["/v1/explain"]["post"]["responses"]["200"]["content"]["application/json"]
COMPONENTS = served_document()["components"]
VALIDATOR = Draft202012Validator(ANSWER["schema"] | {"components": COMPONENTS})


@given(request=REQUESTS, sku=st.sampled_from([*SKUS, "own-rail", "X"]), spot=st.sampled_from([None, *SPOTS]))
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_asked_is_answered_or_refused(app: FastAPI, request: Json, sku: str, spot: str | None) -> None:
    """Never a 500; an answer is as its schema says, and a refusal names the place."""
    response = ask(app, {"request": request, "sku": sku, "spot": spot})
    if response.status_code == 200:
        VALIDATOR.validate(response.json())
        assert all(verdict["rules"] or verdict["stands"] for verdict in response.json()["verdicts"])
        return
    places = [place for place, _, _ in told(problem(response, 422, "invalid-request"))]
    assert places
    assert all(place.startswith(("#/request/", "#/sku", "#/spot")) for place in places)


def test_the_example_is_answered_so(tmp_path: Path) -> None:
    """Over the catalog that the examples are from, the example question has the example answer."""
    with library_in(tmp_path / "file", examples.edition().catalog.whole().model_dump(exclude_none=True)) as library:
        assert ask(create_app(library), examples.explain_question()).json() == ANSWER["example"]


def test_the_question_s_schema_takes_what_is_taken() -> None:
    """A request for bills and a part, and nothing beside."""
    validator = Draft202012Validator(COMPONENTS["schemas"]["ExplainRequest"] | {"components": COMPONENTS})
    validator.validate(examples.explain_question())
    validator.validate(ASKED | {"spot": "left"})
    for body in ({"sku": "A"}, ASKED | {"more": 1}, ASKED | {"spot": "middle"}, ASKED | {"request": {}}):
        assert not validator.is_valid(body), body
