"""Things found by words: all the words, with dashes or without, or near spellings of them."""

from collections import defaultdict
from collections.abc import Mapping

from rapidfuzz import process
from rapidfuzz.distance import OSA

from service.domain.lazy import lazy
from service.reading.folding import folded, singular, tokens_of

_MOST_WORDS = 8
_LEAST_NEAR = 4
"""Shorter words are near too many others."""
_LONG = 8
_MOST_NEAR = 12


class Search:
    """Finds things by what is told of each: its names, its kind, whatever describes it."""

    def __init__(self, told: Mapping[str, str]) -> None:
        """`told`: by id, in the order in which things are found."""
        self._texts = {id_: folded(text) for id_, text in told.items()}

    def found(self, words: str) -> list[str]:
        """The ids whose texts hold every word, in their order; without words all.

        Of each word the first that finds anything counts: as it is written, without its dashes, as a near spelling.
        """
        found = list(self._texts)
        for word in folded(words).split()[:_MOST_WORDS]:
            holding = self._holding(singular(word))
            found = [id_ for id_ in found if id_ in holding]
        return found

    @lazy
    def _bare(self) -> dict[str, str]:
        """The texts without dashes and spaces."""
        return {id_: _bare(text) for id_, text in self._texts.items()}

    @lazy
    def _by_word(self) -> dict[str, set[str]]:
        """The ids by the words of their texts."""
        found: dict[str, set[str]] = defaultdict(set)
        for id_, text in self._texts.items():
            for token in tokens_of(text):
                found[token.text].add(id_)
        return found

    def _holding(self, word: str) -> set[str]:
        as_written = {id_ for id_, text in self._texts.items() if word in text}
        if as_written:
            return as_written
        bare = _bare(word)
        joined = {id_ for id_, text in self._bare.items() if bare and bare in text}
        return joined or self._near(bare)

    def _near(self, word: str) -> set[str]:
        if len(word) < _LEAST_NEAR:
            return set()
        most = 1 if len(word) < _LONG else 2
        near = process.extract(word, list(self._by_word), scorer=OSA.distance, score_cutoff=most, limit=_MOST_NEAR)
        return set().union(*(self._by_word[text] for text, distance, _ in near if distance == near[0][1]))


def _bare(text: str) -> str:
    return "".join(sign for sign in text if sign.isalnum())
