"""Rows of a text that are a table: which column holds the quantities, told by a header or by all rows agreeing."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from service.reading import words
from service.reading.folding import folded, tokens_of
from service.reading.rows import Row

_APART = ("\t", ";", "|", ",", "  ")
_SPACES = re.compile(r"\s{2,}")
_WHOLE = re.compile(rf"(?:x\s*)?0?(\d{{1,4}})(?:[.,]0{{1,2}})?\s*(?:x|(?:{words.PIECES})\.?)?")
_RULE = re.compile(r"[\s|:+=\-_]+")
_LEAST_RUN = 3
"""So many rows must count up for a bare number to be their position."""
_LEAST_COLUMNS = 2


@dataclass(frozen=True, slots=True)
class Header:
    """A row that names columns. `quantities`: the places of those that hold quantities."""

    apart: str
    columns: int
    quantities: tuple[int, ...]


def cells_of(text: str, apart: str) -> list[str]:
    """The cells of a row without what frames it."""
    if apart == "  ":
        return [cell.strip() for cell in _SPACES.split(text.strip())]
    inner = text.strip(" ")
    if apart == "|" and inner.startswith("|"):
        inner = inner[1:].removesuffix("|")
    return [cell.strip().strip('"') for cell in inner.split(apart)]


def header_of(text: str) -> Header | None:
    """The header that a row is, None where it is none."""
    plain = folded(text)
    for apart in _APART:
        if apart not in plain:
            continue
        kinds = [_kind(cell) for cell in cells_of(plain, apart)]
        named = [kind for kind in kinds if kind]
        if len(named) >= _LEAST_COLUMNS and len(named) * 2 >= len(kinds) and ("part" in named or "quantity" in named):
            quantities = tuple(place for place, kind in enumerate(kinds) if kind == "quantity")
            return Header(apart, len(kinds), quantities)
    return None


def _kind(cell: str) -> str:
    found = [token.text for token in tokens_of(cell)]
    if not found or len(found) > _LEAST_RUN:
        return ""
    if any(word in words.NO_QUANTITY_HEADERS for word in found):
        return "other"
    if any(word in words.QUANTITY_HEADERS for word in found) or "".join(found) == "qty":
        return "quantity"
    if any(word in words.PART_HEADERS for word in found):
        return "part"
    return "other" if any(word in words.OTHER_HEADERS for word in found) else ""


def is_rule(text: str) -> bool:
    """Whether a row is but a line drawn under a header."""
    return bool(_RULE.fullmatch(text)) and any(sign in text for sign in "-=_")


def residue_of(row: Row) -> str:
    """A row's text with each part as one sign, so that a name's own commas part no cells."""
    return "".join(piece.text for piece in row.pieces)


def counted_by(header: Header, row: Row) -> tuple[int, ...] | None:
    """The quantities that the columns of a header tell for a row: one, or none or several, which is doubtful.

    None: the row is no row of that table.
    """
    cells = cells_of(residue_of(row), header.apart)
    if len(cells) != header.columns:
        return None if len(cells) == 1 else ()
    told = [cells[place] for place in header.quantities]
    found = [_WHOLE.fullmatch(cell) for cell in told if cell]
    if not all(found):
        return ()
    return tuple(int(x[1]) for x in found if x and 1 <= int(x[1]) <= words.MOST_QTY)


def agreed(rows: Sequence[tuple[int, Row]]) -> dict[int, int]:
    """For rows that all have the same numbers before and behind their part: the quantity of each, by its place.

    `rows`: those that name one part, with their places in the text. A number that counts the rows is a position.
    """
    told: dict[int, int] = {}
    for _, run in groupby(enumerate(rows), key=lambda at: (at[1][0] - at[0], _shape(at[1][1]))):
        members = [row for _, row in run]
        shape = _shape(members[0][1])
        if shape is not None:
            told |= _of_run(members)
    return told


def _shape(row: Row) -> tuple[int, ...] | None:
    """Which of a row's pieces are numbers: one that may be a position before the part, and one more."""
    numbers = _numbers(row)
    if len(row.mentions) != 1 or len(numbers) != _LEAST_COLUMNS:
        return None
    places = [place for place, _ in numbers]
    part = next(place for place, piece in enumerate(row.pieces) if piece.kind == "part")
    return (int(places[0] < part), int(places[1] < part)) if places[0] == _first(row) else None


def _first(row: Row) -> int:
    return next((place for place, piece in enumerate(row.pieces) if piece.kind != "sign"), 0)


def _numbers(row: Row) -> list[tuple[int, int]]:
    return [(place, x.value) for place, x in enumerate(row.pieces) if x.is_quantity or x.form == "counter"]


def _of_run(rows: Sequence[tuple[int, Row]]) -> dict[int, int]:
    firsts = [_numbers(row)[0][1] for _, row in rows]
    seconds = [_numbers(row)[1][1] for _, row in rows]
    if not _counts(firsts) or _counts(seconds):
        return {}
    return {place: second for (place, _), second in zip(rows, seconds, strict=True)}


def _counts(numbers: Sequence[int]) -> bool:
    """Whether numbers count up by ones or by tens, so that they are positions."""
    step = numbers[0] if numbers[0] in (1, 10, 100) else 0
    return len(numbers) >= _LEAST_RUN and step > 0 and list(numbers) == [step * i for i in range(1, len(numbers) + 1)]


def positions(rows: Sequence[tuple[int, Row]]) -> dict[int, bool]:
    """Rows whose only number counts them: True where it is written as a position, False where it may be a quantity."""
    told: dict[int, bool] = {}
    for _, run in groupby(enumerate(rows), key=lambda at: (at[1][0] - at[0], _form_of_only(at[1][1]))):
        members = [row for _, row in run]
        form = _form_of_only(members[0][1])
        if form in ("counter", "plain", "bracketed") and _counts([_numbers(row)[0][1] for _, row in members]):
            told |= {place: form == "counter" for place, _ in members}
    return told


def _form_of_only(row: Row) -> str:
    numbers = _numbers(row)
    return row.pieces[numbers[0][0]].form if len(numbers) == 1 and numbers[0][0] == _first(row) else ""
