"""Whether all words of a clause are read, or known to change nothing of what it tells."""

import re
from itertools import pairwise

from service.reading.casting import CASTING, is_form_of
from service.reading.common import is_common
from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.asides import is_called
from service.reading.questions.sentence import Sentence
from service.reading.questions.units import CURRENCIES, UNITS

OF_HOSES = words.set_of("feed_hose_m return_hose_m")
_CARRIES = words.set_of("carry carries stand cope manage")
_BESIDE = _CARRIES | words.set_of(
    "agreed asap asking asks away bank between bog bone braided btw caller cams camshaft cheap cheapest colour "
    "connector conversion daily dead dragster dream eigene eigenen eigener else end enough everyone everywhere fancy "
    "found friday fyi handier handiest himself idea incl kept leave live mentioned monday motorsport must nb near "
    "nearby owner perch perched plumb remain remains remap rest restoration saturday side sit sits sound sounds span "
    "spans speak spec stays still straight sunday than thanx thread throughout thrown thursday thx tuesday twin under "
    "urgently wear wears wednesday weld yet unnecessary unneeded unwanted superfluous omitted"
)
"""What may stand in a clause and changes nothing of what it tells; a question may turn on it."""
_KNOWN = _BESIDE.union(words.BREAKS, words.LIGHT, words.SAYS_NOTHING, words.BODIES)
_BEFORE_NAMES = words.set_of("from near mr mrs ms dr at in")
_IDLE = words.set_of("over some bought old new shop garage customer out put left paid return")
"""What tells of a hose that lies about."""
_OF_A_RUN = frozenset().union(
    (words.LIGHT | words.SAYS_NOTHING) - _IDLE,
    *(words.BULKHEAD, words.RAILS, words.HOSES, words.LENGTHS, words.PLACES, words.FEEDS, words.RETURNS),
    words.set_of("cut end metres meters bay tank front back rear short pump chassis measure"),
)
"""What may stand beside the length of a hose that is to be laid: where it runs, and nothing that tells of another."""
_OF_A_SUM = _KNOWN.union(
    *(words.BUDGETS, words.HAVE_BEHIND, words.PRICED, CURRENCIES),
    words.set_of("maximal tops under allows hochstens hoechstens vat gave"),
)
"""What may stand beside the most that may be spent."""
_FORM = re.compile(r"([a-z]{3,})(?:s|es|ed|ing)")
_THEREFORE = words.set_of("so therefore hence thus")
_NO_REASON = words.set_of("far that called long much")
_AS_IT_WAS = frozenset().union(words.HOSES, words.FEEDS, words.RETURNS, words.REGULATORS, {"it", "car", "which"})
_RETOLD = (words.PLACES.keys() | words.SIDE, words.RETURNS, words.FACTORY | words.BULKHEAD)
"""What is put right only by another of its kind."""
_WISHED = words.set_of("i we want wants need needs like would please i'd we'd i'll we'll")


def stories_in(sentence: Sentence) -> frozenset[int]:
    """The words of clauses that only tell how it came to the wish: `the garage wrecked the regulator, so I'd ...`, how
    it was: `it had a return`, or what is put right at once: `end feed? I mean the middle`."""
    spans = [x for x in sentence.clauses if any(sentence.words[y].is_word for y in range(*x))]
    found = {y for x in spans if _tells_of_before(sentence, *x) for y in range(*x)}
    for (start, end), (behind, _) in pairwise(spans):
        is_reason = sentence.at(behind) in _THEREFORE and sentence.at(behind + 1) not in _NO_REASON
        is_reason = is_reason and not (sentence.places(_WISHED, start, end) or any(sentence.cars[start:end]))
        is_reason = is_reason and any(_may_be_done(sentence, x) for x in range(start, end))
        is_retaken = sentence.at(end - 1) == "?" and (sentence.at(behind), sentence.at(behind + 1)) == ("i", "mean")
        retold = [known for known in _RETOLD if sentence.places(known, start, end)]
        is_retaken = is_retaken and all(sentence.places(known, *sentence.clause_of(behind)) for known in retold)
        found.update(range(start, end) if is_reason or is_retaken else ())
    return frozenset(found)


def _may_be_done(sentence: Sentence, place: int) -> bool:
    """Whether an unknown word may tell what somebody did: not `dual feed`."""
    return not _is_known(sentence, place, _KNOWN) and sentence.at(place + 1) not in _AS_IT_WAS


def _tells_of_before(sentence: Sentence, start: int, end: int) -> bool:
    """Whether a clause tells of the car or its fuel as it was."""
    return any(
        x == start or sentence.cars[x - 1] or sentence.at(x - 1) in _AS_IT_WAS
        for x in sentence.places(("was", "were", "had"), start, end)
    )


_THINGS = words.RAILS | {"kit", "setup", "set-up", "leaves"}
"""What no field tells more of by the word before it: of what leaves room no more than of the rail."""
_ARTICLES = words.set_of("a an the my our his her their your its some this that these those")
_TO_THING = words.set_of("for of from in at by on near behind under after since during")
_SMALL = words.LIGHT | words.DENIALS | words.BREAKS | words.DOUBTS | _TO_THING | _ARTICLES
_LEADING = _TO_THING | words.set_of("through over past with to into onto around across about via")
_OF_FIGURES = words.set_of("power_kw boost_kpa clearances")
_DESCRIBED = words.set_of("finish max_price layout gauge")
_OF_NOW = words.set_of("gauge finish fuel layout addons")
_WISHING = words.set_of("would should shall will must please could")
_OF_AMOUNTS = words.set_of("under over below above within around about up")
"""What changes nothing but the amount it stands before."""
_LONGEST_ASIDE = 2
_TELLING_OF_IT = words.set_of(
    "bring build built burn fix fit find found hit hear heat hold imagine intend keep kept mean picture see sit wear "
    "spring summer winter autumn season version together brother sister cousin drive ride rode feel head hot past own "
    "stay stick style shape light soft twin"
)
"""Of the words that cast doubt on an order those that tell of a car what it is, or what is wished."""
_DOUBTING = (CASTING - _TELLING_OF_IT) | words.set_of(
    "hate loathe dislike detest despise fear dread envy curse suspect complain worry worried scare tempt clash ugly "
    "awful terrible horrible bad badly rubbish nonsense silly wrong ruin ruined dangerous illegal forbid forbidden "
    "lost scratch leak rupture corrode tear torn fade fog peel boast rumour rumor brochure advert legend myth tale "
    "fantasy exaggerate pretend wonder struggle vanish disappear evaporate matter hero trade debate against read "
    "article magazine far once manual bigger shelf bench drawer bed cellar attic shed barn loft corner floor catch "
    "eye wait brought budget cheaper claim clarify discussion disregard draft example gave held idea leave needless "
    "pause question recipe recommendation rid sell since sold spent stolen struck suspend taken times took"
)
"""What casts doubt on what its clause tells."""


def is_accounted_for(sentence: Sentence, field: str, first: int, start: int, end: int) -> bool:
    """Whether all words of a clause are read, or known to change nothing of a value that begins at a place: not `3 m of
    hose on the floor`. What a car is told of before a colon changes nothing of what follows."""
    known = _OF_A_RUN if field in OF_HOSES else _OF_A_SUM if field == "max_price" else _KNOWN
    if sentence.is_question(start):
        known = known - _BESIDE | _CARRIES
    start = max((x + 1 for x in sentence.places((":",), start, first) if _leads_on(sentence, start, x)), default=start)
    if field in _OF_FIGURES and sentence.is_question(start):
        start = _car_of(sentence, first, start)
    odd = [x for x in range(start, end) if not _is_known(sentence, x, known)]
    if field == "layout" and sentence.places(("alone",), first, end):
        odd = [x for x in odd if sentence.at(x) not in ("leave", "leaving", "alone")]
    people = [] if any(sentence.cars[start:end]) else [x for x in range(start, end) if is_called(sentence.at(x))]
    if not (field in OF_HOSES or sentence.is_question(start) or (people and field in _OF_FIGURES)):
        odd = [x for x in odd if not _is_harmless(sentence, field, x, first, start)]
    return all(_is_of_thing(sentence, x) for x in odd)


def _leads_on(sentence: Sentence, start: int, colon: int) -> bool:
    """Whether what stands before a colon changes nothing of what follows: a car, or words that cast no doubt."""
    told = [sentence.at(x) for x in range(start, colon)]
    is_doubted = any(is_form_of(y, _DOUBTING) for x in told for y in _stems(x))
    return any(sentence.cars[start:colon]) or ((words.DENIALS | words.DOUBTS).isdisjoint(told) and not is_doubted)


def _car_of(sentence: Sentence, first: int, start: int) -> int:
    """Where the name of the car ends that a figure is told of, whatever else is asked: `does it do for a ... with 200
    kW?`; else where the clause begins."""
    place = first - 1
    if sentence.at(place) == "for":
        return place  # as in `is it enough for 200 kW?`
    while place > start and not sentence.cars[place] and sentence.at(place) in _SMALL | words.SAYS_NOTHING:
        place -= 1
    return place if sentence.cars[place] else start


def _is_harmless(sentence: Sentence, field: str, place: int, first: int, start: int) -> bool:
    """Whether an unknown word is a common one that casts no doubt, and names no other thing that a value that begins at
    a place may belong to: `the starter draws 2 kW`, `2 kW heater`."""
    stems = _stems(sentence.at(place))
    if any(is_form_of(x, _DOUBTING) for x in stems):
        return False
    if not any(is_common(x) for x in stems):
        return place > first and sentence.at(_leader(sentence, place, first)) == "from"
    return sentence.at(place) in _LEADING or not _is_other_thing(sentence, field, place, first, start)


def _leader(sentence: Sentence, place: int, stop: int) -> int:
    """Where the small word stands that leads on to a word: `from` of `from a smaller pulley`."""
    place -= 1
    while place > stop and (_is_plain(sentence, place) or sentence.at(place) in _ARTICLES):
        place -= 1
    return place


def _is_other_thing(sentence: Sentence, field: str, place: int, first: int, start: int) -> bool:
    """Whether a word stands right behind a value, or before it behind an article, with no car between."""
    if field == "clearances" and any(sentence.cars[start:place]):
        return False  # of which the spot tells whose it is
    if place == start and field in _OF_FIGURES and not sentence.words[place + 1].is_number:
        return not sentence.at(place).endswith(("ly", "ed", "ing"))  # as in `insurance covers 200 kW`
    last = first
    while last < place and sentence.read[last]:
        last += 1
    if place >= first:
        return place == last or (field in _OF_NOW and _is_told_of(sentence, place, first, start))
    if field in _DESCRIBED and all(_is_plain(sentence, x) for x in range(place, first)):
        return False  # as in `a rich copper finish`
    before = place - 1
    while before > start and _is_plain(sentence, before):
        before -= 1
    is_led = sentence.at(before) in _ARTICLES and sentence.at(before - 1) not in _LEADING
    goes_on = any(sentence.cars[start:place]) and bool(sentence.places(("and", "which"), place, first))
    return is_led and not goes_on and not any(sentence.cars[place:first])


def _is_told_of(sentence: Sentence, place: int, first: int, start: int) -> bool:
    """Whether a word tells something of a value that begins its clause: `the gauge on top points to zero`."""
    before = _leader(sentence, place, first)
    is_led = sentence.at(before) in _LEADING or not sentence.words[before].is_word
    is_begun = all(sentence.at(x) in _SMALL for x in range(start, first))
    is_begun = is_begun and bool(sentence.at(start) in _ARTICLES or sentence.places(("is", "are"), first, place))
    return is_begun and not is_led and not sentence.places(_WISHING, first, place)


def _is_of_thing(sentence: Sentence, place: int) -> bool:
    """Whether an unknown word stands between an article and a car, or the rail: `a naturally aspirated NAME`."""
    first, last = place, place + 1
    while place - first <= _LONGEST_ASIDE and _is_plain(sentence, first - 1):
        first -= 1
    while last - place <= _LONGEST_ASIDE and _is_plain(sentence, last) and sentence.at(last) not in _THINGS:
        last += 1
    is_named = sentence.at(last) in _THINGS or (last < len(sentence.cars) and sentence.cars[last])
    return is_named and (sentence.at(first - 1) in _ARTICLES or sentence.at(last) == "leaves")


def _is_plain(sentence: Sentence, place: int) -> bool:
    """Whether a word may describe what it stands before: nothing was made of it, and it is no small word."""
    if not 0 <= place < len(sentence.words) or sentence.read[place] or not sentence.words[place].is_word:
        return False
    return sentence.at(place) not in _SMALL


def _is_known(sentence: Sentence, place: int, known: frozenset[str]) -> bool:
    word = sentence.words[place]
    if sentence.is_capital(place) and sentence.at(place - 1) in _BEFORE_NAMES:
        return True
    if sentence.read[place] or not word.is_word or len(word.text) == 1 or "'" in word.text:
        return True
    if word.text == "left" and sentence.at(place + 1) in ("off", "out", "away", "alone"):
        return True
    if word.text in UNITS and sentence.words[place - 1].is_number and place:
        return True  # of an amount that tells nothing: `at 7000 rpm`
    if word.text in _OF_AMOUNTS and (sentence.at(place + 1)[:1].isdigit() or sentence.at(place + 1) in CURRENCIES):
        return True
    is_of_trade = known is not _OF_A_RUN and singular(word.text) in sentence.trade
    return is_of_trade or is_called(word.text) or not known.isdisjoint(_stems(word.text))


def _stems(text: str) -> tuple[str, ...]:
    """A word, and what it may be a form of: `burning`, `fitted`, `takes`."""
    found = _FORM.fullmatch(text)
    if found is None:
        return (text,)
    is_doubled = found[1][-1] == found[1][-2]
    return text, found[1], found[1] + "e", found[1][:-1] if is_doubled else text
