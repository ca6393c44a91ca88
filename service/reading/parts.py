"""The parts of a row: which ones, how many of each, and what makes that doubtful."""

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import dropwhile, takewhile

from service.reading import courtesies, sharing, words
from service.reading.amounts import Piece
from service.reading.doubts import doubts_of
from service.reading.folding import singular
from service.reading.quantities import HOW_MANY, Told
from service.reading.row import Row
from service.reading.vocabulary import Mention, Vocabulary

_PARTING = frozenset("-,;:|=\u2192")
_BESIDE_CODES = frozenset({"part", "mark", "money", "decimal", "position", "day", "sign", "nothing"})
_SAYING_NOTHING = courtesies.HARMLESS | words.ORDERING | words.LABELS
_DOTTED = re.compile(r"\d+(?:\.\d+)+(?:[/\-]\d+)?")
_CELLS = re.compile(r"\s*[\t;:|,]\s*")
_NUMBER = re.compile(rf"(?:\d{{1,3}}|{'|'.join(words.NUMBERS)})(?:\s*(?:x|{words.PIECES})\.?)?")
_LONG_CODE = 5
_PRICE = re.compile(r"\d+\.\d+")
ANOTHER_LOOK = "is this a part, or a number or a word that means something else?"
"""What is asked of a part whose name looks like something else."""
TORN = "is all of this one name, or is a piece of it a quantity or another part?"


@dataclass(frozen=True, slots=True)
class ReadPart:
    """A part of a row as it is understood. `skus`: all that may be meant; `qtys`: all quantities that may be;
    `doubts`: what is to be asked, none where it is sure; `is_counted`: whether a quantity was written; `is_vague`:
    whether what was written is no plain quantity."""

    skus: tuple[str, ...]
    qtys: tuple[int, ...]
    doubts: tuple[str, ...] = ()
    is_counted: bool = False
    is_vague: bool = False

    def settled(self, qty: int, answered: Collection[str]) -> "ReadPart":
        """The same part with a quantity that is told beside it, which answers these doubts."""
        left = tuple(doubt for doubt in self.doubts if doubt not in answered)
        return replace(self, qtys=(qty,), doubts=left, is_counted=True, is_vague=False)

    def doubted(self, doubt: str, qtys: Iterable[int] = (), *, is_vague: bool = False) -> "ReadPart":
        """The same part, about which one thing more is to be asked."""
        told = tuple(dict.fromkeys((*qtys, *self.qtys)))
        return replace(self, doubts=(*self.doubts, doubt), qtys=told, is_vague=self.is_vague or is_vague)


def parts_of(row: Row, vocabulary: Vocabulary) -> list[ReadPart]:
    """The parts that a row names whole, each with what is doubtful of it."""
    row.doubts = doubts = doubts_of(row, vocabulary)
    if sharing.is_one_part(row):
        part = _one(row, doubts, vocabulary)
        said = {singular(word) for word in row.words}
        return [replace(part, skus=tuple(sorted(part.skus, key=lambda sku: -len(said & vocabulary.own(sku).words))))]
    shares = sharing.segments(row)
    each = sharing.each(row)
    if shares is None and each:
        return [_counted(one, row.pieces, doubts, each, vocabulary) for one in row.mentions]
    if shares is None:
        return [_part(one, (1,), [*doubts, "which quantity belongs to which part?"]) for one in row.mentions]
    if not each and sharing.is_for_all(row):
        doubts = [*doubts, "how many of each are meant?"]
    if not each and sharing.are_alternatives(row, shares):
        doubts = [*doubts, "are all of these meant, or one of them?"]
    vague = [any(words.is_of(piece.text, words.OTHER_NUMBERS) for piece in pieces) for _, pieces in shares]
    if any(vague) and doubts.count(HOW_MANY) == 1:
        doubts = [doubt for doubt in doubts if doubt != HOW_MANY]
    else:
        vague = [False] * len(vague)
    read = [
        _counted(row.mentions[place], pieces, [*doubts, *([HOW_MANY] if is_vague else [])], each, vocabulary)
        for (place, pieces), is_vague in zip(shares, vague, strict=True)
    ]
    is_counted = [part.is_counted for part in read]
    if not each and (any(is_counted) or any(vague)) and not all(is_counted):
        told = [qty for part in read if part.is_counted for qty in part.qtys]
        read = [x if x.is_counted else x.doubted("how many of this one?", (1, *told)) for x in read]
        if sum(part.is_counted for part in read) == 1 and _is_led(shares[0][1]):
            read[0] = read[0].doubted("how many of each are meant?")
        read[-1] = read[-1].doubted("how many of each are meant?") if _is_apart(shares[-1][1]) else read[-1]
    skus = [sku for part in read for sku in part.skus]
    if len(set(skus)) < len(skus):
        read = [part.doubted("the same part stands here twice") for part in read]
    return read


def _one(row: Row, doubts: list[str], vocabulary: Vocabulary) -> ReadPart:
    """The part of a row that names one, perhaps by SKU and name."""
    first, *more = row.mentions
    if not more:
        first = replace(first, is_weak=False) if first.is_weak and _is_told_apart(row) else first
        return _counted(first, row.pieces, doubts, 0, vocabulary, is_code=row.is_code(first))
    shared = set(first.skus).intersection(*(mention.skus for mention in more))
    if not shared:
        skus = tuple(dict.fromkeys(sku for mention in row.mentions for sku in mention.skus))
        doubts = [*doubts, "two parts are named: which one is meant?"]
        return _counted(replace(first, skus=skus), row.pieces, doubts, 0, vocabulary)
    if len({mention.how for mention in row.mentions}) < len(row.mentions) and not _is_told_anew(row):
        doubts = [*doubts, "the same part stands here twice"]
    qty = max(map(row.number_in, row.mentions))
    if qty and not any(piece.is_quantity for piece in row.pieces):
        return _part(first, (1, qty), [*doubts, "is the number the part or a quantity?"])
    by_sku = next((mention for mention in row.mentions if mention.how == "sku"), first)
    is_weak = all(mention.is_weak for mention in row.mentions)
    meant = replace(by_sku, skus=tuple(x for x in by_sku.skus if x in shared), is_weak=is_weak)
    return _counted(meant, row.pieces, doubts, 0, vocabulary)


def _is_led(pieces: Sequence[Piece]) -> bool:
    """Whether a quantity stands before the part, and so before all that are named behind it."""
    return any(piece.is_quantity for piece in takewhile(lambda piece: piece.kind != "part", pieces))


def _is_apart(pieces: Sequence[Piece]) -> bool:
    """Whether a sign parts the last part of a row from the quantity behind it."""
    behind = [piece for piece in dropwhile(lambda piece: piece.kind != "part", pieces) if not piece.text.isspace()][1:]
    return bool(behind) and behind[0].text in _PARTING and any(piece.is_quantity for piece in behind[1:2])


def _is_told_apart(row: Row) -> bool:
    """Whether a row is a SKU of digits with one marked quantity, and names nothing else: "550 - 8 pcs", "2 x 61.0"; a
    price of so many is none, whose sum stands beside it."""
    told = [piece for piece in row.pieces if not piece.text.isspace()]
    if _is_code_and_number(row):
        return True
    marks = [piece for piece in told if piece.kind == "mark" and piece.form != "mark_word"]
    if len(marks) != 1 or not row.is_code(row.mentions[0]):
        return False
    kinds = [piece.kind for piece in told]
    if kinds == ["part", "sign", "mark"] and told[1].text in _PARTING:
        return True
    beside = [piece for piece in told if piece.kind not in _BESIDE_CODES and piece.text not in _SAYING_NOTHING]
    sums = {_figures(piece.text) for piece in told if piece.kind in ("money", "decimal")}
    skus = row.mentions[0].skus
    is_dotted = all(_DOTTED.fullmatch(sku) for sku in skus)
    return is_dotted and not beside and not any(_is_sum(one, marks[0].value, sku) for one in sums for sku in skus)


def _is_code_and_number(row: Row) -> bool:
    """Whether a row is a long SKU of digits as it is written, in a cell of its own, and a number."""
    sku, *rest = _CELLS.split(row.text.strip().lower(), maxsplit=1)
    is_code = sum(sign.isdigit() for sign in sku) >= _LONG_CODE and sku in map(str.lower, row.mentions[0].skus)
    return is_code and len(rest) == 1 and bool(_NUMBER.fullmatch(rest[0]))


def _figures(text: str) -> str:
    return "".join(sign for sign in text.replace(",", ".") if sign.isdigit() or sign == ".").strip(".")


def _is_sum(told: str, qty: int, sku: str) -> bool:
    """Whether a figure is so many times a SKU that may be a price."""
    price = _figures(sku)
    return bool(_PRICE.fullmatch(price) and _PRICE.fullmatch(told)) and Decimal(told) == qty * Decimal(price)


def _is_told_anew(row: Row) -> bool:
    """Whether the names of one part are written in two ways, so that one explains the other."""
    written = {row.folded[row.tokens[x.first].start : row.tokens[x.last - 1].end] for x in row.mentions}
    places = [place for place, piece in enumerate(row.pieces) if piece.kind == "part"]
    inner = row.pieces[places[0] : places[-1]]
    is_counted = any(piece.is_quantity for piece in row.pieces[: places[0]])
    is_headed = any(piece.text in ":(" for piece in inner) and any(piece.is_quantity for piece in row.pieces)
    return (
        (is_counted or is_headed)
        and len(written) == len(row.mentions)
        and not any(piece.is_quantity for piece in inner)
    )


def _counted(
    mention: Mention,
    pieces: Sequence[Piece],
    doubts: list[str],
    each: int,
    vocabulary: Vocabulary,
    *,
    is_code: bool = False,
) -> ReadPart:
    told = Told(pieces, vocabulary.own(mention.skus[0]), is_code=is_code)
    qtys = (each,) if each else told.qtys
    asked = [*doubts, *([] if each else told.doubts)]
    if not each and _says_each(pieces):
        asked.append("how many of each are meant?")
    if any(piece.text in words.NONE for piece in pieces):
        asked.append(HOW_MANY)
    is_counted = bool(qtys) or _has_article(pieces)
    if len(told.qtys) == 1 and not told.doubts and set(mention.torn) <= set(mention.skus):
        mention = replace(mention, torn=(), torn_qty=0)
    return _part(mention, qtys or (1,), asked, is_counted=is_counted, is_vague=told.is_vague)


def _part(
    mention: Mention, qtys: tuple[int, ...], doubts: list[str], *, is_counted: bool = False, is_vague: bool = False
) -> ReadPart:
    if len(mention.skus) == 1 and mention.how != "family" and not mention.is_weak and not mention.torn:
        return ReadPart(mention.skus, qtys, tuple(doubts), is_counted, is_vague)
    which = ["which of these is meant?"] if len(mention.skus) > 1 or mention.how == "family" else []
    look = [ANOTHER_LOOK] if mention.is_weak else []
    torn = [TORN] if mention.torn else []
    skus = tuple(dict.fromkeys((*mention.torn, *mention.skus)))
    told = tuple(dict.fromkeys((*((mention.torn_qty,) if mention.torn_qty else ()), *qtys)))
    return ReadPart(skus, told, (*which, *look, *torn, *doubts), is_counted, is_vague)


def _says_each(pieces: Sequence[Piece]) -> bool:
    told = [piece for piece in pieces if piece.kind != "sign"]
    following = (*told[1:], None)
    return any(
        x.text in ("each", "apiece") and not (y and y.kind == "size") for x, y in zip(told, following, strict=False)
    )


def _has_article(pieces: Sequence[Piece]) -> bool:
    """Whether "a" stands before the part, or "the" in a row that orders."""
    return any(
        (piece.text in ("a", "an") or (piece.text == "the" and any(x.text in words.ORDERING for x in pieces[:place])))
        and _touches(pieces, place)
        for place, piece in enumerate(pieces)
    )


def _touches(pieces: Sequence[Piece], place: int) -> bool:
    """Whether a part stands behind a word, with only a space between."""
    near = place + 1
    if near < len(pieces) and pieces[near].text.isspace() and "\t" not in pieces[near].text:
        near += 1
    return near < len(pieces) and pieces[near].kind == "part"
