"""Wherever money stands in an answer, it says which money it is and whether tax is in it: by the served document."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi import FastAPI

Json = dict[str, Any]
_MONEY = "minor units"
"""What the description of every property that holds money says; see `unit_of` and the words of properties."""
_TOLD = {"currency", "tax"}
_AS_SENT = {"getContractCase", "deleteContractCase"}
"""They give a case back as its partner wrote it: what it promises of prices is the partner's own word."""
_MAY_LACK_IT = {"CaseFile", "Inquiry"}
"""A file of cases is a partner's own as well; what was kept before the money was told is given out as it was kept."""


@pytest.fixture(scope="module")
def document(app: FastAPI) -> Json:
    served: Json = json.loads(json.dumps(app.openapi()))
    return served


def _untold(document: Json, schema: Json, above: tuple[str, ...] = ()) -> Iterator[str]:
    """Yield each place of money beneath a schema with no object on the way there that tells the money."""
    if "$ref" in schema:
        name = schema["$ref"].rsplit("/", 1)[1]
        if name not in above:
            yield from _untold(document, document["components"]["schemas"][name], (*above, name))
        return
    properties = schema.get("properties", {})
    told = set(properties) if above and above[-1] in _MAY_LACK_IT else set(schema.get("required", ()))
    if told >= _TOLD:
        return
    for name, property_ in properties.items():
        if _MONEY in property_.get("description", ""):
            yield ".".join((*above, name))
        yield from _untold(document, property_, above)
    for word in ("items", "additionalProperties", "contentSchema", "then", "else"):
        if isinstance(schema.get(word), dict):
            yield from _untold(document, schema[word], above)
    for word in ("anyOf", "oneOf", "allOf", "prefixItems"):
        for inner in schema.get(word, ()):
            yield from _untold(document, inner, above)


def _answers(document: Json) -> Iterator[tuple[str, Json]]:
    """Each operation with the schema of what it answers where all is well."""
    for operations in document["paths"].values():
        for operation in operations.values():
            for status, response in operation["responses"].items():
                for media_type in response.get("content", {}).values() if status.startswith("2") else ():
                    yield operation["operationId"], media_type.get("schema", {})


def test_money_tells_what_it_is(document: Json) -> None:
    """Common practice: a price without its currency and tax is a number that two sides read in two ways."""
    found = {
        f"{operation}: {place}"
        for operation, schema in _answers(document)
        if operation not in _AS_SENT
        for place in _untold(document, schema)
    }
    assert found == set()


def test_the_walk_finds_money(document: Json) -> None:
    """Without the two words each of these would be told: the walk sees money wherever it stands."""
    schemas = document["components"]["schemas"]
    blind = {"$ref": "#/components/schemas/Bill"}
    assert {"Bill.price", "Bill.Line.price", "Bill.Line.unit_price"} <= set(_untold(document, blind))
    assert set(_untold(document, {"properties": {"next": blind}, "required": ["currency"]}))
    assert not set(_untold(document, {"properties": {"next": blind}, "required": ["currency", "tax"]}))
    unit = {name for name, one in schemas["Line"]["properties"].items() if _MONEY in one["description"]}
    assert unit == {"price", "unit_price"}


def test_a_line_tells_the_price_of_one(document: Json) -> None:
    """But for those of `brief`, whose parts tell it once for all lines."""
    schemas = document["components"]["schemas"]
    with_qty = {
        name
        for name, one in schemas.items()
        if {"qty", "price"} <= set(one.get("properties", {})) and name != "BriefLine"
    }
    assert with_qty >= {"Line", "FoundLine"}
    assert {name for name in with_qty if "unit_price" not in schemas[name]["required"]} == set()
    assert "price" in schemas["BriefPart"]["required"]
