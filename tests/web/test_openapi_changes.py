"""Callers who were written against an earlier OpenAPI document are still served.

`openapi.json` beside this file is the document that holds. Where a change is meant, PORTWRIGHT_REWRITE_OPENAPI=1 writes
it anew; an addition passes without, and is held from the next writing on. What of the typed client is made from the
document is written with it, and has no addition pass.
"""

import ast
import json
import os
import subprocess
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from service.client import AsyncClient, Client
from service.client.method import Method
from service.web.app import create_app
from tests.support.client_source import modules, snake
from tests.support.openapi_changes import breaks

Json = dict[str, Any]
KEPT = Path(__file__).with_name("openapi.json")
CLIENT = Path(__file__).parents[2] / "service" / "client"
REWRITE = "PORTWRIGHT_REWRITE_OPENAPI"
_SHOWN_ONLY = ("example", "examples")


def _described(value: Any, *, named: bool = False) -> Any:
    """The document without its examples, which promise nothing; `named`: the keys are names, not words of OpenAPI."""
    if isinstance(value, dict):
        kept = {key: one for key, one in value.items() if named or key not in _SHOWN_ONLY}
        return {key: _described(one, named=key == "properties" and not named) for key, one in kept.items()}
    return [_described(one) for one in value] if isinstance(value, list) else value


@pytest.fixture(scope="module", name="served")
def _served() -> Json:
    served: Json = _described(json.loads(json.dumps(create_app().openapi())))
    return served


def test_nothing_that_is_promised_is_broken(served: Json) -> None:
    """Each break is told by its operation and place."""
    if os.environ.get(REWRITE):
        KEPT.write_text(json.dumps(served, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    assert breaks(json.loads(KEPT.read_text(encoding="utf-8")), served) == []


def test_the_client_is_that_of_the_document(served: Json) -> None:
    """What is made from it is what would be made now; PORTWRIGHT_REWRITE_OPENAPI=1 writes it."""
    made = {CLIENT / f"{name}.py": text for name, text in modules(served).items()}
    if os.environ.get(REWRITE):
        for file, text in made.items():
            file.write_text(text, encoding="utf-8")
        subprocess.run(["ruff", "format", "--quiet", *map(str, made)], check=True)
    for file, text in made.items():
        assert ast.dump(ast.parse(file.read_text(encoding="utf-8"))) == ast.dump(ast.parse(text)), file.name


def test_the_client_has_every_operation(served: Json) -> None:
    """As a method of the operation's id, at once and awaited."""
    told = [one["operationId"] for ways in served["paths"].values() for one in ways.values() if isinstance(one, dict)]
    for kind in (Client, AsyncClient):
        assert [name for name in told if not isinstance(getattr(kind, snake(name), None), Method)] == []
    assert len(told) > 70


def _document() -> Json:
    """A small document with one of everything."""
    thing = {
        "type": "object",
        "required": ["id", "size"],
        "properties": {
            "id": {"type": "string", "pattern": "^a"},
            "size": {"type": "number", "minimum": 1, "maximum": 9},
            "count": {"type": "integer"},
            "kind": {"type": "string", "enum": ["one", "two"]},
            "note": {"anyOf": [{"type": "string", "maxLength": 9}, {"type": "null"}]},
            "parts": {"type": "array", "items": {"$ref": "#/components/schemas/Thing"}},
        },
    }
    body = {"application/json": {"schema": {"$ref": "#/components/schemas/Thing"}}}
    operation = {
        "operationId": "doThing",
        "parameters": [{"name": "limit", "in": "query", "required": False, "schema": {"type": "integer"}}],
        "requestBody": {"required": True, "content": body},
        "responses": {
            "200": {
                "headers": {"ETag": {"required": True, "schema": {"type": "string"}}},
                "content": {"application/json": {"schema": {"$ref": "#/components/schemas/Told"}}},
            },
            "404": {},
        },
    }
    told = deepcopy(thing)
    told["properties"]["parts"]["items"]["$ref"] = "#/components/schemas/Told"
    return {
        "paths": {"/v1/things": {"post": operation, "get": {"operationId": "listThings", "responses": {"200": {}}}}},
        "components": {"schemas": {"Thing": thing, "Told": told}},
    }


def _post(document: Json) -> Any:
    return document["paths"]["/v1/things"]["post"]


def _asked(document: Json) -> Any:
    return document["components"]["schemas"]["Thing"]


def _told(document: Json) -> Any:
    return document["components"]["schemas"]["Told"]


_LIMIT = "POST /v1/things, query parameter limit"
_BODY = "POST /v1/things, body"
_ANSWER = "POST /v1/things, response 200"
_SIZE: Json = {"name": "size", "in": "query", "schema": {"type": "integer"}}

_BREAKING: list[tuple[Callable[[Json], object], str]] = [
    (lambda d: d["paths"].pop("/v1/things"), "GET /v1/things: removed"),
    (lambda d: d["paths"]["/v1/things"].pop("get"), "GET /v1/things: removed"),
    (lambda d: _post(d).update(operationId="make"), "POST /v1/things, operationId: doThing became make"),
    (lambda d: _post(d)["parameters"].clear(), f"{_LIMIT}: removed"),
    (lambda d: _post(d)["parameters"][0].update(required=True), f"{_LIMIT}: became required"),
    (lambda d: _post(d)["parameters"][0]["schema"].update(maximum=5), f"{_LIMIT}: maximum none became 5"),
    (lambda d: _post(d)["parameters"][0]["schema"].update(type="string"), f"{_LIMIT}: type integer became string"),
    (
        lambda d: _post(d)["parameters"].append(_SIZE | {"required": True}),
        "POST /v1/things, query parameter size: new and required",
    ),
    (lambda d: _post(d).pop("requestBody"), f"{_BODY}: removed"),
    (lambda d: _post(d)["requestBody"].update(content={}), f"{_BODY} application/json: removed"),
    (lambda d: _asked(d)["properties"].pop("note"), f"{_BODY}/note: removed"),
    (lambda d: _asked(d)["required"].append("count"), f"{_BODY}/count: became required"),
    (lambda d: _asked(d)["required"].append("new"), f"{_BODY}/new: new and required"),
    (lambda d: _asked(d).update(additionalProperties=False), f"{_BODY}: no longer takes other fields"),
    (lambda d: _asked(d)["properties"]["kind"]["enum"].pop(), f"{_BODY}/kind: no longer takes two"),
    (lambda d: _asked(d)["properties"]["id"].update(enum=["a"]), f"{_BODY}/id: no longer takes any"),
    (lambda d: _asked(d)["properties"]["id"].update(pattern="^b"), f"{_BODY}/id: pattern ^a became ^b"),
    (lambda d: _asked(d)["properties"]["size"].update(minimum=2), f"{_BODY}/size: minimum 1 became 2"),
    (lambda d: _asked(d)["properties"]["size"].update(type="integer"), f"{_BODY}/size: type number became integer"),
    (lambda d: _asked(d)["properties"]["note"]["anyOf"].pop(), f"{_BODY}/note: type null became string"),
    (
        lambda d: _asked(d)["properties"]["note"]["anyOf"][0].update(maxLength=5),
        f"{_BODY}/note: maxLength 9 became 5",
    ),
    (
        lambda d: _asked(d)["properties"]["parts"]["items"].update(minProperties=1),
        f"{_BODY}/parts/[]: minProperties none became 1",
    ),
    (lambda d: _post(d)["responses"].pop("404"), "POST /v1/things, response 404: removed"),
    (lambda d: _post(d)["responses"]["200"]["headers"].clear(), f"{_ANSWER} header ETag: no longer always there"),
    (lambda d: _post(d)["responses"]["200"]["content"].clear(), f"{_ANSWER} application/json: removed"),
    (lambda d: _told(d)["properties"].pop("count"), f"{_ANSWER}/count: removed"),
    (lambda d: _told(d)["required"].remove("size"), f"{_ANSWER}/size: no longer always there"),
    (lambda d: _told(d)["properties"]["count"].update(type="number"), f"{_ANSWER}/count: type integer became number"),
    (
        lambda d: _told(d)["properties"]["note"]["anyOf"].append({"type": "integer"}),
        f"{_ANSWER}/note: type string became integer",
    ),
    (
        lambda d: _told(d)["properties"].update(id={"anyOf": [{"type": "string"}, {"type": "null"}]}),
        f"{_ANSWER}/id: type string became null",
    ),
]


@pytest.mark.parametrize(("change", "told"), _BREAKING, ids=[told for _, told in _BREAKING])
def test_a_breaking_change_is_told(change: Callable[[Json], object], told: str) -> None:
    """By the place and by what it was."""
    changed = _document()
    change(changed)
    found = breaks(_document(), changed)
    assert any(told in line for line in found), found


_ADDITIVE: dict[str, Callable[[Json], object]] = {
    "nothing": lambda d: None,
    "a path": lambda d: d["paths"].update({"/v1/more": {}}),
    "an optional parameter": lambda d: _post(d)["parameters"].append(_SIZE),
    "an optional field of a request": lambda d: _asked(d)["properties"].update(new={"type": "string"}),
    "a value of an enum of a request": lambda d: _asked(d)["properties"]["kind"]["enum"].append("three"),
    "an enum of a request dropped": lambda d: _asked(d)["properties"]["kind"].pop("enum"),
    "a field of a request that may be left out": lambda d: _asked(d)["required"].remove("size"),
    "a wider range": lambda d: _asked(d)["properties"]["size"].update(minimum=0, maximum=10),
    "a number where an integer was asked": lambda d: _asked(d)["properties"]["count"].update(type="number"),
    "null taken too": lambda d: _asked(d)["properties"].update(
        count={"anyOf": [{"type": "integer"}, {"type": "null"}]}
    ),
    "a field of an answer": lambda d: _told(d)["properties"].update(new={"type": "string"}),
    "a field of an answer always there": lambda d: _told(d)["required"].append("count"),
    "a value of an enum of an answer": lambda d: _told(d)["properties"]["kind"]["enum"].append("three"),
    "an integer where a number was answered": lambda d: _told(d)["properties"]["size"].update(type="integer"),
    "an answer that is never null": lambda d: _told(d)["properties"]["note"]["anyOf"].pop(),
    "a status": lambda d: _post(d)["responses"].update({"409": {}}),
    "a header": lambda d: _post(d)["responses"]["200"]["headers"].update(New={"required": True}),
    "a text": lambda d: _asked(d).update(description="new", title="new"),
}


@pytest.mark.parametrize("name", list(_ADDITIVE))
def test_an_addition_passes(name: str) -> None:
    """Nobody who was written against the old document notices."""
    changed = _document()
    _ADDITIVE[name](changed)
    assert breaks(_document(), changed) == []
