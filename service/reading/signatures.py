"""The lines below the farewell of a mail: who signs it, and where they are found."""

import re
from collections.abc import Collection, Iterator, Sequence

from service.reading import words
from service.reading.meanings import meaning
from service.reading.row import Row

_FAREWELL = re.compile(
    r"\W*(?:(?:with|mit)\s+)?(?:(?:best|kind(?:est)?|warm(?:est)?|many|freundlichen?|viele|beste|schone|liebe)\s+)*"
    r"(?:regards|wishes|greetings|thanks|thank\s+you|cheers|grussen|gruesse?n?|grusse|gruss|danke|cordialement|yours(?:\s+(?:sincerely|faithfully|truly))?|"
    r"sincerely|rgds|brgds|mfg|lg|vg|best)(?:\W+[^\W\d_]+){0,3}\W*"
)
_GOES_ON = re.compile(
    r"\W*(?:(?:p\.?\s?s|nb|n\.b|and|also|but|please|oh|one\s+more|sorry|actually|wait|the|these|those|all|both|only|make|"
    r"better|double|if|when|once|qty|quantity|x)\b|\d{1,3}\W*$)"
)
_NUMBER = rf"(?:\d{{1,4}}|{'|'.join(words.NUMBERS)})"
_AMENDS = re.compile(
    r"\W*(?:(?:sorry|oops|wait|actually|no|oh|and|but|thanks|thank\s+you)\W+)*(?:(?:better\s+)?(?:make|take)\s+(?:it|that|this|them)|better\s+take)\b"
    rf".*\b{_NUMBER}\b|\W*(?:(?:thanks|thank\s+you|sorry)\W+)?but\s+only\s+{_NUMBER}\W*$"
)
_COUNTS = re.compile(
    rf"\W*(?:(?:sorry|oops|wait|actually|no|oh|qty|quantity|x)\W*)*{_NUMBER}\W*"
    r"(?:x|pcs|pieces|each|it\s+is|of\s+(?:each|them|those|these|it))?\W*(?:please|pls|thanks)?\W*"
)
_ON_BEHALF = re.compile(r"^\W*(?:p\.?\s?p\.|ppa\.|i\.\s?[aAvV]\.)")
_OF_NAMES = words.words_of("works per")
"""What names of firms and of people have, and means something else elsewhere."""
_MOST_LINES = 6


def below_farewells(rows: Sequence[Row | None], taken: Collection[int]) -> Iterator[tuple[int, bool]]:
    """The places of the rows below a farewell, as far as the one that says more than who signs, and whether each only
    signs: then it says nothing of the parts above. `taken`: the places of the rows with parts."""
    left = 0
    for place, row in enumerate(rows):
        if row is None:
            continue
        if place in taken:
            left = 0
        elif left:
            says_more = _says_more(row)
            left = 0 if says_more else left - 1
            yield place, not says_more
        elif _FAREWELL.fullmatch(row.folded):
            left = _MOST_LINES


def amends(row: Row, *, is_below: bool) -> bool:
    """Whether a row without a part changes how many are meant above; `is_below`: it stands below a farewell, where a
    bare number is an afterthought."""
    return bool(_AMENDS.match(row.folded) or (is_below and _COUNTS.fullmatch(row.folded)))


def _says_more(row: Row) -> bool:
    """Whether a row is no name, no address and no number of who signs."""
    first = next(filter(str.isalpha, _ON_BEHALF.sub("", row.text)), "")
    is_contact = "@" in row.text or any(piece.form in ("nothing_phone", "nothing_address") for piece in row.pieces)
    if row.folded.rstrip().endswith(("?", ":")) or _GOES_ON.match(row.folded) or (first.islower() and not is_contact):
        return True
    if words.any_of(row.words, words.DENIALS | words.AMENDING):
        return True
    told = meaning([piece for piece in row.said if piece.text not in _OF_NAMES])
    return bool(told) and not any(map(str.isdigit, row.folded))
