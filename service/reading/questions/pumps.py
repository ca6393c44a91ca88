"""The pump, the injectors and the pressure that the regulator is set to: facts of the car's fuel side."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from service.domain.units import flow, pressure
from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Understood, Value, choices_of, settled
from service.reading.questions.measures import Measure, is_open_ended, is_past
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of
from service.reading.questions.units import LITRES

Unit = Literal["pump", "injectors"]
_UNITS: tuple[Unit, ...] = ("pump", "injectors")
_PUMPS = words.set_of("pump pumps pump's kraftstoffpumpe benzinpumpe spritpumpe")
_INJECTORS = words.set_of("injector injectors einspritzdusen dusen")
_OTHER_PUMPS = words.set_of("water oil vacuum steering bilge tyre air premium petrol")
_PER = words.set_of("per a an / pro the")
_HOURS, _MINUTES = words.set_of("h hr hrs hour hours std stunde"), words.set_of("min mins minute minutes")
_CUBES = words.set_of("cc ccm ml")
_L_H_OF_CC_MIN, _L_H_OF_L_MIN = 0.06, 60.0
_OTHER_SIZE = words.set_of("bigger larger uprated upgraded high-flow other new grossere different")
_SETTING = words.set_of(
    "set sets to at is are : = of runs running holds holding keeps adjusted it the a dialled in stays"
)
_SET = words.phrases_of("set pressure, base pressure, regulated pressure, regulator pressure, regulator setting")
_OLD = words.set_of("old previous former last dead broken")
_PAST = words.set_of("did gave had was were died moved delivered flowed used")
_RATED = words.set_of("rated at @ measured")
_HELD = words.phrases_of("fuel pressure, rail pressure, system pressure")
_NEAR = 6
_MOST_L_H, _LEAST_L_H = 20_000, 0.1
_LEAST_KPA, _MOST_KPA = 1, 10_000
_ASKS = {
    "pump": "What does the pump move, and against which pressure?",
    "injectors": "What does one injector deliver held open, and at which pressure?",
}


@dataclass(frozen=True, slots=True)
class _Flow:
    """A flow that is told of a pump or of injectors, l/h; several where the figure may be two."""

    what: Unit
    values: tuple[float, ...]
    first: int
    last: int
    is_told: bool
    """Whether the unit of time is told as well; else it is one of custom."""


def read_flows(sentence: Sentence, measures: Sequence[Measure], base_kpa: float | None) -> dict[str, Found]:
    """What the pump moves and what an injector delivers, each with its pressure; `base_kpa`: the car's own."""
    flows = [x for one in measures if (x := _flow(sentence, one)) is not None]
    found: dict[str, Found] = {}
    for what in _UNITS:
        said: list[Said] = []
        offered: list[Choice] = []
        own = [x for x in flows if x.what == what]
        for one in own:
            first, last, at = _pressure_of(sentence, one, flows, measures)
            sentence.mark(first, last)
            told = (at,) if at is not None else (base_kpa,) if base_kpa is not None else ()
            stance = stance_of(sentence, one.first, one.last)
            stance = "doubt" if stance == "yes" and _was(sentence, one) else stance
            is_sure = at is not None and one.is_told and len(one.values) == 1
            for l_h in one.values:
                for kpa in told:
                    says = f"{what}: {flow(l_h)} at {pressure(kpa)}"
                    value = _value(what, l_h, kpa)
                    if is_sure:
                        said.append(Said(value, first, last, says, stance))
                    elif stance != "no":
                        offered.append(Choice(value, says))
        places = _named(sentence, what, own)
        if own or places:
            for place in sentence.places(_words_of(what)):
                sentence.mark(place, place + 1)
        fact = settled(said)
        if fact is not None and not offered:
            meant = [x for x in said if x.stance == "yes"]
            value = [fact.value] if what == "pump" else fact.value
            told_of = [Understood.of(sentence, x.first, x.last, what, _listed(what, x.value), x.says) for x in meant]
            found[what] = Found(value, told_of)
        elif offered or places or any(x.stance != "no" for x in said) or (own and not said):
            choices = [Choice(_listed(what, x.value), x.says) for x in (*choices_of(said), *offered)]
            found[what] = Found(open=Open(what, _ASKS[what], tuple(choices)))
        else:
            found[what] = Found()
    return found


def _listed(what: Unit, value: Value) -> Value:
    return [value] if what == "pump" else value


def _value(what: Unit, l_h: float, kpa: float) -> Value:
    l_h, kpa = round(l_h, 3), round(kpa, 2)
    return {"kpa": kpa, "l_h": l_h} if what == "pump" else {"static_l_h": l_h, "rated_kpa": kpa}


def _was(sentence: Sentence, one: _Flow) -> bool:
    """Whether a pump or injectors are told of that were: `the old pump did 120 l/h`."""
    start, end = sentence.clause_of(one.first)
    places = sentence.places(_words_of(one.what), start, end)
    is_old = any(sentence.at(x - 1) in _OLD or sentence.at(x - 2) in _OLD for x in places if x > start)
    return is_old or bool(sentence.places(_PAST, start, end))


def _words_of(what: Unit) -> frozenset[str]:
    return _PUMPS if what == "pump" else _INJECTORS


def _flow(sentence: Sentence, one: Measure) -> _Flow | None:
    """A number as the flow of a pump or of injectors that its clause speaks of."""
    told = _rate(sentence, one)
    if told is None or any(sentence.read[one.first : one.last]):
        return None
    factor, last, is_told = told
    what = _owner(sentence, one.first, last)
    if what is None or (not is_told and what == "injectors" and one.unit not in _CUBES):
        return None
    values = tuple(x * factor for x in one.values if _LEAST_L_H <= x * factor <= _MOST_L_H)
    return _Flow(what, values, one.first, last, is_told) if values else None


def _rate(sentence: Sentence, one: Measure) -> tuple[float, int, bool] | None:
    """The factor of a flow to l/h, the word behind it, and whether its time is told."""
    if one.unit == "lph":
        return 1.0, one.last, True
    if one.unit == "l/h":
        time = sentence.at(one.last - 1)
        return (
            (1.0, one.last, True) if time in _HOURS else (_L_H_OF_L_MIN, one.last, True) if time in _MINUTES else None
        )
    if one.unit in _CUBES:
        is_timed = sentence.at(one.last) in _PER and sentence.at(one.last + 1) in _MINUTES
        return _L_H_OF_CC_MIN, one.last + 2 * is_timed, True
    if one.unit not in LITRES:
        return None
    if sentence.at(one.last) in _PER and sentence.at(one.last + 1) in _HOURS | _MINUTES:
        factor = 1.0 if sentence.at(one.last + 1) in _HOURS else _L_H_OF_L_MIN
        return factor, one.last + 2, True
    return (1.0, one.last, False) if sentence.at(one.last) in _PUMPS else None


def _owner(sentence: Sentence, first: int, last: int) -> Unit | None:
    """Whose flow it is: what stands nearest in its clause."""
    start, end = sentence.clause_of(first)
    near: list[tuple[int, Unit]] = [
        (first - place if place < first else place - last, what)
        for what in _UNITS
        for place in sentence.places(_words_of(what), start, end)
        if sentence.at(place - 1) not in _OTHER_PUMPS
    ]
    return min(near)[1] if near else None


def _pressure_of(
    sentence: Sentence, one: _Flow, flows: Sequence[_Flow], measures: Sequence[Measure]
) -> tuple[int, int, float | None]:
    """All words of a flow with its pressure, and that pressure: the one behind it, before another flow is told."""
    clause, (_, end) = sentence.words[one.first].clause, sentence.clause_of(one.first)
    if clause + 1 < len(sentence.clauses) and (sentence.at(end - 1) == "(" or sentence.at(end) in _RATED):
        end = sentence.clauses[clause + 1][1]
    beyond = min((x.first for x in flows if x.first >= one.last), default=end)
    behind = [x for x in measures if x.kind == "pressure" and one.last <= x.first < min(end, beyond)]
    behind = [x for x in behind if not sentence.places(words.BOOSTS, x.first - 2, x.last + 3)]
    if len(behind) != 1 or len(behind[0].values) != 1 or not _LEAST_KPA <= behind[0].values[0] <= _MOST_KPA:
        return one.first, one.last, None
    return one.first, behind[0].last, behind[0].values[0]


def _named(sentence: Sentence, what: Unit, told: Sequence[_Flow]) -> list[int]:
    """Where another pump or other injectors are spoken of without what they move."""
    if told:
        return []
    found = [x for x in sentence.places(_words_of(what)) if not sentence.read[x]]
    return [
        x
        for x in found
        if sentence.places(_OTHER_SIZE, max(sentence.clause_of(x)[0], x - 3), x)
        and sentence.at(x - 1) not in _OTHER_PUMPS
        and stance_of(sentence, x, x + 1) == "yes"
    ]


def read_regulator(sentence: Sentence, measures: Sequence[Measure]) -> Found:
    """The pressure that the regulator is set to, kPa; a fuel pressure that is told otherwise is asked."""
    said: list[Said] = []
    for one in measures:
        if one.kind != "pressure" or any(sentence.read[one.first : one.last]):
            continue
        how = _held(sentence, one)
        if how is None:
            continue
        first, is_set = how
        stance = stance_of(sentence, one.first, one.last)
        is_open = not is_set or len(one.values) != 1 or is_past(sentence, one) or is_open_ended(sentence, one)
        for kpa in (round(x, 2) for x in one.values if _LEAST_KPA <= x <= _MOST_KPA):
            says = f"regulator set to {pressure(kpa)}"
            said.append(
                Said({"set_kpa": kpa}, first, one.last, says, "doubt" if is_open and stance == "yes" else stance)
            )
    for x in said:
        sentence.mark(x.first, x.last)
    fact = settled(said)
    if fact is not None:
        meant = [x for x in said if x.stance == "yes"]
        return Found(
            fact.value, [Understood.of(sentence, x.first, x.last, "regulator", x.value, x.says) for x in meant]
        )
    if any(x.stance != "no" for x in said):
        return Found(open=Open("regulator", "Is this the pressure that the regulator is set to?", choices_of(said)))
    return Found()


def _held(sentence: Sentence, one: Measure) -> tuple[int, bool] | None:
    """Where a regulator or a fuel pressure is told that a pressure belongs to, and whether as what it is set to."""
    start, _ = sentence.clause_of(one.first)
    place = one.first - 1
    while place >= max(start, one.first - _NEAR) and sentence.at(place) in _SETTING:
        place -= 1
    following = f"{sentence.at(one.last)} {sentence.at(one.last + 1)}"
    if following in _SET or following in _HELD:
        return one.first, following in _SET
    if place < start and sentence.at(start) in ("set", "adjusted") and start > 1:
        return one.first, bool(sentence.places(words.REGULATORS, *sentence.clause_of(start - 1)))
    if place < start:
        return None
    is_set = bool(sentence.places(("set", "at", "adjusted"), place + 1, one.first))
    if sentence.at(place) in words.REGULATORS:
        return place, is_set
    if is_set and sentence.at(place) in words.RAILS and sentence.places(words.REGULATORS, place - _NEAR, place):
        return place + 1, True  # as in `regulator on the rail, set to 3 bar`
    two = f"{sentence.at(place - 1)} {sentence.at(place)}"
    if two in _SET or two in _HELD:
        return place - 1, two in _SET
    return None
