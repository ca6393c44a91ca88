"""A car that the catalog does not have: what it is called, and what a text tells of it."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from service.reading.common import is_common
from service.reading.questions import words
from service.reading.questions.facts import Found, UnknownSaid
from service.reading.questions.measures import Measure
from service.reading.questions.sentence import LONGEST_QUOTE, Sentence
from service.reading.questions.terms import KNOWN
from service.reading.questions.units import CURRENCIES, LITRES, UNITS

_BODIES = words.BODIES | words.set_of("gti rs ts turbo cabriolet spider buggy racer tractor boat kart")
_GIVEN = words.set_of(
    "a an my our his her their your the this one ein eine einen mein meine unser unsere drive drives driving own owns "
    "has have got with customer's it's is"
)
_BESIDE = words.set_of(
    "old new little small big classic vintage rare rebuilt modified tuned beloved nice mid late early"
)
_NO_CAR_BEFORE = words.set_of(
    "mr mrs ms dr herr frau from in at near by to of street named called regards cheers thanks hello hi dear hey "
    "name greetings ciao ask monsieur uncle aunt brother sister"
)
_NO_CAR = words.set_of(
    "could whats thats wanna gonna gimme pls ok cheers regards morning evening afternoon monday tuesday wednesday "
    "thursday friday saturday sunday january february march april june july august september october november december "
    "christmas easter boss friend friends quote shop workshop injectors injector pump pumps reg clutch gearbox exhaust "
    "wheels tyres brakes fuelled litre litres cylinders cylinder cyl zylinder thread threads spigot adapter measured"
)
_CYLINDERS = words.set_of("cylinder cylinders cyl cyls zylinder zyl pot potter banger")
_SHAPES = {
    **dict.fromkeys(("v", "vee", "boxer", "flat"), 2),
    **dict.fromkeys(("inline", "straight", "reihen", "in-line", "r", "i"), 1),
}
_COUNTS = words.set_of("2 3 4 5 6 8 10 12 16 two three four five six eight ten twelve twin")
_LEAST_OF_TWO_BANKS, _LONGEST_LITRES = 4, 3
_ENDS = words.set_of(
    "spigot spigots barb barbs barbed thread threads threaded flare flared coupling couplings quick connector "
    "connectors union unions banjo ferrule nipple push fitting fittings"
)
_FIGURE = re.compile(r"\d[.,]\d|\d{3,4}|\d{1,2}")
_YEAR = re.compile(r"19[3-9]\d|20(?!00)[0-4]\d")
_COUNTED_THINGS = words.set_of("speed speeds door doors seater seaters valve valves way ways wheel wheels gears")
_LITRES_TOLD = re.compile(r"\d[.,]\d")
_LONGEST_NAME, _SHORTEST = 5, 3
_LONGEST_FACT = LONGEST_QUOTE
_LEAST_KPA, _MOST_KPA = 20, 30_000


@dataclass(frozen=True, slots=True)
class NameSaid:
    """Words that a car is called by; `is_sure`: by figures or a body as well, as cars alone are."""

    first: int
    last: int
    is_sure: bool


def names_in(sentence: Sentence) -> list[NameSaid]:
    """Words that may name a car, and that nobody read."""
    is_told_absent = bool(absent_in(sentence))
    has_cylinders = bool(list(_counts(sentence)))
    found: list[NameSaid] = []
    place = 0
    while place < len(sentence.words):
        one = _name_at(sentence, place, is_told_absent=is_told_absent, has_cylinders=has_cylinders)
        found += [one] if one is not None else []
        place = one.last if one is not None else place + 1
    return found


def absent_in(sentence: Sentence) -> list[tuple[int, int]]:
    """Where it is said that the catalog does not have the car."""
    return sentence.phrases(words.ABSENT)


def _name_at(sentence: Sentence, place: int, *, is_told_absent: bool, has_cylinders: bool) -> NameSaid | None:
    if not _may_name(sentence, place):
        return None
    first, last, has_figure, has_body = place, place + 1, False, sentence.at(place - 1) in _BODIES
    while last < min(len(sentence.words), place + _LONGEST_NAME):
        word = sentence.at(last)
        if word == "-" and sentence.is_glued(last):
            last += 1
            continue
        is_figure = sentence.words[last].is_number and _is_figure(sentence, last)
        is_short = (
            sentence.words[last].is_word
            and len(word) <= 2
            and (sentence.is_capital(last) and word not in words.LIGHT | words.SAYS_NOTHING)
        )
        if sentence.read[last] and not is_figure:
            break
        is_more = _may_name(sentence, last) and sentence.is_capital(last)
        if not (is_figure or is_short or is_more or word in _BODIES or word in ("mk", "mark")):
            break
        has_figure, has_body = has_figure or is_figure, has_body or word in _BODIES
        last += 1
    while sentence.at(last - 1) == "-":
        last -= 1
    is_given = _is_given(sentence, first)
    is_capital = sentence.is_capital(first)
    is_named = has_figure or has_body or (is_given and is_capital) or (is_told_absent and (is_capital or is_given))
    is_named = is_named or (is_capital and has_cylinders)
    if not is_named or not (is_capital or not sentence.has_cases or has_figure):
        return None
    is_own = is_given and (not sentence.has_cases or sentence.at(first - 1) not in ("the", "this", "that", "for"))
    is_sure = (has_figure or has_body) and (is_own or is_capital)
    return NameSaid(first, last, is_sure)


def _may_name(sentence: Sentence, place: int) -> bool:
    word = sentence.words[place]
    if sentence.read[place] or not word.is_word or len(word.text) < _SHORTEST:
        return False
    text = word.text.removesuffix("'s")
    if sentence.has_cases and not sentence.is_capital(place) and is_common(text):
        return False
    if text in KNOWN or text in _NO_CAR or text in UNITS or text in CURRENCIES or text in _BODIES or text in _ENDS:
        return False
    return sentence.at(place - 1) not in _NO_CAR_BEFORE and not word.text.endswith(("'s", "'t", "'m", "'ve", "'re"))


def _is_figure(sentence: Sentence, place: int) -> bool:
    """Whether a number may belong to a car's name: `1.8`, `1300`, `GT6`; no amount."""
    unit = sentence.at(place + 1)
    is_amount = unit in UNITS and unit not in LITRES and unit not in _CYLINDERS
    is_amount = (
        is_amount
        or unit in _COUNTED_THINGS
        or unit in words.HOSES
        or unit in CURRENCIES
        or unit == "%"
        or sentence.at(place - 1) in CURRENCIES
    )
    is_year = bool(_YEAR.fullmatch(sentence.at(place)))
    return not is_amount and not is_year and bool(_FIGURE.fullmatch(sentence.at(place)))


def _is_given(sentence: Sentence, first: int) -> bool:
    place = first - 1
    start, _ = sentence.clause_of(first)
    while place >= start and (sentence.at(place) in _BESIDE or sentence.at(place).endswith("'s")):
        place -= 1
    return place >= start and (sentence.at(place) in _GIVEN or place < first - 1)


def unknown_car(
    sentence: Sentence,
    names: Sequence[NameSaid],
    measures: Sequence[Measure],
    found: Mapping[str, Found],
    near: Iterable[tuple[int, int]],
) -> UnknownSaid | None:
    """What is told of a car that the catalog does not have; `near`: where names of its cars are nearly said."""
    called = [sentence.quote(x.first, x.last) for x in names] or [sentence.quote(*x) for x in near]
    if not called and not absent_in(sentence):
        return None
    for first, last in (*((x.first, x.last) for x in names), *absent_in(sentence)):
        sentence.mark(first, last)
    cylinders, banks, shape = _cylinders(sentence)
    power = found["power_kw"].value
    return UnknownSaid(
        car=(called[0] if called else "not named")[:_LONGEST_FACT],
        engine=", ".join([*_litres(sentence), *shape])[:_LONGEST_FACT],
        cylinders=cylinders,
        banks=banks,
        power_kw=power if isinstance(power, float) else None,
        pressure_kpa=_pressure(sentence, measures),
        fuel=_says(found["fuel"]),
        ends=_told(sentence, _ENDS, words.RAILS),
        room=_says(found["clearances"]) or _told(sentence, words.ROOM, frozenset()),
        rail=_told(sentence, words.RAILS, frozenset(), beside=_ENDS | words.OTHERS_MAKE | UNITS.keys()),
    )


def _says(found: Found) -> str:
    return "; ".join(dict.fromkeys(x.says for x in found.understood))[:_LONGEST_FACT]


def _cylinders(sentence: Sentence) -> tuple[int | None, int | None, list[str]]:
    """How many cylinders in how many banks, and the words that say it; None where it is not told, or twice."""
    counts: dict[int, list[str]] = {}
    banks: set[int] = set()
    for count, bank, first, last in _counts(sentence):
        counts.setdefault(count, []).append(sentence.quote(first, last))
        sentence.mark(first, last)
        banks |= {bank} if bank else set()
    if len(counts) != 1:
        return None, None, []
    count, said = next(iter(counts.items()))
    return count, next(iter(banks)) if len(banks) == 1 and count >= _LEAST_OF_TWO_BANKS else None, said


def _counts(sentence: Sentence) -> Iterator[tuple[int, int, int, int]]:
    """Each number of cylinders, in how many banks (0: not told), and its words: `V8`, `four-cylinder`."""
    for place in range(len(sentence.words)):
        count = _count(sentence, place)
        if count is None:
            continue
        before = place - 1 - (sentence.at(place - 1) == "-")
        behind = place + 1 + (sentence.at(place + 1) == "-")
        bank = _SHAPES.get(sentence.at(before), 0) if before >= 0 and not sentence.read[before] else 0
        is_shaped = bank > 0 and (sentence.is_glued(place) or len(sentence.at(before)) > 1)
        is_told = sentence.at(behind) in _CYLINDERS
        if is_shaped or is_told:
            first, last = before if is_shaped else place, behind + 1 if is_told else place + 1
            yield count, bank if is_shaped else 0, first, last


def _count(sentence: Sentence, place: int) -> int | None:
    text = sentence.at(place)
    if text not in _COUNTS:
        return None
    return int(text) if text.isdigit() else words.NUMBERS.get({"twin": "two"}.get(text, text))


def _litres(sentence: Sentence) -> Iterator[str]:
    """What is told of an engine's size: `4 litre`, `2.4`."""
    for place, word in enumerate(sentence.words):
        unit = place + 1 + (sentence.at(place + 1) == "-")
        is_told = sentence.at(unit) in LITRES and len(word.text) <= _LONGEST_LITRES
        is_bare = _LITRES_TOLD.fullmatch(word.text) and not sentence.read[place] and sentence.at(place + 1) not in UNITS
        if word.is_number and (is_told or is_bare):
            last = unit + 1 if is_told else place + 1
            sentence.mark(place, last)
            yield sentence.quote(place, last)


def _pressure(sentence: Sentence, measures: Sequence[Measure]) -> float | None:
    """The fuel pressure that is told, kPa: the only pressure that is not called boost."""
    told = []
    for one in measures:
        start, end = sentence.clause_of(one.first)
        if one.kind == "pressure" and not sentence.places(words.BOOSTS | words.BLOWN, start, end):
            told.append(one)
    if len(told) != 1 or len(told[0].values) != 1 or not _LEAST_KPA <= told[0].values[0] <= _MOST_KPA:
        return None
    sentence.mark(told[0].first, told[0].last)
    return round(told[0].values[0], 2)


def _told(sentence: Sentence, known: Iterable[str], without: frozenset[str], *, beside: Iterable[str] = ()) -> str:
    """The clauses that tell of something, in the words of the text."""
    besides = frozenset(beside)
    quotes = []
    for number in sorted({sentence.words[x].clause for x in sentence.places(known)}):
        start, end = sentence.clauses[number]
        if sentence.places(without, start, end) or (besides and not sentence.places(besides, start, end)):
            continue
        last = end - (not (sentence.words[end - 1].is_word or sentence.words[end - 1].is_number))
        if last > start:
            sentence.mark(start, last)
            quotes.append(sentence.quote(start, last))
    return "; ".join(quotes)[:_LONGEST_FACT]
