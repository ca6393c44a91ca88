"""JSON taken strictly: what is not JSON, and what is but must be refused, each told with its place.

The standard parser lets NaN, overflowing numbers, doubled keys and lone surrogates through, and fails on deep
nesting and long integers with errors of other kinds. Here all of them are a `JsonError`.
"""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass

from service.documents.pointers import pointer_to
from service.documents.rendering import printable, rendered

MAX_DEPTH = 64
MAX_DIGITS = 40

_TOKEN = re.compile(
    r'"(?:[^"\\]|\\.)*+"?|[\[\]{}]|-?(?P<digits>[0-9]+)(?P<rest>(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?)', re.DOTALL
)
"""A text is taken whole or to the end, and never given back: so every sign is looked at once."""
_SYNTAX = {
    "Expecting value": "a value is missing or is no JSON value",
    "Expecting property name enclosed in double quotes": "a key in double quotes is missing",
    "Expecting ':' delimiter": "the colon after a key is missing",
    "Expecting ',' delimiter": "a comma or a closing bracket is missing",
    "Extra data": "something follows after the end of the value",
    "Unterminated string starting at": "the text that starts here does not end",
    "Invalid control character at": "a control character stands unescaped in a text",
    "Invalid \\escape": "a backslash is followed by a letter that JSON does not know",
    "Invalid \\uXXXX escape": "\\u must be followed by four hexadecimal digits",
    "Illegal trailing comma": "a comma stands before a closing bracket",
}


class JsonError(ValueError):
    """Raised for a body that is not taken: `pointer` tells where, `found` what, `expected` what is right."""

    def __init__(self, message: str, *, pointer: str, found: str, expected: str) -> None:
        super().__init__(message)
        self.pointer = pointer
        self.found = found
        self.expected = expected


class MalformedJsonError(JsonError):
    """Raised for a body that is not JSON, or nests or counts too far; `line` and `column` count from 1."""

    def __init__(self, reason: str, line: int, column: int) -> None:
        found = f"{reason} (line {line}, column {column})"
        super().__init__(f"not JSON: {found}", pointer="", found=found, expected="JSON in UTF-8")
        self.line = line
        self.column = column


class InvalidJsonError(JsonError):
    """Raised for JSON that parses but whose meaning is not certain."""

    def __init__(self, pointer: str, found: str, expected: str) -> None:
        message = f"at {printable(pointer) or 'the top'}: found {found}, expected {expected}"
        super().__init__(message, pointer=pointer, found=found, expected=expected)


def loads(raw: bytes | str, most_members: int | None = None) -> object:
    """Parse one JSON value, in time that grows with its length. `most_members`: of each object; None is no limit.

    Raises:
        MalformedJsonError: syntax, bad UTF-8, nesting past 64 levels, an integer of more than 40 digits.
        InvalidJsonError: NaN or infinities, a number too large for a double, a key twice in one object,
            a lone surrogate in a key or text, an object with too many members.
    """
    text = _decoded(raw)
    flaws: list[_Flaw] = []
    value = _parsed(text, flaws, most_members)
    if text.count("[") + text.count("{") > MAX_DEPTH and _nests_deeper(value):
        raise _too_deep(text)
    if flaws or not _carried_by_utf8(json.dumps(value, ensure_ascii=False) if "\\u" in text else text):
        for pointer, flaw in _flaws_within(value):
            raise InvalidJsonError(pointer, flaw.found, flaw.expected)
    return value


@dataclass(frozen=True)
class _Flaw:
    """Stands in the parsed value where something must be refused; `key` is the doubled key of an object."""

    found: str
    expected: str
    key: str | None = None


class _LongIntegerError(Exception):
    """Raised inside the parser, which does not tell where it is."""


def _decoded(raw: bytes | str) -> str:
    if isinstance(raw, str):
        return raw
    try:
        return raw.removeprefix(b"\xef\xbb\xbf").decode("utf-8")
    except UnicodeDecodeError as error:
        before = error.object[: error.start].decode("utf-8", "replace")
        raise MalformedJsonError("bytes that are not UTF-8", *_line_and_column(before, len(before))) from None


def _parsed(text: str, flaws: list[_Flaw], most_members: int | None) -> object:
    def flawed(flaw: _Flaw) -> _Flaw:
        flaws.append(flaw)
        return flaw

    def constant(name: str) -> object:
        return flawed(_Flaw(name, "a finite number: JSON has no NaN and no infinities"))

    def real(digits: str) -> object:
        number = float(digits)
        if number in (float("inf"), float("-inf")):
            return flawed(_Flaw(printable(digits), "a number that a double can hold, below 1.8e308"))
        return number

    def members(pairs: list[tuple[str, object]]) -> object:
        if most_members is not None and len(pairs) > most_members:
            return flawed(_Flaw(f"an object of {len(pairs)} members", f"an object of at most {most_members} members"))
        taken = dict(pairs)
        return taken if len(taken) == len(pairs) else flawed(_doubled_key(pairs))

    try:
        return json.loads(
            text, object_pairs_hook=members, parse_int=_integer, parse_float=real, parse_constant=constant
        )
    except json.JSONDecodeError as error:
        raise MalformedJsonError(_syntax_reason(text, error), error.lineno, error.colno) from None
    except _LongIntegerError:
        raise _too_long_an_integer(text) from None
    except RecursionError:
        raise _too_deep(text) from None


def _integer(digits: str) -> int:
    if len(digits.lstrip("-")) > MAX_DIGITS:
        raise _LongIntegerError
    return int(digits)


def _doubled_key(pairs: list[tuple[str, object]]) -> _Flaw:
    seen: set[str] = set()
    for key, _ in pairs:
        if key in seen:
            return _Flaw(f"the key {rendered(key)} more than once", "each key once in an object", key)
        seen.add(key)
    raise AssertionError("called for an object without a doubled key")


def _syntax_reason(text: str, error: json.JSONDecodeError) -> str:
    if not text or text.isspace():
        return "nothing at all"
    known = (words for start, words in _SYNTAX.items() if error.msg.startswith(start))
    return next(known, printable(error.msg))


def _nests_deeper(value: object) -> bool:
    level = [value] if isinstance(value, (dict, list)) else []
    for _ in range(MAX_DEPTH):
        level = [
            member
            for outer in level
            for member in (outer.values() if isinstance(outer, dict) else outer)
            if isinstance(member, (dict, list))
        ]
    return bool(level)


def _too_deep(text: str) -> MalformedJsonError:
    depth = 0
    offset = 0
    for token in _TOKEN.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token[0], 0)
        if depth > MAX_DEPTH:
            offset = token.start()
            break
    return MalformedJsonError(f"nesting deeper than {MAX_DEPTH} levels", *_line_and_column(text, offset))


def _too_long_an_integer(text: str) -> MalformedJsonError:
    long = (token.start() for token in _TOKEN.finditer(text) if _is_long_integer(token))
    place = _line_and_column(text, next(long, 0))
    return MalformedJsonError(f"an integer of more than {MAX_DIGITS} digits", *place)


def _is_long_integer(token: re.Match[str]) -> bool:
    return token["rest"] == "" and len(token["digits"]) > MAX_DIGITS


def _line_and_column(text: str, offset: int) -> tuple[int, int]:
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)


def _carried_by_utf8(text: str) -> bool:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _flaws_within(root: object) -> Iterator[tuple[str, _Flaw]]:
    """Yield each flaw with its pointer, in document order."""
    stack: list[tuple[tuple[str | int, ...], object]] = [((), root)]
    while stack:
        path, value = stack.pop()
        if isinstance(value, _Flaw):
            yield pointer_to(path if value.key is None else (*path, value.key)), value
        elif isinstance(value, str) and not _carried_by_utf8(value):
            yield pointer_to(path), _surrogate(value)
        elif isinstance(value, list):
            stack.extend(((*path, index), element) for index, element in reversed(list(enumerate(value))))
        elif isinstance(value, dict):
            for key in value:
                if not _carried_by_utf8(key):
                    yield pointer_to((*path, key)), _surrogate(key)
            stack.extend(((*path, key), member) for key, member in reversed(value.items()))


def _surrogate(text: str) -> _Flaw:
    return _Flaw(f"a lone surrogate in {rendered(text)}", "text of whole Unicode characters")
