"""Rows of a text that are a table: which column holds the quantities, told by a header or by all rows agreeing."""

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from service.reading import courtesies, headers, words
from service.reading.amounts import FIRST_PART
from service.reading.folding import folded, singular, tokens_of
from service.reading.row import Row

_APART = ("\t", ";", "|", " / ", ",", "  ")
_CELLED = ("\t", ";", "|")
_SPACES = re.compile(r"\s{2,}")
_WHOLE = re.compile(rf"(?:x\s*)?0?(\d{{1,4}})(?:[.,]0{{1,2}})?\s*(?:x|(?:{words.PIECES})\.?)?")
_PACKED = re.compile(rf"\b(?:{'|'.join(sorted(words.SETS | headers.PACK_UNITS))})\b")
_CELL = re.compile(r"\S+(?: \S+)*")
_WORD = re.compile(r"(?i:(?:pack(?:ing)?|unit|part|on|lot)\s\S+)|\S+")
"""A name of a column, of a word or of two that belong together."""
_RULE = re.compile(r"[\s|:+=\-_]+")
_DAY = re.compile(
    rf"(?i:\d{{1,4}}[./\-]\d{{1,2}}(?:[./\-]\d{{2,4}})?\.?|\d{{1,2}}\.?\s(?:{words.MONTHS})\b\.?(?:\s\d{{2,4}})?|(?:{words.MONTHS})\s\d{{1,2}})"
)
_PRICE = re.compile(r"\d+[.,]\d\d")
_MOST_OF_NAME = 3
"""Words that name one column."""
_LEAST_COLUMNS = 2


@dataclass(frozen=True, slots=True)
class Header:
    """A row that names columns. `quantities`, `parts`, `notes`: the places of those that hold them; `unnamed`: of
    those that hold who knows what beside parts and quantities.

    `others`: of those that hold prices, dates and the like; `is_denied`: whether its parts or its quantities are said
    to be none that are ordered; `packs`: the places of those that tell of how many pieces one is; `text`: the row as it
    is written;
    `is_crowded`: whether a word for quantities may head a column there or not.
    """

    apart: str
    columns: int
    quantities: tuple[int, ...]
    parts: tuple[int, ...]
    notes: tuple[int, ...] = ()
    unnamed: tuple[int, ...] = ()
    is_denied: bool = False
    packs: tuple[int, ...] = ()
    text: str = ""
    is_crowded: bool = False
    others: tuple[int, ...] = ()


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
        cells = cells_of(plain, apart)
        kinds = _kinds(cells)
        if _are_columns(cells, kinds, apart):
            return replace(
                _named(cells, kinds, apart), text=text, is_crowded=apart == "  " and any(map(_is_crowded, cells))
            )
    return None


def _named(cells: Sequence[str], kinds: Sequence[str], apart: str) -> Header:
    """The header whose columns are called so, and are of these kinds."""
    quantities, parts = _places(kinds, "quantity"), _places(kinds, "part")
    is_denied = ("denied" in kinds and not (quantities and parts)) or any(map(_tells_delivery, cells))
    unnamed = _places(kinds, "") if quantities and parts else ()
    notes, packs = _places(kinds, "note"), _places(kinds, "pack")
    others = tuple(place for place in _places(kinds, "other") if not _tells_kind(cells[place]))
    return Header(apart, len(kinds), quantities, parts, notes, unnamed, is_denied, packs, others=others)


def _tells_kind(cell: str) -> bool:
    """Whether a cell heads a column of what tells parts from their like."""
    return not headers.KIND_HEADERS.isdisjoint(token.text for token in tokens_of(cell))


def fitted(header: Header, text: str) -> Header:
    """A header as a row has its cells, where spaces part them: each name heads the cell that it stands over.

    A row with as many cells has none empty. Where a name stands over nothing and a cell under none, nothing is known of
    quantities.
    """
    spans = [found.span() for found in _CELL.finditer(text)]
    if header.apart != "  " or len(spans) in (1, header.columns):
        return header
    over: list[list[str]] = [[] for _ in spans]
    lost: list[str] = []
    for name, begin, end in _names(header.text, spans):
        apart = [max(start - end, begin - last) for start, last in spans]
        (over[apart.index(min(apart))] if min(apart) <= 0 else lost).append(name)
    cells = [" ".join(names) for names in over]
    made = _named(cells, _kinds(cells), "  ")
    is_known = not lost or all(over)
    return replace(made, text=header.text, quantities=made.quantities if is_known else ())


def _names(text: str, spans: Sequence[tuple[int, int]]) -> Iterator[tuple[str, int, int]]:
    """The names of the columns of a header that spaces part, with where they stand: words one space apart are several
    where they stand over several cells."""
    for cell in _CELL.finditer(text):
        is_one = sum(start < cell.end() and cell.start() < last for start, last in spans) <= 1
        yield from (
            (folded(one[0]), *one.span()) for one in ((cell,) if is_one else _WORD.finditer(text, *cell.span()))
        )


def _is_crowded(cell: str) -> bool:
    """Whether a word for quantities stands with words for something else, so that it may head a column of its own."""
    return _kind(cell) != "quantity" and any(_kind(word) == "quantity" for word in cell.split())


def _tells_delivery(cell: str) -> bool:
    """Whether a cell heads a column of what came, or is still to come."""
    told = {token.text for token in tokens_of(cell)} - headers.QUANTITY_HEADERS - {"to"}
    return bool(told) and (told <= headers.DELIVERY_HEADERS or "".join(sorted(told)) in headers.DELIVERY_HEADERS)


def _are_columns(cells: Sequence[str], kinds: Sequence[str], apart: str) -> bool:
    """Whether cells name columns: most by words for columns, or one by such a word and all by a word or two."""
    named = [kind for kind in kinds if kind]
    if ("part" not in named and "quantity" not in named) or any(":" in cell.rstrip(": ") for cell in cells):
        return False
    if len(named) >= _LEAST_COLUMNS:
        return len(named) * 2 >= len(kinds)
    return len(cells) >= _LEAST_COLUMNS and all(_may_head(cell, apart) for cell in cells)


def _may_head(cell: str, apart: str) -> bool:
    """Whether a cell may be the name of any column."""
    found = [token.text for token in tokens_of(cell)]
    is_short = 1 <= len(found) <= _LEAST_COLUMNS and cell[-1:] not in (":", ".", "!", "?")
    said = courtesies.GREETINGS if apart in _CELLED else courtesies.GREETINGS | courtesies.OF_SENTENCES
    return is_short and not any(x[0].isdigit() or x in said for x in found)


def _places(kinds: Sequence[str], wanted: str) -> tuple[int, ...]:
    return tuple(place for place, kind in enumerate(kinds) if kind == wanted)


def _kinds(cells: Sequence[str]) -> list[str]:
    """What each cell heads: "order" a quantity, where it stands beside what there is of it."""
    kinds = [_kind(cell) for cell in cells]
    told = [{token.text for token in tokens_of(cell)} for cell in cells]
    if "quantity" in kinds:
        return kinds
    is_beside_stock = any(not headers.STOCK_HEADERS.isdisjoint(one) for one in told)
    is_beside_price = any(not headers.UNIT_PRICES.isdisjoint(one) for one in told)
    counted = sum(not one <= headers.POSITION_HEADERS for one in told)
    is_list = counted == _LEAST_COLUMNS and "part" in kinds
    counting = [{"order"}, {"to", "order"}, {"bestellung"}] if is_beside_stock or is_beside_price or is_list else []
    counting += [{"amount"}] if is_beside_price or is_list else []
    return ["quantity" if one in counting else kind for one, kind in zip(told, kinds, strict=True)]


def _kind(cell: str) -> str:
    found = [token.text for token in tokens_of(cell)]
    if not found or (len(found) > _MOST_OF_NAME and not all(map(_kind, found))):
        return ""
    if any(word in headers.NOTE_HEADERS for word in found):
        return "note"
    if found[:2] in (["u", "p"], ["p", "u"]):  # the price of a unit
        return "other"
    is_unit = (headers.QUANTITY_HEADERS | headers.PRICE_HEADERS).isdisjoint(found)
    if not (headers.PACK_HEADERS | (headers.UNIT_HEADERS if is_unit else set())).isdisjoint(found):
        return "pack"
    if not headers.NUMBER_HEADERS.isdisjoint(found) and not headers.OF_YOURS.isdisjoint(found):
        return "part"
    if any(word in headers.NO_QUANTITY_HEADERS | headers.DATE_HEADERS for word in found):
        return "other"
    if any(word in headers.DENIED_HEADERS for word in found):
        is_counted = any(word in headers.QUANTITY_HEADERS or word in headers.PART_HEADERS for word in found)
        return "denied" if is_counted else "other"
    if any(word in headers.QUANTITY_HEADERS for word in found) or "".join(found) == "qty":
        return "quantity"
    if any(word in headers.PART_HEADERS for word in (*found, "".join(found))):
        return "part"
    return "other" if any(word in headers.OTHER_HEADERS for word in found) else ""


def is_header(row: Row) -> bool:
    header = None if row.mentions or row.text.rstrip()[-1:] in tuple(":?!") else header_of(row.text)
    return header is not None and (header.apart != "," or bool(header.quantities and header.parts))


def is_rule(text: str) -> bool:
    """Whether a row is but a line drawn under a header."""
    return bool(_RULE.fullmatch(text)) and any(sign in text for sign in "-=_")


def residue_of(row: Row) -> str:
    """A row's text with each part as one sign, so that a name's own commas part no cells."""
    return "".join(piece.text for piece in row.pieces)


def raw_cells(header: Header, text: str) -> list[str] | None:
    """The cells of a row of a table as they are written; None where they are not as many as the header's."""
    is_quoted = '"' in text and len(header.apart) == 1 and header.apart != "|"
    cells = next(csv.reader([text], delimiter=header.apart)) if is_quoted else cells_of(text, header.apart)
    return [cell.strip() for cell in cells] if len(cells) == header.columns else None


def quantity_in(header: Header, cells: Sequence[str]) -> int | None:
    """The quantity that the only column of quantities tells; None where it tells none, or there are several."""
    counting = [place for place in header.quantities if not is_day(cells[place])]
    told = _number_in(folded(cells[counting[0]])) if len(counting) == 1 else None
    return told if told and told <= words.MOST_QTY else None


def is_day(cell: str) -> bool:
    """Whether a cell is a day, as one is by which something is required."""
    return bool(_DAY.fullmatch(cell))


def _number_in(cell: str) -> int | None:
    """The number that a cell is, in figures or in a word; None where it is none."""
    found = _WHOLE.fullmatch(cell)
    return int(found[1]) if found else words.NUMBERS.get(cell)


def packed(header: Header, text: str, own: frozenset[str]) -> Sequence[int] | None:
    """How many pieces one may be by the columns that tell of it; None where it is one piece, or one of what the part is
    called by: `own`."""
    if not header.packs:
        return None
    cells = raw_cells(header, text)
    told = (
        " ".join(folded(cells[place]) for place in header.packs if not _PRICE.fullmatch(cells[place]))
        if cells
        else "pack"
    )
    if singular(told) in own:
        return None
    numbers = [int(found) for found in re.findall(r"\d+", told) if int(found) != 1]
    return numbers if numbers or _PACKED.search(told) else None


def counted_by(header: Header, row: Row) -> tuple[int, ...] | None:
    """The quantities that the columns of a header tell for a row: one, or none or several, which is doubtful.

    None: the row is no row of that table.
    """
    cells = cells_of(residue_of(row), header.apart)
    if len(cells) != header.columns:
        return None if len(cells) == 1 else ()
    told = [cells[place] for place in header.quantities if not is_day(cells[place])]
    found = [_number_in(cell) for cell in told if cell]
    if None in found:
        return ()
    return tuple(qty for qty in found if qty and qty <= words.MOST_QTY)


def part_cells(header: Header, row: Row) -> list[str]:
    """What stands in the columns of parts."""
    cells = cells_of(folded(row.text), header.apart)
    return [cells[place] for place in header.parts if place < len(cells)] if len(cells) == header.columns else []


def lists_something(header: Header, text: str) -> bool:
    """Whether a row under a header tells a quantity, and something in a column of parts."""
    cells = raw_cells(header, text)
    if cells is None or not any(cells[place] for place in header.parts):
        return False
    return any(_number_in(folded(cells[place])) for place in header.quantities)


def is_of_cells(text: str) -> bool:
    return any(apart in text for apart in _CELLED)


def are_alike(one: Row, other: Row) -> bool:
    """Whether a row has something where another one has its part, and a number where that one has its number."""
    cells = _beside(one, other)
    numbers = [(bool(_number_in(x)), bool(_number_in(y))) for x, y in cells]
    named = [y for x, y in cells if x[:1] >= chr(FIRST_PART)]
    return (True, True) in numbers and all(x == y for x, y in numbers) and all(named)


def lacks_number(one: Row, other: Row) -> bool:
    """Whether a row has its part where another one has it, and nothing where that one has a number."""
    cells = _beside(one, other)
    return any(_number_in(x) and not y for x, y in cells) and any(x[:1] >= chr(FIRST_PART) <= y[:1] for x, y in cells)


def _beside(one: Row, other: Row) -> list[tuple[str, str]]:
    """The cells of two rows in pairs, none where they are not as many."""
    apart = next(sign for sign in _CELLED if sign in other.text)
    known, cells = cells_of(residue_of(one), apart), cells_of(residue_of(other), apart)
    return list(zip(known, cells, strict=True)) if len(known) == len(cells) else []
