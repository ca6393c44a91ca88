"""Values of an arriving document, shown short and safe: no long text, no surrogate, no control character."""

import math
from collections.abc import Iterator, Mapping, Sequence

LIMIT = 60
_ELEMENTS = 3
_DEPTH = 2
_INTEGER_BITS = 200
_DIGITS_PER_BIT = 0.30103


def printable(text: str, limit: int = LIMIT) -> str:
    """Cut `text` to `limit` characters and escape what does not print (controls, lone surrogates)."""
    cut = text if len(text) <= limit else text[: limit - 1] + "…"
    if cut.isprintable():
        return cut
    return "".join(letter if letter.isprintable() else f"\\u{ord(letter):04x}" for letter in cut)


def rendered(value: object) -> str:
    """Show a JSON value in at most about 60 characters, in JSON's own notation where it fits."""
    return printable(_rendered(value, _DEPTH))


def _rendered(value: object, depth: int) -> str:
    match value:
        case None:
            return "null"
        case bool():
            return "true" if value else "false"
        case int():
            return _rendered_integer(value)
        case float():
            return _rendered_float(value)
        case str():
            return _quoted(value)
        case Mapping():
            members = (f"{_quoted(str(key))}: {_rendered(member, depth - 1)}" for key, member in value.items())
            return "{" + _joined(members, len(value), depth) + "}"
        case Sequence():
            return "[" + _joined((_rendered(element, depth - 1) for element in value), len(value), depth) + "]"
        case _:
            return type(value).__name__


def _joined(parts: Iterator[str], count: int, depth: int) -> str:
    if count == 0:
        return ""
    if depth == 0:
        return "…"
    shown = [part for part, _ in zip(parts, range(_ELEMENTS), strict=False)]
    return ", ".join(shown) + (", …" if count > _ELEMENTS else "")


def _quoted(text: str) -> str:
    cut = text if len(text) <= LIMIT - 2 else text[: LIMIT - 3] + "…"
    return '"' + cut.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _rendered_integer(value: int) -> str:
    # Python refuses to write integers past some thousand digits, and nobody wants to read them.
    if value.bit_length() > _INTEGER_BITS:
        return f"an integer of about {round(value.bit_length() * _DIGITS_PER_BIT)} digits"
    return str(value)


def _rendered_float(value: float) -> str:
    if math.isnan(value):
        return "NaN"
    return {math.inf: "Infinity", -math.inf: "-Infinity"}.get(value) or repr(value)
