"""How fuel is to run, as it is said: what each piece of it asks of a layout."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from service.reading.questions import words
from service.reading.questions.facts import Stance
from service.reading.questions.lexicon import Traits
from service.reading.questions.sentence import Sentence
from service.reading.questions.sizes import role_of
from service.reading.questions.spots import Spot
from service.reading.questions.stance import stance_of
from service.reading.words import SPOILT

Topic = Literal["return", "kind", "size", "place", "regulator", "link", "each"]
_OF_LINE = words.HOSES | words.set_of("connection connector feed plumbing hookup supply connect quick coupling")
_THERE = words.set_of("in on at by under near behind beside inside to")
_OF_BODY = words.set_of("bay wing boot trunk arch tower panel wall frame fender scuttle floor shell tray chassis")
_MOUNTED = words.set_of("rail mounted -")
_BETWEEN = words.set_of("fuel feed supply own quick connect - car's nylon plastic steel")
_OF_PAGES = words.set_of("send sent page website web click mail email video photo follow")
"""What tells of a link to a page."""
_OF_OTHER_RETURNS = words.set_of("call policy address to of postage label it")
_VERBS = words.set_of("i we to will can i'll we'll please please, you he")

_THROUGH = words.phrases_of("through flow, flow through, loop, loops, ring, full flow loop, circulating")
_DEAD = words.phrases_of(
    "returnless, dead head, deadhead, dead headed, deadheaded, dead end, deadend, one way feed, single line"
)
_BACK = words.phrases_of(
    "goes back, comes back, runs back, flows back, back to the tank, back to tank, way back, line back, hose back, "
    "there and back, going back, coming back, nothing back, leads back"
)
_OWN_LINE = words.phrases_of(
    "line from the factory, line as fitted by the factory, line as fitted, line that's on the car, "
    "line that is on the car, line on the car, line of the car, keep the line, keeps the line, keep the fuel line, "
    "keeps the fuel line"
)
_OF_CAR, _OF_PEOPLE = (
    words.set_of("its it's car's van's truck's wagon's"),
    words.set_of("my our his her their customer's"),
)
_OWN = words.set_of("own old existing fuel present")
_HAVING_LINES = words.GAUGES | words.REGULATORS | words.RETURNS | words.set_of("bank banks each every pump side end")
"""What else than the car may have a line of its own."""
_EACH = words.phrases_of(
    "each bank, every bank, both banks, each side its own, each rail, both rails, a bank each, separate "
    "feeds, either bank, per bank, per rail"
)


@dataclass(frozen=True, slots=True)
class Facet:
    """A piece of how fuel runs: words, what they say, and which layouts have it."""

    topic: Topic
    value: object
    first: int
    last: int
    says: str
    stance: Stance
    fits: Callable[[Traits], bool]


def returns_in(sentence: Sentence, taken: Sequence[bool]) -> Iterator[Facet]:
    """Whether fuel returns."""
    for place in sentence.places(words.RETURNS):
        if taken[place] or _is_other_return(sentence, place):
            continue
        if (
            sentence.at(place - 1) == "nothing"
            or (sentence.at(place + 1) == "less")
            or sentence.at(place + 2) == "less"
        ):
            is_less = sentence.at(place - 1) != "nothing"
            last = place + 1 + (sentence.at(place + 1) == "-") + 1 if is_less else place + 1
            yield _return(False, place if is_less else place - 1, min(last, len(sentence.words)), "yes")
            continue
        stance = stance_of(sentence, place, place + 1)
        if stance == "no":
            yield _return(False, _from_denial(sentence, place), place + 1, "yes")
        else:
            yield _return(True, place, place + 1, stance)
    for first, last in sentence.phrases(_THROUGH):
        before = (sentence.at(first - 2), sentence.at(first - 1))
        is_other = "o" in before or (before[0] in ("on", "at", "round") and before[1] == "the")  # a seal, a race track
        if not (is_other or any(taken[first:last])):
            stance = stance_of(sentence, first, last)
            yield _return(stance != "no", first, last, "yes" if stance == "no" else stance)
    for first, last in sentence.phrases(_BACK):
        if any(taken[first:last]) or sentence.places(words.RETURNS | words.REGULATORS, *sentence.clause_of(first)):
            continue
        nothing = sentence.places(("nothing", "no"), max(sentence.clause_of(first)[0], first - 3), last)
        stance = "no" if nothing else stance_of(sentence, first, last)
        start = min([first, *nothing])
        yield _return(stance != "no", start, last, "yes" if stance == "no" else stance)
    for first, last in sentence.phrases(_DEAD):
        stance = stance_of(sentence, first, last)
        yield _return(stance == "no", first, last, "yes" if stance == "no" else stance)


def _return(value: bool, first: int, last: int, stance: Stance) -> Facet:
    says = "fuel returns" if value else "nothing returns"
    return Facet("return", value, first, last, says, stance, lambda x: x.has_return == value)


def _is_other_return(sentence: Sentence, place: int) -> bool:
    word, before, behind = sentence.at(place), sentence.at(place - 1), sentence.at(place + 1)
    if behind in ("the", "my", "our") and sentence.at(place + 2) in _OF_OTHER_RETURNS - {"to", "of", "it"}:
        return True
    if before in ("happy", "in", "by", "sale", "tax", "goods") or behind in _OF_OTHER_RETURNS:
        return behind != "to" or before in _VERBS
    if word in ("return", "returning", "returned") and before in _VERBS and before != "to":
        return behind not in ("line", "hose", "feed", "flow")
    return word == "returned" and before in ("be", "been", "i", "was", "were")


def _from_denial(sentence: Sentence, place: int) -> int:
    start, _ = sentence.clause_of(place)
    found = [x for x in range(max(start, place - 6), place) if sentence.at(x) in words.DENIALS]
    return found[-1] if found else place


def kinds_in(sentence: Sentence) -> Iterator[Facet]:
    """Where the fuel comes from: the factory line, the bulkhead, an own hose."""
    for place in sentence.places(words.FACTORY):
        last = place + 1
        while sentence.at(last) in _BETWEEN and last < place + 4:
            last += 1
        if sentence.at(last) in _OF_LINE or sentence.at(last - 1) in ("feed", "supply", "connect"):
            yield _kind(sentence, "factory-line", place, last + (sentence.at(last) in _OF_LINE), "the factory line")
    for first, last in sentence.phrases(_OWN_LINE):
        yield _kind(sentence, "factory-line", first, last, "the factory line")
    for place in sentence.places(words.BULKHEAD):
        start = sentence.clause_of(place)[0]
        if sentence.at(place - 2) in ("on", "at") and sentence.places(words.REGULATORS, start, place):
            sentence.mark(place, place + 1)
            continue  # where the regulator is
        last = place + 1 + (sentence.at(place + 1) in ("connector", "coupling", "union"))
        yield _kind(sentence, "bulkhead", place, last, "from the bulkhead")
    for place in sentence.places(_OF_CAR | _OF_PEOPLE | {"own"}):
        behind = place + 1
        while sentence.at(behind) in (_OWN if sentence.at(place) in _OF_CAR else ("own",)):
            behind += 1
        if sentence.at(behind) not in words.HOSES or sentence.at(place - 1) in _OF_CAR | _OF_PEOPLE:
            continue
        if sentence.at(place) not in _OF_CAR:
            yield _kind(sentence, "own-hose", place, behind + 1, "an own hose")
        elif _is_line_of_car(sentence, place, behind):
            yield _kind(sentence, "factory-line", place, behind + 1, "the factory line")


def _is_line_of_car(sentence: Sentence, first: int, line: int) -> bool:
    """Whether a line that `it` has is the car's: its own, or one that is kept; not that of a bank or a gauge."""
    start, _ = sentence.clause_of(first)
    is_its = sentence.at(first) in ("its", "it's")
    is_of_car = not is_its or "own" in sentence.at(line - 1) or sentence.at(first - 1) in words.KEEPS
    return is_of_car and not sentence.places(_HAVING_LINES, start, first)


def _kind(sentence: Sentence, kind: str, first: int, last: int, says: str) -> Facet:
    stance = stance_of(sentence, first, last)
    if sentence.at(first - 1) in ("old", "worn", "leaking", "replace", "of") or sentence.at(first - 2) in (
        "replace",
        "instead",
        "removed",
    ):
        stance = "doubt" if stance == "yes" else stance
    if stance == "yes" and sentence.places(SPOILT, *sentence.clause_of(first)):
        stance = "doubt"
    if stance == "no":
        return Facet("kind", f"not {kind}", first, last, f"not {says}", "yes", lambda x: kind not in x.kinds)
    return Facet("kind", kind, first, last, says, stance, lambda x: kind in x.kinds)


def regulators_in(sentence: Sentence, taken: Sequence[bool]) -> Iterator[Facet]:
    """Whether the return leads through a regulator on the rail."""
    for place in sentence.places(words.REGULATORS):
        if taken[place]:
            continue
        start, end = sentence.clause_of(place)
        if sentence.at(end) == "not" and sentence.at(end + 1) in ("on", "at"):
            end = sentence.clause_of(end)[1]  # as in `regulator in the engine bay, not on the rail`
        begin = place
        while sentence.at(begin - 1) in _MOUNTED:
            begin -= 1
        stance = stance_of(sentence, begin, place + 1)
        is_remote = bool(sentence.places(words.REMOTE, max(start, place - 3), min(end, place + 6)))
        is_remote = is_remote or (sentence.at(place + 1) in ("on", "at") and sentence.at(place + 3) in words.BULKHEAD)
        on = [
            x
            for x in range(place + 1, min(end, place + 10))
            if sentence.at(x) in words.RAILS
            and sentence.at(x - 1) in ("the", "that", "on", "its", "to", "at", "fuel", "-", "of", "each", "same")
        ]
        is_remote = is_remote or (not on and _is_in_car(sentence, place + 1, end))
        is_on = bool(on) and not is_remote
        is_on = (
            is_on
            or sentence.at(place - 1) == "rail"
            or (sentence.at(place - 1) == "mounted" and "rail" in (sentence.at(place - 2), sentence.at(place - 3)))
        )
        last = on[0] + 1 if on else place + 1
        is_not_on = bool(sentence.places(("not", "isn't", "off"), place + 1, last))
        if stance == "no":
            yield _regulator(False, place, last, "yes")
        elif is_remote or (is_on and is_not_on):
            yield _regulator(False, place, max(last, place + 1), stance)
        elif is_on:
            yield _regulator(True, place, last, stance)


def _is_in_car(sentence: Sentence, place: int, end: int) -> bool:
    """Whether it is told of a part of the car, that is no rail, that something is there: `in the engine bay`."""
    led = [x for x in sentence.places(_THERE, place, min(end, place + 4)) if sentence.at(x + 1) in ("the", "a", "my")]
    return any(sentence.places(_OF_BODY, x, min(end, x + 5)) for x in led)


def _regulator(value: bool, first: int, last: int, stance: Stance) -> Facet:
    says = "a regulator on the rail" if value else "no regulator on the rail"
    return Facet("regulator", value, first, last, says, stance, lambda x: x.has_regulator == value)


def links_in(sentence: Sentence) -> Iterator[Facet]:
    """Whether a link leads from bank to bank, and whether each bank has its own feed."""
    for first, last in sentence.phrases((*sorted(words.LINKS - {"cross-over"}), "cross over")):
        if sentence.places(_OF_PAGES, *sentence.clause_of(first)):
            continue
        if sentence.at(first) in ("connected", "joined") and not sentence.places(
            ("bank", "banks", "rails"), *sentence.clause_of(first)
        ):
            continue
        stance = stance_of(sentence, first, last)
        value = stance != "no"
        says = "a link between the banks" if value else "no link"
        yield Facet("link", value, first, last, says, "yes" if stance == "no" else stance, _linked(value))
    for first, last in sentence.phrases(_EACH):
        start, end = sentence.clause_of(first)
        is_of_hose = bool(sentence.places(words.HOSES | words.FEEDS | words.RETURNS | {"to", "for"}, start, end))
        is_of_other = bool(sentence.places(words.GAUGES | words.ROOM, start, end))
        figures = [x for x in range(start, end) if sentence.words[x].is_number and not sentence.cars[x]]
        if not any(sentence.read[first:last]) and (is_of_hose or (figures and not is_of_other)):
            stance = stance_of(sentence, first, last)
            if stance != "no":
                yield Facet("each", True, first, last, "each bank has its own feed", stance, lambda x: x.is_each)


def _linked(value: bool) -> Callable[[Traits], bool]:
    return lambda x: x.has_link == value


def places_in(sentence: Sentence, spots: Sequence[Spot]) -> Iterator[Facet]:
    """Where the fuel is fed in, and where it returns from."""
    for spot in spots:
        if spot.place == "top":
            continue
        role = role_of(sentence, spot.first, spot.last)
        stance = stance_of(sentence, spot.first, spot.last)
        what = {"side": "a side", "ends": "both ends", "centre": "the centre"}.get(spot.place, f"the {spot.place}")
        says = f"{'returns from' if role == 'return' else 'fed at'} {what}"
        if stance == "no":
            says = f"not {says}"
        fits = _placed(spot.place, is_return=role == "return", is_denied=stance == "no")
        yield Facet(
            "place", (role, spot.place, stance), spot.first, spot.last, says, "yes" if stance == "no" else stance, fits
        )


def _placed(place: str, *, is_return: bool, is_denied: bool) -> Callable[[Traits], bool]:
    def fits(traits: Traits) -> bool:
        placements = traits.returns if is_return else traits.feeds
        if place == "ends" and traits.banks > 1:
            return (traits.is_each or traits.is_both_ends) != is_denied  # a side may be a bank
        if place == "ends":
            return (traits.is_both_ends or (not is_return and traits.has_return)) != is_denied
        has = any(_is_at(places, place) for places in placements)
        return has != is_denied

    return fits


def _is_at(places: Sequence[str], place: str) -> bool:
    if place == "side":
        return len(places) == 1 and places[0] in ("left", "right")
    return place in places and (place != "centre" or set(places) == {"centre"})
