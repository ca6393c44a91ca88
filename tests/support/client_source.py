"""The modules of the typed client that follow from the OpenAPI document: `schemas`, `operations` and `methods`.

Pure: the document in, the text of the modules out. Tests compare them with what stands in `service/client/`.
"""

import json
import keyword
import re
import textwrap
from collections import Counter
from collections.abc import Iterator
from typing import Any

Json = dict[str, Any]

ASKS = frozenset({"findBills", "explainPart", "readQuestion", "readOrder", "joinPorts"})
"""Posts that only ask, so that sending one twice does no more than sending it once."""

_WIDTH = 112
_NUMBER = r"[+-]?\d{1,15}(\.\d{1,15})?"
_PLAIN = {"string": "str", "number": "float", "integer": "int", "boolean": "bool", "null": "None"}
_ONE_OF_WORDS = re.compile(r"\^\(([a-z_|]+)\)\$")
_WORTH = 4
"""So many fields at least are not written again."""
_OF_A_KIND = 3
_ELEMENTS = ("results", "questions", "revisions", "messages")
"""What the list in a page is called."""
_HEAD = '"""{says}\n\nMade from the OpenAPI document; tests/support/client_source.py says how.\n"""\n\n{imports}\n'


def modules(document: Json) -> dict[str, str]:
    """The text of each module by its name, not formatted."""
    document, twins = _without_twins(document)
    operations = [
        _Operation(document, path, method, told)
        for path, methods in document["paths"].items()
        for method, told in methods.items()
        if isinstance(told, dict)
    ]
    functions = [function for operation in operations for function in operation.functions()]
    return {
        "schemas": _schemas(document["components"]["schemas"], twins),
        "operations": _operations([text for _, text in functions]),
        "methods": _methods([name for name, _ in functions]),
    }


def snake(name: str) -> str:
    """An operation id as the name of a function."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name).lower()


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
        return f"Literal[{', '.join(map(_quoted, values))}]"
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


def _quoted(value: object) -> str:
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(value)


def _docstring(text: str, indent: str = "    ") -> str:
    paragraphs = [part for part in re.split(r"\n\s*\n", text.strip()) if part.strip()]
    lines = ["\n".join(textwrap.wrap(" ".join(part.split()), _WIDTH - len(indent))) for part in paragraphs]
    told = "\n\n".join(lines).replace("\\", "\\\\").replace('""', '"\\"')
    told = f'{told[:-1]}\\"' if told.endswith('"') and not told.endswith('\\"') else told
    end = "\n" if "\n" in told else ""
    return textwrap.indent(f'"""{told}{end}"""', indent, lambda line: bool(line.strip()))


def _without_twins(document: Json) -> tuple[Json, dict[str, str]]:
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


def _schemas(schemas: Json, twins: dict[str, str]) -> str:
    imports = "from typing import Any, Literal, NotRequired, TypeAlias\n\nfrom typing_extensions import TypedDict"
    known: set[str] = set()
    parts = [_HEAD.format(says="The documents of the API: what is sent and what is answered.", imports=imports)]
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
        return f"{alias}\n{_docstring(schema['description'], '')}" if schema.get("description") else alias
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
        entries = ", ".join(f"{_quoted(field)}: {typed(field, one)}" for field, one in odd.items())
        lines.append(f'_{name} = TypedDict("_{name}", {{{entries}}})\n\n')
    lines.append(f"class {name}({', '.join(bases) or 'TypedDict'}):")
    lines += [_docstring(schema["description"])] if schema.get("description") else []
    for field, one in told.items():
        if field not in odd:
            lines.append(f"    {field}: {typed(field, one)}")
            lines += [_docstring(one["description"])] if one.get("description") else []
    return "\n".join(lines)


class _Operation:
    """An operation of the document, and the functions that make its calls."""

    def __init__(self, document: Json, path: str, method: str, told: Json) -> None:
        self._schemas = document["components"]["schemas"]
        self._path, self._method, self._told = path, method.upper(), told
        self._required: list[str] = []
        self._optional: list[str] = []
        self._params: dict[str, str] = {}
        self._headers: dict[str, str] = {}
        self._further: list[str] = []
        self._reads_path()
        self._reads_parameters()

    def functions(self) -> Iterator[tuple[str, str]]:
        """Each function with its name; two where brief answers have a form of their own."""
        name = snake(self._told["operationId"])
        variants = self._variants()
        if not variants:
            body = self._body()
            yield name, self._text(name, self._answer(), body)
            return
        field, kinds = variants
        for kind, values in kinds.items():
            brief = values == ["brief"]
            of_kind = f"{name}_in_brief" if brief else name
            yield of_kind, self._text(of_kind, f"s.{kind}", self._body(field), (field, values))

    def _reads_path(self) -> None:
        self._segments: dict[str, str] = {}
        before = ""
        for segment in self._path.split("/"):
            if segment.startswith("{"):
                self._segments[segment[1:-1]] = _name_of(segment[1:-1], before)
            else:
                before = segment
        self._required += [f"{name}: str" for name in self._segments.values()]

    def _reads_parameters(self) -> None:
        for one in self._told.get("parameters", ()):
            name, place = one["name"], one["in"]
            if place == "path" or (name == "If-None-Match" and self._method == "GET"):
                continue
            python = _name_of(name.replace("-", "_").lower(), "")
            kind = _asked(one["schema"])
            told = f"{python}: {kind}" if one.get("required") else f"{python}: {kind} | None = None"
            self._optional.append(told)
            (self._params if place == "query" else self._headers)[name] = python

    def _body(self, without: str = "") -> tuple[str, str]:
        """The parameters of the body, and the arguments of the call."""
        content = self._told.get("requestBody", {}).get("content", {})
        if not content:
            return "", ""
        media_type, told = next(iter(content.items()))
        schema = told["schema"]
        if schema.get("format") == "binary":
            kinds = ", ".join(map(_quoted, content))
            return f"content: bytes, media_type: Literal[{kinds}]", "content=content, media_type=media_type"
        if lines := schema.get("contentSchema"):
            return f"lines: Iterable[{hint(lines, 's.')}]", f"content=as_lines(lines), media_type={_quoted(media_type)}"
        if without:
            return f"body: s.{self._without(schema, without)}", "body=body"
        kind = f", media_type={_quoted(media_type)}" if media_type != "application/json" else ""
        sent = hint(schema, "s.")
        return f"body: {'Mapping[str, Any]' if sent.startswith('dict') else sent}", f"body=body{kind}"

    def _without(self, schema: Json, field: str) -> str:
        """The name of the document that has the same fields but one."""
        whole = self._schemas[schema["$ref"].rpartition("/")[2]]["properties"]
        wanted = whole.keys() - {field}
        return next(name for name, one in self._schemas.items() if one.get("properties", {}).keys() == wanted)

    def _successes(self) -> dict[str, Json]:
        return {status: one for status, one in self._told["responses"].items() if status < "300"}

    def _pending(self) -> bool:
        return len(self._successes()) > 1 and "202" in self._successes()

    def _statuses(self) -> list[int]:
        pending = ["202"] if self._pending() else []
        return sorted(int(status) for status in self._successes() if status not in pending)

    def _schema(self) -> Json:
        told = next(one for status, one in self._successes().items() if int(status) in self._statuses())
        media_type, content = next(iter(told["content"].items()))
        return {**content["schema"], "media_type": media_type}

    def _variants(self) -> tuple[str, dict[str, list[str]]] | None:
        """The field by which the answers differ, with its values for each form of answer; None: there is one form."""
        if not self._successes() or "discriminator" not in (schema := self._schema()):
            return None
        kinds: dict[str, list[str]] = {}
        for value, target in schema["discriminator"]["mapping"].items():
            kinds.setdefault(target.rpartition("/")[2], []).append(value)
        return schema["discriminator"]["propertyName"], kinds

    def _answer(self) -> str:
        if not self._successes():
            return "str"
        schema = self._schema()
        if lines := schema.get("contentSchema"):
            return f"list[{hint(lines, 's.')}]"
        return hint(schema, "s.")

    def _elements(self, answer: str) -> tuple[str, str] | None:
        """The list in a page, and what is in it; None: the answer is no page."""
        fields = self._schemas.get(answer.removeprefix("s."), {}).get("properties", {})
        if "next" not in fields or self._method != "GET":
            return None
        name = next(name for name in _ELEMENTS if name in fields)
        return name, hint(fields[name]["items"], "s.")

    def _text(self, name: str, answer: str, body: tuple[str, str], variant: tuple[str, list[str]] | None = None) -> str:
        sent, arguments = body
        required = [*self._required, *([sent] if sent else [])]
        optional = list(self._optional)
        params = dict(self._params)
        if variant:
            field, values = variant
            optional = [one for one in optional if not one.startswith(f"{field}:")]
            value = _quoted(values[0])
            if len(values) > 1:
                optional.append(f"{field}: Literal[{', '.join(map(_quoted, values))}] = {value}")
                value = field
            if sent:
                arguments = f"body={{**body, {_quoted(field)}: {value}}}"
            else:
                params[field] = value
        elements = self._elements(answer)
        kind = f"Listed[{answer}, {elements[1]}]" if elements else f"Call[{answer}]"
        made = [_quoted(self._method), self._called(), self._reader(answer), self._given("params", params), arguments]
        made += [self._given("headers", self._headers), *self._rest(elements)]
        signature = ", ".join([*required, *(["*"] if optional else []), *sorted(optional, key=lambda one: "=" in one)])
        says = self._told.get("summary", "")
        says = says if says.endswith((".", "?")) else f"{says}."
        more = self._told.get("description", "")
        call = f"{kind.partition('[')[0]}({', '.join(part for part in made if part)})"
        told = _docstring(f"{says}\n\n{more}")
        return f"def {name}({signature}) -> {kind}:\n{told}\n    return {call}\n"

    def _called(self) -> str:
        path = self._path
        for name, python in self._segments.items():
            path = path.replace(f"{{{name}}}", f"{{segment({python})}}")
        return f'f"{path}"' if self._segments else _quoted(path)

    def _reader(self, answer: str) -> str:
        if not self._successes():
            return "location"
        statuses = "".join(f", {status}" for status in self._statuses() if self._statuses() != [200])
        if "contentSchema" in self._schema():
            return f"answer_lines({answer.removeprefix('list[').removesuffix(']')})"
        return f"answer({answer}{statuses})"

    @staticmethod
    def _given(argument: str, named: dict[str, str]) -> str:
        if not named:
            return ""
        entries = ", ".join(f"{_quoted(name)}: {python}" for name, python in named.items())
        return f"{argument}=given({{{entries}}})"

    def _rest(self, elements: tuple[str, str] | None) -> Iterator[str]:
        if "Idempotency-Key" in self._headers:
            yield "repeatable=idempotency_key is not None"
        elif self._method != "GET" and self._told["operationId"] not in ASKS:
            yield "repeatable=False"
        if self._pending():
            yield "pending=True"
        if elements:
            yield f"elements={_quoted(elements[0])}"


def _name_of(parameter: str, before: str) -> str:
    """The name of a parameter: an id is that of what stands before it in the path."""
    if parameter == "id":
        thing = before.replace("-", "_")
        single = thing.removesuffix("ies") + "y" if thing.endswith("ies") else thing
        return f"{single if single.endswith(('ss', 'is')) else single.removesuffix('s')}_id"
    return f"{parameter}_" if keyword.iskeyword(parameter) else parameter


def _asked(schema: Json) -> str:
    """The type of a parameter; what is text in an address may be a number, a yes or no, or a list."""
    pattern = schema.get("pattern", "")
    if pattern == "^(true|false)$":
        return "bool"
    if pattern == f"^{_NUMBER}$":
        return "float"
    if re.fullmatch(r"\^\\d\{1,\d+\}\$", pattern):
        return "int"
    if words := _ONE_OF_WORDS.fullmatch(pattern):
        return f"Literal[{', '.join(map(_quoted, words[1].split('|')))}]"
    return "str | Sequence[str]" if "(," in pattern else hint(schema)


def _operations(functions: list[str]) -> str:
    imports = """from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Literal

from . import schemas as s
from .calls import Call, Listed, answer, answer_lines, as_lines, given, location, segment"""
    return "\n\n".join(
        [_HEAD.format(says="Every operation of the API: a function that makes its call.", imports=imports), *functions]
    )


def _methods(names: list[str]) -> str:
    imports = "from . import operations\nfrom .method import Method"
    says = '    """The operations; what each takes and gives stands in `operations`."""\n'
    lines = [f"    {name} = Method(operations.{name})" for name in names]
    head = _HEAD.format(says="Every operation as a method of both clients.", imports=imports)
    return "\n".join([head, "", "class Methods:", says, *lines, ""])
