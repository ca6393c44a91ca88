"""The documents of the typed client, that follow from the schemas of the OpenAPI document: each field said once."""

import json
import keyword
import re
import textwrap
from collections import Counter
from collections.abc import Iterator
from typing import Any

Json = dict[str, Any]

_WIDTH = 112
_WORTH = 4
"""So many fields at least are not written again."""
_OF_A_KIND = 3
_PLAIN = {"string": "str", "number": "float", "integer": "int", "boolean": "bool", "null": "None"}
HEAD = '"""{says}\n\nMade from the OpenAPI document; tests/support/client_source.py says how.\n"""\n\n{imports}\n'


def hint(schema: Json, prefix: str = "") -> str:
    """The type that a schema describes, with `prefix` before the names of others.

    Raises ValueError for an object that has properties and no name.
    """
    if "$ref" in schema:
        return f"{prefix}{schema['$ref'].rpartition('/')[2]}"
    if choices := schema.get("anyOf") or schema.get("oneOf"):
        return " | ".join(dict.fromkeys(hint(one, prefix) for one in choices))
    if "const" in schema or "enum" in schema:
        values = schema.get("enum", [schema.get("const")])
        return f"Literal[{', '.join(map(quoted, values))}]"
    kind = schema.get("type")
    if isinstance(kind, list):
        return " | ".join(hint({**schema, "type": one}, prefix) for one in kind)
    if kind == "array":
        return f"list[{hint(schema.get('items', {}), prefix)}]"
    if kind == "object":
        return _mapping(schema, prefix)
    return _PLAIN[kind] if kind else "Any"


def _mapping(schema: Json, prefix: str) -> str:
    if schema.get("properties"):
        raise ValueError(f"an object without a name: {schema}")
    values = [*schema.get("patternProperties", {}).values(), schema.get("additionalProperties", {})]
    value = next((one for one in values if isinstance(one, dict)), {})
    return f"dict[str, {hint(value, prefix)}]"


def quoted(value: object) -> str:
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(value)


def docstring(text: str, indent: str = "    ") -> str:
    paragraphs = [part for part in re.split(r"\n\s*\n", text.strip()) if part.strip()]
    lines = ["\n".join(textwrap.wrap(" ".join(part.split()), _WIDTH - len(indent))) for part in paragraphs]
    told = "\n\n".join(lines).replace("\\", "\\\\").replace('""', '"\\"')
    told = f'{told[:-1]}\\"' if told.endswith('"') and not told.endswith('\\"') else told
    end = "\n" if "\n" in told else ""
    return textwrap.indent(f'"""{told}{end}"""', indent, lambda line: bool(line.strip()))


def without_twins(document: Json) -> tuple[Json, dict[str, str]]:
    """The document with one name for what reads the same, asked or answered: only the bounds of its values differ. With
    the names that are gone, and what stands for each."""
    schemas = document["components"]["schemas"]
    twins = {name: plain for name in schemas if (plain := name.removesuffix("Asked")) != name and plain in schemas}
    while True:
        told = json.dumps(document)
        for name, plain in twins.items():
            told = told.replace(f'schemas/{name}"', f'schemas/{plain}"')
        found: Json = json.loads(told)
        read = found["components"]["schemas"]
        unlike = [name for name, plain in twins.items() if _read(read[name]) != _read(read[plain])]
        if not unlike:
            found["components"]["schemas"] = {name: one for name, one in read.items() if name not in twins}
            return found, twins
        twins = {name: plain for name, plain in twins.items() if name not in unlike}


def _read(schema: Json) -> dict[str, tuple[str, object, bool]]:
    """What is read of each field: its type, what is told of it, whether it may be absent."""
    required = schema.get("required", ())
    fields = schema.get("properties", {})
    return {name: (hint(one), one.get("description"), name in required) for name, one in fields.items()}


def _with_kinds(schemas: Json) -> Json:
    """The documents, and what most of a kind have: of those whose names end in the same word, three at least."""
    kinds: dict[str, list[str]] = {}
    for name in schemas:
        kinds.setdefault(re.findall(r"[A-Z][a-z]*", name)[-1], []).append(name)
    found = dict(schemas)
    for kind, names in kinds.items():
        counts = Counter(told for name in names for told in _read(schemas[name]).items())
        shared = {told for told, count in counts.items() if count > len(names) / 2}
        having = [schemas[name] for name in names if shared <= _read(schemas[name]).items()]
        if len(having) >= _OF_A_KIND and len(shared) >= _WORTH and f"Any{kind}" not in schemas:
            fields = having[0]["properties"]
            found[f"Any{kind}"] = {
                "description": f"What documents named {kind} have in common.",
                "properties": {field: fields[field] for field in sorted(field for field, _ in shared)},
                "required": having[0].get("required", []),
            }
    return found


def _bases(schemas: Json) -> dict[str, str]:
    """Of documents that have all that another one has, and more, the one that has most of it."""
    read = {name: _read(one) for name, one in schemas.items()}
    found = {}
    for name, fields in read.items():
        within = [
            other for other, few in read.items() if _WORTH <= len(few) < len(fields) and few.items() <= fields.items()
        ]
        if within:
            found[name] = max(within, key=lambda other: (len(read[other]), other))
    return found


def schemas_text(schemas: Json, twins: dict[str, str]) -> str:
    imports = "from typing import Any, Literal, NotRequired, TypeAlias\n\nfrom typing_extensions import TypedDict"
    known: set[str] = set()
    parts = [HEAD.format(says="The documents of the API: what is sent and what is answered.", imports=imports)]
    with_kinds = _with_kinds(schemas)
    uses = Counter(_bases(with_kinds).values())
    schemas = {name: one for name, one in with_kinds.items() if name in schemas or uses[name] >= _OF_A_KIND}
    bases = _bases(schemas)
    for name in _in_order(schemas, bases):
        base = bases.get(name, "")
        parts.append(_schema(name, schemas[name], known, (base, schemas[base]) if base in known else None))
        known.add(name)
    parts.append("\n".join(f"{name}: TypeAlias = {plain}" for name, plain in twins.items()))
    return "\n\n".join(parts) + "\n"


def _in_order(schemas: Json, bases: dict[str, str]) -> Iterator[str]:
    """The names, each after its base and those that it refers to where no circle forbids it."""
    begun: set[str] = set()

    def after(name: str) -> Iterator[str]:
        if name not in begun:
            begun.add(name)
            referred = re.findall(r'"#/components/schemas/(\w+)"', json.dumps(_fields(schemas[name])))
            for other in (*referred, *([bases[name]] if name in bases else [])):
                yield from after(other)
            yield name

    for name in sorted(schemas):
        yield from after(name)


def _fields(schema: Json) -> Json:
    """A schema without what is told of some of its values alone."""
    return {key: one for key, one in schema.items() if key not in ("if", "then", "else")}


def _schema(name: str, schema: Json, known: set[str], of: tuple[str, Json] | None) -> str:
    """`of`: a document that it has all of, which is not written again."""
    if not schema.get("properties"):
        alias = f"{name}: TypeAlias = {hint(schema)}"
        return f"{alias}\n{docstring(schema['description'], '')}" if schema.get("description") else alias
    required = set(schema.get("required", ()))

    def typed(field: str, told: Json) -> str:
        kind = hint(told)
        later = set(re.findall(r"\b[A-Z]\w+", re.sub(r'"[^"]*"', "", kind))) - known - {"Any", "Literal", "None"}
        kind = f'"{kind}"' if later else kind
        return kind if field in required else f"NotRequired[{kind}]"

    inherited = {} if of is None else of[1]["properties"]
    told = {field: one for field, one in schema["properties"].items() if field not in inherited}
    bases = [] if of is None else [of[0]]
    lines = []
    if odd := {field: one for field, one in told.items() if keyword.iskeyword(field)}:
        bases.insert(0, f"_{name}")
        entries = ", ".join(f"{quoted(field)}: {typed(field, one)}" for field, one in odd.items())
        lines.append(f'_{name} = TypedDict("_{name}", {{{entries}}})\n\n')
    lines.append(f"class {name}({', '.join(bases) or 'TypedDict'}):")
    lines += [docstring(schema["description"])] if schema.get("description") else []
    for field, one in told.items():
        if field not in odd:
            lines.append(f"    {field}: {typed(field, one)}")
            lines += [docstring(one["description"])] if one.get("description") else []
    return "\n".join(lines)
