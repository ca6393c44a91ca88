"""Clauses behind the parts of a row that tell of something else: a person, a car, where it goes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from service.reading import courtesies, words
from service.reading.amounts import Piece
from service.reading.folding import singular
from service.reading.vocabulary import Vocabulary

ENDS = frozenset(",;|()[]\t.!?:/")
_DASHES = frozenset("-")
_BEGINNING = frozenset({"because", "cos", "coz"})
_REASONS = words.words_of("as because cause cos coz since so for and weil da denn")
_WHOSE = words.words_of("the my our your his her their")
_PEOPLE = words.words_of("i we he she you who")
_LEADING = courtesies.INTRODUCING | words.words_of("because cos coz since when while after before at on")
_BEING = words.words_of("is are was were")
_MILD = words.words_of("out off nearly almost already around about still again")
"""What denies or leaves open, and may be said of anything."""
_OF_PARTS = words.OF_KINDS | words.words_of(
    "it they them these those this that one ones same such with must version variant design edition series type model "
    "shape pattern spec order quantity"
)
"""What may tell more of the part, or of how many."""
_LEAST, _LONG, _MOST_SUBJECT = 2, 3, 3
"""Words of a clause, of one that describes no part, and of what a clause tells of."""


@dataclass(frozen=True, slots=True)
class Asides:
    """The places of a row's pieces that tell of something else. `silent`: whatever they say; `strange`: where they say
    nothing that makes a row doubtful."""

    silent: frozenset[int]
    strange: frozenset[int]


def asides_of(pieces: Sequence[Piece], vocabulary: Vocabulary) -> Asides:
    """The asides among the pieces of a row."""
    silent: set[int] = set()
    strange: set[int] = set()
    for places in _behind_parts(pieces):
        said = [pieces[place].text for place in places if pieces[place].kind == "word"]
        if any(pieces[place].kind not in ("word", "sign", "nothing") for place in places) or len(said) < _LEAST:
            continue
        if any(vocabulary.knows(singular(word)) or word in words.DESCRIBING for word in said):
            continue
        is_told = said[0] in _LEADING or not (_PEOPLE | _WHOSE).isdisjoint(said)
        if _is_of_thing(said):
            silent.update(places)
        elif _OF_PARTS.isdisjoint(said) and (is_told or len(said) >= _LONG):
            strange.update(places)
    return Asides(frozenset(silent), frozenset(silent | strange))


def _behind_parts(pieces: Sequence[Piece]) -> Iterator[list[int]]:
    """The clauses behind the first part that name none, each by its places."""
    clause: list[int] = []
    is_behind = has_part = is_bracketed = False
    for place, piece in enumerate(pieces):
        if piece.kind == "part":
            is_behind = has_part = True
        is_bracketed = piece.text == "(" or (is_bracketed and piece.text != ")")
        if not ends_clause(pieces, place) or (is_bracketed and piece.text != "("):
            clause.append(place)
            continue
        if is_behind and clause and not has_part:
            yield clause
        clause, has_part = [place] if piece.kind == "word" else [], False
    if is_behind and clause and not has_part:
        yield clause


def ends_clause(pieces: Sequence[Piece], place: int) -> bool:
    """Whether a clause ends: a dash only between spaces, a word that begins the next one."""
    text = pieces[place].text
    if text in _BEGINNING:
        return True
    if pieces[place].kind != "sign" or text not in _DASHES:
        return pieces[place].kind == "sign" and text in ENDS
    return all(near.text.isspace() for near in (*pieces[max(place - 1, 0) : place], *pieces[place + 1 : place + 2]))


def _is_of_thing(said: Sequence[str]) -> bool:
    """Whether a clause tells what or where something is that is no part: "the car is on the lift"."""
    told = said[1:] if said[0] in _REASONS else said
    being = next((place for place, word in enumerate(told) if word in _BEING), 0)
    if not 0 < being <= _MOST_SUBJECT or not (_OF_PARTS | _PEOPLE).isdisjoint(told):
        return False
    return not words.any_of((*told[:being], *told[being + 1 :]), words.DOUBTFUL - _MILD)
