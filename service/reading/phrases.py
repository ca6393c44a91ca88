"""What people write around an order that tells nothing of its parts: quotes, bullets, set phrases, the heads of chats."""

import re

from service.reading import words
from service.reading.amounts import ADDRESS

_ARROW = re.compile(r"^[ >]*(?:[-=]+> *)?")
_ADDRESS = re.compile(r"\S+@\S+\.\S+|(?:https?://|www\.)\S+")
_CHAT = re.compile(
    r"^\W*(?:\d{1,4}[./-]\d\d?[./-]\d{2,4},?\s+)?\d\d?:\d\d(?::\d\d)?(?:\s*[ap]m)?\W{1,4}(?:[^\W\d]+\s){0,2}[^\W\d]+:\s"
)
"""Who said something in a chat, and when."""
_LETTERED = re.compile(r"^\s*\(?[a-z]\)\s+")
_POLITE = re.compile(
    r"\b(?:would|should|i'd|we'd|'d|d)\s+(?:also\s+)?like\b|\b(?:can|could|may|let|please)\s+(?:i|we|me|us)\s+(?:please\s+)?have\b"
    r"|\b(?:i'll|we'll|will)\s+have\b|\bto\s+be\s+(?:delivered|shipped|sent|collected)\b|\bas\s+(?:soon\s+as\s+possible|follows|usual)\b|\bif\s+possible\b"
    r"|\b(?:i'd|we'd|would)\s+be\s+(?:very\s+)?(?:glad|happy|pleased|grateful)\b|\b(?:i'm|we're|i\s+am|we\s+are)\s+after\b"
    r"|\bput\s+(?:me|us)\s+down\b|\bfor\s+(?:our\s+|the\s+)?(?:own\s+)?stock\b"
    r"|\b(?:will|'ll|to|we|i)\s+(?:collect|pick\s+(?:it\s+|them\s+|these\s+)?up)\b(?!\s+(?:\w+\s+){0,2}from\b)"
    r"|\bno\s+(?:rush|hurry)\b(?=\W*$)"
)
"""What sounds like a question or a report and is none."""
_THANKS = re.compile(
    r"\b(?:many\s+thanks|thanks(?:\s+(?:a\s+lot|very\s+much|so\s+much|in\s+advance|again))?|thank\s+you(?:\s+(?:very|so)\s+much)?(?:\s+in\s+advance)?"
    r"|(?:much|greatly)\s+appreciated|vielen\s+(?:lieben\s+)?dank|besten\s+dank|danke\s+schon)\b(?!\s+(?:\w+\s+){0,3}for\b)"
)
_REGARDS = re.compile(
    r"\b(?:with\s+)?(?:kind|kindest|best|warm|many)\s+(?:regards|wishes)\b|\b(?:mit\s+)?(?:freundlichen|besten|vielen|viele|liebe)\s+gruss(?:en?)?\b"
)
_NUMBER_OF = re.compile(
    r"\b(?:part|art(?:icle|ikel)?|item|sku|stock|cat(?:alog(?:ue)?)?|product|model|code)s?[.\-]*\s*(?:no|nr|num|number|#)(?![a-z])"
    r"[.:#]*"
)
"""What stands before a SKU: no denial."""
_ORDER_NUMBER = re.compile(r"\border\s*(?:no|nr|num|number|#)(?![a-z])(?![.:#]*\s*\d)[.:#]*")
_GREETING = re.compile(
    rf"^\W*(?:{'|'.join(sorted(words.GREETINGS))})\b[^,;:!.\d\t]{{0,40}}[,!:.]+\s*(?=.*\d|.*\b(?:{'|'.join(words.NUMBERS)})\b)"
)
_QUOTED = re.compile(r'^\s*"[^"]*"\s*[,;|\t]|[,;|\t]\s*"[^"]*"\s*(?:[,;|\t]|$)')
_QUOTES = re.compile(r'(?:^|(?<=[,;|\t]))\s*"|"\s*(?=[,;|\t]|$)')
_BULLETS = "-*\u2022\u00b7\u25cf\u25e6\u2023\u2043+"


def without_phrases(plain: str) -> str:
    """A folded row without quotes around cells, bullets, arrows, addresses on the net, who says it in a chat; set
    phrases as single words."""
    if '"' in plain and _QUOTED.search(plain):
        plain = _QUOTES.sub("", plain)
    plain = _GREETING.sub("", _CHAT.sub("", plain))
    plain = _REGARDS.sub("regards", _THANKS.sub("thanks", _POLITE.sub("please", _ADDRESS.sub(f" {ADDRESS} ", plain))))
    plain = _ORDER_NUMBER.sub("order ", plain)
    bare = _ARROW.sub("", _NUMBER_OF.sub("part ", plain).rstrip(" "))
    bullet = bare[:1]
    bare = bare[1:].strip() if bullet and bullet in _BULLETS and bare[1:2].isspace() else bare
    return _LETTERED.sub("", bare)
