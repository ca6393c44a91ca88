"""What may stand at each place of an object of the catalog, as a form shows it: read from the documents themselves."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal

from pydantic import TypeAdapter

from service.documents.catalog import Maker, Policies
from service.documents.faults import unit_of
from service.documents.fields import PLACES, SPOT_PATTERN
from service.documents.meanings import NAMES_ITSELF, REFERENCES, SHARED_WORDS, meaning_of
from service.documents.packed import SECTIONS

ShapeKind = Literal["text", "long", "number", "whole", "money", "choice", "yes", "group", "rows", "keyed"]
LEAVES = ("text", "long", "number", "whole", "money", "choice", "yes")
_MONEY = "integer minor units of the currency"
_LONGEST_LINE = 200
_SPOTS = (*PLACES, *(f"{bank}.{place}" for bank in (1, 2) for place in PLACES))
_ALONE: dict[str, Any] = {"maker": Maker, "policies": Policies}

Schema = Mapping[str, Any]


@dataclass(frozen=True)
class Shape:
    """A place in a document: what stands there, and what people are told of it.

    `refers`: the section whose objects it names; `words`: what its free words are shared with. `parts` are the fields
    of a group, `item` is a row of rows and the value of keyed ones, whose keys are `key`. `variants`: by the value of
    the field `tag` what a group is.
    """

    kind: ShapeKind
    name: str = ""
    title: str = ""
    purpose: str = ""
    unit: str = ""
    bounds: str = ""
    is_required: bool = True
    options: tuple[str, ...] = ()
    refers: str | None = None
    words: str | None = None
    parts: tuple["Shape", ...] = ()
    item: "Shape | None" = None
    key: "Shape | None" = None
    tag: str = ""
    variants: tuple[tuple[str, "Shape"], ...] = ()

    @property
    def is_leaf(self) -> bool:
        """Whether it is one field of a form."""
        return self.kind in LEAVES

    def part(self, name: str) -> "Shape | None":
        """The field of a group by its name."""
        return next((part for part in self.parts if part.name == name), None)

    def of_variant(self, tag: str) -> "Shape":
        """The group that a variant is: by its tag, else the first."""
        return dict(self.variants).get(tag, self.variants[0][1]) if self.variants else self


@cache
def shape_of(section: str) -> Shape:
    """The shape of an object of a section."""
    schema = TypeAdapter(_ALONE.get(section) or SECTIONS[section]).json_schema()
    return _Reader(schema.get("$defs", {})).whole(schema)


class _Reader:
    """Reads JSON Schema as pydantic writes it for the documents."""

    def __init__(self, defined: Mapping[str, Schema]) -> None:
        self._defined = defined

    def whole(self, schema: Schema) -> Shape:
        """The shape of a whole object."""
        if "oneOf" not in schema:
            return self._group(schema)
        told = schema["discriminator"]
        variants = tuple((tag, self._group(self._meant({"$ref": ref}))) for tag, ref in told["mapping"].items())
        return Shape("group", tag=told["propertyName"], variants=_with_choice(variants, told["propertyName"]))

    def _meant(self, schema: Schema) -> Schema:
        """A schema without what refers to it: null is not a shape of its own, and of two kinds lists are taken."""
        if "$ref" in schema:
            return self._meant(self._defined[schema["$ref"].rpartition("/")[2]])
        if "anyOf" in schema:
            kinds = [self._meant(one) for one in schema["anyOf"] if one.get("type") != "null"]
            return next((one for one in kinds if one.get("type") == "array"), kinds[0])
        return schema

    def _group(self, schema: Schema) -> Shape:
        document, required = schema["title"], schema.get("required", ())
        parts = (
            replace(self._field(document, name, inner), is_required=name in required)
            for name, inner in schema["properties"].items()
        )
        return Shape("group", parts=tuple(parts))

    def _field(self, document: str, name: str, schema: Schema) -> Shape:
        meaning = meaning_of(document, name)
        meant = self._meant(schema)
        names = None if f"{document}.{name}" == NAMES_ITSELF else REFERENCES.get(name)
        shape = self._shape(meant, _Naming(name, names, SHARED_WORDS.get(name)))
        unit = "" if _is_money(meant) or not shape.is_leaf else unit_of(name) or unit_of(f"_{name}")
        if shape.item is not None and shape.item.is_leaf:
            is_required = shape.kind == "keyed"
            item = replace(shape.item, unit=unit_of(name), title=meaning.title, is_required=is_required)
            shape = replace(shape, item=item)
        shape = replace(shape, parts=tuple(_with_unit(part, unit_of(name)) for part in shape.parts))
        return replace(shape, name=name, title=meaning.title, purpose=meaning.purpose, unit=unit)

    def _shape(self, schema: Schema, named: "_Naming") -> Shape:
        kind = schema.get("type")
        if kind == "object":
            return self._object(schema, named)
        if kind == "array":
            return Shape("rows", item=self._shape(self._meant(schema["items"]), named))
        return _leaf(schema, named)

    def _object(self, schema: Schema, named: "_Naming") -> Shape:
        if "properties" in schema:
            return self._group(schema)
        by_pattern: Mapping[str, Schema] = schema.get("patternProperties", {})
        pattern, inner = next(iter(by_pattern.items()), ("", schema.get("additionalProperties", {})))
        keys = {"type": "string", "pattern": pattern} | schema.get("propertyNames", {})
        key = replace(_leaf(keys, named), name="key", title=meaning_of("", "key").title)
        value = self._shape(self._meant(inner), _Naming(named.field, None, None))
        if value.is_leaf:
            value = replace(value, name="value", title=meaning_of("", "value").title, unit=unit_of(named.field))
        return Shape("keyed", key=key, item=value)


@dataclass(frozen=True)
class _Naming:
    """What is known of a leaf by the field above it."""

    field: str
    refers: str | None
    words: str | None


def _leaf(schema: Schema, named: _Naming) -> Shape:
    kind = schema.get("type", "string")
    if "const" in schema or "enum" in schema:
        return Shape("choice", options=tuple(map(str, schema.get("enum") or [schema["const"]])))
    if kind == "boolean":
        return Shape("yes", options=("yes", "no"))
    if kind in ("number", "integer"):
        if _is_money(schema):
            return Shape("money")
        return Shape("whole" if kind == "integer" else "number", bounds=_bounds(schema))
    if schema.get("pattern") == SPOT_PATTERN:
        return Shape("choice", options=_SPOTS)
    is_long = schema.get("maxLength", 0) > _LONGEST_LINE
    return Shape("long" if is_long else "text", refers=named.refers, words=named.words)


def _with_unit(part: Shape, unit: str) -> Shape:
    """A figure with the unit that the name above it tells, where its own tells none."""
    return replace(part, unit=unit) if part.kind == "number" and not part.unit else part


def _is_money(schema: Schema) -> bool:
    return str(schema.get("description", "")).startswith(_MONEY)


def _bounds(schema: Schema) -> str:
    """The least and the most of a number, in words."""
    least, above, most = (schema.get(name) for name in ("minimum", "exclusiveMinimum", "maximum"))
    low = f"above {above:,.10g}" if above is not None else f"{least:,.10g}" if least is not None else ""
    if most is None:
        return f"{low} or more" if low and above is None else low
    return f"{low} to {most:,.10g}" if low else f"at most {most:,.10g}"


def _with_choice(variants: tuple[tuple[str, Shape], ...], tag: str) -> tuple[tuple[str, Shape], ...]:
    """Variants whose tag may be chosen: first of their fields, with all that there are."""
    options = tuple(name for name, _ in variants)

    def chosen(shape: Shape) -> Shape:
        own = shape.part(tag)
        rest = tuple(part for part in shape.parts if part.name != tag)
        return replace(shape, parts=((replace(own, options=options),) if own else ()) + rest)

    return tuple((name, chosen(shape)) for name, shape in variants)
