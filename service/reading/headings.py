"""A row that heads the rows below it, or closes those above it: what it makes doubtful of them."""

import re
from collections.abc import Sequence
from typing import Self

from service.reading import courtesies, tables, words
from service.reading.again import names_kinds
from service.reading.amounts import Piece, pieces_of
from service.reading.clauses import clauses_of, ends_clause
from service.reading.common import is_english
from service.reading.company import depends_otherwise, has_other_things, is_to_be_told, only_so_many, tells_else
from service.reading.doubts import asks_to_send
from service.reading.folding import folded, singular
from service.reading.meanings import ASKS, BOUGHT, HELD, HOW_MANY_EACH, MEANT, REPORTS, SHARED, TAKE_OFF, meaning
from service.reading.row import Row
from service.reading.sayings import saying_in
from service.reading.subjects import subject_of
from service.reading.vocabulary import Vocabulary

CHANGES = "do these rows change something, or order it?"
_GOING_ON = frozenset({"and", "so", "but", "und", "aber"})
_LISTING = words.ORDERING | {"needed", "required", "wanted", "following", "new"}
_SMALL_TALK = re.compile(
    r"\bhow(?:'s|\s+(?:are|is|was))\s+(?:you|things|it\s+going|everything|business|life|(?:the|your)\s+\w+)\W*$"
    r"|\banything\s+(?:else|more)\b|\bis\s+that\s+(?:all|it|everything)\b|\bstill\s+there\s*\?"
    r"|\bcould\s+(?:these|this|it|they|the\s+\w+)\s+(?:please\s+)?(?:go|be\s+(?:sent|shipped|posted|on|here|ready|delivered|with)|come|leave|reach|arrive|get)\b"
    r"|\b(?:all|keeping|you)\s+(?:well|ok|okay|busy|open)\b|\bgot\s+a\s+(?:pen|minute|moment|sec)\b"
)
"""A question that asks nothing of the rows below it."""
_OF_CARRIAGE = re.compile(r"\b(?:shipping|postage|carriage|freight)\b")
_OF_ONE = re.compile(
    r"\b(?:do|have)\s+you\s+(?:have|got|stock|sell|keep|still\s+have)\s+"
    r"(?!(?:these|those|them|this|that|it|all|everything|the\s+(?:above|parts|lot|rest))\b)\w+|\bis\s+the\s+\w+"
)
"""What asks for one thing alone."""
_ASKING = re.compile(
    r"\W*(?:which|why|how|what\s+(?:about|fits|goes|belongs|do|does|is|are|would)(?!\s+(?:still\s+)?(?:missing|needed|required|wanted|left|lacking))|do\s+you|does|did|are|is)\b"
    r"|\W*(?:would|will|do|has|have|should|can|could)\s+(?:these|those|they|this|it|there|the)\b"
    r"|\W*(?:can|could)\s+you\s+get\s+(?:these|this)\W*$"
)
_ASKED_OF = re.compile(
    r"\bhow\s+(?:much|many|long|soon)\b|\b(?:in|on)\s+(?:stock|the\s+shelf)\b|\bavailable\b|\blieferbar\b|\b(?:auf|am)\s+lager\b|\bhaben\s+sie\b|\b(?:offer|quote|quotation)\b|\b(?:better|different|instead)\b|\bwould\s+you\s+(?:take|buy|accept)\b|\bdelivery\s+times?\b"
    r"|\blead\s+times?\b|\b(?:right|correct|enough|fit|suit|recommend|suggest|advise)\b|\bavez-vous\b|\bstock\b|\b(?:price|cost)s?\b"
    r"|\b(?:is|are|was|were|would|will|do|does|can|could)\s+(?:you\s+have\s+)?(?:this|that|these|those|they|them|it)\b"
)
"""What a question asks that is about the rows above it."""
_CHANGING = re.compile(
    r"(?:^|[.!?;,]\s)\W*(?:(?:[a-z]+\s+){0,3}(?:changes?|amendments?|corrections?|updates?|anderung(?:en)?))"
    r"(?:\s+(?:please|to|for)\b[^:]*)?\W*$"
)
_POINTING = re.compile(r"\b(?:following|below|these|folgende\w*)\b")
_LED_IN = courtesies.GREETINGS - {"from"} | words.words_of("hope thank")
_CONFIRMED = re.compile(r"\W*(?:(?:your|our|purchase|sales)\s+)*order\s+confirmation\b|\W*auftragsbestatigung\b")
"""What heads an order that was taken."""
_OFFERS = r"\b(?:quote|quotation|offer|estimate|proposal|angebot|devis)\b"
_QUOTED = re.compile(
    r"\W*(?:(?:your|our|my)\s+)?(?:ref|reference)\b\W.*\d|"
    rf"\W*(?:(?:your|our|my)\s+)?{_OFFERS}[\s#:.]*(?:no|nr|number)?[\s#:.]*[a-z]{{0,3}}-?\d[\d\-/]*"
    r"(?:\W+(?:of|dated|from|vom)\b[^:(]*|,?\s+please)?\W*$|"
    r"\W*(?:subject|betreff|objet|re|aw|fwd?|wg)\s*:(?!.*\b(?:not|request|kein\w*|no(?!\.?\s*\d))\b).*"
    rf"{_OFFERS}[\s#:.a-z]*[\-/]?\d"
)
"""The title of a numbered quotation, or a mail's subject that names one: its rows are sent back as an order."""
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
    r"\b(?:first|second|third|last|left|right|other)\s+(?:columns?|numbers?|figures?)\b|"
    r"\b(?:cancel\w*|storn\w*|annul\w*|withdraw|void|revoke|scrap|disregard|ignore|forget|stop|hold)\b\W+"
    r"(?:\w+\W+){0,3}?(?:(?<!after\s)all|everything|orders?|above|lot|list)\b"
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
        "take taking buy buying also aussi ainsi ensuite dann ferner sowie neu neue neuen dazu zusatzlich "
        "parcel parcels job jobs brauchte brauchten "
        "further and additionally plus position und "
        "restock store consumable fastener please bitte list lists orders ordering "
        "delivery collection stock shelf engine motor build race rally usual one ones thing stuff bit piece hardware "
        "spare extra needs needed wanted required today tomorrow week weekend monday tuesday wednesday thursday friday "
        "saturday sunday urgent express next first last section group system team shop garage boss liste bestellung "
        "auftrag commande pedido ordine teil werkstatt folgende following here i we want would sure eur currency "
        "aside new photo photos picture pictures expedier merci "
        "envoyer livrer leveren bestellen ordiniamo ordino inviare spedire "
        "souhaitons pedimos solicitamos enviar queremos bestelle "
        "bestaller bestiller zamawiam zamawiamy encomendamos stays remains "
        "unchanged brauchen brauche gern gerne kit material bedarf commandons commander voudrais pedir "
        "quisiera vorrei ordinare behover bestalla necesitamos necesito servono nodig sheet page more"
    )
)
"""What a heading of an order has."""
_BIDS = re.compile(
    r"\bplease\s+(?:now\s+|also\s+)?(?:send|supply|ship|deliver|add|order|book|pack)\b"
    r"(?:\W*$|(?![^:]*\b(?:if|when|once|unless|until|prices?|quote|quotation|offer|back|samples?|information)\b)[^:.]*:\W*$)|\bto\s+be\s+ordered\b[^:]*:\W*$"
    r"|\b(?:i|we)\s+(?:please\s+)?(?:need|want|order|require)\s+(?:to\s+order\s+)?the\s+following\b(?!.*\b(?:quote|quotation|offer|prices?|information)\b)"
    r"|\b(?:i|we)\s+(?:now\s+)?(?:take\s*:|need|want|order)\W*$|\bwhat\s+(?:i|we)\s+(?:need|want|take|order)\b(?!.*\b(?:if|when|once)\b)|\bplease\s+(?:fill\s+(?:it\s+|them\s+)?up|top\s+up|refill|restock|replenish)\b|\bone\s+of\s+each\W+please\b|^\W*(?:here\s+(?:is|comes)\s+)?(?:the|our|my)\s+order\b(?!.*(?:\b(?:you|your|last|old|previous|earlier|already|yesterday|week|month|sent|arrived)\b|\d))[^:]*:\W*$"
)
"""What orders the rows below it, whatever else is said."""
_TIED = re.compile(r"\W*(?:but\s+|only\s+)*(?:if|unless|once|provided|assuming|should|in\s+case)\b")
"""What begins a condition."""
_NAMED_VALUE = re.compile(r"\s*[^\W\d][^:]{1,30}?\s?:\s+\S")
"""A value with its name, as forms have them."""
_TICKS = re.compile(r"\b(?:un)?tick(?:ed|s)?\b")
"""What is said of the boxes before rows, which say it themselves."""
_SIGNED = re.compile(r"\W*(?:[A-Z][a-z][\w.'\-]*\s+){1,3}[A-Z][a-z][\w.'\-]*\W*")
"""A name that signs."""
_UNENDED = re.compile(r"[^\W\d_]\s*$")
_MOST_ALONE = 3
_MOST_OWN = 2
_MOST_WORDS = 9


class Each(str):
    """What a heading says that tells how many of each of the rows below it: "4 each of the following:"."""

    qty: int

    def __new__(cls, qty: int) -> Self:
        heading = super().__new__(cls, SHARED)
        heading.qty = qty
        return heading


_EACH_OF = re.compile(
    rf"^\W*(?:(?:and|please|pls|then|also|we|i|need|want|would|like|take|order|send|us|me|now)\s+)*(?P<qty>\d{{1,3}}|{'|'.join(words.NUMBERS)})\s*"
    r"(?:(?:x|off|pcs|pieces?)\s+)?(?:of\s+)?each(?:\s+(?:of\s+)?(?:the\s+)?(?:following|these|those|items?|below|parts?))*\W*(?:please|pls|thanks)?\W*$"
)


def is_heading(row: Row) -> bool:
    return row.folded.rstrip(" *_").endswith((":", "?"))


def heading_of(row: Row, vocabulary: Vocabulary) -> str:
    """What a row that heads others asks of the rows below it, nothing where it asks nothing: the last clause of one
    that ends with a colon, or a short line."""
    if _TICKS.search(row.folded) or _QUOTED.match(row.folded):
        return ""
    told = _EACH_OF.match(row.folded)
    if told is not None:
        return Each(words.NUMBERS.get(told["qty"]) or int(told["qty"]))
    asked = saying_in(row.folded)
    if asked and not is_to_be_told(row):
        return asked
    is_asking = bool(_ASKING.match(row.folded))
    if not is_heading(row):
        led = _leads_on(row)
        if led or not _is_line(row, _MOST_OWN):
            return led
        if _is_record(row.words):
            return REPORTS
        asked = "" if tells_else(row, vocabulary) else meaning(row.said, vocabulary.is_known)
        is_asking = is_asking and len(row.words) <= _MOST_WORDS
        is_named = bool(_NAMED_VALUE.match(row.text))
        is_plain = is_named or (not is_asking and _is_anchored(row, vocabulary))
        is_bid = asked in (REPORTS, ASKS) and bool(_BIDS.search(row.folded))
        return "" if asked == HOW_MANY_EACH or is_bid else asked or _unless(is_plain)
    if _SMALL_TALK.search(row.folded):
        return ""
    if row.folded.endswith("?"):
        if _asks_of_all(row, row.said_text, vocabulary):
            return ASKS
        if len(row.words) > _MOST_ALONE or tells_else(row, vocabulary):
            return ""
    if _is_record(row.words):
        return REPORTS
    if _CHANGING.search(row.folded):
        return CHANGES
    asked = meaning(_last_clause(row), vocabulary.is_known) or _denies_these(row)
    is_question = row.folded.rstrip(" *_").endswith("?") or is_asking
    if asked in (REPORTS, ASKS) and _BIDS.search(row.folded):
        return ""
    if asked or asks_to_send(row.text):
        return asked
    return _unless(not is_question and _is_anchored(row, vocabulary))


def _leads_on(row: Row) -> str:
    """What the last sentence of a long line asks that has no end: the rows below it go on with it."""
    if not _UNENDED.search(row.text) or len(row.words) <= _MOST_ALONE or _BIDS.search(row.folded):
        return ""
    last = row.folded.rpartition(". ")[2]
    asked = meaning(pieces_of(last))
    return "" if asked == HOW_MANY_EACH else asked


def _denies_these(row: Row) -> str:
    """What a clause before the last says of these rows, where it takes them off or sets a condition."""
    if any(_TIED.match("".join(piece.text for piece in one)) for one in clauses_of(row.said)) and not is_to_be_told(
        row
    ):
        return HELD
    asked = (meaning(one) for one in clauses_of(row.said) if _POINTING.search("".join(piece.text for piece in one)))
    return next((one for one in asked if one in (TAKE_OFF, HELD)), "")


def _unless(is_plain: bool) -> str:
    return "" if is_plain else ASKS


def _is_anchored(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a heading has a word for an order, a thing, a person or a place, or what it is for: a word alone that is
    none of these may say anything of the rows below it."""
    spoken = _WORD.findall(row.text)
    is_named = any(word[:1].isupper() and not word.isupper() for word in spoken[1:]) or (
        len(spoken) == 1 and spoken[0][:1].isupper() and not is_english(folded(spoken[0]))
    )
    return (
        is_named
        or len(row.words) > _MOST_ALONE
        or any(piece.kind in ("nothing", "day") for piece in row.pieces)
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
    """Whether a line says something of all that stands above it: a clause of it says little else, or points there."""
    plain = row.said_text.rstrip()
    if saying_in(row.folded) and not plain.endswith(":") and not is_to_be_told(row):
        return True
    if _CALLS_OFF.search(plain) and not plain.endswith(":"):
        return True
    if only_so_many(row) or names_kinds(row, vocabulary):
        return False
    if plain.endswith(":") or not row.kinds.isdisjoint(("money", "decimal")) or tells_else(row, vocabulary):
        return False
    if plain.endswith("?"):
        return _asks_of_all(row, plain, vocabulary)
    is_of_one = any(
        vocabulary.knows(singular(word)) and word not in _OF_LISTS | words.DESCRIBING for word in row.said_words
    )
    if _SIGNED.fullmatch(row.text) or not _is_no_head(row, plain):
        return False
    if depends_otherwise(row):
        return False
    clauses = [*clauses_of(row.said)]
    is_else = has_other_things(row, vocabulary)
    return any(_changes_all(one, row, is_else=is_else, is_of_one=is_of_one) for one in clauses)


def _asks_of_all(row: Row, plain: str, vocabulary: Vocabulary) -> bool:
    """Whether a question is about what stands above it."""
    if _SMALL_TALK.search(plain) or _OF_CARRIAGE.search(plain) or asks_to_send(row.text):
        return False
    points = bool(_POINTS.search(plain)) or len(row.words) == 1
    if not points and (_OF_ONE.search(plain) or has_other_things(row, vocabulary)):
        return False
    asked = meaning(row.said)
    return bool(_ASKED_OF.search(plain)) or (
        points and (asked == ASKS or bool(_ASKING.match(plain)) or len(row.words) == 1)
    )


def _changes_all(clause: Sequence[Piece], row: Row, *, is_else: bool, is_of_one: bool) -> bool:
    said = [piece.text for piece in clause if piece.kind == "word"]
    plain = "".join(piece.text for piece in clause)
    points = bool(_POINTS.search(plain))
    if not points and (is_else or subject_of(said, row.knows) is not None):
        return False
    if not _is_short(said, plain, _MOST_OWN if points else 1):
        return False
    asked = meaning(clause)
    if asked in (ASKS, BOUGHT):
        return bool(_JUST.search(plain))
    is_counted = asked != HELD and any(piece.is_quantity for piece in clause)
    return asked == SHARED or (asked in (TAKE_OFF, REPORTS, HELD) and not (is_counted or is_of_one))


def _is_line(row: Row, most_own: int) -> bool:
    """Whether a row may say something of those beside it: it is short, or has a word for what stands below, and is no
    sentence about something else. `most_own`: so many words it may have that no orders have."""
    plain = row.folded.strip()
    return _is_no_head(row, plain) and _is_short(row.words, plain, most_own)


def _is_no_head(row: Row, plain: str) -> bool:
    """Whether a line is no greeting, no address, no head of a mail and no row of a table."""
    if not row.words or plain.endswith((",", ";")) or tables.is_of_cells(plain) or _CONFIRMED.match(plain):
        return False
    is_led_in = row.words[0] in _LED_IN and (row.words[0] != "sent" or row.words[1:2] == ["from"])
    is_of_mail = "your" in row.words and not _OF_MAIL.isdisjoint(row.words)
    is_address = any(piece.form in ("nothing_phone", "nothing_address") for piece in row.pieces)
    return not (is_led_in or is_of_mail or is_address or tables.is_header(row))


def _is_short(said: Sequence[str], plain: str, most_own: int) -> bool:
    if most_own and _POINTING.search(plain):
        return True
    own = [word for word in said if len(word) > 1 and not words.is_of(word, _OF_LISTS)]
    return len(said) <= _MOST_WORDS and len(own) <= most_own


def _is_record(written: Sequence[str]) -> bool:
    """Whether a heading names a paper that tells of an order, as an invoice, and neither orders nor addresses it."""
    is_record = words.any_of(written, words.RECORDS)
    return is_record and not words.any_of(written, words.ORDERING | words.OF_ADDRESSES)


def _last_clause(row: Row) -> Sequence[Piece]:
    """The last clause of a row where it is one that orders; else the whole row, as it is where all of it seems to be
    about something else."""
    pieces: Sequence[Piece] = row.said if any(piece.kind == "word" for piece in row.said) else pieces_of(row.folded)
    inner = range(len(pieces) - 1)
    ends = [at for at in inner if ends_clause(pieces, at) or pieces[at].text in _GOING_ON]
    last = pieces[ends[-1] :] if ends else pieces
    told = [piece.text for piece in last if piece.kind == "word"]
    is_bidding = ("please" in told and told[-1] != "please") or (
        last[0].text == "so" and told[1:2] not in ([], ["far"])
    )
    return last if is_bidding or any(text in _LISTING for text in told) else pieces
