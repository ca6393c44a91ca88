"""The gauge and the room at spots."""

from collections.abc import Iterable, Iterator, Sequence

from service.domain.units import length
from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Stance, Understood, Value, choices_of, settled
from service.reading.questions.lengths import bounds_in, is_of_thing
from service.reading.questions.lexicon import Car
from service.reading.questions.measures import Measure, is_open_ended
from service.reading.questions.sentence import Sentence
from service.reading.questions.spots import Spot, bank_number
from service.reading.questions.stance import stance_of
from service.reading.questions.units import CURRENCIES

_ANYWHERE = words.set_of("anywhere wherever any somewhere whichever")
_TIGHT = words.set_of("tight obstructed blocked cramped")
_FOR_NOW = words.phrases_of(
    "so far, yet, at the moment, currently, right now, at present, until now, till now, up to now, momentarily, bisher"
)
_ORDER = ("left", "centre", "right", "top")
_PORTS = words.set_of("spot spots port ports boss position")
_SHORT = 4
_LONGEST_MM = 10_000
_LONGEST_BOUND = 7
_NO_BOUND = (
    words.PLACES.keys() | words.DENIALS | words.DOUBTS | words.GAUGES | words.BLOWN | words.BREAKS | {"or", "and"}
)
"""What ends the words for that at which a room ends."""


def gauges_in(sentence: Sentence, taken: Sequence[bool]) -> list[int]:
    """Where a gauge of the rail is spoken of, that is not the name of a part; those of other things tell nothing."""
    places = [x for x in sentence.places(words.GAUGES) if not taken[x]]
    others = [x for x in places if is_other_gauge(sentence, x)]
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
        at_spots = [x for x in spots if x.last == place]
        if len(gauges) > 1 and any(stance_of(sentence, x.first, x.last) == "no" for x in at_spots):
            sentence.mark(place, place + 1)
            continue  # `no top gauge` beside another one
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
        if stance == "yes" and sentence.places(_TIGHT, *sentence.clause_of(spot.first)):
            stance = "doubt"
        is_vague = is_vague or (len(found) != 1 and stance != "no")
        sentence.mark(spot.first, spot.last)
        said += [Said(x, spot.first, spot.last, f"gauge at {x}", stance) for x in found]
    for place in sentence.places(_ANYWHERE):
        if any(sentence.words[place].sentence == sentence.words[one].sentence for one in gauges) and not spots:
            sentence.mark(place, place + 1 + (sentence.at(place + 1) in _PORTS))
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
    start += sentence.at(start) in words.JOINS
    is_figure = sentence.words[start].is_number or sentence.at(start) in words.NUMBERS
    behind = start + 1 + (sentence.at(start + 1) in ("more", "extra", *CURRENCIES))
    is_priced = (is_figure and sentence.at(behind) == "with") or sentence.places(("than",), start, place)
    return "doubt" if is_priced else stance


def _is_of_spot(sentence: Sentence, gauges: Sequence[int], spots: Sequence[Spot]) -> bool:
    """Whether the denial behind a gauge is of the spot behind it: `a gauge, not at the top`."""
    denied = [x.first for x in spots if stance_of(sentence, x.first, x.last) == "no"]
    behind = [sentence.places(words.DENIALS, gauge, spot) for gauge in gauges for spot in denied if spot > gauge]
    return any(behind) and not any(_denial_before(sentence, x) < x for x in gauges)


def is_other_gauge(sentence: Sentence, place: int) -> bool:
    """Whether a gauge is of something else than the rail: `boost gauge`."""
    return bool(sentence.places(words.OTHER_GAUGES, max(place - 2, sentence.clause_of(place)[0]), place))


def _is_for_now(sentence: Sentence, place: int) -> bool:
    """Whether what is told is only how things are now: `no gauge on it so far`."""
    start, end = sentence.clause_of(place)
    return any(start <= first < end for first, _ in sentence.phrases(_FOR_NOW))


def _is_where(sentence: Sentence, gauge: int) -> bool:
    """Whether it is asked where the gauge is to be: `a gauge, but where?`."""
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
        what = _direction(sentence, one)
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
    for place in sentence.places(words.ROOM | _TIGHT):
        start, end = sentence.clause_of(place)
        bare = [x for x in numbers if x.kind == "bare" and start <= x.first < end]
        bare = [x for x in bare if not any(sentence.read[x.first : x.last])]
        if bare:
            sentence.mark(bare[0].first, bare[0].last)
            return Found(open=Open("clearances", "How much room is there, in which unit, and at which spot?"))
        if sentence.places(words.BUDGETS, start, end):
            continue
        if sentence.at(place) in _TIGHT and sentence.places(words.PLACES, start, end):
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


def _direction(sentence: Sentence, one: Measure) -> str | None:
    """Along the axis or across it; None where it is told as both."""
    start, end = sentence.clause_of(one.first)
    across, axial = sentence.places(words.ACROSS, start, end), sentence.places(words.AXIAL, start, end)
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
