"""Numbers with what they are measured in: power, pressures, lengths, money. By figures of either habit, or in words."""

from dataclasses import dataclass, replace

from service.domain.units import KPA_PER_PSI, KW_PER_HP, MM_PER_IN
from service.reading.questions import words
from service.reading.questions.numbers import number_at
from service.reading.questions.sentence import Sentence
from service.reading.questions.units import COUNTRIES, CURRENCIES, DOLLARS, KW_PER_PS, UNITS, Kind

_RANGES = (["to"], ["-"], ["or"], ["bis"], ["/"], ["or", "even"], ["or", "maybe"], ["up", "to"], ["-", "-"])
_OF_SIZES = words.set_of("size sizes an jic dash # -")
_AT_LEAST = (("at", "least"), ("minimum", "of"), ("no", "less"), ("not", "less"))
_OPEN_ENDED = words.set_of(
    "over than plus another extra + > < by additional adds add adding gains gain gained gaining under below above "
    "beyond twice double times"
)
_ON_TOP = words.set_of("more extra additional higher lower less")
_PAST = words.set_of("once originally formerly was were had used before until")
_OF_HORSES = words.set_of("box boxes trailer trailers float lorry")
_FAR, _LEAST_RUN, _LEAST_SIZE = 8, 500, 4
_LIKE = 3.0
"""So many times as long as the one before a length is at most that has its unit left out."""
_WIDEST_IN = 1.5
_OF_INCHES = words.HOSES | words.FEEDS | words.RETURNS | words.set_of("own fuel barb barbs barbed")
"""What a fraction without a unit is the width of, in inches."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A number from one word to before another.

    `values`: what it may be, in kW, kPa, mm or money; of two habits, or of a range, both. `unit`: as it is written,
    in small letters; `is_own`: money of the catalog's currency; `factor`: of its unit.
    """

    kind: Kind
    values: tuple[float, ...]
    first: int
    last: int
    unit: str = ""
    is_own: bool = True
    factor: float = 1.0


def measures_in(sentence: Sentence, currency: str) -> list[Measure]:
    """All numbers of a text, each with its unit where it has one."""
    found: list[Measure] = []
    place = 0
    while place < len(sentence.words):
        number = number_at(sentence, place)
        if number is None:
            place += 1
            continue
        values, last = number
        one = _measured(sentence, place, last, values, currency)
        place = one.last
        if found and _is_range(sentence, found[-1], one):
            found[-1] = _ranging(found[-1], one)
        elif found and _is_like(sentence, found[-1], one):
            before = found[-1]
            found.append(replace(one, kind=before.kind, values=tuple(x * before.factor for x in one.values)))
        else:
            found.append(one)
    return found


def _is_range(sentence: Sentence, one: Measure, other: Measure) -> bool:
    """Whether two numbers are ends of a range or a choice: `250 to 300 kW`, `1.5 or 2 m`, `$300-400`."""
    if "bare" not in (one.kind, other.kind) or one.kind == other.kind or "other" in (one.kind, other.kind):
        return False
    if any(sentence.read[one.first : one.last]) or any(sentence.read[other.first : other.last]):
        return False
    before = sentence.at(one.first - 1)
    if before in _OF_SIZES or before in ("bank", "banks") or one.kind not in ("bare", "money"):
        return False
    between = [sentence.at(x) for x in range(one.last, other.first)]
    return between in _RANGES or (between == ["and"] and before in ("between", "somewhere", "from"))


def _is_like(sentence: Sentence, one: Measure, other: Measure) -> bool:
    """Whether a number is told in the unit of the length before it: `40 mm at the left and 35 at the top`, `feed hose
    2 m, return 3`."""
    between = range(one.last, other.first)
    if (one.kind, other.kind) != ("length", "bare") or len(between) > _FAR or len(one.values) != len(other.values):
        return False
    is_joined = sentence.places(("and", ",", "but"), one.last, other.first)
    if sentence.at(other.last) in ("or", "to", "-") and sentence.at(other.last + 1)[:1].isdigit():
        return False  # of a range
    place = other.last + (sentence.at(other.last) in ("at", "on"))
    place += sentence.at(place) == "the"
    is_room = sentence.at(place) in words.PLACES or (place == other.last and sentence.at(place) in words.ACROSS)
    is_near = 1 / _LIKE <= other.values[0] * one.factor / one.values[0] <= _LIKE if one.values[0] else False
    spans = (sentence.clause_of(one.first), sentence.clause_of(other.first))
    has_hose = any(sentence.places(words.HOSES | words.FEEDS, *x) for x in spans)
    is_run = one.values[0] >= _LEAST_RUN and (other.values[0] < _LEAST_SIZE or not other.values[0].is_integer())
    before = other.first - 1 - (sentence.at(other.first - 1) in words.HOSES)
    is_run = is_run and sentence.at(before) in words.FEEDS | words.RETURNS
    return bool(is_joined) and is_near and (is_run if has_hose else is_room)


def _ranging(one: Measure, other: Measure) -> Measure:
    told = other if one.kind == "bare" else one
    bare = one if one.kind == "bare" else other
    values = (*(x * told.factor for x in bare.values), *told.values)
    return Measure(told.kind, values, one.first, other.last, told.unit, told.is_own, told.factor)


def _measured(sentence: Sentence, first: int, last: int, values: tuple[float, ...], currency: str) -> Measure:
    money = _money(sentence, first, last, values, currency)
    if money is not None:
        return money
    behind = last + 1 if sentence.at(last) == "-" and sentence.at(last + 1) in UNITS else last
    is_part = last - first > 1 and sentence.at(last) == "of" and sentence.at(last + 1) in ("a", "an")
    behind += 2 * is_part  # as in `3/4 of a metre`
    word = sentence.at(behind)
    ish = last + (sentence.at(last) == "-")
    if sentence.at(ish) == "ish" and sentence.at(ish + 1) in UNITS:
        kind, factor = UNITS[sentence.at(ish + 1)]
        values = tuple(x * factor for x in values) * 2  # no more than near it
        return Measure(kind, values, first, ish + 2, sentence.at(ish + 1), factor=factor)
    if word == "metric" and sentence.at(behind + 1) in ("hp", "horsepower"):
        return Measure("power", tuple(x * KW_PER_PS for x in values), first, behind + 2, "ps")
    if word == "brake" and _is_brake_power(sentence, behind + 1):
        last = behind + 1 + (sentence.at(behind + 1) in UNITS)
        return Measure("power", tuple(x * KW_PER_HP for x in values), first, last, "bhp")
    if word == "l" and sentence.at(behind + 1) == "/":
        return Measure("other", values, first, behind + 3, "l/h")
    if word in UNITS and not _is_no_unit(sentence, first, behind):
        kind, factor = UNITS[word]
        more, last = _more(sentence, behind + 1)
        values = tuple(x + y for x in values for y in more)
        return Measure(kind, tuple(x * factor for x in values), first, last, word, factor=factor)
    if _is_inches(sentence, first, last):
        return Measure("length", tuple(x * MM_PER_IN for x in values), first, last + 1, "in", factor=MM_PER_IN)
    if last - first > 1 and sentence.at(first + 1) == "/" and values[0] < _WIDEST_IN and word in _OF_INCHES:
        return Measure("length", (values[0] * MM_PER_IN,), first, last, "in", factor=MM_PER_IN)
    if word == "%":
        return Measure("other", values, first, last + 1, "%")
    return Measure("bare", values, first, last)


def _more(sentence: Sentence, place: int) -> tuple[tuple[float, ...], int]:
    """What is added behind a unit, and the word behind it: `an inch and a half`; for `and a bit` what it may be."""
    if (sentence.at(place), sentence.at(place + 1)) != ("and", "a"):
        return (0.0,), place
    part = {"half": (0.5,), "quarter": (0.25,), "bit": (0.0, 0.25)}.get(sentence.at(place + 2))
    return (part, place + 3) if part else ((0.0,), place)


_IN_GOES_ON = words.set_of(
    "of long wide at on to room space clearance hose feed free for and between deep across headroom line pipe gap "
    "high bore or"
)
"""What may follow `in` where that stands for inches."""


_OF_BRAKE_POWER = words.set_of("hp horsepower horse horses and with on at")


def _is_brake_power(sentence: Sentence, place: int) -> bool:
    """Whether `brake` before a place is short for brake horsepower: nothing follows that could be of a brake."""
    word = sentence.at(place)
    return not word or not word[0].isalpha() or word in _OF_BRAKE_POWER


def _is_no_unit(sentence: Sentence, first: int, unit: int) -> bool:
    """Whether what looks like a unit is another word: an x between numbers, a short unit far from its number."""
    word = sentence.at(unit)
    is_far = unit > 0 and sentence.words[unit].start - sentence.words[unit - 1].end > 1
    if word in ("horse", "horses") and sentence.at(unit + 1) in _OF_HORSES:
        return True
    if word in ("st", "nd", "rd", "th", "x"):
        return not sentence.is_glued(unit)
    return is_far and sentence.words[unit].clause != sentence.words[first].clause


def _is_inches(sentence: Sentence, first: int, last: int) -> bool:
    sign = sentence.at(last)
    if sign == '"' or (sign == "'" and sentence.at(last + 1) == "'"):
        return sentence.is_glued(last) and last not in sentence.closing
    if sign != "in" or sentence.words[last].clause != sentence.words[first].clause:
        return False
    if sentence.at(first - 1) in ("size", "an", "dash", "jic", "-", "#"):
        return False
    following = sentence.at(last + 1)
    return not following or following in _IN_GOES_ON or not (following[0].isalnum())


def _is_boost(sentence: Sentence, place: int) -> bool:
    """Whether pounds are a pressure: `13 pounds of boost`."""
    following = [sentence.at(place + 1), sentence.at(place + 2)]
    return sentence.at(place) in ("pound", "pounds", "lb", "lbs") and (
        following == ["of", "boost"] or following[0] == "boost"
    )


def _money(sentence: Sentence, first: int, last: int, values: tuple[float, ...], currency: str) -> Measure | None:
    own = currency.casefold()
    if _is_boost(sentence, last):
        return Measure("pressure", tuple(x * KPA_PER_PSI for x in values), first, last + 1, "psi")
    named = _of_country(sentence, last, currency)
    if named is not None:
        return Measure("money", values, first, named[0], sentence.at(named[0] - 1), named[1])
    for place, is_before in ((first - 1, True), (last, False)):
        word = sentence.at(place)
        if word in (",", ".") and sentence.at(place + 1) == "-" and not is_before:  # as in `500,-`
            word, place = sentence.at(place + 2), place + 2
            if word != own and word not in CURRENCIES and not (word[:1].isdigit() and sentence.is_glued(place)):
                return Measure("money", values, first, last + 2, currency)
        if word != own and word not in CURRENCIES:
            continue
        if is_before and sentence.words[place].clause != sentence.words[first].clause:
            continue
        is_own = word == own or currency in CURRENCIES.get(word, ())
        if word == "$" and sentence.is_glued(place) and sentence.at(place - 1) in DOLLARS:
            is_own = DOLLARS[sentence.at(place - 1)] == currency
        start, end = (place, last) if is_before else (first, place + 1)
        return Measure("money", values, start, end, word, is_own)
    return None


def _of_country(sentence: Sentence, last: int, currency: str) -> tuple[int, bool] | None:
    """Money that is told by its country, as `US dollars`: the word behind it, and whether it is own."""
    for country, name in ((last, last + 1), (last + 1, last)):
        known = COUNTRIES.get(sentence.at(country))
        if known and (sentence.at(name) in CURRENCIES):
            return max(country, name) + 1, known == currency
    return None


def is_past(sentence: Sentence, one: Measure) -> bool:
    """Whether an amount is told of what was: `142 hp once`, `originally 96 kW`, `it had 120 PS`."""
    return bool(sentence.places(_PAST, *sentence.clause_of(one.first)))


def is_open_ended(sentence: Sentence, one: Measure) -> bool:
    """Whether more than the amount is told, or so much on top: `300+ hp`, `over 300 hp`."""
    if sentence.at(one.last) == "+" and sentence.is_glued(one.last):
        return True
    if sentence.at(one.last) in _ON_TOP and sentence.at(one.last + 1) != "or":
        return True
    first = one.first - (sentence.at(one.first - 1) == "the")  # as in `double the 142 kW`
    before = (sentence.at(first - 2), sentence.at(first - 1))
    return before[1] in _OPEN_ENDED or before in _AT_LEAST
