"""Cars that are named but are not the one in question: one to compare with, one that was, another person's, an engine's
donor."""

from service.reading.questions import words
from service.reading.questions.asides import is_called
from service.reading.questions.sentence import Sentence

_COMPARED = words.set_of("like than as versus vs compared similar equal unlike wie")
_NOT_COMPARED = words.set_of("would 'd i'd we'd he'd she'd they'd i we he she they you well looks")
_LEFT = words.set_of(
    "sold traded scrapped wrecked crashed owned drove replaced replaces replacing formerly previously had ex"
)
_HAVE = words.set_of("have has 've i've we've he's she's could would if")
_BETWEEN = words.LIGHT | words.OUTPUT | words.set_of("my his her our old ex wife's same strong quick fast is -")
_SWAPS = words.set_of("swap swaps swapped swapping transplant transplanted transplanting transplants")
_ENGINES = words.set_of("engine motor engines motors")
_INTO = words.set_of("in into")
_GIVEN = words.set_of("a an my the our his her old another")
_FAR, _BEFORE = 6, 5


def is_compared(sentence: Sentence, first: int, after: int) -> bool:
    """Whether a car is only named to compare with: `as in the ...`, `more than a ... has`. `after`: the word behind the
    car that is named before it."""
    start, _ = sentence.clause_of(first)
    for place in range(first - 1, max(start, after, first - _FAR) - 1, -1):
        if sentence.at(place) in _COMPARED:
            return not (sentence.at(place - 1) in _NOT_COMPARED or sentence.at(place + 1) == "well")
        if sentence.at(place) not in _BETWEEN and not is_called(sentence.at(place)):
            return False
    return False


def is_left(sentence: Sentence, first: int, after: int) -> bool:
    """Whether a car is told of as one that was: `sold the ...`, `used to drive a ...`, `instead of the ...`."""
    start, _ = sentence.clause_of(first)
    for place in range(first - 1, max(start, after, first - _BEFORE) - 1, -1):
        word, before = sentence.at(place), sentence.at(place - 1)
        if word in _LEFT and before not in _HAVE:
            return True
        if (before, word) in (("used", "to"), ("instead", "of"), ("rid", "of"), ("came", "from"), ("coming", "from")):
            return True
    return False


def is_of_others(sentence: Sentence, first: int, after: int) -> bool:
    """Whether a car is another person's: `my brother's ...`, `a friend has a ...`."""
    start, _ = sentence.clause_of(first)
    near = range(first - 1, max(start, after, first - _BEFORE) - 1, -1)
    return any(is_called(sentence.at(x)) and sentence.at(x - 1) != "for" and sentence.at(x - 2) != "for" for x in near)


def is_donor(sentence: Sentence, first: int, last: int) -> bool:
    """Whether a name may be that of an engine alone, which goes into another car: `a ... engine in my old ...`."""
    start, end = sentence.clause_of(first)
    if sentence.places(_SWAPS, start, end):
        return True
    behind = last + (sentence.at(last) in _ENGINES)
    if sentence.at(behind) in _INTO and sentence.at(behind + 1) in _GIVEN and (behind > last or _is_engine(sentence, first)):
        return True
    before = [sentence.at(x) for x in range(max(start, first - 4), first)]
    return any(x in _ENGINES and y in ("from", "out", "off", "of") for x, y in zip(before, before[1:], strict=False))


def _is_engine(sentence: Sentence, first: int) -> bool:
    return sentence.at(first - 1) in _ENGINES
