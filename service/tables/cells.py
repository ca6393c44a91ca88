"""The cells of tables: values of a catalog as what a spreadsheet shows, and back.

A text stands as it is. One that would not come back so (nothing, spaces at its ends, a quote at its beginning) stands
in quotes. Of a list the entries have semicolons between them, of a map each stands behind its name: `left = 12.5`.
"""

import re
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Any

from service.documents.amounts import AmountError
from service.documents.nearest import nearest
from service.documents.rendering import rendered
from service.tables.numbers import Habit, number_from
from service.tables.shape import Column, Scalar

Cell = str | int | float | bool | None
MOST_IN_CELL = 30_000
"""So many characters of a list stand in one cell, the rest in rows beneath: no workbook holds many more."""
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")
"""What begins with one of these, a spreadsheet may take for a formula where it is told no kind of a cell."""
_NOTHING_IN_IT = "[]"
_QUOTED = re.compile(r'\s*("(?:[^"]|"")*")[ \t]*(?:[;\n]|$)')
_BARE = re.compile(r"([^;\n]*)(?:[;\n]|$)")
_NAME = re.compile(r"\s*([^=;\n]{0,200})=")
_YES = {"true", "yes", "y", "1", "x", "ja", "oui", "wahr", "vrai"}
_NO = {"false", "no", "n", "0", "nein", "non", "falsch", "faux"}
_DATES = (date, datetime, time, timedelta)


class CellError(ValueError):
    """A cell that is no value of its column: what would be right, and the choices that are nearest."""

    def __init__(self, expected: str, near: tuple[str, ...] = ()) -> None:
        super().__init__(expected)
        self.expected = expected
        self.nearest = near


def told_cells(column: Column, value: Any) -> list[Cell]:
    """The cells that a value takes: one, or several beneath each other for a long list."""
    if value is None:
        return [None]
    match column.form:
        case "there":
            return [True]
        case "one":
            return [_quoted(value) if isinstance(value, str) else value]
        case "list":
            entries = [_entry(one) for one in ([value] if isinstance(value, str) else value)]
        case "map":
            entries = [f"{name} = {_entry(one)}" for name, one in value.items()]
    if not entries:
        return [_NOTHING_IN_IT if column.is_nullable else None]
    return list(_joined(entries))


def value_in(column: Column, cell: object, habit: Habit | None) -> Any:
    """The value of a cell that is not empty. Raises CellError."""
    match column.form:
        case "list":
            entries = [one for _, one in _split(cell, has_names=False)]
            return [_scalar(column.scalar, one, habit if len(entries) == 1 else ".") for one in entries]
        case "map":
            return _map(column, cell)
        case "there":
            return _flag(cell)
        case "one":
            return _scalar(column.scalar, cell, habit)


def is_empty(cell: object) -> bool:
    """Whether nothing stands in a cell."""
    return cell is None or (isinstance(cell, str) and not cell.strip())


def _map(column: Column, cell: object) -> dict[str, Any]:
    told: dict[str, Any] = {}
    for name, one in _split(cell, has_names=True):
        if name in told:
            raise CellError(f"each name once; {rendered(name)} stands twice")
        told[name] = _scalar(column.scalar, one, habit=".")
    return told


def _scalar(scalar: Scalar, cell: object, habit: Habit | None) -> Any:
    if isinstance(cell, _DATES):
        raise CellError(f"{_words(scalar)}, not a date: give the cell the format of text and write it anew")
    match scalar.kind:
        case "flag":
            return _flag(cell)
        case "text":
            return _choice(scalar, _text(cell))
    number = _number(scalar, cell, habit)
    if scalar.kind == "whole" and isinstance(number, float) and number.is_integer():
        number = int(number)
    if scalar.choices and number not in scalar.choices:
        raise CellError(_words(scalar))
    return number


def _number(scalar: Scalar, cell: object, habit: Habit | None) -> float | int:
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return cell
    if not isinstance(cell, str):
        raise CellError(_words(scalar))
    try:
        return number_from(_unquoted(cell), scalar.field, habit)
    except AmountError as error:
        told = str(error).removeprefix("a number")
        told = f"; it may be told{told[1:]}" if told.startswith(", in ") else told
        raise CellError(f"{_words(scalar)}{told}") from None


def _text(cell: object) -> str:
    if isinstance(cell, bool):
        raise CellError("a text: give the cell the format of text and write it anew")
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    return _unquoted(cell) if isinstance(cell, str) else str(cell)


def _choice(scalar: Scalar, text: str) -> str:
    if not scalar.choices or text in scalar.choices:
        return text
    known = [str(choice) for choice in scalar.choices]
    plain = text.casefold().replace(",", ".")  # 8.8 is a number to a spreadsheet that writes commas
    alike = [choice for choice in known if choice.casefold() == plain]
    if len(alike) == 1:
        return alike[0]
    raise CellError(_words(scalar), tuple(nearest(text, known)))


def _flag(cell: object) -> bool:
    if isinstance(cell, bool):
        return cell
    text = str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell).strip().casefold()
    if text in _YES | _NO:
        return text in _YES
    raise CellError("TRUE or FALSE")


def _words(scalar: Scalar) -> str:
    """What a value of this kind is, in words."""
    if scalar.choices:
        return f"one of: {', '.join(map(str, scalar.choices))}"
    words = {"text": "a text", "number": "a number", "whole": "a whole number", "flag": "TRUE or FALSE"}[scalar.kind]
    return f"{words} in {scalar.unit}" if scalar.unit else words


def _quoted(text: str) -> str:
    return in_quotes(text) if text != text.strip() or text.startswith('"') or not text else text


def in_quotes(text: str) -> str:
    """A text in quotes, those within it doubled."""
    return '"' + text.replace('"', '""') + '"'


def _unquoted(text: str) -> str:
    bare = text.strip()
    if len(bare) > 1 and bare[0] == bare[-1] == '"':
        return bare[1:-1].replace('""', '"')
    return bare


def _entry(value: Any) -> str:
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if not isinstance(value, str):
        return repr(value)
    has_signs = value.startswith(FORMULA_SIGNS) or any(sign in value for sign in ';\n"')
    return in_quotes(value) if has_signs or value == _NOTHING_IN_IT else _quoted(value)


def _joined(entries: list[str]) -> Iterator[str]:
    part: list[str] = []
    length = 0
    for entry in entries:
        if part and length + len(entry) > MOST_IN_CELL:
            yield "; ".join(part)
            part, length = [], 0
        part.append(entry)
        length += len(entry) + 2
    yield "; ".join(part)


def _split(cell: object, *, has_names: bool) -> Iterator[tuple[str, object]]:
    """Yield the entries of a cell with their names, as texts; one that is no text is the only one. Raises CellError."""
    if not isinstance(cell, str):
        if has_names:
            raise CellError("entries of a name and its value, such as `left = 12.5; right = 30`")
        yield "", cell
        return
    if cell.strip() == _NOTHING_IN_IT:
        return
    place, name = 0, ""
    while place < len(cell):
        begin = place
        named = _NAME.match(cell, place) if has_names else None
        if named is not None:
            place, name = named.end(), named[1].strip()
        found = _QUOTED.match(cell, place) or _BARE.match(cell, place)
        if found is None:  # it takes nothing as well, so it always finds something
            return
        place = max(found.end(), begin + 1)
        if has_names and named is None and found[1].strip():
            raise CellError("entries of a name and its value, such as `left = 12.5; right = 30`")
        if found[1].strip():
            yield name, found[1].strip()
