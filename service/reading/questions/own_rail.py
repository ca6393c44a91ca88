"""A rail by another maker, and what its spots offer where that is told."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.facts import MOST_CHOICES, Choice, Found, Open, Understood
from service.reading.questions.lexicon import Lexicon
from service.reading.questions.numbers import numbers_of
from service.reading.questions.sentence import Sentence
from service.reading.questions.spots import Spot
from service.reading.questions.stance import stance_of
from service.reading.questions.terms import Term, terms_of

_KEPT = words.set_of("keep keeping keeps existing reuse retain")
_HAD = words.set_of("have has got")
_ASKED = words.set_of("you do to would should")
_OTHERS_BEFORE = words.set_of("else's elses aftermarket foreign homemade selfmade handmade")
_OF_MAKER = words.set_of("third party maker's competitor's brand's manufacturer's make brand maker non")
_WHOSE = words.MAKERS | words.set_of("else somebody someone else's")
_RIVALS = words.set_of("competitor competitors")
_SIZES = words.set_of("size sizes - in inch an jic dash thread straight")
_PLACES = {"ends": ("left", "right"), "left": ("left",), "right": ("right",), "centre": ("centre",), "top": ("top",)}
_ASKS = "Which connection does each spot of that rail offer, and which end, male or female?"
_REACH, _RUN = 8, 9


class OwnRailReader:
    """Finds rails by another maker in a text, by the port standards of a catalog. Safe to share by threads."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._standards = {
            x.id: frozenset(term for name in x.names for term in terms_of(name)) for x in lexicon.standards
        }
        self._terms = frozenset().union(*self._standards.values())
        self._names = {x.id: x.name for x in lexicon.standards}
        self._ends = lexicon.rail_ends

    def read(self, sentence: Sentence, spots: Sequence[Spot], taken: Sequence[bool]) -> Found:
        """The rail, where all of its spots are told; else it is asked for. `taken`: words that name other things."""
        for place in sentence.places(words.RAILS):
            if not taken[place] and _is_foreign(sentence, place):
                return self._told(sentence, place, spots)
        return Found()

    def _told(self, sentence: Sentence, rail: int, spots: Sequence[Spot]) -> Found:
        start, end = sentence.clause_of(rail)
        for other in sentence.places(words.OTHERS_MAKE | words.MAKERS | {"own", *words.RAILS}, start, end):
            sentence.mark(other, other + 1)
        offers: dict[str, dict[str, str]] = {}
        understood: list[Understood] = []
        is_open = False
        for first, last, standard in self._standards_said(sentence, rail):
            own = [x for x in spots if _is_beside(sentence, x, first, last)]
            offered = self._end(sentence, standard, first, last) if standard else None
            sentence.mark(first, last)
            for spot in own:
                sentence.mark(spot.first, spot.last)
            places = [x for spot in own for x in _PLACES.get(spot.place, ())]
            if standard is None or offered is None or not places or any(x.place == "side" or x.bank for x in own):
                is_open = True
                continue
            for one in places:
                is_open = is_open or offers.get(one, {}).get("standard", standard) != standard
                offers[one] = {"standard": standard, "end": offered}
            says = f"your own rail: {self._names[standard]}, {offered}, at {', '.join(places)}"
            told = {x: {"standard": standard, "end": offered} for x in places}
            understood.append(Understood.of(sentence, first, last, "own_rail", told, says))
        if offers and not is_open:
            value = {place: dict(offer) for place, offer in offers.items()}
            return Found(value, understood)
        choices = tuple(Choice(id_, name) for id_, name in self._names.items())
        return Found(open=Open("own_rail", _ASKS, choices[:MOST_CHOICES]))

    def _standards_said(self, sentence: Sentence, rail: int) -> Iterator[tuple[int, int, str | None]]:
        """Runs of words that port standards are called by, with a figure: each with the standard, if it is one."""
        number = sentence.words[rail].sentence
        place = 0
        while place < len(sentence.words):
            if sentence.words[place].sentence != number or not self._is_term(sentence, place):
                place += 1
                continue
            last = place
            while last < min(len(sentence.words), place + _RUN) and self._is_term(sentence, last):
                last += 1
            terms = {term for x in range(place, last) for term in _terms_at(sentence, x)} & self._terms
            said = {x for x in terms if isinstance(x, str) and x not in _SIZES}
            if said and any(isinstance(x, float) for x in terms):
                fitting = [id_ for id_, own in self._standards.items() if terms - _EMPTY <= own]
                yield place, last, fitting[0] if len(fitting) == 1 else None
            place = last

    def _is_term(self, sentence: Sentence, place: int) -> bool:
        if sentence.at(place) == "-":
            return True
        return any(term in self._terms for term in _terms_at(sentence, place)) or sentence.at(place) in _SIZES

    def _end(self, sentence: Sentence, standard: str, first: int, last: int) -> str | None:
        """The end that is told beside it; else the only one in which rails of the catalog have the standard."""
        start, end = sentence.clause_of(first)
        clause = sentence.words[last - 1].clause + 1
        end = sentence.clauses[clause][1] if clause < len(sentence.clauses) else end
        told = {sentence.at(x) for x in range(start, min(end, last + _REACH))} & {"male", "female"}
        ends = told or self._ends.get(standard, frozenset())
        return next(iter(ends)) if len(ends) == 1 else None


_EMPTY: frozenset[Term] = frozenset(("an", "jic", "dash", "size", "in", "inch"))


def _terms_at(sentence: Sentence, place: int) -> tuple[Term, ...]:
    word = sentence.words[place]
    if word.is_number:
        return numbers_of(word.text)[:1]
    return (singular(word.text),) if word.is_word else ()


def _is_beside(sentence: Sentence, spot: Spot, first: int, last: int) -> bool:
    """Whether a spot is said of a standard: in its clause, or in the next that tells nothing else."""
    clause, own = sentence.words[first].clause, sentence.words[spot.first].clause
    return own == clause or (own == clause + 1 and spot.first - last <= _REACH)


def _is_foreign(sentence: Sentence, place: int) -> bool:
    """Whether a rail is by another maker: it is called so, or it is there already and is to stay."""
    start, end = sentence.clause_of(place)
    before = [sentence.at(x) for x in range(max(start, place - 5), place)]
    behind = [sentence.at(x) for x in range(place + 1, min(end, place + _REACH))]
    if stance_of(sentence, place, place + 1) == "no" and "your" not in before and "yours" not in behind:
        return False
    return _is_of_others(before, behind) or _is_kept(before, behind)


def _is_of_others(before: Sequence[str], behind: Sequence[str]) -> bool:
    is_made = before[-1:] == ["made"] and before[-2:-1] in (["home"], ["self"], ["hand"], ["-"])
    if is_made or _OTHERS_BEFORE.intersection(before) or before[-1:] == ["own"]:
        return True
    if _OF_MAKER.intersection(before[-3:]) and (words.OTHERS_MAKE | {"third", "non"}).intersection(before):
        return True
    if _RIVALS.intersection(behind[:4]):
        return True
    if words.OTHERS_MAKE.intersection(behind) and _WHOSE.intersection(behind):
        return True
    is_not_yours = ("not" in behind and {"yours", "one"} & set(behind)) or ("isn't", "yours") in pairwise(behind)
    return bool(is_not_yours) or ("not", "your") in pairwise(before)


def _is_kept(before: Sequence[str], behind: Sequence[str]) -> bool:
    if (
        behind[:1] in (["is"], ["already"])
        and "already" in behind
        and {"there", "fitted", "installed"} & set(behind[:4])
    ):
        return True
    if behind[:1] in (["stays"], ["remains"]) and not "".join(behind[1:2]).isalpha():
        return True
    if not (_HAD | _KEPT).intersection(before) or _ASKED.intersection(before) or behind[:1] == ["for"]:
        return False
    return "already" in (*before, *behind) or bool(_KEPT.intersection(before)) or before[-1:] in (["a"], ["his"])
