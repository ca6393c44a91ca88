"""The words of a catalog: which parts a text names whole."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from service.domain.work import spend
from service.reading import looks
from service.reading.amounts import measures_of
from service.reading.called import OF_SKUS, OF_TWO, Called, How, gap_of
from service.reading.courtesies import HARMLESS
from service.reading.folding import (
    Token,
    folded,
    joined,
    key_of,
    shortened,
    singular,
    singular_key_of,
    singulars,
    tokens_of,
    turned,
    with_word,
)
from service.reading.others import Others
from service.reading.own import Own
from service.reading.words import FILLERS, SETS_AS_WELL

_HEADS = (3, 6, 10, 16)
"""The beginnings of all keys are known in these lengths, so that most words are passed over at once."""
_HEAD_OF = tuple(max((one for one in _HEADS if one <= size), default=0) for size in range(_HEADS[-1] + 1))
"""For a length, the longest beginning of keys that is known."""
_DOCS_A_STEP = 5
_LEAST_UNDASHED = 6
_LONGEST_COUNT = 2
"""So many digits are sooner a quantity than the end of a SKU that is written in one word, or its own figure again."""


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
    """Words of a row that name parts whole. `first` to before `last`: which tokens of the row.

    `skus`: all that are called so. `is_weak`: the words may as well be a quantity, a size or words of every day.
    `torn`: the parts that a piece of the words names as well, if what is left is a quantity, or some of them with the
    words behind; `torn_qty`: that quantity.
    """

    first: int
    last: int
    skus: tuple[str, ...]
    how: How
    is_weak: bool = False
    torn: tuple[str, ...] = ()
    torn_qty: int = 0


class Vocabulary:
    """What the parts of a catalog are called. Built once a revision; safe to share by threads."""

    def __init__(self, parts: Iterable[Part], others: Iterable[str] = ()) -> None:
        """`others`: names of things that are no parts (cars, engines), which may stand beside a part."""
        self.parts = {part.sku: part for part in parts}
        self._exact = Called()
        self._singular = Called()
        self._families: dict[str, list[str]] = defaultdict(list)
        self.docs: list[tuple[str, frozenset[str]]] = []
        """For each SKU, name and alias: whose it is, and its words in the singular."""
        self.docs_with: dict[str, list[int]] = defaultdict(list)
        self._own: dict[str, Own] = {}
        for part in self.parts.values():
            self._add(part)
        keys = [*self._exact.keys, *self._singular.keys, *self._families]
        self._heads = {size: {key[:size] for key in keys} for size in _HEADS}
        self._keys = frozenset(keys)
        self._longest = max(map(len, keys), default=0)
        self._others = Others(others)
        self.words_of_others = self._others.words

    def _add(self, part: Part) -> None:
        own: set[str] = set()
        measures: frozenset[str] = frozenset()
        named: frozenset[str] = frozenset()
        spelt: list[tuple[str, ...]] = []
        called: list[tuple[How, str]] = [("sku", part.sku), ("name", part.name), *(("alias", x) for x in part.aliases)]
        for how, text in called:
            plain = folded(text)
            spelt.append(tuple(singular(token.text) for token in tokens_of(plain)))
            words = frozenset(spelt[-1])
            if not words:
                continue
            own |= words
            measures |= measures_of(plain) | {word for word in words if how == "sku" and word[0].isdigit()}
            named |= measures_of(plain).difference(x for x in spelt[0] if len(x) <= _LONGEST_COUNT)
            for said in (text, *(_undashed(text) if how == "sku" else (*turned(text), shortened(plain)))):
                self._exact.enter(key_of(said), part.sku, how)
                self._singular.enter(singular_key_of(said), part.sku, how)
            for word in words:
                self.docs_with[word].append(len(self.docs))
            self.docs.append((part.sku, words))
        if part.family:
            self._families[singular_key_of(part.family)].append(part.sku)
        self._own[part.sku] = Own(frozenset(own | _also_called(own)), measures, tuple(spelt), named, part.price)

    def own(self, sku: str) -> Own:
        """What a part is called by, word for word."""
        return self._own[sku]

    def own_words(self, skus: Iterable[str]) -> frozenset[str]:
        """The words and figures of all that these parts are called, in the singular."""
        return frozenset().union(*(self._own[sku].words for sku in skus))

    def knows(self, word: str) -> bool:
        """Whether a word (in the singular) tells parts apart: it is of the catalog, and no everyday word."""
        return word in self.docs_with and word not in HARMLESS and word not in FILLERS

    def is_known(self, text: str) -> bool:
        """Whether a word is of the catalog."""
        return self._single(text) in self.docs_with

    def has_longer(self, own: frozenset[str], word: str) -> bool:
        """Whether something else is called by all these words and one more."""
        docs = min((self.docs_with.get(one, []) for one in (*own, word)), key=len)
        spend(1 + len(docs) // _DOCS_A_STEP, "order")
        return any(word in words and own < words for words in (self.docs[doc][1] for doc in docs))

    def begins_longer(self, own: frozenset[str], text: str) -> bool:
        """Whether something else is called by all these words and one more that begins so."""
        docs = min((self.docs_with.get(one, []) for one in own), key=len)
        spend(1 + len(docs) // _DOCS_A_STEP, "order")
        longer = (self.docs[doc][1] - own for doc in docs if own < self.docs[doc][1])
        return any(word.startswith(text) for words in longer for word in words)

    def are_of_one(self, words: Iterable[str]) -> bool:
        """Whether something is called by all these words, in the singular, and more perhaps."""
        wanted = frozenset(words)
        docs = min((self.docs_with.get(word, []) for word in wanted), key=len)
        spend(1 + len(docs) // _DOCS_A_STEP, "order")
        return any(wanted <= self.docs[doc][1] for doc in docs)

    def is_of_like(self, own: frozenset[str], word: str) -> bool:
        """Whether a word is in a name half of whose words are of these: it may tell one part from its like."""
        docs = self.docs_with.get(self._single(word), [])
        spend(1 + len(docs) // _DOCS_A_STEP, "order")
        names = (self.docs[doc][1] - HARMLESS for doc in docs)
        return any(2 * len(own & name) >= len(name) for name in names)

    def mentions(self, text: str, tokens: Sequence[Token]) -> list[Mention]:
        """The parts that a folded text names whole, from left to right; of several beginnings the longest counts."""
        found: list[Mention] = []
        words = [token.text for token in tokens]
        singles = list(map(self._single, words))
        gaps = [gap_of(text[one.end : other.start]) for one, other in pairwise(tokens)]
        place = 0
        while place < len(tokens):
            last, skus, how = self._longest_from(place, words, singles, gaps)
            if skus:
                mention = self._found(text, tokens, place, last, skus, how)
                if how != "sku" and any(gaps[last - 1 : last]) and singles[last] in self.docs_with:
                    across = self._across(range(place + 1, last), last, words, singles, gaps)
                    mention = replace(mention, torn=(*mention.torn, *(one for one in across if one not in skus)))
                found.append(mention)
            place = last
        return found

    def _across(
        self, within: Iterable[int], end: int, words: Sequence[str], singles: Sequence[str], gaps: Sequence[int]
    ) -> Sequence[str]:
        """The parts whose names begin within a name and go on behind its end: "double banjo" and "banjo bolt"."""
        reached = (self._longest_from(place, words, singles, gaps) for place in within)
        return [sku for last, skus, _ in reached if last > end for sku in skus]

    def _single(self, word: str) -> str:
        """A word in the singular, of several that it may have the one that the catalog knows."""
        first, *more = singulars(word)
        return first if first in self.docs_with else next((one for one in more if one in self.docs_with), first)

    def _longest_from(
        self, first: int, words: Sequence[str], singles: Sequence[str], gaps: Sequence[int]
    ) -> tuple[int, tuple[str, ...], How]:
        """Up to where the longest name reaches that begins at a word, and whose it is; else the next word."""
        best: tuple[int, tuple[str, ...], How] = (first + 1, (), "name")
        plain = single = ""
        is_sku = True
        for place in range(first, len(words)):
            if place > first:
                gap = gaps[place - 1]
                is_sku = is_sku and gap == OF_SKUS
                if not gap or (gap == OF_TWO and best[1]):
                    break
            plain, single = with_word(plain, words[place]), with_word(single, singles[place])
            if not self._begins(plain) and not self._begins(single):
                break
            if plain in self._keys or single in self._keys:
                skus, how = self._named(plain, single, is_sku)
                best = (place + 1, skus, how) if skus else best
        return best

    def _found(
        self, text: str, tokens: Sequence[Token], first: int, last: int, skus: tuple[str, ...], how: How
    ) -> Mention:
        written = tokens[first:last]
        is_weak = looks.is_weak(text, written)
        torn, qty = ((), 0) if is_weak else self._torn(text, written, skus)
        if not torn and last < len(tokens) and written[-1].is_number:
            torn = tuple(x for x in self._with_next(text, written, tokens[last : last + 2]) if x not in skus)
        if not torn and how != "sku" and "," in text[written[0].start : written[-1].end]:
            torn = self._before_comma(text, written, skus)
        return Mention(first, last, skus, how, is_weak, torn, qty)

    def _begins(self, key: str) -> bool:
        """Whether some key may begin so."""
        size = len(key)
        if size < _HEADS[0]:
            return True
        head = _HEAD_OF[min(size, _HEADS[-1])]
        return key[:head] in self._heads[head] and size <= self._longest

    def _named(self, plain: str, single: str, is_sku: bool = True) -> tuple[tuple[str, ...], How]:
        """All that is called by a key as it is written, else in the singular, else as a family."""
        skus, how = self._exact.of(plain, is_sku)
        if not skus:
            skus, how = self._singular.of(single, is_sku)
        return (skus, how) if skus else (tuple(self._families.get(single, ())), "family")

    def _torn(self, text: str, tokens: Sequence[Token], skus: tuple[str, ...]) -> tuple[tuple[str, ...], int]:
        """What else the words may mean: a number that stands apart at an end may be a quantity, an x that sticks to it
        may be a sign. The parts that are named without it, and the quantity."""
        ends = looks.may_count(tokens[:1]) or looks.may_count(tokens[-1:])
        for cut in range(1, len(tokens)) if ends else ():
            head, tail = tokens[:cut], tokens[cut:]
            between = text[head[-1].end : tail[0].start]
            if not looks.is_apart(between) or (between == "," and head[-1].is_number and tail[0].is_number):
                continue
            for count, rest in ((tail, head), (head, tail)):
                if not looks.may_count(count):
                    continue
                named = self._whole(rest)
                if named or looks.is_told(between):
                    return named or skus, looks.quantity_in(count)
        plain = joined([x.text for x in tokens])
        if looks.is_plural_and_number(text, tokens) and not self._exact.of(plain)[0]:
            return skus, looks.quantity_in(tokens[-1:])
        return self._without_x(text, tokens), 0

    def _with_next(self, text: str, tokens: Sequence[Token], following: Sequence[Token]) -> tuple[str, ...]:
        """The parts whose names end with the next number instead of their last one, where only spaces or a comma part
        them and nothing says that it is a quantity."""
        number, *more = following
        is_counted = bool(more) and (looks.may_count(more) or more[0].text == tokens[0].text)
        between = text[tokens[-1].end : number.start]
        is_code = " " not in text[tokens[0].start : tokens[-1].end]
        if (
            (is_code and len(number.text) <= _LONGEST_COUNT)
            or is_counted
            or not number.is_number
            or between.strip(" " if is_code else " ,")
        ):
            return ()
        return self._whole([*tokens[:-1], number])

    def _before_comma(self, text: str, tokens: Sequence[Token], skus: tuple[str, ...]) -> tuple[str, ...]:
        """The other parts that the words up to a comma name, where the name itself has no comma there: what follows may
        be another part."""
        called = [folded(name) for sku in skus for name in (self.parts[sku].name, *self.parts[sku].aliases)]
        singles = [self._single(token.text) for token in tokens]
        for cut in range(1, len(tokens)):
            is_parted = "," in text[tokens[cut - 1].end : tokens[cut].start]
            if is_parted and not any(f"{singles[cut - 1]}," in name for name in called):
                named, how = self._named(joined([x.text for x in tokens[:cut]]), joined(singles[:cut]))
                return () if how == "family" else tuple(sku for sku in named if sku not in skus)
        return ()

    def _without_x(self, text: str, tokens: Sequence[Token]) -> tuple[str, ...]:
        """The parts that are named without the x at an end, where a number stands beside it."""
        plain = joined([token.text for token in tokens])
        if plain.endswith("x") and text[tokens[-1].end :].lstrip()[:1].isdigit():
            return self._named(plain[:-1], plain[:-1])[0]
        if plain.startswith("x") and text[: tokens[0].start].rstrip()[-1:].isdigit():
            return self._named(plain[1:], plain[1:])[0]
        return ()

    def _whole(self, tokens: Sequence[Token]) -> tuple[str, ...]:
        return self._named(joined([x.text for x in tokens]), joined([self._single(x.text) for x in tokens]))[0]

    def called(self, text: str) -> tuple[str, ...] | None:
        """The parts that a text is the whole name of, or the names of one part, those of a piece of it too; None where
        it is none."""
        tokens = tokens_of(plain := folded(text))
        found = self.mentions(plain, tokens)
        named = {sku for one in found for sku in (*one.skus, *one.torn)}
        is_whole = sum(one.last - one.first for one in found) == len(tokens) and (len(found) == 1 or len(named) == 1)
        return tuple(dict.fromkeys((*found[0].skus, *found[0].torn))) if found and is_whole else None

    def is_plural(self, written: Sequence[str]) -> bool:
        """Whether words that name a part are in the plural, as no name is."""
        return not self._exact.of(joined(written))[0] and any(singular(word) != word for word in written)

    def other_names(self, tokens: Sequence[Token]) -> list[tuple[int, int]]:
        """Where names of things that are no parts stand among the tokens."""
        return self._others.places(tokens)


def _undashed(sku: str) -> tuple[str, ...]:
    """A long SKU of figures as it is written without its dashes: "302-114" as "302114"."""
    figures = "".join(filter(str.isdigit, sku))
    is_long = len(figures) >= _LEAST_UNDASHED and not any(map(str.isalpha, sku)) and "." not in sku
    return (figures,) if is_long else ()


def _also_called(own: Iterable[str]) -> set[str]:
    """What a part that is a set is called as well."""
    return {other for name, others in SETS_AS_WELL.items() if name in own for other in others}
