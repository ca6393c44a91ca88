"""Numbers with what they are measured in: power, pressures, lengths, money. By figures of either habit, or in words."""

import re
from dataclasses import dataclass

from service.domain.units import KPA_PER_PSI, KW_PER_HP, MM_PER_IN
from service.reading.questions import words
from service.reading.questions.sentence import Sentence
from service.reading.questions.units import COUNTRIES, CURRENCIES, DOLLARS, KW_PER_PS, UNITS, Kind
from service.reading.questions.words import NUMBERS

_RANGES = (["to"], ["-"], ["or"], ["bis"], ["/"], ["or", "even"], ["or", "maybe"], ["up", "to"], ["-", "-"])
_OF_SIZES = words.set_of("size sizes an jic dash # -")
_TWO_HABITS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
_GROUPED = re.compile(r"\d{1,3}(?:'\d{3})+|\d{1,3}(?:,\d{3}){2,}|\d{1,3}(?:\.\d{3}){2,}")
_MIXED = re.compile(r"\d{1,3}(?:,\d{3})+\.\d{1,2}|\d{1,3}(?:\.\d{3})+,\d{1,2}|\d{1,3}(?:'\d{3})+[.,]\d{1,2}")
_PLAIN = re.compile(r"\d+(?:[.,]\d+)?")
_LONGEST = 15
_MOST_WORDS = 8
_AT_LEAST = (("at", "least"), ("minimum", "of"), ("no", "less"), ("not", "less"))
_OPEN_ENDED = words.set_of(
    "over than plus another extra + > < by additional adds add adding gains gain gained gaining under below above "
    "beyond twice double times"
)
_ON_TOP = words.set_of("more extra additional higher lower less")
_PAST = words.set_of("once originally formerly was were had used before until")
_HUNDRED, _THOUSAND = 100, 1000
_ROUND = words.set_of("hundred thousand")
_MANY = words.set_of("few several some many of couple")
"""What makes a round number none: `a few hundred`."""
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


def numbers_of(figure: str) -> tuple[float, ...]:
    """What a figure may be: one number, two where a sign may part thousands or decimals, none where it is no number."""
    if len(figure) > _LONGEST:
        return ()
    if _TWO_HABITS.fullmatch(figure):
        whole = float(re.sub(r"\D", "", figure))
        return whole, whole / _THOUSAND
    if _GROUPED.fullmatch(figure):
        return (float(re.sub(r"\D", "", figure)),)
    if _MIXED.fullmatch(figure):
        *groups, cents = re.split(r"\D", figure)
        return (float("".join(groups) + "." + cents),)
    return (float(figure.replace(",", ".")),) if _PLAIN.fullmatch(figure) else ()


def measures_in(sentence: Sentence, currency: str) -> list[Measure]:
    """All numbers of a text, each with its unit where it has one."""
    found: list[Measure] = []
    place = 0
    while place < len(sentence.words):
        number = _number_at(sentence, place)
        if number is None:
            place += 1
            continue
        values, last = number
        one = _measured(sentence, place, last, values, currency)
        place = one.last
        if found and _is_range(sentence, found[-1], one):
            found[-1] = _ranging(found[-1], one)
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


def _ranging(one: Measure, other: Measure) -> Measure:
    told = other if one.kind == "bare" else one
    bare = one if one.kind == "bare" else other
    values = (*(x * told.factor for x in bare.values), *told.values)
    return Measure(told.kind, values, one.first, other.last, told.unit, told.is_own, told.factor)


def _number_at(sentence: Sentence, place: int) -> tuple[tuple[float, ...], int] | None:
    word = sentence.words[place]
    if word.is_number:
        values = numbers_of(word.text)
        fraction = _fraction(sentence, place)
        if fraction is not None:
            return fraction
        return values, place + 1
    if word.is_word:
        return _said(sentence, place)
    return None


def _fraction(sentence: Sentence, place: int) -> tuple[tuple[float, ...], int] | None:
    """A fraction as `3/8`, with a whole before it as in `1 1/2` or `1-1/2`."""
    whole, start = 0, place
    if sentence.at(place + 2) == "/" or (sentence.at(place + 1) == "-" and sentence.at(place + 3) == "/"):
        behind = place + (2 if sentence.at(place + 1) == "-" else 1)
        is_near = behind == place + 1 or sentence.is_glued(behind)
        if sentence.at(behind + 1) == "/" and sentence.at(place).isdigit() and is_near:
            whole, start = int(sentence.at(place)), behind
    over, sign, under = sentence.at(start), sentence.at(start + 1), sentence.at(start + 2)
    if sign != "/" or not (over.isdigit() and under.isdigit()) or under not in ("2", "4", "8", "16", "32", "64"):
        return None
    if len(over) > 2 or not sentence.is_glued(start + 1) or not sentence.is_glued(start + 2):
        return None
    return (whole + int(over) / int(under),), start + 3


def _said(sentence: Sentence, place: int) -> tuple[tuple[float, ...], int] | None:
    """A number in words: `three hundred and fifty`, `one point five`, `half a`, `two and a half`; `a` before a unit."""
    text = sentence.at(place)
    if text == "half" and sentence.at(place + 1) in ("a", "an"):
        return (0.5,), place + 2
    if text == "half" and sentence.at(place + 1 + (sentence.at(place + 1) == "-")) in UNITS:
        return (0.5,), place + 1
    if (
        text in ("a", "an")
        and sentence.at(place + 1) in UNITS
        and sentence.at(place + 1) not in ("m", "h", "l", "x", "g", "v")
    ):
        return (1.0,), place + 1
    is_round = text == "a" and sentence.at(place + 1) in _ROUND
    before = sentence.at(place - 1)
    if text in _ROUND and before not in _MANY and before not in NUMBERS and not before[:1].isdigit():
        return _added(sentence, 1, place, place)
    if text not in NUMBERS and not is_round:
        return None
    return _added(sentence, NUMBERS.get(text, 1), place, place + 1)


def _added(sentence: Sentence, current: int, place: int, last: int) -> tuple[tuple[float, ...], int]:
    """A number in words from its first one on, which is known; `last`: the word that may go on with it."""
    total = 0
    while last < min(len(sentence.words), place + _MOST_WORDS):
        word = sentence.at(last)
        if word == "hundred" and current < _HUNDRED:
            current = max(current, 1) * _HUNDRED
        elif word == "thousand":
            total, current = (total + current) * _THOUSAND, 0
        elif word in NUMBERS and _adds(current, NUMBERS[word]):
            current += NUMBERS[word]
        elif (
            word in ("and", "-") and sentence.at(last + 1) in NUMBERS and _adds(current, NUMBERS[sentence.at(last + 1)])
        ):
            pass
        else:
            break
        last += 1
    value = float(total + current)
    return _broken(sentence, value, last)


def _broken(sentence: Sentence, value: float, last: int) -> tuple[tuple[float, ...], int]:
    if sentence.at(last) in ("point", "comma"):
        digits, behind = "", last + 1
        while sentence.at(behind) in NUMBERS and NUMBERS[sentence.at(behind)] < 10 and len(digits) < 4:
            digits += str(NUMBERS[sentence.at(behind)])
            behind += 1
        if digits:
            return (value + float(f"0.{digits}"),), behind
    if (sentence.at(last), sentence.at(last + 1), sentence.at(last + 2)) == ("and", "a", "half"):
        return (value + 0.5,), last + 3
    return (value,), last


def _adds(current: int, more: int) -> bool:
    """Whether a number word goes on with the number before it: tens after hundreds, ones after tens."""
    if current == 0 or more == 0:
        return False
    return (current % _HUNDRED == 0 and more < _HUNDRED) or (
        current % 10 == 0 and current % _HUNDRED >= 20 and more < 10
    )


def _measured(sentence: Sentence, first: int, last: int, values: tuple[float, ...], currency: str) -> Measure:
    money = _money(sentence, first, last, values, currency)
    if money is not None:
        return money
    behind = last + 1 if sentence.at(last) == "-" and sentence.at(last + 1) in UNITS else last
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
    before = (sentence.at(one.first - 2), sentence.at(one.first - 1))
    return before[1] in _OPEN_ENDED or before in _AT_LEAST
