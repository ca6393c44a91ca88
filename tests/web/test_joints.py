"""/v1/joints: whether two sides meet, over HTTP; wrong questions of every kind, and never a 500."""

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
from tests.web.conftest import library_in

Json = dict[str, Any]

RAIL = {"sku": "RAIL-S"}
ADAPTER = {"sku": "ADAPT-B8-F6", "port": "a"}
NUT = {"standard": "flare-6", "end": "female"}
QUESTION = {"one": RAIL, "other": NUT}


def ask(app: FastAPI, body: Any, **headers: str) -> httpx.Response:
    """Ask whether two sides meet; bytes are sent as they are, as JSON."""
    raw = body if isinstance(body, bytes) else json.dumps(body).encode()
    return call(app, "POST", "/v1/joints", content=raw, headers={"Content-Type": "application/json"} | headers)


def faults(app: FastAPI, body: Any) -> list[tuple[str, str, str]]:
    return told(problem(ask(app, body), 422, "invalid-request"))


def test_they_meet(app: FastAPI) -> None:
    """Each way is told, in the newest revision; the answer is not kept."""
    response = ask(app, {"one": RAIL, "other": ADAPTER})
    answer = response.json()
    assert response.status_code == 200
    assert (answer["revision"], response.headers["x-catalog-revision"]) == (2, "2")
    assert response.headers["cache-control"] == "no-store"
    assert response.headers["content-type"] == "application/json"
    assert (answer["meets"], answer["gap"], answer["bridge"]) == (True, [], None)
    assert [(meeting["one"]["port"], meeting["other"]["port"]) for meeting in answer["joints"]] == [
        *(("l", "a"), ("c", "a"), ("r", "a"))
    ]
    assert {meeting["joint"]["method"] for meeting in answer["joints"]} == {"torque"}


def test_they_do_not_meet(app: FastAPI) -> None:
    """What stands between them, and what joins them, at the price of the revision that was asked."""
    for revision, price in ((1, 1500), (2, 1600)):
        answer = ask(app, QUESTION | {"revision": revision}).json()
        assert (answer["revision"], answer["currency"], answer["meets"], answer["joints"]) == (
            revision,
            "OVC",
            False,
            [],
        )
        assert [gap["differs"] for gap in answer["gap"]] == [["standard", "family", "seal", "end"]] * 2
        assert (answer["bridge"]["items"], answer["bridge"]["price"]) == (["ADAPT-B8-F6"], price)


def test_nothing_joins_them(app: FastAPI) -> None:
    """That is an answer too."""
    response = ask(app, {"one": {"standard": "flare-6", "end": "male"}, "other": {"sku": "GAUGE-T"}})
    assert (response.status_code, response.json()["meets"], response.json()["bridge"]) == (200, False, None)


UNKNOWN: dict[str, tuple[Json, tuple[str, str, str], list[str]]] = {
    "SKU": (
        {"one": {"sku": "RAIL-X"}},
        ("#/one/sku", "RAIL-X", "the id of an item of this revision"),
        ["RAIL-S"],
    ),
    "SKU of the other": (
        {"other": {"sku": "plug-b9", "port": "a"}},
        ("#/other/sku", "plug-b9", "the id of an item of this revision"),
        ["PLUG-B8", "PLUG-T"],
    ),
    "port": (
        {"one": {"sku": "REG-F6", "port": "gage"}},
        ("#/one/port", "gage", "a port of REG-F6: in, out, gauge"),
        ["gauge"],
    ),
    "port that nothing is like": (
        {"one": {"sku": "PLUG-T", "port": "z"}},
        ("#/one/port", "z", "a port of PLUG-T: a"),
        [],
    ),
    "standard": (
        {"other": {"standard": "flare-7", "end": "male"}},
        ("#/other/standard", "flare-7", "the id of a port standard of this revision"),
        ["flare-6"],
    ),
    "part without ports": (
        {"one": {"sku": "SCREW-6"}},
        ("#/one/sku", "SCREW-6", "an item that has ports: this one has none"),
        [],
    ),
    "port of a part without ports": (
        {"one": {"sku": "SCREW-6", "port": "a"}},
        ("#/one/sku", "SCREW-6", "an item that has ports: this one has none"),
        [],
    ),
    "revision": ({"revision": 9}, ("#/revision", "9", "the number of a known revision"), []),
}


@pytest.mark.parametrize(("change", "fault", "nearest"), UNKNOWN.values(), ids=UNKNOWN.keys())
def test_what_is_not_known_is_named(
    app: FastAPI, change: Json, fault: tuple[str, str, str], nearest: list[str]
) -> None:
    """The field, what stood there, what would be right, and what is alike."""
    found = problem(ask(app, QUESTION | change), 422, "invalid-request")
    assert told(found) == [fault]
    assert found["errors"][0]["nearest"] == nearest
    assert fault[1] in found["detail"]


def test_the_faults_of_both_sides_are_told(app: FastAPI) -> None:
    """Nobody has to come back for the other one."""
    body = {"one": {"sku": "X"}, "other": {"standard": "y", "end": "male"}}
    assert [place for place, _, _ in faults(app, body)] == ["#/one/sku", "#/other/standard"]


EITHER = "a part (sku, and port if one is meant) or a bare port (standard and end)"
SHAPES: dict[str, tuple[Any, list[tuple[str, str, str]]]] = {
    "no side": ({"one": RAIL}, [("#/other", "nothing", "a value: the field is required")]),
    "nothing": (
        {},
        [
            ("#/one", "nothing", "a value: the field is required"),
            ("#/other", "nothing", "a value: the field is required"),
        ],
    ),
    "empty side": (QUESTION | {"one": {}}, [("#/one", "{}", EITHER)]),
    "both kinds": (
        QUESTION | {"one": {"sku": "RAIL-S", "end": "male"}},
        [("#/one", '{"sku": "RAIL-S", "end": "male"}', f"{EITHER}, not both")],
    ),
    "no end": (
        QUESTION | {"other": {"standard": "flare-6"}},
        [("#/other/end", "nothing", "a value: the field is required")],
    ),
    "no standard": (
        QUESTION | {"other": {"end": "male"}},
        [("#/other/standard", "nothing", "a value: the field is required")],
    ),
    "no SKU": (QUESTION | {"one": {"port": "l"}}, [("#/one/sku", "nothing", "a value: the field is required")]),
    "no such end": (
        QUESTION | {"other": {"standard": "flare-6", "end": "Male"}},
        [("#/other/end", '"Male"', "one of: male or female")],
    ),
    "unknown field of a side": (
        QUESTION | {"one": {"sku": "RAIL-S", "prt": "l"}},
        [("#/one/prt", '"l"', "no such field; nearest: port")],
    ),
    "unknown field of the side alone": (
        QUESTION | {"one": {"skus": "RAIL-S"}},
        [("#/one", '{"skus": "RAIL-S"}', EITHER)],
    ),
    "unknown field": (
        QUESTION | {"another": RAIL},
        [("#/another", '{"sku": "RAIL-S"}', "no such field; nearest: other")],
    ),
    "no id": (
        QUESTION | {"one": {"sku": "../x"}},
        [("#/one/sku", '"../x"', "an id: letters, digits and . _ / - with a letter or digit first")],
    ),
    "zero character": (
        QUESTION | {"one": {"sku": "RAIL-S\0"}},
        [("#/one/sku", '"RAIL-S\\u0000"', "an id: letters, digits and . _ / - with a letter or digit first")],
    ),
    "number for a SKU": (QUESTION | {"one": {"sku": 7}}, [("#/one/sku", "7", "a text")]),
    "too long": (
        QUESTION | {"one": {"sku": "x" * 121}},
        [("#/one/sku", '"' + "x" * 57 + '…"', "a text of at most 120 characters")],
    ),
    "text for a side": (QUESTION | {"one": "RAIL-S"}, [("#/one", '"RAIL-S"', "an object")]),
    "list for a side": (QUESTION | {"one": [RAIL]}, [("#/one", '[{"sku": "RAIL-S"}]', "an object")]),
    "null for a side": (QUESTION | {"one": None}, [("#/one", "null", "an object")]),
    "text for a revision": (QUESTION | {"revision": "1"}, [("#/revision", '"1"', "a whole number")]),
    "truth for a revision": (QUESTION | {"revision": True}, [("#/revision", "true", "a whole number")]),
    "revision too large": (
        QUESTION | {"revision": 2**63},
        [("#/revision", str(2**63), "a number of at most 2147483647")],
    ),
    "a list": ([QUESTION], [("#", '[{"one": {…}, "other": {…}}]', "an object")]),
    "null": (None, [("#", "null", "an object")]),
    "doubled key": (
        b'{"one": {"sku": "A", "sku": "B"}, "other": {"sku": "A"}}',
        [("#/one/sku", 'the key "sku" more than once', "each key once in an object")],
    ),
    "lone surrogate": (
        rb'{"one": {"sku": "\ud800"}, "other": {"sku": "A"}}',
        [("#/one/sku", 'a lone surrogate in "\\ud800"', "text of whole Unicode characters")],
    ),
}


@pytest.mark.parametrize(("body", "expected"), SHAPES.values(), ids=SHAPES.keys())
def test_what_is_no_question_is_422(app: FastAPI, body: Any, expected: list[tuple[str, str, str]]) -> None:
    """Each fault by its pointer, with what stood there and what would be right."""
    assert faults(app, body) == expected


@pytest.mark.parametrize(
    "body", [b"", b"{", b"one=RAIL-S", b"\xff", b"[" * 1_000], ids=["nothing", "cut", "form", "bytes", "deep"]
)
def test_what_is_no_json_is_400(app: FastAPI, body: bytes) -> None:
    """The reading stops with a reason."""
    assert problem(ask(app, body), 400, "malformed-json")["detail"].startswith("The body is not JSON: ")


def test_what_else_is_refused(app: FastAPI) -> None:
    """Another media type, another method, too much, a query."""
    problem(ask(app, QUESTION, **{"Content-Type": "text/plain"}), 415, "unsupported-media-type")
    refused = call(app, "GET", "/v1/joints")
    problem(refused, 405, "method-not-allowed")
    assert refused.headers["allow"] == "OPTIONS, POST"
    problem(ask(app, b" " * 300_000), 413, "body-too-large")
    found = problem(call(app, "POST", "/v1/joints?limit=3", json=QUESTION), 422, "invalid-request")
    assert [place for place, _, _ in told(found)] == ["limit"]


def test_without_a_catalog(tmp_path: Path) -> None:
    """The question is refused, and told when to come again."""
    with library_in(tmp_path / "file") as empty:
        response = ask(create_app(empty), QUESTION)
        problem(response, 503, "no-catalog")
        assert int(response.headers["retry-after"]) > 0


IDS = [item["sku"] for item in small_catalog()["items"]]
STANDARDS = [standard["id"] for standard in small_catalog()["port_standards"]]
VALUES = st.one_of(
    st.sampled_from([*IDS, *STANDARDS, "male", "female", "a", "l", "in"]),
    st.text(max_size=8),
    st.none(),
    st.booleans(),
    st.integers(),
    st.lists(st.integers(), max_size=2),
)
SIDES = st.one_of(
    st.builds(lambda sku: {"sku": sku}, st.sampled_from(IDS)),
    st.fixed_dictionaries({"standard": st.sampled_from(STANDARDS), "end": st.sampled_from(["male", "female"])}),
    st.dictionaries(st.sampled_from(["sku", "port", "standard", "end", "ports"]), VALUES, max_size=3),
    VALUES,
)
ANSWER = served_document()["paths"]["/v1/joints"]["post"]["responses"]["200"]["content"]["application/json"]
COMPONENTS = served_document()["components"]
VALIDATOR = Draft202012Validator(ANSWER["schema"] | {"components": COMPONENTS})


@given(one=SIDES, other=SIDES)
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_asked_is_answered_or_refused(app: FastAPI, one: Any, other: Any) -> None:
    """Never a 500; an answer is as its schema says, and a refusal names the side."""
    response = ask(app, {"one": one, "other": other})
    if response.status_code == 200:
        VALIDATOR.validate(response.json())
        return
    places = [place for place, _, _ in told(problem(response, 422, "invalid-request"))]
    assert places
    assert all(place.startswith(("#/one", "#/other")) for place in places)


def test_the_example_is_answered_so(tmp_path: Path) -> None:
    """Over the catalog that the examples are from, the example question has the example answer."""
    with library_in(tmp_path / "file", examples.edition().catalog.whole().model_dump(exclude_none=True)) as library:
        answer = ask(create_app(library), examples.joint_question())
        assert answer.json() == ANSWER["example"]
        assert answer.json()["bridge"]["items"]


def test_the_question_s_schema_takes_what_is_taken() -> None:
    """A part or a bare port on each side, and nothing between or beside."""
    validator = Draft202012Validator(COMPONENTS["schemas"]["JointQuestion"] | {"components": COMPONENTS})
    validator.validate(examples.joint_question())
    validator.validate({"one": RAIL, "other": ADAPTER, "revision": 1})
    for body in (
        {"one": RAIL},
        QUESTION | {"more": 1},
        QUESTION | {"one": {"sku": "A", "end": "male"}},
        QUESTION | {"one": {}},
    ):
        assert not validator.is_valid(body), body
