"""The last look before a value is asserted: where its clause offers a choice or has unread figures, it is asked."""

from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Understood
from service.reading.questions.sentence import Sentence
from service.reading.questions.units import UNITS

_CHOOSING = words.set_of("or oder vs versus")
_NO_CHOICE = words.set_of("less so later sooner thereabouts such maybe")
_OF_FIGURES = words.set_of("layout power_kw boost_kpa clearances feed_hose_m return_hose_m max_price have")
_CORRECTING = words.set_of("wait sorry correction rather actually oops mean scratch make no")
_NEAR = 4
_SOON = 6
_ASKS = {
    "chassis": "Is it this car?",
    "layout": "Is the fuel to run like this?",
    "fuel": "Is this the fuel?",
    "power_kw": "Is this the power?",
    "boost_kpa": "Is this the boost?",
    "addons": "Is this equipment on the car?",
    "gauge": "Is this where the gauge is to be?",
    "finish": "Is this the finish?",
    "clearances": "Is this the room that there is?",
    "feed_hose_m": "Is this the length of the feed hose?",
    "return_hose_m": "Is this the length of the return hose?",
    "max_price": "Is this what it may cost at most?",
    "in_stock_only": "Is it to be made of what is in stock alone?",
    "have": "Is this part there already?",
    "own_rail": "Is this what the spots of that rail offer?",
}


def guarded(sentence: Sentence, field: str, found: Found) -> Found:
    """What was found, as a question where the words around it leave it in doubt."""
    if found.value is None or found.open is not None:
        return found
    if not any(_is_doubtful(sentence, field, one) for one in found.understood):
        return found
    told = {repr(x.value): Choice(x.value, x.says) for x in found.understood if x.value is not None}
    return Found(open=Open(field, _ASKS[field], tuple(told.values())))


def _is_doubtful(sentence: Sentence, field: str, one: Understood) -> bool:
    start, end = sentence.clause_of(one.first)
    near = (max(start, one.first - _NEAR), min(end, one.last + _NEAR))
    if field == "chassis":  # what is offered farther off is another thing
        near = (one.last, min(end, one.last + 1))
    if any(_is_choice(sentence, place) for place in sentence.places(_CHOOSING, *near)):
        return True
    if field not in _OF_FIGURES:
        return False
    if any(_is_unread_figure(sentence, place) for place in range(start, end)):
        return True
    if field != "layout" and sentence.at(one.first - 1) in words.NUMBERS and not sentence.read[one.first - 1]:
        return True  # a figure in words that was read by half, as `one sixty horsepower`
    return any(_is_corrected(sentence, place) for place in sentence.places(_CORRECTING, end, end + _SOON))


def _is_corrected(sentence: Sentence, marker: int) -> bool:
    """Whether a figure that nobody read follows a word that puts right what was said: `2 m, oh wait, 3 m`."""
    last = min(len(sentence.words), marker + _SOON)
    told = [place for place in range(marker, last) if not sentence.read[place] and sentence.at(place) in words.NUMBERS]
    return bool(told) or any(_is_unread_figure(sentence, place) for place in range(marker, last))


def _is_choice(sentence: Sentence, place: int) -> bool:
    """Whether a word offers a choice that nobody has heard: not `with or without`, `more or less`."""
    before, behind = sentence.at(place - 1), sentence.at(place + 1)
    if sentence.places(words.DENIALS, sentence.clause_of(place)[0], place):
        return False  # neither of them
    return not (sentence.read[place] or behind in _NO_CHOICE or before in ("more", "with", "without"))


def _is_unread_figure(sentence: Sentence, place: int) -> bool:
    word = sentence.words[place]
    if sentence.read[place] or not word.is_number:
        return False
    unit = sentence.at(place + 1)
    return not (unit in UNITS and UNITS[unit][0] == "other")
