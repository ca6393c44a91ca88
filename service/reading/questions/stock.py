"""Whether only what lies in stock may be used."""

from collections.abc import Sequence
from itertools import pairwise

from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Stance, Understood, settled
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_PHRASES = words.phrases_of(
    "in stock, from stock, from your stock, from your own stock, ex stock, on stock, in your stock, stock only, "
    "stocked, only stock parts, stock parts only, stock items only, "
    "on the shelf, on your shelf, on your shelves, off the shelf, in your warehouse, in the warehouse, on hand, "
    "ab lager, auf lager, have to hand, available immediately, immediately available, available from stock, "
    "no back orders, no backorder, can't wait for back orders, can't wait for a back order, "
    "cannot wait for back orders, nothing on back order, nothing on backorder"
)
_WHOLE = words.set_of("nothing no")
"""What begins a phrase that is a wish by itself."""
_SOFT = words.set_of("if ideally preferably what's whether would nice prefer hopefully")
_NO_MATTER = words.set_of("matter needn't irrespective regardless necessarily")
_TELLS = words.set_of("is are isn't not")
_WISHES = words.set_of("must only that what")
_MUST = words.set_of("must has have needs need")
_SEEN = words.set_of("saw seen found elsewhere")
_NEAR = 4


def read_stock(sentence: Sentence) -> Found:
    """Whether only what lies in stock may be used."""
    said = [
        Said(True, first, last, "in stock only", _stance(sentence, first, last))
        for first, last in sentence.phrases(_PHRASES)
    ]
    for one in said:
        sentence.mark(one.first, one.last)
    if any(one.stance == "yes" for one in said):
        said = [one for one in said if one.stance != "doubt"]
    fact = settled(said)
    if fact is not None:
        told = [x for x in said if x.stance == "yes"]
        return Found(True, [Understood.of(sentence, x.first, x.last, "in_stock_only", True, x.says) for x in told])
    if any(x.stance != "no" for x in said):
        choices = (Choice(True, "only what is in stock"), Choice(False, "what has to be ordered as well"))
        return Found(open=Open("in_stock_only", "Is it to be made of what is in stock alone?", choices))
    return Found()


def _stance(sentence: Sentence, first: int, last: int) -> Stance:
    if sentence.at(first) in _WHOLE:
        return "yes"
    start, end = sentence.clause_of(first)
    near = [sentence.at(x) for x in range(start, min(end, last + _NEAR))]
    stance, is_double = stance_of(sentence, first, last), _is_double(near)
    if {"i've", "we've"} & set(near) or any(x in ("we", "i") and y in ("have", "own") for x, y in pairwise(near)):
        return "no"  # what somebody has
    if _SEEN.intersection(near) and not _WISHES.intersection(near):
        return "no"  # of another shop
    if "already" in near and not _WISHES.intersection(near):
        return "no"  # what somebody has
    is_nothing = "nothing" in near and _MUST.intersection(near) and not is_double
    if is_nothing or _NO_MATTER.intersection(near) or (stance == "no" and not is_double):
        return "no"
    if is_double or (stance == "doubt" and "except" in near):
        return "yes"
    if stance == "yes" and _MUST.intersection(near[: first - start]) and {"be", "come"}.intersection(near):
        return "doubt" if sentence.is_question(first) or _SOFT.intersection(near) else "yes"
    is_soft = bool(_SOFT.intersection(near)) and {"only", "just"}.isdisjoint(near)
    is_told = sentence.at(first - 1) in _TELLS and not _WISHES.intersection(near)
    return "doubt" if is_soft or is_told or sentence.is_question(first) else stance


def _is_double(near: Sequence[str]) -> bool:
    """Whether two denials make a wish: nothing that is not in stock."""
    return "nothing" in near and any(x in ("not", "isn't", "but") for x in near)
