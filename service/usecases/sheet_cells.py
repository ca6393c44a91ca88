"""The cells of a file of orders as values of a request: by the kind of their column."""

import re
from collections.abc import Callable
from typing import Any

from service.documents.amounts import AmountError, measure_in, number_in
from service.usecases.sheet_columns import WISHES

_ENTRIES = re.compile(r"\s*[,;]\s*")
_PARTS = re.compile(r"\s*:\s*")
_YES = {"true", "yes", "y", "1", "x", "ja", "oui"}
_NO = {"false", "no", "n", "0", "nein", "non"}
_PIECES = re.compile(
    r"(\d{1,9})(?:[.,]0{1,2})?\s*(?:x|pcs?\.?|pieces?|off|ea\.?|units?|stk\.?|st\u00fcck)?", re.IGNORECASE
)
_MEASURES = {"axial": "axial_mm", "across": "across_mm", "axial_mm": "axial_mm", "across_mm": "across_mm"}


class CellError(ValueError):
    """A cell that is no value of its column; says what would be right."""


def value_of(name: str, text: str) -> object:
    """The value of a cell; names, and money, which take a catalog, stay text. Raises CellError."""
    if name == "qty":
        return _pieces(text)
    if name in ("order", "key", "sku", "max_price"):
        return text
    schema = WISHES[name]
    try:
        return _BY_NAME[name](text) if name in _BY_NAME else _by_schema(name, schema, text)
    except AmountError as error:
        raise CellError(str(error)) from None


def _pieces(text: str) -> object:
    """A whole number; what is none stays text, for the request to tell."""
    found = _PIECES.fullmatch(text)
    if found is not None:
        return int(found[1])
    if re.fullmatch(r"[+-]?\d[\d.,' ]*", text):
        try:
            number = number_in(text)
        except AmountError as error:
            raise CellError(f"a whole number; {error}") from None
        return int(number) if number == int(number) else float(number)
    return text


def _by_schema(name: str, schema: dict[str, Any], text: str) -> object:
    kind = schema.get("type")
    if kind == "integer":
        return _pieces(text)
    if kind == "number":
        return measure_in(text, name)
    if kind == "boolean":
        return _yes(text)
    if kind == "array":
        return [_entry(schema["items"], one) for one in _ENTRIES.split(text) if one]
    return _object(schema, text) if kind == "object" else text


def _object(schema: dict[str, Any], text: str) -> object:
    """What has parts: each by its name, with commas between them, or all in the order of the document."""
    named = [_PARTS.split(one, maxsplit=1) for one in _ENTRIES.split(text) if one]
    fields = schema["properties"]
    if all(len(part) > 1 and part[0] in fields for part in named) and len({part[0] for part in named}) == len(named):
        return {name: _by_schema(name, fields[name], value) for name, value in named}
    return _entry(schema, text)


def _yes(text: str) -> bool:
    if text.casefold() in _YES | _NO:
        return text.casefold() in _YES
    raise CellError("yes or no")


def _entry(schema: dict[str, Any], text: str) -> object:
    """An entry of a list: text, or what has parts with colons between them, in the order of the document."""
    fields = schema.get("properties")
    if fields is None:
        return text
    parts = _PARTS.split(text)
    if not len(schema.get("required", fields)) <= len(parts) <= len(fields):
        raise CellError(f"{':'.join(fields)}, entries with commas between them")
    return {one: _by_schema(one, fields[one], part) for one, part in zip(fields, parts, strict=False)}


def _rooms(text: str) -> list[dict[str, object]]:
    rooms = []
    for entry in filter(None, _ENTRIES.split(text)):
        parts = _PARTS.split(entry)
        if len(parts) != 3 or parts[1] not in _MEASURES:
            raise CellError("SPOT:axial_mm:N or SPOT:across_mm:N, entries with commas between them")
        rooms.append({"spot": parts[0], _MEASURES[parts[1]]: measure_in(parts[2], _MEASURES[parts[1]])})
    return rooms


def _own_rail(text: str) -> dict[str, object]:
    spots: dict[str, object] = {}
    for entry in filter(None, _ENTRIES.split(text)):
        parts = _PARTS.split(entry)
        if len(parts) != 3 or parts[0] in spots:
            raise CellError("SPOT:STANDARD:END, each spot once, entries with commas between them")
        spots[parts[0]] = {"standard": parts[1], "end": parts[2]}
    return spots


_BY_NAME: dict[str, Callable[[str], object]] = {"clearances": _rooms, "own_rail": _own_rail}
