"""What it may cost at most: an amount of the catalog's money that is called a limit."""

import re
from collections.abc import Sequence

from service.domain.money import decimals_of, priced
from service.reading.questions import words
from service.reading.questions.facts import Found, Open, Said, Stance, Understood, choices_of, settled
from service.reading.questions.measures import Measure
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_MOST_MONEY = 10**12
_BESIDE = words.set_of("plus + excluding excl ex net without before per each apiece")
_OF_MONEY = words.set_of("budget budgets spend spending afford")
"""What tells that a number without a currency is money; a limit may be one of revolutions."""
_ABOUT = words.set_of("about around roughly say under below maybe some circa ca ~ approx approximately")
_LOOSE = words.set_of("least minimum min about maybe perhaps or ideally preferably hopefully prefer")
_APART = words.set_of("more less cheaper dearer")
_FLEXIBLE = words.set_of("stretch flexible negotiable")
_SCARCE = words.set_of("tight small limited low short little")
_SO = words.set_of("or all in total tops max maximum if please altogether complete delivered ish")
_LEAST_PRICE, _THOUSAND, _FIGURES = 50, 1000, 3
_TOGETHER = words.set_of("than together altogether total")
_PARTS = words.KINDS.keys() | words.RAILS | words.HOSES | words.set_of("postage shipping delivery")
_OF_PRICE = (
    words.LIGHT
    | words.PRICED
    | words.DENIALS
    | words.set_of("itself alone may must max maximum most than up under over below above less exceed")
)
"""What stands between a part and the most that it alone may cost."""
_SHORT = re.compile(r"\d[.,]\d$")
"""A figure as nobody writes money: `1.5`, which may be thousands."""
_TOLD_PRICES = words.set_of("quoted wanted paid charged offered saw seen found")
_APART_FROM = words.set_of("rest extra extras separately")
_IFS = words.set_of("if provided case unless should when whatever each")
_BELOW = words.set_of("under below less cheaper")
"""What tells no limit where it is denied: `not under 300 euros`."""
_AT_MOST = words.set_of("max maximum most under below within less maximal hochstens hoechstens cheaper tops")


def read_budget(sentence: Sentence, measures: Sequence[Measure], currency: str) -> Found:
    """The most that may be spent, in minor units: an amount of the catalog's money that is called a limit."""
    said: list[Said] = []
    foreign: list[Measure] = []
    asked: list[Said] = []
    bare: list[Measure] = []
    decimals = decimals_of(currency)
    scale = 10**decimals
    for one in measures:
        start, end = sentence.clause_of(one.first)
        called = _limit_of(sentence, one, start, end)
        is_money = one.kind == "money"
        if _is_bare_price(sentence, one):
            bare.append(one)
            continue
        if not is_money and not (
            one.kind == "bare"
            and called == "budget"
            and sentence.places(_OF_MONEY, start, end)
            and not any(sentence.read[one.first : one.last])
        ):
            continue
        if called == "price" and _is_undercut(sentence, one):
            called = "nothing"
        if called == "price":
            sentence.set_aside(one.first, one.last)
            continue
        if is_money and not one.is_own:
            foreign.append(one)
            continue
        is_net = sentence.at(one.last) in _BESIDE
        amounts = _amounts(one, decimals) if is_money else one.values
        sure = called in ("budget", "most") and not is_net and len(amounts) == 1
        sure = sure and not _SHORT.search(sentence.at(one.last - 1)) and not _SHORT.search(sentence.at(one.last - 2))
        sure = sure and not _is_of_part(sentence, one) and not _is_condition(sentence, one)
        for value in amounts:
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
    fact_said = settled([*said, *asked])
    if fact_said is not None and said and not foreign:
        for place in sentence.places(words.BUDGETS | _AT_MOST | _TOGETHER, *sentence.clause_of(fact_said.first)):
            sentence.mark(place, place + 1)
        told = [x for x in said if x.stance == "yes"]
        return Found(
            fact_said.value,
            [Understood.of(sentence, x.first, x.last, "max_price", x.value, f"at most {x.says}") for x in told],
        )
    for number in () if said or asked or foreign else bare:
        sentence.mark(number.first, number.last)
        asked += [
            Said(minor, number.first, number.last, priced(minor, currency), "doubt")
            for minor in (round(x * scale) for x in number.values)
        ]
    lone = [] if said or asked or foreign else _lone_budget(sentence)
    for place in lone:
        sentence.mark(place, place + 1)
    if said or asked or foreign or lone:
        asks = f"What may it cost at most, in {currency}?"
        return Found(open=Open("max_price", asks, choices_of([*said, *asked])))
    return Found()


def _is_bare_price(sentence: Sentence, one: Measure) -> bool:
    """Whether a number without a unit may be a price: `for 800 or so`."""
    if one.kind != "bare" or any(sentence.read[one.first : one.last]) or max(one.values, default=0) < _LEAST_PRICE:
        return False
    start, end = sentence.clause_of(one.first)
    if sentence.places(("vat", "mwst"), one.last, min(end, one.last + 3)):
        return True
    place = one.first - 1
    while place > start and sentence.at(place) in _ABOUT:
        place -= 1
    behind = [sentence.at(x) for x in range(one.last, end) if sentence.words[x].is_word]
    return place >= start and sentence.at(place) == "for" and (not behind or behind[0] in _SO)


def _lone_budget(sentence: Sentence) -> list[int]:
    """Where a budget is spoken of without an amount."""
    found = sentence.places(("budget", "budgets"))
    return [
        x
        for x in found
        if stance_of(sentence, x, x + 1) == "yes"
        and (sentence.at(x + 1) not in ("is", "no") or sentence.at(x + 2) in _SCARCE)
        and (sentence.at(x + 1), sentence.at(x + 2)) not in ((":", "-"), (":", "n"))
    ]


def _amounts(one: Measure, decimals: int) -> tuple[float, ...]:
    """What an amount may be: three figures behind a sign are thousands, of money with fewer decimals."""
    is_grouped = len(one.values) == 2 and one.values[0] == _THOUSAND * one.values[1]
    return one.values[:1] if is_grouped and decimals < _FIGURES else one.values


def _is_of_part(sentence: Sentence, one: Measure) -> bool:
    """Whether a limit is that of some part alone: `the gauge must not cost more than ...`, `max ... for the gauge`."""
    last = one.last + (sentence.at(one.last) in _AT_MOST)
    behind = last + 1 + (sentence.at(last + 1) in ("the", "a", "each", "any"))
    if sentence.at(last) == "for" and sentence.at(behind) in _PARTS - words.RAILS:
        return True
    place = one.first - 1
    while (
        place >= 0
        and (sentence.at(place) in _OF_PRICE or sentence.at(place) == ",")
        and sentence.at(place) not in _PARTS
    ):
        place -= 1
    between = {sentence.at(x) for x in range(place + 1, one.first)}
    if sentence.at(place) in words.RAILS:
        return not {"itself", "alone", "may", "must", "cost", "should"}.isdisjoint(between)
    return sentence.at(place) in _PARTS and ("," not in between or sentence.at(place - 1) in ("the", "each", "all"))


def _is_condition(sentence: Sentence, one: Measure) -> bool:
    """Whether a price is that on which something else depends: `if it's under ..., the gauge as well`."""
    start, end = sentence.clause_of(one.first)
    clause = sentence.words[one.first].clause
    behind = sentence.clauses[min(clause + 1, len(sentence.clauses) - 1)][1]
    if sentence.at(one.last) in ("was", "were") or sentence.places(_APART_FROM, one.last, behind):
        return True
    would = any(x.endswith("'d") or x == "would" for x in (sentence.at(y) for y in range(one.last, end)))
    return would or bool(sentence.places(_IFS | _TOLD_PRICES, start, one.first))


def _limit_of(sentence: Sentence, one: Measure, start: int, end: int) -> str:
    """What an amount of money is called in its clause: a budget, a most, a price, or nothing."""
    before = [sentence.at(x) for x in range(max(start, one.first - 6), one.first)]
    behind = [sentence.at(x) for x in range(one.last, min(end, one.last + 5))]
    joined = " ".join(before)
    is_denied = not words.DENIALS.isdisjoint(before) or "nothing" in before
    if any(joined.endswith(x) for x in ("more than", "more as", "over", "above", "exceed", "exceeding", "past")):
        return "most" if is_denied else "nothing"
    if any(x in words.BUDGETS for x in (*before, *behind)):
        return "budget"
    if _AT_MOST.intersection(before):
        return "nothing" if _is_floor(before) else "most"
    if (len(before) > 1 and before[-2:] == ["up", "to"]) or before[-1:] in (["<"], ["\u2264"], ["until"], ["till"]):
        return "most"
    if _is_no_more(sentence, one.last) and (words.PRICED - {"pay"}).isdisjoint(before):
        return "most"
    if any(x in ("max", "maximum", "tops", "most", "less", "maximal", "under", "limit") for x in behind):
        return "most"
    if any(x in words.PRICED for x in (*before, *behind)) and behind[:1] not in (["plus"], ["+"], ["without"]):
        return "price"
    return "nothing"


def _is_no_more(sentence: Sentence, place: int) -> bool:
    """Whether words go on that no more than an amount is meant: `400 euros, not a cent more`, `and no more`."""
    while sentence.at(place) in (",", "-", "and", "but"):
        place += 1
    told = [sentence.at(x) for x in range(place, place + 4)]
    is_short, is_long = told[0] in ("no", "not") and told[1] == "more", told[:2] == ["not", "a"] and told[3] == "more"
    more = 1 if is_short else 3 if is_long else 0
    behind = sentence.at(place + more + 1)
    return more > 0 and (not behind.isalpha() or behind in ("than", "please"))


def _is_floor(before: Sequence[str]) -> bool:
    """Whether it is denied that an amount is to be stayed below: `not under 400 euros`."""
    place = max((x for x, word in enumerate(before) if word in _BELOW), default=0)
    near = before[max(place - 4, 0) : place]
    return not words.DENIALS.isdisjoint(near) and words.JOINS.isdisjoint(near)


def _is_undercut(sentence: Sentence, one: Measure) -> bool:
    """Whether the next words wish to stay below a price: `quoted 480 euros, I want to be below that`."""
    clause = sentence.words[one.first].clause
    end = sentence.clauses[min(clause + 1, len(sentence.clauses) - 1)][1]
    return any(
        sentence.at(place + 1 + (sentence.at(place + 1) == "than")) in ("that", "this", "it")
        for place in sentence.places(("below", "under", "beneath", "beat", "less", "cheaper"), one.last, end)
    )


def _is_loose(sentence: Sentence, one: Measure) -> bool:
    start, end = sentence.clause_of(one.first)
    if sentence.at(one.last) in _APART and sentence.at(one.last + 1) == "than":
        return True  # what lies between two prices
    is_flexible = any(stance_of(sentence, x, x + 1) != "no" for x in sentence.places(_FLEXIBLE, start, end))
    return is_flexible or bool(sentence.places(_LOOSE, start, end))
