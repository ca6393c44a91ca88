"""The tables of the catalog, derived from its JSON Schema: a field that the documents get has its column at once."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

from service.documents.catalog import Catalog
from service.documents.faults import name_and_unit
from service.documents.fields import PLACES, SPOT_PATTERN
from service.documents.packed import ONCE, SECTIONS, id_of
from service.tables.shape import Column, Level, Scalar, Table

_LONGEST_TITLE = 31
"""So many characters the name of a sheet may have."""
_LONGEST_ENTRY = 200
"""Texts that may be longer than this are sentences: a list of them has a row for each."""
_KINDS = {"string": "text", "number": "number", "integer": "whole", "boolean": "flag"}

Schema = dict[str, Any]


@cache
def sections() -> dict[str, Table]:
    """The table of each section of the catalog document, in its order."""
    whole = Catalog.model_json_schema()
    deriving = _Deriving(whole["$defs"])
    return {name: deriving.section(name, schema) for name, schema in whole["properties"].items() if name in _known()}


@cache
def tables() -> dict[str, Table]:
    """Every table by its title."""
    return {table.title: table for main in sections().values() for table in main.with_beneath()}


def _known() -> tuple[str, ...]:
    return (*SECTIONS, *ONCE)


class _Deriving:
    def __init__(self, definitions: Schema) -> None:
        self._definitions = definitions

    def section(self, name: str, schema: Schema) -> Table:
        told, _ = self._told(schema)
        if name in ONCE:
            return self._table(Table(name, name, is_once=True), told)
        element, _ = self._told(told["items"])
        return self._table(Table(name, name, id_path=id_of(name)), element)

    def _table(self, bare: Table, schema: Schema, above: tuple[str, ...] = ()) -> Table:
        """A table with its columns and all beneath it; `above`: the names from the section down to its rows."""
        refs = _references(bare)
        columns: list[Column] = []
        children: list[Table] = []
        for column in self._of_object(schema, (), above):
            if isinstance(column, Column):
                columns.append(column)
            else:
                child, element = column
                children.append(
                    self._child(replace(child, section=bare.section, above=bare.title, refs=refs), element, above)
                )
        needed = tuple(self._needed(schema, ()))
        return replace(bare, columns=_told_apart(columns, bare), children=tuple(children), needed=needed)

    def _needed(self, schema: Schema, path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
        """Yield the objects that have to be there though no field of theirs has."""
        for name in schema.get("required", ()):
            node, _ = self._told(schema["properties"][name])
            if "properties" in node:
                yield from () if node.get("required") else ((*path, name),)
                yield from self._needed(node, (*path, name))

    def _child(self, bare: Table, schema: Schema, above: tuple[str, ...]) -> Table:
        here = (*above, *bare.path)
        title = ".".join((bare.section, *here))
        if len(title) > _LONGEST_TITLE:
            title = f"{bare.section}.{here[-1]}"[:_LONGEST_TITLE]
        bare = replace(bare, title=title)
        if "properties" not in schema:  # a list of sentences
            return replace(bare, columns=(Column((), _singular(here[-1]), self._scalar(schema, here)),))
        required = schema.get("required", ())
        if bare.levels == ("list",) and "id" in required:
            bare = replace(bare, id_path="id")
        return self._table(bare, schema, here)

    def _of_object(
        self, schema: Schema, path: tuple[str, ...], above: tuple[str, ...]
    ) -> Iterator[Column | tuple[Table, Schema]]:
        """Yield the columns of an object, and for each of its lists a table without columns with what its rows are."""
        for name, told in schema["properties"].items():
            node, is_nullable = self._told(told)
            is_needed = name in schema.get("required", ())
            here = (*path, name)
            if "properties" in node:
                if not is_needed and not node.get("required"):
                    yield Column(here, _head(here), Scalar("flag"), "there")
                yield from self._of_object(node, here, above)
                continue
            levels, element = self._levels(node)
            if not levels:
                yield Column(here, _head(here), self._scalar(node, here))
            elif "properties" in element or len(levels) > 1 or self._is_sentence(levels, element):
                heads = tuple(self._level_head(here, level, node) for level in levels)
                child = Table("", "", "", here, (), levels, heads, is_nullable=is_nullable, is_needed=is_needed)
                yield child, element
            else:
                yield Column(here, _head(here), self._scalar(element, here), levels[0], is_nullable)

    def _levels(self, node: Schema) -> tuple[tuple[Level, ...], Schema]:
        """How many lists and maps are around what a schema tells, and what that is."""
        if node.get("type") == "array":
            levels, element = self._levels(self._told(node["items"])[0])
            return ("list", *levels), element
        within = _of_map(node)
        if within is not None:
            levels, element = self._levels(self._told(within)[0])
            return ("map", *levels), element
        return (), node

    def _is_sentence(self, levels: tuple[Level, ...], element: Schema) -> bool:
        return levels == ("list",) and element.get("maxLength", 0) > _LONGEST_ENTRY

    def _level_head(self, path: tuple[str, ...], level: Level, node: Schema) -> str:
        if level == "list":
            return f"{_singular(path[-1])} no."
        patterns = [*node.get("patternProperties", ()), *self._items(node).get("patternProperties", ())]
        names = self._told(node.get("propertyNames", {}))[0].get("enum", ())
        return "spot" if SPOT_PATTERN in patterns or set(names) == set(PLACES) else "key"

    def _items(self, node: Schema) -> Schema:
        return self._told(node["items"])[0] if "items" in node else {}

    def _scalar(self, node: Schema, path: tuple[str, ...]) -> Scalar:
        kind = _KINDS.get(node.get("type", ""))
        choices = tuple(node.get("enum", [node["const"]] if "const" in node else ()))
        unit = _unit(path)
        field = next((name for name in reversed(path) if name_and_unit(name)[1] == unit), path[-1])
        match kind:
            case "text" | "number" | "whole" | "flag":
                return Scalar(kind, field, unit, choices)
        raise TypeError(f"no column for {'.'.join(path)}: {node}")

    def _told(self, schema: Schema) -> tuple[Schema, bool]:
        """A schema without references, and without the null that may stand in its place; whether it may.

        Of one value or several, several; of objects of several kinds, one with the fields of all.
        """
        if "$ref" in schema:
            return self._told(self._definitions[schema["$ref"].rsplit("/", 1)[1]])
        if "oneOf" in schema:
            return self._merged([self._told(one)[0] for one in schema["oneOf"]]), False
        if "anyOf" not in schema:
            return schema, False
        choices = [one for one in schema["anyOf"] if one.get("type") != "null"]
        several = [one for one in choices if one.get("type") == "array"] or choices
        told, is_nullable = self._told(several[0])
        return told, is_nullable or len(choices) < len(schema["anyOf"])

    def _merged(self, kinds: list[Schema]) -> Schema:
        """An object with the fields of all kinds; one that some of them have not may be nothing at all."""
        fields: Schema = {}
        for name in dict.fromkeys(name for kind in kinds for name in kind["properties"]):
            told = [kind["properties"][name] for kind in kinds if name in kind["properties"]]
            objects = [node for one in told if "properties" in (node := self._told(one)[0])]
            if all("const" in one for one in told):
                fields[name] = {"type": told[0]["type"], "enum": [one["const"] for one in told]}
            elif len(objects) > 1:
                fields[name] = self._merged(objects)
            else:
                fields[name] = told[0]
            if len(told) < len(kinds):
                fields[name] = {"anyOf": [fields[name], {"type": "null"}]}
        required = [name for name in kinds[0].get("required", ()) if all(name in x.get("required", ()) for x in kinds)]
        return {"type": "object", "properties": fields, "required": required}


def _of_map(node: Schema) -> Schema | None:
    """What the values of a map are; None for what is no map."""
    if node.get("type") != "object" or "properties" in node:
        return None
    return next(iter(node.get("patternProperties", {}).values()), None) or node.get("additionalProperties")


def _references(table: Table) -> tuple[str, ...]:
    """The heads by which tables beneath name a row of this one."""
    if table.is_once:
        return ()
    if table.id_path is None:
        return (*table.refs, *table.level_heads)
    leaf = table.path[-1] if table.path else table.section
    return (*table.refs, f"{_singular(leaf)} {table.id_path}")


def _told_apart(columns: list[Column], table: Table) -> tuple[Column, ...]:
    """Columns of which no two have one head: such have the names of the document."""
    heads = [*table.refs, *table.level_heads, *(column.head for column in columns)]
    return tuple(
        replace(column, head=".".join(column.path)) if heads.count(column.head) > 1 else column for column in columns
    )


def _head(path: tuple[str, ...]) -> str:
    """The head of a column: the words of its path, and the unit."""
    words = " ".join(name_and_unit(name)[0] for name in path)
    unit = _unit(path)
    return f"{words} ({unit})" if unit else words


def _unit(path: tuple[str, ...]) -> str:
    """The unit of a value: its name tells it, or the one above does."""
    return next(filter(None, (name_and_unit(name)[1] for name in reversed(path[-2:]))), "")


def _singular(name: str) -> str:
    words = name.replace("_", " ")
    return words if words.endswith(("ss", "is")) else words.removesuffix("s")
