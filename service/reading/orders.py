"""The reader of orders: a text of many rows to lines that are sure, lines that are asked back, and what is no part."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from service.reading import tables, words
from service.reading.folding import folded, singular, tokens_of
from service.reading.rows import LONGEST_ROW, ReadPart, Row, RowReader, row_of
from service.reading.vocabulary import MOST_CANDIDATES, Search, Vocabulary

MOST_ROWS = 5_000

_ROW_ENDS = re.compile(r"\r\n|\r|\n")
_LIKELY = 58.0
_LIKELY_COUNTED = 34.0
_LIKELY_ANYWAY = 84.0
_ALIKE_WHOLE = 100
_NOT_FOUND = "no part of the catalog is called so: which one is meant?"
_NEAR = "which part is meant?"


@dataclass(frozen=True, slots=True)
class Candidate:
    """A part and a quantity that may be meant; `likeness` 0 to 100."""

    sku: str
    name: str
    qty: int
    likeness: int


@dataclass(frozen=True, slots=True)
class ReadLine:
    """A part of an order; `row` counts from 1.

    `sku` and `qty` None: they are not known; `asks` None: the line is sure.
    """

    row: int
    text: str
    sku: str | None
    qty: int | None
    asks: str | None
    candidates: tuple[Candidate, ...]

    @property
    def sure(self) -> bool:
        return self.asks is None


@dataclass(frozen=True, slots=True)
class Reading:
    """An order as it was read. `unread`: the rows with something in them that are no part, each with its number."""

    lines: tuple[ReadLine, ...]
    unread: tuple[tuple[int, str], ...]

    @property
    def is_sure(self) -> bool:
        return bool(self.lines) and all(line.sure for line in self.lines)


def rows_in(text: str) -> list[str]:
    """The rows of a text, the first of which is row 1."""
    return _ROW_ENDS.split(text)


__all__ = ["LONGEST_ROW", "MOST_ROWS", "Candidate", "OrderReader", "ReadLine", "Reading", "rows_in"]


class OrderReader:
    """Reads orders by the words of a catalog. Safe to share by threads."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary

    def read(self, text: str) -> Reading:
        """Every row of a text: as lines, or as unread."""
        return _Reading(self._vocabulary, rows_in(text)).read()

    def named(self, text: str) -> tuple[str, ...]:
        """The SKUs of all parts that a text names whole, with nothing else in it."""
        plain = folded(text[:LONGEST_ROW])
        tokens = tokens_of(plain)
        found = self._vocabulary.mentions(plain, tokens)
        is_whole = len(found) == 1 and (found[0].first, found[0].last) == (0, len(tokens))
        return found[0].skus if is_whole else ()

    def name(self, sku: str) -> str:
        """The name of a known part."""
        return self._vocabulary.parts[sku].name

    def near(self, text: str) -> list[str]:
        """The SKUs of the parts that a text comes near to, the nearest first."""
        plain = folded(text[:LONGEST_ROW])
        return [sku for sku, _ in self._vocabulary.near(plain, tokens_of(plain), Search())]

    def total(self, reading: Reading) -> int | None:
        """The list price of all that is read and sold, minor units; None until every line is sure."""
        if not reading.is_sure:
            return None
        prices = {sku: part.price or 0 for sku, part in self._vocabulary.parts.items()}
        return sum(prices[line.sku] * line.qty for line in reading.lines if line.sku and line.qty)


class _Reading:
    """The reading of one text."""

    def __init__(self, vocabulary: Vocabulary, texts: Sequence[str]) -> None:
        self._vocabulary = vocabulary
        self._texts = texts
        self._reader = RowReader(vocabulary)
        self._rows = [row_of(text, vocabulary) if text.strip() else None for text in texts]
        self._parts: dict[int, list[ReadPart]] = {}

    def read(self) -> Reading:
        for place, row in enumerate(self._rows):
            if row is not None and row.mentions:
                self._parts[place] = self._reader.parts(row)
        self._by_columns()
        self._by_headers()
        self._by_neighbours()
        lines: list[ReadLine] = []
        unread: list[tuple[int, str]] = []
        for place, row in enumerate(self._rows):
            if row is None:
                continue
            found = self._lines(place, row)
            lines += found
            unread += [] if found else [(place + 1, row.text)]
        return Reading(tuple(lines), tuple(unread))

    def _lines(self, place: int, row: Row) -> list[ReadLine]:
        if place in self._parts:
            return [self._line(place, row, part) for part in self._parts[place] if not _is_greeting(row, part)]
        near = self._near(row)
        return [] if near is None else [replace(near, row=place + 1)]

    def _line(self, place: int, row: Row, part: ReadPart) -> ReadLine:
        pairs = [(sku, qty) for sku in part.skus for qty in part.qtys][:MOST_CANDIDATES]
        names = {sku: self._vocabulary.parts[sku].name for sku in part.skus}
        candidates = tuple(Candidate(sku, names[sku], qty, _ALIKE_WHOLE) for sku, qty in pairs)
        sku = part.skus[0] if len(part.skus) == 1 else None
        qty = part.qtys[0] if len(part.qtys) == 1 else None
        asks = "; ".join(dict.fromkeys(part.doubts)) or (None if sku and qty else _NEAR)
        return ReadLine(place + 1, row.text, sku, qty, asks, candidates)

    def _near(self, row: Row) -> ReadLine | None:
        """The line of a row that names no part whole, None where it is no part at all."""
        counted = [
            x.value for place, x in enumerate(row.pieces) if x.kind == "mark" and not (x.form == "mark_word" and place)
        ]
        plain = [piece.value for piece in row.pieces if piece.kind == "plain"]
        qtys = list(dict.fromkeys(counted or plain)) or [1]
        numbers = {str(qty) for qty in (*counted, *plain)}
        spoken = [token for token in row.loose if token.text not in numbers]
        found = self._vocabulary.near(row.folded, spoken, self._reader.search)
        best = found[0][1] if found else 0.0
        is_counted = (
            counted or (plain and self._begins_counted(row)) or any(x in words.OTHER_NUMBERS for x in row.words)
        )
        least = _LIKELY_COUNTED if is_counted else _LIKELY
        if _is_no_part(row):
            least = _LIKELY_ANYWAY
        if best >= least:
            names = {sku: self._vocabulary.parts[sku].name for sku, _ in found}
            candidates = tuple(Candidate(sku, names[sku], qtys[0], round(alike)) for sku, alike in found)
            return ReadLine(0, row.text, None, qtys[0] if len(qtys) == 1 else None, _NEAR, candidates)
        is_asked = bool(counted) and not _is_no_part(row) and _has_own_word(row)
        return ReadLine(0, row.text, None, qtys[0], _NOT_FOUND, ()) if is_asked else None

    def _begins_counted(self, row: Row) -> bool:
        told = [piece for piece in row.pieces if piece.kind != "sign"]
        return told[0].is_quantity or told[-1].is_quantity

    def _by_columns(self) -> None:
        """Have rows that agree tell which of their numbers are positions."""
        single = [
            (at, row) for at, row in enumerate(self._rows) if row is not None and len(self._parts.get(at, ())) == 1
        ]
        for place, qty in tables.agreed(single).items():
            self._settle(place, qty)
        for place, is_position in tables.positions(single).items():
            if is_position:
                self._settle(place, 1)
            else:
                self._doubt(place, "is this number a position or a quantity?", (1,))

    def _settle(self, place: int, qty: int) -> None:
        [part] = self._parts[place]
        left = tuple(doubt for doubt in part.doubts if doubt not in _OF_NUMBERS)
        self._parts[place] = [replace(part, qtys=(qty,), doubts=left, is_counted=True)]

    def _doubt(self, place: int, doubt: str, qtys: Iterable[int] = ()) -> None:
        told = tuple(qtys)
        self._parts[place] = [part.doubted(doubt, told) for part in self._parts[place]]

    def _by_headers(self) -> None:
        """Have headers tell which column of the rows below them is the quantity."""
        header: tables.Header | None = None
        for place, row in enumerate(self._rows):
            if row is None:
                header = None
                continue
            if place not in self._parts:
                found = tables.header_of(row.text)
                header = found or (header if self._goes_on(header, row) else None)
            elif header is not None and header.quantities:
                self._by_header(header, place, row)
            elif header is not None and header.apart in row.text and any(x.kind == "plain" for x in row.pieces):
                self._doubt(place, "no column is called a quantity: how many are meant?", (1,))

    def _goes_on(self, header: tables.Header | None, row: Row) -> bool:
        return header is not None and (tables.is_rule(row.text) or header.apart in row.text)

    def _by_header(self, header: tables.Header, place: int, row: Row) -> None:
        told = tables.counted_by(header, row)
        if told is None and any(piece.kind == "mark" for piece in row.pieces):
            return
        told = told or ()
        if len(told) == 1 and len(header.quantities) == 1 and len(self._parts[place]) == 1:
            self._settle(place, told[0])
        else:
            self._doubt(place, "what does the column of quantities say?", told)

    def _by_neighbours(self) -> None:
        """Have rows without a part tell of those beside them: a quantity of its own, a heading, a name's other half."""
        heading = ""
        last: int | None = None
        for place, row in enumerate(self._rows):
            if row is None:
                heading = heading if self._is_first_blank(place) else ""
                continue
            if place in self._parts:
                if heading and (heading != _HOW_MANY or not all(x.is_counted for x in self._parts[place])):
                    self._doubt(place, heading)
                last = place
                continue
            heading = _heading(row) or ("" if last is not None and last == place - 1 else heading)
            self._beside(place, row, last)

    def _is_first_blank(self, place: int) -> bool:
        return place > 0 and self._rows[place - 1] is not None and (place - 1) not in self._parts

    def _beside(self, place: int, row: Row, last: int | None) -> None:
        if _is_bare_quantity(row):
            qtys = [piece.value for piece in row.pieces if piece.value]
            for near in (last, self._next(place)):
                if near is not None and not all(part.is_counted for part in self._parts[near]):
                    self._doubt(near, f"does \u201c{row.text.strip()[:40]}\u201d tell how many?", qtys)
                    return
            return
        if last is not None and last == place - 1 and self._is_other_half(row, last):
            self._doubt(last, f"does \u201c{row.text.strip()[:40]}\u201d belong to this part?")

    def _next(self, place: int) -> int | None:
        following = next((at for at in range(place + 1, min(place + 3, len(self._rows))) if self._rows[at]), None)
        return following if following in self._parts else None

    def _is_other_half(self, row: Row, last: int) -> bool:
        """Whether a row is but words of the catalog that are not of the part above."""
        written = [token for token in row.loose if not token.is_number]
        if not written or any(piece.is_quantity for piece in row.pieces):
            return False
        own = frozenset().union(*(self._vocabulary.own_words(sku) for part in self._parts[last] for sku in part.skus))
        known = [singular(token.text) for token in written if token.text not in words.HARMLESS]
        return bool(known) and all(map(self._vocabulary.knows, known)) and not set(known) <= own


_HOW_MANY = "how many of each are meant?"
_OF_NUMBERS = frozenset(
    {
        "which number is the quantity?",
        "is this number a position or a quantity?",
        "is this number a quantity?",
        "how many are meant?",
        "is this size the part\u2019s?",
    }
)


def _heading(row: Row) -> str:
    """What a row that ends with a colon asks of the rows below it, nothing where it asks nothing."""
    written = set(row.words)
    if not row.folded.rstrip(" *_").endswith((":", "?")):
        return ""
    if written & words.DENIALS:
        return "do these rows take something off?"
    if written & (words.REPORTS - {"is", "are", "be", "was", "do", "does"}):
        return "do these rows tell of something and order nothing?"
    if written & {"available", "availability", "stock", "price", "prices", "cost", "quote", "quotation"}:
        return "are these rows an order or a question?"
    counted = any(piece.is_quantity or piece.kind == "odd" for piece in row.pieces) or written & words.OTHER_NUMBERS
    return _HOW_MANY if counted else ""


def _is_bare_quantity(row: Row) -> bool:
    """Whether a row is a quantity and nothing else."""
    told = [piece for piece in row.pieces if piece.kind != "sign"]
    spoken = [piece for piece in told if piece.kind == "word"]
    numbers = [piece for piece in told if piece.kind in ("mark", "plain", "odd", "decimal", "position")]
    named = frozenset(words.QUANTITY_NAMES.split("|")) | frozenset(words.PIECES.split("|")) | words.FILLERS
    known = all(piece.text in named or piece.text in words.OTHER_NUMBERS for piece in spoken)
    return known and len(numbers) + len(spoken) == len(told) and bool(numbers or spoken)


def _is_no_part(row: Row) -> bool:
    """Whether a row greets, sums up, tells an address or a number to call."""
    written = row.words
    begins = bool(written) and written[0] in words.GREETINGS
    says = any(word in words.NO_PARTS for word in written)
    return begins or says or any(piece.form in ("nothing_address", "nothing_phone") for piece in row.pieces)


def _is_greeting(row: Row, part: ReadPart) -> bool:
    """Whether a row that names a part by one everyday word is but a greeting."""
    first = row.words[:1]
    [*_, mention] = row.mentions
    is_name = mention.how != "sku" and mention.last - mention.first == 1
    return bool(first) and first[0] in words.GREETINGS and not part.is_counted and is_name


def _has_own_word(row: Row) -> bool:
    return any(len(word) > 1 and word not in words.HARMLESS for word in row.words)
