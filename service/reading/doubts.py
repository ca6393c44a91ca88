"""What the words of a row make doubtful: a denial, a report, a question, another part, a word that is not known."""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, takewhile

from service.reading import courtesies, sharing, words
from service.reading.amounts import Piece
from service.reading.clauses import IDLE, lead_of
from service.reading.folding import Token, singular
from service.reading.own import Own
from service.reading.quantities import HOW_MANY
from service.reading.row import LONGEST_ROW, Row
from service.reading.strangers import Strangers
from service.reading.vocabulary import Vocabulary

_THANKS = re.compile(r"\bthank(?:s| you)\b[\w ]{0,20}\bfor\b")
_NUMBER_WORDS = "|".join(words.NUMBERS)
_SHARERS = (
    r"(?:\w+\s)?(?:cars|vans|trucks|engines|sides|banks|cylinders|vehicles|builds|jobs|customers|workshops|branches)"
)
_SOME = re.compile(
    rf"\b(?:both|all|pair)\s+(?:of\s+)?(?:(?:the|our|my|his|her|their)\s+)?(?:\d+|{_NUMBER_WORDS}|{_SHARERS})\b|"
    r"\b(?:a|any|the) (?:usual )?(?:number|amount|quantity)\b(?! \d)"
    r"|\b(?:number|quantity|amount)\s+(?:as\s+(?:we|i|you|discussed|agreed|usual|before|last)|to\s+follow|follows)\b"
    r"|,\s*(?:number|quantity|amount)\s+please\W*$"
    r"|\d\s+(?:a|every|each)\s+(?:day|week|fortnight|month|year)\b"
    r"|\bas (?:needed|required|necessary|many|much)\b"
    rf"|\ba (?:good|full|mere) (?:\d|(?:{_NUMBER_WORDS})\b)"
    r"|\b(?:it|them|us|you|we|they) both\b|\bboth\s+(?:of\s+(?:us|them|my|our|the)|need|want|take|get)\b"
    r"|\band (?:more|up)\s*(?:$|[,.;])|\bboth\s*:"
    r"|\b(?:to|for|per|on) (?:(?:every|any)\b|an? (?:car|van|truck|engine|side|bank|cylinder|vehicle)\b)"
)
_CHANGE = re.compile(
    r"\bmake (?:it|that|them|this|good)\b|\bfrom\s+(?:us|our|me|my)\b"
    r"|\btoo\s+(?!(?:then|mate|ta|cheers|ok|please|thanks|and|if|for)\b)\w"
    r"|(?<!thanks )(?<!speak )(?<!talk )(?<!grateful )\bto you\b|\bcan go\b|\bthere go(?:es)?\b"
)
_LEFT_OPEN = re.compile(
    r"\bas (?:soon|long|far) as\b(?!\s+(?:possible|poss|practicable|convenient|you|u)\b)|\bfor (?:want|lack) of\b"
    r"|\b(?:could|might|may) be (?:that )?(?:i|we|he|she|they|you)\b"
    r"|\bname your\b|\bfor starters\b|\bnow and (?:then|again)\b|\bas before\b|\babove (?!all\b)\w"
)
_IF_NOT = re.compile(r"\bnot\s+(?:quite\s+|yet\s+)?sure\b|\bif\s+(?:it's\s+|they're\s+|it\s+is\s+|they\s+are\s+)?not\b")
_ASIDES = r"(?:(?:please|pls|kindly|just|also|be\s+able\s+to)\W+){0,2}"
_REQUEST = re.compile(
    rf"(?:^|[,.!;:])\W*(?:please\W+|and\W+)?(?:(?:can|could|would|will)\s+you\s+{_ASIDES}"
    rf"(?:be\s+an?\s+\w+\s+and\s+)?(?:send|ship|post|dispatch|despatch|forward|add|put|get\s+(?:me|us)|supply|deliver|do\s+(?:me|us)|reserve|pack|let\s+(?:me|us)\s+have)"
    rf"|(?:are|would)\s+you\s+(?:be\s+)?able\s+to\s+(?:send|ship|supply|deliver|get)|(?:can|could)\s+you\s+help\s+(?:me|us)"
    rf"|is\s+it\s+possible\s+to\s+(?:order|buy|get|have)"
    rf"|any\s+chance\s+(?:you|i|we)\s+could\s+{_ASIDES}\w+"
    rf"|(?:can|could|may)\s+(?:i|we)\s+{_ASIDES}(?:have|get|order|take|request|add|buy|trouble\s+you\s+for))\b[^?]*\?\W*$"
)
_BIDDING = re.compile(r"\b(?:could|would)\s+you\b.*\b(?:please|pls|kindly)\b|\bplease\b.*\b(?:could|would)\s+you\b")
"""What bids, also by when; without its "please" it may ask whether it can be by then."""
_REPLACING = re.compile(
    r"\b(?:in\s+(?:exchange|return)|instead)\b(?!\s+of)[^.;]*\b(?:send|ship|need|want|order|take|please)\b"
    r"|\b(?:send|ship|need|want|order|take|please)\b[^.;]*\b(?:instead|in\s+exchange)\b(?!\s+of)"
)
"""What orders in the place of something that no row of the order need have."""
_NEEDED = re.compile(
    r"\b(?:i|we|he|she|they|you)\s+(?:needed|wanted|required)\b|\bthey\s+(?:supply|send|ship|deliver|give)\b"
    r"|^\W*(?:ready|still|left|lying|(?:on|in)\s+(?:our|my|the))\s+(?:(?:on|in|at|here|over)\b[^:]*|(?:shelf|stock|store|bin|drawer)\b[^:]*):"
)
_OF_PLACES = frozenset({"nothing_phone", "nothing_address"})
_WHEN = frozenset(
    {"by", "before", "until", "till", "today", "tomorrow", "tonight", "soon", "bis", "noon", "next", "month", "week"}
)
_OF_SO_MANY = re.compile(r"[a-z] (?:of|a|von|zu|with|x) ?\d")
_SHARING_OR_DOING = words.words_of("a an the give gives take takes go goes make makes")
_LEAST_OF_NAME = 3
_TWO = 2
_PREFIXES = frozenset({"non"})
_HEARD = re.compile(r"\W*(?:(?:and|plus|then|also)\s+)*(?:to|too|for|fore|won|ate)\s+(?!the\b|my\b|our\b|a\b)")
"""What may be a number that was heard and written down as it sounds."""
_AMISS = words.words_of("wrong missing lost instead")
"""What is said of a part that did not come as it was ordered."""
_STRUCK = re.compile("[\u0335-\u0338\u2612\u2717\u2718\u274c\u274e\u26d4\u2796\U0001f6ab\U0001f5d1]")
"""Letters with a line through them, and crosses."""
_BOX = re.compile(r"\[[\s_\-.]*\]|\([\s_\-.]*\)|[\u2610\u25a1\u25fb\u25fd\u2b1c\u25a2]")
"""A box that is left empty."""
_LINE = re.compile(
    r"(?<![A-Za-z0-9])_{2,}(?![A-Za-z0-9])|(?<!\S)-?[\"\u201d\u2033\u3003]-?(?!\S)|\b(?:dit+o|likewise)\b"
)
"""A line to write on, which before a number leads to that, or a mark for what stands above."""
_SLOTS = words.words_of("x pcs pces pc stk stck st stueck stuck") | set(words.QUANTITY_NAMES.split("|"))
"""What stands beside a quantity, and without one leaves it blank."""
_KINDS = (
    ("does this row take something off?", words.DENIALS),
    ("does this row tell of something and order nothing?", words.REPORTS),
    ("is this an order or a question?", words.QUESTIONS),
    ("is this bought?", words.NO_SALES),
    (HOW_MANY, words.OTHER_NUMBERS),
    (_SETS := "how many pieces are in one?", words.SETS),
    (_SUM := "is this a part or a sum?", words.SUMS),
)
DENIES = _KINDS[0][0]
"""What is asked of a row that denies."""
REPORTS = _KINDS[1][0]
"""What is asked of a row that tells of what was."""


def doubts_of(row: Row, vocabulary: Vocabulary) -> list[str]:
    """What makes a whole row doubtful that names a part."""
    owns = [vocabulary.own(sku) for sku in {sku for mention in row.mentions for sku in mention.skus}]
    own = vocabulary.own_words({sku for mention in row.mentions for sku in mention.skus})
    lead = range(lead_of(row.pieces))
    written = row.words
    if words.any_of(written, words.DOUBTFUL):
        idle = {id(row.pieces[place]) for place in lead if words.is_of(row.pieces[place].text, IDLE)}
        beside = _beside_names(row, owns) if len(owns) == 1 else row.pieces
        written = [piece.text for piece in beside if piece.kind == "word" and id(piece) not in idle]
        written = [*words.without_idle(written)]
    if len(row.mentions) > 1:
        written = [word for word in written if word not in words.NONE]
    if _REPLACING.search(row.folded):
        written = [word for word in written if word not in ("instead", "exchange", "return")]
    is_doubtful = words.any_of(written, words.DOUBTFUL)
    doubts = [says for says, known in _KINDS if is_doubtful and words.any_of(written, known)]
    if (
        _SETS in doubts
        and not _OF_SO_MANY.search(row.folded)
        and not words.any_of((x for x in written if not _is_own(x, owns)), words.SETS)
    ):
        doubts.remove(_SETS)
    if DENIES in doubts and REPORTS in doubts and not words.any_of(written, words.DENIALS - words.SPOILT - _AMISS):
        doubts.remove(DENIES)
    if DENIES in doubts and _IF_NOT.search(row.folded):
        doubts[doubts.index(DENIES)] = _KINDS[2][0]
    if _SUM in doubts and _sums_itself_up(row):
        doubts.remove(_SUM)
    if _NEEDED.search(row.folded):
        doubts.append(REPORTS)
    if _CHANGE.search(row.folded):
        doubts.append(DENIES)
    if _LEFT_OPEN.search(row.folded):
        doubts.append(_KINDS[2][0])
    if (
        _SOME.search(row.folded)
        or _is_of_each(row.pieces)
        or any(word in words.NUMBERS and word not in own for word in written)
    ):
        doubts.append(HOW_MANY)
    is_told = any(piece.is_quantity or piece.text in ("a", "an") for piece in row.pieces)
    if not is_told and any(vocabulary.is_plural([x.text for x in row.tokens[y.first : y.last]]) for y in row.mentions):
        doubts.append(HOW_MANY)
    if "?" in row.folded and not _asks_to_send(row, own):
        doubts.append("is this a question?")
    if row.is_cut:
        doubts.append(f"the row is longer than {LONGEST_ROW} characters: what does its end say?")
    if written and written[0] in courtesies.GREETINGS and not any(x.is_quantity for x in row.pieces):
        doubts.append("is this a part or a greeting?")
    if not is_told and _HEARD.match(row.folded):
        doubts.append(HOW_MANY)
    if (written and written[0] in words.HEADS) or _THANKS.search(row.folded):
        doubts.append("is this an order or a heading, a thank-you?")
    if row.folded.startswith("~") or "~~" in row.folded or _STRUCK.search(row.text):
        doubts.append("was this row struck out?")
    is_blank = not is_told and (_LINE.search(row.text) or not _SLOTS.isdisjoint(row.words))
    if is_blank or _BOX.search(row.text):
        doubts.append(HOW_MANY)
    if not any(piece.is_quantity for piece in row.pieces) and any(piece.form in _OF_PLACES for piece in row.pieces):
        doubts.append("is this a part or an address?")
    if _is_glued(row, owns):
        doubts.append("is this the whole name of the part?")
    if _is_cut_short(row, vocabulary):
        doubts.append("is this the whole name of the part?")
    if _is_reference(row):
        doubts.append("is this a part or the number of an order?")
    return doubts + Strangers(row, own, vocabulary).doubts()


def _beside_names(row: Row, owns: Iterable[Own]) -> Iterator[Piece]:
    """The words of a row but those that a name of the part begins with, where enough of them follow each other."""
    said = [piece for piece in row.pieces if piece.kind != "sign"]
    skipped: set[int] = set()
    for spelt in (one for own in owns for one in own.spelt):
        for first in range(len(said)):
            alike = list(
                takewhile(lambda pair: singular(pair[0].text) == pair[1], zip(said[first:], spelt, strict=False))
            )
            is_behind = any(piece.kind == "part" for piece in said[:first])
            if len(alike) >= _LEAST_OF_NAME - is_behind:
                is_verb = not is_behind and said[first].text in words.DENIALS - _PREFIXES
                skipped.update(range(first + is_verb, first + len(alike)))
    return (piece for place, piece in enumerate(said) if piece.kind == "word" and place not in skipped)


def _is_of_each(pieces: Sequence[Piece]) -> bool:
    """Whether an article or a verb stands right behind a part ("2 plugs an engine", "2 plugs give way"), or "both"
    before several things."""
    runs = zip(pieces, pieces[1:], pieces[2:], pieces[4:], strict=False)
    return any(
        part.kind == "part" and gap.text == " " and article.text in _SHARING_OR_DOING and thing.kind == "word"
        for part, gap, article, thing in runs
    ) or any(
        both.text == "both" and thing.kind == "word" and thing.text[-1] == "s" and thing.text not in courtesies.EMPTY
        for both, thing in zip(pieces, pieces[2:], strict=False)
    )


def _is_own(word: str, owns: Sequence[Own]) -> bool:
    """Whether all parts of a row are called by a word, as one is that is a set."""
    return bool(owns) and all(singular(word) in own.words for own in owns)


def _asks_to_send(row: Row, own: frozenset[str]) -> bool:
    """Whether a row that is written as a question asks to send so many of a part, and says nothing else."""
    known = all(
        x in courtesies.USUAL
        or singular(x) in courtesies.USUAL
        or singular(x) in own
        or x in courtesies.FIRST_NAMES
        or words.is_of(x, words.DOUBTFUL)
        for x in row.words
    )
    is_counted = any(piece.is_quantity or piece.text in ("a", "an") for piece in row.pieces) and "odd" not in row.kinds
    is_bidding = bool(_BIDDING.search(row.folded)) or not _WHEN.intersection(row.words)
    return known and is_counted and is_bidding and asks_to_send(row.text)


def asks_to_send(text: str) -> bool:
    """Whether a text is a question only in its form: "could you send us"."""
    return bool(_REQUEST.search(text[:LONGEST_ROW].lower()))


def _sums_itself_up(row: Row) -> bool:
    """Whether a row tells its part, then a quantity that is marked, then its own sum in money."""
    told = [piece for piece in row.pieces if piece.kind != "sign" and piece.text != "in"]
    sums = [place for place, piece in enumerate(told) if piece.text in words.SUMS]
    before, behind = told[: sums[0]], told[sums[0] + 1 :]
    kinds = [piece.kind for piece in before]
    is_counted = {"part", "mark"} <= set(kinds) or kinds[:2] == ["plain", "part"]
    is_sum = [piece.kind in ("money", "decimal") for piece in (*before[-1:], *behind[:1])]
    return len(sums) == 1 and is_counted and any(is_sum)


def _is_reference(row: Row) -> bool:
    """Whether a part of digits alone stands behind a word for an order or an invoice."""
    return any(
        one.first > 0
        and all(token.is_number for token in row.tokens[one.first : one.last])
        and row.tokens[one.first - 1].text in words.REFERENCES
        and ":" not in row.folded[row.tokens[one.first - 1].end : row.tokens[one.first].start]
        for one in row.mentions
    )


def _is_glued(row: Row, owns: Sequence[Own]) -> bool:
    """Whether letters, digits or joints stick to a part, so that it may be the beginning of another word."""
    text, tokens = row.folded, row.tokens
    spans = [(tokens[x.first].start, tokens[x.last - 1].end - 1, tokens[x.last - 1 : x.last + 1]) for x in row.mentions]
    joints = ("+", "/") if sharing.each(row) else ("+",)
    added = {(left, right) for (_, left, _), (right, _, _) in pairwise(spans) if text[left + 1 : right] in joints}
    begun, ended = {right for _, right in added}, {left for left, _ in added}
    return any(
        (first not in begun and _sticks(text, first, -1))
        or (last not in ended and _sticks(text, last, 1) and not _goes_on(following, owns))
        for first, last, following in spans
    )


def _is_cut_short(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether the word right behind a part is cut short of one more word in the name of another: "seal 8 hi"."""
    for mention in row.mentions:
        told = [token.text for token in row.tokens[mention.first : mention.last + 1]]
        *name, last = map(singular, told) if len(told) > mention.last - mention.first else [""]
        is_short = last.isalpha() and len(last) > 1 and last not in courtesies.EMPTY | courtesies.AND
        is_short = is_short and not vocabulary.is_known(last)
        if is_short and mention.how != "family" and vocabulary.begins_longer(frozenset(name), last):
            return True
    return False


def _goes_on(tokens: Sequence[Token], owns: Sequence[Own]) -> bool:
    """Whether a number and what sticks to it stand so in a name of the part, as "10mm" does."""
    is_measure = len(tokens) == _TWO and tokens[0].is_number and tokens[0].end == tokens[1].start
    return is_measure and bool(owns) and all(own.has_run([token.text for token in tokens]) for own in owns)


def _sticks(text: str, end: int, step: int) -> bool:
    near = text[end + step : end + step + 1] if end + step >= 0 else ""
    beyond = text[end + 2 * step : end + 2 * step + 1] if end + 2 * step >= 0 else ""
    if near == "'" and beyond == "s":
        return False
    if near == "s" and step > 0 and text[end : end + 1].isdigit():
        return beyond.isalnum()
    if near.isalnum():
        return not _is_times(text, end, step)
    return bool(near) and near in "-_./'+#@\\" and beyond.isalnum()


def _is_times(text: str, end: int, step: int) -> bool:
    """Whether what sticks to the beginning of a part is a number with an x."""
    return step < 0 and text[end - 1 : end] == "x" and text[end - 2 : end - 1].isdigit()
