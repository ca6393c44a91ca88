"""Words of the trade that are misspelt by one letter, or by two that changed places."""

from collections.abc import Iterable

from rapidfuzz.distance import OSA

from service.reading.questions import words
from service.reading.questions.terms import KNOWN
from service.reading.questions.units import UNITS

_SHORTEST = 6
_TRADE = words.set_of(
    "return returns returning centre center middle factory bulkhead regulator horsepower clearance budget "
    "manometer kilowatt kilowatts millimetre millimetres millimeters petrol gasoline supercharger turbocharger "
    "boosted original standard girlfriend boyfriend friend friends neighbour brother sister colleague "
    "previous turbochargers superchargers already hundred thousand"
)
_APART = {
    **{f"{who}ve": f"{who}'ve" for who in ("i", "we", "you", "they")},
    **{f"{what}s": f"{what}'s" for what in ("that", "there", "here", "what", "he", "she", "everything", "let")},
    **{f"{what}nt": f"{what}n't" for what in ("do", "does", "did", "is", "are", "was", "has", "have", "would")},
    "im": "i'm", "youre": "you're", "theyre": "they're", "cant": "can't",
}  # fmt: skip
"""Words that are written without their apostrophe."""
_REAL = words.set_of(
    "patrol retune rectum retain returned reform petrel control metrics setting saving coming fitted finished "
    "mounted ordered started bucket gadget stranded centred centres actors doctor victory budgie facts factors "
    "petals"
)
"""Words that are no misspelling."""


class Spelling:
    """Puts right what is misspelt by a letter, where one word alone may be meant. Safe to share by threads."""

    def __init__(self, own: Iterable[str], known: Iterable[str]) -> None:
        """`own`: words of a catalog that may be misspelt as well; `known`: all other words of it."""
        meant = {*_TRADE, *(x for x in own if len(x) >= _SHORTEST and x.isalpha())}
        self._known = KNOWN | _REAL | meant | frozenset(known) | UNITS.keys()
        self._meant: dict[tuple[str, int], list[str]] = {}
        for word in sorted(meant):
            for size in (len(word) - 1, len(word), len(word) + 1):
                self._meant.setdefault((word[0], size), []).append(word)

    def right(self, word: str) -> str:
        """The word that is meant, or the word itself."""
        if word in _APART:
            return _APART[word]
        if len(word) < _SHORTEST - 1 or word in self._known:
            return word
        near = [x for x in self._meant.get((word[0], len(word)), ()) if OSA.distance(word, x, score_cutoff=1) == 1]
        return near[0] if len(near) == 1 else word
