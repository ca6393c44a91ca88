"""A row that heads the rows below it, or closes those above it: what it makes doubtful of them."""

import re
from collections.abc import Sequence

from service.reading import courtesies, tables, words
from service.reading.amounts import Piece
from service.reading.clauses import ends_clause
from service.reading.company import tells_else
from service.reading.doubts import asks_to_send
from service.reading.folding import singular
from service.reading.meanings import ASKS, BOUGHT, HELD, HOW_MANY_EACH, MEANT, REPORTS, SHARED, TAKE_OFF, meaning
from service.reading.row import Row
from service.reading.vocabulary import Vocabulary

CHANGES = "do these rows change something, or order it?"
_GOING_ON = frozenset({"and", "so", "but", "und", "aber"})
_LISTING = words.ORDERING | {"needed", "required", "wanted", "following"}
_SMALL_TALK = re.compile(
    r"\bhow(?:'s|\s+(?:are|is|was))\s+(?:you|things|it\s+going|everything|business|life|(?:the|your)\s+\w+)\W*$"
    r"|\b(?:all|keeping|you)\s+(?:well|ok|okay|busy|open)\b|\bgot\s+a\s+(?:pen|minute|moment|sec)\b"
)
"""A question that asks nothing of the rows below it."""
_ASKING = re.compile(
    r"\W*(?:which|why|how|what\s+(?:about|do|does|is|are|would)|do\s+you|does|did|are|is)\b"
    r"|\W*(?:would|will|do|has|have|should|can|could)\s+(?:these|those|they|this|it|there|the)\b"
    r"|\W*(?:can|could)\s+you\s+get\s+(?:these|this)\W*$"
)
_CHANGING = re.compile(
    r"(?:^|[.!?;,]\s)\W*(?:(?:[a-z]+\s+){0,3}(?:changes?|amendments?|corrections?|updates?|anderung(?:en)?))"
    r"(?:\s+(?:please|to|for)\b[^:]*)?\W*$"
)
_POINTING = re.compile(r"\b(?:following|below|these|folgende\w*)\b")
_LED_IN = courtesies.GREETINGS - {"from"} | words.words_of("hope thank")
_CONFIRMED = re.compile(r"\W*(?:(?:your|our|purchase|sales)\s+)*order\s+confirmation\b|\W*auftragsbestatigung\b")
"""What heads an order that was taken."""
_OF_MAIL = words.words_of("reply replies answer answers response letter message email call confirmation")
_OF_LISTS = (
    courtesies.USUAL
    | words.DOUBTFUL
    | words.AMENDING
    | MEANT
    | courtesies.VEHICLES
    | words.words_of(
        "per pro every been this that what which whose list above below more none nothing everything second other "
        "until till further gets get quantities numbers amounts nur engine engines"
    )
)
_POINTS = re.compile(
    r"\b(?:all|everything|each|order|lot|list|quantit\w+|numbers|it|that|this|these|them|those|above)\b"
    r"|^\W*(?:but\s+)?(?:only\s+)?(?:if|unless|provided|subject|when|once)\b"
)
"""What means all that was ordered, or begins a condition for it."""
_CALLS_OFF = re.compile(
    r"\b(?:cancel\w*|storn\w*|annul\w*|withdraw|void|revoke|scrap|disregard|ignore|forget|stop|hold)\b\W+"
    r"(?:\w+\W+){0,3}?(?:all|everything|orders?|above|lot|list)\b"
    r"|\border\b\W+(?:\w+\W+){0,4}?(?:cancel\w*|storn\w*|void|withdrawn|on\s+hold)\b"
)
_JUST = re.compile(r"\b(?:only|just|first|not|no|this\s+is)\b")
_WORD = re.compile(r"[^\W\d_]+")
_LEADING = words.words_of("for to with by fur pour para voor zu zum mit as wie")
_ANCHORS = (
    words.ORDERING
    | words.LABELS
    | words.NUMBERED_PLACES
    | words.PLACES
    | words.REFERENCES
    | words.DESCRIBING
    | courtesies.VEHICLES
    | courtesies.JOBS
    | courtesies.TITLES
    | courtesies.OF_NAMES
    | courtesies.FIRST_NAMES
    | words.words_of(
        "also additionally plus and und restock store consumable fastener please bitte list lists orders ordering "
        "delivery collection stock shelf engine motor build race rally usual one ones thing stuff bit piece hardware "
        "spare extra needs needed wanted required today tomorrow week weekend monday tuesday wednesday thursday friday "
        "saturday sunday urgent express next first last section group system team shop garage boss liste bestellung "
        "auftrag commande pedido ordine teil werkstatt folgende following here i we want would sure eur currency "
        "brauchen brauche gern gerne kit material bedarf commandons commander voudrais quisiera pedir vorrei ordinare"
    )
)
"""What a heading of an order has."""
_MOST_ALONE = 3
_MOST_OWN = 2
_MOST_WORDS = 9


def is_heading(row: Row) -> bool:
    return row.folded.rstrip(" *_").endswith((":", "?"))


def heading_of(row: Row, vocabulary: Vocabulary) -> str:
    """What a row that heads others asks of the rows below it, nothing where it asks nothing: the last clause of one
    that ends with a colon, or a short line."""
    is_asking = bool(_ASKING.match(row.folded))
    if not is_heading(row):
        if not _is_line(row, _MOST_OWN):
            return ""
        if _is_record(row.words):
            return REPORTS
        asked = "" if tells_else(row, vocabulary) else meaning(row.pieces, vocabulary.is_known)
        is_asking = is_asking and len(row.words) <= _MOST_WORDS
        return "" if asked == HOW_MANY_EACH else asked or _unless(not is_asking and _is_anchored(row, vocabulary))
    if _SMALL_TALK.search(row.folded) or ("?" in row.folded and tells_else(row, vocabulary)):
        return ""
    if _is_record(row.words):
        return REPORTS
    if _CHANGING.search(row.folded):
        return CHANGES
    asked = meaning(_last_clause(row), vocabulary.is_known)
    is_question = row.folded.rstrip(" *_").endswith("?") or is_asking
    if asked or asks_to_send(row.text):
        return asked
    return _unless(not is_question and _is_anchored(row, vocabulary))


def _unless(is_plain: bool) -> str:
    return "" if is_plain else ASKS


def _is_anchored(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a heading has a word for an order, a thing, a person or a place, or what it is for: a word alone that is
    none of these may say anything of the rows below it."""
    is_named = any(word[:1].isupper() and not word.isupper() for word in _WORD.findall(row.text)[1:])
    return (
        is_named
        or len(row.words) > _MOST_ALONE
        or any(piece.kind == "nothing" for piece in row.pieces)
        or (bool(row.words) and row.words[0] in _LEADING)
        or any(
            word in _ANCHORS
            or singular(word.removesuffix("'s")) in _ANCHORS
            or vocabulary.is_known(word)
            or singular(word) in vocabulary.words_of_others
            for word in row.words
        )
    )


def changes_all(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a line says something of all that stands above it: it says little else, or points there."""
    plain = row.folded.rstrip()
    points = bool(_POINTS.search(plain))
    if _CALLS_OFF.search(plain) and not plain.endswith(":"):
        return True
    is_other = plain.endswith(":") or not row.kinds.isdisjoint(("money", "decimal"))
    if is_other or not _is_line(row, _MOST_OWN if points else 1):
        return False
    if tells_else(row, vocabulary):
        return False
    asked = meaning(row.pieces)
    is_counted = asked != HELD and any(piece.is_quantity for piece in row.pieces)
    is_of_one = is_counted or any(
        vocabulary.knows(singular(word)) and word not in _OF_LISTS | words.DESCRIBING for word in row.words
    )
    if plain.endswith("?"):
        return (points or len(row.words) == 1) and (asked == ASKS or bool(_ASKING.match(plain)) or len(row.words) == 1)
    if asked in (ASKS, BOUGHT):
        return bool(_JUST.search(plain))
    return asked == SHARED or (asked in (TAKE_OFF, REPORTS, HELD) and not is_of_one)


def _is_line(row: Row, most_own: int) -> bool:
    """Whether a row may say something of those beside it: it is short, or has a word for what stands below, and is no
    sentence about something else. `most_own`: so many words it may have that no orders have."""
    plain = row.folded.strip()
    if not row.words or plain.endswith((",", ";")) or tables.is_of_cells(plain) or _CONFIRMED.match(plain):
        return False
    is_led_in = row.words[0] in _LED_IN and (row.words[0] != "sent" or row.words[1:2] == ["from"])
    is_of_mail = "your" in row.words and not _OF_MAIL.isdisjoint(row.words)
    is_address = any(piece.form in ("nothing_phone", "nothing_address") for piece in row.pieces)
    if is_led_in or is_of_mail or is_address or tables.header_of(row.text):
        return False
    if most_own and _POINTING.search(plain):
        return True
    own = [word for word in row.words if len(word) > 1 and not words.is_of(word, _OF_LISTS)]
    return len(row.words) <= _MOST_WORDS and len(own) <= most_own


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
    return last if is_bidding or any(text in _LISTING for text in told) else row.pieces
