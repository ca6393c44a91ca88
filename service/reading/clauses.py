"""The clauses of a row, and where an order begins behind a story."""

from collections.abc import Iterator, Sequence
from itertools import dropwhile, takewhile

from service.reading import words
from service.reading.amounts import Piece
from service.reading.casting import OPEN, is_form_of

_ENDS = frozenset(",;|()[]\t.!?/")
_WHOSE = words.words_of("the my our your his her their a this")
IDLE = words.words_of(
    "is are was were be been am has have had having do does did who where still again out off nearly about"
)
"""What is said of anybody, or of anything that is somewhere or somehow."""
_ORDERING = words.ORDERING | {"please"}
_SUBJECTS = words.words_of("i we he she customer client kunde and so und please")
_ADVERBS = words.words_of("also now urgently just only still therefore would will like want to")
_SOMETIMES = OPEN | words.words_of(
    "next until till case once then later provided granted normally usually typically generally often always before "
    "after one day hardly barely"
)
"""What says that an order may come, or comes now and then."""
_OF_ANOTHER = words.OF_ANOTHER - {"of"}
_TWO = 2


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


def ends_clause(pieces: Sequence[Piece], place: int) -> bool:
    """Whether a clause ends: a dash only between spaces, a word that begins the next one."""
    text = pieces[place].text
    if text == "." and pieces[place - 1 : place] and pieces[place - 1].text in ("no", "nr"):
        return False
    if pieces[place].kind != "sign" or text != "-":
        return text in _ENDS or text == "because"
    return all(near.text.isspace() for near in (*pieces[max(place - 1, 0) : place], *pieces[place + 1 : place + 2]))


def clauses_of(pieces: Sequence[Piece]) -> Iterator[Sequence[Piece]]:
    """The clauses of a row, without the signs that end them."""
    begun = 0
    for place in range(len(pieces) + 1):
        if place == len(pieces) or ends_clause(pieces, place):
            if place > begun:
                yield pieces[begun:place]
            begun = place + 1
