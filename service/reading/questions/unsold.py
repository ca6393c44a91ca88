"""Whether parts that have to be bought elsewhere may be used."""

from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Stance, Understood, settled
from service.reading.questions.sentence import Sentence

_OURS = words.phrases_of(
    "you sell, you sell yourselves, you sell yourself, you make, you offer, you carry, from you, your own parts, "
    "your own catalog, your catalog, your parts, parts of yours, from your shop, from one place, from one source"
)
_NOT_OURS = words.phrases_of(
    "you don't sell, you do not sell, you don't make, you don't carry, you don't offer, you don't do, you can't sell"
)
_OTHERS = words.phrases_of(
    "elsewhere, from somebody else, from someone else, from anybody else, from anyone else, somewhere else, from other "
    "shops, from another shop, from others, bought in, from outside, third party parts, other people's parts, "
    "anderswo, woanders"
)
_ONLY = words.set_of("only just alone exclusively nur solely")
_WHOLE = _ONLY | words.set_of("everything all entirely completely alles complete")
_NONE = words.set_of("nothing no not don't dont without never avoid can't cannot won't wouldn't nichts none doesn't")
_GOING = words.set_of("buy buying bought order ordering ordered get getting source sourced parts part come comes find")
_GLAD = words.set_of("even anything okay ok fine happy whatever also too can may mind")
_SOFT = words.set_of("preferably ideally prefer rather if possible maybe perhaps would nice hopefully")
_NOT_OF_PARTS = (words.PRICED - {"elsewhere", "bought", "sell", "sold"}) | words.REGULATORS | words.RAILS
"""What else may be elsewhere: a price, a regulator, a rail by another maker."""
_REACH = 9
_SAYS = {True: "parts from elsewhere as well", False: "only what is sold here"}


def read_unsold(sentence: Sentence) -> Found:
    """Whether parts from elsewhere may be used; not said: they may."""
    said: list[Said] = []
    for phrases, read in ((_OURS, _ours), (_NOT_OURS, _not_ours), (_OTHERS, _others)):
        for first, last in sentence.phrases(phrases):
            how = read(sentence, first, last)
            if how is None or any(sentence.read[first:last]):
                continue
            value, stance, start = how
            said.append(Said(value, start, last, _SAYS[value], stance))
    for one in said:
        sentence.mark(one.first, one.last)
    fact = settled(said)
    if fact is not None:
        told = [Understood.of(sentence, x.first, x.last, "allow_unsold", x.value, x.says) for x in said]
        return Found(fact.value, told)
    if not said:
        return Found()
    choices = (Choice(False, _SAYS[False]), Choice(True, _SAYS[True]))
    return Found(open=Open("allow_unsold", "May parts be used that have to be bought elsewhere?", choices))


def _ours(sentence: Sentence, first: int, last: int) -> tuple[bool, Stance, int] | None:
    """What is said of that which is sold here: only that, or more than that."""
    start, end = sentence.clause_of(first)
    before = range(max(start, first - _REACH), first)
    known = _WHOLE if sentence.at(first) == "from" else _ONLY
    whole = [x for x in before if sentence.at(x) in known]
    denials = [x for x in before if sentence.at(x) in _NONE]
    stance: Stance = "doubt" if _is_soft(sentence, start, end) else "yes"
    if denials:
        is_more = bool(sentence.places(_GLAD, start, first)) or sentence.at(start - 2) in _GLAD
        is_twice = len(denials) > 1 or sentence.at(denials[0]) == "nothing"
        if is_twice:
            return False, stance, denials[0]
        return (True, stance, denials[0]) if is_more else None
    is_behind = sentence.at(last) in ("only", "alone", "exclusively")
    if not whole and not is_behind:
        return None
    return False, stance, whole[0] if whole else first


def _not_ours(sentence: Sentence, first: int, _: int) -> tuple[bool, Stance, int] | None:
    """What is said of that which is not sold here: even that, or nothing of it."""
    start, end = sentence.clause_of(first)
    start = _begin(sentence, start, first)
    glad, none = sentence.places(_GLAD, start, first), sentence.places(_NONE, start, first)
    if none:
        return False, "doubt" if glad or _is_soft(sentence, start, end) else "yes", none[0]
    return (True, "yes", glad[0]) if glad and not sentence.is_question(first) else None


def _others(sentence: Sentence, first: int, _: int) -> tuple[bool, Stance, int] | None:
    """What is said of that which has to be bought elsewhere."""
    start, end = sentence.clause_of(first)
    is_going = (
        sentence.places(_GOING, start, end) or sentence.at(first - 1 - (sentence.at(first - 1) == "from")) in _NONE
    )
    if sentence.places(_NOT_OF_PARTS, start, end) or not is_going:
        return None
    before = range(max(_begin(sentence, start, first), first - _REACH), first)
    denials = [x for x in before if sentence.at(x) in _NONE]
    stance: Stance = "doubt" if _is_soft(sentence, start, end) or len(denials) > 1 else "yes"
    if sentence.at(start) == "if" and not denials and sentence.places(("fine", "ok", "okay"), first, end):
        return True, "yes", first
    if sentence.places(("mind", "matter"), start, first) and denials:
        return True, stance, denials[0]
    if denials:
        return False, stance, denials[0]
    glad = sentence.places(_GLAD, start, end)
    return (True, stance if glad and not sentence.is_question(first) else "doubt", first)


def _begin(sentence: Sentence, start: int, first: int) -> int:
    """Where what is said of parts from elsewhere begins, behind another thing that is told before it."""
    joins = [x for x in sentence.places(("and",), start, first) if sentence.at(x + 1) in ("i", "we", "you", "they")]
    return joins[-1] + 1 if joins else start


def _is_soft(sentence: Sentence, start: int, end: int) -> bool:
    return bool(sentence.places(_SOFT, start, end)) or sentence.is_question(start)
