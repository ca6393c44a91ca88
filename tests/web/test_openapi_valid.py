"""The OpenAPI document is a valid one: of OpenAPI 3.1, with who may ask, and links that lead somewhere."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema.exceptions import ValidationError
from openapi_spec_validator import validate
from openapi_spec_validator.validation.exceptions import OpenAPIValidationError
from referencing.exceptions import Unresolvable

from tests.support.served_document import served_document

_DOCUMENT = served_document()
_JSON = "application/json"
_OPERATIONS = {
    operation["operationId"]: (method.upper(), path, operation)
    for path, operations in _DOCUMENT["paths"].items()
    for method, operation in operations.items()
}


def test_the_document_is_valid() -> None:
    """OpenAPI 3.1, with a server and keys, and nothing that is null by default."""
    validate(_each_once(_DOCUMENT))
    assert _DOCUMENT["openapi"].startswith("3.1")
    assert _DOCUMENT["servers"]
    assert list(_null_defaults(_DOCUMENT)) == []


def _each_once(document: dict[str, Any]) -> dict[str, Any]:
    """The same document with each response, parameter and header in it once, referred to from wherever it stands.

    Of 1,400 responses some 120 differ, and the validator goes through each as often as it is written out.
    """
    names: dict[str, str] = {}
    components: dict[str, Any] = {"responses": {}, "parameters": {}, "headers": {}}

    def once(kind: str, part: dict[str, Any]) -> dict[str, Any]:
        if "$ref" in part:
            return part
        name = names.setdefault(kind + json.dumps(part, sort_keys=True), f"Once{len(names)}")
        components[kind][name] = part
        return {"$ref": f"#/components/{kind}/{name}"}

    def response(part: dict[str, Any]) -> dict[str, Any]:
        headers = {name: once("headers", header) for name, header in part.get("headers", {}).items()}
        return once("responses", part | ({"headers": headers} if headers else {}))

    def operation(part: dict[str, Any]) -> dict[str, Any]:
        parameters = [once("parameters", one) for one in part.get("parameters", ())]
        responses = {code: response(one) for code, one in part["responses"].items()}
        return part | {"responses": responses} | ({"parameters": parameters} if parameters else {})

    paths = {
        path: {method: operation(one) for method, one in operations.items()}
        for path, operations in document["paths"].items()
    }
    return document | {"paths": paths, "components": document["components"] | components}


_SMALL: dict[str, Any] = {
    "parameters": [{"name": "id", "in": "path", "required": True, "schema": {"type": "string"}}],
    "responses": {
        "200": {
            "description": "What was asked for.",
            "headers": {"ETag": {"schema": {"type": "string"}}},
            "content": {_JSON: {"schema": {"$ref": "#/components/schemas/Thing"}}},
        }
    },
}


@pytest.mark.parametrize(
    ("place", "wrong"),
    [
        ("responses/200/description", 7),
        ("responses/200/headers/ETag/required", 7),
        ("responses/200/content/application~1json/schema/$ref", "#/components/schemas/NoSuch"),
        ("parameters/0/in", "nowhere"),
        ("parameters/0/name", "other"),
        ("parameters/0/schema/minLength", -1),
        ("operationId", "get"),
    ],
)
def test_what_is_not_valid_is_noticed(place: str, wrong: object) -> None:
    """Wherever in an operation it is, though each part is looked at once."""
    right, broken = (json.loads(json.dumps(_SMALL)) for _ in range(2))
    part, (*names, last) = broken, [name.replace("~1", "/") for name in place.split("/")]
    for name in names:
        part = part[int(name)] if isinstance(part, list) else part[name]
    part[last] = wrong
    document: dict[str, Any] = {"openapi": "3.1.0", "info": {"title": "t", "version": "1"}}
    document["components"] = {"schemas": {"Thing": {"type": "object"}}}
    document["paths"] = {"/a/{id}": {"get": right | {"operationId": "get"}}}
    validate(_each_once(document))
    document["paths"]["/b/{id}"] = {"get": broken}
    with pytest.raises((OpenAPIValidationError, ValidationError, Unresolvable)):
        validate(_each_once(document))


def _null_defaults(part: Any) -> Iterator[Any]:
    if isinstance(part, dict):
        if part.get("default", 0) is None:
            yield part
        for name, inner in part.items():
            yield from () if name in ("example", "examples") else _null_defaults(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from _null_defaults(inner)


def test_every_operation_says_who_may() -> None:
    """By the roles of a key, or that none is asked for; and every property says what it is."""
    for _, _, operation in _OPERATIONS.values():
        roles = [role for one in operation["security"] for role in one.get("bearerKey", ())]
        assert bool(roles) == ("401" in operation["responses"])
    assert _OPERATIONS["publishDraft"][2]["security"] == [{"bearerKey": ["publisher", "admin"]}]
    assert _OPERATIONS["getHealth"][2]["security"] == []
    for schema in _DOCUMENT["components"]["schemas"].values():
        for name, property_ in schema.get("properties", {}).items():
            assert property_["description"], name
            assert not name.endswith("_kpa") or "kpa" in property_["description"].lower()
            assert "default" not in property_


def test_links_lead_to_operations() -> None:
    """Each names an operation, and parameters of its path."""
    links = [
        link
        for _, _, operation in _OPERATIONS.values()
        for response in operation["responses"].values()
        for link in response.get("links", {}).values()
    ]
    assert len(links) >= 9
    for link in links:
        _, path, _ = _OPERATIONS[link["operationId"]]
        assert all(f"{{{name}}}" in path for name in link["parameters"])
