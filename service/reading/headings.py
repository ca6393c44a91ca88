"""A row that heads the rows below it: what it makes doubtful of them."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise, takewhile

from service.reading import courtesies, tables, words
from service.reading.amounts import Piece
from service.reading.clauses import ends_clause
from service.reading.doubts import asks_to_send
from service.reading.row import Row

HOW_MANY_EACH = "how many of each are meant?"
REPORTS = "do these rows tell of something and order nothing?"
TAKE_OFF = "do these rows take something off?"
CHANGES = "do these rows change something, or order it?"
_ON_HOLD = "are these rows to wait, or on a condition?"
_ASKS = "are these rows an order or a question?"
_SHARED = "for how many are these?"
_NO_REPORTS = frozenset({"is", "are", "am", "be", "was", "do", "does", "have", "has", "attached", "mentioned", "again"})
_WEAK = words.SPOILT | words.words_of("instead rather lost missing sorry error mistake typo yesterday earlier last")
"""What takes nothing off, and tells of nothing, where a heading orders."""
_HAVING = frozenset({"with", "mit", "avec", "con"})
_GOING_ON = frozenset({"and", "so", "but", "und", "aber"})
_WHO = frozenset({"i", "we", "he", "she", "they", "customer", "wir", "ich"})
_AFTER_NEEDS = courtesies.HARMLESS - words.ORDERING - _WHO
_LISTING = words.ORDERING | {"needed", "required", "wanted", "following"}
_DENIED = words.DENIALS | words.words_of(
    "struck wrongly incorrectly deleted withdrawn rejected declined refused unwanted needless leave abgelehnt zuruckgewiesen"
)
_TOLD = (words.REPORTS - _NO_REPORTS) | words.words_of(
    "used spent consumed claim claims returns returning kept geliefert"
)
_HELD = words.words_of(
    "hold holding held wait waiting later yet postponed postpone parked paused pause deferred suspended suspend "
    "undecided open pending conditional conditionally zuruckgestellt spater falls sofern wenn vorbehaltlich if unless "
    "provided assuming subject depending depends except approval perhaps someday eventually"
)
"""What suspends, or sets a condition."""
_ASKED = (words.LEAVING_OPEN - {"stock", "kit", "if", "unless", "found", "sell", "selling"}) | words.words_of(
    "info information fyi draft example examples sample samples budget estimate offer offers asking wondering suggested "
    "suggestion suggestions recommended proposal proposed angebot comparison discuss template pricing sell selling"
)
_TIMES = words.words_of("double doubled triple tripled twice thrice half halved halve doppelt times")
_IN_OTHER_WORDS = (
    (
        TAKE_OFF,
        r"\b(?:left|cross(?:ed)?|leave)\s+(?:\w+\s+){0,2}?(?:over|out|off)\b|\b(?:changed?\s+(?:\w+\s+)?mind)\b"
        r"|\btoo\s+many\b|\bno\s+longer\b|\bany\s*more$",
    ),
    (
        REPORTS,
        r"\bon\s+(?:back\s*)?order\b|\bstill\s+(?:in|at|on|here|there|with)\b|\b(?:already|on)\s+(?:here|(?:the|our|my)\s+shel\w+)"
        r"|\b(?:have|got|had)\s+(?:\w+\s+)?(?:these|those|them|this|here)\b(?!\s+\w+\s+(?:order|list))"
        r"|\b(?:delivery|packing|despatch|dispatch)\s+(?:notes?|list|slip)\b|\blieferschein\b"
        r"|\b(?:in|on|from|our|your|current|remaining)\s+(?:\w+\s+)?stock\b|\bstock\s+(?:list|level|count)",
    ),
    (
        _ON_HOLD,
        r"\b(?:in\s+case|as\s+long\s+as|only\s+when|on\s+ice|not\s+(?:now|yet|before)|next\s+year)\b|^\W*(?:once|should|when)\s"
        r"|\bas\s+soon\s+as\s+(?!possible|you\b)|\bto\s+be\s+(?:confirmed|decided|discussed|checked|agreed|advised|announced)",
    ),
    (
        _SHARED,
        r"\b(?:in|of)\s+(?:(?:the|a|an|one|each|every|our|this)\s+)(?:kit|set|pack|box)\b|\b(?:kit|set|box|pack)\s+"
        r"(?:is|has|includes?|contain\w*|consists?|holds?)\b|\b(?:quantit\w+|amounts?|numbers?)\s+(?:for|are\s+for)\s+(?:one|1|a)\b",
    ),
    (_ASKS, r"\b(?:not\s+an|no)\s+order\b|\bwhat\s+\w+\s+(?:others?|people)\b|\bzur\s+info"),
)
_CLASSES = tuple((says, re.compile(form)) for says, form in _IN_OTHER_WORDS)
_DONE_WITH = words.words_of("picked collected delivered shipped sent dispatched despatched invoiced billed fitted")
"""What is done with what was ordered."""
_ITS = frozenset({"your", "our", "the"})
_SHARING = frozenset({"per", "each", "every", "je", "pro", "par"})
_WAYS = _ITS | words.words_of("of post mail email courier express carrier phone telephone fax favore favor")
"""What "per" stands before that is no unit."""
_SMALL_TALK = re.compile(
    r"\bhow(?:'s|\s+(?:are|is|was))\s+(?:you|things|it\s+going|everything|business|life|(?:the|your)\s+\w+)\W*$"
    r"|\b(?:all|keeping|you)\s+(?:well|ok|okay|busy|open)\b|\bgot\s+a\s+(?:pen|minute|moment|sec)\b"
)
"""A question that asks nothing of the rows below it."""
_ASKING = re.compile(
    r"\W*(?:which|why|how\s+(?:many|much|about)|do\s+you|does|did|are|is)\b|\W*(?:can|could)\s+you\s+get\s+(?:these|this)\W*$"
)
_PAPERS = r"(?:quot(?:e|ation)|offer|price\s?list|angebot|proposal)"
_IDLE = tuple(
    re.compile(form)
    for form in (
        rf"\b(?:from|of|per|to|under|against|by|on|with|in|for|accept\w*|take|taking)\s+(?:your|the|our)\s+(?:\w+\s+)?{_PAPERS}",
        r"\b(?:not|nicht)\b[^,.;:]*\b(?:but|sondern)\b",
        r"\b(?:without|ohne)\s+(?!these|this|those|them|it|the|following|any|our|your)[a-z]+",
        r"\breturn\s+(?:system|lines?|type|feed|flow|hoses?|pipes?|version|layout)\b",
        r"\bdecided\s+(?:on|for)\b",
        r"\bno\.?\s*(?=\d)|\bno\.(?!\s*[.,;:]*$)",
        r"\bkommission\s*[:#]",
        r"\([^()]*\bsee\s+(?:below|above)\b[^()]*\)",
        r"^\W*(?:and\s+)?(?:to|for)\s+(?:replac\w+|repair\w*)\s+(?:the|my|our|a|an|his|her|their|all|old|worn|broken)\b[^,:]*",
    )
)
"""What sounds as if it took something off or told of something, and tells of something else: a paper that an order goes
by, what is denied to affirm another, what the parts are for."""
_RELATIVE = re.compile(
    r"^\W*(?:and\s+)?(?:(?:parts|these|this|all|everything)\s+)?(?:to\s+(?:go\s+with|fit|match|suit)|for)\s+(?:the|my|our|his|her|their|that)\s+"
    r"[^,.;:\d]*?\s(?:that\s+|which\s+)?(?:i|we|you|he|she|they|came|arrived)\b(?!.*\b(?:already|not|no|back|don't|return\w*)\b)"
    r"(?!.*\s(?:i|we|you|he|she|they)\s.*\s(?:i|we|you|he|she|they)\s)[^,.;:]*"
)
"""For what the parts are, told by what was done with that."""
_ORDERS = re.compile(r"\b(?:my|our|your|his|the|an|last|previous|on|old|first|back)\s+orders?\b")
_CHANGING = re.compile(
    r"(?:^|[.!?;,]\s)\W*(?:(?:[a-z]+\s+){0,3}(?:changes?|amendments?|corrections?|updates?|anderung(?:en)?))(?:\s+(?:please|to|for)\b[^:]*)?\W*$"
)


def is_heading(row: Row) -> bool:
    return row.folded.rstrip(" *_").endswith((":", "?"))


def heading_of(row: Row) -> str:
    """What a row that heads others asks of the rows below it, nothing where it asks nothing: the last clause of one that
    ends with a colon, or a short line."""
    if not is_heading(row):
        is_asked = bool(_ASKING.match(row.folded)) and len(row.words) <= _MOST_WORDS
        asked = _meaning(row.pieces) if is_line(row) else ""
        return (_ASKS if is_asked and not asked else asked) if asked != HOW_MANY_EACH else ""
    if _SMALL_TALK.search(row.folded):
        return ""
    if _is_record(row.words):
        return REPORTS
    if _CHANGING.search(row.folded):
        return CHANGES
    pieces = _last_clause(row)
    asked = _meaning(pieces)
    is_question = row.folded.rstrip(" *_").endswith("?") or bool(_ASKING.match(row.folded))
    return _ASKS if not asked and is_question and not asks_to_send(row.text) else asked


_LINE_ENDS = (",", ";")
_MOST_OWN = 2
_MOST_WORDS = 9
_LED_IN = courtesies.GREETINGS - {"from"} | words.words_of("sorry apologies hope thank")
_POINTING = re.compile(r"\b(?:following|below|these|folgende\w*)\b")
_OF_LINES = _SHARING | _DENIED | _TOLD | _HELD | _ASKED | _TIMES | courtesies.USUAL | words.DOUBTFUL | words.AMENDING
_CONFIRMED = re.compile(r"\W*(?:(?:your|our|purchase|sales)\s+)*order\s+confirmation\b|\W*auftragsbestatigung\b")
"""What heads an order that was taken."""
_OF_MAIL = words.words_of("reply replies answer answers response letter message email call")


def is_line(row: Row) -> bool:
    """Whether a row without a colon may be a heading: short, or with a word for what stands below it, and no sentence
    about something else."""
    plain = row.folded.strip()
    if not row.words or plain.endswith(_LINE_ENDS) or _is_led_in(row.words) or tables.is_of_cells(plain):
        return False
    if any(piece.form in ("nothing_phone", "nothing_address") for piece in row.pieces) or tables.header_of(row.text):
        return False
    if _CONFIRMED.match(plain):
        return False
    if not _OF_MAIL.isdisjoint(row.words) and not words.any_of(row.words, words.ORDERING):
        return False
    if _POINTING.search(plain):
        return True
    own = [word for word in row.words if len(word) > 1 and not words.is_of(word, _OF_LINES)]
    most = 0 if plain.endswith((".", "!")) else _MOST_OWN
    return len(row.words) <= _MOST_WORDS and len(own) <= most


def _is_led_in(written: Sequence[str]) -> bool:
    """Whether a row greets, thanks or regrets something."""
    return written[0] in _LED_IN and (written[0] != "sent" or written[1:2] == ["from"])


def _meaning(pieces: Sequence[Piece]) -> str:
    """Which class of meaning the words of a heading are of, and what that asks; nothing where they are of none."""
    plain = "".join(" " if piece.kind in ("nothing", "money") else piece.text for piece in pieces)
    is_bidding = words.any_of(_WORDS.findall(_ORDERS.sub("", plain)), words.ORDERING)
    plain = _RELATIVE.sub("", plain)
    for idle in _IDLE:
        plain = idle.sub("", plain)
    written = list(_without_terms([*words.without_idle(_WORDS.findall(plain))]))
    weak = _WEAK if is_bidding else frozenset[str]()
    for says, form in _CLASSES:
        if form.search(plain):
            return says
    if words.any_of(_taking_off(written), _DENIED - weak):
        return TAKE_OFF
    if words.any_of(written, _TOLD - weak):
        return REPORTS
    if words.any_of(written, words.NO_SALES - {"decided"}):
        return "are these bought?"
    told = [piece for piece in pieces if piece.is_quantity or piece.kind == "odd"]
    is_shared = any(one in _SHARING and other not in _WAYS for one, other in pairwise(written))
    is_shared = is_shared or ("each" in written and [piece.value for piece in told] not in ([], [1]))
    if (
        is_shared
        or words.any_of(written, _TIMES)
        or ([piece.value for piece in told] not in ([], [1]) and words.any_of(written, words.SETS))
    ):
        return _SHARED
    if words.any_of(written, _HELD):
        return _ON_HOLD
    if words.any_of(written, _ASKED):
        return _ASKS
    if [piece.value for piece in told] == [1] and not words.any_of(written, words.OTHER_NUMBERS):
        return ""
    return HOW_MANY_EACH if told or words.any_of(written, words.OTHER_NUMBERS | {"each"}) else ""


_WORDS = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")


def _without_terms(written: Sequence[str]) -> Iterator[str]:
    """The words of a heading but what is to be done with it ("to be picked up"), and what an order goes by."""
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
