"""The figures that cars are called by: `1.6`, `two litre`, `1300`; not those that are amounts."""

from collections.abc import Sequence

from service.reading.questions import words
from service.reading.questions.numbers import numbers_of
from service.reading.questions.sentence import Sentence
from service.reading.questions.terms import Term
from service.reading.questions.units import CURRENCIES, LITRES, UNITS

_MANY = 100.0
_MOST_LITRES = 12


def figure_at(sentence: Sentence, place: int) -> tuple[float, int, bool] | None:
    """A figure of a car, the word behind it, and whether it can be nothing else: `1.6`, `two litre`."""
    word = sentence.at(place)
    if word in words.NUMBERS:
        value, behind = float(words.NUMBERS[word]), place + 1
        if sentence.at(behind) == "point" and sentence.at(behind + 1) in words.NUMBERS:
            return value + words.NUMBERS[sentence.at(behind + 1)] / 10, behind + 2, True
        behind += sentence.at(behind) == "-"
        return (value, behind + 1, True) if sentence.at(behind) in LITRES else None
    if not word or not sentence.words[place].is_number:
        return None
    values = numbers_of(word)
    behind = place + 1 + (sentence.at(place + 1) == "-")
    if len(values) != 1:
        return None
    if sentence.at(behind) in LITRES and sentence.at(behind + 1) != "/":
        return (values[0], behind + 1, True) if values[0] <= _MOST_LITRES else None
    if sentence.at(place + 1) in CURRENCIES or sentence.at(place - 1) in CURRENCIES:
        return None
    is_amount = (sentence.at(place + 1) == '"' and sentence.is_glued(place + 1)) or (
        sentence.at(place + 1) in UNITS or sentence.at(behind) in ("an", "jic") or sentence.at(place + 1) == "/"
    )
    if is_amount or (sentence.at(place - 1) in ("-", "#") and not sentence.is_glued(place - 1)):
        return None
    return values[0], place + 1, not values[0].is_integer() or "." in word or "," in word


def is_measured(sentence: Sentence, last: int) -> bool:
    """Whether the figure that ends a name is an amount: `NAME, 400 hp`."""
    if not sentence.words[last - 1].is_number:
        return False
    unit = sentence.at(last + (sentence.at(last) == "-"))
    return unit in CURRENCIES or (unit in UNITS and UNITS[unit][0] != "other")


def is_foreign(
    sentence: Sentence, docs: Sequence[tuple[str, frozenset[Term]]], figure: tuple[float, int, bool]
) -> bool:
    """Whether a whole number behind a name may be of another car: where these are called by such numbers as well."""
    if figure[0] < _MANY or sentence.at(figure[1]) in CURRENCIES:
        return False
    return any(any(isinstance(term, float) and term >= _MANY for term in terms) for _, terms in docs)
