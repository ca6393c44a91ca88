"""The modules of the client are made as a document says, whatever stands in it."""

from typing import Any

import pytest
from fastapi.routing import APIRoute

from service.web.sandbox import sandbox_router
from tests.support.client_schemas import hint
from tests.support.client_source import ASKS, modules, snake

Json = dict[str, Any]
TEXT, NUMBER, NONE = {"type": "string"}, {"type": "number"}, {"type": "null"}


@pytest.mark.parametrize(
    ("schema", "kind"),
    [
        ({}, "Any"),
        ({"type": ["integer", "null"]}, "int | None"),
        ({"anyOf": [TEXT, NONE, TEXT]}, "str | None"),
        ({"enum": ["a", 'b"'], "type": "string"}, 'Literal["a", "b\\""]'),
        ({"const": 1}, "Literal[1]"),
        ({"type": "array", "items": {"$ref": "#/components/schemas/Thing"}}, "list[s.Thing]"),
        ({"type": "object", "additionalProperties": NUMBER}, "dict[str, float]"),
        ({"type": "object", "patternProperties": {"^a": TEXT}, "additionalProperties": False}, "dict[str, str]"),
        ({"type": "object", "additionalProperties": True}, "dict[str, Any]"),
    ],
)
def test_types(schema: Json, kind: str) -> None:
    """Each form of a schema has its type."""
    assert hint(schema, "s.") == kind


def test_an_object_needs_a_name() -> None:
    """A type of its own cannot be made for it."""
    with pytest.raises(ValueError, match="without a name"):
        hint({"type": "object", "properties": {"a": TEXT}})


def _document(operation: Json, path: str = "/v1/things/{id}", method: str = "get", **schemas: Json) -> Json:
    told = {"operationId": "getThing", "summary": "A thing", "responses": {}} | operation
    return {"paths": {path: {method: told}}, "components": {"schemas": schemas}}


def _answer(name: str, status: str = "200") -> Json:
    return {status: {"content": {"application/json": {"schema": {"$ref": f"#/components/schemas/{name}"}}}}}


def test_odd_names_circles_and_quotes() -> None:
    """A field that is a word of Python, documents that name each other, and a description that ends with a quote."""
    thing = {"properties": {"from": TEXT, "other": {"$ref": "#/components/schemas/Other"}}, "required": ["from"]}
    other = {"properties": {"thing": {"$ref": "#/components/schemas/Thing"}}, "description": 'unless told: ""'}
    module: Json = {}
    exec(modules(_document({"responses": _answer("Thing")}, Thing=thing, Other=other))["schemas"], module)
    assert module["Thing"].__annotations__.keys() == {"from", "other"}
    assert module["Thing"].__required_keys__ == {"from"}
    assert module["Other"].__doc__ == 'unless told: ""'


def test_what_is_alike_is_said_once() -> None:
    """Twins have one name, a document stands on one that it has all of, a kind on what most of it have; but what reads
    otherwise, or is less than four fields, stays apart."""

    def has(*names: str, **more: Json) -> Json:
        return {"properties": dict.fromkeys(names, TEXT) | more, "required": list(names)}

    part = {"part": {"$ref": "#/components/schemas/PartAsked"}}
    schemas = {
        "Part": has("a"),
        "PartAsked": has("a") | {"description": "bounded"},
        "Line": has("a", "b", "c", **part),
        "LongLine": has("a", "b", "c", "d", **part),
        "OtherLine": has("a", "b", "c", part=NUMBER),
        "Few": has("a", "b"),
        "Small": has("b", "c"),
        "SmallAsked": has("b", "c", "d"),
        **{f"{name}Facts": has("in", "k", "l", "m", name.lower()) for name in ("One", "Two", "Three")},
        "LoneFacts": has("z"),
    }
    module: Json = {}
    text = modules(_document({"responses": {}}, **schemas))["schemas"]
    exec(text, module)
    assert module["PartAsked"] is module["Part"]
    assert module["SmallAsked"] is not module["Small"]
    heads = {line.removeprefix("class ") for line in text.splitlines() if line.startswith("class ")}
    assert {"LongLine(Line):", "OtherLine(TypedDict):", "Line(TypedDict):", "SmallAsked(TypedDict):"} <= heads
    assert {"AnyFacts(_AnyFacts):", "OneFacts(AnyFacts):", "LoneFacts(TypedDict):"} <= heads
    for name, schema in schemas.items():
        if name != "PartAsked":
            assert module[name].__required_keys__ == set(schema["required"])
            assert module[name].__required_keys__ | module[name].__optional_keys__ == schema["properties"].keys()


def test_calls() -> None:
    """Ids are named after their things; what is worked out is waited for; a page tells its list; texts become types."""
    page = {"properties": {"results": {"type": "array", "items": TEXT}, "next": TEXT}}
    pending = {"responses": _answer("Page") | {"202": {}}, "parameters": []}
    pending["parameters"] = [
        {"name": "sure", "in": "query", "schema": {"type": "string", "pattern": "^(true|false)$"}},
        {"name": "ids", "in": "query", "required": True, "schema": {"type": "string", "pattern": "^a(,a)*$"}},
        {"name": "If-None-Match", "in": "header", "schema": TEXT},
    ]
    made = modules(_document(pending, Page=page))["operations"]
    assert (
        "def get_thing(thing_id: str, *, ids: str | Sequence[str], sure: bool | None = None) -> Listed[s.Page, str]:"
        in made
    )
    assert 'pending=True, elements="results"' in made
    assert snake("findBillsByQuery") == "find_bills_by_query"


def test_what_may_be_sent_again() -> None:
    """A post only where it asks, or has an idempotency key; a get always."""
    key = [{"name": "Idempotency-Key", "in": "header", "schema": TEXT}]
    answers = {"responses": _answer("Page"), "operationId": "makeThing"}

    def told(method: str, **more: Any) -> str:
        return modules(_document(answers | more, method=method, Page={"properties": {"a": TEXT}}))["operations"]

    assert "repeatable" not in told("get")
    assert "repeatable=False" in told("post")
    assert "repeatable" not in told("post", operationId="findBills")
    assert "repeatable=idempotency_key is not None" in told("post", parameters=key)


def test_the_sandbox_only_asks() -> None:
    """So its posts are among those that may be sent again."""
    posts = {
        route.operation_id
        for route in sandbox_router().routes
        if isinstance(route, APIRoute) and "POST" in route.methods
    }
    assert posts
    assert posts <= ASKS
