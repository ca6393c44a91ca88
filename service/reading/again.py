"""Lines that order the parts beside them once more: for another car, in another finish, or another number of them."""

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final

from service.reading import words
from service.reading.folding import singular
from service.reading.parts import ReadPart
from service.reading.row import Row
from service.reading.vocabulary import Vocabulary

_ALL_AGAIN: Final = re.compile(
    r"\b(?:dit+o|likewise)\b|\bsame\s+(?:in|for)\b(?!\s+(?:the\s+)?(?:address|delivery|customer|account|invoice))"
)
"""Asks for all parts once more, wherever it stands."""
_FOR_SEVERAL: Final = re.compile(
    r"\bfor\s+(?:the\s+|my\s+|our\s+)?(?:both|two|three|four|five|six|\d{1,2})\s+(?:\w+\s+)?"
    r"(?:cars|vans|trucks|engines|banks|sides|customers|builds|rails)\b"
)
"""Below the parts this may ask for them several times; above them it only says what they are for."""
_OF_A_KIND: Final = re.compile(
    r"\bmake\s+(?:that|it|them)\b|\b(?:i|we)(?:'ve)?\s+(?:\w+\s+)?(?:have|found|got)\b(?!\s+to\b)"
)
"""What changes the parts of a kind that it names, or says that they are there."""
_NO_FINISHES: Final = words.words_of("short stock time front full")
"""What stands behind an "in" besides."""


def said_again(
    row: Row, parts: Mapping[int, list[ReadPart]], vocabulary: Vocabulary, *, is_behind: bool
) -> Sequence[int]:
    """The places of the parts that a line without a part says again, of those that stand near it: above it where it
    `is_behind` them."""
    if _ALL_AGAIN.search(row.folded) or (is_behind and _FOR_SEVERAL.search(row.folded)):
        return [*parts]
    is_of_kind = bool(_OF_A_KIND.search(row.folded))
    told = row.words if is_of_kind else _behind_in(row)
    named = {singular(word) for word in told if vocabulary.knows(singular(word))}
    if not named:
        return []
    own = {place: vocabulary.own_words(sku for part in read for sku in part.skus) for place, read in parts.items()}
    if is_of_kind:
        return [place for place, known in own.items() if named & known]
    return [place for place, known in own.items() if any(vocabulary.is_of_like(known, x) for x in named - known)]


def _behind_in(row: Row) -> list[str]:
    """The words behind an "in", as that of a finish is."""
    return [other for one, other in pairwise(row.words) if one == "in" and other not in _NO_FINISHES]
