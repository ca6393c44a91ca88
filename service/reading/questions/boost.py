"""How much boost: a pressure only where it is called boost."""

from collections.abc import Sequence
from dataclasses import replace

from service.domain.units import KPA_PER_PSI, figure, pressure
from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Understood, alike, choices_of, settled
from service.reading.questions.measures import Measure, is_open_ended, is_past
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_MOST_KPA = 1_000
_MOST_BARE = 60
_NEAR = 2
"""So many words away boost is still that of a figure."""
_OTHER_PRESSURE = words.set_of(
    "fuel base rail oil tyre tire gauge regulator line system pump set injector water test rated oem"
)
_NO_BOOST = words.GAUGES | words.set_of("hose line controller solenoid leak sensor pressure.")


def read_boost(sentence: Sentence, measures: Sequence[Measure], has_blown_addon: bool) -> Found:
    """The boost, in kPa: a pressure only where it is called boost."""
    said: list[Said] = []
    asked: list[Said] = []
    loose: list[Said] = []
    for one in measures:
        if one.kind != "pressure" or any(sentence.read[one.first : one.last]):
            continue
        how = _called(sentence, one)
        if how == "other":
            continue
        stance = stance_of(sentence, one.first, one.last)
        is_open = len(one.values) != 1 or _is_absolute(sentence, one) or is_open_ended(sentence, one)
        is_open = is_open or is_past(sentence, one)
        for kpa in (round(x, 2) for x in one.values if x <= _MOST_KPA):
            fact = Said(kpa, one.first, one.last, pressure(kpa), "doubt" if is_open and stance == "yes" else stance)
            {"boost": said, "asked": asked}.get(how, loose).append(fact)
    bare = [] if said else _bare_boost(sentence, measures)
    for fact in (*said, *asked):
        sentence.mark(fact.first, fact.last)
    _mark_boost(sentence, bool(said or bare))
    rivals = [x for x in (*asked, *loose) if not any(alike(x.value, one.value) for one in said)] if said else []
    said += [replace(x, stance="doubt") for x in rivals]
    one_said = settled(said)
    if said and _is_denied(sentence, said):
        choices = (Choice(0.0, "no boost"), *choices_of(said))
        return Found(open=Open("boost_kpa", "Boost is told, and that there is none: which is it?", choices))
    if one_said is not None and isinstance(one_said.value, float) and one_said.value <= _MOST_KPA:
        is_on_top = any(sentence.places(("extra", "additional", "further"), *sentence.clause_of(x.first)) for x in said)
        if has_blown_addon and one_said.value and not is_on_top:
            asks = "Is this boost in all, the add-on's own among it, or on top of that?"
            return Found(
                open=Open("boost_kpa", asks, (Choice(0.0, "in all: the add-on's own boost"), *choices_of(said)))
            )
        told = [x for x in said if x.stance == "yes"]
        return Found(
            one_said.value, [Understood.of(sentence, x.first, x.last, "boost_kpa", x.value, x.says) for x in told]
        )
    if any(x.stance != "no" for x in said):
        return Found(open=Open("boost_kpa", "How much boost?", choices_of(said)))
    if asked or bare:
        return Found(open=Open("boost_kpa", "Is this the boost, and in which unit?", choices_of([*asked, *bare])))
    return Found(open=Open("boost_kpa", "How much boost?")) if not said and _lone_boost(sentence) else Found()


def _is_denied(sentence: Sentence, said: Sequence[Said]) -> bool:
    """Whether boost is denied elsewhere than beside a figure."""
    beside = {place for one in said for place in range(one.first - _NEAR, one.last + _NEAR)}
    places = (place for place in sentence.places(words.BOOSTS) if place not in beside)
    return any(stance_of(sentence, place, place + 1) == "no" for place in places)


def _lone_boost(sentence: Sentence) -> bool:
    """Whether boost is spoken of without a figure, and meant."""
    for place in sentence.places(words.BOOSTS):
        if sentence.at(place + 1) in _NO_BOOST or sentence.read[place]:
            continue
        if stance_of(sentence, place, place + 1) != "no":
            sentence.mark(place, place + 1)
            return True
    return False


def _called(sentence: Sentence, one: Measure) -> str:
    """What a pressure is called in its clause: boost, other, or nothing."""
    start, end = sentence.clause_of(one.first)
    if sentence.at(one.last + (sentence.at(one.last) == "of")) in words.BOOSTS:
        return "other" if sentence.at(one.last + 1 + (sentence.at(one.last) == "of")) in _NO_BOOST else "boost"
    boosts = [abs(x - one.first) for x in sentence.places(words.BOOSTS, start, end)]
    boosts += [abs(x - one.first) for x in sentence.places(("blowing",), start, end)]
    known = _OTHER_PRESSURE | words.GAUGES | words.REGULATORS
    held = [x for x in range(start, end) if not known.isdisjoint((sentence.at(x), singular(sentence.at(x))))]
    others = [abs(x - one.first) for x in held if sentence.at(x - 1) not in words.BOOSTS]
    blown = sentence.places(words.BLOWN, start, end)
    if boosts and (not others or min(boosts) <= min(others)):
        return "boost"
    if others:
        return "other"
    return "asked" if blown or end - start <= 6 else "loose"


def _is_absolute(sentence: Sentence, one: Measure) -> bool:
    near = [sentence.at(x) for x in range(one.last, one.last + 3)]
    return any(x in ("absolute", "abs", "absolut", "map") for x in near)


def _bare_boost(sentence: Sentence, measures: Sequence[Measure]) -> list[Said]:
    found = []
    for one in measures:
        if one.kind == "bare" and one.values and one.values[0] <= _MOST_BARE:
            start, end = sentence.clause_of(one.first)
            near = sentence.places(words.BOOSTS, max(start, one.first - 3), min(end, one.last + 3))
            if near and not any(sentence.read[one.first : one.last]):
                value = one.values[0]
                found.append(Said(round(value * 100, 2), one.first, one.last, f"{figure(value)} bar", "doubt"))
                found.append(Said(round(value * KPA_PER_PSI, 2), one.first, one.last, f"{figure(value)} psi", "doubt"))
    return found


def _mark_boost(sentence: Sentence, has_boost: bool) -> None:
    for place in sentence.places(words.BOOSTS) if has_boost else ():
        sentence.mark(place, place + 1)
