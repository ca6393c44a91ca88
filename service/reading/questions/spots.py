"""Where a question says that something is: spots of the rail, and what each of them is said of."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from service.reading.questions import words
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

Anchor = Literal["gauge", "room", "layout"]
_CROSSED = words.set_of("and with without but plus & or so then hence therefore")
_CROSSING = 5
_LEADING = words.set_of("on at to in the a its - is goes")
_INSTEAD = words.set_of("better rather but instead prefer preferably")
_IT = words.set_of("it that one them")
_SAYS_NOTHING = words.LIGHT | words.SAYS_NOTHING | words.PLACES.keys()
_PUTS = words.set_of(
    "put fit mount place set screw install stick have want need like take leave get keep goes go must should shall "
    "can could may will has sits sit belongs moves move can't cannot mustn't won't shouldn't"
)
"""What tells with `it` beside it where something is to be put."""
_SHORT, _ALONE, _BACK = 6, 3, 3
_BANK_REACH = 5
_BEGINS = words.set_of("so then now it's i we i've we've here's here what")
"""What goes on behind `right` where that only begins to speak."""
_OF_OTHER_ENDS = words.set_of("quick connect connector hose flare dead rear front week month")
_LEFT_SO = words.set_of("over lying in from alone untouched unchanged unmodified standard stock original out off")
"""What tells behind `left` that something stays, or is left out."""
_HAD = words.set_of("have has nothing any still i've been we none")
"""What stands before `left` where that tells what there is."""
_FIRST, _SECOND = ("1", "one", "first", "1st"), ("2", "two", "second", "2nd")


@dataclass(frozen=True, slots=True)
class Spot:
    """A place that is named: left, right, centre, top; side: one of both ends; ends: both. `bank` 0: not told."""

    place: str
    bank: int
    first: int
    last: int


def spots_in(sentence: Sentence, taken: Sequence[bool]) -> list[Spot]:
    """The places that a text names, names of things left out."""
    found: list[Spot] = []
    place = 0
    while place < len(sentence.words):
        one = None if taken[place] else _spot_at(sentence, place)
        if one is not None:
            found.append(one)
        place = one.last if one is not None else place + 1
    return found


def mark_banks(sentence: Sentence, spots: Iterable[Spot]) -> None:
    """Take the banks that are named beside spots as read."""
    for spot in spots:
        start, end = sentence.clause_of(spot.first)
        for at in sentence.places(("bank",), start, end) if spot.bank else ():
            if bank_number(sentence, at) == spot.bank:
                is_behind = sentence.at(at + 1) in (*_FIRST, *_SECOND)
                sentence.mark(at if is_behind else max(at - 1, start), min(at + 2, end) if is_behind else at + 1)


def _spot_at(sentence: Sentence, place: int) -> Spot | None:
    word = sentence.at(place)
    if word in words.PLACES:
        if _is_no_place(sentence, place):
            return None
        first, bank = place, _bank(sentence, place)
        if sentence.at(place - 1) == "." and sentence.at(place - 2) in ("1", "2") and sentence.is_glued(place):
            first, bank = place - 2, int(sentence.at(place - 2))
        last = place + 1
        while sentence.at(last) in ("-", "hand", "side", "end", "most", "port", "spot") and last < len(sentence.words):
            last += 1
        return Spot(words.PLACES[word], bank, first, last)
    if word in ("side", "sides", "end", "ends", "seite"):
        return _side(sentence, place)
    return None


def _side(sentence: Sentence, place: int) -> Spot | None:
    before = sentence.at(place - 1)
    is_no_end = (
        before in ("the", "this", "by")
        and sentence.at(place - 2) in ("in", "at", "by", "to")
        and sentence.at(place + 1) in ("of", "i", "we", "it")
    )
    if (is_no_end and sentence.at(place + 2) not in ("the", "rail")) or sentence.at(place + 1) in (
        "up",
        "user",
        "result",
    ):
        return None
    if sentence.at(place) == "end" and before in _OF_OTHER_ENDS:
        return None
    if sentence.at(place) == "side" and before in ("fuel", "cost", "money"):
        return None
    is_both = before in ("both", "each", "two") or (before == "the" and sentence.at(place - 2) == "both")
    is_both = is_both or (sentence.at(place) in ("ends", "sides") and before != "the")
    return Spot(
        "ends" if is_both else "side",
        _bank(sentence, place),
        place - (before in ("both", "each", "a", "one")),
        place + 1,
    )


def _is_no_place(sentence: Sentence, place: int) -> bool:
    word, before, behind = sentence.at(place), sentence.at(place - 1), sentence.at(place + 1)
    if word == "right":
        start, _ = sentence.clause_of(place)
        if place == start and behind == "," and sentence.at(place + 2) in _BEGINS:
            return True
        if before == "the" and behind in ("so", "then", "now"):
            return False
        is_so = before in ("all", "that's", "alright", "you're") or (
            before in ("is", "that", "this") and behind in ("?", "")
        )
        return is_so or behind in ("away", "now", "then", "so", "into", "parts", "part", "one", "thing", "rail")
    if word == "left":
        is_so = behind in _LEFT_SO or (behind == "as" and sentence.at(place + 2) in ("it", "is"))
        return is_so or before in _HAD or (before == "one" and sentence.at(place - 2) in ("there's", "is"))
    if word == "top":
        return (
            (before, behind) == ("on", "of") and sentence.at(place + 2) in ("that", "this", "it", "all")
        ) or behind in ("quality", "up", "speed", "notch")
    if word in ("mid", "middle"):
        return (behind == "of" and sentence.at(place + 2) in ("week", "next", "june", "july", "may")) or sentence.at(
            place + 2
        ) == "engine"
    return behind in ("bank", "banks")


def _bank(sentence: Sentence, place: int) -> int:
    """The bank that is named beside a place, 0 where none is."""
    start, end = sentence.clause_of(place)
    best, nearest = 0, _BANK_REACH + 1
    for at in sentence.places(("bank",), max(start, place - _BANK_REACH), min(end, place + _BANK_REACH + 1)):
        told = bank_number(sentence, at)
        if told and abs(at - place) < nearest:
            best, nearest = told, abs(at - place)
    if not best and len(sentence.places(words.PLACES, start, end)) == 1:
        named = {bank_number(sentence, at) for at in sentence.places(("bank",), start, end)}
        best = named.pop() if len(named) == 1 else 0
    return best


def bank_number(sentence: Sentence, bank: int) -> int:
    """The number of a bank that is named at a place, 0 where none is told."""
    for near in (sentence.at(bank + 1), sentence.at(bank - 1)):
        if near in _FIRST:
            return 1
        if near in _SECOND:
            return 2
    return 2 if sentence.at(bank - 1) == "nd" else 1 if sentence.at(bank - 1) == "st" else 0


def attributed(
    sentence: Sentence, spots: Iterable[Spot], anchors: Mapping[Anchor, Sequence[int]]
) -> dict[Anchor | None, list[Spot]]:
    """What each spot is said of: the nearest anchor of its clause, else of the clause before."""
    told: dict[Anchor | None, list[Spot]] = {"gauge": [], "room": [], "layout": [], None: []}
    by_clause: dict[int, list[tuple[int, Anchor]]] = {}
    for anchor, places in anchors.items():
        for place in places:
            by_clause.setdefault(sentence.words[place].clause, []).append((place, anchor))
    for spot in spots:
        clause = sentence.words[spot.first].clause
        own = by_clause.get(clause, [])
        if own:
            told[min(own, key=lambda one: _distance(sentence, spot, one[0]))[1]].append(spot)
            continue
        told_of = range(*sentence.clauses[clause])
        size = sum(not sentence.cars[x] and (sentence.words[x].is_word or sentence.words[x].is_number) for x in told_of)
        is_joined = sentence.at(told_of.start) in ("and", "but", "so")
        previous = clause - 1
        while previous > 0 and _is_reply(sentence, *sentence.clauses[previous]):
            previous -= 1
        before = by_clause.get(previous, []) if size <= _SHORT or is_joined else []
        if sentence.places(words.REGULATORS, told_of.start, spot.first):
            told[None].append(spot)
            continue
        instead = _told_instead(sentence, spot, told) or _taken_up(sentence, spot, by_clause)
        if instead is not None:
            told[instead].append(spot)
            continue
        behind = by_clause.get(clause + 1, []) if size <= _ALONE and not before else []
        told[max(before)[1] if before else min(behind)[1] if behind else None].append(spot)
    return told


def _is_reply(sentence: Sentence, start: int, end: int) -> bool:
    """Whether a clause only says yes to what was asked before."""
    told = [sentence.at(x) for x in range(start, end) if sentence.words[x].is_word]
    return bool(told) and words.YES.issuperset(told)


def _told_instead(sentence: Sentence, spot: Spot, told: Mapping[Anchor | None, Sequence[Spot]]) -> Anchor | None:
    """What a spot is said of where another one is denied soon before it: `not at the top, no room, better right`."""
    start, _ = sentence.clause_of(spot.first)
    if not sentence.places(_INSTEAD, start, spot.first):
        return None
    clause = sentence.words[start].clause
    for anchor, spots in told.items():
        near = (x for x in spots if 0 < clause - sentence.words[x.first].clause <= _BACK)
        if anchor is not None and any(stance_of(sentence, x.first, x.last) == "no" for x in near):
            return anchor
    return None


def _taken_up(sentence: Sentence, spot: Spot, anchors: Mapping[int, Sequence[tuple[int, Anchor]]]) -> Anchor | None:
    """What a spot is said of by `it` and where that is to be put: the last thing told that can be put anywhere, past
    what is told of room: `a gauge, but there are 30 mm at the top, so put it on the right`."""
    start, _ = sentence.clause_of(spot.first)
    if not any(_PUTS & {sentence.at(x - 1), sentence.at(x + 1)} for x in sentence.places(_IT, start, spot.first)):
        return None
    clause = sentence.words[start].clause
    for number in range(clause - 1, max(clause - _BACK, 0) - 1, -1):
        if things := [one for one in anchors.get(number, ()) if one[1] != "room"]:
            return max(things)[1]
        odd = [x for x in range(*sentence.clauses[number]) if sentence.words[x].is_word and not sentence.read[x]]
        if number not in anchors and any(sentence.at(x) not in _SAYS_NOTHING for x in odd):
            return None  # `it` may be what is told of there
    return None


def _distance(sentence: Sentence, spot: Spot, anchor: int) -> float:
    first, last = (anchor + 1, spot.first) if anchor < spot.first else (spot.last, anchor)
    if anchor < spot.first and all(sentence.at(x) in _LEADING for x in range(first, last)):
        return 0.0  # as in `gauge on the left`
    crossed = sum(_CROSSING for x in range(first, last) if sentence.at(x) in _CROSSED)
    return abs(last - first) + crossed + (0.0 if anchor < spot.first else 0.6)
