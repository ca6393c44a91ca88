"""The words of a catalog: which parts a text names whole, and which ones it comes near to."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import log
from typing import Literal

from rapidfuzz import fuzz, process

from service.reading.folding import Token, folded, joined, key_of, singular, singular_key_of, tokens_of
from service.reading.words import FILLERS, HARMLESS, MOST_QTY, NUMBERS, OTHER_NUMBERS, PIECES

How = Literal["sku", "name", "alias", "family"]

MOST_CANDIDATES = 6
LEAST_LIKENESS = 30.0
_HEAD = 3
_NEAR_WORD = 74.0
_NEAR_SKU = 78.0
_SHORTEST_NEAR = 4
_SKU_GAPS = " ._/-"
_NAME_GAPS = " ._/-,()'\":+&"
_LONGEST_GAP = 4
_COUNTING = frozenset(NUMBERS) | frozenset(PIECES.split("|")) | {"x", "dozen", "pair"}
_MOST_FUZZY = 400
"""So many unknown words of a text are looked for among those that are nearly alike; a text has few of them."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part by all that it is called. `price` in minor units; None where it is not sold."""

    sku: str
    name: str
    aliases: tuple[str, ...] = ()
    family: str | None = None
    price: int | None = None


@dataclass(frozen=True, slots=True)
class Mention:
    """Words of a row that name parts whole; `skus`: all that are called so. `torn`: a number at its end may stand
    for itself. `first` to before `last`: which tokens of the row."""

    first: int
    last: int
    skus: tuple[str, ...]
    how: How
    torn: bool = False


class Vocabulary:
    """What the parts of a catalog are called. Built once a revision; safe to share by threads."""

    def __init__(self, parts: Iterable[Part], others: Iterable[str] = ()) -> None:
        """`others`: names of things that are no parts (cars, engines), which may stand beside a part."""
        self.parts = {part.sku: part for part in parts}
        self._plain: dict[str, dict[str, How]] = defaultdict(dict)
        self._singular: dict[str, dict[str, How]] = defaultdict(dict)
        self._families: dict[str, list[str]] = defaultdict(list)
        self._docs: list[tuple[str, frozenset[str]]] = []
        self._docs_with: dict[str, list[int]] = defaultdict(list)
        self._own: dict[str, frozenset[str]] = {}
        for part in self.parts.values():
            self._add(part)
        self._heads = {key[:_HEAD] for keys in (self._plain, self._singular, self._families) for key in keys}
        self._longest = max((len(key) for keys in (self._plain, self._singular) for key in keys), default=0)
        self._weights = {word: log(1 + len(self._docs) / len(docs)) for word, docs in self._docs_with.items()}
        self._letters = [w for w in self._docs_with if not w[0].isdigit() and len(w) >= _SHORTEST_NEAR]
        self._sku_keys = {key_of(sku): sku for sku in self.parts}
        self._written = list(self._sku_keys)
        named = [tokens for name in others if not _is_weak(tokens := tokens_of(folded(name)))]
        self._others = {joined([singular(token.text) for token in tokens]) for tokens in named}
        self.words_of_others = frozenset(singular(x.text) for tokens in named for x in tokens if not x.is_number)
        self._heads_of_others = {key[:_HEAD] for key in self._others}
        self._longest_other = max(map(len, self._others), default=0)

    def _add(self, part: Part) -> None:
        own: set[str] = set()
        called: list[tuple[How, str]] = [("sku", part.sku), ("name", part.name), *(("alias", x) for x in part.aliases)]
        for how, text in called:
            words = frozenset(singular(token.text) for token in tokens_of(folded(text)))
            own |= words
            if not words:
                continue
            self._plain[key_of(text)].setdefault(part.sku, how)
            self._singular[singular_key_of(text)].setdefault(part.sku, how)
            for word in words:
                self._docs_with[word].append(len(self._docs))
            self._docs.append((part.sku, words))
        if part.family:
            self._families[singular_key_of(part.family)].append(part.sku)
        self._own[part.sku] = frozenset(own)

    def own_words(self, sku: str) -> frozenset[str]:
        """The words and figures of a part's SKU, name and aliases, in the singular."""
        return self._own[sku]

    def knows(self, word: str) -> bool:
        """Whether a word (in the singular) tells parts apart: it is of the catalog, and no everyday word."""
        return word in self._docs_with and word not in HARMLESS and word not in FILLERS

    def mentions(self, text: str, tokens: Sequence[Token]) -> list[Mention]:
        """The parts that a folded text names whole, from left to right; of several beginnings the longest counts."""
        found: list[Mention] = []
        place = 0
        while place < len(tokens):
            mention = self._mention(text, tokens, place)
            if mention is None:
                place += 1
                continue
            found.append(mention)
            place = mention.last
        strong = [one for one in found if not _is_weak(tokens[one.first : one.last])]
        return strong or found

    def _mention(self, text: str, tokens: Sequence[Token], first: int) -> Mention | None:
        best: Mention | None = None
        plain: list[str] = []
        single: list[str] = []
        for last in range(first + 1, len(tokens) + 1):
            token = tokens[last - 1]
            if last > first + 1 and not _is_gap(text[tokens[last - 2].end : token.start], _NAME_GAPS):
                break
            plain.append(token.text)
            single.append(singular(token.text))
            plain_key, single_key = joined(plain), joined(single)
            if len(single_key) > self._longest or (
                len(single_key) >= _HEAD and not self._begins(plain_key, single_key)
            ):
                break
            skus, how = self._named(plain_key, single_key)
            if not skus or (how == "sku" and not self._is_one_word(text, tokens, first, last)):
                continue
            best = Mention(first, last, skus, how)
        if best is None:
            return None
        torn = _is_weak(tokens[first : best.last]) or self._is_torn(text, tokens, first, best.last)
        return replace(best, torn=torn)

    def _begins(self, plain: str, single: str) -> bool:
        return plain[:_HEAD] in self._heads or single[:_HEAD] in self._heads

    def _named(self, plain: str, single: str) -> tuple[tuple[str, ...], How]:
        exact = self._plain.get(plain) or self._singular.get(single) or {}
        by_sku = tuple(sku for sku, how in exact.items() if how == "sku")
        if by_sku:
            return by_sku, "sku"
        if exact:
            return tuple(exact), next(iter(exact.values()))
        return tuple(self._families.get(single, ())), "family"

    @staticmethod
    def _is_one_word(text: str, tokens: Sequence[Token], first: int, last: int) -> bool:
        pairs = zip(tokens[first : last - 1], tokens[first + 1 : last], strict=True)
        return all(_is_gap(text[one.end : other.start], _SKU_GAPS) for one, other in pairs)

    def _is_torn(self, text: str, tokens: Sequence[Token], first: int, last: int) -> bool:
        """Whether numbers that stand apart at an end of a mention may be a quantity: without them, or with the plural,
        a part is named as well."""
        for cut in range(first + 1, last):
            if not _is_apart(text[tokens[cut - 1].end : tokens[cut].start]):
                continue
            head, tail = tokens[first:cut], tokens[cut:last]
            if (_may_count(head) and self._is_named(tail)) or (_may_count(tail) and self._is_named(head)):
                return True
        end = tokens[last - 2 : last]
        return (
            last - first > 1
            and _may_count(end[1:])
            and _is_apart(text[end[0].end : end[1].start])
            and singular(end[0].text) != end[0].text
            and joined([token.text for token in tokens[first:last]]) not in self._plain
        )

    def _is_named(self, tokens: Sequence[Token]) -> bool:
        plain, single = joined([x.text for x in tokens]), joined([singular(x.text) for x in tokens])
        return plain in self._plain or single in self._singular or single in self._families

    def other_names(self, tokens: Sequence[Token]) -> list[tuple[int, int]]:
        """Where names of things that are no parts stand among the tokens."""
        found: list[tuple[int, int]] = []
        place = 0
        while place < len(tokens):
            last = self._other(tokens, place)
            found += [(place, last)] if last else []
            place = last or place + 1
        return found

    def _other(self, tokens: Sequence[Token], first: int) -> int:
        best = 0
        words: list[str] = []
        for last in range(first + 1, len(tokens) + 1):
            words.append(singular(tokens[last - 1].text))
            key = joined(words)
            if len(key) > self._longest_other or (len(key) >= _HEAD and key[:_HEAD] not in self._heads_of_others):
                break
            best = last if key in self._others else best
        return best

    def near_word(self, word: str, search: "Search") -> list[tuple[str, float]]:
        """The words of the catalog that a word (in the singular) is or nearly is, with their likeness, 0 to 1."""
        if word in self._docs_with:
            return [(word, 1.0)]
        if len(word) < _SHORTEST_NEAR or word[0].isdigit() or word in HARMLESS or word in NUMBERS:
            return []
        return search.once(word, self._letters, _NEAR_WORD)

    def is_near(self, word: str, search: "Search") -> str | None:
        """The word of the catalog that a word nearly is, None where there is none."""
        near = self.near_word(word, search)
        return near[0][0] if near and self.knows(near[0][0]) else None

    def near(self, text: str, tokens: Sequence[Token], search: "Search") -> list[tuple[str, float]]:
        """The parts that the words of a text come near to, the nearest first, with their likeness, 0 to 100."""
        likeness = self._by_words(tokens, search)
        for run in _runs(text):
            for key, alike in search.once(run, self._written, _NEAR_SKU):
                sku = self._sku_keys[key]
                likeness[sku] = max(likeness.get(sku, 0.0), 100 * alike)
        order = sorted(likeness, key=lambda sku: (-round(likeness[sku]), -fuzz.ratio(text, folded(sku))))
        return [(sku, likeness[sku]) for sku in order[:MOST_CANDIDATES] if likeness[sku] >= LEAST_LIKENESS]

    def _by_words(self, tokens: Sequence[Token], search: "Search") -> dict[str, float]:
        written = {singular(token.text) for token in tokens} - HARMLESS - FILLERS
        matched: dict[int, float] = defaultdict(float)
        total = 0.0
        for word in written:
            near = self.near_word(word, search)
            total += max((self._weights[known] for known, _ in near), default=0.0 if word[0].isdigit() else 1.0)
            best: dict[int, float] = {}
            for known, alike in near:
                for doc in self._docs_with[known]:
                    best[doc] = max(best.get(doc, 0.0), alike * self._weights[known])
            for doc, weight in best.items():
                matched[doc] += weight
        likeness: dict[str, float] = {}
        for doc, weight in matched.items():
            sku, words = self._docs[doc]
            whole = sum(self._weights[word] for word in words if word not in HARMLESS)
            alike = 100 * min(2 * weight / (whole + total), 0.99) if whole + total else 0.0
            likeness[sku] = max(likeness.get(sku, 0.0), alike)
        return likeness


class Search:
    """Looks for words that are nearly alike, each once a text, and of a long text not for all."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, float], list[tuple[str, float]]] = {}

    def once(self, word: str, known: Sequence[str], cutoff: float) -> list[tuple[str, float]]:
        """Which known words are alike, the nearest first; likeness 0 to 1."""
        key = (word, cutoff)
        if key not in self._found:
            if len(self._found) >= _MOST_FUZZY:
                return []
            found = process.extract(word, known, scorer=fuzz.ratio, score_cutoff=cutoff, limit=MOST_CANDIDATES)
            self._found[key] = [(match, alike / 100) for match, alike, _ in found]
        return self._found[key]


def _may_count(tokens: Sequence[Token]) -> bool:
    """Whether tokens may be a quantity: numbers, number words, an x."""
    return all(token.is_number or token.text in _COUNTING for token in tokens)


def _is_weak(tokens: Sequence[Token]) -> bool:
    """Whether what names a part may as well be a quantity or a word of every day."""
    return all(
        int(x.text) <= MOST_QTY if x.is_number else x.text in _COUNTING or x.text in HARMLESS or x.text in OTHER_NUMBERS
        for x in tokens
    )


def _is_apart(between: str) -> bool:
    """Whether what stands between two tokens parts them: a space, a comma, anything but one dash or the like."""
    return bool(between) and between not in ("-", ".", "_", "/")


def _is_gap(between: str, allowed: str) -> bool:
    return len(between) <= _LONGEST_GAP and all(sign in allowed for sign in between)


def _runs(text: str) -> list[str]:
    """The words of a text that look like SKUs: of letters and digits, or torn by dashes."""
    found: list[str] = []
    for word in text.split():
        stripped = word.strip(".,;:()[]'\"|!?*")
        has_both = any(x.isdigit() for x in stripped) and any(x.isalpha() for x in stripped)
        if len(stripped) > _SHORTEST_NEAR and (has_both or "-" in stripped.strip("-")):
            found.append(key_of(stripped))
    return [run for run in found if len(run) >= _SHORTEST_NEAR]
