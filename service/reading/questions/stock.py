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
    "cannot wait for back orders, nothing on back order, nothing on backorder, "
    "out of stock"
)
_WHOLE = words.set_of("nothing no")
"""What begins a phrase that is a wish by itself."""
_SOFT = words.set_of(
    "if ideally preferably preferable preferred what's whether would nice prefer hopefully except bar barring save "
    "than apart most some least"
)
"""What tells of a wish that may go unmet, or not for all parts."""
_NO_MATTER = words.set_of("matter needn't irrespective regardless necessarily")
_TELLS = words.set_of("is are isn't not")
_WISHES = words.set_of("must only that what")
_ALONE, _MUST = words.set_of("must should"), words.set_of("must should has have needs need")
_ALL = (words.LIGHT - words.HOSES - {"they"}) | words.set_of(
    "all everything every each only whatever parts part bits items lot goods stuff which"
)
"""What may stand before `must be in stock` where all parts must."""
_PARTS = words.RAILS | words.KINDS.keys()
_BEGINS = words.JOINS | words.set_of("so as because since but")
_OTHERS = words.set_of("rest remainder others")
_SEEN = words.set_of("saw seen found elsewhere")
_EXCEPTING = words.set_of("except excepting excluding bar barring save apart unless")
_LYING = words.set_of("lying lies lie sitting sits sit left kept")
_NEAR = 4


def read_stock(sentence: Sentence) -> Found:
    """Whether only what lies in stock may be used."""
    told = [(first, last, _stance(sentence, first, last)) for first, last in sentence.phrases(_PHRASES)]
    said = [Said(True, first, last, "in stock only", stance) for first, last, stance in told if stance is not None]
    for one in said:
        sentence.mark(one.first, one.last)
    if any(one.stance == "yes" for one in said):
        said = [one for one in said if one.stance != "doubt"]
    fact = settled(said)
    if fact is not None:
        meant = [x for x in said if x.stance == "yes"]
        return Found(True, [Understood.of(sentence, x.first, x.last, "in_stock_only", True, x.says) for x in meant])
    if any(x.stance != "no" for x in said):
        choices = (Choice(True, "only what is in stock"), Choice(False, "what has to be ordered as well"))
        return Found(open=Open("in_stock_only", "Is it to be made of what is in stock alone?", choices))
    return Found()


def _stance(sentence: Sentence, first: int, last: int) -> Stance | None:
    """Whether only what is in stock is wished; None: nothing is said of it."""
    if sentence.at(first) in _WHOLE:
        return "yes"
    start, end = sentence.clause_of(first)
    begun = [x + 1 for x in sentence.places(_BEGINS, start, first)]
    before = [sentence.at(x) for x in range(begun[-1] if begun else start, first)]
    near = [sentence.at(x) for x in range(start, min(end, last + _NEAR))]
    behind = [sentence.at(x) for x in range(last, min(len(sentence.words), last + _NEAR)) if sentence.words[x].is_word]
    if sentence.at(first) == "out" or sentence.at(first - 1).endswith(("not", "n't")):
        if _is_denied(before if sentence.at(first) == "out" else before[:-1]):
            return "doubt" if sentence.is_question(first) else "yes"  # nothing that is not in stock
        return "doubt" if sentence.places(words.DENIALS, last, end) else None
    if {"i've", "we've"} & set(near) or any(x in ("we", "i") and y in ("have", "own") for x, y in pairwise(near)):
        return "no"  # what somebody has
    if {"already", *_SEEN}.intersection(near) and not _WISHES.intersection(near):
        return "no"  # what somebody has, or another shop
    if before[:1] == ["there"] or (sentence.at(first - 1) in _LYING and not _WISHES.intersection(near)):
        return None
    if any(x == "not" and y in ("only", "just") for x, y in pairwise(before)) or _NO_MATTER.intersection(near):
        return "no"
    led = [sentence.at(x) for x in range(start, first)]
    if {"but", "except"}.intersection(led) and _is_denied([x for x in led if x != "except"]):
        return "yes"  # nothing but what is in stock
    stance = stance_of(sentence, first, last)
    if stance == "no" or (_MUST.intersection(before) and _is_denied(before)):
        return "no"
    must = [
        x
        for x, y in enumerate(before)
        if y in _ALONE or (y in _MUST and sentence.at(first - len(before) + x + 1) == "to")
    ]
    is_all = not must or _ALL.issuperset(before[: must[0]])
    is_taken_back = "not" in behind[:2] or any(sentence.at(x).endswith("n't") for x in range(last, min(end, last + 2)))
    if not is_all or is_taken_back or _is_of_part(sentence, first, last) or sentence.is_question(first):
        return "doubt"
    if sentence.at(last + (sentence.at(last) == ",")) in _EXCEPTING:
        return "doubt"
    is_only = bool({"only", "just"}.intersection(near)) and "than" not in near
    is_told = sentence.at(first - 1) in _TELLS and not _WISHES.intersection(near)
    is_soft = bool(_SOFT.intersection(near)) and not is_only
    return "doubt" if is_soft or (is_told and not must) else stance


def _is_of_part(sentence: Sentence, first: int, last: int) -> bool:
    """Whether it is said of some parts: `rail from stock`, `in stock only for the gauge`, `the rest may come later`."""
    is_for = "for" in (sentence.at(last), sentence.at(last + 1))
    of_some = is_for and sentence.places(_PARTS, last, sentence.clause_of(first)[1])
    return bool(of_some or sentence.at(first - 1) in _PARTS or sentence.places(_OTHERS, last, last + 2 * _NEAR))


def _is_denied(told: Sequence[str]) -> bool:
    return any(x in words.DENIALS or x == "nothing" for x in told) or ("leave", "out") in pairwise(told)
