"""A row that heads the rows below it: what it makes doubtful of them."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise, takewhile

from service.reading import courtesies, words
from service.reading.amounts import Piece
from service.reading.clauses import ends_clause
from service.reading.doubts import asks_to_send
from service.reading.row import Row

HOW_MANY_EACH = "how many of each are meant?"
REPORTS = "do these rows tell of something and order nothing?"
TAKE_OFF = "do these rows take something off?"
_NO_REPORTS = frozenset({"is", "are", "am", "be", "was", "do", "does", "have", "has", "attached", "mentioned", "again"})
_WEAK = words.SPOILT | words.words_of("instead rather lost missing sorry error mistake typo yesterday earlier last")
"""What takes nothing off, and tells of nothing, where a heading orders."""
_HAVING = frozenset({"with", "mit", "avec", "con"})
_GOING_ON = frozenset({"and", "so", "but", "und", "aber"})
_WHO = frozenset({"i", "we", "he", "she", "they", "customer", "wir", "ich"})
_AFTER_NEEDS = courtesies.HARMLESS - words.ORDERING - _WHO
_LISTING = words.ORDERING | {"needed", "required", "wanted", "following"}
_TIMES = words.words_of("double triple twice thrice half")
_DONE_WITH = words.words_of("picked collected delivered shipped sent dispatched despatched invoiced billed fitted")
"""What is done with what was ordered."""
_ITS = frozenset({"your", "our", "the"})
_SHARING = frozenset({"per", "each", "every", "je", "pro", "par"})
_SMALL_TALK = re.compile(
    r"\bhow(?:'s|\s+(?:are|is|was))\s+(?:you|things|it\s+going|everything|business|life|(?:the|your)\s+\w+)\W*$"
    r"|\b(?:all|keeping|you)\s+(?:well|ok|okay|busy|open)\b|\bgot\s+a\s+(?:pen|minute|moment|sec)\b"
)
"""A question that asks nothing of the rows below it."""
_ASKING = re.compile(r"\W*(?:which|why|how\s+(?:many|much|about)|do\s+you|does|did|are|is)\b")
_OF_CARS = courtesies.VEHICLES | {"side", "bank", "engine", "build", "kit", "set", "seite", "motor"}


def is_heading(row: Row) -> bool:
    return row.folded.rstrip(" *_").endswith((":", "?"))


def heading_of(row: Row) -> str:
    """What the last clause of a row that ends with a colon asks of the rows below it, nothing where it asks nothing."""
    if not is_heading(row) or _SMALL_TALK.search(row.folded):
        return ""
    pieces = _last_clause(row)
    written = list(_without_terms([*words.without_idle([piece.text for piece in pieces if piece.kind == "word"])]))
    if _is_record(row.words):
        return REPORTS
    weak = _WEAK if words.any_of(written, words.ORDERING) else frozenset[str]()
    if words.any_of(_taking_off(written), words.DENIALS - weak):
        return TAKE_OFF
    if words.any_of(written, words.REPORTS - _NO_REPORTS - weak):
        return REPORTS
    if words.any_of(written, words.NO_SALES):
        return "are these bought?"
    told = [piece for piece in pieces if piece.is_quantity or piece.kind == "odd"]
    is_shared = any(one in _SHARING and other in _OF_CARS for one, other in pairwise(written))
    if (
        is_shared
        or words.any_of(written, _TIMES)
        or ([piece.value for piece in told] not in ([], [1]) and words.any_of(written, words.SETS))
    ):
        return "for how many are these?"
    is_question = row.folded.rstrip(" *_").endswith("?") or bool(_ASKING.match(row.folded))
    is_asked = is_question and not asks_to_send(row.text)
    if is_asked or words.any_of(written, words.LEAVING_OPEN):
        return "are these rows an order or a question?"
    if [piece.value for piece in told] == [1] and not words.any_of(written, words.OTHER_NUMBERS):
        return ""
    return HOW_MANY_EACH if told or words.any_of(written, words.OTHER_NUMBERS | {"each"}) else ""


def _without_terms(written: Sequence[str]) -> Iterator[str]:
    """The words of a heading but what an order goes by ("as per your quotation") and what is to be done with it ("to be
    picked up")."""
    place = 0
    while place < len(written):
        first, second, third = (*written[place : place + 3], "", "")[:3]
        if (first == "per" and second in _ITS) or ((first, second) == ("to", "be") and third in _DONE_WITH):
            place += 3
        else:
            yield first
            place += 1


def _taking_off(written: Sequence[str]) -> Iterator[str]:
    """The words of a heading but the return of fuel that a car is said to have ("with the return"), and replacement
    parts."""
    for place, word in enumerate(written):
        is_had = word == "return" and not _HAVING.isdisjoint(written[max(place - 2, 0) : place])
        if not is_had and not (word == "replacement" and written[place + 1 : place + 2] == ["parts"]):
            yield word


def _is_record(written: Sequence[str]) -> bool:
    """Whether a heading names a paper that tells of an order, as an invoice, and neither orders nor addresses it."""
    is_record = words.any_of(written, words.RECORDS)
    return is_record and not words.any_of(written, words.ORDERING | words.OF_ADDRESSES)


def _last_clause(row: Row) -> Sequence[Piece]:
    """The last clause of a row where it is one that orders; else the whole row."""
    inner = range(len(row.pieces) - 1)
    ends = [at for at in inner if ends_clause(row.pieces, at) or row.pieces[at].text in _GOING_ON]
    last = row.pieces[ends[-1] :] if ends else row.pieces
    told = [piece.text for piece in last if piece.kind == "word"]
    is_bidding = ("please" in told and told[-1] != "please") or (
        last[0].text == "so" and told[1:2] not in ([], ["far"])
    )
    return _asking_end(last if is_bidding or any(text in _LISTING for text in told) else row.pieces)


def _asking_end(pieces: Sequence[Piece]) -> Sequence[Piece]:
    """The end of a row that is what somebody needs, as "we need these"; else the whole row."""
    told = [(at, piece.text) for at, piece in enumerate(pieces) if piece.kind == "word"]
    behind = list(takewhile(lambda one: one[1] in _AFTER_NEEDS, told[::-1]))
    before = told[: len(told) - len(behind)]
    is_need = len(before) > 1 and before[-1][1] in words.ORDERING and before[-2][1] in _WHO
    return pieces[before[-2][0] :] if is_need else pieces
