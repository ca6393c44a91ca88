"""Power, boost and budget: amounts with their units, told apart by the words beside them."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from service.domain.money import decimals_of, priced
from service.domain.units import figure, power, pressure
from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Stance, Understood, choices_of, settled
from service.reading.questions.measures import Measure
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_MOST_KW, _MOST_BOOST_KPA, _MOST_MONEY = 5_000, 1_000, 10**12
_NEAR = 4
_OTHER_PRESSURE = words.set_of(
    "fuel base rail oil tyre tire gauge regulator line system pump set injector water test rated oem"
)
_PAST = words.set_of("once originally formerly was were had used before until factory")
_TOLD = words.set_of("kraft leistung power output")


def read_power(sentence: Sentence, measures: Sequence[Measure], stock_kw: float | None) -> Found:
    """The power, in kW; the stock power where it is called so and the car is known."""
    said = [x for one in measures if one.kind in ("power", "wheels") for x in _powers(sentence, one)]
    said += _ranges(sentence, measures, "power")
    said += [x for x in _stock(sentence, stock_kw) if not said or stock_kw is not None]
    asked = [one for one in measures if one.kind == "bare" and _is_bare_power(sentence, one)]
    for x in said:
        sentence.mark(x.first, x.last)
    one = settled(said)
    if one is not None and (one.value is None or (isinstance(one.value, float) and 0 < one.value <= _MOST_KW)):
        told = [x for x in said if x.stance == "yes"]
        return Found(
            one.value, [Understood(sentence.quote(x.first, x.last), "power_kw", x.value, x.says) for x in told]
        )
    if any(x.stance != "no" for x in said):
        return Found(open=Open("power_kw", "How much power, in kW or hp, at the engine?", choices_of(said)))
    if asked and not said:
        sentence.mark(asked[0].first, asked[0].last)
        value = asked[0].values[0]
        choices = [
            Choice(round(kw, 2), f"{figure(value)} {unit}") for unit, kw in (("kW", value), ("hp", value * 0.745699872))
        ]
        return Found(open=Open("power_kw", "Is this number the power, and in which unit?", tuple(choices)))
    return Found()


def _powers(sentence: Sentence, one: Measure) -> Iterable[Said]:
    stance = stance_of(sentence, one.first, one.last)
    is_open = one.kind == "wheels" or len(one.values) != 1 or _is_at_wheels(sentence, one)
    is_open = is_open or _is_past(sentence, one) or _is_open_ended(sentence, one)
    if _is_others(sentence, one):
        return
    for kw in one.values:
        kw = round(kw, 2)
        yield Said(kw, one.first, one.last, power(kw), "doubt" if is_open and stance == "yes" else stance)


def _is_past(sentence: Sentence, one: Measure) -> bool:
    """Whether a power is told of what was: `142 hp once`, `originally 96 kW`, `it had 120 PS`."""
    return bool(sentence.places(_PAST, *sentence.clause_of(one.first)))


def _is_at_wheels(sentence: Sentence, one: Measure) -> bool:
    near = [sentence.at(x) for x in range(one.last, min(one.last + _NEAR, len(sentence.words)))]
    return any(x in ("wheel", "wheels", "hubs", "crank's") for x in near) or "more" in near[:1]


def _is_open_ended(sentence: Sentence, one: Measure) -> bool:
    if sentence.at(one.last) == "+" and sentence.is_glued(one.last):
        return True
    return sentence.at(one.first - 1) in ("over", "than", "plus", "another", "extra", "+", ">", "<", "by", "additional")


def _is_others(sentence: Sentence, one: Measure) -> bool:
    """Whether an amount belongs to a starter, a pump or the like."""
    return sentence.at(one.last) in ("pump", "motor", "heater", "starter", "charger")


def _ranges(sentence: Sentence, measures: Sequence[Measure], kind: str) -> Iterable[Said]:
    """A bare number that goes with a measure behind it: `250 to 300 kW`, `250-300 hp`, `250 or 300 hp`."""
    for one, other in pairwise(measures):
        between = [sentence.at(x) for x in range(one.last, other.first)]
        is_free = one.kind == "bare" and not any(sentence.read[one.first : one.last])
        if is_free and other.kind == kind and between in (["to"], ["-"], ["or"], ["and"], ["bis"], ["/"], ["\u2013"]):
            if between == ["and"] and sentence.at(one.first - 1) not in ("between", "somewhere"):
                continue
            for value in one.values[:1]:
                ratio = other.values[0] / _plain(sentence, other) if _plain(sentence, other) else 1.0
                yield Said(round(value * ratio, 2), one.first, one.last, f"{figure(value)} {other.unit}", "doubt")


def _plain(sentence: Sentence, one: Measure) -> float:
    text = sentence.at(one.first).replace(",", ".")
    try:
        return float(text)
    except ValueError:
        return 0.0


def _stock(sentence: Sentence, stock_kw: float | None) -> Iterable[Said]:
    for place in sentence.places(words.STOCK):
        last = _stock_end(sentence, place)
        if last:
            value = None if stock_kw is None else round(stock_kw, 2)
            says = "the stock power" if stock_kw is None else f"the stock power, {power(stock_kw)}"
            stance = stance_of(sentence, place, last)
            if stance != "no":
                yield Said(value, place, last, says, stance)


_ALL_STOCK = words.set_of(
    "all bone completely otherwise still everything totally entirely is it's it remains stays car engine fully"
)
_NO_STOCK = words.set_of("in from out ex of the on no if")


def _stock_end(sentence: Sentence, place: int) -> int:
    """The word behind, where the power is called stock; 0 where something else is, or parts are in stock."""
    behind = place + 1
    if sentence.at(place - 1) in _NO_STOCK - {"the"} or sentence.at(behind) in ("only", "parts", "item", "items"):
        return 0
    if sentence.at(behind) in words.OUTPUT:
        is_more = sentence.at(behind + 1) in words.OUTPUT
        return behind + 1 + is_more
    start, end = sentence.clause_of(place)
    is_last = behind >= end or not sentence.words[behind].is_word or sentence.at(behind) in ("and", "but", "with", "on")
    if not is_last:
        return 0
    is_alone = place == start and sentence.at(behind) not in ("with", "on")
    if sentence.at(place - 1) in _ALL_STOCK or is_alone:
        return behind if sentence.at(place) in ("stock", "standard", "unmodified", "untuned", "stockish") else 0
    return 0


def _is_bare_power(sentence: Sentence, one: Measure) -> bool:
    """Whether a number without a unit stands alone in its clause or is called power."""
    start, end = sentence.clause_of(one.first)
    near = [sentence.at(x) for x in range(max(start, one.first - 3), min(end, one.last + 2))]
    value = one.values[0] if one.values else 0.0
    if any(x in _TOLD for x in near):
        return True
    alone = all(not x.is_word and not x.is_number for x in sentence.words[one.last : end]) and one.first == start
    return (
        alone
        and 40 <= value < 2_000
        and value.is_integer()
        and not any(sentence.read[one.first : one.last])
        and len(sentence.at(one.first)) == 3
        and sentence.at(one.last) not in ("-", "/")
    )


def read_boost(sentence: Sentence, measures: Sequence[Measure], has_blown_addon: bool) -> Found:
    """The boost, in kPa: a pressure only where it is called boost."""
    said: list[Said] = []
    asked: list[Said] = []
    for one in measures:
        if one.kind != "pressure" or any(sentence.read[one.first : one.last]):
            continue
        how = _called(sentence, one)
        if how == "other":
            continue
        stance = stance_of(sentence, one.first, one.last)
        is_open = len(one.values) != 1 or _is_absolute(sentence, one) or _is_open_ended(sentence, one)
        for kpa in one.values:
            kpa = round(kpa, 2)
            fact = Said(kpa, one.first, one.last, pressure(kpa), "doubt" if is_open and stance == "yes" else stance)
            (said if how == "boost" else asked).append(fact)
    said += [x for x in _ranges(sentence, measures, "pressure") if said]
    bare = [] if said else _bare_boost(sentence, measures)
    for fact in (*said, *asked):
        sentence.mark(fact.first, fact.last)
    _mark_boost(sentence, bool(said or bare))
    one_said = settled(said)
    if one_said is not None and isinstance(one_said.value, float) and one_said.value <= _MOST_BOOST_KPA:
        if has_blown_addon and one_said.value:
            asks = "Is this boost in all, the add-on's own among it, or on top of that?"
            return Found(
                open=Open("boost_kpa", asks, (Choice(0.0, "in all: the add-on's own boost"), *choices_of(said)))
            )
        told = [x for x in said if x.stance == "yes"]
        return Found(
            one_said.value, [Understood(sentence.quote(x.first, x.last), "boost_kpa", x.value, x.says) for x in told]
        )
    if any(x.stance != "no" for x in said):
        return Found(open=Open("boost_kpa", "How much boost?", choices_of(said)))
    if asked or bare:
        return Found(open=Open("boost_kpa", "Is this the boost, and in which unit?", choices_of([*asked, *bare])))
    return Found()


def _called(sentence: Sentence, one: Measure) -> str:
    """What a pressure is called in its clause: boost, other, or nothing."""
    start, end = sentence.clause_of(one.first)
    boosts = [abs(x - one.first) for x in sentence.places(words.BOOSTS, start, end)]
    boosts += [abs(x - one.first) for x in sentence.places(("blowing",), start, end)]
    others = [abs(x - one.first) for x in sentence.places(_OTHER_PRESSURE, start, end)]
    others += [abs(x - one.first) for x in sentence.places(words.GAUGES | words.REGULATORS, start, end)]
    blown = sentence.places(words.BLOWN, start, end)
    if boosts and (not others or min(boosts) <= min(others)):
        return "boost"
    if others:
        return "other"
    return "asked" if blown or end - start <= 6 else "other"


def _is_absolute(sentence: Sentence, one: Measure) -> bool:
    near = [sentence.at(x) for x in range(one.last, one.last + 3)]
    return any(x in ("absolute", "abs", "absolut", "map") for x in near)


def _bare_boost(sentence: Sentence, measures: Sequence[Measure]) -> list[Said]:
    found = []
    for one in measures:
        if one.kind == "bare" and one.values and one.values[0] <= 60:
            start, end = sentence.clause_of(one.first)
            near = sentence.places(words.BOOSTS, max(start, one.first - 3), min(end, one.last + 3))
            if near and not any(sentence.read[one.first : one.last]):
                value = one.values[0]
                found.append(Said(round(value * 100, 2), one.first, one.last, f"{figure(value)} bar", "doubt"))
                found.append(Said(round(value * 6.89475729, 2), one.first, one.last, f"{figure(value)} psi", "doubt"))
    return found


def _mark_boost(sentence: Sentence, has_boost: bool) -> None:
    for place in sentence.places(words.BOOSTS) if has_boost else ():
        sentence.mark(place, place + 1)


def read_budget(sentence: Sentence, measures: Sequence[Measure], currency: str) -> Found:
    """The most that may be spent, in minor units: an amount of the catalog's money that is called a limit."""
    said: list[Said] = []
    foreign: list[Measure] = []
    asked: list[Said] = []
    scale = 10 ** decimals_of(currency)
    for one in measures:
        start, end = sentence.clause_of(one.first)
        called = _limit_of(sentence, one, start, end)
        is_money = one.kind == "money"
        if not is_money and not (
            one.kind == "bare" and called == "budget" and not any(sentence.read[one.first : one.last])
        ):
            continue
        if called == "price":
            sentence.mark(one.first, one.last)
            continue
        if is_money and not one.is_own:
            foreign.append(one)
            continue
        sure = called in ("budget", "most") and len(one.values) == 1 and not _is_between(sentence, one)
        for value in one.values:
            minor = round(value * scale)
            if abs(minor - value * scale) < 1e-6 and minor <= _MOST_MONEY:
                stance: Stance = "yes" if sure and not _is_loose(sentence, one) else "doubt"
                (said if called in ("budget", "most") else asked).append(
                    Said(minor, one.first, one.last, priced(minor, currency), stance)
                )
    for fact in (*said, *asked):
        sentence.mark(fact.first, fact.last)
    for money in foreign:
        sentence.mark(money.first, money.last)
    fact_said = settled(said)
    if fact_said is not None and not foreign:
        told = [x for x in said if x.stance == "yes"]
        return Found(
            fact_said.value,
            [Understood(sentence.quote(x.first, x.last), "max_price", x.value, f"at most {x.says}") for x in told],
        )
    if said or asked or foreign:
        asks = f"What may it cost at most, in {currency}?"
        return Found(open=Open("max_price", asks, choices_of([*said, *asked])))
    return Found()


_AT_MOST = words.set_of("max maximum most under below within less maximal hochstens hoechstens cheaper tops")


def _limit_of(sentence: Sentence, one: Measure, start: int, end: int) -> str:
    """What an amount of money is called in its clause: a budget, a most, a price, or nothing."""
    before = [sentence.at(x) for x in range(max(start, one.first - 6), one.first)]
    behind = [sentence.at(x) for x in range(one.last, min(end, one.last + 5))]
    if any(x in words.BUDGETS for x in (*before, *behind)):
        return "budget"
    joined = " ".join(before)
    is_denied = any(
        x in ("not", "no", "mustn't", "shouldn't", "can't", "cannot", "don't", "never", "n't") for x in before
    )
    if any(joined.endswith(x) for x in ("more than", "over", "above", "exceed", "exceeding", "past")):
        return "most" if is_denied else "nothing"
    if _AT_MOST.intersection(before):
        return "most"
    if (len(before) > 1 and before[-2:] == ["up", "to"]) or before[-1:] in (["<"], ["\u2264"]):
        return "most"
    if any(x in ("max", "maximum", "tops", "most", "less", "maximal", "under", "limit") for x in behind):
        return "most"
    if any(x in words.PRICED for x in (*before, *behind)):
        return "price"
    return "nothing"


def _is_between(sentence: Sentence, one: Measure) -> bool:
    around = (sentence.at(one.first - 1), sentence.at(one.last))
    return any(x in ("-", "and", "to", "or", "bis") for x in around[:1]) or around[1] in ("-", "or", "bis")


def _is_loose(sentence: Sentence, one: Measure) -> bool:
    start, end = sentence.clause_of(one.first)
    return bool(sentence.places(("least", "minimum", "min", "about", "maybe", "perhaps", "or"), start, end))
