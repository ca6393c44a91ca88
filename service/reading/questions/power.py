"""How much power: told in a unit, called the stock power, or a number that is to be asked."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from service.domain.units import KW_PER_HP, figure, power
from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Understood, alike, choices_of, now_of, settled
from service.reading.questions.lexicon import Car
from service.reading.questions.measures import Measure, is_open_ended, is_past
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_MOST_KW = 5_000
_LEAST_KW = 8.0
"""Less is hardly the power of a car."""
_LEAST_BARE = 40
_NEAR = 4
_TIMES = words.set_of("twice double triple half times than above over beyond below % percent near nearly almost")
_ABOUT = words.set_of("about around roughly approx approximately circa ca ~ say with at")
_MORE = ("more power", "more horsepower", "more hp", "more kw", "more output", "much power", "increase the power")
_WHEELS = words.set_of("wheel wheels crank flywheel")
_STRONG = words.set_of("strong stronger fast faster quick quicker powerful much more go goes pull pulls")
_CALLED = words.set_of("power output hp horsepower leistung performance")
_UNKNOWN = words.set_of("unknown tbc tbd")
_TOLD = words.set_of("kraft leistung power output")


def read_power(
    sentence: Sentence, measures: Sequence[Measure], stock_kw: float | None, cars: Mapping[str, Car], *, is_blown: bool
) -> Found:
    """The power, in kW; the stock power where it is called so and the car is known; `cars`: by id; `is_blown`: an
    add-on gives boost."""
    said = [x for one in measures if one.kind in ("power", "wheels") for x in _powers(sentence, one)]
    told = [x.value for x in said if x.stance == "yes"]
    stock = [x for x in _stock(sentence, stock_kw) if not (told and _is_of_rest(sentence, x.first, x.last))]
    if is_blown or _is_boosted(sentence):
        stock = [x if sentence.places(_CALLED, x.first, x.last + 1) else replace(x, stance="doubt") for x in stock]
    stock = [replace(x, stance="yes") if any(alike(x.value, y) for y in told) else x for x in stock]
    said += [x for x in stock if not said or stock_kw is not None]
    said += [] if said else list(_unchanged(sentence, stock_kw))
    asked = [one for one in measures if one.kind == "bare" and _is_bare_power(sentence, one)]
    for x in said:
        sentence.mark(x.first, x.last)
    said = now_of(sentence, said)
    one = settled(said)
    if one is not None and (one.value is None or (isinstance(one.value, float) and 0 < one.value <= _MOST_KW)):
        meant = [x for x in said if x.stance == "yes"]
        return Found(one.value, [Understood.of(sentence, x.first, x.last, "power_kw", x.value, x.says) for x in meant])
    if any(x.stance != "no" for x in said):
        return Found(open=Open("power_kw", "How much power, in kW or hp, at the engine?", choices_of(said)))
    if not said and (compared := list(_compared(sentence, cars))):
        asks = "How much power, in kW or hp, at the engine? Another car was named to compare with."
        return Found(open=Open("power_kw", asks, tuple(compared)))
    shares = [
        x.first for x in measures if x.unit == "%" and sentence.at(x.last) == "more" and _is_of_power(sentence, x)
    ]
    units = (
        [] if said else [*shares, *_lone_units(sentence), *(x for x, _ in sentence.phrases(_MORE)), *_doubted(sentence)]
    )
    if units and not asked:
        sentence.mark(units[0], units[0] + 1)
        return Found(open=Open("power_kw", "How much power, in kW or hp, at the engine?"))
    if asked and not said:
        sentence.mark(asked[0].first, asked[0].last)
        value = asked[0].values[0]
        choices = [
            Choice(round(kw, 2), f"{figure(value)} {unit}") for unit, kw in (("kW", value), ("hp", value * KW_PER_HP))
        ]
        return Found(open=Open("power_kw", "Is this number the power, and in which unit?", tuple(choices)))
    return Found()


def _powers(sentence: Sentence, one: Measure) -> Iterable[Said]:
    last = one.last + 2 * _is_loose(sentence, one.last)
    stance = stance_of(sentence, one.first, last)
    is_open = one.kind == "wheels" or len(one.values) != 1 or _is_at_wheels(sentence, one)
    is_open = is_open or max(one.values, default=0.0) < _LEAST_KW
    is_open = is_open or is_past(sentence, one) or is_open_ended(sentence, one)
    if _is_others(sentence, one):
        return
    for kw in one.values:
        kw = round(kw, 2)
        first = one.first - (sentence.at(one.first - 1) in words.STOCK)
        yield Said(kw, first, last, power(kw), "doubt" if is_open and stance == "yes" else stance)


def _is_loose(sentence: Sentence, last: int) -> bool:
    """Whether a figure is told loosely: `210 hp or so`; not `or so he claims`."""
    is_told = sentence.at(last) == "or" and sentence.at(last + 1) in ("so", "thereabouts")
    return is_told and not sentence.at(last + 2)[:1].isalpha()


def _is_boosted(sentence: Sentence) -> bool:
    """Whether boost is spoken of, so that a stock engine has not the stock power."""
    places = sentence.places(words.BOOSTS | words.BLOWN)
    return any(stance_of(sentence, x, x + 1) != "no" for x in places)


def _compared(sentence: Sentence, cars: Mapping[str, Car]) -> Iterator[Choice]:
    """The stock powers of the cars that the power is compared with: `as strong as a ...`."""
    for first, last, ids in sentence.compared:
        start, end = sentence.clause_of(first)
        if sentence.places(words.OUTPUT | _STRONG, start, end):
            sentence.mark(first, last)
            for car in (cars[x] for x in sorted(ids)):
                kw = round(car.chassis.stock_kw, 2)
                yield Choice(kw, f"{power(kw)}, the stock power of the {car.called.name}")


def _is_of_power(sentence: Sentence, one: Measure) -> bool:
    """Whether a share is told of the power: `50 % more than stock`."""
    following = (sentence.at(one.last + 1), sentence.at(one.last + 2))
    return following[0] in _CALLED or (following[0] == "than" and following[1] in words.STOCK)


def _lone_units(sentence: Sentence) -> list[int]:
    """Units of power that no number stands before."""
    found = [x for x in sentence.places(("hp", "bhp", "kw", "ps", "horsepower")) if not sentence.read[x]]
    return [
        x
        for x in found
        if sentence.at(x - 1) not in ("of", "more", "the")
        and (sentence.at(x), sentence.at(x + 1)) != ("ps", ":")  # what is written below a letter
        and stance_of(sentence, x, x + 1) == "yes"
    ]


def _doubted(sentence: Sentence) -> list[int]:
    """Where the power is spoken of as not known yet."""
    places = [x for x in sentence.places(_TOLD) if not sentence.read[x]]
    return [x for x in places if stance_of(sentence, x, x + 1) == "doubt" or sentence.at(x + 1) in _UNKNOWN]


def _is_at_wheels(sentence: Sentence, one: Measure) -> bool:
    near = [sentence.at(x) for x in range(one.last, min(one.last + _NEAR, len(sentence.words)))]
    return any(x in ("wheel", "wheels", "hubs", "crank's") for x in near) or "more" in near[:1]


def _is_others(sentence: Sentence, one: Measure) -> bool:
    """Whether an amount belongs to a starter, a pump or the like."""
    if sentence.at(one.last) in ("per", "each") or _is_rate(sentence, one.last):
        return True
    return sentence.at(one.last) in ("pump", "motor", "heater", "starter", "charger")


def _is_rate(sentence: Sentence, place: int) -> bool:
    """Whether a power is told per another thing, as in `100 hp/l`."""
    return sentence.at(place) == "/" and sentence.at(place + 1) in ("l", "litre", "liter", "kg", "t", "cyl", "cylinder")


def _is_of_rest(sentence: Sentence, place: int, last: int) -> bool:
    """Whether it is the rest, or the engine, that is called stock: `300 hp, everything else is stock`."""
    return sentence.at(last - 1) in ("engine", "motor", "internals") or bool(
        sentence.places(("else", "otherwise", "rest"), sentence.clause_of(place)[0], place)
    )


def _stock(sentence: Sentence, stock_kw: float | None) -> Iterable[Said]:
    for place in sentence.places(words.STOCK):
        last = _stock_end(sentence, place)
        if sentence.at(place + 1) in ("plus", "+") and sentence.at(place + 2)[:1].isdigit():
            yield Said(None, place, place + 1, "more than the stock power", "doubt")
        if last and not sentence.read[place]:
            value = None if stock_kw is None else round(stock_kw, 2)
            says = "the stock power" if stock_kw is None else f"the stock power, {power(stock_kw)}"
            stance = stance_of(sentence, place, last)
            if stance == "yes" and sentence.places(_TIMES, max(sentence.clause_of(place)[0], place - _NEAR), place):
                stance = "doubt"
            if stance != "no":
                yield Said(value, place, last, says, stance)


def _unchanged(sentence: Sentence, stock_kw: float | None) -> Iterable[Said]:
    """Where the power is to stay what it is: perhaps the stock power, perhaps what somebody has made of it."""
    for place in sentence.places(_TOLD | {"tune"}):
        start, end = sentence.clause_of(place)
        for first, last in sentence.phrases(_STAYS):
            if start <= first < end and sentence.at(last) not in ("for", "to"):
                value = None if stock_kw is None else round(stock_kw, 2)
                sentence.mark(place, place + 1)
                says = "the stock power" if stock_kw is None else f"the stock power, {power(stock_kw)}"
                yield Said(value, first, last, says, "doubt")


_STAYS = words.phrases_of(
    "unchanged, untouched, as it is, as is, as it was, as it came, left alone, stays the same, the same as before"
)
_ALL_STOCK = words.set_of(
    "all bone dead bog completely otherwise still everything everything's "
    "else totally entirely is it's engine's it remains stays car engine fully"
)
_NO_STOCK = words.set_of("in from out ex of the on no if")


_GOES_ON = words.set_of("and but with on incl including")


def _stock_end(sentence: Sentence, place: int) -> int:
    """The word behind, where the power is called stock; 0 where something else is, or parts are in stock."""
    behind = place + 1
    if sentence.at(place - 1) in _NO_STOCK - {"the"} or sentence.at(behind) in ("only", "parts", "item", "items"):
        return 0
    if sentence.at(behind) in words.OUTPUT:
        is_more = sentence.at(behind + 1) in words.OUTPUT
        return behind + 1 + is_more
    start, end = sentence.clause_of(place)
    is_last = behind >= end or not sentence.words[behind].is_word or sentence.at(behind) in _GOES_ON
    if not is_last:
        return 0
    before = place - 1 - (sentence.at(place - 1) in (":", "=", "is", "stays", "remains", "at", "as"))
    if sentence.at(before) in ("power", "output", "horsepower", "leistung", "tune"):
        return behind
    if sentence.at(place - 1) == "as" and (place - 1 == start or sentence.at(place - 2) == ":"):
        return behind if sentence.at(place) in ("stock", "standard", "std", "unmodified") else 0
    is_alone = (place == start or sentence.read[place - 1] or sentence.at(place - 1) == ":") and sentence.at(
        behind
    ) not in ("with", "on")
    if sentence.at(place - 1) in _ALL_STOCK or is_alone:
        return behind if sentence.at(place) not in ("factory", "original", "oem", "series") else 0
    return 0


def _is_bare_power(sentence: Sentence, one: Measure) -> bool:
    """Whether a number without a unit stands alone in its clause or is called power."""
    start, end = sentence.clause_of(one.first)
    near = [sentence.at(x) for x in range(max(start, one.first - 3), min(end, one.last + 2))]
    value = one.values[0] if one.values else 0.0
    if any(sentence.read[one.first : one.last]):
        return False
    is_at_wheels = value >= _LEAST_BARE and sentence.places(_WHEELS, one.last, min(end, one.last + 4))
    if any(x in _TOLD for x in near) or is_at_wheels:
        return True
    first = start + 1 if sentence.at(start) in _ABOUT else start
    alone = all(not x.is_word and not x.is_number for x in sentence.words[one.last : end]) and one.first == first
    return (
        alone
        and _LEAST_BARE <= value < 2_000
        and value.is_integer()
        and len(sentence.at(one.first)) == 3
        and sentence.at(one.last) not in ("-", "/")
    )
