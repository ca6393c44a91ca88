"""The modules of the typed client that follow from the OpenAPI document: `schemas`, `operations` and `methods`.

Pure: the document in, the text of the modules out. Tests compare them with what stands in `service/client/`.
"""

import keyword
import re
from collections.abc import Iterator

from tests.support.client_schemas import HEAD, Json, docstring, hint, quoted, schemas_text, without_twins

ASKS = frozenset({"findBills", "explainPart", "readQuestion", "readOrder", "joinPorts"})
"""Posts that only ask, so that sending one twice does no more than sending it once."""

_NUMBER = r"[+-]?\d{1,15}(\.\d{1,15})?"
_ONE_OF_WORDS = re.compile(r"\^\(([a-z_|]+)\)\$")
_ELEMENTS = ("results", "questions", "revisions", "messages")
"""What the list in a page is called."""


def modules(document: Json) -> dict[str, str]:
    """The text of each module by its name, not formatted."""
    document, twins = without_twins(document)
    operations = [
        _Operation(document, path, method, told)
        for path, methods in document["paths"].items()
        for method, told in methods.items()
        if isinstance(told, dict)
    ]
    functions = [function for operation in operations for function in operation.functions()]
    return {
        "schemas": schemas_text(document["components"]["schemas"], twins),
        "operations": _operations([text for _, text in functions]),
        "methods": _methods([name for name, _ in functions]),
    }


def snake(name: str) -> str:
    """An operation id as the name of a function."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name).lower()


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
            kinds = ", ".join(map(quoted, content))
            return f"content: bytes, media_type: Literal[{kinds}]", "content=content, media_type=media_type"
        if lines := schema.get("contentSchema"):
            return f"lines: Iterable[{hint(lines, 's.')}]", f"content=as_lines(lines), media_type={quoted(media_type)}"
        if without:
            return f"body: s.{self._without(schema, without)}", "body=body"
        kind = f", media_type={quoted(media_type)}" if media_type != "application/json" else ""
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
            value = quoted(values[0])
            if len(values) > 1:
                optional.append(f"{field}: Literal[{', '.join(map(quoted, values))}] = {value}")
                value = field
            if sent:
                arguments = f"body={{**body, {quoted(field)}: {value}}}"
            else:
                params[field] = value
        elements = self._elements(answer)
        kind = f"Listed[{answer}, {elements[1]}]" if elements else f"Call[{answer}]"
        made = [quoted(self._method), self._called(), self._reader(answer), self._given("params", params), arguments]
        made += [self._given("headers", self._headers), *self._rest(elements)]
        signature = ", ".join([*required, *(["*"] if optional else []), *sorted(optional, key=lambda one: "=" in one)])
        says = self._told.get("summary", "")
        says = says if says.endswith((".", "?")) else f"{says}."
        more = self._told.get("description", "")
        call = f"{kind.partition('[')[0]}({', '.join(part for part in made if part)})"
        told = docstring(f"{says}\n\n{more}")
        return f"def {name}({signature}) -> {kind}:\n{told}\n    return {call}\n"

    def _called(self) -> str:
        path = self._path
        for name, python in self._segments.items():
            path = path.replace(f"{{{name}}}", f"{{segment({python})}}")
        return f'f"{path}"' if self._segments else quoted(path)

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
        entries = ", ".join(f"{quoted(name)}: {python}" for name, python in named.items())
        return f"{argument}=given({{{entries}}})"

    def _rest(self, elements: tuple[str, str] | None) -> Iterator[str]:
        if "Idempotency-Key" in self._headers:
            yield "repeatable=idempotency_key is not None"
        elif self._method != "GET" and self._told["operationId"] not in ASKS:
            yield "repeatable=False"
        if self._pending():
            yield "pending=True"
        if elements:
            yield f"elements={quoted(elements[0])}"


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
        return f"Literal[{', '.join(map(quoted, words[1].split('|')))}]"
    return "str | Sequence[str]" if "(," in pattern else hint(schema)


def _operations(functions: list[str]) -> str:
    imports = """from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Literal

from . import schemas as s
from .calls import Call, Listed, answer, answer_lines, as_lines, given, location, segment"""
    return "\n\n".join(
        [HEAD.format(says="Every operation of the API: a function that makes its call.", imports=imports), *functions]
    )


def _methods(names: list[str]) -> str:
    imports = "from . import operations\nfrom .method import Method"
    says = '    """The operations; what each takes and gives stands in `operations`."""\n'
    lines = [f"    {name} = Method(operations.{name})" for name in names]
    head = HEAD.format(says="Every operation as a method of both clients.", imports=imports)
    return "\n".join([head, "", "class Methods:", says, *lines, ""])
