"""Rows of one part, or of its like, that tell of each other: one takes it off, counts it anew, or takes its place."""

import re
from collections import Counter
from collections.abc import Collection, Sequence

from service.reading import words
from service.reading.doubts import DENIES
from service.reading.lists import Lists
from service.reading.parts import ReadPart
from service.reading.row import Row

_TAKEN_OFF = "another row takes this part off: is it meant?"
_COUNTED_ANEW = "another row counts this part anew: which one is meant?"
_ANEW = re.compile(
    r"\bbut\s+(?:\w+\s+)?(?:only|just|make)\b|\b(?:instead|reduce|miscounted|correction)\b|\bmake\s+(?:it|that|those|the)\b"
    r"|\b(?:should|has\s+to|have\s+to|must)\s+(?:read|be|have\s+been|say)\b|\bedit\b.*:"
)
"""What a row says that changes what another says of the same part."""
_INSTEAD = re.compile(r"\bmake\s+(?:it|that|this)\s+(?!\d)|\binstead\s+of\s+the\s+(?!\d)")
"""What a row says that takes the place of another part."""
_ON_SECOND = re.compile(r"\bonly\s+(?:if|when)\b|\bunless\b|\bprovided\b|\bsecond\s+thoughts?\b|\bhalve\b|\bdouble\b")
"""What sets a condition for a part that was ordered before, or changes how many."""
_NEW = re.compile(r"\W*(?i:new(?:\s+order)?|add)\s*:")
_NEAR = 20
"""So many rows above a row may be meant by it."""


class Repeats(Lists):
    """The parts of all rows of a text, as other rows of the same parts leave them."""

    def tell_by_denials(self) -> None:
        """Have a row that takes a part off ask about the other rows of that part."""
        told = ((self._rows[place], part) for place, parts in self.parts.items() for part in parts)
        denied = {sku for row, part in told if row and _takes_back(row, part) for sku in part.skus}
        for place, parts in self.parts.items() if denied else ():
            if not (all(part.doubts for part in parts) or self._is_anew(place)):
                self._doubt_parts(place, denied, _TAKEN_OFF)

    def _is_anew(self, place: int) -> bool:
        """Whether a row says that it orders, whatever the others say: `new: 2 plugs`."""
        row = self._rows[place]
        return row is not None and bool(_NEW.match(row.text))

    def _doubt_before(self, places: Sequence[int], place: int) -> None:
        """Doubt the last row of these that is of another part than a row that takes the place of one."""
        skus = {sku for part in self.parts[place] for sku in part.skus}
        others = (at for at in places[::-1] if skus.isdisjoint(x for part in self.parts[at] for x in part.skus))
        before = next(others, None)
        if before is not None:
            self._doubt(before, _COUNTED_ANEW)

    def _doubt_parts(self, place: int, skus: Collection[str], doubt: str) -> None:
        """Doubt those parts of a row that are of these."""
        parts = self.parts[place]
        self.parts[place] = [x if x.doubts or set(skus).isdisjoint(x.skus) else x.doubted(doubt) for x in parts]

    def tell_by_counts_anew(self) -> None:
        """Have a row that counts a part anew ask about the other rows of that part."""
        counting = ((at, self._rows[at]) for at in self.parts if self._is_counted(at))
        anew = {at for at, row in counting if row and _counts_anew(row)}
        places = sorted(self.parts)
        for nth, place in enumerate(places):
            row = self._rows[place]
            if row and _INSTEAD.search(row.folded):
                self._doubt_before(places[max(nth - _NEAR, 0) : nth], place)
        told = Counter(sku for at in anew for sku in {x for part in self.parts[at] for x in part.skus})
        for place, parts in self.parts.items() if anew else ():
            if self._is_anew(place):
                continue
            counted = {sku for part in parts for sku in part.skus if told[sku] > (place in anew)}
            self._doubt_parts(place, counted, _COUNTED_ANEW)


def _takes_back(row: Row, part: ReadPart) -> bool:
    """Whether a row takes a part off, or thinks better of one that it does not count."""
    return DENIES in part.doubts or (bool(part.doubts) and not part.is_counted and bool(_ON_SECOND.search(row.folded)))


def _counts_anew(row: Row) -> bool:
    """Whether a row says that what it tells is meant, and not what another does; none does that tells what came."""
    return bool(_ANEW.search(row.folded)) and not words.any_of(row.words, words.CAME)
