"""Lines that order the parts beside them once more, or change those of a kind: for another car, in another finish,
another number of them, or none."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from service.reading import courtesies, words
from service.reading.company import is_to_be_told
from service.reading.folding import singular
from service.reading.parts import ReadPart
from service.reading.row import Row
from service.reading.subjects import OF_ROWS
from service.reading.vocabulary import Vocabulary

_ALL_AGAIN: Final = re.compile(
    r"\b(?:dit+o|likewise|me\s+too)\b|\bsame\s+again\b"
    r"|\bsame\s+(?:in|for)\b(?!\s+(?:the\s+)?(?:address|delivery|customer|account|invoice))"
)
"""Asks for all parts once more, wherever it stands."""
_FOR_SEVERAL: Final = re.compile(
    r"\bfor\s+(?:the\s+|my\s+|our\s+)?(?:both|two|three|four|five|six|\d{1,2})\s+(?:\w+\s+)?"
    r"(?:cars|vans|trucks|engines|banks|sides|customers|builds|rails)\b"
)
"""Below the parts this may ask for them several times; above them it only says what they are for."""
_KIND: Final = "\ue0f0"
"""Begins a word of the catalog."""
_KINDS = rf"(?:{_KIND}\w+[\s\-]*)+"
_CHANGES: Final = (
    r"(?:forget|cancel\w*|scrap|drop|skip|leave|no|not|without|only|just|make|double|halve|triple|swap|replace|remove|"
    r"delete|reduce|increase|minus|except|instead\s+of|in\s+place\s+of|kein\w*|ohne|sans|pas\s+de|streichen)"
)
_OF_A_KIND: Final = (
    re.compile(rf"\b{_CHANGES}\s+(?:(?!for\b|in\b|with\b|on\b){_KIND}?[^\W\d]+\s+){{0,2}}?(?P<kinds>{_KINDS})"),
    re.compile(
        rf"(?P<kinds>{_KINDS})\s*(?:[^\W\d]+\s+){{0,4}}?"
        r"(?:(?:should|must|ought\s+to|has\s+to|have\s+to)\s+be\b|wrong\b|mixed\s+up\b|not\b|can\s+(?:wait|go)\b|out\b|off\b|instead\b|no\s+longer\b|too\s+many\b|double\b|tbc\b|nicht\b)"
    ),
    re.compile(
        rf"\b(?:i|we)(?:'ve)?\s+(?:\w+\s+)?(?:have|found|got)\b(?!\s+to\b)\s+(?:\w+\s+){{0,2}}?(?P<kinds>{_KINDS})"
    ),
    re.compile(rf"\bmake\s+(?:that|it|them)\b[^,.;]*?(?P<kinds>{_KINDS})"),
)
"""What changes the parts of a kind, takes them off, or says that they are there."""
_WORD: Final = re.compile(r"[^\W\d_]+")
_ANOTHER: Final = re.compile(rf"\b(?:an?|another|some|something)\s+(?:\w+\s+){{0,3}}?{_KIND}")
_IN_PLACE: Final = re.compile(r"\b(?:instead|rather|make|swap\w*|replac\w*|chang\w*|correct\w*|meant|place)\b")
_IN: Final = re.compile(r"(?<!-)\bin\s+(?!(?:short|stock|time|front|full)\b)([^\W\d_]+)")
"""What a finish stands behind."""


def said_again(
    row: Row, parts: Mapping[int, list[ReadPart]], vocabulary: Vocabulary, *, is_behind: bool
) -> Sequence[int]:
    """The places of the parts that a line without a part says again, of those that stand near it: above it where it
    `is_behind` them."""
    is_counted = any(piece.is_quantity for piece in row.pieces)
    if (_ALL_AGAIN.search(row.folded) and not is_counted) or (is_behind and _FOR_SEVERAL.search(row.folded)):
        return [*parts]
    if names_another(row, vocabulary):
        return []
    finishes = {word for word in _IN.findall(row.folded) if vocabulary.knows(singular(word))}
    if not finishes or is_counted:
        return []
    own = _own_words(parts, vocabulary)
    return [x for x, known in own.items() if any(vocabulary.is_of_like(known, word) for word in finishes - known)]


def changed_in(row: Row, parts: Mapping[int, list[ReadPart]], vocabulary: Vocabulary) -> Sequence[int]:
    """The places of the parts of a kind that a line without a part changes, of those that stand around it."""
    is_head = row.folded.rstrip().endswith(":") and "only" in row.words
    kinds = [] if is_head or is_to_be_told(row) else [*_kinds_in(row, vocabulary)]
    own = _own_words(parts, vocabulary) if kinds else {}
    return [place for place, known in own.items() if any(kind <= known for kind in kinds)]


def names_kinds(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a line says of which kind the parts are that it changes."""
    return next(_kinds_in(row, vocabulary), None) is not None


def names_another(row: Row, vocabulary: Vocabulary) -> bool:
    """Whether a line speaks of one more thing of the catalog, and of nothing in whose place it is: "an adapter too"."""
    return bool(_ANOTHER.search(_marked(row.folded, vocabulary))) and not _IN_PLACE.search(row.said_text)


def _own_words(parts: Mapping[int, list[ReadPart]], vocabulary: Vocabulary) -> dict[int, frozenset[str]]:
    return {place: vocabulary.own_words(sku for part in read for sku in part.skus) for place, read in parts.items()}


def _kinds_in(row: Row, vocabulary: Vocabulary) -> Iterator[frozenset[str]]:
    """The words for each kind of parts that a line changes."""
    text = _marked(row.said_text, vocabulary)
    for form in _OF_A_KIND:
        for found in form.finditer(text):
            yield frozenset(singular(word.removeprefix(_KIND)) for word in found["kinds"].replace("-", " ").split())


def _marked(text: str, vocabulary: Vocabulary) -> str:
    """A line in which each word for a kind of parts begins with a sign."""

    def mark(found: "re.Match[str]") -> str:
        word = found[0]
        is_known = vocabulary.knows(singular(word)) and word not in _NO_KINDS
        is_known = is_known and singular(word) not in vocabulary.words_of_others
        return f"{_KIND}{word}" if is_known else word

    return _WORD.sub(mark, text)


_NO_KINDS: Final = courtesies.EVERYDAY | OF_ROWS | words.NUMBERS.keys() | {"size"}
