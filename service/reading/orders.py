"""The reader of orders: a text of many rows to lines that are sure, lines that are asked back, and what is no part."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from service.domain.work import spend
from service.reading import boxes, courtesies, words
from service.reading.amounts import Piece
from service.reading.common import is_common
from service.reading.folding import Token, folded, singular, tokens_of
from service.reading.forms import heads_a_cart
from service.reading.near import MOST_CANDIDATES, Near, Search
from service.reading.neighbours import Neighbours
from service.reading.parts import ReadPart, parts_of
from service.reading.row import LONGEST_ROW, Row, row_of
from service.reading.vocabulary import Vocabulary

MOST_ROWS = 5_000

_ROW_ENDS = re.compile(r"\r\n|\r|\n")
_OF_PEOPLE = re.compile(
    r"\W*(?:(?:delivery|invoice|billing|shipping|home|postal|company)\s+)?(?:address|adresse|anschrift|name|contact|company|firma)\s*:"
)
"""What a row begins with that tells who orders, or where he is."""
_LIKELY = 58.0
_LIKELY_COUNTED = 34.0
_LIKELY_ANYWAY = 84.0
_ALIKE_WHOLE = 100
_NOT_FOUND = "no part of the catalog is called so: which one is meant?"
_NEAR = "which part is meant?"
_LEAST_WORDS = 2
_PIECES = frozenset(words.PIECES.split("|"))
_MOST_AT_ENDS = 12
_LEAST_TALK = 5
"""So many words make a sentence: one of common words alone misspells no part."""
_TELLING = frozenset({"plain", "mark", "odd", "word", "size"})
_OF_CODES = frozenset({"odd", "decimal"})
_HARMLESS = courtesies.HARMLESS | courtesies.COURTESIES
_SAYS_NOTHING = _HARMLESS | words.NO_PARTS
_NO_OWN = _HARMLESS | frozenset(words.UNITS.split("|"))


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
        self._near = Near(vocabulary)

    def read(self, text: str) -> Reading:
        """Every row of a text: as lines, or as unread."""
        rows: list[Row | None] = []
        parts: dict[int, list[ReadPart]] = {}
        written = rows_in(text)
        are_bullets = boxes.are_bullets(written)
        for place, one in enumerate(written):
            row = row_of(boxes.without_box(one) if are_bullets else one, self._vocabulary) if one.strip() else None
            spend(1, "order")
            if row is not None and row.mentions:
                parts[place] = parts_of(row, self._vocabulary)
                row.forget_tokens()
            rows.append(replace(row, text=one) if row and are_bullets else row)
        neighbours = Neighbours(rows, parts, self._vocabulary)
        neighbours.tell()
        search = Search()
        lines: list[ReadLine] = []
        unread: list[tuple[int, str]] = []
        for place, row in enumerate(rows):
            if row is None:
                continue
            is_head = place in neighbours.headed or heads_a_cart(row)
            found = [] if is_head else self._lines(place, row, parts.get(place), search)
            if not found and place in neighbours.listed and not _is_no_part(row):
                found = [ReadLine(place + 1, row.text, None, None, _NOT_FOUND, ())]
            lines += found
            unread += [] if found else [(place + 1, row.text)]
        return Reading(tuple(lines), tuple(unread))

    def named(self, text: str) -> tuple[str, ...]:
        """The SKUs of all parts that a text names whole, with nothing else in it."""
        return self._vocabulary.called(text[:LONGEST_ROW]) or ()

    def name(self, sku: str) -> str:
        """The name of a known part."""
        return self._vocabulary.parts[sku].name

    def near(self, text: str) -> list[str]:
        """The SKUs of the parts that a text comes near to, the nearest first."""
        plain = folded(text[:LONGEST_ROW])
        return [sku for sku, _ in self._near.to(plain, tokens_of(plain), Search())]

    def total(self, reading: Reading) -> int | None:
        """The list price of all that is read and sold, minor units; None until every line is sure."""
        if not reading.is_sure:
            return None
        parts = self._vocabulary.parts
        return sum((parts[line.sku].price or 0) * line.qty for line in reading.lines if line.sku and line.qty)

    def _lines(self, place: int, row: Row, parts: list[ReadPart] | None, search: Search) -> list[ReadLine]:
        if parts is not None:
            lines = [self._line(place, row, part) for part in parts if not _is_greeting(row, part)]
            return lines + [ReadLine(place + 1, row.text, None, qty, _NOT_FOUND, ()) for qty in row.others]
        near = self._nearest(row, search)
        return [] if near is None else [replace(near, row=place + 1)]

    def _line(self, place: int, row: Row, part: ReadPart) -> ReadLine:
        pairs = [(sku, qty) for sku in part.skus for qty in part.qtys][:MOST_CANDIDATES]
        candidates = tuple(Candidate(sku, self.name(sku), qty, _ALIKE_WHOLE) for sku, qty in pairs)
        sku = part.skus[0] if len(part.skus) == 1 else None
        qty = part.qtys[0] if len(part.qtys) == 1 and not part.is_vague else None
        asks = " ".join(dict.fromkeys(part.doubts)) or (None if sku and qty else _NEAR)
        return ReadLine(place + 1, row.text, sku, qty, asks, candidates)

    def _nearest(self, row: Row, search: Search) -> ReadLine | None:
        """The line of a row that names no part whole, None where it is no part at all."""
        counted, plain = _counted(row), self._plain(row)
        odd = [one for at, piece in enumerate(row.pieces) if _is_amount(row.pieces, at) for one in piece.offers]
        qtys = list(dict.fromkeys(counted or plain or odd)) or [1]
        spoken = _without(row.spoken, [str(qty) for qty in (*counted, *plain, *odd)])
        written = "".join(piece.text for piece in row.pieces if piece.kind != "nothing")
        if _is_no_part(row):
            spoken, written = [token for token in spoken if not token.is_number], ""
        found = self._near.to(written, spoken, search)
        is_greeting = bool(row.words) and row.words[0] in courtesies.GREETINGS and not (counted or plain)
        is_title = row.folded.endswith(":") and not any(token.is_number for token in row.spoken)
        is_empty = is_greeting or is_title or (_is_no_part(row) and not _has_own_word(row))
        is_empty = is_empty or self._is_talk(row)
        if found and not is_empty and found[0][1] >= self._least(row, counted):
            candidates = tuple(Candidate(sku, self.name(sku), qtys[0], round(alike)) for sku, alike in found)
            qty = qtys[0] if len(qtys) == 1 and not odd else None
            return ReadLine(0, row.text, None, qty, _NEAR, candidates)
        return ReadLine(0, row.text, None, qtys[0], _NOT_FOUND, ()) if self._is_order(row) else None

    def _plain(self, row: Row) -> list[int]:
        """The plain numbers of a row that may be quantities: those of the catalog may be a figure of the part, unless
        they are small and stand at an end."""
        told = [x for x in row.pieces if x.kind in _TELLING and x.text not in _HARMLESS]
        ends = {id(piece) for piece in (*told[:1], *told[-1:])}
        return [
            x.value
            for x in told
            if x.kind == "plain"
            and not (self._vocabulary.is_known(x.text) and (x.value > _MOST_AT_ENDS or id(x) not in ends))
        ]

    def _least(self, row: Row, counted: list[int]) -> float:
        """How near a part must be for a row to be asked about: less where the row tells a quantity or has no other
        words, more where it greets or tells an address."""
        if _is_no_part(row):
            return _LIKELY_ANYWAY
        own = self._own_words(row)
        known = [word for word in own if self._vocabulary.is_known(word)]
        if len(own) >= _LEAST_WORDS and len(known) == len(own):
            return 0.0
        is_counted = any(x in words.OTHER_NUMBERS for x in row.words) or _begins_counted(row)
        return _LIKELY_COUNTED if counted or (is_counted and 2 * len(known) >= len(own)) else _LIKELY

    def _own_words(self, row: Row) -> list[str]:
        """The words of a row that may tell of a part: none of every day, none of cars alone."""
        others = self._vocabulary.words_of_others
        spoken = [token.text for token in row.spoken if not token.is_number and token.text not in _NO_OWN]
        return [word for word in spoken if singular(word) not in others or self._vocabulary.is_known(word)]

    def _is_talk(self, row: Row) -> bool:
        """Whether a row is a sentence of common words, none of the catalog: it misspells no part."""
        own = [word for word in self._own_words(row) if word not in words.NUMBERS and word not in words.OTHER_NUMBERS]
        known = any(self._vocabulary.knows(singular(word)) for word in own)
        return len(row.words) >= _LEAST_TALK and bool(own) and not known and all(map(is_common, own))

    def _is_order(self, row: Row) -> bool:
        """Whether a row that comes near to no part orders something all the same."""
        if _is_no_part(row):
            return False
        if row.counts_a_code:
            return True
        if any(piece.kind == "mark" and (piece.form != "mark_word" or _has_unit(piece)) for piece in row.pieces):
            return _has_own_word(row) or _has_code(row)
        told = [piece for piece in row.pieces if piece.kind != "sign"]
        own = self._own_words(row)
        return bool(own and told) and told[0].is_quantity and all(map(self._vocabulary.is_known, own))


def _counted(row: Row) -> list[int]:
    """The quantities that a row marks as such."""
    return [x.value for at, x in enumerate(row.pieces) if x.kind == "mark" and not (x.form == "mark_word" and at)]


def _has_unit(piece: Piece) -> bool:
    """Whether a quantity in words is said to be one: "six off"."""
    return piece.text.split()[-1].rstrip(".") in _PIECES


def _without(tokens: Sequence[Token], numbers: list[str]) -> list[Token]:
    """Tokens without these numbers, each taken off once."""
    kept: list[Token] = []
    for token in tokens:
        if token.text in numbers:
            numbers.remove(token.text)
        else:
            kept.append(token)
    return kept


def _is_amount(pieces: Sequence[Piece], place: int) -> bool:
    """Whether a doubtful number is no piece of a code, as "AS568-910"."""
    return pieces[place].form != "odd" and not (place and pieces[place - 1].kind == "word")


def _begins_counted(row: Row) -> bool:
    told = [piece for piece in row.pieces if piece.kind != "sign"]
    return bool(told) and (told[0].is_quantity or told[-1].is_quantity)


def _is_no_part(row: Row) -> bool:
    """Whether a row greets, sums up, tells an address or a number to call."""
    written = row.words
    begins = bool(written) and written[0] in courtesies.GREETINGS
    says = any(word in words.NO_PARTS for word in written)
    return (
        begins
        or says
        or bool(_OF_PEOPLE.match(row.folded))
        or any(piece.form in ("nothing_address", "nothing_phone") for piece in row.pieces)
    )


def _is_greeting(row: Row, part: ReadPart) -> bool:
    """Whether a row is a greeting or a person's name in which one word happens to name a part."""
    first = row.words[:1]
    is_name = any(one.how != "sku" and one.last - one.first == 1 for one in row.mentions[-1:])
    is_led = (first[:1] and first[0] in courtesies.GREETINGS) or bool(_OF_PEOPLE.match(row.folded))
    return bool(is_led) and not part.is_counted and is_name


def _has_code(row: Row) -> bool:
    """Whether a row has a number that is no plain one, as codes have."""
    glued = [near.kind == "odd" for piece, near in pairwise(row.pieces) if piece.kind == "word"]
    return any(glued) or any(piece.form in _OF_CODES for piece in row.pieces)


def _has_own_word(row: Row) -> bool:
    return any(len(word) > 1 and word not in _SAYS_NOTHING for word in row.words)
