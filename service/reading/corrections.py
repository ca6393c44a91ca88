"""Rows that take something back or change it: which of the rows above they may mean."""

import re
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Mapping, Sequence
from itertools import pairwise

from service.domain.lazy import lazy
from service.reading import words
from service.reading.company import depends_otherwise, is_to_be_told, only_so_many, tells_else
from service.reading.folding import singular
from service.reading.meanings import without_idle_forms
from service.reading.parts import ReadPart
from service.reading.row import Row
from service.reading.vocabulary import Vocabulary

LAST = -1_000
"""Stands for the last row; -1 for the first, and so on."""
_ALL = frozenset({"all", "them", "those", "these", "both", "everything", "alle", "alles"})
_BULLETED = re.compile(r"\s*[-*\u2022\u00b7\u25cf\u25e6\u2023\u2043+]\s+\S")
_NO_THINGS = words.DESCRIBING | set(words.UNITS.split("|")) | {"size", "sizes"}
_REGISTERED = words.words_of("vat iban bic swift tel telephone fax")
"""What the row of a number begins with that tells who orders."""
_ON_CONDITION = re.compile(r"\b(?:only\s+if|unless|provided\s+that|as\s+long\s+as|subject\s+to)\b")
_MEANS_ONE = re.compile(r"\b(?:make|that|those|it|them|one|meant|wrong)\b|\d")
_LAST_ONE = re.compile(r"\b(?:of|that|this|last)\s+(?:the\s+)?(?:last\s+)?one\b")
_DIGITS = re.compile(r"\d+")
_LEADING = re.compile(r"\W*(\d{1,4})\b")
_RANGE = re.compile(r"(\d{1,4})(?:\s*(?:-|to|bis)\s*(\d{1,4}))?")
_POSITIONS = re.compile(
    r"(?:\b(?:pos|positions?|positionen|items?|lines?|rows?)\b)\.?\s*((?:\d{1,4}\W*(?:(?:and|to|und|bis|plus)\W+)?)+)"
)
_ORDINALS = {"first": -1, "second": -2, "third": -3, "fourth": -4, "fifth": -5, "last": LAST}
_ORDINAL = re.compile(rf"\b({'|'.join(_ORDINALS)})\s+(?:item|line|row|position|part|one)\b")
_NUMBERED = re.compile(
    r"(?<!order )(?<!house )(?<!phone )(?<!account )(?<!customer )(?<!at )\b(?:no|nr|number)\b\.?\s*(\d{1,3})\b"
)
_CHANGED = re.compile(
    r"\b(?:scrap|cancel|delete|drop|skip|strike|make|change|should|instead|without|forget|leave|not|remove|wait)\b"
)
"""What is said of a row that is pointed at by "no. 4"."""
_MOST_SPAN = 100
PRONOUNS = frozenset({"one", "ones", "them", "those", "former", "latter"})


class Corrections:
    """What the corrections of a text mean. `parts`: by the place of their row, from the first on."""

    def __init__(
        self, rows: Sequence[Row | None], parts: Mapping[int, Sequence[ReadPart]], vocabulary: Vocabulary
    ) -> None:
        self._rows = rows
        self._parts = parts
        self._vocabulary = vocabulary

    def meant(self, row: Row, last: int, *, is_under: bool) -> Sequence[int]:
        """The rows that a correction may mean: those with the positions that it names; of those up to `last` all that
        follow each other where it says "those"; of those that it names by a word of their parts, the ones that none
        before it named; else the last, if it stands right under that."""
        pointed = positions_in(row)
        if pointed:
            numbers = (*pointed, *([0] if max(pointed) > 0 else []))
            return sorted({place for number in numbers for place in self._by_position.pop(number, [])})
        is_else = tells_else(row, self._vocabulary)
        is_under = is_under and not is_else
        if is_under and (only_so_many(row) or _LAST_ONE.search(row.said_text)):
            return [last]
        if is_under and not _ALL.isdisjoint(row.words):
            return self._block_above(last)
        spoken = [token.text for token in row.spoken if not token.is_number and token.text not in _NO_THINGS]
        named = {singular(text) for text in spoken if self._vocabulary.knows(singular(text))}
        if not named or not (is_else or PRONOUNS.isdisjoint(row.words)):
            return [last] if is_under else []
        return sorted({place for word in named for place in self._take(word, last)})

    def _block_above(self, last: int) -> Sequence[int]:
        first = last
        while first - 1 in self._parts:
            first -= 1
        return range(first, last + 1)

    def _take(self, word: str, last: int) -> list[int]:
        """The rows up to the last whose parts are called by a word; each is told once, so that time stays short."""
        places = self._by_word.get(word, [])
        end = bisect_right(places, last)
        self._by_word[word] = places[end:]
        return places[:end]

    @lazy
    def _by_position(self) -> dict[int, list[int]]:
        """The rows by the numbers that they have in their list, or by their places where they have none."""
        found: dict[int, list[int]] = defaultdict(list)
        for place in self._parts:
            row = self._rows[place]
            for piece in row.pieces if row else ():
                if piece.kind == "position":
                    found[int(_DIGITS.findall(piece.text)[0])].append(place)
        places = sorted(self._parts)
        if not found:
            found |= self._counted(places) or {0: [*places]}
        return found | {-nth: [place] for nth, place in enumerate(places, 1)} | {LAST: places[-1:]}

    def _counted(self, places: Sequence[int]) -> dict[int, list[int]]:
        """The rows by the numbers that they begin with, where these count up."""
        begun = [_LEADING.match(row.text) for place in places if (row := self._rows[place])]
        numbers = [int(one[1]) for one in begun if one]
        is_counting = len(numbers) == len(places) > 1 and all(one < other for one, other in pairwise(numbers))
        counts = sum(
            number in part.qtys[:1]
            for number, place in zip(numbers, places, strict=False)
            for part in self._parts[place]
        )
        is_counting = is_counting and counts * 3 <= len(places)
        return {number: [place] for number, place in zip(numbers, places, strict=True)} if is_counting else {}

    @lazy
    def _by_word(self) -> dict[str, list[int]]:
        """The rows by the words of their parts."""
        found: dict[str, list[int]] = defaultdict(list)
        for place in sorted(self._parts):
            for word in self._vocabulary.own_words(sku for part in self._parts[place] for sku in part.skus):
                found[word].append(place)
        return found


def positions_in(row: Row) -> set[int]:
    """The positions that a row without a part points at, as in "positions 1, 4 and 6 to 8"."""
    found = _POSITIONS.search(row.said_text) or (
        _NUMBERED.search(row.said_text) if _CHANGED.search(row.said_text) else None
    )
    if found is None:
        return {_ORDINALS[one] for one in _ORDINAL.findall(row.said_text)}
    spans = [(int(one), int(two or one)) for one, two in _RANGE.findall(found[1])]
    return {one for first, last in spans for one in range(first, min(last, first + _MOST_SPAN) + 1)}


def quantities(row: Row) -> list[int]:
    """The quantities that a row without a part may tell."""
    return [] if positions_in(row) else [one for piece in row.said for one in (piece.value, *piece.offers) if one]


def is_item(row: Row) -> bool:
    """Whether a row is one of a list: it has a number or a bullet of its own, and words enough to be a thing."""
    is_pointed = bool(_BULLETED.match(row.text)) and len(row.words) > 1 and not words.any_of(row.words, words.DENIALS)
    return "position" in row.kinds or is_pointed


def corrects(row: Row) -> bool:
    """Whether a row takes back something, and is no heading of the rows below it."""
    if row.folded.rstrip(" *_").endswith(":") or not _REGISTERED.isdisjoint(row.said_words) or is_to_be_told(row):
        return False
    if _complains(row) or depends_otherwise(row) or (row.words[:1] != [] and row.words[0] in words.SUMS):
        return False
    if _ON_CONDITION.search(row.said_text) or only_so_many(row):
        return True
    spoken = without_idle_forms(row.said_text)
    written = [word for word in row.said_words if f"-{word}" not in spoken and word in spoken]
    written = [word for word in written if word not in ("sorry", "oops") or _MEANS_ONE.search(spoken)]
    is_amending = words.any_of(written, words.AMENDING) or written[:1] == ["or"]
    return words.any_of(written, words.DENIALS) or (bool(quantities(row)) and is_amending)


def _complains(row: Row) -> bool:
    """Whether a row tells of a part that came and is no good."""
    denials = (word for word in row.words if words.is_of(word, words.DENIALS))
    return words.any_of(row.words, words.CAME) and words.SPOILT.issuperset(denials) and not quantities(row)
