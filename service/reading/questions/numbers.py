"""Numbers as they are written, by figures of either habit, or told in words."""

import re

from service.reading.questions import words
from service.reading.questions.sentence import Sentence
from service.reading.questions.units import UNITS
from service.reading.questions.words import NUMBERS

_TWO_HABITS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
_GROUPED = re.compile(r"\d{1,3}(?:'\d{3})+|\d{1,3}(?:,\d{3}){2,}|\d{1,3}(?:\.\d{3}){2,}")
_MIXED = re.compile(r"\d{1,3}(?:,\d{3})+\.\d{1,2}|\d{1,3}(?:\.\d{3})+,\d{1,2}|\d{1,3}(?:'\d{3})+[.,]\d{1,2}")
_PLAIN = re.compile(r"\d+(?:[.,]\d+)?")
_LONGEST = 15
_MOST_WORDS = 8
_ROUND = words.set_of("hundred thousand")
_HUNDRED, _THOUSAND = 100, 1000
_MANY = words.set_of("few several some many of couple")
"""What makes a round number none: `a few hundred`."""


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


def number_at(sentence: Sentence, place: int) -> tuple[tuple[float, ...], int] | None:
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
        and UNITS[sentence.at(place + 1)][0] != "power"
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
