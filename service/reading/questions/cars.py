"""Which car is meant: by its name, its engine, a piece of its name, or a spelling that comes near."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from service.domain.units import power
from service.reading.common import is_common
from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.facts import MOST_CHOICES, Choice, Found, Open, Understood
from service.reading.questions.figures import figure_at, is_foreign, is_measured
from service.reading.questions.lexicon import Car
from service.reading.questions.mentions import Mention, foreign, in_question
from service.reading.questions.names import Hit, NameFinder
from service.reading.questions.sentence import Sentence, singulars
from service.reading.questions.stance import stance_of_name
from service.reading.questions.terms import KNOWN, Term, capitals_of, may_be_of_a_name, terms_of, with_longer
from service.reading.questions.variants import denied_variants, is_other_code, told_apart

_SHORTEST_NEAR, _NEAR, _SURELY_NEAR, _APART = 4, 74.0, 80.0, 10.0
_SHORTEST_SURE, _LONGEST_SHORT = 5, 3
_SHORTEST_SLIP, _APART_BY_A_SLIP = 6, 1
_MOST_NEAR_WORDS = 60
_WIDE, _BEFORE = 5, 6
_GIVEN = words.set_of("my our his her their your this that for old")
_FILLING = words.set_of("- the a an of version model variant with engine ( \" ' litre liter l my our old new edition")


class CarReader:
    """Finds the cars of a catalog in a text. Safe to share by threads."""

    def __init__(self, cars: Sequence[Car]) -> None:
        self._cars = {car.called.id: car for car in cars}
        engines = [(car.engine, car.called.id) for car in cars]
        names = [(name, car.called.id) for car in cars for name in car.called.names]
        everyday = words.SAYS_NOTHING | words.BODIES
        bare = [(name.partition(" ")[2], id_) for name, id_ in names if name.casefold().startswith("the ")]
        self._finder, self._bare = NameFinder(names, everyday), NameFinder(bare, everyday)
        self._engines = NameFinder(with_longer(engines), everyday)
        self._terms: dict[str, list[tuple[str, frozenset[Term]]]] = defaultdict(list)
        self.words: set[str] = set()
        self._own: dict[str, frozenset[Term]] = {car.called.id: frozenset() for car in cars}
        for text, id_ in (*names, *engines):
            terms = frozenset(terms_of(text))
            self._own[id_] |= terms
            for term in terms:
                if isinstance(term, str):
                    self.words.add(term)
                    if len(term) > 1:
                        self._terms[term].append((id_, terms))
        named = capitals_of([*(text for car in cars for text in (car.called.id, car.called.name, car.engine))])
        nicknames = capitals_of([text for car in cars for text in car.called.aliases])
        named |= {x for x in nicknames if not is_common(x)}  # a word of every day is no name by itself: `the big ...`
        self._heads = frozenset(x for x in self._terms if x not in KNOWN and len(x) > 2 and x in named)

    def names_in(self, sentence: Sentence) -> list[Hit]:
        """Where cars are named whole."""
        hits = self._finder.hits(sentence)
        taken = {x for hit in hits for x in range(hit.first, hit.last)}
        bare = (x for x in self._bare.hits(sentence) if x.first not in taken and _is_given(sentence, x.first))
        return sorted([*hits, *bare], key=lambda x: x.first)

    def read(self, sentence: Sentence) -> tuple[Found, frozenset[str]]:
        """What is found, and the ids of all cars that may be meant: all of them where none is named."""
        mentions = [*self._whole(sentence)]
        mentions += self._pieces(sentence, mentions)
        for one in mentions:
            sentence.mark(one.first, one.last)
        if mentions:
            known = frozenset().union(*(one.ids for one in mentions))
            near = self._near(sentence, _APART_BY_A_SLIP)
            beside = [replace(one, is_sure=False) for one in near if not one.ids & known]
        else:
            beside = self._near(sentence)
        for one in beside:
            sentence.mark(one.first, one.last)
        mentions += beside
        said_of = [one for one in mentions if one.stance != "no"]
        sentence.nearly = [x for one in said_of if (x := foreign(sentence, one)) is not None]
        meant = in_question(sentence, said_of)
        denied = frozenset().union(*(one.ids for one in mentions if one.stance == "no" and one.is_sure))
        if not meant and (other := self._put_right(sentence, denied)) is not None:
            return self._understood(sentence, next(iter(other.ids)), [other]), other.ids
        if not meant:
            left = [id_ for id_ in self._cars if id_ not in denied]
            return Found(open=self._asked("Which car is it?", left)), frozenset(left)
        both = frozenset.intersection(*(one.ids for one in meant))
        if len(denied) and both - denied:
            both -= denied
        is_sure = all(one.is_sure for one in meant) and all(one.stance == "yes" for one in meant)
        variants = denied_variants(sentence, self._own, self._heads, meant)
        both, is_sure = both - variants, is_sure and bool(both - variants)
        both |= told_apart(sentence, self._own, self._heads, both)
        if len(both) == 1 and is_sure and not both & denied:
            return self._understood(sentence, next(iter(both)), meant), both
        said = both or frozenset().union(*(one.ids for one in meant))
        ordered = [id_ for id_ in self._cars if id_ in said]
        asks = "Which of these cars is it?" if both else "Two cars are named. Which one is it for?"
        asks = asks if len(ordered) > 1 else "Is it this car?"
        return Found(open=self._asked(asks, ordered)), said

    def _understood(self, sentence: Sentence, id_: str, mentions: Iterable[Mention]) -> Found:
        says = self._says(id_)
        told = [Understood.of(sentence, x.first, x.last, "chassis", id_, says) for x in mentions]
        return Found(id_, list({one.words: one for one in told}.values()))

    def _asked(self, asks: str, ids: Iterable[str]) -> Open:
        choices = [Choice(id_, self._says(id_)) for id_ in ids]
        return Open("chassis", asks, tuple(choices[:MOST_CHOICES]))

    def _says(self, id_: str) -> str:
        car = self._cars[id_]
        return f"{car.called.name}, engine {car.engine}, {power(car.chassis.stock_kw)}"

    def _whole(self, sentence: Sentence) -> list[Mention]:
        found = []
        hits = [hit for hit in self.names_in(sentence) if not is_measured(sentence, hit.last)]
        named = {place for hit in hits for place in range(hit.first, hit.last)}
        hits += [hit for hit in self._engines.hits(sentence) if hit.first not in named]
        for hit in hits:
            ids = frozenset(hit.ids)
            first, last, ids, is_sure = self._widened(sentence, hit.first, hit.last, ids)
            is_engine = hit.first not in named
            found.append(Mention(ids, first, last, stance_of_name(sentence, first), is_sure, is_engine))
        return found

    def _put_right(self, sentence: Sentence, denied: frozenset[str]) -> Mention | None:
        """The car of the same name that a figure tells where another one is denied: `not the ... 2.3 but the 2.5`."""
        heads = frozenset().union(*(self._own[id_] for id_ in denied)) & self._heads
        found: list[Mention] = []
        for place, word in enumerate(sentence.words):
            figure = None if sentence.read[place] or not word.is_number else figure_at(sentence, place)
            if figure is None or not may_be_of_a_name(sentence, place):
                continue
            ids = frozenset(x for x, own in self._own.items() if figure[0] in own and own & heads) - denied
            found += [Mention(ids, place, figure[1], "yes")] if ids else []
        one = found[0] if len(found) == 1 and len(found[0].ids) == 1 else None
        if one is not None:
            sentence.mark(one.first, one.last)
        return one

    def _widened(
        self, sentence: Sentence, first: int, last: int, ids: frozenset[str]
    ) -> tuple[int, int, frozenset[str], bool]:
        """A name with the words of other names right behind it: a car that is called by both, or no such car."""
        figure = figure_at(sentence, last)
        if len(ids) == 1 and figure is not None and figure[0] in self._own[next(iter(ids))]:
            return first, figure[1], ids, True  # the engine's, or that of another of its names
        if len(ids) > 1 or last - first > 1:
            return first, last, ids, True
        head = singular(sentence.at(first))
        docs = self._terms.get(head, [])
        if sentence.at(first - 1) in ("which", "what") and len({id_ for id_, _ in docs}) > 1:
            return first, last, frozenset(id_ for id_, _ in docs), False
        before, own = singular(sentence.at(first - 1)), self._heads | words.BODIES
        called = frozenset(id_ for id_, terms in docs if before in terms and before in own) - ids
        if len(called) == 1 and not sentence.read[first - 1]:
            return first - 1, last, called, True
        if figure is not None and docs:
            narrowed = frozenset(id_ for id_, terms in docs if figure[0] in terms)
            return (
                (first, figure[1], narrowed or ids, bool(narrowed))
                if narrowed or figure[2]
                else (first, last, ids, True)
            )
        return first, last, ids, True

    def _pieces(self, sentence: Sentence, taken: Iterable[Mention]) -> list[Mention]:
        """Mentions by a word that only cars are called by, with the figures and words beside it."""
        covered = [False] * (len(sentence.words) + 1)
        for one in taken:
            covered[one.first : one.last] = [True] * (one.last - one.first)
        found: list[Mention] = []
        singles = singulars(word.text for word in sentence.words)
        place = 0
        while place < len(singles):
            if singles[place] in self._heads and not covered[place] and not sentence.read[place]:
                found.append(self._grown(sentence, singles, place, singles[place]))
                place = found[-1].last
            else:
                place += 1
        return found

    def _near(self, sentence: Sentence, slip: int | None = None) -> list[Mention]:
        """A mention by a word that is spelt nearly like one that cars are called by; `slip`: no farther from it than so
        many letters that are wrong or changed places, in a long word that is given as a name."""
        singles = singulars(word.text for word in sentence.words)
        unknown = [
            place
            for place, word in enumerate(singles)
            if len(word) >= _SHORTEST_NEAR
            and word.isalpha()
            and not sentence.read[place]
            and sentence.at(place) not in KNOWN
            and word not in KNOWN
        ]
        found: list[tuple[float, Mention]] = []
        if slip is not None:
            unknown = [x for x in unknown if len(singles[x]) >= _SHORTEST_SLIP and _is_introduced(sentence, x)]
        for place in unknown[:_MOST_NEAR_WORDS]:
            if slip is not None and not any(OSA.distance(singles[place], x) <= slip for x in self._heads):
                continue
            near = process.extract(singles[place], self._heads, scorer=fuzz.ratio, score_cutoff=_NEAR, limit=4)
            if not near:
                continue
            best = near[0][1]
            heads = [head for head, score, _ in near if score > best - _APART]
            grown = [self._grown(sentence, singles, place, head) for head in heads]
            ids = frozenset().union(*(one.ids for one in grown))
            is_figured = grown[0].last - grown[0].first > 1
            is_sure = best >= _SURELY_NEAR and len(heads) == 1 and grown[0].is_sure
            is_sure = (
                is_sure and len(singles[place]) >= _SHORTEST_SURE and (is_figured or _is_introduced(sentence, place))
            )
            found.append((best, Mention(ids, grown[0].first, grown[0].last, grown[0].stance, is_sure)))
        best = max((score for score, _ in found), default=0.0)
        return [one for score, one in found if score > best - _APART]

    def _grown(self, sentence: Sentence, singles: Sequence[str], place: int, head: str) -> Mention:
        """A mention from its distinctive word on, narrowed by figures and words beside it."""
        docs = self._terms[head]
        first, last, is_sure = place, place + 1, True
        docs, last, is_sure = self._narrowed(sentence, singles, docs, last)
        docs, first = self._narrowed_before(sentence, singles, docs, place)
        used = {y for x in range(first, last) for y in terms_of(sentence.at(x))} | {head}
        docs = [one for one in docs if one[1] == used] or docs
        ids = frozenset(id_ for id_, _ in docs)
        is_sure = is_sure and not (len(ids) > 1 and sentence.at(first - 1) in ("which", "what"))
        return Mention(ids, first, last, stance_of_name(sentence, first), is_sure)

    def _narrowed_before(
        self, sentence: Sentence, singles: Sequence[str], docs: list[tuple[str, frozenset[Term]]], place: int
    ) -> tuple[list[tuple[str, frozenset[Term]]], int]:
        """Names narrowed by words that stand before the distinctive one: `2.3-litre`, `the sport version of the`."""
        first = place
        for before in range(place - 1, max(place - _BEFORE, -1), -1):
            if sentence.read[before]:
                break
            figure = figure_at(sentence, before)
            is_told = figure is not None and all(x in _FILLING for x in singles[figure[1] : first])
            term: Term = figure[0] if figure is not None and is_told else singles[before]
            narrowed = [one for one in docs if term in one[1]]
            if narrowed and term not in _FILLING:
                docs, first = narrowed, before
            elif not (singles[before] in _FILLING or singles[before] in words.BODIES):
                break
        return docs, first

    def _narrowed(
        self, sentence: Sentence, singles: Sequence[str], docs: list[tuple[str, frozenset[Term]]], last: int
    ) -> tuple[list[tuple[str, frozenset[Term]]], int, bool]:
        place, is_sure = last, True
        while place < min(len(singles), last + _WIDE):
            figure = figure_at(sentence, place)
            term: Term = singles[place] if figure is None else figure[0]
            narrowed = [one for one in docs if term in one[1]]
            if narrowed:
                docs, last = narrowed, place + 1 if figure is None else figure[1]
                place = last
                if figure is None and is_other_code(sentence, last - 1, docs):
                    return docs, last + 1, False
            elif figure is not None and (figure[2] or (place == last and is_foreign(sentence, docs, figure))):
                return docs, figure[1], False  # a figure that no such car has
            elif place == last and is_other_code(sentence, place, docs):
                return docs, place + 2, False
            elif singles[place] in ("-", "the", "with", "engine", ",") or singles[place] in words.BODIES:
                place += 1
            else:
                break
        return docs, last, is_sure


def _is_given(sentence: Sentence, place: int) -> bool:
    """Whether what is called `the ...` stands as a name: of somebody's, or where a clause begins."""
    return sentence.at(place - 1) in _GIVEN or sentence.clause_of(place)[0] == place


def _is_introduced(sentence: Sentence, place: int) -> bool:
    return place == 0 or sentence.at(place - 1) in (
        "a",
        "an",
        "the",
        "my",
        "our",
        "his",
        "her",
        "for",
        "old",
        ",",
        "'s",
        "ein",
        "einen",
    )
