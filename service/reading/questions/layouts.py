"""Which layout is meant: by its name, or by all that is said of how fuel runs."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.facts import MOST_CHOICES, Choice, Found, Open, Understood
from service.reading.questions.flows import Facet, kinds_in, links_in, places_in, regulators_in, returns_in
from service.reading.questions.lexicon import LayoutWords
from service.reading.questions.measures import Measure
from service.reading.questions.names import Hit, NameFinder
from service.reading.questions.numbers import numbers_of
from service.reading.questions.sentence import Sentence
from service.reading.questions.sizes import SizeSaid, all_sizes, of_these_sizes, sized, sizes_in
from service.reading.questions.spots import Spot
from service.reading.questions.stance import stance_of
from service.reading.questions.terms import terms_of

_EMPTY = words.set_of("a an the to of with and for in at on from")
_IN_A_RUN = _EMPTY - {"and"} | words.set_of(", - ( )")
_LEAST_TERMS = 3
_GOES_WITH = words.HOSES | words.FEEDS | words.REMOTE | {"tank", "back"}
_SHORTEST_WORD = 3
_TOLD_OTHERWISE = frozenset().union(
    *(words.SAYS_NOTHING, words.HOSES, words.PLACES, words.SIDE, words.FEEDS, words.RETURNS, words.LINKS),
    *(words.FACTORY, words.BULKHEAD, words.REGULATORS, words.REMOTE, words.LIGHT, words.RAILS),
    words.set_of("bank banks pair barb flow high"),
) - {"bypass"}


@dataclass(frozen=True, slots=True)
class Flows:
    """All that a text says of how fuel runs."""

    facets: tuple[Facet, ...]
    sizes: tuple[SizeSaid, ...]
    names: tuple[Hit, ...]
    own_words: tuple[tuple[int, str], ...]
    is_other_return: bool = False
    """Whether fuel returns in what is told apart, so that it may go on so."""

    @property
    def has_return(self) -> bool | None:
        """Whether fuel returns; None where it is not said, or not surely."""
        said = {x.value for x in self.facets if x.topic == "return"}
        is_sure = all(x.stance == "yes" for x in self.facets if x.topic == "return")
        return next(iter(said)) is True if len(said) == 1 and is_sure else None

    @property
    def places(self) -> list[int]:
        """Where something is said of it."""
        return [*(x.first for x in self.facets), *(x.first for x in self.sizes), *(x.first for x in self.names)]


class LayoutReader:
    """Finds the layouts of a catalog in a text. Safe to share by threads."""

    def __init__(self, layouts: Sequence[LayoutWords]) -> None:
        self._layouts = {layout.called.id: layout for layout in layouts}
        sizes = [size for x in layouts for size in all_sizes(x)]
        self._size_words = frozenset().union(*(size.called for size in sizes))
        self._size_numbers = frozenset().union(*(size.numbers for size in sizes))
        self.widths = frozenset(float(x) for size in sizes for x in size.numbers - size.dashes)
        """What hoses that are told in mm are called by."""
        everyday = _TOLD_OTHERWISE | {"loop", "ring", "return"}
        named = [(name, x.called.id) for x in layouts for name in x.called.names]
        self._finder = NameFinder(named, everyday)
        self._words: dict[str, frozenset[str]] = {}
        for layout in layouts:
            for word in {x for name in layout.called.names for x in terms_of(name) if isinstance(x, str)}:
                if len(word) >= _SHORTEST_WORD and word not in _TOLD_OTHERWISE:
                    self._words[word] = self._words.get(word, frozenset()) | {layout.called.id}

    def names_in(self, sentence: Sentence) -> list[Hit]:
        """Where layouts are named whole."""
        return self._finder.hits(sentence)

    def flows_in(
        self, sentence: Sentence, taken: Sequence[bool], measures: Sequence[Measure], lengths: Sequence[Measure]
    ) -> Flows:
        """What is said of how fuel runs, but for places."""
        facets = [*returns_in(sentence, taken), *kinds_in(sentence), *regulators_in(sentence, taken)]
        facets += links_in(sentence)
        own = tuple(
            (place, singular(word.text))
            for place, word in enumerate(sentence.words)
            if not taken[place] and not sentence.read[place] and singular(word.text) in self._words
        )
        sizes = tuple(sizes_in(sentence, measures, lengths, self._size_words, self._size_numbers))
        lines = [x for x in facets if x.value in ("factory-line", "bulkhead") and x.stance == "yes"]
        line_clauses = {sentence.words[x.first].clause for x in lines}
        sizes = tuple(x for x in sizes if sentence.words[x.first].clause not in line_clauses)
        for one in _widths_of(sentence, lines, measures):
            sentence.mark(one.first, one.last)
        places = [*(x.first for x in facets), *(x.first for x in sizes), *sentence.places(words.HOSES | words.FEEDS)]
        told = {(sentence.words[x].sentence, sentence.words[x].clause + y) for x in places for y in (-1, 0, 1)}
        own = tuple(
            (place, word)
            for place, word in own
            if (sentence.words[place].sentence, sentence.words[place].clause) in told
            and sentence.at(place + 1) not in words.BLOWN
        )
        flows = Flows(tuple(facets), sizes, tuple(self.names_in(sentence)), own)
        return _in_question(sentence, flows)

    def read(self, sentence: Sentence, flows: Flows, spots: Sequence[Spot], banks: frozenset[int]) -> Found:
        """The layout that is meant, or which may be."""
        facets = [*flows.facets, *places_in(sentence, [x for x in spots if x.first not in sentence.apart])]
        among = [x for x in self._layouts.values() if x.banks in banks]
        _mark(sentence, facets, flows)
        named = self._named(sentence, flows, facets, among)
        if named is not None:
            return named
        doubted = any(x.stance == "doubt" for x in facets) or any(x.stance == "doubt" for x in flows.sizes)
        doubted_topics = {x.topic for x in facets if x.stance == "doubt"} | _contradicted(facets)
        sure = [x for x in facets if x.stance == "yes" and x.topic not in doubted_topics]
        tests: list[Callable[[LayoutWords], bool]] = [_fits(x) for x in sure]
        sizes = [x for x in flows.sizes if x.stance == "yes"]
        denied = [x for x in flows.sizes if x.stance == "no"]
        tests += [sized(x) for x in sizes]
        fitting = [x for x in among if all(test(x) for test in tests)]
        fitting = [x for x in fitting if not any(any(one.is_of(size) for size in all_sizes(x)) for one in denied)]
        is_return_said = any(x.topic == "return" for x in sure)
        kinds = (None,) if is_return_said else (True, False)
        groups = [[x for x in fitting if kind in (None, x.traits.has_return)] for kind in kinds]
        kept = {x.called.id for group in groups for x in of_these_sizes(group, sizes)}
        fitting = [x for x in fitting if x.called.id in kept]
        fitting = self._of_these_words(fitting, flows)
        is_return_told = flows.is_other_return or any(x.topic in ("return", "regulator") for x in facets)
        if sizes and not is_return_told:
            fitting = [x for x in fitting if not x.traits.has_return] or fitting
        fitting = self._told_with(fitting, flows, among)
        is_said = bool(sure or sizes or (flows.own_words and len(fitting) < len(among)))
        is_open = doubted or bool(doubted_topics)
        told = self._told(sentence, sure, sizes, fitting[0].called.id if len(fitting) == 1 and not is_open else None)
        if len(fitting) > 1 and not is_open:
            fitting = self._of_all_words(fitting, among, sentence) or fitting
            told = self._told(sentence, sure, sizes, fitting[0].called.id) if len(fitting) == 1 else told
        if len(fitting) == 1 and is_said and not is_open and (sure or sizes):
            id_ = fitting[0].called.id
            return Found(id_, told)
        return Found(None, told, self._asked(fitting, among, tests, is_said=is_said))

    def _named(
        self, sentence: Sentence, flows: Flows, facets: Sequence[Facet], among: Sequence[LayoutWords]
    ) -> Found | None:
        """The layout that is named whole, unless other words say that it is another one."""
        hits = [x for x in flows.names if stance_of(sentence, x.first, x.last) == "yes"]
        ids = set.intersection(*(set(x.ids) for x in hits)) if hits else set()
        ids &= {x.called.id for x in among}
        if len(ids) != 1 or len(hits) != len(flows.names):
            return None
        layout = self._layouts[ids.pop()]
        inside = {place for hit in hits for place in range(hit.first, hit.last)}
        beside = [x for x in facets if x.first not in inside and x.stance != "no"]
        sizes = [x for x in flows.sizes if x.first not in inside]
        if any(x.stance == "doubt" for x in beside) or any(x.stance == "doubt" for x in sizes):
            return None
        if not all(_fits(x)(layout) for x in beside):
            return None
        if not all(sized(x)(layout) for x in sizes if x.stance == "yes"):
            return None
        told = [Understood.of(sentence, x.first, x.last, "layout", layout.called.id, layout.called.name) for x in hits]
        told += self._told(sentence, beside, [x for x in sizes if x.stance == "yes"], layout.called.id)
        return Found(layout.called.id, told)

    def _told(
        self, sentence: Sentence, facets: Iterable[Facet], sizes: Iterable[SizeSaid], id_: str | None
    ) -> list[Understood]:
        told = [(x.first, x.last, x.says) for x in facets] + [(x.first, x.last, x.says) for x in sizes]
        return [Understood.of(sentence, a, b, "layout", id_, says) for a, b, says in sorted(told)]

    def _of_these_words(self, fitting: list[LayoutWords], flows: Flows) -> list[LayoutWords]:
        """Those whose names have the words of layouts that stand in the text, where some have."""
        for _, word in flows.own_words:
            fitting = [x for x in fitting if x.called.id in self._words[word]] or fitting
        return fitting

    def _told_with(self, fitting: list[LayoutWords], flows: Flows, among: Sequence[LayoutWords]) -> list[LayoutWords]:
        """Those that are as the one that is named, but for a regulator or a link that is told besides; none where all
        that is told besides fits only another one."""
        ids = {id_ for hit in flows.names for id_ in hit.ids}
        named = next((x.traits for x in among if {x.called.id} == ids), None)
        if named is None:
            return fitting
        like = [x for x in fitting if x.traits.paths == named.paths and x.traits.has_regulator >= named.has_regulator]
        return like or (fitting if len(fitting) > 1 else [])

    def _of_all_words(
        self, fitting: Sequence[LayoutWords], among: Sequence[LayoutWords], sentence: Sentence
    ) -> list[LayoutWords]:
        """The one whose name stands in the text, word for word but in another order and without what all names begin
        with; of several the longest."""
        said = [{singular(x.text), *(numbers_of(x.text) if x.is_number else ())} for x in sentence.words]
        shared = set.intersection(*(_terms(x) for x in among))
        whole: list[tuple[int, LayoutWords, list[int]]] = []
        for layout in fitting:
            for name in layout.called.names[1:]:
                terms = set(terms_of(name)) - _EMPTY - shared
                places = [place for place, one in enumerate(said) if one & terms]
                if len(terms) < _LEAST_TERMS or not terms <= set().union(*(said[x] for x in places)):
                    continue
                is_run = all(one & (terms | _IN_A_RUN) for one in said[places[0] : places[-1]])
                if is_run or not any(_terms(x) - shared > terms for x in fitting):
                    whole.append((len(terms), layout, places))
        most = max((size for size, *_ in whole), default=0)
        found = {x.called.id: x for size, x, _ in whole if size == most}
        for place in (x for size, _, places in whole for x in places if size == most and len(found) == 1):
            sentence.mark(place, place + 1)
        return list(found.values())

    def _asked(
        self,
        fitting: Sequence[LayoutWords],
        among: Sequence[LayoutWords],
        tests: Sequence[Callable[[LayoutWords], bool]],
        *,
        is_said: bool,
    ) -> Open:
        asks = "How is the fuel to run?"
        if is_said:
            asks = "Which of these layouts is it?" if fitting else "No layout has all of that. Which one comes nearest?"
        first = {x.called.id for x in fitting}
        rest = sorted((x for x in among if x.called.id not in first), key=lambda x: -sum(test(x) for test in tests))
        ordered = [*fitting, *rest]
        return Open("layout", asks, tuple(Choice(x.called.id, x.called.name) for x in ordered[:MOST_CHOICES]))


def _widths_of(sentence: Sentence, lines: Iterable[Facet], measures: Iterable[Measure]) -> Iterator[Measure]:
    """How wide the car's own lines are told to be, which changes nothing: `5/16 factory line`."""
    before, behind = {x.first for x in lines}, {x.last for x in lines}
    for one in measures:
        is_fraction = one.kind == "bare" and one.last > one.first + 1
        is_beside = one.last in before or (one.first in behind and not sentence.at(one.last).isalnum())
        if is_beside and len(one.values) == 1 and (one.kind == "length" or is_fraction):
            yield one


def _in_question(sentence: Sentence, flows: Flows) -> Flows:
    """What is said without that which is told apart, where more is said: `used to have a return, now without`."""
    apart = sentence.apart
    facets = tuple(x for x in flows.facets if x.first not in apart)
    sizes = tuple(x for x in flows.sizes if x.first not in apart)
    names = tuple(x for x in flows.names if x.first not in apart)
    if not (facets or sizes or names) or len(facets) + len(sizes) + len(names) == len(flows.places):
        return flows
    returns = any(x.topic == "return" and x.value is True for x in flows.facets if x.first in apart)
    bare = [x for x in sentence.places(("without",)) if not sentence.at(x + 1)[:1].isalnum() and x not in apart]
    own = tuple(x for x in flows.own_words if x[0] not in apart)
    is_denied = bool(bare) or any(x.topic == "return" for x in facets)
    return Flows(facets, sizes, names, own, is_other_return=returns and not is_denied)


def _terms(layout: LayoutWords) -> set[str | float]:
    return set(terms_of(layout.called.name)) - _EMPTY


def _mark(sentence: Sentence, facets: Iterable[Facet], flows: Flows) -> None:
    spans = [(x.first, x.last) for x in facets] + [(x.first, x.last) for x in flows.sizes]
    for first, last in (*spans, *((x.first, x.last) for x in flows.names)):
        sentence.mark(first, last)
    for place, _ in flows.own_words:
        sentence.mark(place, place + 1)
    for clause in {sentence.words[first].clause for first, _ in (*spans, *flows.own_words)}:
        for place in sentence.places(_GOES_WITH, *sentence.clauses[clause]):
            sentence.mark(place, place + 1)


def _contradicted(facets: Sequence[Facet]) -> set[str]:
    """The topics of which two things are said that exclude each other."""
    found: set[str] = set()
    for topic in ("return", "kind", "regulator", "link"):
        said = {x.value for x in facets if x.topic == topic and x.stance == "yes"}
        meant = {x for x in said if not str(x).startswith("not ")}
        if len(meant) > 1 or any(f"not {x}" in said for x in meant):
            found.add(topic)
    return found


def _fits(facet: Facet) -> Callable[[LayoutWords], bool]:
    return lambda x: facet.fits(x.traits)
