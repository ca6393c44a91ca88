"""Which parts of a catalog a row comes near to that names none whole."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from heapq import nlargest
from itertools import islice
from math import log

from rapidfuzz import fuzz, process

from service.domain.work import spend
from service.reading.courtesies import HARMLESS
from service.reading.folding import Token, folded, key_of, singular
from service.reading.vocabulary import Vocabulary
from service.reading.words import FILLERS, NUMBERS

MOST_CANDIDATES = 6
LEAST_LIKENESS = 30.0
_NEAR_WORD = 74.0
_NEAR_SKU = 78.0
_SHORTEST_NEAR = 4
_MOST_SEARCHES = 200
"""So many unknown words of a text are looked for among those that are nearly alike; a text has few of them."""
_MOST_DOCS = 250
"""A word that more names share is only looked for in those that share a rarer one, or in the first of them."""
_MOST_COMPARED = 24
_MOST_WORDS = 12
"""So many words of a row are looked for in names, those that are rarest in the catalog."""
_WORDS_A_STEP, _DOCS_A_STEP = 100, 5


class Near:
    """The words and SKUs of a catalog, for those that are nearly alike. Safe to share by threads."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary
        self._weights = {word: log(1 + len(vocabulary.docs) / len(docs)) for word, docs in vocabulary.docs_with.items()}
        self._wholes = [
            sum(self._weights[word] for word in words if word not in HARMLESS) for _, words in vocabulary.docs
        ]
        self._letters = _by_length(w for w in vocabulary.docs_with if not w[0].isdigit() and len(w) >= _SHORTEST_NEAR)
        self._sku_keys = {key_of(sku): sku for sku in vocabulary.parts}
        self._written = _by_length(self._sku_keys)

    def to(self, text: str, tokens: Sequence[Token], search: "Search") -> list[tuple[str, float]]:
        """The parts that the words of a text come near to, the nearest first, with their likeness, 0 to 100."""
        likeness = self._by_words(tokens, search)
        for run in _runs(text):
            for key, alike in search.once(run, self._written, _NEAR_SKU):
                sku = self._sku_keys[key]
                likeness[sku] = max(likeness.get(sku, 0.0), 100 * alike)
        best = sorted((sku for sku in likeness if likeness[sku] >= LEAST_LIKENESS), key=lambda x: -likeness[x])
        order = sorted(best[:_MOST_COMPARED], key=lambda x: (-round(likeness[x]), -fuzz.ratio(text, folded(x))))
        return [(sku, likeness[sku]) for sku in order[:MOST_CANDIDATES]]

    def _by_words(self, tokens: Sequence[Token], search: "Search") -> dict[str, float]:
        """The likeness by words: what is rare counts for more."""
        written = {singular(token.text) for token in tokens} - HARMLESS - FILLERS - NUMBERS.keys()
        near = {word: self.words(word, search) for word in written}
        total = sum(
            max((self._weights[known] for known, _ in found), default=0.0 if word[0].isdigit() else 1.0)
            for word, found in near.items()
        )
        matched: dict[int, float] = {}
        for found in sorted((one for one in near.values() if one), key=self._docs_of)[:_MOST_WORDS]:
            for doc, weight in self._weighed(found, matched).items():
                matched[doc] = matched.get(doc, 0.0) + weight
        wholes, docs = self._wholes, self._vocabulary.docs
        lettered = frozenset(known for word, found in near.items() if not word[0].isdigit() for known, _ in found)
        scores = nlargest(
            _MOST_COMPARED,
            [
                (2 * weight / (wholes[doc] + total), doc)
                for doc, weight in matched.items()
                if not lettered.isdisjoint(docs[doc][1]) or all(word[0].isdigit() for word in docs[doc][1])
            ],
        )
        likeness: dict[str, float] = {}
        for alike, doc in scores:
            likeness.setdefault(self._vocabulary.docs[doc][0], 100 * min(alike, 0.99))
        return likeness

    def _docs_of(self, near: Sequence[tuple[str, float]]) -> int:
        return sum(len(self._vocabulary.docs_with[known]) for known, _ in near)

    def _weighed(self, near: Sequence[tuple[str, float]], matched: Mapping[int, float]) -> dict[int, float]:
        """The weight of a word in each name that has it, or has one that is nearly alike."""
        best: dict[int, float] = {}
        for known, alike in near[::-1]:
            docs: Iterable[int] = self._vocabulary.docs_with[known]
            if len(self._vocabulary.docs_with[known]) > _MOST_DOCS:
                words = self._vocabulary.docs
                have = [doc for doc in matched if known in words[doc][1]]
                docs = have or islice(docs, _MOST_DOCS)
            best |= dict.fromkeys(docs, alike * self._weights[known])
        spend(1 + len(best) // _DOCS_A_STEP, "order")
        return best

    def words(self, word: str, search: "Search") -> list[tuple[str, float]]:
        """The words of the catalog that a word (in the singular) is or nearly is, with their likeness, 0 to 1."""
        if word in self._vocabulary.docs_with:
            return [(word, 1.0)]
        if len(word) < _SHORTEST_NEAR or word[0].isdigit() or word in HARMLESS or word in NUMBERS:
            return []
        return search.once(word, self._letters, _NEAR_WORD)


Lengths = dict[int, list[str]]


class Search:
    """Looks for words that are nearly alike, each once a text, and of a long text not for all."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, float], list[tuple[str, float]]] = {}

    def once(self, word: str, known: Lengths, cutoff: float) -> list[tuple[str, float]]:
        """Which known words are alike, the nearest first; likeness 0 to 1."""
        key = (word, cutoff)
        if key not in self._found:
            self._found[key] = [] if len(self._found) >= _MOST_SEARCHES else _alike(word, known, cutoff)
        return self._found[key]


def _alike(word: str, known: Lengths, cutoff: float) -> list[tuple[str, float]]:
    """The known words that are alike; those whose length alone rules it out are not looked at."""
    least = int(len(word) * cutoff / (200 - cutoff))
    most = int(len(word) * (200 - cutoff) / cutoff) + 1
    among = [one for length in range(least, most + 1) for one in known.get(length, ())]
    spend(1 + len(among) // _WORDS_A_STEP, "order")
    found = process.extract(word, among, scorer=fuzz.ratio, score_cutoff=cutoff, limit=MOST_CANDIDATES)
    return [(match, alike / 100) for match, alike, _ in found]


def _by_length(words: Iterable[str]) -> Lengths:
    lengths: Lengths = defaultdict(list)
    for word in words:
        lengths[len(word)].append(word)
    return dict(lengths)


def _runs(text: str) -> list[str]:
    """The words of a text that look like SKUs: of letters and digits, or torn by dashes."""
    found: list[str] = []
    for word in text.split():
        stripped = word.strip(".,;:()[]'\"|!?*")
        has_both = any(x.isdigit() for x in stripped) and any(x.isalpha() for x in stripped)
        if len(stripped) > _SHORTEST_NEAR and (has_both or "-" in stripped.strip("-")):
            found.append(key_of(stripped))
    return [run for run in found if len(run) >= _SHORTEST_NEAR]
