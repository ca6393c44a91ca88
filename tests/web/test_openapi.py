"""The OpenAPI document: complete, stable, and true of what is answered."""

import re
from collections.abc import Iterator
from typing import Any
from urllib.parse import quote

import httpx
import pytest
from fastapi import FastAPI
from jsonschema import Draft202012Validator

from service.documents.catalog import Catalog
from service.web import examples
from service.web.app import create_app
from service.web.problems import MEDIA_TYPE
from tests.support.catalogs import small_catalog
from tests.web.calls import ask, call, get
from tests.web.conftest import QUESTION, library_in


@pytest.fixture(scope="module")
def example_app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    """The application over the catalog that the examples are made from."""
    file = tmp_path_factory.mktemp("examples") / "catalog.sqlite3"
    with library_in(file, examples.edition().catalog.model_dump(exclude_none=True)) as library:
        yield create_app(library)


_OF_OURS = {
    *("etag", "cache-control", "link", "allow", "accept", "accept-encoding", "retry-after"),
    *("x-catalog-revision", "x-request-id"),
}
_DOCUMENT = create_app().openapi()
_OPERATIONS = {
    f"{method.upper()} {path}": operation
    for path, operations in _DOCUMENT["paths"].items()
    for method, operation in operations.items()
}


def _validator(schema: dict[str, Any]) -> Draft202012Validator:
    return Draft202012Validator(schema | {"components": _DOCUMENT["components"]})


def _conforms(operation: dict[str, Any], response: httpx.Response) -> None:
    """The status is declared, the content is of the declared type and shape, every header is there and declared."""
    declared = operation["responses"][str(response.status_code)]
    if response.status_code != 304:
        media_type = response.headers["content-type"]
        _validator(declared["content"][media_type]["schema"]).validate(response.json())
    told = {name.lower(): header["required"] for name, header in declared["headers"].items()}
    sent = _OF_OURS & set(response.headers)
    assert {name for name, always in told.items() if always} <= sent <= set(told)


def _parts(schema: Any) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        yield schema
    for part in schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ():
        yield from _parts(part)


@pytest.mark.parametrize("name", list(_OPERATIONS))
def test_every_operation_is_told_whole(name: str) -> None:
    """An id, a summary, a tag, a description of each parameter, an example of the answer that fits its schema."""
    operation = _OPERATIONS[name]
    assert re.fullmatch(r"[a-z]+[A-Za-z]+", operation["operationId"])
    assert operation["summary"]
    assert len(operation["tags"]) == 1
    for parameter in operation.get("parameters", []):
        assert parameter["description"]
    content = operation["responses"]["200"]["content"]["application/json"]
    _validator(content["schema"]).validate(content["example"])


@pytest.mark.parametrize("name", list(_OPERATIONS))
def test_every_operation_tells_its_problems(name: str) -> None:
    """Each error status has the schema of problems, and an example of one."""
    responses = _OPERATIONS[name]["responses"]
    assert {"404", "405", "413", "422", "500", "503"} <= set(responses)
    for status, response in responses.items():
        if int(status) >= 400:
            [(media_type, content)] = response["content"].items()
            assert media_type == MEDIA_TYPE
            assert content["schema"] == {"$ref": "#/components/schemas/Problem"}
            _validator(content["schema"]).validate(content["example"])
            assert content["example"]["status"] == int(status)


def test_operation_ids_are_unique() -> None:
    """Generated clients name their functions by them."""
    ids = [operation["operationId"] for operation in _OPERATIONS.values()]
    assert sorted(set(ids)) == sorted(ids)


def test_operation_ids_stay() -> None:
    """Clients that were generated once call the operations by these names."""
    assert {name: operation["operationId"] for name, operation in _OPERATIONS.items()} == {
        "POST /v1/bills": "findBills",
        "GET /v1/bills/{key}": "recallBill",
        "GET /v1/chassis/{id}/layouts": "listChassisLayouts",
        "GET /v1/schema/catalog": "getCatalogSchema",
        "GET /v1/problems/{code}": "getProblem",
        "GET /v1/health": "getHealth",
        "GET /v1/health/live": "getLiveness",
        "GET /v1/health/ready": "getReadiness",
    } | _section_ids()


def _section_ids() -> dict[str, str]:
    things = {"items": "sku"} | dict.fromkeys(("chassis", "layouts", "addons", "fuels", "materials"), "id")
    ids = {"GET /v1/port-standards": "listPortStandards", "GET /v1/port-standards/{id}": "getPortStandards"}
    for section, key in things.items():
        ids[f"GET /v1/{section}"] = f"list{section.title()}"
        ids[f"GET /v1/{section}/{{{key}}}"] = f"get{section.title()}"
    return ids


def test_every_reference_leads_somewhere() -> None:
    """And FastAPI's own error schemas, which nothing answers with, are not there."""
    schemas = _DOCUMENT["components"]["schemas"]
    references = {part["$ref"] for part in _parts(_DOCUMENT) if "$ref" in part}
    assert references <= {f"#/components/schemas/{name}" for name in schemas}
    assert not {"HTTPValidationError", "ValidationError"} & set(schemas)


def _examples(operation: dict[str, Any], place: str) -> dict[str, Any]:
    return {
        parameter["name"]: parameter["schema"]["examples"][0]
        for parameter in operation.get("parameters", [])
        if parameter["in"] == place and parameter["name"] != "cursor"
    }


@pytest.mark.parametrize("name", [name for name in _OPERATIONS if name.startswith("GET ")])
def test_the_examples_of_parameters_are_answered(example_app: FastAPI, name: str) -> None:
    """Over the catalog that the examples are from: as the example of the answer has it, as far as that goes."""
    operation = _OPERATIONS[name]
    ids = {key: quote(value, safe="") for key, value in _examples(operation, "path").items()}
    response = get(example_app, name.removeprefix("GET ").format(**ids), params=_examples(operation, "query"))
    assert response.status_code == 200, response.text
    shown = operation["responses"]["200"]["content"]["application/json"]["example"]
    if name not in ("GET /v1/items", "GET /v1/schema/catalog"):
        assert {key: value for key, value in response.json().items() if key != "next"} == shown


def test_bounds_of_parameters_are_told() -> None:
    """In the words of JSON Schema."""
    [limit] = [x for x in _OPERATIONS["GET /v1/items"]["parameters"] if x["name"] == "limit"]
    assert limit["schema"] == {"type": "integer", "minimum": 1, "maximum": 200, "default": 50, "examples": [1]}
    [revision] = [x for x in _OPERATIONS["GET /v1/items"]["parameters"] if x["name"] == "revision"]
    assert revision["schema"] == {"type": "integer", "minimum": 1, "maximum": 2**31 - 1, "examples": [1]}


def _closed(name: str) -> bool:
    return _DOCUMENT["components"]["schemas"][name].get("additionalProperties") is False


def test_requests_are_closed_and_answers_open() -> None:
    """What is sent is taken strictly; what is answered may gain fields."""
    assert {name for name in _DOCUMENT["components"]["schemas"] if _closed(name)} == {"BillRequest", "ClearanceAsked"}


def test_the_example_question_is_answered_so(app: FastAPI) -> None:
    """The example asks what the schema allows and the service answers."""
    content = _OPERATIONS["POST /v1/bills"]["requestBody"]["content"]["application/json"]
    _validator(content["schema"]).validate(content["example"])
    assert ask(app, content["example"]).status_code == 200


_GETS = {
    "/v1/chassis/{id}/layouts": "/v1/chassis/brook/layouts",
    "/v1/items": "/v1/items?limit=5",
    "/v1/items/{sku}": "/v1/items/RAIL-S",
    "/v1/chassis": "/v1/chassis?limit=1",
    "/v1/chassis/{id}": "/v1/chassis/brook",
    "/v1/layouts": "/v1/layouts",
    "/v1/layouts/{id}": "/v1/layouts/through-return",
    "/v1/addons": "/v1/addons",
    "/v1/addons/{id}": "/v1/addons/blower",
    "/v1/fuels": "/v1/fuels",
    "/v1/fuels/{id}": "/v1/fuels/petrol",
    "/v1/materials": "/v1/materials",
    "/v1/materials/{id}": "/v1/materials/aluminium",
    "/v1/port-standards": "/v1/port-standards",
    "/v1/port-standards/{id}": "/v1/port-standards/taper-1/8",
    "/v1/schema/catalog": "/v1/schema/catalog",
    "/v1/problems/{code}": "/v1/problems/unknown-id",
    "/v1/health": "/v1/health",
    "/v1/health/live": "/v1/health/live",
    "/v1/health/ready": "/v1/health/ready",
}


def test_every_get_is_tried() -> None:
    """All but that of a bill, which needs a key, stand in the table."""
    assert {f"GET {path}" for path in _GETS} == set(_OPERATIONS) - {"POST /v1/bills", "GET /v1/bills/{key}"}


@pytest.mark.parametrize("path", list(_GETS))
def test_answers_are_as_the_document_says(app: FastAPI, path: str) -> None:
    """A good answer, one that is not sent again, and whatever is refused."""
    operation = _OPERATIONS[f"GET {path}"]
    good = get(app, _GETS[path])
    assert good.status_code == 200
    _conforms(operation, good)
    _conforms(operation, get(app, _GETS[path], params={"nonsense": "1"}))
    _conforms(operation, call(app, "DELETE", _GETS[path]))
    _conforms(operation, call(app, "GET", _GETS[path], content=b" " * 300_000))
    if "etag" in good.headers:
        _conforms(operation, get(app, _GETS[path], headers={"If-None-Match": good.headers["etag"]}))
    if "{" in path:
        missing = get(app, re.sub(r"\{.*?\}", "none", path))
        assert missing.status_code == 404
        _conforms(operation, missing)


def test_bills_are_as_the_document_says(app: FastAPI) -> None:
    """With bills and without, in each layout, recalled, and refused."""
    operation = _OPERATIONS["POST /v1/bills"]
    for layout in ("factory", "hose-centre", "through-return", "linked-banks"):
        for wish in ({}, {"gauge": "any"}, {"max_price": 1}, {"limit": 0}, {"fuel": "none"}):
            answer = ask(app, QUESTION | {"layout": layout} | wish)
            _conforms(operation, answer)
            for bill in answer.json().get("bills", []):
                _conforms(_OPERATIONS["GET /v1/bills/{key}"], get(app, f"/v1/bills/{bill['key']}"))
    _conforms(operation, ask(app, b"{"))
    _conforms(operation, call(app, "POST", "/v1/bills", content=b"{}"))
    _conforms(operation, call(app, "POST", "/v1/bills", json={}, headers={"Content-Encoding": "gzip"}))
    _conforms(operation, call(app, "PUT", "/v1/bills"))
    _conforms(operation, call(app, "POST", "/v1/bills", content=b" " * 300_000))


def test_the_document_is_served(app: FastAPI) -> None:
    """As it was made."""
    assert get(app, "/openapi.json").json() == _DOCUMENT


def test_the_catalog_s_schema_tells_a_catalog(app: FastAPI) -> None:
    """It takes a whole catalog, and no other."""
    schema = get(app, "/v1/schema/catalog").json()
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    validator.validate(small_catalog())
    assert not validator.is_valid(small_catalog() | {"format": "other/1"})
    assert not validator.is_valid(small_catalog() | {"more": []})
    assert schema["title"] == Catalog.__name__
