"""The parts that must not be used: named whole, or told by what they are called or made of."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import takewhile

from service.domain.work import spend
from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.facts import MOST_CHOICES, Choice, Found, Open, Understood
from service.reading.questions.lexicon import Lexicon
from service.reading.questions.owned import PartSaid
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of
from service.reading.questions.terms import KNOWN, terms_of

_NOT_TELLING = words.set_of(
    "have haven't has hasn't got own need needs needed needn't missing lost lack there here arrived come came yet get "
    "receive received sure found find"
)
"""Beside a denial these tell that a part is not there, or not needed; not that it is unwanted."""
_STARTS = words.set_of("no without not never avoid except anything nothing ohne kein keine don't excluding minus")
_SKIPPED = words.set_of(
    "the a an any your that those want of in use using from made with but please ones for parts part"
)
_KINDS = words.set_of("adapter adapters fitting fittings plug plugs seal seals hose hoses line lines rail rails screw")
_SOFT = words.set_of("preferably ideally maybe perhaps if possible rather would prefer")
_GIVEN = words.set_of("give giving send sending sell selling put putting use using fit fitting offer quote")
_FAR = 7
_LONGEST_RUN, _NAMED = 3, 3
_DOCS_A_STEP = 5
_MOST = 200
_ASKS = "Which of these parts must not be used?"


class ExclusionReader:
    """Finds the parts that must not be used. Safe to share by threads."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._parts = lexicon.parts
        self._active = lexicon.kinds.keys()
        self._materials = {x.id: x.name for x in lexicon.materials}
        self._made: dict[str, set[str]] = {}
        for material in lexicon.materials:
            for word in {x for name in material.names for x in terms_of(name) if isinstance(x, str)}:
                self._made.setdefault(word, set()).add(material.id)
        self._wetted = lexicon.wetted
        self._finishes = frozenset(word for x in lexicon.finishes for word in terms_of(x))

    def read(self, sentence: Sentence, parts: Sequence[PartSaid]) -> Found:
        """The SKUs that must not be used."""
        skus: list[str] = []
        understood: list[Understood] = []
        offered: list[Choice] = []
        is_open = False
        ends: dict[int, str] = {}
        for part in parts:
            how = _is_excluded(sentence, part)
            before = ends.get(part.first - 1 - (sentence.at(part.first - 1) in ("the", "a", "any")))
            if how == "no" and before is not None:
                how = _carried(sentence, part.first, before)
            if how != "no":
                ends[part.last] = how
            if how == "no" or (part.is_weak and sentence.read[part.first] and how != "yes"):
                continue
            sentence.mark(part.first, part.last)
            if how == "yes" and len(part.skus) == 1:
                self._take(sentence, part.first, part.last, part.skus, skus, understood)
            else:
                is_open = True
                offered += [self._choice((sku,)) for sku in part.skus]
        for first, last, terms in self._runs(sentence):
            sets = self._sets(terms)
            if not sets:
                continue
            sentence.mark(first, last)
            stance = "doubt" if sentence.places(_SOFT, *sentence.clause_of(first)) else "yes"
            if len(sets) == 1 and len(next(iter(sets))) <= _MOST and stance == "yes":
                self._take(sentence, first, last, next(iter(sets)), skus, understood)
            else:
                is_open = True
                offered += [Choice(list(one), says) for one, says in sets.items() if len(one) <= _MOST]
        if is_open:
            return Found(open=Open("exclude", _ASKS, tuple(offered[:MOST_CHOICES])))
        told = list(dict.fromkeys(skus))
        return Found(told[:_MOST] or None, understood)

    def _take(
        self,
        sentence: Sentence,
        first: int,
        last: int,
        told: Sequence[str],
        skus: list[str],
        understood: list[Understood],
    ) -> None:
        skus += told
        says = f"without {self._choice(told).says}"
        understood.append(Understood.of(sentence, first, last, "exclude", list(told), says))

    def _choice(self, skus: Sequence[str]) -> Choice:
        named = ", ".join(self._parts.parts[sku].name for sku in skus[:_NAMED])
        return Choice(list(skus), named if len(skus) <= _NAMED else f"{named} and {len(skus) - _NAMED} more")

    def _runs(self, sentence: Sentence) -> Iterator[tuple[int, int, frozenset[str]]]:
        """Runs of words behind a denial that parts or materials are called by."""
        for denial in sentence.places(_STARTS):
            _, end = sentence.clause_of(denial)
            first = denial + 1
            while first < end and sentence.at(first) in _SKIPPED:
                first += 1
            run = list(takewhile(lambda x: self._tells(sentence, x), range(first, min(end, first + _LONGEST_RUN))))
            if run and sentence.at(run[-1] + 1) in ("with", "of", "in"):
                behind = run[-1] + 2 + (sentence.at(run[-1] + 2) in ("a", "an", "the"))
                run += takewhile(lambda x: self._tells(sentence, x), range(behind, min(end, behind + _LONGEST_RUN)))
            kept = [x for x in run if sentence.at(x) not in _KINDS]
            if kept and kept[0] == first and not sentence.places(_NOT_TELLING, *sentence.clause_of(denial)):
                yield first, run[-1] + 1, frozenset(singular(sentence.at(x)) for x in run)

    def _tells(self, sentence: Sentence, place: int) -> bool:
        word = singular(sentence.at(place))
        if sentence.read[place] or not sentence.words[place].is_word or word in self._finishes:
            return False
        is_common = word in KNOWN and sentence.at(place) not in words.COLOURS and sentence.at(place) not in _KINDS
        return not is_common and (self._parts.is_known(word) or word in self._made)

    def _called(self, terms: frozenset[str]) -> tuple[str, ...]:
        """The active parts of which a name has all of these words."""
        docs = min((self._parts.docs_with.get(term, []) for term in terms), key=len)
        spend(1 + len(docs) // _DOCS_A_STEP, "order")
        told = (self._parts.docs[doc] for doc in docs)
        return tuple(dict.fromkeys(sku for sku, words_of in told if terms <= words_of and sku in self._active))

    def _sets(self, terms: frozenset[str]) -> Mapping[tuple[str, ...], str]:
        """The parts that may be meant, with what they have in common: their name, or what the fuel in them touches."""
        found: dict[tuple[str, ...], str] = {}
        named = self._called(terms)
        if named:
            found[named] = f"called so: {self._choice(named).says}"
        for id_ in sorted(set.intersection(*(self._made.get(term, set()) for term in terms))):
            wetted = tuple(self._wetted.get(id_, ()))
            if wetted:
                says = f"with {self._materials[id_]} in the fuel: {self._choice(wetted).says}"
                found.setdefault(wetted, says)
        return found


def _carried(sentence: Sentence, first: int, before: str) -> str:
    """Whether what was said of the part before goes on: surely by `nor` and `or`, perhaps by `and`."""
    place = first - 1 - (sentence.at(first - 1) in ("the", "a", "any"))
    return {"nor": before, "or": before, "and": "doubt", "&": "doubt", ",": "doubt"}.get(sentence.at(place), "no")


def _is_refused(sentence: Sentence, start: int, first: int) -> bool:
    """Whether a part is not to be given: `don't send me the ...`."""
    for place in range(first - 1, max(start, first - _FAR) - 1, -1):
        if sentence.at(place) in _STARTS:
            return bool(sentence.places(_GIVEN, place, first))
        if sentence.at(place) not in words.LIGHT | words.SAYS_NOTHING | _GIVEN:
            return False
    return False


def _is_excluded(sentence: Sentence, part: PartSaid) -> str:
    """Whether a part that is named is unwanted: yes, no or doubt."""
    start, end = sentence.clause_of(part.first)
    stance = stance_of(sentence, part.first, part.last)
    if stance == "doubt" and sentence.at(part.first - 1) in _STARTS:
        return "doubt"
    if stance != "no" and not _is_refused(sentence, start, part.first):
        return "no"
    near = [sentence.at(x) for x in range(start, end) if not part.first <= x < part.last]
    if {"need", "needs", "needed", "needn't"}.intersection(near):
        return "doubt"
    if _NOT_TELLING.intersection(near):
        return "no"
    return "doubt" if part.is_weak or sentence.places(_SOFT, start, end) or sentence.is_question(part.first) else "yes"
