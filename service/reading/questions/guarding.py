"""The last look before a value is asserted: where its clause offers a choice or has unread figures, it is asked."""

import re
from collections.abc import Sequence

from service.reading.questions import words
from service.reading.questions.accounting import OF_HOSES, is_accounted_for
from service.reading.questions.facts import ASKS, Choice, Found, Open, Understood
from service.reading.questions.hedges import is_guessed, is_hedged, is_thought_over
from service.reading.questions.measures import Measure
from service.reading.questions.owned import PartSaid
from service.reading.questions.sentence import Sentence
from service.reading.questions.units import UNITS, Kind

_CHOOSING = words.set_of("or oder vs versus unless provided")
_NO_CHOICE = words.set_of("less so later sooner thereabouts such maybe")
_OF_FIGURES = words.set_of(
    "layout power_kw boost_kpa clearances feed_hose_m return_hose_m max_price have pump injectors regulator"
)
_OF_OTHERS = ("chassis", "own_rail")
"""What may be told beside another car, or another maker, and is of the car in question all the same."""
_OF_NOW = words.set_of("layout gauge finish fuel addons boost_kpa feed_hose_m return_hose_m regulator pump injectors")
"""What may be told of how things were, or will be perhaps."""
_OF_WORDS = _OF_NOW | {"power_kw", "clearances", "max_price", "exclude", "allow_unsold"}
"""What is asserted only where all words of its clause are accounted for."""
_PAST = words.set_of("was were previously formerly originally")
_COUNTED_IN = words.HOSES | words.FEEDS | words.RETURNS | words.set_of("as is was ps")
_ENGINES = words.set_of("engine motor")
_TURNING = words.set_of("but though although however")
_HAVING = words.set_of("have has having he's she's it's who's customer's")
_WISHING = words.set_of("hoping looking wanting")
"""What makes of a past a polite wish: `we were hoping for ...`."""
_PERHAPS = words.set_of("perhaps maybe possibly probably undecided unsure")
_IFS = words.set_of("if unless otherwise else failing")
_WHENS = words.set_of("when once until till after")
_NEEDS = words.set_of("need needs require requires")
_FALLING_BACK = words.DENIALS | words.set_of("fit fits room space work works possible goes else then otherwise")
_OFFERED = words.set_of("need want have require")
_PRICING = words.set_of("much cost costs price dearer expensive")
_CORRECTING = words.set_of("wait sorry correction rather actually oops mean scratch make no better preferably even")
_MEASURED = words.set_of("power_kw boost_kpa clearances max_price")
_REVISING = words.set_of("maybe perhaps possibly or rather probably")
_MORE = words.set_of("more higher less lower increase")
_OF_IT = words.set_of("than power boost of please later now or if would though")
_TOLD = words.set_of("nothing what's that's which is has had")
_LONGEST_AMOUNT = 4
_YEAR = re.compile(r"(?:19|20)\d\d")
_NEAR = 4
_SOON = 6
_TELLING = {
    "layout": words.REGULATORS | words.LINKS | words.BULKHEAD | words.RETURNS | words.FEEDS,
    "gauge": words.GAUGES,
    "addons": words.BLOWN,
}
_MEASURING: dict[Kind, str] = {"power": "power_kw", "length": "clearances", "money": "max_price"}


def guarded(sentence: Sentence, field: str, found: Found) -> Found:
    """What was found, as a question where the words around it leave it in doubt."""
    if found.value is None or found.open is not None:
        return found
    if not any(_is_doubtful(sentence, field, one) for one in found.understood):
        return found
    return asked_back(field, ASKS[field], found)


def left_over(sentence: Sentence, measures: Sequence[Measure], parts: Sequence[PartSaid]) -> set[str]:
    """The fields of which words that nobody read may tell more, or otherwise."""

    def is_heard(place: int) -> bool:
        return sentence.read[place] or place in sentence.apart

    fields = {field for field, known in _TELLING.items() if not all(is_heard(x) for x in sentence.places(known))}
    fields |= {
        _MEASURING[x.kind] for x in measures if x.kind in _MEASURING and not any(sentence.read[x.first : x.last])
    }
    return fields | ({"have", "exclude"} if any(not any(sentence.read[x.first : x.last]) for x in parts) else set())


def single(field: str, found: Found, all_found: Sequence[Found], open_again: set[str]) -> Found:
    """What was found, as a question where more may be told of it, or where its words are taken from inside what says
    another field: `from your own stock` tells of no stock power."""
    if field in open_again and found.value is not None:
        return asked_back(field, ASKS[field], found)
    others = [x for one in all_found if one is not found and one.value is not None for x in one.understood]
    inside = (x for one in found.understood for x in others if _is_inside(one, x))
    return asked_back(field, ASKS[field], found) if found.value is not None and any(inside) else found


def _is_inside(one: Understood, other: Understood) -> bool:
    is_of_flow = {one.field, other.field} & {"layout", "chassis"}
    is_within = other.first <= one.first and one.last <= other.last
    return is_within and not is_of_flow and one.last - one.first < other.last - other.first


def asked_back(field: str, asks: str, found: Found) -> Found:
    """A question with what was found as its choices."""
    told = {repr(x.value): Choice(x.value, x.says) for x in found.understood if x.value is not None}
    choices = list(told.values())
    if field == "have" and len(choices) > 1:  # half a list is a wrong list
        choices = [Choice([one.value for one in choices], ", ".join(one.says for one in choices))]
    return Found(open=Open(field, asks, tuple(choices)))


def _is_doubtful(sentence: Sentence, field: str, one: Understood) -> bool:
    is_aside = not sentence.asides.isdisjoint(range(one.first, one.last))
    if is_aside and (sentence.is_mine_told or field not in _OF_OTHERS):
        return True
    if field == "chassis":
        return _is_car_open(sentence, one.last) or is_guessed(sentence, one.first, one.last)
    if _is_bent(sentence, field, one):
        return True
    if not one.says.startswith("not ") and is_hedged(sentence, field, one.first, one.last):
        return True
    start, end = sentence.clause_of(one.first)[0], sentence.clause_of(max(one.last - 1, one.first))[1]
    near = (max(start, one.first - _NEAR), min(end, one.last + _NEAR))
    return (
        any(_is_choice(sentence, place) for place in sentence.places(_CHOOSING, *near))
        or (
            field in _OF_NOW
            and (_is_of_no_wish(sentence, one, start, end) or is_thought_over(sentence, field, one.first))
        )
        or (field in _OF_WORDS and not is_accounted_for(sentence, field, one.first, start, end))
        or (field in _OF_FIGURES and _is_figure_doubtful(sentence, field, one, start, end))
    )


def _is_bent(sentence: Sentence, field: str, one: Understood) -> bool:
    """Whether the word beside a value turns it: `about E85`, `E85 once the pump is in`, `400 euros is not my limit`,
    `I need 40 mm of room`."""
    before, behind, last = sentence.at(one.first - 1), sentence.at(one.last), sentence.at(one.last + 1)
    end = sentence.clause_of(one.last - 1)[1]
    if field in _MEASURED:
        needed = sentence.places(_NEEDS, sentence.clause_of(one.first)[0], one.first)
        is_wished = field == "clearances" and (bool(needed) or (sentence.at(one.first - 2), before) == ("would", "be"))
        is_turned = behind in ("isn't", "wasn't", "would") or (behind in ("is", "was") and last == "not")
        return is_turned or is_wished or bool(sentence.places(_PERHAPS, one.last, end))
    ending = end - 1 - (not sentence.words[end - 1].is_word)
    if sentence.at(ending) in words.DENIALS and sentence.places(_TURNING, one.last, ending):
        return True  # as in `I would like E85 but he would not`
    if field == "addons" and sentence.places(("off", "out"), one.last, end):
        return True
    return (before == "about" and field not in OF_HOSES) or (behind in _WHENS and last.isalpha())


def _is_of_no_wish(sentence: Sentence, one: Understood, start: int, end: int) -> bool:
    """Whether a clause tells how things were, may be some day, or asks what they cost."""
    is_asked = sentence.is_question(one.first)
    is_priced = is_asked and sentence.places(_PRICING, start, end)
    is_past = any(sentence.at(x + 1) not in _WISHING for x in sentence.places(_PAST, start, end))
    is_past = is_past or _was_had(sentence, start, one.first)
    is_perhaps = sentence.places(_PERHAPS, one.last, end)
    return bool(is_priced or is_past or is_perhaps) or _hangs_on_something(sentence, one.last, end)


def _was_had(sentence: Sentence, start: int, first: int) -> bool:
    """Whether something was had: `had the turbo on it`; not `I've had it fitted`."""
    places = sentence.places(("had",), start, first)
    return any(sentence.at(x - 1) not in _HAVING and not sentence.at(x - 1).endswith("'ve") for x in places)


def _hangs_on_something(sentence: Sentence, last: int, end: int) -> bool:
    """Whether it is told what is wished otherwise: `on top, but if it does not fit then none`."""
    clause = sentence.words[end - 1].clause + 1
    spans = [(last, end), *sentence.clauses[clause : clause + 1]]
    for start, stop in spans:
        for place in sentence.places(_IFS, start, stop):
            if sentence.at(place + 1) == "you" and sentence.at(place + 2) in _OFFERED:
                continue  # as in `if you need anything else, call me`
            is_first = stop == end or place == start + (sentence.at(start) in _TURNING | words.JOINS)
            told = {sentence.at(x) for x in range(place + 1, stop)}
            if is_first and not told.isdisjoint(_FALLING_BACK):
                return True
    return False


def _is_figure_doubtful(sentence: Sentence, field: str, one: Understood, start: int, end: int) -> bool:
    if any(_is_unread_figure(sentence, place) for place in range(start, end)):
        return True
    is_half = sentence.at(one.first - 1) in words.NUMBERS and not sentence.read[one.first - 1]
    is_half = is_half or (
        (field != "have" and sentence.at(one.first) in words.NUMBERS)
        and sentence.at(one.first - 1) == "and"
        and not sentence.read[one.first - 2]
        and sentence.words[one.first - 2].is_word
    )
    if field != "layout" and (is_half or sentence.at(end) == "or"):
        return True  # a figure in words that was read by half, as `one sixty horsepower`; or another one follows
    if field in _MEASURED and _has_rival(sentence, one):
        return True
    if field in _MEASURED | OF_HOSES and _is_revised(sentence, one):
        return True
    return any(
        _is_corrected(sentence, place)
        for place in sentence.places(_CORRECTING, end, end + _SOON)
        if not sentence.read[place]
    )


def _is_car_open(sentence: Sentence, last: int) -> bool:
    """Whether what follows the name of a car leaves it open: `wagon or saloon unknown`, `which one?`."""
    _, own_end = sentence.clause_of(last - 1)
    if sentence.at(last) == "or" and sentence.at(last + 1) in _NO_CHOICE:
        return True
    if any(_is_choice(sentence, x) for x in sentence.places(_CHOOSING, last, min(own_end, last + 1))):
        return True  # what is offered farther off is another thing
    clause = sentence.words[last - 1].clause
    for start, end in sentence.clauses[clause + 1 : clause + 3]:
        first = start + (sentence.at(start) == "but")
        is_of_it = start == own_end and not any(sentence.read[last:own_end])
        if is_of_it and (sentence.at(first), sentence.at(first + 1)) == ("which", "one"):
            return True
        if any({sentence.at(x - 1), sentence.at(x + 1)} <= words.BODIES for x in sentence.places(("or",), start, end)):
            return True
    return any(_is_figure_alone(sentence, *span) for span in sentence.clauses[clause + 1 : clause + _NEAR])


def _is_figure_alone(sentence: Sentence, start: int, end: int) -> bool:
    """Whether a clause is a figure that nobody read, as "the 2.0": it may be another car's."""
    told = [x for x in range(start, end) if sentence.words[x].is_word or sentence.words[x].is_number]
    return [sentence.at(x) for x in told[:-1]] == ["the"] and _is_unread_figure(sentence, told[-1])


def _has_rival(sentence: Sentence, one: Understood) -> bool:
    """Whether the clause before or behind has a figure that nobody read."""
    clause = sentence.words[one.first].clause
    beside = [sentence.clauses[x] for x in (clause - 1, clause + 1) if 0 <= x < len(sentence.clauses)]
    figures = [x for span in beside for x in range(*span) if _is_unread_figure(sentence, x)]
    if any(_is_length(sentence, x) if one.field == "clearances" else _may_be_amount(sentence, x) for x in figures):
        return True
    behind = sentence.clauses[clause + 1 : clause + 3]
    return any(_is_wished(sentence, x, *span) for span in behind for x in sentence.places(_MORE, *span))


def _is_revised(sentence: Sentence, one: Understood) -> bool:
    """Whether a bare number follows soon that may be meant instead: `500 euros, hmm, maybe 600`."""
    clause, number = sentence.words[one.last - 1].clause, sentence.words[one.last - 1].sentence
    for start, end in sentence.clauses[clause : clause + _NEAR]:
        for place in sentence.places(_REVISING, max(start, one.last), end):
            is_bare = sentence.at(place + 1)[:1].isdigit() and sentence.at(place + 2) not in UNITS
            if is_bare and (place == start or sentence.words[place].sentence == number):
                return True
    return False


def _is_wished(sentence: Sentence, place: int, start: int, end: int) -> bool:
    """Whether more ends its clause, or is of what was told: `we want more`, `more than that`, `more power`."""
    is_told = sentence.places(words.DENIALS | _TOLD, start, place)
    return not is_told and (
        place + 1 == end or not sentence.at(place + 1).isalpha() or sentence.at(place + 1) in _OF_IT
    )


def _is_length(sentence: Sentence, place: int) -> bool:
    unit = sentence.at(place + 1)
    return unit in UNITS and UNITS[unit][0] == "length"


def _may_be_amount(sentence: Sentence, place: int) -> bool:
    """Whether a figure has no unit of its own, and is no year, nor denied, nor another's."""
    text, following = sentence.at(place), sentence.at(place + 1)
    if following[:1].isdigit() or sentence.at(place - 1)[:1].isdigit() or following in _ENGINES:
        return False  # of a telephone, or an engine
    if following == ")" and sentence.at(place - 1) != "(":
        return False  # of a list
    if sentence.at(place - 1) in ("was", "were", "formerly", "after", "before"):
        return False  # of before, or of the clock
    if following.isalpha() and following not in UNITS and following not in words.LIGHT | words.SAYS_NOTHING:
        return False  # of things that are counted
    is_bare = following not in UNITS and following not in (":", "/", "k") and sentence.at(place - 1) != "not"
    return is_bare and len(text) <= _LONGEST_AMOUNT and not _YEAR.fullmatch(text) and place not in sentence.asides


def _is_corrected(sentence: Sentence, marker: int) -> bool:
    """Whether a figure that nobody read follows a word that puts right what was said: `2 m, oh wait, 3 m`."""
    last = min(len(sentence.words), marker + _SOON)
    told = [place for place in range(marker, last) if not sentence.read[place] and sentence.at(place) in words.NUMBERS]
    told = [x for x in told if UNITS.get(sentence.at(x + 1), ("bare", 0.0))[0] != "other"]
    return bool(told) or any(_is_unread_figure(sentence, place) for place in range(marker, last))


def _is_choice(sentence: Sentence, place: int) -> bool:
    """Whether a word offers a choice that nobody has heard: not `with or without`, `more or less`."""
    before, behind = sentence.at(place - 1), sentence.at(place + 1)
    if sentence.places(words.DENIALS, sentence.clause_of(place)[0], place):
        return False  # neither of them
    return not (sentence.read[place] or behind in _NO_CHOICE or before in ("more", "with", "without"))


def _is_unread_figure(sentence: Sentence, place: int) -> bool:
    word = sentence.words[place]
    if sentence.read[place] or not word.is_number or word.is_code:
        return False
    if sentence.at(place - 1) == "not":
        return False  # denied: no rival of what is said
    unit = sentence.at(place + 1)
    if unit.isalpha() and unit.endswith("s") and unit not in UNITS and unit not in _COUNTED_IN:
        return False  # of things that are counted: `2 cars`
    return not (unit in UNITS and UNITS[unit][0] == "other")
