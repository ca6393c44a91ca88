"""Words about something else than the car in question: another person's car, another one, or what was before."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from service.reading.questions import words
from service.reading.questions.sentence import Sentence

_PEOPLE = words.set_of(
    "friend friends mate mates buddy buddies pal neighbour neighbours neighbor brother brothers sister father dad "
    "mother mum son daughter uncle cousin wife husband girlfriend boyfriend partner colleague colleagues boss bloke "
    "guy guys chap chaps lad lads rival rivals fellow student apprentice forum club magazine video teammate "
    "tuner mechanic salesman seller dealer instructor racer"
)
_OF_THE_HOUSE = words.set_of("father dad mother mum son daughter wife husband girlfriend boyfriend partner boss")
"""Whose wish may be the wish of who asks."""
_ANYONE = words.set_of("someone somebody everybody everyone others people theirs")
_BELONGS = words.set_of("my our his her their a an the one of your some another most many two other")
_HAVING = words.set_of(
    "has had have having runs ran run running makes made make drives drove drive uses used use put puts gets got "
    "fitted fits built bought went goes did does was were is are with claims pushes pushed took needed wanted paid "
    "spent 's keeps kept loves likes prefers swears"
)
_THINGS = words.set_of("car cars engine motor van truck wagon one ones rail build project setup set-up kit job order")
_WERE = words.set_of("was were had made ran used did came cost got went took wanted needed has is runs makes")
_EARLIER = words.set_of("last previous former prior earlier old first")
_OTHER = words.set_of("other another second next")
_OWN = words.set_of("mine ours mine's ours's")
_OWN_VERBS = words.set_of("is has makes runs should needs only wants does will isn't hasn't must stays gets would can")
_SPEAKERS = words.set_of("i we i'm i've i'd i'll we're we've we'd we'll")
_WISHES = words.set_of(
    "want have drive need run own am would 'd like plan keep prefer only just now got aim wish 've 'm"
)
_GOES_ON = words.set_of("he she they his her their its it")
_WHERE = words.set_of("in on for at aboard inside")
_FAR = 4


@dataclass(frozen=True, slots=True)
class _Mark:
    """A place from which words are about a thing of one's own, or of another."""

    place: int
    whose: Literal["own", "other"]
    is_weak: bool = False
    """Whether it is about another only beside a thing of one's own where a car is named with it."""


def asides_in(sentence: Sentence, cars: Sequence[bool]) -> tuple[frozenset[int], frozenset[int], bool]:
    """Which words are about another car, which of them are surely of it alone, and whether the car in question is told
    apart from it; `cars`: their names."""
    marks = sorted(_marks(sentence, cars), key=lambda x: x.place)
    others = [x for x in marks if x.whose == "other"]
    if not others:
        return frozenset(), frozenset(), False
    spans = list(_spans(sentence, marks))
    weak = {x for first, last, is_weak in spans for x in range(first, last) if is_weak and any(cars[first:last])}
    told = {x for first, last, _ in spans for x in range(first, last)}
    is_apart = any(x.whose == "own" and x.place not in weak for x in marks)
    is_apart = is_apart or any(named and place not in weak for place, named in enumerate(cars))
    is_mine = any(sentence.at(x.place) in _OWN for x in marks if x.whose == "own")
    told = told if is_apart else told - weak
    clauses = [sentence.clause_of(x.place) for x in others]
    sure = [span for x, span in zip(others, clauses, strict=True) if not x.is_weak or any(cars[slice(*span)])]
    return frozenset(told), frozenset(x for span in sure for x in range(*span) if x in told), is_mine


def _spans(sentence: Sentence, marks: Sequence[_Mark]) -> Iterator[tuple[int, int, bool]]:
    """From where to before where words are about another car: to one's own again, or to the end of the sentence."""
    begins = [_begin(sentence, marks, number) for number in range(len(marks))]
    for one, begin, end in zip(marks, begins, [*begins[1:], len(sentence.words)], strict=True):
        if one.whose == "other":
            yield begin, _last_of(sentence, one.place, end), one.is_weak


def _begin(sentence: Sentence, marks: Sequence[_Mark], number: int) -> int:
    """Where words begin to be about what a mark tells of: with its clause, or behind the mark before it."""
    one = marks[number]
    if one.whose == "own":
        return one.place
    start, _ = sentence.clause_of(one.place)
    return max(start, marks[number - 1].place + 1) if number else start


def _last_of(sentence: Sentence, place: int, end: int) -> int:
    """The word behind the sentence and behind those that go on about the same (`He has ...`), but before another."""
    number = sentence.words[place].sentence
    if _is_anecdote(sentence, *sentence.clause_of(place)):
        return min(end, sentence.clause_of(place)[1])
    while place < end:
        word = sentence.words[place]
        if word.sentence != number:
            if word.text not in _GOES_ON:
                break
            number = word.sentence
        place += 1
    return place


def _is_anecdote(sentence: Sentence, start: int, end: int) -> bool:
    """Whether a clause right behind the name of a car tells nothing of a car: `NAME, my dad did the brakes, ...`."""
    first = sentence.clause_of(start - 1)[0] if start else start
    is_behind = any(sentence.cars[first:start]) and sentence.at(start - 1) == ","
    is_read = any(sentence.read[start:end]) or any(sentence.words[x].is_number for x in range(start, end))
    return is_behind and not is_read and not sentence.places(_HAVING - {"did"}, start, end)


def _marks(sentence: Sentence, cars: Sequence[bool]) -> Iterator[_Mark]:
    for place, word in enumerate(sentence.words):
        text = word.text
        if text in _OWN and _is_subject(sentence, place):
            yield _Mark(place, "own")
            yield from _compared(sentence, place)
        elif (text in _SPEAKERS and _speaks(sentence, place)) or (
            text in ("my", "our", "this") and sentence.at(place + 1) in _THINGS
        ):
            yield _Mark(place, "own")
        elif (
            text in ("converted", "nowadays") or (text == "now" and _is_since(sentence, place))
        ) and not sentence.places(("used",), sentence.clause_of(place)[0], place):
            yield _Mark(sentence.clause_of(place)[0], "own")
        elif _is_earlier(sentence, place):
            yield _Mark(place, "other")
        elif _is_person(sentence, place):
            yield _Mark(place, "other", is_weak=True)
        elif cars[place] and not (place and cars[place - 1]) and _is_told_first(sentence, place):
            yield _Mark(place, "own")


def _is_since(sentence: Sentence, now: int) -> bool:
    """Whether it is told before, in its sentence, how things used to be, and the clause tells of no other person."""
    start, end = sentence.clause_of(now)
    used = [x for x in sentence.places(("used",), max(0, now - 40), now) if sentence.at(x + 1) == "to"]
    is_of_it = used and sentence.words[used[-1]].sentence == sentence.words[now].sentence
    return bool(is_of_it) and not any(is_called(sentence.at(x)) for x in range(start, end))


def _compared(sentence: Sentence, place: int) -> Iterator[_Mark]:
    """What stands before `mine is ...` in its sentence is about another's."""
    start, _ = sentence.clause_of(place)
    number = sentence.words[place].sentence
    told = [x for x in range(max(0, start - 40), place) if sentence.words[x].sentence == number]
    having = [x for x in told if sentence.at(x) in _HAVING]
    if having and not any(sentence.at(x) in _SPEAKERS for x in told):
        yield _Mark(told[0], "other")


def _is_subject(sentence: Sentence, place: int) -> bool:
    is_told = sentence.at(place + 1) in _OWN_VERBS or sentence.at(place).endswith("'s")
    return is_told and sentence.at(place - 1) not in ("of", "is", "like", "than", "as")


def _speaks(sentence: Sentence, place: int) -> bool:
    """Whether somebody tells of his own: `I want`, `we've`; not `I have a mate who`."""
    behind = [sentence.at(x) for x in range(place + 1, place + _FAR + 1)]
    if any(is_called(x) for x in behind):
        return False
    is_so = sentence.at(place - 2) == "so" and sentence.at(place - 1) in ("will", "do", "shall")
    return is_so or "'" in sentence.at(place) or behind[0] in _WISHES or behind[1] in _WISHES


def _is_told_first(sentence: Sentence, place: int) -> bool:
    """Whether the name of a car opens its clause, alone or behind a few small words."""
    start, _ = sentence.clause_of(place)
    return place - start <= _FAR and not any(
        is_called(sentence.at(x)) or sentence.at(x) in (*_EARLIER, *_OTHER, *_WERE) for x in range(start, place)
    )


def is_called(text: str) -> bool:
    """Whether a word calls another person, or what is his."""
    return text.removesuffix("'s").removesuffix("'") in _PEOPLE or text in _ANYONE


def _is_person(sentence: Sentence, place: int) -> bool:
    """Whether another person's thing is told of here, or that he has one: `my mate's`, `a friend runs`."""
    text = sentence.at(place)
    if not is_called(text):
        return False
    start, end = sentence.clause_of(place)
    near = [sentence.at(x) for x in range(max(start, place - _FAR), place)]
    if "for" in near or sentence.at(place + 1) in ("wants", "here"):
        return False
    if sentence.at(place + 1) in ("else's", "elses") and sentence.at(place + 2) in words.RAILS:
        return False  # who made the rail
    if text not in _ANYONE and not any(x in _BELONGS for x in near):
        return False
    behind = [sentence.at(x) for x in range(place + 1, min(end, place + _FAR + 2))]
    if "of" in near[-2:-1] and _is_within(sentence, start, place - 2) and _HAVING.isdisjoint(behind):
        return False
    if "would" in behind[:2] and text not in _OF_THE_HOUSE:
        return True
    return text.endswith("'s") or text == "theirs" or any(x in _HAVING for x in behind) or _is_of(near)


def _is_within(sentence: Sentence, start: int, of: int) -> bool:
    """Whether what is told to be a person's is where or what for something is: `in the boat of my cousin's club`."""
    return any(sentence.at(x) in _WHERE for x in range(max(start, of - _FAR), of - 1))


def _is_of(near: Sequence[str]) -> bool:
    """Whether a thing is told to be a person's, as in `the car of my wife`."""
    return near[-2:-1] == ["of"] and near[-1] != "your" and near[-3:-2] != ["one"]


def _is_earlier(sentence: Sentence, place: int) -> bool:
    """Whether another car or an earlier state is told of here: `my last car was`, `it used to have`."""
    text, behind = sentence.at(place), sentence.at(place + 1)
    if (text == "used" and behind == "to") or text in ("previously", "formerly"):
        return True
    if text == "before" and behind in ("i", "we", "that", "it", "you", "the", "this"):
        return behind in ("i", "we", "it") and sentence.at(place + 2) in ("had", "drove", "ran", "was", "made")
    if text in ("customer", "owner", "one", "car") and behind == "before":
        return True
    if text in _EARLIER and (behind in ("owner", "customer") or sentence.at(place + 2) in ("owner", "customer")):
        return True
    _, end = sentence.clause_of(place)
    following = [sentence.at(x) for x in range(place + 1, min(end, place + _FAR + 2))]
    if text in _OTHER and any(x in _THINGS for x in following[:2]):
        return any(x in _WERE for x in following)
    if text in _EARLIER and any(x in _THINGS for x in following[:2]):
        return any(x in ("was", "were", "had", "made", "ran", "cost", "did", "used") for x in following)
    return False
