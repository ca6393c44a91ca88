"""What of a new OpenAPI document would break callers who were written against an old one.

A request must be taken as before, so what is asked may only widen; an answer must hold what it held, so what is
answered may only narrow. New values of an enum in an answer count as additions.
Pure: two documents in, one line a break out.
"""

import json
from collections.abc import Iterable, Iterator
from typing import Any

Json = dict[str, Any]

_ASKED, _ANSWERED = "asked", "answered"
_LEAST = ("minimum", "exclusiveMinimum", "minLength", "minItems", "minProperties")
_MOST = ("maximum", "exclusiveMaximum", "maxLength", "maxItems", "maxProperties")
_DEEPEST = 40


def breaks(old: Json, new: Json) -> list[str]:
    """Every break, as "GET /path, place: what"."""
    return sorted(set(_Comparison(old, new).breaks()))


class _Comparison:
    def __init__(self, old: Json, new: Json) -> None:
        self.old, self.new = old, new
        self._known: dict[tuple[str, str, str], list[tuple[str, str]]] = {}

    def breaks(self) -> Iterator[str]:
        for path, operations in self.old["paths"].items():
            for method, before in operations.items():
                name = f"{method.upper()} {path}"
                now = self.new["paths"].get(path, {}).get(method)
                if now is None:
                    yield f"{name}: removed"
                    continue
                for place, what in self._operation(before, now):
                    yield f"{name}, {place}: {what}"

    def _operation(self, old: Json, new: Json) -> Iterator[tuple[str, str]]:
        if old["operationId"] != new["operationId"]:
            yield "operationId", f"{old['operationId']} became {new['operationId']}"
        yield from self._parameters(_parameters(old), _parameters(new))
        yield from self._body(old.get("requestBody"), new.get("requestBody"))
        for status, before in old["responses"].items():
            now = new["responses"].get(status)
            if now is None:
                yield f"response {status}", "removed"
                continue
            for header, told in before.get("headers", {}).items():
                if told.get("required") and not now.get("headers", {}).get(header, {}).get("required"):
                    yield f"response {status} header {header}", "no longer always there"
            yield from self._contents(f"response {status}", before, now, _ANSWERED)

    def _parameters(self, old: dict[str, Json], new: dict[str, Json]) -> Iterator[tuple[str, str]]:
        for name, before in old.items():
            if name not in new:
                yield name, "removed"
                continue
            if new[name].get("required") and not before.get("required"):
                yield name, "became required"
            yield from _under(name, self._schemas(before["schema"], new[name]["schema"], _ASKED))
        for name in new.keys() - old.keys():
            if new[name].get("required"):
                yield name, "new and required"

    def _body(self, old: Json | None, new: Json | None) -> Iterator[tuple[str, str]]:
        if old is None or new is None:
            if old is not None:
                yield "body", "removed"
            elif new is not None and new.get("required"):
                yield "body", "new and required"
            return
        if new.get("required") and not old.get("required"):
            yield "body", "became required"
        yield from self._contents("body", old, new, _ASKED)

    def _contents(self, place: str, old: Json, new: Json, way: str) -> Iterator[tuple[str, str]]:
        for media_type, before in old.get("content", {}).items():
            now = new.get("content", {}).get(media_type)
            if now is None:
                yield f"{place} {media_type}", "removed"
                continue
            if "schema" in before:
                yield from _under(place, self._schemas(before["schema"], now.get("schema", {}), way))

    def _schemas(self, old: Json, new: Json, way: str, depth: int = 0) -> Iterator[tuple[str, str]]:
        """The breaks within a schema, each with its place below it."""
        assert depth < _DEEPEST, "schemas nest too deep to compare"
        before, now = _choices(self.old, old), _choices(self.new, new)
        for choice in before if way == _ASKED else now:
            pairs = [(choice, other) for other in now] if way == _ASKED else [(other, choice) for other in before]
            yield from min((self._named(one, other, way, depth) for one, other in pairs), key=_weight)

    def _named(self, old: Json, new: Json, way: str, depth: int) -> list[tuple[str, str]]:
        """Those within an alternative; a pair is compared once, as schemas may refer in a circle."""
        pair = (json.dumps(old), json.dumps(new), way)
        if pair not in self._known:
            self._known[pair] = []
            self._known[pair] = list(self._plain(_whole(self.old, old), _whole(self.new, new), way, depth))
        return self._known[pair]

    def _plain(self, old: Json, new: Json, way: str, depth: int) -> Iterator[tuple[str, str]]:
        wide, narrow = (new, old) if way == _ASKED else (old, new)
        if "type" in wide and wide["type"] != narrow.get("type") and (wide["type"], narrow.get("type")) != _WIDER:
            yield "", f"type {old.get('type', 'any')} became {new.get('type', 'any')}"
            return
        if way == _ASKED:
            yield from _limits(old, new)
        yield from self._fields(old, new, way, depth)
        for key in ("items", "additionalProperties", "contentSchema"):
            if isinstance(old.get(key), dict) and isinstance(new.get(key), dict):
                yield from _under("[]", self._schemas(old[key], new[key], way, depth + 1))
        if way == _ASKED and new.get("additionalProperties") is False and old.get("additionalProperties") is not False:
            yield "", "no longer takes other fields"

    def _fields(self, old: Json, new: Json, way: str, depth: int) -> Iterator[tuple[str, str]]:
        before, now = old.get("properties", {}), new.get("properties", {})
        needed, needed_now = set(old.get("required", ())), set(new.get("required", ()))
        for name, schema in before.items():
            if name not in now:
                yield name, "removed"
                continue
            if way == _ANSWERED and name in needed - needed_now:
                yield name, "no longer always there"
            yield from _under(name, self._schemas(schema, now[name], way, depth + 1))
        if way == _ASKED:
            for name in sorted(needed_now - needed):
                yield name, "became required" if name in before else "new and required"


_WIDER = ("number", "integer")
"""A number is asked where an integer was, or an integer is answered where a number was."""


def _limits(old: Json, new: Json) -> Iterator[tuple[str, str]]:
    if _values(new) is not None:
        lost = [value for value in _values(old) or ["any"] if value not in (_values(new) or [])]
        if lost:
            yield "", f"no longer takes {', '.join(map(str, lost))}"
    for names, stricter in ((_LEAST, 1), (_MOST, -1)):
        for name in names:
            before, now = old.get(name), new.get(name)
            if now is not None and (before is None or (now - before) * stricter > 0):
                yield "", f"{name} {'none' if before is None else before} became {now}"
    if "pattern" in new and new["pattern"] != old.get("pattern"):
        yield "", f"pattern {old.get('pattern', 'none')} became {new['pattern']}"


def _values(schema: Json) -> list[Any] | None:
    return [schema["const"]] if "const" in schema else schema.get("enum")


def _choices(document: Json, schema: Json) -> list[Json]:
    """The alternatives of a schema: those of anyOf or oneOf, or itself."""
    whole = _whole(document, schema)
    listed = whole.get("anyOf") or whole.get("oneOf")
    if listed:
        return [choice for one in listed for choice in _choices(document, one)]
    if isinstance(whole.get("type"), list):
        return [whole | {"type": one} for one in whole["type"]]
    return [schema]


def _whole(document: Json, schema: Json) -> Json:
    """The schema itself, where it refers to a named one."""
    if "$ref" not in schema:
        return schema
    named = document["components"]["schemas"][schema["$ref"].rpartition("/")[2]]
    return _whole(document, named) | {key: value for key, value in schema.items() if key != "$ref"}


def _weight(found: list[tuple[str, str]]) -> tuple[bool, int]:
    """Of several alternatives the one of the same type counts, then the one with the fewest breaks."""
    return any(place == "" and what.startswith("type ") for place, what in found), len(found)


def _under(place: str, found: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    for below, what in found:
        yield (f"{place}/{below}" if below else place), what


def _parameters(operation: Json) -> dict[str, Json]:
    return {f"{one['in']} parameter {one['name']}": one for one in operation.get("parameters", [])}
