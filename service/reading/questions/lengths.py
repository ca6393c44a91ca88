"""What the lengths of a question tell: room at a spot, how long a hose is, how wide it is."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.reading.questions import words
from service.reading.questions.measures import Measure
from service.reading.questions.sentence import Sentence


@dataclass(frozen=True, slots=True)
class Lengths:
    """The lengths of a text by what they tell: room at a spot, how long a hose is, how wide it is."""

    rooms: tuple[Measure, ...]
    hoses: tuple[Measure, ...]
    sizes: tuple[Measure, ...]


_SHORT = 6
_THINGS = words.GAUGES | words.KINDS.keys() | words.RAILS | words.set_of("port ports spot boss bosses")
_IS = words.set_of("is are was were")
_STANDING = _IS | words.set_of("stands stand sticks stick protrudes protrude projects sits sit measures")
_BOUNDS = words.set_of("between until till front above over height deep depth")
"""What says that a length ends where something else is."""
_HITTING = words.set_of("it you we something anything")
_ON = words.set_of("at on of in to above over before until till between for there")
_NO_THING = _ON | words.ROOM | words.LIGHT | words.SAYS_NOTHING | words.PLACES.keys() | words.JOINS | words.BREAKS
_LEFT_TO = words.set_of("us me you only just about you'd with a bare mere")
_IT = words.set_of("it it's which that's length")
_MOST_MM = 500
"""More is hardly room at a spot, where it is not called so."""
_WIDEST_MM, _WIDEST_ALONE_MM, _SHORTEST_MM = 42.0, 26.0, 95.0
_OF_HOSE = words.set_of(
    "feed return hose line pipe tube ring loop bore id an jic own centre center middle side through fed schlauch bank "
    "banks circuit"
)

_ROUND = words.phrases_of("there and back, through and back, out and back, in and back")


def lengths_in(sentence: Sentence, measures: Sequence[Measure], widths: frozenset[float]) -> Lengths:
    """Which lengths tell what, by the words of their clauses. `widths`: what the hoses of layouts are called by."""
    rooms: list[Measure] = []
    hoses: list[Measure] = []
    sizes: list[Measure] = []
    beside: list[Measure] = []
    last_room = -2
    for one in measures:
        if one.kind != "length" or any(sentence.read[one.first : one.last]) or is_of_thing(sentence, one):
            continue
        start, end = sentence.clause_of(one.first)
        clause = sentence.words[one.first].clause
        has_room = bool(sentence.places(words.ROOM, start, end)) or _is_left_free(sentence, one)
        has_place = bool(sentence.places(words.PLACES, start, end) or sentence.places(words.SIDE, start, end))
        may_room = bool(sentence.places(words.ROOM_MAYBE | words.ACROSS, start, end)) and has_place
        has_room = has_room or (has_place and _is_bounded(sentence, one))
        has_room = has_room or (has_place and _goes_on(sentence, clause))
        has_hose = bool(sentence.places(words.HOSES | words.FEEDS | words.RETURNS, start, end))
        if (
            has_room
            or (may_room and not has_hose)
            or (last_room == clause - 1 and (has_place or sentence.places(words.ACROSS, start, end)) and not has_hose)
        ):
            last_room = clause
            rooms.append(one)
        elif (
            max(one.values) <= (_WIDEST_MM if has_hose else _WIDEST_ALONE_MM)
            and (
                has_hose
                or sentence.places(_OF_HOSE, start, end)
                or (one.values[0] in widths and not has_place)
                or any(start <= x < end for x, _ in sentence.phrases(_ROUND))
            )
            and not _is_long(sentence, one)
        ):
            sizes.append(one)
        elif sentence.places(words.LINKS, start, end):
            continue  # a link's length is the part's own
        elif min(one.values) >= _SHORTEST_MM and (has_hose or _is_hose_beside(sentence, one)):
            hoses.append(one)
        elif has_place:
            beside.append(one)
    clauses = {sentence.words[x.first].clause for x in rooms}
    rooms += [x for x in beside if not clauses.isdisjoint(sentence.words[x.first].clause + y for y in (0, 1))]
    return Lengths(tuple(sorted(rooms, key=lambda x: x.first)), tuple(hoses), tuple(sizes))


def _is_left_free(sentence: Sentence, one: Measure) -> bool:
    """Whether a length is told as air or as what something leaves: `leaves us 25 mm above`, `35 mm of air`."""
    if (sentence.at(one.last), sentence.at(one.last + 1)) == ("of", "air"):
        return True
    place = one.first - 1
    while sentence.at(place) in _LEFT_TO:
        place -= 1
    is_there = sentence.at(place) == "there's" or (sentence.at(place - 1), sentence.at(place)) == ("there", "is")
    return sentence.at(place) in ("leaves", "leaving") or is_there


def is_of_thing(sentence: Sentence, one: Measure) -> bool:
    """Whether a length is that of a port or a part itself: `the top port stands 30 mm proud`."""
    start, end = sentence.clause_of(one.first)
    behind = sentence.at(one.last + 1)
    if sentence.at(one.last) in words.ACROSS | words.AXIAL and behind.isalpha() and behind not in _NO_THING:
        return True
    standing = sentence.places(_STANDING, start + 1, one.first)
    if not standing or sentence.places(words.ROOM, start, end):
        return False
    is_ours = any(sentence.at(x - 1) in _THINGS for x in standing)
    return is_ours or not ({sentence.at(x) for x in standing} <= _IS or sentence.at(one.last) in _ON)


def bounds_in(sentence: Sentence, one: Measure) -> list[int]:
    """Where the clause of a length tells of what ends it: `before it hits`, `from ... to`, `between ... and`."""
    start, end = sentence.clause_of(one.first)
    found = sentence.places(_BOUNDS, start, end)
    found += [x for x in sentence.places(("before",), start, end) if sentence.at(x + 1) in _HITTING]
    found += [one.last] if sentence.at(one.last) == "before" and sentence.at(one.last + 1) in ("the", "my", "a") else []
    if found and sentence.at(found[0]) == "between":
        found += sentence.places(("and",), found[0], end)
    if sentence.at(one.last) == "to" and sentence.at(one.last + 1) in ("the", "my", "a"):
        led_to = sentence.at(one.last + 2)  # `8 mm to the side` is a hose
        found += [one.last] if led_to not in words.PLACES and led_to not in words.SIDE | words.RAILS else []
    begun = sentence.places(("from",), start, end)
    return found + (sentence.places(("to",), begun[0], end) if begun else [])


def _is_bounded(sentence: Sentence, one: Measure) -> bool:
    """Whether a length is told by what ends it, or by who has it: `at the top I have 38 mm`."""
    start, end = sentence.clause_of(one.first)
    if sentence.places(words.HOSES | words.FEEDS | words.LINKS, start, end):
        return False
    place = one.first - 1
    while sentence.at(place) in _LEFT_TO:
        place -= 1
    is_end = not sentence.at(one.last).isalpha() or sentence.at(one.last) in ("at", "on")
    is_had = is_end and max(one.values) <= _MOST_MM and sentence.at(place) in ("have", "got", "has")
    return is_had or bool(bounds_in(sentence, one))


def _goes_on(sentence: Sentence, clause: int) -> bool:
    """Whether a clause only tells a spot and a length behind one that speaks of room: `left port 50 mm`."""
    start, end = sentence.clauses[clause]
    return bool(clause and end - start <= _SHORT and sentence.places(words.ROOM, *sentence.clauses[clause - 1]))


def _is_long(sentence: Sentence, one: Measure) -> bool:
    return sentence.at(one.last) in words.LENGTHS


def _is_hose_beside(sentence: Sentence, one: Measure) -> bool:
    clause = sentence.words[one.first].clause
    if clause == 0:
        return False
    start, end = sentence.clauses[clause - 1]
    own_start, own_end = sentence.clauses[clause]
    if own_end - own_start > _SHORT + 2:
        return False
    if (sentence.at(one.last), sentence.at(one.last + 1)) == ("of", "it"):
        start = sentence.clauses[max(clause - 3, 0)][0]
    is_it = sentence.at(own_start) in _IT and bool(sentence.places(words.LENGTHS, own_start, own_end))
    if is_it and clause > 1:
        start = sentence.clauses[clause - 2][0]
    return bool(sentence.places(words.HOSES, start, end))
