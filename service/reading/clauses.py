"""Clauses behind the parts of a row that tell of something else: a person, a car, where it goes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from service.reading import words
from service.reading.amounts import Piece
from service.reading.folding import singular
from service.reading.vocabulary import Vocabulary

_ENDS = frozenset(",;|()[]\t.!?/")
_DASHES = frozenset("-")
_BEGINNING = frozenset({"because", "cos", "coz"})
_JOINING = words.words_of("and but because cos coz as since so")
_PEOPLE = words.words_of("i we he she you customer client boss owner wife husband mechanic driver")
_WHOSE = words.words_of("the my our your his her their")
_BEING = words.words_of("is are was were")
AUXILIARIES = _BEING | words.words_of("be been am has have had having do does did who where still again")
_MILD = words.words_of("out off nearly almost around about")
"""What is said of anything that is somewhere or somehow."""
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
_LEAST = 2
"""Words of a clause."""


@dataclass(frozen=True, slots=True)
class Asides:
    """The places of a row's pieces that tell of something else. `strange`: whose words say nothing of a part, whatever
    they are; `mild`: those of them that report or deny anything, and here nothing of a part."""

    strange: frozenset[int]
    mild: frozenset[int]


def asides_of(pieces: Sequence[Piece], own: frozenset[str], vocabulary: Vocabulary) -> Asides:
    """The asides among the pieces of a row that tells how many; `own`: the words of all that its parts are called."""
    strange: set[int] = set()
    mild: set[int] = set()
    if not any(piece.is_quantity for piece in pieces):
        return Asides(frozenset(), frozenset())
    for places in _behind_parts(pieces):
        said = [pieces[place].text for place in places if pieces[place].kind == "word"]
        if any(pieces[place].kind not in ("word", "sign", "nothing") for place in places) or len(said) < _LEAST:
            continue
        if not _tells_of_other(said):
            continue
        if any(word in words.DESCRIBING or _may_be_of_part(word, own, vocabulary) for word in said):
            continue
        strange.update(places)
        known = AUXILIARIES if _BEING.isdisjoint(said) else AUXILIARIES | _MILD
        mild.update(place for place in places if words.is_of(pieces[place].text, known))
    return Asides(frozenset(strange), frozenset(mild))


def _tells_of_other(said: Sequence[str]) -> bool:
    """Whether a clause begins with somebody who does something, or with a thing that is somewhere or somehow, and says
    nothing of what is chosen."""
    told = said[1:] if said[0] in _JOINING else said
    if not told or words.any_of(told, _OF_CHOICE) or any(word.endswith("ed") for word in told):
        return False
    is_thing = told[0] in _WHOSE and not _BEING.isdisjoint(told[2:4])
    subject = told[1:2] if told[0] in _WHOSE else [told[0].partition("'")[0]]
    return is_thing or not _PEOPLE.isdisjoint(subject)


def _may_be_of_part(word: str, own: frozenset[str], vocabulary: Vocabulary) -> bool:
    return vocabulary.knows(singular(word)) and vocabulary.is_of_like(own, word)


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
        return pieces[place].kind == "sign" and text in _ENDS
    return all(near.text.isspace() for near in (*pieces[max(place - 1, 0) : place], *pieces[place + 1 : place + 2]))
