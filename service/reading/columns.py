"""A row under a header read by its columns: the part from those of parts, how many from that of quantities."""

import re
from collections.abc import Sequence

from service.reading import courtesies, tables, words
from service.reading.aside_forms import CONDITION
from service.reading.doubts import doubts_of
from service.reading.folding import folded, key_of, tokens_of
from service.reading.meanings import ASKS, HELD, TAKE_OFF, meaning
from service.reading.parts import ReadPart
from service.reading.quantities import HOW_MANY, SIZE, WHICH, Told
from service.reading.row import Row, row_of
from service.reading.tables import Header
from service.reading.vocabulary import Vocabulary

ANOTHER_PART = "two parts are named: which one is meant?"
_PARTING = frozenset("\t;|")
"""No name reaches over these."""
_PRICE = re.compile(r"\s+(?:eur|usd|gbp|chf|\u20ac|\$)?\s*\d{1,5}[.,]\d\d\s*(?:eur|usd|gbp|chf|\u20ac|\$)?\s*")
"""What stands behind an SKU in its cell where the next column was too near."""
_POSITION = re.compile(r"\d+")
_COUNTER = re.compile(r"\d{1,2}\.?")
_FOR = re.compile(r"(?:for|fur|f\u00fcr)\s(?!.*\b(?:each|per|every|je)\b)", re.IGNORECASE)
"""For what the parts of a row are, told in a note: a number there counts that."""
_OF_SO_MANY = re.compile(r"\bof\s+\d")
_TO_CHECK = re.compile(r"\b(?:check|verify|unsure|was\s+\d|not\s+sure|ask)\b")
"""What is to be done before a row is ordered, or was told before."""
_CODE = re.compile(r"(?!x)[a-z]\d{1,4}")
"""A fuel or a place, said in a note."""
_PUT = re.compile(
    rf"\b(?:(?:in|into|with|for|to|inside|zu|in)\s+)?(?:the|one|same|a|your|our|that|this|gleichen?|den|die|selben?)\s+"
    rf"(?:same\s+)?(?:{'|'.join(sorted(words.SETS))})\b",
    re.IGNORECASE,
)
_LEAST_SHORTENED = 3
_MOST_OF_REMARK = 3
_TOLD = courtesies.EVERYDAY | words.DESCRIBING | words.SETS | words.SUMS


def part_under(header: Header, read: Row, vocabulary: Vocabulary) -> ReadPart | None:
    """The part of a row that all cells of parts name which name any, counted by its cell; None where that is not clear.

    What the other cells say makes it doubtful as it does in any row.
    """
    cells = None if read.is_cut else tables.raw_cells(header, read.text)
    qty = None if cells is None else tables.quantity_in(header, cells)
    if cells is None or qty is None:
        return None
    called = [vocabulary.called(cells[place]) for place in header.parts]
    named = [set(skus) for skus in called if skus is not None]
    shared = set.intersection(*named) if named else set[str]()
    if len(shared) != 1:
        return None
    [sku] = shared
    told_by = [cells[place] for place in header.parts]
    if len(told_by) > 1 and any(key_of(cell) == key_of(sku) for cell in told_by):
        told_by = [told if skus else _known(told, sku, vocabulary) for told, skus in zip(told_by, called, strict=True)]
    told_by = [
        "" if skus is None and _COUNTER.fullmatch(told) else told for told, skus in zip(told_by, called, strict=True)
    ]
    notes = {place: _remarked(cells[place], sku, vocabulary) for place in header.notes}
    notes |= {place: _taken_off(cells[place]) for place in header.others}
    notes |= {place: "" for place in header.quantities if tables.is_day(cells[place])}
    notes |= {place: _noted(cells[place], sku, vocabulary) for place in header.unnamed}
    told = dict(zip(header.parts, told_by, strict=True)) | notes
    is_as_read = (
        bool(read.mentions) and header.apart in _PARTING and all(cells[place] == cell for place, cell in told.items())
    )
    cells_as_written = [*cells]
    for place, cell in told.items():
        cells[place] = cell
    row = read if is_as_read else _apart(cells, vocabulary)
    if any(shared.isdisjoint(mention.skus) for mention in row.mentions):
        return None
    beside = [
        vocabulary.called(cells_as_written[x]) for x in header.others if any(map(str.isalpha, cells_as_written[x]))
    ]
    doubts = [doubt for doubt in row.doubts if doubt != HOW_MANY]
    doubts += [ANOTHER_PART] if any(has_figures_of_another(cell, sku, vocabulary) for cell in told_by) else []
    doubts += [ANOTHER_PART] if any(skus and shared.isdisjoint(skus) for skus in beside) else []
    doubts += [SIZE] if SIZE in Told(row.pieces, vocabulary.own(sku)).doubts else []
    told_apart = [notes[place] for place in header.notes if not _FOR.match(cells[place])]
    doubts += [asked for place in header.notes if (asked := _asked_in(cells_as_written[place], vocabulary))]
    doubts += [WHICH] if any(_counts(row_of(note, vocabulary)) for note in told_apart) else []
    return ReadPart((sku,), (qty,), tuple(doubts), is_counted=True)


def _noted(cell: str, sku: str, vocabulary: Vocabulary) -> str:
    """The words of a note that may change its row: numbers, words of orders, and those that tell the part from similar
    ones; without what only says how to pack it."""
    own = vocabulary.own(sku).words
    if tables.is_day(cell):
        return ""
    is_number = any(sign.isdigit() for sign in cell)
    return " ".join(
        text
        for text in (cell if is_number else _PUT.sub("", cell)).split()
        if not _CODE.fullmatch(word := _bare(text))
        and (
            not word.isalpha()
            or word in _TOLD
            or word in vocabulary.words_of_others
            or vocabulary.is_of_like(own, word)
        )
    )


def _asked_in(cell: str, vocabulary: Vocabulary) -> str:
    """What a remark makes doubtful that takes its row off, or sets a condition for it."""
    row = row_of(_PUT.sub("", cell), vocabulary)
    if CONDITION.search(row.said_text) or _TO_CHECK.search(row.folded):
        return HELD
    asked = meaning(row.said)
    return asked if asked in (TAKE_OFF, HELD) else ""


def _taken_off(cell: str) -> str:
    """What a cell of another column says that takes its row off."""
    return " ".join(text for text in cell.split() if _bare(text) in words.CALLED_OFF | words.DENIALS)


def _bare(text: str) -> str:
    return folded(text).strip(".,:()")


def _known(cell: str, sku: str, vocabulary: Vocabulary) -> str:
    """A cell beside a part's SKU without a position, its own words and figures ("8/6"), and words of no catalog."""
    if _POSITION.fullmatch(cell):
        return ""
    own = vocabulary.own(sku).words
    return " ".join(x for x in cell.split() if _tells(x, vocabulary) and not _is_own(x, own))


def _is_own(text: str, own: frozenset[str]) -> bool:
    """Whether a word and its figures are the part's own, or begin as its own words do: "8/6", "4-cyl"."""
    told = [token.text for token in tokens_of(folded(text))]
    return all(
        one in own or (len(one) >= _LEAST_SHORTENED and any(word.startswith(one) for word in own)) for one in told
    )


def _remarked(cell: str, sku: str, vocabulary: Vocabulary) -> str:
    """What a remark says that makes its row doubtful: all of one that takes off, reports, suspends, asks, or marks a
    quantity; of a short one what tells the part from its like; of any other nothing."""
    row = row_of(_PUT.sub("", cell), vocabulary)
    is_marked = any(piece.kind == "mark" and piece.form != "mark_word" for piece in row.pieces)
    if "?" in cell or is_marked or _OF_SO_MANY.search(cell) or meaning(row.said) in (TAKE_OFF, HELD, ASKS):
        return _noted(cell, sku, vocabulary)
    own = vocabulary.own(sku).words
    told = cell.split() if row.said_words and len(row.words) <= _MOST_OF_REMARK else []
    return " ".join(x for x in told if _bare(x) in words.DESCRIBING or vocabulary.is_of_like(own, _bare(x)))


def _tells(text: str, vocabulary: Vocabulary) -> bool:
    word = _bare(text)
    return not word.isalpha() or vocabulary.is_known(word) or word in _TOLD


def has_figures_of_another(cell: str, sku: str, vocabulary: Vocabulary) -> bool:
    """Whether a cell of a part tells figures that are none of its own, as an unknown SKU does beside a known name."""
    told = folded(cell)
    if told.startswith(folded(sku)) and _PRICE.fullmatch(told, len(folded(sku))):
        return False
    return any(token.is_number and token.text not in vocabulary.own(sku).words for token in tokens_of(told))


def _apart(cells: Sequence[str], vocabulary: Vocabulary) -> Row:
    """A row of these cells, over which no name reaches."""
    row = row_of("\t".join(cells), vocabulary)
    row.doubts = doubts_of(row, vocabulary)
    return row


def _counts(note: Row) -> bool:
    """Whether a note tells a number that may be a quantity."""
    return any(piece.is_quantity or piece.kind == "odd" for piece in note.pieces)
