"""What leaves a value in doubt by a phrase near it: hearsay, other times, what is taken back or asked."""

from service.reading.questions import words
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import is_taken_back, told_in

_UNSURE = words.phrases_of(
    "in my dreams, hope it, hoping it, not sure, not decided, not settled, don't know, do not know, isn't decided, "
    "isn't settled, i think, we think, i believe, we believe, i guess, i suppose, to be confirmed, to be decided, "
    "tbc, tba, tbd, pending, don't any more, not any more, wanted a, wanted the, depending on, depends on, if need "
    "be, could live with, if possible, give or take, was thinking, were thinking, was the plan, only if, or similar, "
    "depends"
)
_HEARSAY = words.phrases_of(
    "said to, apparently, allegedly, supposedly, they say, people say, everyone says, everybody says, seller says, "
    "seller said, owner says, owner said, dealer says, dealer said, forum says, i'm told, i was told, i've been "
    "told, we were told, told me, told us, i heard, i've heard, seller promised, tuner promised, mechanic promised, "
    "they promised, recommends, recommended, advises, advised, so he says, so she says, so they say, or so i, "
    "quoted me, shop quoted, offered me, was offered, sent me"
)
_OTHER_TIMES = words.phrases_of(
    "until last, till last, one day, some day, next year, next season, i had, we had, he had, had before, back then, "
    "back in the day"
)
_OTHERS = words.phrases_of(
    "other car, other one, second car, last car, old car, previous car, on his car, on her car, on their car, like my "
    "brother's, like my mate's, like on the one, like the one, like the last, same as, as on the one, like last time, "
    "as last time"
)
_NOT_SO = words.phrases_of(
    "too much, too little, is too, are too, was too, looks too, seems too, out of the question, isn't right, not what, "
    "isn't what, didn't work, doesn't work, did not work, doesn't fit, won't fit, didn't fit, does not fit, won't do, "
    "failed, no good, cancelled, canceled"
)
_RETAKING = words.phrases_of(
    "no wait, no sorry, oh wait, wait no, or rather, sorry i mean, i mean no, oh no, but which one, don't know which, "
    "not sure which"
)
_BEFORE_IT = words.phrases_of("instead of, rather than, what about, how about, thinking of, thinking about")
_WEAK = words.phrases_of("would be nice, nice to have, not a must, no must")
"""What tells of a wish that may go unmet."""
_SECOND_THOUGHTS = words.phrases_of(
    "on second thought, on second thoughts, second thought, second thoughts, come to think of it, thinking again, "
    "changed my mind, changed his mind, changed her mind, on reflection, after all, took it off, taken it off, taken "
    "off, took that off, took them off, sold it, sold that, sold them, pulled it, removed it, comes off again, came "
    "off again"
)
"""What tells that it may be otherwise by now."""
_TAKING_BACK = words.phrases_of(
    "strike that, scratch that, scrap that, or so i, forget it, forget that, never mind, ignore that, disregard, "
    "cancelled, canceled, cancel that, he cancelled, says no, said no, nah, nope, wrong car, wrong one, my mistake, my "
    "bad, kidding, joking, only if, they say, he says, she says, so i'm told, i'm told, i was told, owner said, seller "
    "said, not sure, no idea, don't know, i think, i believe, i guess, depending on, depends, to be confirmed, tbc"
)
"""What a clause says right behind the one that it leaves in doubt."""
_RETRACTING = (*_TAKING_BACK, *_RETAKING, *_SECOND_THOUGHTS)
_OF_THE_SPEAKER = words.set_of("sure idea know")
"""What may be said of another thing than the one before: `480 hp. Don't know yet how to plumb it`."""
_OF_IT = words.LIGHT | words.SAYS_NOTHING | words.set_of("yet quite honestly tbh though")
_ANYWHERE = (*_UNSURE, *_HEARSAY, *_OTHER_TIMES, *_OTHERS, *_NOT_SO, *_WEAK, *_RETAKING)
_TAGS = words.set_of("right correct yes ok okay no eh huh isn't it innit true")
_APOLOGIES = (["sorry"], ["oh"], ["oops"], ["ah"], ["no"], ["hm"], ["er"])
_NEAR = 4
_SOON = 6
_OF_IT_ALL = words.set_of("takes cost costs need help know call")
_TAKEN_UP = words.set_of("it that one them those")
_AGAINST = words.set_of("hate hates dislike dislikes loathe loathes refuse refuses forbids objects")
_MAY = words.set_of("may might perhaps maybe")
_SPEAKERS = words.set_of("i we it he she they it's")
_GUESSING = words.phrases_of(
    "i think, we think, i'm thinking, we're thinking, i believe, we believe, i guess, i suppose, i assume, "
    "if i remember, as far as i know, if i'm not mistaken, if memory serves"
)
_WHICH = words.phrases_of("but which one, don't know which, not sure which")
_IT = words.set_of("it it's its that that's he's he she she's they a an")
_CAME_WITH = words.phrases_of("came in, came with, comes with, come with, was delivered with")
_AS_IT_IS = words.set_of("layout gauge finish fuel power_kw")
"""What may be of the car as it is, and not as it is wished."""
_UNWEIGHED = words.set_of("max_price have in_stock_only allow_unsold exclude own_rail")
"""What is read without looking whether the next words take it back."""
_SMALL = words.set_of("a an the with and on or my our")
_REFUSALS = words.set_of("no nope not none nah never")
_REPLIES = _REFUSALS | words.set_of("yes yep yeah sure definitely please ja")
"""How the next clause replies to a bare question."""
_TOPICS = {
    "layout": frozenset().union(
        *(words.HOSES, words.FEEDS, words.RETURNS, words.REGULATORS, words.LINKS, words.FACTORY, words.BULKHEAD),
        words.set_of("layout size"),
    ),
    "gauge": words.GAUGES,
    "finish": words.COLOURS | words.set_of("finish colour color"),
    "fuel": words.PETROLS | words.FUELS_ASKED | {"fuel"},
    "max_price": words.BUDGETS | {"price"},
    "power_kw": words.set_of("power kw hp bhp ps"),
    "boost_kpa": words.BOOSTS,
    "clearances": words.ROOM,
    "chassis": words.set_of("car"),
    "own_rail": words.RAILS,
}
"""What tells which field a clause is about."""


def _is_of_other(sentence: Sentence, field: str, start: int, end: int) -> bool:
    """Whether words are about another field alone: `on second thought, no gauge` is not of the layout."""
    told = {sentence.at(x) for x in range(start, end)}
    of_others = (known for name, known in _TOPICS.items() if name != field)
    return told.isdisjoint(_TOPICS.get(field, ())) and not told.isdisjoint(frozenset().union(*of_others))


def is_hedged(sentence: Sentence, field: str, first: int, last: int) -> bool:
    """Whether words near those from one to before another leave it in doubt that a field is meant so."""
    start, end = sentence.clause_of(first)
    banks = sentence.places(("bank",))[:1]
    told = [x for x, y in sentence.phrases(_ANYWHERE) if start <= x and y <= end]
    if any(sentence.at(x) != "other" or not (banks and banks[0] < x) for x in told):
        return True  # not of the other bank
    if sentence.at(last) == "no" and (sentence.at(last + 1) in words.PLACES or sentence.at(last + 1) in words.COLOURS):
        return True  # as in `left no right`
    before = [(x, y) for x, y in sentence.phrases(_BEFORE_IT) if start <= x and y <= first]
    if any((x == start or first - y <= _NEAR) and not sentence.places(_SPEAKERS, y, first) for x, y in before):
        return True
    if field in _AS_IT_IS and any(start <= x and y <= first for x, y in sentence.phrases(_CAME_WITH)):
        return True
    if sentence.has_sign(first) and _is_bare_question(sentence, field, first, last):
        return True
    if _is_doubted_behind(sentence, field, sentence.clause_of(last - 1)[1]):
        return True
    return (field in _UNWEIGHED and is_taken_back(sentence, last)) or _is_left_open(sentence, field, last - 1)


def is_thought_over(sentence: Sentence, field: str, first: int) -> bool:
    """Whether a clause soon behind begins anew, or tells that it may be otherwise: `although he may take it off`."""
    clause = sentence.words[first].clause
    behind = [span for span in sentence.clauses[clause + 1 : clause + _SOON] if span[1] - span[0] > 1][:2]
    for start, end in behind:
        if any(start <= x < end for x, _ in sentence.phrases(_SECOND_THOUGHTS)):
            goes_on = sentence.at(end - 1) == "," and end < len(sentence.words)
            return not _is_of_other(sentence, field, start, sentence.clause_of(end)[1] if goes_on else end)
        is_asked = sentence.is_question(start) and sentence.places(("need", "want"), start, end)
        if (is_asked or sentence.places(_AGAINST, start, end)) and sentence.places(_TAKEN_UP, end - 2, end):
            return (start, end) == behind[0]  # as in `I love copper, but do I need it?`
        if sentence.places(_MAY, start, end) and sentence.places(_TAKEN_UP, start, end):
            return not sentence.is_question(start) and not sentence.places(_OF_IT_ALL, start, end)
    return False


def _is_doubted_behind(sentence: Sentence, field: str, end: int) -> bool:
    """Whether a clause goes on that only doubts what is told before it: `... and I might change it`."""
    if sentence.at(end) not in ("and", "but", "so"):
        return False
    span = sentence.clause_of(end)
    is_doubt = sentence.places(words.DOUBTS | _MAY, *span) or any(
        span[0] <= x < span[1] for x, _ in sentence.phrases(_ANYWHERE)
    )
    return bool(is_doubt) and not any(sentence.read[slice(*span)]) and not _is_of_other(sentence, field, *span)


def is_guessed(sentence: Sentence, first: int, last: int) -> bool:
    """Whether the name of a car is only guessed: `I think it's a ...`, `a ..., if I remember`."""
    start, end = sentence.clause_of(first)
    if any(last <= x < end for x, _ in sentence.phrases(_WHICH)):
        return True
    for x, y in sentence.phrases(_GUESSING):
        is_before = start <= x and y < first <= y + _NEAR and sentence.at(y) in _IT
        is_end = not sentence.at(y).isalpha() or sentence.at(y) in ("right", "correctly", "rightly")
        if is_before or (last <= x <= last + 1 and is_end):
            return True
    return False


def _is_bare_question(sentence: Sentence, field: str, first: int, last: int) -> bool:
    """Whether a clause has nothing else and asks: `1.2 bar boost?`; not where the next one says yes."""
    start, end = sentence.clause_of(first)
    following = sentence.at(end)
    is_plain = field == "layout" and told_in(sentence, *sentence.clause_of(min(end, len(sentence.words) - 1))) == ["no"]
    if (
        field != "gauge"
        and not is_plain
        and following in _REFUSALS
        and sentence.at(end + 1) not in ("more", "less", "need")
    ):
        return True
    if following in _REPLIES or any(sentence.cars[x] for x in range(start, end)):
        return False
    beside = [x for x in (*range(start, first), *range(last, end)) if sentence.words[x].is_word]
    return all(sentence.read[x] or sentence.at(x) in _SMALL for x in beside)


def _is_left_open(sentence: Sentence, field: str, place: int) -> bool:
    """Whether the next clause takes it back, or asks whether it is right."""
    clause = sentence.words[place].clause + 1
    spans = [x for x in sentence.clauses[clause : clause + 4] if told_in(sentence, *x)]
    if spans and told_in(sentence, *spans[0]) in _APOLOGIES:
        spans = spans[1:]
    for start, end in spans[:1]:
        said = told_in(sentence, start, end)
        if sentence.at(end - 1) == "?" and (_TAGS.issuperset(said) or said[0] == "or"):
            return True
        for x, y in sentence.phrases(_RETRACTING):
            rest = (*told_in(sentence, start, x), *told_in(sentence, min(y, end), end))
            is_of_it = _OF_IT.issuperset(rest) or not _OF_THE_SPEAKER.intersection(told_in(sentence, x, y))
            goes_on = not rest and sentence.at(end - 1) == "," and end < len(sentence.words)
            behind = sentence.clause_of(end)[1] if goes_on else end
            is_own = any(sentence.read[start:x]) or _is_of_other(sentence, field, start, behind)
            if start <= x < end and is_of_it and not is_own:
                return True
    return False
