"""A rail by another maker, and what its spots offer where that is told."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

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
_OTHERS_BEFORE = words.set_of("else's elses rival's competitor's aftermarket foreign homemade selfmade handmade")
_OF_MAKER = words.set_of("third party competitor's non")
_MADE = words.set_of("made built machined fabricated milled")
_WHOSE = words.MAKERS | words.set_of("else somebody someone else's")
_RIVALS = words.set_of("competitor competitors")
_SIZES = words.set_of("size sizes - in inch an jic dash thread straight")
_ENDS = words.set_of("male female")
_SAME = words.set_of("same ditto identical likewise too")
_NONE = words.set_of("no nothing none blank blanked closed plugged without empty")
_LEADING, _MORE = words.set_of("no nothing without"), words.set_of("else other more further")
_PORTS = words.set_of("port ports spot spots end ends boss bosses connection connections")
_BESIDE = (words.LIGHT | words.SAYS_NOTHING | _PORTS | words.SIDE | words.NUMBERS.keys() | words.JOINS) - (
    words.DENIALS | words.DENIED_BEHIND | words.DOUBTS | {"old", "one", "hope", "think", "guess"}
)
"""What may stand in a list of what spots offer and changes nothing of it."""
_NOT_NOW = words.set_of("was were had used no not don't doesn't never without")
_REST = words.set_of("one ones other others rest remaining")
_OF_OTHERS = words.GAUGES | words.ROOM | words.FEEDS
_PLACES = {"ends": ("left", "right"), "left": ("left",), "right": ("right",), "centre": ("centre",), "top": ("top",)}
_ASKS = "Which connection does each spot of that rail offer, and which end, male or female?"
_REACH, _RUN = 8, 9


@dataclass(frozen=True, slots=True)
class _Told:
    """Words of a list of what spots offer: a spot, a standard, an end alone, the same as before, or nothing."""

    kind: Literal["spot", "standard", "end", "same", "none"]
    first: int
    last: int
    spot: Spot | None = None
    standard: str | None = None
    end: str = ""
    is_leading: bool = False
    """Whether what offers nothing is told behind it: `nothing on top`."""


@dataclass(slots=True)
class _Group:
    """Spots of which one thing is told."""

    spots: list[_Told] = field(default_factory=list)
    offer: _Told | None = None
    end: str = ""


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
        """What a list behind a rail tells; a list of which any word stays unread is asked whole."""
        start, end = sentence.clause_of(rail)
        for other in sentence.places(words.OTHERS_MAKE | words.MAKERS | {"own", *words.RAILS}, start, end):
            sentence.mark(other, other + 1)
        told, clauses = self._list(sentence, rail, spots)
        groups = _grouped(told)
        offers: dict[str, tuple[str, str] | None] = {}
        understood: list[Understood] = []
        is_meant = stance_of(sentence, rail, rail + 1) != "doubt" and not sentence.places(_NOT_NOW, start, rail)
        is_open = groups is None or not is_meant or not self._is_whole(sentence, rail, told, clauses)
        with_end = {bool(x.end) for x in groups or () if x.offer is not None and x.offer.standard}
        is_open = is_open or len(with_end) > 1  # an end is left out where others are told
        for one in groups or ():
            is_ours = not any(x.spot is None or x.spot.bank or x.spot.place not in _PLACES for x in one.spots)
            places = [y for x in one.spots if x.spot for y in _PLACES.get(x.spot.place, ())]
            standard = one.offer.standard if one.offer else None
            ends = frozenset((one.end,)) if one.end else self._ends.get(standard or "", frozenset())
            offer = (standard, next(iter(ends))) if standard and len(ends) == 1 else None
            is_none = one.offer is not None and one.offer.kind == "none"
            is_open = is_open or not is_ours or (offer is None and not is_none) or not (places or is_none)
            is_open = is_open or any(offers.get(x, offer) != offer for x in places)
            offers |= dict.fromkeys(places, offer)
            if offer is not None and one.spots:
                value = {x: {"standard": offer[0], "end": offer[1]} for x in places}
                says = f"your own rail: {self._names[offer[0]]}, {offer[1]}, at {', '.join(places)}"
                first, last = min(x.first for x in one.spots), max(x.last for x in one.spots)
                understood.append(Understood.of(sentence, first, last, "own_rail", value, says))
        if any(x.kind == "standard" for x in told):
            for one_told in told:
                sentence.mark(one_told.first, one_told.last)
        if understood and not is_open:
            return Found({x: {"standard": o[0], "end": o[1]} for x, o in offers.items() if o is not None}, understood)
        choices = tuple(Choice(id_, name) for id_, name in self._names.items())
        return Found(open=Open("own_rail", _ASKS, choices[:MOST_CHOICES]))

    def _list(self, sentence: Sentence, rail: int, spots: Sequence[Spot]) -> tuple[list[_Told], list[int]]:
        """What is told of spots in the clauses of the rail's sentence, and in those right behind that list as well;
        and the clauses."""
        first, number = sentence.words[rail].clause, sentence.words[rail].sentence
        told = sorted([*self._standards_said(sentence), *_others_said(sentence, spots)], key=lambda x: x.first)
        found: list[_Told] = []
        clauses: list[int] = []
        for clause, (start, end) in list(enumerate(sentence.clauses))[first : first + _MOST_CLAUSES]:
            own = [x for x in told if start <= x.first < end]
            is_told = any(x.kind in ("spot", "standard", "end") for x in own)
            is_told = is_told and (clause == first or not sentence.places(_OF_OTHERS, start, end))
            is_flow = any(x.kind == "spot" and "to" in _before(sentence, x.first) for x in own)
            is_told = is_told or bool(found and sentence.places(_REST, start, end))
            if is_told and not is_flow:
                found += own
                clauses.append(clause)
            elif sentence.words[start].sentence > number:
                break
        return found, clauses

    def _is_whole(self, sentence: Sentence, rail: int, told: Sequence[_Told], clauses: Sequence[int]) -> bool:
        """Whether each word of the clauses of a list, behind the rail, is of the list or changes nothing of it."""
        known = {x for one in told for x in range(one.first, one.last)}
        between = range(clauses[0], clauses[-1] + 1) if clauses else ()
        told_else = {x for x in between if sentence.places(_OF_OTHERS, *sentence.clauses[x])}
        places = (x for one in between if one not in told_else for x in range(*sentence.clauses[one]) if x > rail)
        return all(x in known or self._is_beside(sentence, x) for x in places)

    def _is_beside(self, sentence: Sentence, place: int) -> bool:
        word = sentence.words[place]
        if word.is_number:
            return sentence.read[place] or sentence.at(place + 1) in _PORTS
        is_term = word.is_word and singular(word.text) in self._terms
        is_no_more = sentence.at(place + 1) in _MORE
        return sentence.read[place] or not word.is_word or is_term or word.text in _BESIDE or is_no_more

    def _standards_said(self, sentence: Sentence) -> Iterator[_Told]:
        """Runs of words that port standards are called by, with a figure: each with the standard, if it is one."""
        place = 0
        while place < len(sentence.words):
            last = place
            while last < min(len(sentence.words), place + _RUN) and self._is_term(sentence, last):
                last += 1
            terms = {term for x in range(place, last) for term in _terms_at(sentence, x)} & self._terms
            said = {x for x in terms if isinstance(x, str) and x not in _SIZES}
            ends = {sentence.at(x) for x in range(place, last)} & _ENDS
            if said and any(isinstance(x, float) for x in terms):
                fitting = [id_ for id_, own in self._standards.items() if terms - _EMPTY <= own]
                standard = fitting[0] if len(fitting) == 1 and len(ends) < 2 else None
                yield _Told("standard", place, last, standard=standard, end="".join(ends))
                place = last
            else:
                place += 1

    def _is_term(self, sentence: Sentence, place: int) -> bool:
        if sentence.at(place) in ("-", "/", *_ENDS):
            return sentence.at(place) != "/" or sentence.is_glued(place)
        return any(term in self._terms for term in _terms_at(sentence, place)) or sentence.at(place) in _SIZES


_EMPTY: frozenset[Term] = frozenset(("an", "jic", "dash", "size", "in", "inch"))
_MOST_CLAUSES = 12


def _terms_at(sentence: Sentence, place: int) -> tuple[Term, ...]:
    word = sentence.words[place]
    if word.is_number:
        return numbers_of(word.text)[:1]
    return (singular(word.text),) if word.is_word else ()


def _before(sentence: Sentence, place: int) -> tuple[str, str]:
    return sentence.at(place - 2), sentence.at(place - 1)


def _others_said(sentence: Sentence, spots: Sequence[Spot]) -> Iterator[_Told]:
    within = {x for one in spots for x in range(one.first, one.last)}
    yield from (_Told("spot", one.first, one.last, spot=one) for one in spots)
    for place in sentence.places(_SAME | _NONE | _ENDS):
        word, behind = sentence.at(place), sentence.at(place + 1)
        if word in _ENDS:
            yield _Told("end", place, place + 1, end=word)
        elif place not in within and behind not in _MORE:
            is_leading = word in _LEADING or behind in ("on", "at")
            yield _Told("same" if word in _SAME else "none", place, place + 1, is_leading=is_leading)


def _grouped(told: Sequence[_Told]) -> list[_Group] | None:
    """A list by what is told of which spots; None where it cannot be told apart. The first word of it tells whether
    spots stand before what they offer or behind it."""
    groups: list[_Group] = []
    leading = next((x.kind for x in told if x.kind in ("spot", "standard")), "spot")
    before: _Told | None = None
    for one in told:
        last = groups[-1] if groups else None
        is_behind = leading == "standard" and before is not None and before.kind == "spot" and not one.is_leading
        before = one
        if one.kind == "end":
            if last is None or last.end not in ("", one.end):
                return None
            last.end = one.end
        elif one.kind == "spot":
            is_told = last is not None and last.offer is not None and not (last.offer.is_leading and not last.spots)
            if last is None or (leading == "spot" and is_told):
                groups.append(_Group())
            groups[-1].spots.append(one)
        elif last is not None and is_behind and one.kind == "same":
            continue  # as in `size 8 at the left, right the same`
        elif last is not None and is_behind and one.kind == "none":
            groups.append(_Group([last.spots.pop()], one))  # as in `size 8 at the left, right blank`
        elif last is not None and last.spots and last.offer is None:
            last.offer, last.end = _offered(one, groups[:-1]), one.end or last.end
        elif leading == "spot" and not one.is_leading:
            return None
        else:
            groups.append(_Group([], _offered(one, groups), one.end))
    for group, other in pairwise(groups):
        if other.offer is group.offer:
            other.end = other.end or group.end
    return groups


def _offered(one: _Told, before: Sequence[_Group]) -> _Told | None:
    """What is told, or what was told last where it is the same."""
    return one if one.kind != "same" else next((x.offer for x in reversed(before)), None)


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
    is_made = is_made or any(x in ("is", "was") and y in _OTHERS_BEFORE for x, y in pairwise(behind))
    if is_made or _OTHERS_BEFORE.intersection(before) or before[-1:] == ["own"]:
        return True
    is_of_maker = any(x.removesuffix("'s") in words.MAKERS for x in before[-3:])
    if (is_of_maker or _OF_MAKER.intersection(before[-3:])) and (words.OTHERS_MAKE | {"third", "non"}).intersection(
        before
    ):
        return True
    if _RIVALS.intersection(behind[:4]):
        return True
    if words.OTHERS_MAKE.intersection(behind) and _WHOSE.intersection(behind):
        return True
    made = [x for x in range(len(behind) - 2) if behind[x] in _MADE and behind[x + 1] == "by"]
    if any(behind[x + 2] not in ("you", "yourselves") for x in made):
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
