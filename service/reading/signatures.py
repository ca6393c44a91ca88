"""The lines below the farewell of a mail: who signs it, and where they are found."""

import re
from collections.abc import Collection, Iterator, Sequence

from service.reading import words
from service.reading.meanings import ASKS, HELD, TAKE_OFF, meaning
from service.reading.row import Row

_FAREWELL = re.compile(
    r"\W*(?:(?:with|mit)\s+)?(?:(?:best|kind(?:est)?|warm(?:est)?|many|freundlichen?|viele|beste|schone|liebe)\s+)*"
    r"(?:regards|wishes|greetings|thanks|thank\s+you|cheers|grussen|gruesse?n?|grusse|gruss|danke|cordialement|yours(?:\s+(?:sincerely|faithfully|truly))?|"
    r"sincerely|rgds|brgds|mfg|lg|vg|best)(?:\W+[^\W\d_]+){0,3}\W*"
)
_GOES_ON = re.compile(r"\W*(?:p\.?\s?s\b|nb\b|n\.b|and|also|but|please|oh|one\s+more|sorry|actually|wait)")
_MOST_LINES = 6


def signed(rows: Sequence[Row | None], taken: Collection[int]) -> Iterator[int]:
    """The places of the rows that sign below a farewell: they say nothing of the parts above. `taken`: the places of
    the rows with parts."""
    left = 0
    for place, row in enumerate(rows):
        if row is None:
            continue
        if place in taken or (left and _says_more(row)):
            left = 0
        elif left:
            left -= 1
            yield place
        elif _FAREWELL.fullmatch(row.folded):
            left = _MOST_LINES


def _says_more(row: Row) -> bool:
    is_said = row.folded.rstrip().endswith(("?", ":")) or bool(_GOES_ON.match(row.folded))
    return (
        is_said
        or (meaning(row.said, row.knows) in (TAKE_OFF, HELD, ASKS) and not any(map(str.isdigit, row.folded)))
        or words.any_of(row.words, words.DENIALS)
    )
