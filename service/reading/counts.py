"""Numbers of a row that count something else than its parts: cars, or things that no part is called."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from service.reading import courtesies, words
from service.reading.amounts import Piece
from service.reading.casting import casts
from service.reading.common import is_common
from service.reading.folding import singular
from service.reading.subjects import is_noun
from service.reading.vocabulary import Vocabulary

_KNOWN_ONES = words.words_of("the these those my our his her their")
_BETWEEN = frozenset(",;&+") | courtesies.AND
_NO_THINGS = (
    (words.DOUBTFUL - words.SETS) | words.DESCRIBING | words.AMENDING | words.LABELS | courtesies.USUAL
) - courtesies.EMPTY
_MOST_WORDS = 5


def without_cars(pieces: Sequence[Piece], vocabulary: Vocabulary) -> tuple[Piece, ...]:
    """The pieces, where another number counts the parts, with that of known cars as none: "for the two Alders"."""
    told = [place for place, piece in enumerate(pieces) if not piece.text.isspace()]
    found = {
        place
        for before, place, behind in zip(told, told[1:], told[2:], strict=False)
        if pieces[place].is_quantity
        and pieces[before].text in _KNOWN_ONES
        and (_is_of_car(pieces[behind], vocabulary) or _is_of_other(pieces[behind], vocabulary))
    }
    if not any(piece.is_quantity for place, piece in enumerate(pieces) if place not in found):
        return tuple(pieces)
    return tuple(replace(piece, kind="nothing") if at in found else piece for at, piece in enumerate(pieces))


def _is_of_other(piece: Piece, vocabulary: Vocabulary) -> bool:
    """Whether a word names several things that no part is called."""
    name = singular(piece.text)
    return name != piece.text and is_common(piece.text) and not vocabulary.is_known(name) and is_noun(name)


def _is_of_car(piece: Piece, vocabulary: Vocabulary) -> bool:
    name = singular(piece.text)
    is_car = piece.form == "nothing_name" or name in vocabulary.words_of_others
    return is_car and not vocabulary.is_known(name)


def without_others(
    pieces: Sequence[Piece], own: frozenset[str], parts: int
) -> tuple[tuple[Piece, ...], tuple[int, ...]]:
    """The pieces without things that no part is called ("2 hoses and 4 tool kits"), and how many of each."""
    ends = [place for place, piece in enumerate(pieces) if piece.text in _BETWEEN]
    others = [
        (begin, end) for begin, end in pairwise((*ends, len(pieces))) if _is_of_others(pieces[begin + 1 : end], own)
    ]
    left = [piece for at, piece in enumerate(pieces) if not any(begin <= at < end for begin, end in others)]
    if not others or sum(piece.is_quantity for piece in left) < parts:
        return tuple(pieces), ()
    counted = (next(piece.value for piece in pieces[begin:end] if piece.is_quantity) for begin, end in others)
    return tuple(left), tuple(counted)


def _is_of_others(pieces: Sequence[Piece], own: frozenset[str]) -> bool:
    """Whether a clause is a number and several things, none of which is a word of the row's parts."""
    told = [piece for piece in pieces if piece.kind != "sign"]
    said = [piece.text for piece in told[1:]]
    if (
        not told
        or not told[0].is_quantity
        or any(piece.kind != "word" for piece in told[1:])
        or len(said) > _MOST_WORDS
    ):
        return False
    things = said[: next((at for at, word in enumerate(said) if word in words.OF_ANOTHER), len(said))]
    is_named = any(word not in words.SETS for word in things) and things[-1] != singular(things[-1])
    return (
        is_named
        and not any(word in _NO_THINGS or casts(word) for word in things)
        and own.isdisjoint(map(singular, things))
    )
