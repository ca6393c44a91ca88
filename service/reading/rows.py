"""One row of an order: the parts that it names, how many of each, and what makes that doubtful."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from service.reading import words
from service.reading.amounts import ADDRESS, FIRST_PART, NAME, Piece, pieces_of
from service.reading.folding import Token, folded, singular, tokens_of
from service.reading.vocabulary import Mention, Search, Vocabulary

LONGEST_ROW = 500
"""Characters: a row that people write has a tenth of it; what is longer is read so far and never sure."""
MOST_PARTS = 40
"""So many parts of a row are told apart."""

_STUCK = re.compile(r"(?<![\w.,/\-])(\d{1,4}x)(?=[a-z])")
_ARROW = re.compile(r"^[ >]*(?:[-=]+> *)?")
_ADDRESS = re.compile(r"\S+@\S+\.\S+|(?:https?://|www\.)\S+")
_POLITE = re.compile(
    r"\b(?:would|should|i'd|we'd|'d|d)\s+(?:also\s+)?like\b|\b(?:can|could|may|let|please)\s+(?:i|we|me|us)\s+(?:please\s+)?have\b"
    r"|\bas\s+(?:soon\s+as\s+possible|follows|usual)\b|\bif\s+possible\b"
)
"""What sounds like a question or a report and is none."""
_THANKS = re.compile(r"\bthank(?:s| you)\b[\w ]{0,20}\bfor\b")
_NUMBER_OF = re.compile(
    r"\b(?:part|art(?:icle|ikel)?|item|sku|stock|cat(?:alog(?:ue)?)?|product|model|order|code)s?\.?\s*(?:no|nr|num|number|#)(?![a-z])"
    r"[.:#]*(?!\s*\d)"
)
"""What stands before a SKU: no denial."""
_QUOTED = re.compile(r'^\s*"[^"]*"\s*[,;\t]|[,;\t]\s*"[^"]*"\s*(?:[,;\t]|$)')
_QUOTES = re.compile(r'(?:^|(?<=[,;\t]))\s*"|"\s*(?=[,;\t]|$)')
_BULLETS = "-*\u2022\u00b7\u25cf\u25e6\u2023\u2043+~"
_LISTS = frozenset(",;&+|.")
_TWO = 2
_AND = frozenset({"and", "plus", "und", "et", "y"})
_OWN_APART = frozenset("\t|;")
_CELLS = frozenset("\t|;,")


@dataclass(frozen=True, slots=True)
class ReadPart:
    """A part of a row as it is understood. `skus`: all that may be meant; `qtys`: all quantities that may be;
    `doubts`: what is to be asked, none where it is sure; `is_counted`: whether a quantity was written."""

    skus: tuple[str, ...]
    qtys: tuple[int, ...]
    doubts: tuple[str, ...] = ()
    is_counted: bool = False

    def doubted(self, doubt: str, qtys: Iterable[int] = ()) -> "ReadPart":
        """The same part, about which one thing more is to be asked."""
        return replace(self, doubts=(*self.doubts, doubt), qtys=tuple(dict.fromkeys((*qtys, *self.qtys))))


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """A row taken apart. `pieces`: with each part as one sign; `lead`: the number that it begins with, if any."""

    text: str
    folded: str
    pieces: tuple[Piece, ...]
    mentions: tuple[Mention, ...]
    tokens: tuple[Token, ...]
    spare: frozenset[int] = field(default_factory=frozenset)
    is_cut: bool = False

    @property
    def words(self) -> list[str]:
        """The words that name no part."""
        return [piece.text for piece in self.pieces if piece.kind == "word"]

    @property
    def loose(self) -> list[Token]:
        """The tokens outside its parts and outside the names of cars."""
        inside = {place for one in self.mentions for place in range(one.first, one.last)} | self.spare
        return [token for place, token in enumerate(self.tokens) if place not in inside]


def row_of(text: str, vocabulary: Vocabulary) -> Row:
    """Take a row apart; a number that sticks to its part by an x is tried apart."""
    row = _taken_apart(text, folded(text[:LONGEST_ROW]), vocabulary)
    if not _STUCK.search(row.folded):
        return row
    apart = _taken_apart(text, _STUCK.sub(r"\1 ", row.folded), vocabulary)
    return apart if _length(apart) > _length(row) else row


def _length(row: Row) -> int:
    """How many tokens name parts."""
    return sum(mention.last - mention.first for mention in row.mentions)


def _taken_apart(text: str, plain: str, vocabulary: Vocabulary) -> Row:
    plain = _QUOTES.sub("", plain) if _QUOTED.search(plain) else plain
    plain = _NUMBER_OF.sub("part ", _POLITE.sub("please", _ADDRESS.sub(f" {ADDRESS} ", plain)))
    bare = _ARROW.sub("", plain.rstrip(" "))
    bullet = bare[:1]
    if bullet and bullet in _BULLETS and bare[1:2].isspace():
        bare = bare[1:].strip()
    tokens = tokens_of(bare)
    mentions = vocabulary.mentions(bare, tokens)[:MOST_PARTS]
    inside = {place for one in mentions for place in range(one.first, one.last)}
    names = [name for name in vocabulary.other_names(tokens) if not inside.intersection(range(*name))]
    signs = {(x.first, x.last): chr(FIRST_PART + place) for place, x in enumerate(mentions)} | dict.fromkeys(
        names, NAME
    )
    residue, last = "", 0
    for (first, end), sign in sorted(signs.items()):
        residue += bare[last : tokens[first].start] + sign
        last = _end(bare, tokens[end - 1].end)
    pieces = tuple(pieces_of(residue + bare[last:]))
    spare = frozenset(place for name in names for place in range(*name))
    return Row(text, bare, pieces, tuple(mentions), tuple(tokens), spare, len(text) > LONGEST_ROW)


def _end(text: str, end: int) -> int:
    """Where a part ends, the genitive with it."""
    return end + 2 if text[end : end + 2] == "'s" and not text[end + 2 : end + 3].isalnum() else end


class RowReader:
    """Reads rows by a vocabulary; one for each text."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary
        self.search = Search()

    def parts(self, row: Row) -> list[ReadPart]:
        """The parts that a row names whole, each with what is doubtful of it."""
        doubts = self._doubts(row)
        mentions = list(row.mentions)
        if _is_one_part(row):
            return [self._one(row, doubts)]
        segments = _segments(row)
        if segments is None:
            return [
                self._part(mention, (1,), [*doubts, "which quantity belongs to which part?"]) for mention in mentions
            ]
        each = _each(row)
        read = [self._counted(mentions[place], pieces, doubts, each) for place, pieces in segments]
        if not each and any(part.is_counted for part in read) and not all(part.is_counted for part in read):
            told = [qty for part in read if part.is_counted for qty in part.qtys]
            read = [x if x.is_counted else x.doubted("how many of this one?", (1, *told)) for x in read]
        skus = [sku for part in read for sku in part.skus]
        if len(set(skus)) < len(skus):
            read = [part.doubted("the same part stands here twice") for part in read]
        return read

    def _one(self, row: Row, doubts: list[str]) -> ReadPart:
        """The part of a row that names one, perhaps by SKU and name."""
        skus = tuple(dict.fromkeys(sku for mention in row.mentions for sku in mention.skus))
        shared = set(row.mentions[0].skus).intersection(*(mention.skus for mention in row.mentions))
        first = row.mentions[0]
        if shared:
            by_sku = [mention for mention in row.mentions if mention.how == "sku"]
            first = by_sku[0] if by_sku else first
            return self._counted(
                replace(first, skus=tuple(x for x in first.skus if x in shared)), row.pieces, doubts, 0
            )
        doubts = [*doubts, "two parts are named: which one is meant?"]
        return self._counted(replace(first, skus=skus), row.pieces, doubts, 0)

    def _part(self, mention: Mention, qtys: Iterable[int], doubts: Iterable[str]) -> ReadPart:
        which = ["which of these is meant?"] if len(mention.skus) > 1 or mention.how == "family" else []
        torn = ["is the number part of the name or a quantity?"] if mention.torn else []
        return ReadPart(mention.skus, tuple(qtys), (*which, *torn, *doubts))

    def _counted(self, mention: Mention, pieces: Sequence[Piece], doubts: list[str], each: int) -> ReadPart:
        own = self._vocabulary.own_words(mention.skus[0])
        told = _Told(pieces, own)
        asked = [*doubts, *told.doubts, *self._strange(pieces, mention)]
        qtys = (each,) if each else told.qtys
        return replace(self._part(mention, qtys or (1,), asked), is_counted=bool(qtys) or _has_article(pieces))

    def _strange(self, pieces: Sequence[Piece], mention: Mention) -> list[str]:
        """What words beside a part say that it may be another one."""
        own = frozenset().union(*(self._vocabulary.own_words(sku) for sku in mention.skus))
        return [
            f"\u201c{piece.text}\u201d: does it go with this part?"
            for place, piece in enumerate(pieces)
            if piece.kind == "word" and _touches(pieces, place) and not _is_usual(singular(piece.text), piece.text, own)
            if not any(_is_of(piece.text, known) for _, known in _DOUBTS)
        ][:1]

    def _doubts(self, row: Row) -> list[str]:
        """What makes a whole row doubtful."""
        written = row.words
        doubts = [says for says, known in _DOUBTS if any(_is_of(word, known) for word in written)]
        if "?" in row.folded:
            doubts.append("is this a question?")
        if row.is_cut:
            doubts.append(f"the row is longer than {LONGEST_ROW} characters: what does its end say?")
        if written and written[0] in words.GREETINGS and not any(x.is_quantity for x in row.pieces):
            doubts.append("is this a part or a greeting?")
        if (written and written[0] in words.HEADS) or _THANKS.search(row.folded):
            doubts.append("is this an order or a heading, a thank-you?")
        if _is_glued(row):
            doubts.append("is this the whole name of the part?")
        return doubts + self._other_words(row)

    def _is_of_car(self, row: Row, token: Token, own: frozenset[str]) -> bool:
        """Whether a word tells the car that a part is for, and the part itself is not for a certain car."""
        cars = self._vocabulary.words_of_others
        return (
            singular(token.text) in cars
            and not own & cars
            and any(x.text == "for" and x.end < token.start for x in row.tokens)
        )

    def _other_words(self, row: Row) -> list[str]:
        """Words of the catalog that are not of the parts named: another finish, another part."""
        skus = {sku for mention in row.mentions for sku in mention.skus}
        own = frozenset().union(*(self._vocabulary.own_words(sku) for sku in skus))
        for token in row.loose:
            word = singular(token.text)
            if token.is_number or word in own or {word, token.text} & _EVERYDAY or self._is_of_car(row, token, own):
                continue
            meant = word if self._vocabulary.knows(word) else self._vocabulary.is_near(word, self.search)
            if meant is not None and (meant not in own or not self._vocabulary.knows(word)):
                return [f"\u201c{token.text}\u201d: does it go with this part?"] if meant not in own else []
        return []


_EVERYDAY = words.HARMLESS | words.NUMBERS.keys() | {"dozen", "pair"}
_DOUBTS = (
    ("does this row take something off?", words.DENIALS),
    ("does this row tell of something and order nothing?", words.REPORTS),
    ("is this an order or a question?", words.QUESTIONS),
    ("how many are meant?", words.OTHER_NUMBERS),
    ("how many pieces are in one?", words.SETS),
    ("is this a part or a sum?", words.SUMS),
)


def _is_of(word: str, known: frozenset[str]) -> bool:
    return word in known or (("'" in word) and word.replace("'", "") in known)


def _is_usual(word: str, written: str, own: frozenset[str]) -> bool:
    usual = words.HARMLESS
    return word in own or written in own or word in usual or written in usual or written in _AND or len(word) == 1


def _has_article(pieces: Sequence[Piece]) -> bool:
    return any(piece.text in ("a", "an") and _touches(pieces, place) for place, piece in enumerate(pieces))


def _touches(pieces: Sequence[Piece], place: int) -> bool:
    """Whether a word stands next to a part with only a space between."""
    for step in (-1, 1):
        near = place + step
        if 0 <= near < len(pieces) and pieces[near].text.isspace() and "\t" not in pieces[near].text:
            near += step
        if 0 <= near < len(pieces) and pieces[near].kind == "part":
            return True
    return False


def _is_glued(row: Row) -> bool:
    """Whether letters, digits or joints stick to a part, so that it may be the beginning of another word."""
    text, tokens = row.folded, row.tokens
    return any(
        _sticks(text, tokens[x.first].start, -1) or _sticks(text, tokens[x.last - 1].end - 1, 1) for x in row.mentions
    )


def _sticks(text: str, end: int, step: int) -> bool:
    near = text[end + step : end + step + 1] if end + step >= 0 else ""
    beyond = text[end + 2 * step : end + 2 * step + 1] if end + 2 * step >= 0 else ""
    if near == "'" and beyond == "s":
        return False
    if near.isalnum():
        return not _is_times(text, end, step)
    if near in ("-", "_", ".", "/", "'", "+", "#", "@", "\\") and near:
        return beyond.isalnum()
    return False


def _is_times(text: str, end: int, step: int) -> bool:
    """Whether what sticks to the beginning of a part is a number with an x."""
    return step < 0 and text[end - 1 : end] == "x" and text[end - 2 : end - 1].isdigit()


class _Told:
    """What the pieces around a part tell of its quantity."""

    def __init__(self, pieces: Sequence[Piece], own: frozenset[str]) -> None:
        self._pieces = pieces
        self._own = own
        self.doubts: list[str] = []
        marks = [piece for piece in pieces if piece.kind == "mark"]
        plain = [place for place, piece in enumerate(pieces) if piece.kind == "plain"]
        if _agree([piece for piece in pieces if piece.is_quantity]):
            marks, plain = marks[:1], []
        if marks:
            plain = [place for place in plain if not self._is_figure(place, own)]
        elif any(self._is_figure(place, own) for place in plain):
            self.doubts.append("is this number the part's own?")
        self.qtys = tuple(dict.fromkeys([x.value for x in marks] + [pieces[place].value for place in plain]))
        if len(marks) + len(plain) > 1:
            self.doubts.append("which number is the quantity?")
        elif plain and not self._is_beside(plain[0]):
            self.doubts.append(f"is {self.qtys[0]} the quantity?")
            self.qtys += (1,) if self.qtys[0] != 1 else ()
        self._look_for_odd(own)

    def _is_figure(self, place: int, own: frozenset[str]) -> bool:
        """Whether a number is one of the part's own, told behind one of its own words."""
        before = [piece for piece in self._pieces[:place] if not piece.text.isspace()]
        return (
            self._pieces[place].text in own
            and bool(before)
            and before[-1].kind == "word"
            and (singular(before[-1].text) in own)
        )

    def _is_beside(self, place: int) -> bool:
        """Whether nothing but signs and fillers stands between a number and its part, or it has a cell of its own."""
        if self._is_cell(place):
            return True
        for step in (-1, 1):
            near = place + step
            while 0 <= near < len(self._pieces) and self._is_filler(self._pieces[near]):
                near += step
            if 0 <= near < len(self._pieces) and self._pieces[near].kind == "part":
                return True
        return False

    def _is_filler(self, piece: Piece) -> bool:
        if piece.kind == "word":
            return piece.text in words.FILLERS or singular(piece.text) in self._own
        return piece.kind in ("sign", "money", "position", "nothing") or (
            piece.kind == "size" and piece.figures <= self._own
        )

    def _is_cell(self, place: int) -> bool:
        """Whether a number stands alone between signs that part cells."""
        sides = [self._pieces[:place][::-1], self._pieces[place + 1 :]]
        ends = [next((x.text for x in side if x.text != " "), "") for side in sides]
        framed = [end in _CELLS or "\t" in end for end in ends]
        return all(framed) or (any(framed) and "" in ends)

    def _look_for_odd(self, own: frozenset[str]) -> None:
        kinds = {piece.kind for piece in self._pieces}
        if "odd" in kinds:
            self.doubts.append("how many are meant?")
        if any(piece.kind == "size" and not piece.figures <= own for piece in self._pieces):
            self.doubts.append("is this size the part's?")
        if self.qtys:
            return
        if "decimal" in kinds or "day" in kinds:
            self.doubts.append("is this number a quantity?")
        counters = [piece for piece in self._pieces if piece.form == "counter"]
        if counters:
            self.doubts.append("is this number a position or a quantity?")
            self.qtys = tuple(dict.fromkeys((1, *(x.value for x in counters if 0 < x.value <= words.MOST_QTY))))


def _agree(numbers: list[Piece]) -> bool:
    """Whether a quantity is told twice: in a word and in figures."""
    same = len({number.value for number in numbers}) == 1
    return len(numbers) == _TWO and same and sum(number.form == "mark_word" for number in numbers) == 1


def _is_one_part(row: Row) -> bool:
    """Whether all that is named is one part, or one part named in two ways that do not agree."""
    if len(row.mentions) == 1:
        return True
    if any(piece.text in _AND or piece.text in "&+" for piece in row.pieces):
        return False
    shared = set(row.mentions[0].skus).intersection(*(mention.skus for mention in row.mentions))
    counted = sum(piece.is_quantity for piece in row.pieces)
    if shared:
        return counted <= 1
    kinds = {"sku" if mention.how == "sku" else "name" for mention in row.mentions}
    cells = any(piece.text in _OWN_APART for piece in row.pieces)
    return counted <= 1 and (len(kinds) > 1 or cells)


def _each(row: Row) -> int:
    """The quantity of every part of a row that says so; 0: it does not."""
    numbers = [piece for piece in row.pieces if piece.is_quantity]
    says = any(piece.kind == "word" and piece.text in ("each", "je") for piece in row.pieces)
    marked = [x for x in numbers if "each" in x.text.split() or x.text.endswith("each")]
    if len(numbers) != 1 or not (says or marked):
        return 0
    return numbers[0].value if all(piece.kind != "odd" for piece in row.pieces) else 0


def _segments(row: Row) -> list[tuple[int, list[Piece]]] | None:
    """The pieces that go with each part of a row; None where that cannot be told."""
    pieces = row.pieces
    places = [place for place, piece in enumerate(pieces) if piece.kind == "part"]
    cuts = [0]
    orientation = _orientation(pieces, places)
    for left, right in pairwise(places):
        cut = _cut(pieces, left, right, orientation)
        if cut is None:
            return None
        cuts.append(cut)
    cuts.append(len(pieces))
    return [(pieces[place].part, list(pieces[cuts[i] : cuts[i + 1]])) for i, place in enumerate(places)]


def _orientation(pieces: Sequence[Piece], places: Sequence[int]) -> int:
    """-1: quantities stand before their parts; 1: behind; 0: that cannot be told."""
    before = any(piece.is_quantity for piece in pieces[: places[0]])
    after = any(piece.is_quantity for piece in pieces[places[-1] + 1 :])
    return int(after) - int(before)


def _cut(pieces: Sequence[Piece], left: int, right: int, orientation: int) -> int | None:
    """Where what goes with one part ends and what goes with the next begins."""
    between = range(left + 1, right)
    numbers = [place for place in between if pieces[place].is_quantity or pieces[place].kind == "odd"]
    signs = [x for x in between if pieces[x].text in _LISTS or "\t" in pieces[x].text or pieces[x].text in _AND]
    if not numbers:
        return signs[0] if signs else None
    if len(numbers) > 1:
        inner = [sign for sign in signs if numbers[0] < sign < numbers[-1]]
        return inner[0] if inner and len(numbers) == _TWO else None
    before = [sign for sign in signs if sign < numbers[0]]
    after = [sign for sign in signs if sign > numbers[0]]
    if bool(before) != bool(after):
        return before[0] if before else after[-1]
    if orientation < 0:
        return before[0] if before else numbers[0]
    return (after[-1] if after else numbers[0] + 1) if orientation > 0 else None
