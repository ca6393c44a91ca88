"""What the words of a row make doubtful: a denial, a report, a question, another part, a word that is not known."""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, takewhile

from service.reading import words
from service.reading.amounts import Piece
from service.reading.folding import Token, singular
from service.reading.own import Own
from service.reading.quantities import HOW_MANY
from service.reading.row import LONGEST_ROW, Row
from service.reading.sharing import AND
from service.reading.vocabulary import Vocabulary

_THANKS = re.compile(r"\bthank(?:s| you)\b[\w ]{0,20}\bfor\b")
_SOME = re.compile(
    r"\b(?:a|any|the) (?:usual )?(?:number|amount|quantity)\b(?! \d)|\bas (?:needed|required|necessary|many|much)\b"
)
_CHANGE = re.compile(r"\bmake (?:it|that|them|this)\b|\btoo\s+\w|\bfrom\s+(?:us|our|me|my)\b")
_REQUEST = re.compile(
    r"^\W*(?:please\W+)?(?:can|could|would|will)\s+you\s+(?:(?:please|pls|kindly|just|also)\W+){0,2}"
    r"(?:send|ship|post|dispatch|forward|add|put)\b[^?]*\?\W*$"
)
_WHEN = frozenset({"by", "before", "until", "till", "today", "tomorrow", "tonight", "soon", "bis", "noon"})
_OF_SO_MANY = re.compile(r"[a-z] (?:of|a|von|zu|with|x) ?\d")
_LEAST_OF_NAME = 3
_TWO = 2
_PREFIXES = frozenset({"non"})
_SHORTENED = re.compile(r"([a-z]+)'(?:d|ll|s|m)")
_BEFORE_A_NAME = rf"(?:[^\w\s]|(?i:\b(?:{'|'.join(sorted(words.LEAVING))})))"
_STRUCK = re.compile("[\u0335-\u0338\u2612\u2717\u2718\u274c\u274e\u26d4\u2796\U0001f6ab\U0001f5d1]")
"""Letters with a line through them, and crosses."""
_LETTERS = frozenset("xaisd")
_KINDS = (
    ("does this row take something off?", words.DENIALS),
    ("does this row tell of something and order nothing?", words.REPORTS),
    ("is this an order or a question?", words.QUESTIONS),
    ("is this bought?", words.NO_SALES),
    (HOW_MANY, words.OTHER_NUMBERS),
    (_SETS := "how many pieces are in one?", words.SETS),
    (_SUM := "is this a part or a sum?", words.SUMS),
)
_DOUBTFUL = frozenset().union(*(known for _, known in _KINDS))
DENIES = _KINDS[0][0]
"""What is asked of a row that denies."""
_CLAUSE_ENDS = frozenset(",;|()[]\t.!?:")
_USUAL = words.HARMLESS | words.COURTESIES | words.LEAVING | words.NUMBERS.keys() | AND | {"dozen", "pair"}


def is_of(word: str, known: frozenset[str]) -> bool:
    """Whether a word is one of these, with or without its apostrophe."""
    return word in known or ("'" in word and word.replace("'", "") in known)


def any_of(written: Iterable[str], known: frozenset[str]) -> bool:
    """Whether one of the words is one of these."""
    return any(is_of(word, known) for word in written)


def doubts_of(row: Row, vocabulary: Vocabulary) -> list[str]:
    """What makes a whole row doubtful that names a part."""
    owns = [vocabulary.own(sku) for sku in {sku for mention in row.mentions for sku in mention.skus}]
    written = row.words
    if len(owns) == 1 and any_of(written, _DOUBTFUL):
        written = [piece.text for piece in _beside_names(row, owns)]
    doubts = [says for says, known in _KINDS if any_of(written, known)] if any_of(written, _DOUBTFUL) else []
    if (
        _SETS in doubts
        and not _OF_SO_MANY.search(row.folded)
        and not any_of((x for x in written if not _is_own(x, owns)), words.SETS)
    ):
        doubts.remove(_SETS)
    if _SUM in doubts and _sums_itself_up(row):
        doubts.remove(_SUM)
    if _CHANGE.search(row.folded):
        doubts.append(DENIES)
    own = vocabulary.own_words({sku for mention in row.mentions for sku in mention.skus})
    if _SOME.search(row.folded) or any(word in words.NUMBERS and word not in own for word in written):
        doubts.append(HOW_MANY)
    if "?" in row.folded and not _asks_to_send(row, own):
        doubts.append("is this a question?")
    if row.is_cut:
        doubts.append(f"the row is longer than {LONGEST_ROW} characters: what does its end say?")
    if written and written[0] in words.GREETINGS and not any(x.is_quantity for x in row.pieces):
        doubts.append("is this a part or a greeting?")
    if (written and written[0] in words.HEADS) or _THANKS.search(row.folded):
        doubts.append("is this an order or a heading, a thank-you?")
    if row.folded.startswith("~") or "~~" in row.folded or _STRUCK.search(row.text):
        doubts.append("was this row struck out?")
    if _is_glued(row, owns):
        doubts.append("is this the whole name of the part?")
    if _is_reference(row):
        doubts.append("is this a part or the number of an order?")
    return doubts + _Words(row, own, vocabulary).doubts()


def _beside_names(row: Row, owns: Iterable[Own]) -> Iterator[Piece]:
    """The words of a row but those that a name of the part begins with, where enough of them follow each other."""
    said = [piece for piece in row.pieces if piece.kind != "sign"]
    skipped: set[int] = set()
    for spelt in (one for own in owns for one in own.spelt):
        for first in range(len(said)):
            alike = list(
                takewhile(lambda pair: singular(pair[0].text) == pair[1], zip(said[first:], spelt, strict=False))
            )
            if len(alike) >= _LEAST_OF_NAME:
                is_verb = said[first].text in words.DENIALS - _PREFIXES
                skipped.update(range(first + is_verb, first + len(alike)))
    return (piece for place, piece in enumerate(said) if piece.kind == "word" and place not in skipped)


def _is_own(word: str, owns: Sequence[Own]) -> bool:
    """Whether all parts of a row are called by a word, as one is that is a set."""
    return bool(owns) and all(singular(word) in own.words for own in owns)


def _asks_to_send(row: Row, own: frozenset[str]) -> bool:
    """Whether a row that is written as a question asks to send so many of a part, and says nothing else."""
    known = all(
        x in _USUAL or singular(x) in _USUAL or singular(x) in own or x in words.FIRST_NAMES or is_of(x, _DOUBTFUL)
        for x in row.words
    )
    is_counted = any(piece.is_quantity for piece in row.pieces) and "odd" not in row.kinds
    return known and is_counted and bool(_REQUEST.search(row.folded)) and not _WHEN.intersection(row.words)


class _Words:
    """The words of a row beside its parts."""

    def __init__(self, row: Row, own: frozenset[str], vocabulary: Vocabulary) -> None:
        """`own`: the words of all that the row's parts are called."""
        self._row = row
        self._vocabulary = vocabulary
        self._own = own

    def doubts(self) -> list[str]:
        """The first word that may say that another part is meant, or that nobody knows."""
        is_introduced = self._is_headed()
        is_behind = is_left = False
        placed = self._place_before()
        for place, piece in enumerate(self._row.pieces):
            is_introduced = is_introduced and piece.text != ":"
            is_behind = is_behind or piece.kind == "part"
            if piece.kind != "word" or self._is_of_kind(place) or self._is_person(place):
                continue
            if place < placed and not self._tells_apart(singular(piece.text)):
                continue
            if is_behind and self._is_of_car(place) and not self._vocabulary.is_known(piece.text):
                continue
            is_led = (is_introduced or (is_left and self._signs(place))) and not self._describes(place)
            if self._is_strange(piece.text, is_led) or self._is_of_another(place):
                return [f"\u201c{piece.text}\u201d: does it go with this part?"]
            is_introduced = is_introduced or (is_behind and piece.text in words.INTRODUCING)
            is_left = is_left or (is_behind and piece.text in words.LEAVING)
        return []

    def _is_of_kind(self, place: int) -> bool:
        """Whether a word says of an own word of the part that it tells the finish."""
        near = [piece for piece in self._row.pieces[:place][-2:] if not piece.text.isspace()]
        told = near[-1].text if near else ""
        return self._row.pieces[place].text in words.OF_KINDS and self._vocabulary.knows(told) and told in self._own

    def _is_person(self, place: int) -> bool:
        """Whether a word is the name of one who orders, or for whom a part is; not of one from whom it comes."""
        text = self._row.pieces[place].text
        before = next((piece.text for piece in self._before(place)[::-1] if piece.kind != "sign"), "")
        is_name = text in words.FIRST_NAMES and not self._vocabulary.is_known(text)
        return is_name and before not in words.COMING_FROM

    def _describes(self, place: int) -> bool:
        """Whether a word describes a thing that is no car."""
        return self._row.pieces[place].text in words.DESCRIBING and not self._is_of_car(place)

    def _is_of_car(self, place: int) -> bool:
        """Whether a word describes the car that stands behind it."""
        told = [piece for piece in self._row.pieces[place + 1 :] if piece.kind != "sign"][:1]
        is_car = any(piece.text in words.VEHICLES or piece.form == "nothing_name" for piece in told)
        return is_car and self._row.pieces[place].text in words.DESCRIBING

    def _is_headed(self) -> bool:
        """Whether a row begins with whom or what it is for, up to a colon before its first part."""
        before = list(takewhile(lambda piece: piece.kind != "part", self._row.pieces))
        first = next((piece.text for piece in before if piece.kind != "sign"), "")
        return first in words.INTRODUCING and any(piece.text == ":" for piece in before)

    def _place_before(self) -> int:
        """Where a colon stands behind the place on the engine that a row begins with; 0: nowhere."""
        head = list(takewhile(lambda piece: piece.kind != "part" and piece.text != ":", self._row.pieces))
        told = [piece.text for piece in head if piece.kind == "word"]
        is_place = bool(told) and words.PLACES.issuperset(told) and len(head) < len(self._row.pieces)
        return len(head) if is_place and self._row.pieces[len(head)].text == ":" else 0

    def _signs(self, place: int) -> bool:
        """Whether a word is written as a name is, at the end of the row."""
        end = " ".join(piece.text.capitalize() for piece in self._row.pieces[place:] if piece.kind == "word")
        return bool(re.search(rf"{_BEFORE_A_NAME}\s*{re.escape(end)}\W*$", self._row.text))

    def _is_strange(self, text: str, is_introduced: bool) -> bool:
        word = singular(text)
        if is_of(text, _DOUBTFUL):
            return False
        if word in self._own or text in self._own:
            return False
        if len(text) == 1:
            return text not in _LETTERS and (text not in AND or len(self._row.mentions) == 1)
        shortened = _SHORTENED.fullmatch(text)
        if shortened and shortened[1] in _USUAL:
            return False
        if word in _USUAL or text in _USUAL:
            return text not in words.EMPTY and self._tells_apart(word)
        if word in self._vocabulary.words_of_others:
            return bool(self._own & self._vocabulary.words_of_others) or not is_introduced
        return self._vocabulary.knows(word) or not is_introduced

    def _tells_apart(self, word: str) -> bool:
        """Whether another part is called as one of these, and by this word too."""
        if not self._vocabulary.is_known(word):
            return False
        tokens = self._row.tokens
        named = [
            frozenset(singular(token.text) for token in tokens[one.first : one.last]) for one in self._row.mentions
        ]
        return any(self._vocabulary.has_longer(own, word) for own in named)

    def _is_of_another(self, place: int) -> bool:
        """Whether a word names the thing that goes with the part, as a bracket for a hose; or nothing does."""
        piece = self._row.pieces[place]
        is_first = piece.text in words.OF_ANOTHER and not any(x.kind != "sign" for x in self._before(place))
        if is_first and not any(x.is_quantity for x in self._row.pieces):
            return True
        if piece.text in _USUAL or singular(piece.text) in _USUAL:
            return False
        between: list[str] = []
        for near in self._row.pieces[place + 1 :]:
            if near.kind == "part":
                return bool(words.OF_ANOTHER.intersection(between))
            if near.kind not in ("word", "sign") or near.text in _CLAUSE_ENDS:
                return False
            between.append(near.text)
        return False

    def _before(self, place: int) -> Sequence[Piece]:
        return self._row.pieces[:place]


def _sums_itself_up(row: Row) -> bool:
    """Whether a row tells its part, then a quantity that is marked, then its own sum in money."""
    told = [piece for piece in row.pieces if piece.kind != "sign"]
    sums = [place for place, piece in enumerate(told) if piece.text in words.SUMS]
    before, behind = told[: sums[0]], told[sums[0] + 1 :]
    kinds = [piece.kind for piece in before]
    is_counted = {"part", "mark"} <= set(kinds) or kinds[:2] == ["plain", "part"]
    is_sum = [piece.kind in ("money", "decimal") for piece in (*before[-1:], *behind[:1])]
    return len(sums) == 1 and is_counted and any(is_sum)


def _is_reference(row: Row) -> bool:
    """Whether a part of digits alone stands behind a word for an order or an invoice."""
    return any(
        one.first > 0
        and all(token.is_number for token in row.tokens[one.first : one.last])
        and row.tokens[one.first - 1].text in words.REFERENCES
        and ":" not in row.folded[row.tokens[one.first - 1].end : row.tokens[one.first].start]
        for one in row.mentions
    )


def _is_glued(row: Row, owns: Sequence[Own]) -> bool:
    """Whether letters, digits or joints stick to a part, so that it may be the beginning of another word."""
    text, tokens = row.folded, row.tokens
    spans = [(tokens[x.first].start, tokens[x.last - 1].end - 1, tokens[x.last - 1 : x.last + 1]) for x in row.mentions]
    added = {(left, right) for (_, left, _), (right, _, _) in pairwise(spans) if text[left + 1 : right] == "+"}
    begun, ended = {right for _, right in added}, {left for left, _ in added}
    return any(
        (first not in begun and _sticks(text, first, -1))
        or (last not in ended and _sticks(text, last, 1) and not _goes_on(following, owns))
        for first, last, following in spans
    )


def _goes_on(tokens: Sequence[Token], owns: Sequence[Own]) -> bool:
    """Whether a number and what sticks to it stand so in a name of the part, as "10mm" does."""
    is_measure = len(tokens) == _TWO and tokens[0].is_number and tokens[0].end == tokens[1].start
    return is_measure and bool(owns) and all(own.has_run([token.text for token in tokens]) for own in owns)


def _sticks(text: str, end: int, step: int) -> bool:
    near = text[end + step : end + step + 1] if end + step >= 0 else ""
    beyond = text[end + 2 * step : end + 2 * step + 1] if end + 2 * step >= 0 else ""
    if near == "'" and beyond == "s":
        return False
    if near == "s" and step > 0 and text[end : end + 1].isdigit():
        return beyond.isalnum()
    if near.isalnum():
        return not _is_times(text, end, step)
    return bool(near) and near in "-_./'+#@\\" and beyond.isalnum()


def _is_times(text: str, end: int, step: int) -> bool:
    """Whether what sticks to the beginning of a part is a number with an x."""
    return step < 0 and text[end - 1 : end] == "x" and text[end - 2 : end - 1].isdigit()
