"""How long the customer's hoses are."""

from collections.abc import Sequence
from dataclasses import replace

from service.domain.units import distance
from service.reading.questions import words
from service.reading.questions.facts import Found, Open, Said, Understood, choices_of, settled
from service.reading.questions.measures import Measure
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_SAME = words.set_of("same likewise ditto identical so")
_OF_LENGTH = words.set_of("length long for again on as to with and")
_FAR = 5
_LONGEST_M = 100


def read_hoses(
    sentence: Sentence, hoses: Sequence[Measure], *, has_return: bool | None, returns_none: bool
) -> tuple[Found, Found]:
    """The lengths of the hoses, m: of feed and return. `returns_none`: the layout is known, nothing returns."""
    said: dict[str, list[Said]] = {"feed": [], "return": [], "any": []}
    for one in hoses:
        role = _hose_role(sentence, one)
        sentence.mark(one.first, one.last)
        for place in sentence.places(words.LENGTHS | words.FEEDS, *sentence.clause_of(one.first)):
            sentence.mark(place, place + 1)
        stance = stance_of(sentence, one.first, one.last) if len(one.values) == 1 else "doubt"
        for mm in one.values:
            m = round(mm / 1000, 4)
            for name in (("feed",) if returns_none else ("feed", "return")) if role == "both" else (role,):
                said[name].append(Said(m, one.first, one.last, distance(m), stance))
    if said["any"] and (returns_none or has_return is not True):
        said["feed"] += said.pop("any")
    elif said.get("any"):
        said["feed"] += [Said(x.value, x.first, x.last, x.says, "doubt") for x in said["any"]]
    for role, other in (("feed", "return"), ("return", "feed")):
        if said[role] and not said[other] and not (returns_none or said.get("any")):
            same = _same_for(sentence, words.RETURNS if other == "return" else words.FEEDS, said[role][0])
            said[other] += [replace(x, first=same[0], last=same[-1] + 1) for x in said[role]] if same else []
    return _hose(sentence, "feed", said["feed"]), _hose(sentence, "return", said["return"])


def _same_for(sentence: Sentence, roles: frozenset[str], told: Said) -> list[int]:
    """The words that say that the other hose is as long: `and the same for the return`."""
    number = sentence.words[told.first].sentence
    for place in sentence.places(_SAME):
        start, end = sentence.clause_of(place)
        near = range(max(start, place - _FAR + 1), min(end, place + _FAR))
        is_of_length = sentence.at(place) != "same" or sentence.at(place + 1) in _OF_LENGTH
        is_of_length = is_of_length or not sentence.at(place + 1).isalpha()
        is_of_length = is_of_length and (sentence.at(place) != "so" or sentence.at(place + 1) in ("is", "does"))
        is_denied = "not" in (sentence.at(place - 1), sentence.at(place - 2))
        found = [x for x in near if sentence.at(x) in roles]
        if found and is_of_length and not is_denied and sentence.words[place].sentence == number:
            for x in (*found, place):
                sentence.mark(x, x + 1)
            return sorted((*found, place))
    return []


def _hose(sentence: Sentence, name: str, said: Sequence[Said]) -> Found:
    field = f"{name}_hose_m"
    one = settled(said)
    if one is not None and isinstance(one.value, float) and one.value <= _LONGEST_M:
        told = [x for x in said if x.stance == "yes"]
        return Found(
            one.value,
            [Understood.of(sentence, x.first, x.last, field, x.value, f"{name} hose of {x.says}") for x in told],
        )
    if any(x.stance != "no" for x in said):
        return Found(open=Open(field, f"How long is the {name} hose?", choices_of(said)))
    return Found()


def _hose_role(sentence: Sentence, one: Measure) -> str:
    start, end = sentence.clause_of(one.first)
    near: list[tuple[float, str]] = []
    for role, known in (("feed", words.FEEDS), ("return", words.RETURNS)):
        for x in sentence.places(known, start, end):
            between = range(x + 1, one.first) if x < one.first else range(one.last, x)
            near.append((len(between) + 5 * sum(sentence.at(y) in ("and", "&", "with") for y in between), role))
    if any(sentence.at(x) == "both" for x in range(start, end)) or (
        len(near) > 1 and len({x[1] for x in near}) > 1 and sentence.places(("each",), start, end)
    ):
        return "both"
    best = min(near, default=(_FAR, "any"))
    return best[1] if best[0] < _FAR else "any"
