"""Whether a line beside rows is about them: what is said of rows is said in few words, of a thing of its own in its."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from service.reading import courtesies, words
from service.reading.amounts import Piece
from service.reading.casting import casts
from service.reading.clauses import ends_clause
from service.reading.common import is_english
from service.reading.folding import singular
from service.reading.meanings import HOW_MANY_EACH, MEANT, meaning
from service.reading.row import Row
from service.reading.vocabulary import Vocabulary

_OF_OTHERS: Final = words.words_of(
    "post mail email phone phoned telephone telephoned texted truck lorry courier postage carrier account site home "
    "neighbour meet meeting met name drive drove picture photo photograph image video page website news rally race "
    "tyre smoke smell taste snow weather restoration purchasing bookkeeper competition website town reg neighbour call "
    "calling meetings heat heating fair stand address newsletter"
)
"""What is usual in letters, or casts doubt on its own row, and is no word for rows of an order."""
_OF_ROWS: Final = words.words_of(
    "anybody anyone anyway behind being beside certain come comes coming doing down during ever fine further goes "
    "great into lying mine often onto quite really remainder still sure thing things through together toward via way "
    "whole bay christmas column count crash easter email holiday line lines maker manager night owner rack release "
    "requisition row schedule sheet shelf storage store storeroom supplier time winter year"
)
"""What any sentence has, and what rows are called, where they lie, whose they are, and when they are to come."""
_POINTING: Final = words.words_of(
    "these those them following below above lot list order orders ordered everything goods items rows lines positions "
    "parts quantities diese dieser folgende these"
)
_KNOWN: Final = (
    MEANT
    | words.DOUBTFUL
    | words.AMENDING
    | words.DESCRIBING
    | words.RECORDS
    | words.REFERENCES
    | words.ORDERING
    | words.CALLED_OFF
    | words.OF_ADDRESSES
    | words.NUMBERS.keys()
    | set(words.MONTHS.split("|"))
    | set(words.PIECES.split("|"))
    | courtesies.USUAL
    | courtesies.VEHICLES
    | courtesies.FIRST_NAMES
    | courtesies.TITLES
    | courtesies.GREETINGS
    | _OF_ROWS
) - _OF_OTHERS
_DENYING: Final = words.words_of("no without kein keine keinen ohne sans not")
_PASSED: Final = words.words_of("a an the any more extra need for")
_COUNTING: Final = _DENYING | words.words_of("half double twice each every any all more")
_OF_SENTENCES: Final = words.words_of(
    "is are was were has have had do does did will would can could i we you he she it they me us him her them my our "
    "your his their what which how who where why"
)
"""What a whole sentence has."""
_OF_ORDER: Final = re.compile(
    r"^\W*(?:this|that|it)\s+(?:is|was|has|came|will|can)\b|\bas\s+many\b"
    r"|^\W*(?:the\s+)?\w+\s+(?:cancell?ed|withdrawn|stopped)\W*$|\b(?:needs?|wants?)\s+(?:none|no|fewer|less|nothing)\b"
    r"|\b(?:has|have|had)\s+(?:\w+\s+)?(?:\w+ed|paid|withdrawn)\W*(?:$|[,.;:])"
)
"""What is said of an order, whoever says or does it."""
_LED_BY: Final = words.words_of("please but all now only just since the a an more further")
_MOST_OF_ELLIPSIS: Final = 6
_GOES_ON: Final = words.words_of("the a an in by at on with via from")
"""What stands behind the "not" of "X, not Y"."""
_ALONE: Final = words.words_of("sorry otherwise oops so but and well no yes ok okay apologies")
"""What a sentence begins with, whatever it is about."""
_ON_CONDITION = re.compile(
    r"\W*(?:but\s+|only\s+)*(?:if|unless|once|when|until|after|should|provided|assuming|in\s+case|as\s+(?:long|soon)\s+as)\b"
)
"""What begins a condition: one that stands alone is for the rows beside it."""
_TO_BE_TOLD = re.compile(
    r"(?<!don't )(?<!not )(?<!'ll )(?<!will )(?<!you )\b(?:advise|tell|inform|let|confirm|call|ring|know|contact)\b"
    r".*\b(?:when|if|whether|how|once|what)\b"
    r"|\b(?:if|when|missing|\?)\b.*\b(?:advise|tell|inform|let|call|ring|know|contact)\b"
    r"|\b(?:if|when|should)\b.*\b(?:leave\s+(?:it|them|the\s+\w+)\s+(?:with|at|in|by|behind|next|under|round)|sign\s+for|put\s+(?:it|the\s+\w+)\s+(?:in|under|behind)"
    r"|knock|ring|shout|bell|neighbour|my\s+(?:son|wife|husband|mother|father|daughter)\s+(?:will|takes|can))\b"
    r"|\b(?:falls|wenn|sollte)\b.*\b(?:anrufen|melden|bescheid|info|sagen|mailen)\b"
    r"|\b(?:sorry|apologies|apologi[sz]e)\s+(?:for|about|to)\b"
)
"""What asks for a word, or regrets something, and changes nothing."""
_ONLY_SO_MANY = re.compile(
    rf"\b(?:only|just)\s+(?:\d+|{'|'.join(words.NUMBERS)})\s+of\s+(?:these|those|them|it|the)\b"
    r"|\b(?:last|first|second|third)\s+of\s+(?:these|those|them)\b.*\d"
)
_TIED = re.compile(r"\W*(?:but\s+)?(?:if|when|should)\b[^,]*,(?P<rest>.*\w.*)")
_UPON = re.compile(
    r"\b(?:these|those|them|everything|all\s+of|order|list|lot|leave|forget|cancel|drop|skip|scrap|not|don't|no|only|"
    r"take|double|need|want|i'll|we'll)\b"
)
"""What is done with an order on a condition."""
_NAME = re.compile(r"(?<=[^.!?:\s]\s)[A-Z][a-z]\w*")


def tells_else(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a line is about something else than rows of an order: it has a common word for it, points at no rows,
    and none of its clauses says of them what would make them doubtful."""
    strange = {id(piece) for piece in row.pieces if _is_foreign(piece, row, vocabulary)}
    if not _POINTING.isdisjoint(row.words) or _OF_ORDER.search(row.folded):
        return False
    if not strange or is_to_be_told(row):
        return is_to_be_told(row)
    clauses = [*_clauses(row)]
    if len(clauses) == 1 and (_ON_CONDITION.match(row.folded) or _is_elliptic(row, vocabulary)):
        return False
    own = (clause for clause in clauses if strange.isdisjoint(map(id, clause)))
    return all(meaning(clause) in ("", HOW_MANY_EACH) for clause in own)


def has_other_things(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a line names something that no row of an order is spoken of with."""
    return any(_is_foreign(piece, row, vocabulary) for piece in row.said)


def is_to_be_told(row: Row) -> bool:
    """Whether a line asks for a word, or regrets something, and means no rows."""
    return bool(_TO_BE_TOLD.search(row.folded)) and _POINTING.isdisjoint(row.words)


def _is_elliptic(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a line has no verb and nobody of its own, and does not begin with something else: "rescinded by the
    buyer", "in the cupboard already", "not for the baker"."""
    told = [piece for piece in row.pieces if piece.kind == "word" and piece.text not in _LED_BY]
    if not 0 < len(told) <= _MOST_OF_ELLIPSIS or not _OF_SENTENCES.isdisjoint(row.words):
        return False
    first = told[1:2] if told[0].text in _COUNTING else told[:1]
    return not any(_is_foreign(piece, row, vocabulary) for piece in first)


def kinds_denied(row: Row, vocabulary: Vocabulary) -> frozenset[str]:
    """The words of the catalog that a line denies: "no gauge on this car"."""
    told = [word for word in row.words if word not in _PASSED]
    return frozenset(
        singular(other)
        for one, other in pairwise(told)
        if one in _DENYING and vocabulary.knows(singular(other)) and other not in _KNOWN and not casts(other)
    )


def _is_foreign(piece: Piece, row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a word is a common one, and of none that rows are spoken of with."""
    word = piece.text
    if word in _OF_OTHERS:
        return True
    if piece.kind != "word" or len(word) <= 2 or word in _KNOWN or singular(word) in _KNOWN or "'" in word:
        return False
    is_word = is_english(word) or is_english(singular(word))
    return is_word and not casts(word) and not vocabulary.is_known(word) and word not in _names(row)


def _names(row: Row) -> frozenset[str]:
    return frozenset(name.lower() for name in _NAME.findall(row.text))


def _clauses(row: Row) -> Iterator[Sequence[Piece]]:
    """The clauses of a row: "X, not Y" is one, and what only begins a sentence is none."""
    pieces = row.pieces
    begun = 0
    for place in range(len(pieces) + 1):
        if place < len(pieces) and not (ends_clause(pieces, place) or pieces[place].text in ("so", "because")):
            continue
        following = [piece.text for piece in pieces[place:] if piece.kind == "word"][:2]
        if following[:1] == ["not"] and _GOES_ON.issuperset(following[1:]) and place < len(pieces) and begun < place:
            continue
        clause = pieces[begun:place]
        begun = place + 1
        if not _ALONE.issuperset(piece.text for piece in clause if piece.kind == "word"):
            yield clause


def depends_otherwise(row: Row) -> bool:
    """Whether a line says upon what something else depends than the rows: "if it is heavy, send it by carrier"."""
    found = _TIED.match(row.said_text)
    return found is not None and not _UPON.search(found["rest"])


def only_so_many(row: Row) -> bool:
    """Whether a line tells how many of a row it is to be: "only one of these"."""
    return bool(_ONLY_SO_MANY.search(row.said_text))
