"""What schemas of the OpenAPI document say of themselves: a description with its unit for each property, no defaults
that generators take for promises, and what the facts of each rule are."""

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from service.documents.faults import unit_of
from service.rules import RULES

Json = dict[str, Any]
_JUDGED = ("RuledOut", "StoppedPart", "RuleTold")
"""The schemas whose rule is always one of `RULES`; cautions are told by the names of checks as well."""
_TOLD = (*_JUDGED, "Reason")
_ANYWHERE = {
    "spot": ["string?", "the spot"],
    "sku": ["string", "SKU of the part"],
    "qty": ["integer", "how many, pieces"],
    "in": ["string", "SKU of what comes in its place"],
    "part": ["string", "name of the part"],
    "chain": ["string[]", "SKUs of the chain, outwards"],
    "layout": ["string", "the layout"],
    "sets": ["integer", "how many sets"],
}
"""Facts that may stand beside those of any rule."""


def describe_properties(schemas: Json) -> None:
    """Give each property its description with its unit, and tell its default there.

    A property that has its default where it is left out may be absent, of requests and of answers; generators take the
    word `default` to mean that it is always there.
    """
    for name, property_ in ((name, one) for schema in schemas.values() for name, one in _properties(schema)):
        text = property_.get("description") or _words().get(name) or name.replace("_", " ")
        unit = unit_of(name)
        if unit and unit.lower() not in text.lower():
            text = f"{text}, {unit}"
        default = property_.pop("default", None)
        if default is not None and "default" not in text:
            text = f"{text}; unless told: {json.dumps(default, ensure_ascii=False)}"
        property_["description"] = text


def without_null_defaults(part: Any) -> None:
    """Take `default: null` out of a document: what has no value is left out, and null is often refused."""
    if isinstance(part, dict):
        if "default" in part and part["default"] is None:
            del part["default"]
        for name, inner in part.items():
            if name not in ("example", "examples"):
                without_null_defaults(inner)
    elif isinstance(part, list):
        for inner in part:
            without_null_defaults(inner)


def describe_rules(schemas: Json) -> None:
    """Name the rules in an enum, give each a schema of its facts, and say where which one holds."""
    ids = [rule.id for rule in RULES]
    schemas["RuleId"] = {
        "type": "string",
        "enum": ids,
        "title": "RuleId",
        "description": "a rule of valid bills; what `facts` it tells, the schema of its name with Facts says",
    }
    for rule in ids:
        schemas[_facts_name(rule)] = _facts_schema(rule)
    for name in _JUDGED:
        schemas[name]["properties"]["rule"] = _reference("RuleId") | {"description": _words()["rule"]}
    for name in _TOLD:
        schemas[name] |= _by_rule(ids)


def _facts_name(rule: str) -> str:
    return f"{rule.title()}Facts"


def _facts_schema(rule: str) -> Json:
    known = _ANYWHERE | _facts()[rule]
    properties = {name: _property(name, type_, says) for name, (type_, says) in sorted(known.items())}
    description = f"the facts of the rule `{rule}`, those that the case has"
    return {"type": "object", "title": _facts_name(rule), "description": description, "properties": properties}


def _property(name: str, type_: str, says: str) -> Json:
    unit = unit_of(name)
    told = {"description": f"{says}, {unit}" if unit and unit not in says and "minor units" not in says else says}
    if type_.endswith("[]"):
        return {"type": "array", "items": {"type": type_.removesuffix("[]")}} | told
    bare = type_.removesuffix("?")
    return {"type": bare if bare == type_ else [bare, "null"]} | told


def _by_rule(ids: list[str]) -> Json:
    """Which schema the facts have, by the rule: each `else` holds the next one."""
    told: Json = {}
    for rule in reversed(ids):
        condition = {"properties": {"rule": {"const": rule}}, "required": ["rule"]}
        then = {"properties": {"facts": _reference(_facts_name(rule))}}
        told = {"if": condition, "then": then} | ({"else": told} if told else {})
    return told


def _reference(schema: str) -> Json:
    return {"$ref": f"#/components/schemas/{schema}"}


def _properties(schema: Json) -> Iterator[tuple[str, Json]]:
    properties: Json = schema.get("properties", {})
    yield from properties.items()


@cache
def _words() -> dict[str, str]:
    words: dict[str, str] = _data("property_words.json")
    return words


@cache
def _facts() -> dict[str, dict[str, list[str]]]:
    facts: dict[str, dict[str, list[str]]] = _data("rule_facts.json")
    return facts


def _data(name: str) -> Any:
    return json.loads(Path(__file__).with_name(name).read_text(encoding="utf-8"))
