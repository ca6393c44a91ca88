"""Whether what is said is meant: denied before or behind it, doubted, or asked."""

from itertools import pairwise

from service.reading.questions import words
from service.reading.questions.asking import asked
from service.reading.questions.facts import Stance
from service.reading.questions.sentence import Sentence

_PLAIN = words.set_of("plain normal ordinary simple basic standard old small little big same")
_REACH = 9
_BEHIND = 5
_ARTICLES = words.set_of("a an the my our one two size with feed return gauge it")
_HARMLESS_NO = words.set_of(
    "problem hurry wait worries rush more else matter idea other wishes specials frills nothing layout bill "
    "charge invoice"
)
_UNSETTLED = words.set_of(
    "necessarily quite decided sure certain yet settled clear known fixed final determined measured checked"
)
_SAYS_NO_MORE = _UNSETTLED | words.SAYS_NOTHING | words.LIGHT | words.BREAKS | words.DENIED_BEHIND
_LISTED = words.GAUGES | words.RETURNS | words.BLOWN | words.REGULATORS | words.LINKS | words.RAILS
_WHO = words.set_of("i we it one he she they")
_OF_OTHERS = words.set_of("fuel finish colour color budget layout gauge feed car")
"""What a clause may begin with that takes back something else than what was said before."""
_WHERE = words.set_of("on at in from to by")
"""What tells with `not` before it where something is not, and takes nothing back."""
_OF_THE_NEXT = words.set_of("no not never isn't isnt aren't don't dont doesn't")
"""What denies a thing before it only at the end of a clause: else it may be of what follows."""
_CHANGES = words.set_of("touch change alter modify lose losing replace remove disturb swap")
_LEFT_AS_IT_IS = words.FACTORY | {"it", "that", "them", "anything", "line"}
_WANTING = words.set_of("want wish like to intend plan going mean")
_NOT_TO = words.set_of("don't dont not won't wouldn't never cannot can't doesn't")
_UNDOING = words.set_of("forget skip omit drop without")
"""What is denied by a denial before it: `don't forget`, `not without`."""
_LEAVES = words.set_of("leave leaving leaves left take taking keep")
_OFF = words.set_of("off out away")
_STAYS = words.set_of("can may could should must stay stays go come be left kept")
_DROPS = words.set_of("skip skips omit drop drops ditch scrap cancel avoid")
_TWO = words.phrases_of(
    "anything but, everything but, all but, any but, anything except, everything except, all except, any except, apart "
    "from, forget about, spare me, other than, rather than, leave out, leaving out, left out, leave off, leaving off"
)
"""Two words that deny what follows them."""
_GOING = words.phrases_of(
    "can go, may go, could go, must go, has to go, have to go, is to go, goes, is out, are out, comes off"
)
"""What denies a thing before it where the clause ends with it: `the gauge can go`."""
_WAITS = (["no", "wait"], ["wait"], ["wait", "no"], ["hang", "on"], ["hold", "on"], ["scratch", "that"], ["oh", "wait"])
"""A clause that takes back what stands before it, whatever follows."""
_LACKING = words.set_of("space room place need use call reason")
"""What denies a thing behind it where there is none of it: `no space for a gauge`."""
_CLOSING = words.set_of("please thanks thank too also then altogether and")
_OF_BYPASSED = words.set_of("the that this my our its")
_OTHERWISE = (["if", "not"], ["otherwise"], ["failing", "that"], ["or", "else"])
"""A clause that makes the next one what is wished only if another thing fails."""
_REST = words.STOCK | words.set_of("nothing unchanged untouched everything all plain")
"""What tells behind `otherwise` how all the rest is."""
_OFFERING = words.set_of("could would")
_QUOTING = words.set_of("quote price send prepare put")
"""What is asked for politely: `any chance you could quote ...`."""
_IFS = words.DENIALS | words.set_of("if when unless or possible")
_BARE = 4
_SHORT = 2
_ALL = words.set_of("any anything anywhere all every everything")


def stance_of_name(sentence: Sentence, first: int) -> Stance:
    """Whether a name is meant: denied only where a denial stands right before it, as other words may be denied too."""
    start, _ = sentence.clause_of(first)
    for place in range(first - 1, max(start, first - 4) - 1, -1):
        if sentence.at(place) in ("not", "isn't", "no", "never", "ain't", "nicht", "kein"):
            return "no"
        if sentence.at(place) not in ("the", "a", "an", "for", "my", "our", "it's", "it", "is", "with", *_PLAIN):
            break
    return "doubt" if _is_doubted(sentence, start, first) else "yes"


def stance_of(sentence: Sentence, first: int, last: int) -> Stance:
    """Whether words are meant, denied, or neither surely."""
    before, behind = _before(sentence, first), _behind(sentence, first, last)
    if behind == "yes" and is_taken_back(sentence, last, is_denied=before == "no"):
        behind = "doubt"
    if behind == "yes":
        return asked(sentence, first, last) if before == "yes" else before
    if before == "no" and behind == "no":
        return "doubt"
    if before == "doubt" or behind == "doubt":
        return "doubt"
    return "no"


def _before(sentence: Sentence, first: int) -> Stance:
    """How the words before tell it: the nearest denial that reaches so far, or a doubt anywhere in the clause."""
    start, _ = sentence.clause_of(first)
    doubt: Stance = "doubt" if _is_doubted(sentence, start, first) else "yes"
    joined = False
    for place in range(first - 1, max(start, first - _REACH) - 1, -1):
        word = sentence.at(place)
        if word == "nor":
            return "no"
        if word == "or" and place == first - 1 and sentence.at(first + 1) != "not":
            continue
        if _is_denial(sentence, place):
            return "doubt" if joined or doubt == "doubt" else "no"
        if word == "but" and sentence.places(_ALL, start, place):
            return "no"  # as in `any finish but copper`
        if word in words.JOINS:
            if sentence.at(place + 1) in _ARTICLES:
                return doubt
            joined = True
        elif _is_so(sentence, place) or _is_break(sentence, place):
            return doubt
        elif word in _LISTED and {"or", "nor"} & {sentence.at(x) for x in range(place + 1, first)}:
            continue
        elif word in _LACKING and sentence.at(place - 1) in ("no", "without", "enough") and place < first - 1:
            return "no"
        elif not (word in words.LIGHT or word in ("or", "nor", "-")) and sentence.words[place].is_word:
            return "doubt" if _is_denied_farther(sentence, start, place) else doubt
    return doubt


def _is_denial(sentence: Sentence, place: int) -> bool:
    """Whether a word denies what follows, alone or with the word beside it: `anything but`, `instead of`."""
    if 0 <= place < len(sentence.cars) and sentence.cars[place]:
        return False  # of a name
    word, before, behind = sentence.at(place), sentence.at(place - 1), sentence.at(place + 1)
    is_two = f"{before} {word}" in _TWO or (word == "instead" and behind == "of")
    if is_two or (word == "on" and before == "up" and sentence.at(place - 2).startswith(("gave", "giv"))):
        return True
    if word == "nothing" and behind in _WHERE - {"from", "by"}:
        return True
    if word in ("o", "out") and before == "/" and sentence.at(place - 2) == "w":
        return True
    is_none = word == "not" and behind in ("only", "just", "more", "over", "above")
    is_none = is_none or (word == "no" and behind in ("less", "problem", "doubt", "matter", "."))
    is_none = is_none or (word == "no" and behind == "more" and sentence.at(place + 2) in ("than", ""))
    is_none = is_none or (word == "minus" and (behind in words.NUMBERS or behind[:1].isdigit()))
    is_none = is_none or (word == "bypass" and behind not in _OF_BYPASSED) or _is_of_change(sentence, place)
    is_none = is_none or (word in _NOT_TO and behind in _UNDOING) or (word in _UNDOING and before in _NOT_TO)
    return word in words.DENIALS and not is_none


def _is_of_change(sentence: Sentence, place: int) -> bool:
    """Whether a word denies that something is changed, or is of the change: `I don't want to lose it`."""
    if sentence.at(place) in _CHANGES:
        start = sentence.clause_of(place)[0]
        return any(_is_of_change(sentence, x) for x in range(max(start, place - _SHORT - 1), place))
    behind = place + 1
    while behind < place + _SHORT + 2 and sentence.at(behind) in _WANTING:
        behind += 1
    thing = sentence.at(behind + 1 + (sentence.at(behind + 1) in ("the", "my", "our")))
    return sentence.at(place) in _NOT_TO and sentence.at(behind) in _CHANGES and thing in _LEFT_AS_IT_IS


def _is_break(sentence: Sentence, place: int) -> bool:
    """Whether a word ends the reach of a denial before it; `not with` does not."""
    word = sentence.at(place)
    return word in words.BREAKS and not (
        word == "with" and sentence.at(place - 1) in ("not", "never", "isn't", "bother")
    )


def _is_so(sentence: Sentence, place: int) -> bool:
    """Whether `so` begins what follows from before: `replacing the rail, so stock power`; not `not so much`."""
    return sentence.at(place) == "so" and sentence.at(place - 1) not in words.DENIALS


def _is_denied_farther(sentence: Sentence, start: int, before: int) -> bool:
    """Whether a denial stands farther off, over words that may turn it."""
    for place in range(before, max(start, before - _REACH) - 1, -1):
        if sentence.at(place) in words.BREAKS or sentence.at(place) in words.JOINS or _is_so(sentence, place):
            return False
        if sentence.at(place) in ("no", "without", "none", "neither"):
            is_odd = not (sentence.read[before] or sentence.at(before) in _LISTED)
            return place == before - 1 and is_odd  # else of what stands right behind it
        if _is_denial(sentence, place):
            return True
    return False


def _is_doubted(sentence: Sentence, start: int, first: int) -> bool:
    """Whether a word before makes it doubtful: maybe, or not, with or without."""
    before = sentence.words[first].clause - 1
    if before >= 0 and told_in(sentence, *sentence.clauses[before]) in _OTHERWISE:
        return True
    for place in range(start, first):
        word = sentence.at(place)
        if word == "otherwise" and sentence.at(place + 1) in _REST:
            continue
        if word == "if" and sentence.at(place + 1) in ("so", "yes") and not sentence.at(place + 2).isalpha():
            continue  # `if so: NAME`
        if word == "if" and sentence.at(place + 1) == "you" and sentence.at(place + 2) in _OFFERING:
            continue  # politely: `I'd be glad if you could quote ...`
        if word in words.DOUBTS or (word == "not" and sentence.at(place + 1) in ("sure", "certain", "decided")):
            return True
        following = sentence.at(place + 1)
        if word in ("could", "may") and place > start and following not in (*_WHO, "you", "do", *_QUOTING):
            return True
        if word in ("don't", "dont", "not") and sentence.at(place + 1) in ("know", "mind", "care", "matter"):
            return True
        if word == "or" and sentence.at(place + 1) in ("not", "without", "no", "with", "maybe"):
            return True
        is_both = word in ("with", "without", "w") and sentence.at(place + 1) in ("or", "and", "/")
        if is_both and sentence.at(place + 2) in ("with", "without", "no", "w"):
            return True
    return False


def _behind(sentence: Sentence, begin: int, last: int) -> Stance:
    """How the words behind tell it: `gauge: no`, `a gauge is not needed`, `return? no`."""
    end = len(sentence.words)
    off = last
    while off < last + _SHORT + 1 and sentence.at(off) in _STAYS:
        off += 1
    if sentence.at(off) in _OFF:
        is_left = sentence.places(_LEAVES, *sentence.clause_of(last - 1)) if off == last else None
        if is_left or (off > last and not _goes_on(sentence, off + 1)):
            return "no"
    if sentence.at(last) in _WHO and _is_dropped(sentence, last + 1):
        return "no"
    is_led = sentence.at(begin - 1 - (sentence.at(begin - 1) in _ARTICLES)) in _WHERE  # `to the middle must go`
    if not is_led and any(x == last and not _goes_on(sentence, behind) for x, behind in sentence.phrases(_GOING)):
        return "no"
    for place in range(last, min(end, last + _BEHIND)):
        word = sentence.at(place)
        if word in words.DENIED_BEHIND:
            following = sentence.at(place + 1)
            is_end = not following or (
                not sentence.words[place + 1].is_word and not sentence.words[place + 1].is_number
            )
            is_whole = is_end or following in words.NEEDED or word not in _OF_THE_NEXT
            return "no" if is_whole else "yes"
        if word == "or" and sentence.at(place + 1) in ("not", "without", "no", "none", "something", "so", "similar"):
            return "doubt"
        if word == "otherwise" and not _goes_on(sentence, place + 1) and not _is_conditional(sentence, place):
            return "yes"  # the rest, as in `factory line otherwise`
        if word in words.DOUBTS and (word != "if" or sentence.at(place + 1) in ("possible", "you", "it", "that")):
            return "doubt"
        if word not in (":", "=", "-", "?", "is", "are", "was", "will", "be", "can", "we", "i", "he", "she", "they"):
            return "yes"
    return "yes"


def _is_conditional(sentence: Sentence, place: int) -> bool:
    """Whether a condition stands before, or a denial, that `otherwise` answers."""
    word = sentence.words[place]
    start, _ = sentence.clauses[max(word.clause - _BEHIND, 0)]
    return any(sentence.words[x].sentence == word.sentence for x in sentence.places(_IFS, start, place))


def _is_dropped(sentence: Sentence, place: int) -> bool:
    """Whether a verb behind a thing and who does it leaves it out: `the gauge I leave away`, `the gauge we skip`."""
    is_left = sentence.at(place) in _LEAVES and sentence.at(place + 1) in _OFF
    return is_left or sentence.at(place) in _DROPS


def _goes_on(sentence: Sentence, place: int) -> bool:
    """Whether a word of the same clause stands at a place that is more than politeness."""
    _, end = sentence.clause_of(place - 1)
    return place < end and sentence.words[place].is_word and sentence.at(place) not in _CLOSING


def is_taken_back(sentence: Sentence, last: int, *, is_denied: bool = False) -> bool:
    """Whether the next words only take back or doubt: `a gauge, but maybe not`, `300 hp, well, not sure yet`. What is
    denied is not taken back where they deny as well: `no gauge, I never look at it`."""
    clause = sentence.words[last - 1].clause
    of_cars = {sentence.words[first].clause for first, _ in sentence.phrases(words.ABSENT)}
    behind = [span for span in sentence.clauses[clause + 1 : clause + 1 + _BEHIND] if told_in(sentence, *span)]
    for start, end in behind[:2]:
        if sentence.words[start].clause in of_cars:
            return False
        told = told_in(sentence, start, end)
        if told in _WAITS:
            return True
        if told[0] == "otherwise" and _REST.intersection(told[1:2]):
            return False  # as in `otherwise stock`
        if any(sentence.read[start:end]):
            return False  # it tells another thing
        if _OF_OTHERS.intersection(told[:2]) or (told[0] == "not" and told[1:2] and told[1] in _WHERE):
            return False
        if any(x not in _SAYS_NO_MORE for x in told) or any(
            x in words.DENIALS and y in _HARMLESS_NO for x, y in pairwise(told)
        ):
            return False
        if any(_is_of_change(sentence, x) for x in range(start, end)):
            return False
        if any(x in words.DENIALS or x in words.DOUBTS or x in words.DENIED_BEHIND for x in told):
            return not is_denied or not words.DOUBTS.isdisjoint(told)
        if len(told) >= _BARE:
            return False  # a statement of its own has come between
    return False


def told_in(sentence: Sentence, start: int, end: int) -> list[str]:
    """The words and numbers of a span, without signs."""
    return [word.text for word in sentence.words[start:end] if word.is_word or word.is_number]
