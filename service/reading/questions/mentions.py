"""The cars that a text names, and which of them is in question: not one to compare with, one that was, another's."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from service.reading.questions import words
from service.reading.questions.asides import is_called
from service.reading.questions.facts import Stance
from service.reading.questions.sentence import Sentence

_COMPARED = words.set_of("like than as versus vs compared similar equal unlike wie")
_NOT_COMPARED = words.set_of("would 'd i'd we'd he'd she'd they'd i we he she they you well looks")
_LEFT = words.set_of(
    "sold traded scrapped wrecked crashed owned drove replaced replaces replacing formerly previously had ex"
)
_OWNING = words.set_of("have own drive run race be")
_HAVE = words.set_of("have has 've i've we've he's she's could would if")
_BETWEEN = words.LIGHT | words.OUTPUT | words.set_of("old ex wife's same strong quick fast one ones -")
_SWAPS = words.set_of("swap swaps swapped swapping transplant transplanted transplanting transplants")
_SWAPPED = words.set_of("cam cams camshaft head gearbox box clutch wheel tyre ecu pump injector brake")
_ENGINES = words.set_of("engine motor engines motors")
_INTO, _FROM = words.set_of("in into"), words.set_of("from off of")
_SEVERAL = words.phrases_of(
    "both need, both want, both get, each need, a rail each, one for each, two rails, two cars, two sets, two kits, "
    "both cars, both of them, both of us, for both, one each, rails for, each of us"
)
"""What says that several cars are in question."""
_MORE = words.set_of("dearer cheaper better bigger stronger easier quicker first more")
_OF_MINE = words.set_of("is a an the just only plain normal ordinary standard")
_GIVEN = words.set_of("a an my the our his her old another")
_FAR, _BEFORE, _FAR_PERSON = 6, 5, 8
_SHORT_WORD = 2


@dataclass(frozen=True, slots=True)
class Mention:
    """Words that mean one of these cars; `is_sure`: they may be taken at that; `is_engine`: they name its engine."""

    ids: frozenset[str]
    first: int
    last: int
    stance: Stance
    is_sure: bool = True
    is_engine: bool = False


def foreign(sentence: Sentence, one: Mention) -> tuple[int, int] | None:
    """The words of a mention that no car is called by: spelt nearly so, or with a figure that no such car has."""
    if not one.is_sure:
        return one.first, one.last
    place = one.last + (sentence.at(one.last).isalpha() and len(sentence.at(one.last)) <= _SHORT_WORD)
    is_figure = sentence.at(place)[:1].isdigit() and sentence.is_glued(place) and not sentence.read[place]
    return (one.first, place + 1) if len(one.ids) > 1 and place > one.last and is_figure else None


def in_question(sentence: Sentence, mentions: Sequence[Mention]) -> list[Mention]:
    """The mentions of the car in question: those of others are left out where one is named beside them."""
    ordered = sorted(mentions, key=lambda x: x.first)
    kept: list[Mention] = []
    others: list[Mention] = []
    left: set[int] = set()
    after = 0
    is_several = bool(sentence.phrases(_SEVERAL)) or _is_weighed(sentence)
    is_several = is_several or _is_one_or_other(sentence, ordered) or _are_both_served(sentence, ordered)
    for one in ordered:
        is_compared = _is_compared(sentence, one.first, after)
        if is_compared and sentence.is_question(one.first):
            one, is_compared = replace(one, is_sure=False), False
        if is_compared:
            sentence.compared.append((one.first, one.last, one.ids))
        if _is_left(sentence, one.first, after):
            left.add(one.first)
        is_other = is_compared or _is_left(sentence, one.first, after) or _is_of_others(sentence, one.first, after)
        (others if is_other and not is_several else kept).append(one)
        after = one.last
    if kept and all(x.is_engine and any(y.ids <= x.ids for y in others) for x in kept):
        kept = ordered  # a car with its engine
    if mine := [x for x in ordered if _is_mine(sentence, x.first)]:
        kept = mine
    if not kept:
        doubtful = {x[0] for x in sentence.compared} | left
        kept = [replace(x, is_sure=x.is_sure and x.first not in doubtful) for x in others]
    before = {other.first: one for one, other in pairwise(ordered)}
    return [replace(x, is_sure=x.is_sure and not _is_donor(sentence, x, before.get(x.first))) for x in kept]


def _is_one_or_other(sentence: Sentence, mentions: Sequence[Mention]) -> bool:
    """Whether one car is named or else another: `his ... or my ...`."""
    near = ((x.last, y.first) for x, y in pairwise(mentions) if x.ids != y.ids and y.first - x.last <= _BEFORE)
    return any(sentence.places(("or",), *span) for span in near)


def _is_mine(sentence: Sentence, first: int) -> bool:
    """Whether a car is told apart as the speaker's: `mine is the plain ...`."""
    start, _ = sentence.clause_of(first)
    place = first - 1
    while place > start and sentence.at(place) in _OF_MINE:
        place -= 1
    return place >= start and sentence.at(place) in ("mine", "ours", "mine's")


def _are_both_served(sentence: Sentence, mentions: Sequence[Mention]) -> bool:
    """Whether something is wanted for one car and for another: `he needs one for the ..., I one for the ...`."""
    served = [x for x in mentions if _is_served(sentence, x.first) and not _is_compared(sentence, x.first, 0)]
    return len({x.ids for x in served}) > 1


def _is_served(sentence: Sentence, first: int) -> bool:
    return "for" in (sentence.at(first - 1), sentence.at(first - 2) if sentence.at(first - 1) in _GIVEN else "")


def _is_weighed(sentence: Sentence) -> bool:
    """Whether it is asked which of some is more of something: `which rail is dearer?`."""
    asked = (sentence.clauses[sentence.words[x].clause] for x in sentence.places(("which",)))
    return any(sentence.places(_MORE, *span) for span in asked)


def _is_compared(sentence: Sentence, first: int, after: int) -> bool:
    """Whether a car is only named to compare with: `as in the ...`, `more than a ... has`. `after`: the word behind the
    car that is named before it."""
    start, _ = sentence.clause_of(first)
    for place in range(first - 1, max(start, after, first - _FAR) - 1, -1):
        if sentence.at(place) in _COMPARED:
            following = sentence.at(place + 1)  # `like for like` compares nothing
            return not (following in ("for", "on", "well") or sentence.at(place - 1) in _NOT_COMPARED)
        if sentence.at(place) == "of" and sentence.at(place - 1) in words.OUTPUT - _ENGINES:
            return True
        if sentence.at(place) not in _BETWEEN and not is_called(sentence.at(place)):
            return False
    return False


def _is_left(sentence: Sentence, first: int, after: int) -> bool:
    """Whether a car is told of as one that was: `sold the ...`, `used to drive a ...`, `instead of the ...`."""
    start, _ = sentence.clause_of(first)
    for place in () if _is_served(sentence, first) else range(first - 1, max(start, after, first - _BEFORE) - 1, -1):
        word, before = sentence.at(place), sentence.at(place - 1)
        if word in _LEFT and before not in _HAVE:
            return True
        is_on = sentence.at(place + 1) == "run" and sentence.at(place + 2) in ("our", "my", "this")
        if (before, word) == ("used", "to") and sentence.at(place + 1) in _OWNING and not is_on:
            return True
        if (before, word) in (("instead", "of"), ("rid", "of"), ("came", "from"), ("coming", "from")):
            return True
    return False


def _is_of_others(sentence: Sentence, first: int, after: int) -> bool:
    """Whether a car is another person's: `my brother's ...`, `a friend has a ...`."""
    start, _ = sentence.clause_of(first)
    near = range(first - 1, max(start, after, first - _FAR_PERSON) - 1, -1)
    return any(is_called(sentence.at(x)) and sentence.at(x - 1) != "for" and sentence.at(x - 2) != "for" for x in near)


def _is_donor(sentence: Sentence, one: Mention, previous: Mention | None) -> bool:
    """Whether a name may be that of an engine alone, which goes into another car: `a ... engine in my old ...`."""
    start, end = sentence.clause_of(one.first)
    if any(sentence.at(x - 1) not in _SWAPPED for x in sentence.places(_SWAPS, start, end)):
        return True
    behind = one.last + (sentence.at(one.last) in _ENGINES)
    is_engine = one.is_engine or behind > one.last
    if is_engine and sentence.at(behind) in _INTO and sentence.at(behind + 1) in _GIVEN:
        return True
    place = one.first - 1 - (sentence.at(one.first - 1) in _GIVEN)
    is_out = (sentence.at(place - 1), sentence.at(place)) == ("out", "of")
    if not is_out and sentence.at(place) not in _FROM:
        return False
    is_of_engine = previous is not None and previous.first >= start
    return is_of_engine or sentence.at(place - 1 - is_out) in _ENGINES
