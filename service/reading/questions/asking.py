"""Whether a question asks for a thing itself, or wishes it."""

from service.reading.questions import words
from service.reading.questions.facts import Stance
from service.reading.questions.sentence import Sentence

_REACH = 9
_BEHIND = 5
_SAYS_LITTLE = words.LIGHT | words.SAYS_NOTHING | words.set_of("ready safe capable included include extra")
_HELPS = words.set_of("do does did would should will is are can could must may")
_OF_THE_CAR = words.set_of("it they that")
_WHO = words.set_of("i we it one he she they")
_PLACING = words.PLACES.keys() | words.set_of("on at in to the please end side")
"""What a bare question where something is to be is answered by."""
_BARE = 4
_SHORT = 2
_OFFERS = words.set_of("do have make sell offer stock supply carry")
_DOES = words.set_of("work works do enough suffice sense suit fit fits")
_ASKED = words.set_of(
    "need needs necessary required have worth make better take ok okay alright suitable compatible allowed possible"
)


def asked(sentence: Sentence, first: int, last: int) -> Stance:
    """Whether a question asks for the thing itself: `do I need a return?`, `should I add a gauge?`, `gauge?`."""
    start, end = sentence.clause_of(first)
    if sentence.at(last) in ("cost", "costs"):
        return "doubt"
    if not sentence.is_question(first):
        return "yes"
    if any(sentence.at(x) in ("is", "are") and sentence.at(x + 1) == "there" for x in range(start, first)):
        return "doubt"
    others = _others(sentence, start, end, first, last)
    if len(others) < _BARE and all(x in _SAYS_LITTLE for x in others):
        return _replied(sentence, sentence.words[first].clause + 1)
    if sentence.at(first - 1) in ("which", "what"):
        return "doubt"
    helps = [place for place in range(max(start, first - _REACH), first) if sentence.at(place) in _HELPS]
    if not helps or sentence.at(helps[0] - 1) in ("what", "which", "how"):
        return "yes"
    if sentence.at(helps[0] + 1) in _OF_THE_CAR and sentence.at(helps[0]) not in ("must", "may"):
        return "doubt"  # as in `can it run on ...?`
    if sentence.at(helps[0]) in ("should", "shall") and sentence.at(helps[0] + 1) in _WHO:
        return "doubt"
    is_possible = sentence.at(helps[0]) in ("can", "could") and sentence.at(helps[0] + 1) in ("i", "we")
    is_of_it = helps[0] + 1 + (sentence.at(helps[0] + 1) in ("the", "a", "my")) == first  # it is the subject
    if is_possible or is_of_it:
        return "doubt"
    is_offer = sentence.at(helps[0]) == "do" and sentence.at(helps[0] + 1) == "you"
    if is_offer and sentence.at(helps[0] + 2) in _OFFERS and not any(sentence.cars[start:end]):
        return "doubt"  # what there is to be had: nothing is wished yet
    if sentence.at(helps[0]) == "would" and sentence.at(helps[0] + 1) == "you":
        return "doubt"
    asked = [x for x in range(helps[0], min(end, last + _BEHIND)) if sentence.at(x) in _ASKED]
    behind = range(last, min(end, last + _BEHIND))
    asked += [x for x in behind if sentence.at(x) in _DOES or (sentence.at(x - 1), sentence.at(x)) == ("all", "right")]
    return "doubt" if asked else "yes"


def _others(sentence: Sentence, start: int, end: int, first: int, last: int) -> list[str]:
    beside = [x for x in (*range(start, first), *range(last, end)) if not sentence.read[x]]
    return [sentence.at(x) for x in beside if sentence.words[x].is_word or sentence.words[x].is_number]


def _replied(sentence: Sentence, clause: int) -> Stance:
    """How the next clause answers a bare question: yes, or no matter how else, a doubt."""
    if clause >= len(sentence.clauses):
        return "doubt"
    start, end = sentence.clauses[clause]
    told_in = [sentence.at(x) for x in range(start, end) if sentence.words[x].is_word]
    is_whole = sentence.at(start) != "please" or sum(x.is_word for x in sentence.words[start:end]) <= _SHORT
    is_placed = _PLACING.issuperset(told_in) and not words.PLACES.keys().isdisjoint(told_in)
    return "yes" if (sentence.at(start) in words.YES and is_whole) or is_placed else "doubt"
