"""Words that are nearly the number of a part, or nearly its name, and name none."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from service.domain.lazy import lazy
from service.reading.folding import singular, tokens_of
from service.reading.near import Near, Search
from service.reading.questions.sentence import Sentence
from service.reading.vocabulary import Vocabulary

_WRITTEN = re.compile(r"[^\s,;:()?!\"]+")
_LIKE_A_NUMBER, _LIKE_A_NAME = 78, 60
"""The least likeness, of 100."""
_MOST_LOOKED_AT = 50
"""So many words or pieces of a text, in which nobody writes more parts."""
_JOINING = frozenset(("and", "&", "+", "plus"))


@dataclass(frozen=True, slots=True)
class Misspelt:
    """Words from `first` to before `last` that come near to parts, the nearest first."""

    first: int
    last: int
    skus: tuple[str, ...]


class NearParts:
    """The parts of a catalog by what is nearly their number or name. Safe to share by threads."""

    def __init__(self, parts: Vocabulary) -> None:
        self._parts = parts

    @lazy
    def _near(self) -> Near:
        return Near(self._parts)

    def numbers_in(self, sentence: Sentence, covered: Sequence[bool]) -> Iterator[Misspelt]:
        """Yield what is nearly the number of a part; `covered`: the words that name parts whole."""
        search = Search()
        for first, last in islice(_written(sentence, covered), _MOST_LOOKED_AT):
            yield from self._like(sentence, first, last, search, _LIKE_A_NUMBER)

    def names_in(self, sentence: Sentence, covered: Sequence[bool]) -> Iterator[Misspelt]:
        """Yield what is nearly the name of a part, with a word that no part has, from comma to comma."""
        search = Search()
        for start, end in islice(_pieces(sentence, covered), _MOST_LOOKED_AT):
            told = {x: singular(sentence.at(x)) for x in range(start, end)}
            near = [x for x in told if self._near.words(told[x], search)]
            first = next((x for x in near if sentence.words[x].is_word), end)
            if any(sentence.words[x].is_word and told[x] not in self._parts.docs_with for x in range(first, end)):
                yield from self._like(sentence, first, near[-1] + 1, search, _LIKE_A_NAME)

    def _like(self, sentence: Sentence, first: int, last: int, search: Search, least: float) -> Iterator[Misspelt]:
        text = sentence.plain[sentence.words[first].start : sentence.words[last - 1].end]
        near = self._near.to(text, tokens_of(text), search)
        if near and near[0][1] >= least:
            yield Misspelt(first, last, tuple(sku for sku, _ in near))


def _written(sentence: Sentence, covered: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """The words that are written in one like numbers of parts."""
    for found in _WRITTEN.finditer(sentence.plain):
        text = found[0].strip(".'-/+*&")
        if any(x.isalpha() for x in text) and any(x.isdigit() or x in "-_./" for x in text):
            start = found.start() + found[0].index(text)
            first, last = sentence.within(start, start + len(text))
            if not _is_named(sentence, first, last, covered):
                yield first, last


def _pieces(sentence: Sentence, covered: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """The pieces of clauses between words that join, in which no part is named."""
    for start, end in sentence.clauses:
        first = start
        for place in (*sentence.places(_JOINING, start, end), end):
            if place > first and not any(covered[first:place]):
                yield first, place
            first = place + 1


def _is_named(sentence: Sentence, first: int, last: int, covered: Sequence[bool]) -> bool:
    """Whether words name a part whole; not where they only begin like one, as in `plug-8-holow` where `plug-8` is."""
    told = [place for place in range(first, last) if sentence.words[place].is_word or sentence.words[place].is_number]
    return not told or (any(covered[first:last]) and not (covered[first] and not covered[told[-1]]))
