"""Whether a gauge is wanted, and where."""

from collections.abc import Iterable, Sequence

from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Stance, Understood, choices_of, settled
from service.reading.questions.lexicon import Car
from service.reading.questions.sentence import Sentence
from service.reading.questions.spots import Spot, bank_number
from service.reading.questions.stance import stance_of
from service.reading.questions.units import CURRENCIES

_ANYWHERE = words.set_of("anywhere wherever any somewhere whichever")
_FOR_NOW = words.phrases_of(
    "so far, yet, at the moment, currently, right now, at present, until now, till now, up to now, momentarily, bisher"
)
_ORDER = ("left", "centre", "right", "top")
_PORTS = words.set_of("spot spots port ports boss position")
_SEVERAL = words.set_of("twice without")
"""What tells of several things to be priced."""
_EARLIER = words.set_of("old previous former")
_TWO = (words.NUMBERS.keys() - {"one", "zero"}) | {"both", "several"}
_AS_YOU_LIKE = words.set_of("you ever possible it")
_NO_CARE = words.set_of("care mind matter matters bothered fussed fussy")
_EXCEPTING = words.set_of("except excepting excluding bar")
_INSIDE = words.set_of("dash dashboard cluster cabin cockpit pod console panel")
_SHORT = 4
_BEING = words.set_of("is are was isn't aren't has may might should")
TIGHT = words.set_of("tight obstructed blocked cramped")


def gauges_in(sentence: Sentence, taken: Sequence[bool]) -> list[int]:
    """Where a gauge of the rail is spoken of, that is not the name of a part; those of other things tell nothing."""
    places = [x for x in sentence.places(words.GAUGES) if not taken[x]]
    own = [x for x in places if x not in sentence.asides]
    others = [x for x in places if is_other_gauge(sentence, x) or (own and sentence.is_mine_told and x not in own)]
    for place in others:
        sentence.mark(place, place + 1)
    return [x for x in places if x not in others]


def spots_of(car: Car | None, spot: Spot) -> tuple[str, ...]:
    """The spots of a car's rails that a named place may be."""
    places = {"side": ("left", "right"), "ends": ("left", "right")}.get(spot.place, (spot.place,))
    if car is None:
        return tuple(f"{spot.bank}.{x}" if spot.bank else x for x in places)
    banks = car.chassis.banks
    if banks == 1:
        return tuple(x for x in places if x in car.places)
    on = (spot.bank,) if spot.bank else (1, 2)
    return tuple(f"{bank}.{x}" for bank in on for x in places if x in car.places)


def all_spots(car: Car | None) -> tuple[str, ...]:
    """All spots of a car's rails, in the order in which they are told."""
    if car is None:
        return _ORDER
    return tuple(spot for place in _ORDER if place in car.places for spot in car.chassis.on_banks(place))


def read_gauge(sentence: Sentence, gauges: Sequence[int], spots: Sequence[Spot], car: Car | None) -> Found:
    """Whether a gauge is wanted, and where."""
    if not gauges:
        return Found()
    said: list[Said] = []
    is_vague = False
    denials: list[Stance] = []
    for place in gauges:
        is_less = "less" in (sentence.at(place + 1), sentence.at(place)[5:])
        if is_less or (sentence.at(place + 1) == "-" and sentence.at(place + 2) in ("less", "free")):
            stance: Stance = "no"
        else:
            stance = _stance(sentence, place)
        denials.append("doubt" if stance == "no" and _is_for_now(sentence, place) else stance)
        first = place - (sentence.at(place - 1) in ("pressure", "no", "without"))
        sentence.mark(first, place + 1)
    for spot in spots:
        found = spots_of(car, spot)
        stance = stance_of(sentence, spot.first, spot.last)
        if stance == "yes" and sentence.places(TIGHT, *sentence.clause_of(spot.first)):
            stance = "doubt"
        is_vague = is_vague or (len(found) != 1 and stance != "no")
        sentence.mark(spot.first, spot.last)
        said += [Said(x, spot.first, spot.last, f"gauge at {x}", stance) for x in found]
    for place in sentence.places(_ANYWHERE):
        if any(sentence.words[place].sentence == sentence.words[one].sentence for one in gauges) and not spots:
            sentence.mark(place, place + 1 + (sentence.at(place + 1) in _PORTS))
            is_vague = is_vague or sentence.at(place + 1) == "the"  # as in `wherever the hose is not`
    is_elsewhere = any(x.stance == "yes" for x in said) and any(x.stance == "no" for x in said)
    if is_elsewhere and _is_of_spot(sentence, gauges, spots):
        denials = ["yes"]  # as in `a gauge, not at the top, better on the right`
    first, last = gauges[0], gauges[0] + 1
    if all(one == "no" for one in denials):
        if not said:
            start = _denial_before(sentence, first)
            return Found("none", [Understood.of(sentence, start, last, "gauge", "none", "no gauge")])
        return Found(open=_asked(car, said, denied=True))
    if any(one != "yes" for one in denials):
        return Found(open=_asked(car, said, denied=True))
    meant = [one for one in said if one.stance != "no"]
    on_bank = _on_bank(sentence, gauges, car)
    if not said and on_bank:
        return Found(open=_asked(car, on_bank))
    if not said and not is_vague and _is_where(sentence, gauges[-1]):
        return Found(open=_asked(car, said, denied=True))
    if not said and not is_vague:
        return Found("any", [Understood.of(sentence, first, last, "gauge", "any", "a gauge, wherever it may be")])
    one = settled(said) if not is_vague else None
    if one is None:
        return Found(open=_asked(car, meant))
    value = one.value
    start, end = min(first, one.first), max(last, one.last)
    if sentence.words[start].clause != sentence.words[end - 1].clause:
        start, end = one.first, one.last
    return Found(value, [Understood.of(sentence, start, end, "gauge", value, one.says)])


def _stance(sentence: Sentence, place: int) -> Stance:
    """Whether a gauge is wanted: not where there are enough, or where one price is told with it and one without."""
    start, _ = sentence.clause_of(place)
    stance = stance_of(sentence, place, place + 1)
    if sentence.at(place - 1) == "enough" and stance == "yes":
        return "no"
    if stance == "no" and sentence.places(_EXCEPTING, start, place):
        return "doubt"  # of what it is excepted: `all silver except the gauge`
    if sentence.at(place - 1) in _TWO or (sentence.at(place - 1).isdigit() and sentence.at(place - 1) != "1"):
        return "doubt"
    start += sentence.at(start) in words.JOINS
    is_figure = sentence.words[start].is_number or sentence.at(start) in words.NUMBERS
    behind = start + 1 + (sentence.at(start + 1) in ("more", "extra", *CURRENCIES))
    number = sentence.words[place].sentence
    others = (x for x in sentence.places(_SEVERAL) if sentence.words[x].sentence == number)
    if any(sentence.at(x) != "without" or not _names_another(sentence, x + 1) for x in others):
        return "doubt"
    is_of_it = sentence.at(place - 1) in _EARLIER
    before = place - 1 - (sentence.at(place - 1) in ("the", "a"))
    is_of_it = is_of_it or (sentence.at(before) == "for" and sentence.at(before - 1)[:1].isdigit())
    is_priced = is_of_it or (is_figure and sentence.at(behind) == "with") or sentence.places(("than",), start, place)
    return "doubt" if is_priced else stance


def _names_another(sentence: Sentence, place: int) -> bool:
    """Whether a word tells another thing that is left out: `without a return`, not `with a gauge and without`."""
    return sentence.at(place)[:1].isalnum() and sentence.at(place) not in ("it", "one", "is")


def _is_of_spot(sentence: Sentence, gauges: Sequence[int], spots: Sequence[Spot]) -> bool:
    """Whether the denial behind a gauge is of the spot behind it: `a gauge, not at the top`."""
    denied = [x.first for x in spots if stance_of(sentence, x.first, x.last) == "no"]
    behind = [sentence.places(words.DENIALS, gauge, spot) for gauge in gauges for spot in denied if spot > gauge]
    return any(behind) and not any(_denial_before(sentence, x) < x for x in gauges)


def is_other_gauge(sentence: Sentence, place: int) -> bool:
    """Whether a gauge is of something else than the rail: `boost gauge`."""
    start, end = sentence.clause_of(place)
    is_inside = sentence.at(place + 1) in ("in", "on") and sentence.places(_INSIDE, place, min(end, place + 4))
    return bool(is_inside or sentence.places(words.OTHER_GAUGES, max(place - 2, start), place))


def _is_for_now(sentence: Sentence, place: int) -> bool:
    """Whether what is told is only how things are now: `no gauge on it so far`."""
    start, end = sentence.clause_of(place)
    return any(start <= first < end for first, _ in sentence.phrases(_FOR_NOW))


def _is_where(sentence: Sentence, gauge: int) -> bool:
    """Whether it is asked where the gauge is to be: `a gauge, but where?`, or pointed at: `put a gauge in there`."""
    behind = range(gauge + 1, sentence.clause_of(gauge)[1])
    if any(sentence.at(x) == "there" and sentence.at(x + 1) not in _BEING for x in behind):
        return True
    if any(sentence.at(x) == "it" and sentence.at(x - 1) in ("in", "on", "into") for x in behind):
        return True
    here = [x for x in behind if sentence.at(x) == "where" and sentence.at(x + 1) not in _AS_YOU_LIKE]
    if any(not sentence.places(_NO_CARE, gauge, x) for x in here):
        return True  # as in `where there is more room`
    clause = sentence.words[gauge].clause
    end = sentence.clauses[min(clause + 1, len(sentence.clauses) - 1)][1]
    places = sentence.places(("where",), sentence.clauses[clause][0], end)
    return any(sentence.is_question(x) or sentence.at(x - 1) == "but" for x in places)


def _on_bank(sentence: Sentence, gauges: Sequence[int], car: Car | None) -> list[Said]:
    """The spots of a bank that a gauge is wanted on, where the bank alone is told."""
    found: list[Said] = []
    for place in gauges:
        clause = sentence.words[place].clause
        spans = [x for x in sentence.clauses[clause : clause + 2] if x[0] <= place or x[1] - x[0] <= _SHORT]
        for at in sentence.places(("bank", "banks"), spans[0][0], spans[-1][1]):
            sentence.mark(at, at + 1)
            told = bank_number(sentence, at)
            known = all_spots(car) if car else [f"{bank}.{x}" for bank in (1, 2) for x in _ORDER]
            spots = [x for x in known if not told or x.startswith(f"{told}.")]
            found += [Said(x, at, at + 1, f"gauge at {x}", "doubt") for x in spots]
    return found


def open_gauge(car: Car | None, spots: Iterable[Spot]) -> Open:
    """The question where the gauge is to be, with the spots that may be meant first."""
    said = [Said(x, one.first, one.last, f"gauge at {x}") for one in spots for x in spots_of(car, one)]
    return _asked(car, said, denied=True)


def _denial_before(sentence: Sentence, first: int) -> int:
    start, _ = sentence.clause_of(first)
    found = [x for x in range(max(start, first - 6), first) if sentence.at(x) in words.DENIALS]
    return found[-1] if found else first


def _asked(car: Car | None, said: Sequence[Said], *, denied: bool = False) -> Open:
    told = choices_of(said)
    everywhere = [Choice(spot, f"gauge at {spot}") for spot in all_spots(car)]
    if told:
        everywhere = [*told, *(x for x in everywhere if x not in told)] if denied else list(told)
    none = Choice("none", "no gauge")
    anywhere = [Choice("any", "a gauge, wherever it may be")] if denied or not told else []
    asks = "Is a gauge wanted, and where?" if denied else "Where is the gauge to be?"
    return Open("gauge", asks, (*everywhere, *anywhere, none))
