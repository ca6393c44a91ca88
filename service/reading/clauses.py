"""Clauses behind the parts of a row that tell of something else: a person, a car, where it goes."""

from collections.abc import Sequence
from itertools import pairwise

from service.reading import words
from service.reading.amounts import Piece
from service.reading.folding import singular
from service.reading.vocabulary import Vocabulary

_ENDS = frozenset(",;|()[]\t.!?/")
_JOINING = words.words_of("and but because cos coz as since so")
_PEOPLE = words.words_of("i we he she you customer client boss owner wife husband mechanic driver")
_WHOSE = words.words_of("the my our your his her their")
_BEING = words.words_of("is are was were")
IDLE = _BEING | words.words_of("be been am has have had having do does did who where still again out off nearly about")
"""What is said of anybody, or of anything that is somewhere or somehow."""
_SO = words.words_of("so therefore hence thus")
_BIDDING = words.ORDERING | words.words_of("take please give we i")
_SOON = 6
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


def reason_of(pieces: Sequence[Piece]) -> range:
    """The places of a clause before the parts that tells why they are ordered: "it does not matter, so take 2 ..."."""
    for place in range(1, len(pieces)):
        if pieces[place].kind == "part":
            break
        behind = [piece.text for piece in pieces[place + 1 : place + _SOON] if piece.kind == "word"]
        is_so = pieces[place].text in _SO and pieces[place - 1].text.isspace() and pieces[place - 2].text in ",;.-"
        if is_so and not _BIDDING.isdisjoint(behind) and not words.any_of(_said(pieces[:place]), words.QUESTIONS):
            return range(place)
    return range(0)


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
