"""The finish of a rail and of its parts."""

from collections.abc import Iterator, Sequence
from itertools import takewhile

from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.asides import is_called
from service.reading.questions.facts import Choice, Found, Open, Said, Understood, choices_of, settled
from service.reading.questions.having import is_had
from service.reading.questions.names import NameFinder
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of
from service.reading.questions.terms import terms_of

_LONGEST_WHY = 7
_GIVEN = words.set_of("a an the my our his her this")
_FINISHES = words.set_of("finish finishes colour color colours colors")
_WISHED = words.set_of("love like want wants need needs wish prefer fancy")
_HUES = words.set_of("black white red blue green yellow orange purple pink grey gray brown")
_SHADING = words.COLOURS | {"-", "coloured", "colored", "painted", "metallic", "finish"}
"""What may stand between a colour and the car that has it."""
_IT = words.set_of("it them that these those everything")
_MADE = words.set_of("make do have get like love want need prefer supply send order finish")
_MATCHING = words.set_of("match matching matches suit suiting complement go")
_NO_WHY = words.COLOURS | words.GAUGES | words.BREAKS | words.DENIALS | words.DOUBTS | {"or", "and", "if", "max"}
_NO_NOUN = frozenset().union(
    *(words.LIGHT, words.SAYS_NOTHING, words.FINISH_OF, words.COLOURS, words.JOINS, words.BREAKS, words.PLACES),
    *(words.DENIED_BEHIND, words.KINDS, words.OF_CAR, words.BUDGETS, words.GAUGES, words.BLOWN, words.HAVE_BEHIND),
    words.set_of("under everywhere throughout version versions variant"),
)
"""What may follow a colour that is not said of it."""


class FinishReader:
    """Finds the finishes of a catalog in a text. Safe to share by threads."""

    def __init__(self, finishes: Sequence[str]) -> None:
        self._finishes = tuple(finishes)
        turned = [(" ".join(reversed(name.split())), name) for name in finishes]
        self._finder = NameFinder([*((name, name) for name in finishes), *turned])
        self._of_car = words.OF_CAR.difference(*(terms_of(name) for name in finishes))
        """What only a car has, a finish of the catalog being none."""

    def read(self, sentence: Sentence, taken: Sequence[bool], cars: Sequence[bool], offered: Sequence[str]) -> Found:
        """The finish that is meant; `taken`: words that name other things, `cars`: those that name cars."""
        said = [*self._said(sentence, taken, cars)]
        said += self._unknown(sentence, taken, cars, {x for one in said for x in range(one.first, one.last)})
        for one in said:
            (sentence.set_aside if one.says == "car" else sentence.mark)(one.first, one.last)
        said = [x for x in said if x.says != "car"]
        fact = settled(said)
        if fact is not None and isinstance(fact.value, str):
            told = [x for x in said if x.stance == "yes"]
            return Found(
                fact.value, [Understood.of(sentence, x.first, x.last, "finish", x.value, x.says) for x in told]
            )
        asked = [x for x in sentence.places(("finish", "finishes", "colours", "colors")) if sentence.is_question(x)]
        if not said and not asked:
            return Found()
        known = [Choice(x, f"{x} finish") for x in (offered or self._finishes)]
        first = [x for x in choices_of([x for x in said if x.stance != "no"]) if x not in known]
        return Found(open=Open("finish", "Which finish are the rail and its parts to have?", (*first, *known)))

    def _said(self, sentence: Sentence, taken: Sequence[bool], cars: Sequence[bool]) -> Iterator[Said]:
        hits = [x for x in self._finder.hits(sentence) if not (taken[x.first] or sentence.read[x.first])]
        hits = [x for x in hits if is_had(sentence, x.first, x.last) != "yes"]  # of what is there already
        stances = [stance_of(sentence, x.first, x.last) for x in hits]
        for hit, stance in zip(hits, stances, strict=True):
            of = _finish_of(sentence, hit.first, hit.last, cars, self._of_car)
            if of == "doubt" and "no" in stances:
                of = "yes"  # chosen among those of the catalog: `satin, not copper`
            before = [sentence.at(x) for x in range(sentence.clause_of(hit.first)[0], hit.first)]
            if stance == "yes" and (of == "doubt" or _is_told_of(sentence, hit.first) or "except" in before):
                stance = "doubt"
            if stance == "yes":
                _mark_why(sentence, hit.last)
            yield Said(hit.ids[0], hit.first, hit.last, "car" if of == "car" else f"{hit.ids[0]} finish", stance)

    def _unknown(
        self, sentence: Sentence, taken: Sequence[bool], cars: Sequence[bool], known: set[int]
    ) -> Iterator[Said]:
        """Colours that no finish of the catalog has, where they are said of the rail."""
        for place in sentence.places(words.COLOURS):
            if place in known or taken[place] or cars[place]:
                continue
            of = _finish_of(sentence, place, place + 1, cars, self._of_car)
            start, end = sentence.clause_of(place)
            near = sentence.places(
                words.RAILS | {"finish", "everything", "anodised", "anodized", "parts"},
                max(start, place - 4),
                min(end, place + 4),
            )
            stance = stance_of(sentence, place, place + 1)
            if of == "yes" and near and stance != "no":
                yield Said(None, place, place + 1, "", "doubt")
            elif of == "car":
                yield Said(None, place, place + 1, "car", "no")


def _finish_of(sentence: Sentence, first: int, last: int, cars: Sequence[bool], of_car: frozenset[str]) -> str:
    """What a finish or a colour is said of: yes, the parts; car; or doubt."""
    start, end = sentence.clause_of(first)
    if sentence.at(last) in _HUES and any(cars[slice(*sentence.clause_of(first))]):
        return "car"  # a shade: `in olive green`
    following = last + (sentence.at(last) in _SHADING)
    if following < len(cars) and cars[following] and sentence.at(following - 1) != "finish":
        while following < len(cars) and cars[following]:
            following += 1
        return "yes" if sentence.at(following) in words.RAILS else "car"
    if sentence.at(first - 1) in ("is", "was") and first > 1 and cars[first - 2]:
        return "car"
    following = last + 1 + (sentence.at(last + 1) in _GIVEN)
    if sentence.at(last) == "for" and following < len(cars) and cars[following]:
        return "yes"
    if _is_ordered(sentence, first, cars):
        return "yes"
    parts = [x for x in sentence.places(words.FINISH_OF, start, end) if not cars[x] and not first <= x < last]
    if _is_of_noun(sentence, last) and sentence.at(first - 1) != "in":
        return "car"
    car_words = [x for x in sentence.places(of_car, start, end) if not _is_of_parts(sentence, x, parts)]
    if car_words and (not parts or min(abs(x - first) for x in car_words) < min(abs(x - first) for x in parts)):
        return "car"
    named = [x for x in range(start, end) if cars[x]]
    if any(sentence.places(("for",), x, y) for x in parts for y in named):
        return "yes"  # `a rail for the ...: satin`
    if parts:
        is_near = not named or min(abs(x - first) for x in parts) <= min(abs(x - first) for x in named)
        return "yes" if is_near else "doubt"
    if named:
        return "doubt"
    if sentence.at(first - 1) == "says" and sentence.at(first - 3) == "my" and not is_called(sentence.at(first - 2)):
        sentence.mark(first - 3, first)
        return "yes"
    clause = sentence.words[first].clause
    if sentence.at(start - 1) == "(" and start > 1 and cars[start - 2]:
        return "car"
    before = sentence.clauses[clause - 1] if clause else (0, 0)
    if any(cars[x] for x in range(*before)):
        return "doubt"
    begun = [start, *(x + 1 for x in sentence.places(("so", "but", "rather"), start, first))]
    alone = all(
        not w.is_word or w.text in words.SAYS_NOTHING or w.text in words.LIGHT or w.text == "in"
        for w in sentence.words[begun[-1] : first]
    )
    return "yes" if alone and clause else "doubt"


def _is_ordered(sentence: Sentence, first: int, cars: Sequence[bool]) -> bool:
    """Whether a finish ends a wish for what is no car: `make it satin`, `I have a ... and want a gauge, in satin`."""
    before = first - 1 - (sentence.at(first - 1) == "in")
    if sentence.at(before) in _IT and sentence.at(before - 1) in _MADE:
        return True
    number = sentence.words[first].sentence
    start = min(sentence.clause_of(before)[0] if before >= 0 else first, sentence.clause_of(first)[0])
    wished = [x for x in sentence.places(_WISHED, start, first) if sentence.words[x].sentence == number]
    is_in = before < first - 1 and bool(wished) and not any(cars[wished[-1] : first])
    is_other = sentence.at(before) in words.OF_CAR or _is_of_noun(sentence, before)
    return is_in and (sentence.read[before] or not is_other)


def _is_told_of(sentence: Sentence, first: int) -> bool:
    """Whether it is told that something has a finish: `everything in there is black`; not `the finish is satin`."""
    place = first - 1 - (sentence.at(first - 1) in ("all", "in", "also"))
    return sentence.at(place) in ("is", "are") and not sentence.places(_FINISHES, sentence.clause_of(first)[0], place)


def _mark_why(sentence: Sentence, last: int) -> None:
    """Take what a finish goes with as read: `to match the valve cover`."""
    _, end = sentence.clause_of(last - 1)
    if sentence.at(last) in _MATCHING or (sentence.at(last) == "to" and sentence.at(last + 1) in _MATCHING):
        behind = range(last, min(end, last + _LONGEST_WHY))
        told = takewhile(lambda x: sentence.words[x].is_word and sentence.at(x) not in _NO_WHY, behind)
        sentence.mark(last, max(told, default=last) + 1)


def _is_of_noun(sentence: Sentence, last: int) -> bool:
    """Whether a colour stands right before a thing that is none of ours: `red brake calipers`."""
    word = sentence.at(last)
    is_noun = word.isalpha() and word not in _NO_NOUN and singular(word) not in sentence.trade
    return is_noun and not sentence.at(last + 1)[:1].isdigit()


def _is_of_parts(sentence: Sentence, place: int, parts: Sequence[int]) -> bool:
    """Whether a word for colour is said of parts: `colour of the rail`."""
    return sentence.at(place) in ("colour", "color", "coloured", "colored") and bool(parts)
