"""Clauses behind the parts of a row that tell of something else: a person, a car, where it goes."""

import re
from collections.abc import Iterator, Sequence
from itertools import dropwhile, pairwise, takewhile

from service.reading import words
from service.reading.amounts import Piece, pieces_of
from service.reading.casting import OPEN, is_form_of
from service.reading.folding import singular
from service.reading.vocabulary import Vocabulary

_ENDS = frozenset(",;|()[]\t.!?/")
_JOINING = words.words_of("and but because cos coz as since so")
_PEOPLE = words.words_of("i we he she you customer client boss owner wife husband mechanic driver")
_WHOSE = words.words_of("the my our your his her their a this")
_BEING = words.words_of("is are was were")
IDLE = _BEING | words.words_of("be been am has have had having do does did who where still again out off nearly about")
"""What is said of anybody, or of anything that is somewhere or somehow."""
_ORDERING = words.ORDERING | {"please"}
_SO = re.compile(
    rf"[,;.\-]\s+(?:so|therefore|hence|thus)(?:\s+\w+){{0,2}}\s+(?:take|give|{'|'.join(sorted(_ORDERING))})\b"
)
_SUBJECTS = words.words_of("i we he she customer client kunde and so und please")
_ADVERBS = words.words_of("also now urgently just only still therefore would will")
_SOMETIMES = OPEN | words.words_of(
    "next until till case once then later provided granted normally usually typically generally often always before "
    "after one day hardly barely"
)
"""What says that an order may come, or comes now and then."""
_OF_ANOTHER = words.OF_ANOTHER - {"of"}
_TWO = 2
_OF_CHOICE = (
    (words.ORDERING | words.OF_KINDS | words.REFERENCES | words.RECORDS)
    | words.words_of(
        "it they them these those this that one ones part parts item items rest enough only just must i'd we'd"
    )
    | words.words_of(
        "prefer prefers like likes use uses run runs fit fits take takes get gets buy buys choose pick mean"
    )
)
"""What may tell more of the part, of how many, or that another one is meant."""


def lead_of(pieces: Sequence[Piece]) -> int:
    """The place at which an order begins behind a story: "he is on his way and needs 2 ..."; 0 without a story."""
    before = [*takewhile(lambda piece: piece.kind != "part", pieces)]
    ordering = [place for place, piece in enumerate(before) if piece.text in _ORDERING]
    told = before[ordering[-1] + 1 :] if ordering else []
    if not any(piece.is_quantity for piece in told) or any(piece.text in _OF_ANOTHER for piece in told):
        return 0
    leading = [piece.text for piece in before[: ordering[-1]] if piece.kind == "word"]
    subject = [*dropwhile(lambda text: text in _ADVERBS, leading[::-1])]
    is_thing = len(subject) == _TWO and subject[1] in _WHOSE and before[ordering[-1]].text.endswith("s")
    is_asked = before[ordering[-1]].text == "please" or is_thing or bool(_SUBJECTS.intersection(subject[:1]))
    is_certain = not any(is_form_of(text, _SOMETIMES) for text in leading) and IDLE.isdisjoint(leading[:1])
    return ordering[-1] if is_asked and is_certain else 0


def reason_of(pieces: Sequence[Piece]) -> int:
    """The place at which a reason ends, as in "it does not matter to him, so take 2 ..."; 0 without one."""
    before = [*takewhile(lambda piece: piece.kind != "part", pieces)]
    text = "".join(piece.text for piece in before)
    found = _SO.search(text)
    return 0 if found is None or words.any_of(_said(before), words.QUESTIONS) else len(pieces_of(text[: found.start()]))


def _said(pieces: Sequence[Piece]) -> list[str]:
    return [piece.text for piece in pieces if piece.kind == "word"]


def asides_of(pieces: Sequence[Piece], own: frozenset[str], vocabulary: Vocabulary) -> frozenset[int]:
    """The places of such clauses on a row that tells how many; `own`: the words of all that its parts are called."""
    if not any(piece.is_quantity for piece in pieces):
        return frozenset()
    first = next((place for place, piece in enumerate(pieces) if piece.kind == "part"), len(pieces))
    ends = [place for place in range(first, len(pieces)) if ends_clause(pieces, place)]
    found: set[int] = set()
    for begin, end in pairwise((*ends, len(pieces))):
        told = pieces[begin:end]
        said = [piece.text for piece in told if piece.kind == "word"]
        is_of_words = all(piece.kind in ("word", "sign", "nothing") for piece in told)
        if is_of_words and _tells_of_other(said) and not any(_may_be_of_part(x, own, vocabulary) for x in said):
            found.update(range(begin, end))
    return frozenset(found)


def ends_clause(pieces: Sequence[Piece], place: int) -> bool:
    """Whether a clause ends: a dash only between spaces, a word that begins the next one."""
    text = pieces[place].text
    if pieces[place].kind != "sign" or text != "-":
        return text in _ENDS or text == "because"
    return all(near.text.isspace() for near in (*pieces[max(place - 1, 0) : place], *pieces[place + 1 : place + 2]))


def _tells_of_other(said: Sequence[str]) -> bool:
    """Whether a clause begins with somebody who does something, or with a thing that is somewhere or somehow, and says
    nothing of what is chosen."""
    told = said[1:] if said and said[0] in _JOINING else said
    if len(told) <= 1 or words.any_of(told, _OF_CHOICE) or any(word.endswith("ed") for word in told):
        return False
    is_thing = told[0] in _WHOSE and not _BEING.isdisjoint(told[2:4])
    subject = told[1] if told[0] in _WHOSE else told[0].partition("'")[0]
    return is_thing or subject in _PEOPLE


def _may_be_of_part(word: str, own: frozenset[str], vocabulary: Vocabulary) -> bool:
    is_known = vocabulary.knows(singular(word)) and vocabulary.is_of_like(own, word)
    return is_known or word in words.DESCRIBING


def clauses_of(pieces: Sequence[Piece]) -> Iterator[Sequence[Piece]]:
    """The clauses of a row, without the signs that end them."""
    begun = 0
    for place in range(len(pieces) + 1):
        if place == len(pieces) or ends_clause(pieces, place):
            if place > begun:
                yield pieces[begun:place]
            begun = place + 1
