"""The words and figures that names are made of."""

import re
from collections.abc import Sequence

from service.reading.folding import folded, singular
from service.reading.questions import words
from service.reading.questions.numbers import numbers_of
from service.reading.questions.sentence import Sentence
from service.reading.questions.units import CURRENCIES, UNITS

Term = str | float
_LETTERS = re.compile(r"[^\W\d_]+")
_FEW_DIGITS = 2
KNOWN = frozenset().union(
    *(words.SAYS_NOTHING, words.LIGHT, words.HOSES, words.COLOURS, words.FINISH_OF, words.OF_CAR, words.BODIES),
    *(words.DENIALS, words.BOOSTS, words.BLOWN, words.REGULATORS, words.GAUGES, words.ROOM, words.ROOM_MAYBE),
    *(words.ACROSS, words.AXIAL, words.FEEDS, words.RETURNS, words.LINKS, words.FACTORY, words.BULKHEAD),
    *(words.REMOTE, words.PETROLS, words.FUELS_ASKED, words.STOCK, words.OUTPUT, words.BUDGETS, words.PRICED),
    *(words.MAKERS, words.OTHERS_MAKE, words.KEEPS, words.SIDE, words.HAVE_BEHIND, words.DOUBTS),
    *(words.PLACES, words.NUMBERS, UNITS, words.KINDS),
    words.set_of(
        "brake brakes brace strut bank banks cheap hundred thousand point dash sizes holding seal seals injector "
        "injectors filter pump"
    ),
)
"""The words of the trade and of every day, which are no misspelt names."""


def terms_of(text: str) -> list[Term]:
    """The words of a name in the singular, its figures as numbers."""
    found: list[Term] = []
    for word in Sentence(folded(text)).words:
        if word.is_word:
            found.append(singular(word.text))
        elif word.is_number:
            found += numbers_of(word.text)[:1]
    return found


def capitals_of(names: Sequence[str]) -> frozenset[str]:
    """The first word of each name and those that begin with a capital: what tells it is written small."""
    found: set[str] = set()
    for name in names:
        told = _LETTERS.findall(name)
        found.update(singular(folded(x)) for x in told[:1])
        found.update(singular(folded(x)) for x in told[1:] if x[0].isupper())
    return frozenset(found)


def with_longer(engines: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Each engine's name with all cars whose engine is called so, or so and more: ends are left off."""
    terms = [(frozenset(terms_of(engine)), id_) for engine, id_ in engines]
    by_name = {engine: frozenset(terms_of(engine)) for engine, _ in engines}
    return [(name, id_) for name, own in by_name.items() for other, id_ in terms if own <= other]


def may_be_of_a_name(sentence: Sentence, place: int) -> bool:
    """Whether a number is of the kind that cars are called by: broken, or of three digits; no amount."""
    around = (sentence.at(place - 1), sentence.at(place + 1))
    is_amount = any(x in UNITS or x in CURRENCIES or x in ("-", "in", '"') for x in around)
    return not is_amount and (len(sentence.at(place)) > _FEW_DIGITS)
