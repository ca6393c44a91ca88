"""What people write around an order that tells nothing of its parts: quotes, bullets, set phrases, heads of chats."""

import re

from service.reading import courtesies, words
from service.reading.amounts import ADDRESS

_ARROW = re.compile(r"^[ >]*(?:[-=]+> *)?")
_ADDRESS = re.compile(r"\S+@\S+\.\S+|(?:https?://|www\.)\S+")
_DATE = r"\d{1,4}[./-]\d\d?[./-]\d{2,4}"
_TIME = r"\d\d?:\d\d(?::\d\d)?(?:\s*[ap]m)?"
_CHAT = re.compile(rf"^\W*(?:{_DATE},?\s+)?{_TIME}(?:,?\s+{_DATE})?\W{{1,4}}(?:[^\W\d]+\s){{0,2}}[^\W\d]+:\s")
"""Who said something in a chat, and when."""
_TO_ONE = re.compile(r"^\s*@[^\W\d]\w*\W*\s")
_LETTERED = re.compile(r"^\s*\(?[a-z]\)\s+")
_AGREED = r"(?:discussed|agreed|arranged|besprochen|abgesprochen|vereinbart)"
_TELEPHONE = r"(?:phone|telephone|telefon)"
_WHO_WAITS = r"(?:customer|client|car|van|truck|vehicle)"
_WHERE = r"(?:waits|waiting|here|in|on\s+the\s+(?:lift|ramp|hoist))"
_ONE_ASKS = (
    r"(?:would|should|i'd|we'd|'d|d)\s+(?:also\s+)?like(?:\s+to\s+have)?",
    r"(?:can|could|may|let|please)\s+(?:i|we|me|us)\s+(?:please\s+)?have",
    r"(?:i'll|we'll|will)\s+have",
    r"(?:i'd|we'd|would)\s+be\s+(?:very\s+)?(?:glad|happy|pleased|grateful)",
    r"(?:i'm|we're|i\s+am|we\s+are)\s+after",
    r"(?:can|could|may)\s+(?:i|we)\s+(?:please\s+)?(?:order|get|ask\s+for|request)",
    r"put\s+(?:me|us)\s+down",
    r"be\s+so\s+(?:kind|good)(?:\s+as)?(?:\s+to)?",
    r"if\s+possible",
    r"would\s+you\s+mind",
    r"(?:please\s+)?confirm(?:\s+by\s+(?:e-?)?mail)?(?=\W*(?:please|thanks)?\W*$)",
    r"(?:if|when)\s+you\s+(?:can|could)(?=\W*(?:please|thanks)?\W*$)",
    r"per\s+(?:favore|cortesia|piacere)",
    r"s'il\s+(?:vous|te)\s+plait",
)
_WHERE_IT_GOES = (
    r"to\s+be\s+(?:delivered|shipped|sent|collected)(?!\s+(?:\w+\s+){0,2}from\b)(?!\s+back\b)",
    r"for\s+(?:our\s+|the\s+)?(?:own\s+)?stock",
    r"(?:will|'ll|to|we|i|customer|client|driver)\s+(?:collects?|pick\s+(?:it\s+|them\s+|these\s+)?up)(?!\s+(?:\w+\s+){0,2}from\b)",
    r"for\s+the\s+same\s+(?:car|van|truck|vehicle|customer|job|project)",
    r"same\s+(?:delivery\s+|invoice\s+)?address(?:\s+as\s+(?:always|usual|ever))?",
    rf"{_WHO_WAITS}\s+(?:is\s+)?(?:already\s+)?{_WHERE}(?:\s+for\s+(?:it|them|this|these))?(?!\s+for\b)",
)
_WHEN_AND_HOW = (
    r"as\s+(?:soon\s+as\s+possible|follows|usual|always)",
    rf"(?:as|wie)\s+(?:just\s+|telefonisch\s+)?{_AGREED}(?:\s+(?:by|on|over|am)\s+(?:the\s+)?{_TELEPHONE})?",
    r"first\s+thing",
    r"as\s+quoted(?=\s*:\s*$)",
    r"same[\s-]day",
    r"by\s+return(?:\s+of\s+post)?(?=\W*(?:$|please|thanks))",
    r"no\s+(?:rush|hurry)(?=\W*$)",
    r"at\s+(?:(?:the|your|our)\s+)?(?:usual|normal|agreed|list|current|standard)\s+(?:prices?|terms|rates?|discount)",
    r"(?:plus|excl|excluding|ex|incl|including|zzgl|inkl)\.?\s+(?:vat|tax|mwst|ust)",
)
_POLITE = re.compile(rf"(?<![\w])(?:{'|'.join((*_ONE_ASKS, *_WHERE_IT_GOES, *_WHEN_AND_HOW))})\b")
"""What sounds like a question or a report and is none."""
_THANKS = re.compile(
    r"\b(?:many\s+thanks|thanks(?:\s+(?:a\s+lot|very\s+much|so\s+much|in\s+advance|again))?|thank\s+you(?:\s+(?:very|so)\s+much)?(?:\s+in\s+advance)?"
    r"|(?:much|greatly)\s+appreciated|vielen\s+(?:lieben\s+)?dank|besten\s+dank|danke\s+schon|merci\s+d'avance)\b(?!\s+(?:\w+\s+){0,3}for\b)"
)
_REGARDS = re.compile(
    r"\b(?:with\s+)?(?:kind|kindest|best|warm|many)\s+(?:regards|wishes)\b|\b(?:mit\s+)?(?:freundlichen|besten|vielen|viele|liebe)\s+gruss(?:en?)?\b"
)
_NUMBER_OF = re.compile(
    r"\b(?:(?:artikel|teile|bestell|material|sach)-?(?:nummer|nr)|(?:part|art(?:icle|ikel)?|item|sku|stock|cat(?:alog(?:ue)?)?|product|model|code)s?[.\-]*\s*(?:no|nr|num|number|#)|p\s*/\s*n)(?![a-z])"
    r"[.:#]*"
)
"""What stands before a SKU: no denial."""
_ORDER_NUMBER = re.compile(r"\border\s*(?:no|nr|num|number|#)(?![a-z])(?![.:#]*\s*\d)[.:#]*")
_GREETING = re.compile(
    rf"^\W*(?:{'|'.join(sorted(courtesies.GREETINGS))})\b[^,;:!.\d\t]{{0,40}}[,!:.]+\s*(?=.*\d|.*\b(?:{'|'.join(words.NUMBERS)})\b)"
)
_QUOTED = re.compile(r'^\s*"[^"]*"\s*[,;|\t]|[,;|\t]\s*"[^"]*"\s*(?:[,;|\t]|$)')
_BETWEEN_CELLS = re.compile(r'"\s*,\s*"')
_QUOTES = re.compile(r'(?:^|(?<=[,;|\t]))\s*"|"\s*(?=[,;|\t]|$)')
_BULLETS = "-*\u2022\u00b7\u25cf\u25e6\u2023\u2043+"


def without_phrases(plain: str) -> str:
    """A folded row without quotes around cells, bullets, arrows, addresses on the net, who says it in a chat; set
    phrases as single words."""
    if '"' in plain and _QUOTED.search(plain):
        plain = _QUOTES.sub("", _BETWEEN_CELLS.sub('";"', plain))
    plain = _GREETING.sub("", _TO_ONE.sub("", _CHAT.sub("", plain)))
    plain = _REGARDS.sub("regards", _THANKS.sub("thanks", _POLITE.sub("please", _ADDRESS.sub(f" {ADDRESS} ", plain))))
    plain = _ORDER_NUMBER.sub("order ", plain)
    bare = _ARROW.sub("", _NUMBER_OF.sub("part ", plain).rstrip(" "))
    bullet = bare[:1]
    bare = bare[1:].strip() if bullet and bullet in _BULLETS and bare[1:2].isspace() else bare
    return _LETTERED.sub("", bare)
