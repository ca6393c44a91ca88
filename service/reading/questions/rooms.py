"""The room that there is at spots."""

from collections.abc import Iterator, Sequence

from service.domain.units import length
from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Understood, Value, settled
from service.reading.questions.gauges import TIGHT, all_spots, spots_of
from service.reading.questions.lengths import bounds_in, is_of_thing
from service.reading.questions.lexicon import Car
from service.reading.questions.measures import Measure, is_open_ended
from service.reading.questions.sentence import Sentence
from service.reading.questions.spots import Spot
from service.reading.questions.stance import stance_of

_LONGEST_MM = 10_000
_LONGEST_BOUND = 7
_NO_BOUND = (
    words.PLACES.keys() | words.DENIALS | words.DOUBTS | words.GAUGES | words.BLOWN | words.BREAKS | {"or", "and"}
)
"""What ends the words for that at which a room ends."""


def read_rooms(
    sentence: Sentence,
    rooms: Sequence[Measure],
    numbers: Sequence[Measure],
    spots: Sequence[Spot],
    nearby: Sequence[Spot],
    car: Car | None,
) -> Found:
    """The room at spots: along the spot's axis unless it is told as a width."""
    if not rooms:
        return _roomless(sentence, numbers)
    said: dict[tuple[str, str], list[Said]] = {}
    is_open = False
    offered: list[Choice] = []
    for one, near in _paired(sentence, rooms, spots, nearby):
        what = _direction(sentence, one, rooms, spots)
        found = [] if near is None else list(spots_of(car, near))
        first, last = _span(one, near)
        sentence.mark(one.first, one.last)
        _mark_words(sentence, one)
        if near is not None:
            sentence.mark(near.first, near.last)
        values = [round(x, 3) for x in one.values if x <= _LONGEST_MM]
        if len(found) != 1 or len(values) != 1 or what is None or _is_bounded(sentence, one):
            is_open = True
            for spot in found or all_spots(car):
                for mm in values:
                    field = what or "axial_mm"
                    offered.append(Choice({"spot": spot, field: mm}, f"{length(mm)} at {spot}"))
            continue
        says = f"{length(values[0])} of room {'across' if what == 'across_mm' else 'along'} at {found[0]}"
        stance = "yes" if is_open_ended(sentence, one) else stance_of(sentence, one.first, one.last)  # `no more than`
        said.setdefault((found[0], what), []).append(Said(values[0], first, last, says, stance))
    return _told(sentence, said, offered, is_open=is_open)


def _told(
    sentence: Sentence, said: dict[tuple[str, str], list[Said]], offered: list[Choice], *, is_open: bool
) -> Found:
    clearances: dict[str, dict[str, str | float]] = {}
    understood: list[Understood] = []
    for (spot, what), facts in said.items():
        one = settled(facts)
        if one is None or not isinstance(one.value, float):
            is_open = True
            offered += [Choice({"spot": spot, what: x.value}, x.says) for x in facts if isinstance(x.value, float)]
            continue
        clearances.setdefault(spot, {"spot": spot})[what] = one.value
        value: Value = {"spot": spot, what: one.value}
        understood.append(Understood.of(sentence, one.first, one.last, "clearances", value, one.says))
    asked = Open("clearances", "How much room is there, and at which spot?", tuple(offered[:200])) if is_open else None
    return Found(list(clearances.values()) or None, understood, asked)


def _roomless(sentence: Sentence, numbers: Sequence[Measure]) -> Found:
    """Room that is spoken of without a length: it is asked for, unless there is enough."""
    for place in sentence.places(words.ROOM | TIGHT):
        start, end = sentence.clause_of(place)
        bare = [x for x in numbers if x.kind == "bare" and start <= x.first < end]
        bare = [x for x in bare if not any(sentence.read[x.first : x.last])]
        if bare:
            sentence.mark(bare[0].first, bare[0].last)
            return Found(open=Open("clearances", "How much room is there, in which unit, and at which spot?"))
        if sentence.places(words.BUDGETS, start, end) or sentence.places(("where", "wherever"), start, place):
            continue
        if sentence.at(place) in TIGHT and sentence.places(words.PLACES, start, end):
            sentence.mark(place, place + 1)
            return Found(open=Open("clearances", "How much room is there, in mm, and at which spot?"))
        is_reason = start > 1 and not sentence.places(words.PLACES, start, end)
        if is_reason and sentence.places(words.DENIALS, *sentence.clause_of(start - 1)):
            continue  # why something is to go elsewhere: `not at the top, there's no room`
        if sentence.places(("enough", "plenty", "lots"), start, end) or not sentence.places(
            ("no", "little", "tight", "only", "not", "hardly", "limited", "less", "any", "of", "isn't", "scarce"),
            start,
            end,
        ):
            continue
        sentence.mark(place, place + 1)
        return Found(open=Open("clearances", "How much room is there, in mm, and at which spot?"))
    for one in numbers:
        is_free = (
            one.kind == "length" and not is_of_thing(sentence, one) and not any(sentence.read[one.first : one.last])
        )
        if is_free and sentence.places(words.PLACES, *sentence.clause_of(one.first)):
            sentence.mark(one.first, one.last)
            return Found(open=Open("clearances", "Is this the room at a spot?"))
    return Found()


def _paired(
    sentence: Sentence, rooms: Sequence[Measure], spots: Sequence[Spot], nearby: Sequence[Spot]
) -> Iterator[tuple[Measure, Spot | None]]:
    """Each length with the spot that it is said of: those of a clause in their order, else the nearest one."""
    for one in rooms:
        clause = sentence.words[one.first].clause
        own = [x for x in spots if sentence.words[x.first].clause == clause]
        beside = [x for x in rooms if sentence.words[x.first].clause == clause]
        if len(own) == len(beside):
            yield one, own[beside.index(one)]
        elif len(own) == 1:
            yield one, own[0]
        elif own:
            yield one, None
        else:
            start, end = sentence.clauses[clause]
            told_of = sentence.places(("where", "there", "which"), start, one.first)
            told_of += [end - 1] if "there" in (sentence.at(end - 1), sentence.at(end - 2)) else []
            among = nearby if told_of else spots
            around = (clause - 1, clause if told_of else clause + 1)
            before = [x for x in among if sentence.words[x.first].clause in around]
            before = [x for x in before if told_of and sentence.words[x.first].clause == clause] or before
            is_one = len(rooms) == 1 or len(spots) == 1
            yield one, before[0] if len(before) == 1 and is_one else None


def _span(one: Measure, near: Spot | None) -> tuple[int, int]:
    if near is None:
        return one.first, one.last
    return min(one.first, near.first), max(one.last, near.last)


def _direction(sentence: Sentence, one: Measure, rooms: Sequence[Measure], spots: Sequence[Spot]) -> str | None:
    """Along the axis or across it; None where it is told as both. Of two lengths at one spot the word behind one is
    that one's alone: `50 mm and 35 mm across`."""
    start, end = sentence.clause_of(one.first)
    across, axial = sentence.places(words.ACROSS, start, end), sentence.places(words.AXIAL, start, end)
    lengths = [x.last for x in rooms if start <= x.first < end]
    if len(lengths) > 1 and len(across) == 1 and across[0] in lengths and not axial:
        is_one_spot = sum(start <= x.first < end for x in spots) == 1
        return "across_mm" if one.last == across[0] else "axial_mm" if is_one_spot else None
    if not (across and axial):
        return "across_mm" if across else "axial_mm"
    beside = {place for place in (one.last, one.last + 1) if place in across or place in axial}
    if len(beside) != 1:
        return None
    return "across_mm" if beside & set(across) else "axial_mm"


def _mark_words(sentence: Sentence, one: Measure) -> None:
    start, end = sentence.clause_of(one.first)
    for place in sentence.places(words.ROOM | words.ROOM_MAYBE | words.ACROSS | words.AXIAL | {"air"}, start, end):
        sentence.mark(place, place + 1)
    bounds = bounds_in(sentence, one) + sentence.places(("because", "due"), start, end)
    bounds += sentence.places(("under", "below"), one.last, end)
    for place in bounds:
        last = place + 1
        while (
            last < min(end, place + _LONGEST_BOUND)
            and sentence.words[last].is_word
            and sentence.at(last) not in _NO_BOUND
        ):
            last += 1
        sentence.mark(place, last)


def _is_bounded(sentence: Sentence, one: Measure) -> bool:
    """Whether two lengths are told at once, as 60 x 40 mm, or from one to another; or less than one."""
    before, behind = sentence.at(one.first - 1), sentence.at(one.last)
    is_glued = one.first > 0 and sentence.words[one.first - 1].clause == sentence.words[one.first].clause
    before = before if is_glued or before != "-" else ""
    is_held = before == "to" and sentence.at(one.first - 2) in ("limited", "restricted", "down")
    is_two = (before in ("x", "-", "to", "by", "or", "bis") and not is_held) or behind in ("x", "by", "or")
    denied = sentence.places(words.DENIALS | {"nothing"}, sentence.clause_of(one.first)[0], one.first)
    return is_two or (is_open_ended(sentence, one) and not denied)
