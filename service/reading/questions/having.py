"""Whether words tell what somebody has already."""

from collections.abc import Sequence
from itertools import pairwise

from service.reading.questions import words
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_BEFORE, _BEHIND = 40, 7
LISTED = (
    words.set_of("and & , x pcs of the a an my our his piece pieces already got also some to both own + plus")
    | words.set_of("as well together along with still pair couple spare bunch handful lot lots box bag set loose")
    | words.NUMBERS.keys()
)
_HAD = words.set_of("have kept has got own owns i've we've having he's she's keep reuse existing there's are is")
_STANDS = words.set_of("is are lies lie lying sits sit were was")
_WHO = words.set_of("i we he she they which that")
_NOT_HAD = words.set_of("don't not need want haven't never would could")
_WISHED = words.set_of("to will i'll should must would want need could do does can may like")
_NOT_MINE = words.set_of("you you've they shop who anyone")
_NOT_THESE = words.set_of("basket cart another other different wrong")
_BOUGHT = words.set_of("bought purchased ordered sold")
_MINE = words.set_of("i we he she and i've we've he's she's")
_LIES_AT = words.set_of("toolbox cupboard bench drawer shelf garage workshop hand")
_WANTED = words.set_of("need needed needs want wanted wants required")
_THINGS = words.set_of("parts bits pieces things stuff items following these already here left")
VAGUE = words.set_of("some several few couple various many bunch handful lot lots box bag")


def is_had(sentence: Sentence, first: int, last: int) -> str:
    """Whether words tell what somebody has: yes, no or doubt."""
    stance = stance_of(sentence, first, last)
    how = "no" if stance == "no" else _told_had(sentence, first, last)
    return stance if how == "yes" else how


def _told_had(sentence: Sentence, first: int, last: int) -> str:
    """How the words around a part tell that it is there."""
    start, end = sentence.clause_of(first)[0], sentence.clause_of(last - 1)[1]
    if sentence.at(last) == "," and sentence.at(last + 1) in _STANDS:
        last += 1  # as in `the ..., NUMBER, is here`
        end = sentence.clause_of(last)[1]
    behind = [sentence.at(x) for x in range(last, min(end, last + _BEHIND))]
    if _NOT_THESE.intersection(behind) or ("on", "order") in pairwise(behind):
        return "doubt"
    if _is_there(behind) or (behind[1:2] in (["my"], ["our"]) and _LIES_AT.intersection(behind[2:3])):
        return "yes"
    is_told = len(behind) > 1 and behind[0] in _WHO and not _NOT_HAD.intersection(behind)
    if is_told and (behind[1] in _HAD or (behind[2:3] and behind[2] in _HAD)):
        return "yes"
    if _is_kept(sentence, last):
        return "yes"
    for place in range(first - 1, max(start - 1, first - _BEFORE), -1):
        word = sentence.at(place)
        if word in _BOUGHT:
            is_mine = _holder(sentence, start, place, first) == "yes" and word in ("bought", "purchased")
            is_mine = is_mine and not sentence.places(_WISHED, start, place)
            return "yes" if is_mine and sentence.places(("already",), start, place) else "doubt"
        if word in _HAD:
            return _holder(sentence, start, place, first)
        if word in _LIES_AT and (
            sentence.at(place - 1) in ("my", "our", "his") or sentence.at(place + 1) in (":", "here")
        ):
            return "yes"
        if word == ":" and _is_list_of_had(sentence, start, place):
            return "yes"
        is_listed = word in LISTED or word in VAGUE or not sentence.words[place].is_word
        is_listed = is_listed or word in ("here", "lying", "new", "brand", "old", "there", "already")
        if not is_listed and not _is_of_part(sentence, place, start):
            return "doubt" if "already" in behind or sentence.places(("already",), start, first) else "no"
    return "yes" if sentence.places(("already",), start, first) else _carried(sentence, start, first)


def _is_list_of_had(sentence: Sentence, start: int, colon: int) -> bool:
    """Whether a list follows a colon of things that somebody has: `I have some parts in a box: ...`."""
    having = sentence.places(_HAD - {"is", "are", "there's"}, start, colon)
    is_mine = bool(having) and _holder(sentence, start, having[0], colon) == "yes"
    return is_mine and bool(sentence.places(_THINGS, having[0], colon)) and not sentence.places(_WANTED, start, colon)


def _is_kept(sentence: Sentence, last: int) -> bool:
    """Whether it is told behind a part that somebody still has it: `you sold me ..., and I still have it`."""
    number = sentence.words[last - 1].sentence
    behind = [x for x in range(last, min(len(sentence.words), last + _BEHIND)) if sentence.words[x].sentence == number]
    having = [x for x in behind if sentence.at(x) in _HAD and sentence.at(x + 1) in ("it", "them")]
    return any(sentence.at(x - 1 - (sentence.at(x - 1) == "still")) in _MINE for x in having)


def _is_there(behind: Sequence[str]) -> bool:
    """Whether the words behind a part say that it is there: `is already fitted`, `lies on the bench`."""
    if not (_STANDS.intersection(behind[:2]) or "already" in behind) or {"not", "needed", "wanted"} & set(behind):
        return False
    is_asked = behind[0] in ("is", "are") and behind[-1] == "?"
    return not is_asked and any(x in words.HAVE_BEHIND and (x != "left" or behind[0] in ("is", "are")) for x in behind)


def _is_of_part(sentence: Sentence, place: int, start: int) -> bool:
    """Whether a word is of another part that is listed before: it has been read as one that is had."""
    return sentence.read[place] and place > start


def _carried(sentence: Sentence, start: int, first: int) -> str:
    """Whether a list of what somebody has goes on from the clause before."""
    clause = sentence.words[first].clause
    if clause == 0 or sentence.at(start - 1) not in (",", "and", "/", "+"):
        return "no"
    before = sentence.clauses[clause - 1]
    if sentence.places(_WANTED, *sentence.clauses[clause]) or sentence.places(words.DENIALS, *before):
        return "doubt"
    return (
        "yes"
        if sentence.places(_HAD | _LIES_AT | {"already"}, *before)
        and any(sentence.read[x] for x in range(*before))
        and sentence.places({"already", "and", *_LIES_AT}, before[0], first)
        else "no"
    )


def _holder(sentence: Sentence, start: int, verb: int, first: int) -> str:
    before = [sentence.at(x) for x in range(max(start, verb - 4), verb)]
    if any(x in _NOT_MINE for x in before):
        return "no"
    if sentence.at(verb) in ("is", "are"):
        end = sentence.clause_of(first)[1]
        lying = [x for x in sentence.places(words.HAVE_BEHIND, start, end) if sentence.at(x - 1) != "your"]
        return "yes" if sentence.at(verb - 1) == "there" and lying and not sentence.is_question(first) else "no"
    if _WISHED.intersection(before[-2:]) and not sentence.places(("already",), start, first):
        return "no"
    return "yes"
