"""Who asks for the parts of a row, and for whom or for what they are: neither says anything of the parts themselves."""

import re
from collections.abc import Callable
from typing import Final

from service.reading import courtesies, words
from service.reading.aside_forms import NO_LABELS
from service.reading.casting import casts
from service.reading.folding import singular

_NUMBER: Final = rf"(?:an?|\d{{1,4}}(?:\s?x)?|{'|'.join(words.NUMBERS)}|(?:a\s+)?(?:dozen|pair))"
_COUNTED: Final = (
    rf"(?=[\"(\[]?{_NUMBER}\s+(?:(?:of|the|x|new|more|{words.PIECES})\s+){{0,3}}[\ue100-\uf8ff]"
    r"|[\ue100-\uf8ff]\s*,?\s*(?:x\s*\d|\d{1,3}\s*x\b|\(\d))"
)
"""A quantity with its part."""
_WORD: Final = r"[^\W\d_][\w'.\-]*"
_WHO: Final = re.compile(
    rf"^\W*(?P<told>(?:{_WORD}\s+){{0,7}}{_WORD})(?:\s+(?:wants|needs|takes|orders|requires)|(?:\s+would|'d)\s+(?:also\s+|now\s+)?(?:like|love))\s+{_COUNTED}"
)
_LABEL: Final = re.compile(
    rf"^[\W_]*(?P<told>(?:{_WORD}\s+){{0,7}}{_WORD})(?P<number>\s+\d{{1,3}}[a-z]?)?\s*:\s+{_COUNTED}"
)
_WHOSE: Final = r"(?:the|my|our|your|his|her|their|an?)"
_FOR: Final = re.compile(
    rf"\bfor\s+{_WHOSE}\s+(?P<told>(?:{_WORD}\s+){{0,4}}?{_WORD}(?:\s+ones?(?!\s+(?:of\s+)?[\ue100-\uf8ff]|\w))?)"
    rf"(?=\s*(?:$|[,;:!?)(]|\.(?:\s|$)|\s(?:please|pls|thanks|thx|by|before|until|on|i|we|he|she)\b|\s+{_NUMBER}\s[^.;]*[\ue100-\uf8ff]))"
)
_RELATED: Final = words.words_of(
    "brother sister cousin twin twins mate neighbour friend uncle aunt nephew niece father mother dad mum son daughter"
)
_NOT_ONE: Final = words.NUMBERS.keys() | words.words_of(
    "each every both all any per many most half same other others second third rest lot price moment time sake return "
    "trial record whole hand purpose purposes reason come comes left still over due who which that nobody noone "
    "if when once leftover leftovers here there available remaining"
)
"""Who or what is several, another, or nobody; what is said with "for the" and is no thing."""
_USED: Final = words.words_of("test demo sample inspection trial rental hire loan repair")
"""What a thing is for that stands behind it: a test bench."""
_THINGS: Final = words.words_of("bench stand rig boat bike kart truck tractor cell track van car mule engine shop lab")
_KEPT: Final = words.words_of("shelf shelves stock rack bin drawer cupboard store ready")
"""Where parts are that are there already."""
_BEING: Final = words.words_of("is are itself")


def without_recipients(residue: str, is_own: Callable[[str], bool], is_known: Callable[[str], bool]) -> str:
    """A folded row, in which each part is one sign, without who asks for its parts and whom they are for.

    `is_own`: whether a word tells a part of the row from its like; `is_known`: whether a part is called by it.
    """

    def may_name(word: str) -> bool:
        one = singular(word)
        if word in courtesies.EMPTY or one in _RELATED:
            return True
        if word in _NOT_ONE or is_own(word) or is_known(word):
            return False
        is_plain = word in courtesies.USUAL or one in courtesies.USUAL or word in words.DESCRIBING
        return is_plain or not (word in NO_LABELS or casts(word) or words.is_of(word, words.DOUBTFUL))

    def who(found: "re.Match[str]") -> str:
        return "please " if all(map(may_name, _names(found["told"]))) else found[0]

    def label(found: "re.Match[str]") -> str:
        told = [word for word in _names(found["told"]) if word not in _BEING]
        is_place = found["number"] is None or told[-1:] == [] or told[-1] in words.NUMBERED_PLACES | courtesies.JOBS
        is_there = not _KEPT.isdisjoint(told) and told[0] not in ("for", "to")
        return "" if is_place and told and not is_there and all(map(may_name, told)) else found[0]

    def whom(found: "re.Match[str]") -> str:
        told = _names(found["told"])
        is_used = len(told) > 1 and told[-2] in _USED and told[-1] in _THINGS
        told = told[:-2] if is_used else told
        is_one = told[-1:] not in (["one"], ["ones"]) or any(word in words.DESCRIBING for word in told)
        is_thing = is_used or told[-1] in ("one", "ones") or (told[-1] not in words.DESCRIBING and may_name(told[-1]))
        return "" if is_one and is_thing and all(map(may_name, told[:-1])) else found[0]

    residue = _LABEL.sub(label, residue, count=1) if ":" in residue else residue
    residue = _FOR.sub(whom, residue) if "for " in residue else residue
    return _WHO.sub(who, residue, count=1)


def _names(told: str) -> list[str]:
    """The words of a phrase, those with a dash apart."""
    return [word.strip(".").removesuffix("'s") for word in re.split(r"[\s\-]+", told) if word.strip(".")]
