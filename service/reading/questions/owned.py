"""What the customer has: parts, a rail by another maker, hoses of some length; and what must be in stock."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product

from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.facts import MOST_CHOICES, Choice, Found, Open, Understood
from service.reading.questions.gauges import is_other_gauge
from service.reading.questions.having import LISTED, VAGUE, is_had
from service.reading.questions.lexicon import Lexicon
from service.reading.questions.misspelt import NearParts
from service.reading.questions.names import Hit
from service.reading.questions.numbers import numbers_of
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_BEHIND, _SHORT = 7, 5
_MOST_PARTS, _MOST_PIECES = 50, 10_000
_SEPARATING = frozenset(",;\n&+") | {"and", "plus"}
_CLOSING = frozenset(".!?:")
_ASIDE = words.LIGHT | words.SAYS_NOTHING | words.HAVE_BEHIND | words.set_of("time box still")
"""What may stand behind a part on a list and tells only where it comes from, or lies."""
_ASKS = "Which part of ours is there already, and how many of it?"
_APPOSING = words.set_of("( , : - . sku number part no nr ref code art already here x")
"""What may stand between what a part is called in general and its number."""


@dataclass(frozen=True, slots=True)
class PartSaid:
    """Words that name a part of the catalog whole; `is_weak`: they may be words of every day; `is_sku`: its number;
    `number`: where that begins, if what the part is called in general stands before it."""

    skus: tuple[str, ...]
    first: int
    last: int
    is_weak: bool
    is_sku: bool = True
    number: int = -1


def parts_in(sentence: Sentence, lexicon: Lexicon) -> list[PartSaid]:
    """The parts that a text names."""
    tokens = sentence.tokens
    found = []
    for one in lexicon.parts.mentions(sentence.plain, tokens):
        first, last = sentence.within(tokens[one.first].start, tokens[one.last - 1].end)
        is_short = one.last - one.first == 1 and not tokens[one.first].is_number
        skus = tuple(dict.fromkeys((*one.skus, *one.torn)))
        is_sku = one.how in ("sku", "family")
        found.append(PartSaid(skus, first, max(last, first + 1), one.is_weak or is_short, is_sku))
    found = [_with_general(sentence, x, lexicon) for x in found]
    general = {place for x in found if x.number >= 0 for place in range(x.first, x.number)}
    return [x for x in found if x.number >= 0 or x.first not in general]


def _with_general(sentence: Sentence, part: PartSaid, lexicon: Lexicon) -> PartSaid:
    """A part's number with what it is called in general before it: `2 hollow plugs (NUMBER)`, `the rail, NUMBER`."""
    kinds = {lexicon.kinds.get(x, "") for x in part.skus}
    place = part.first - 1
    while part.first - place < _SHORT and (sentence.at(place) in _APPOSING or sentence.at(place) in words.NUMBERS):
        place -= 1
    word = sentence.at(place)
    if place < 0 or not part.is_sku or part.is_weak or {words.KINDS.get(word, singular(word))} != kinds:
        return part
    is_apart = any(not sentence.words[x].is_word for x in range(place + 1, part.first))
    last = part.last + (sentence.at(part.last) == ")")
    while is_apart and part.first - place < _BEHIND and _describes(sentence, place - 1, lexicon):
        place -= 1
    return replace(part, first=place, last=last, number=part.first)


def _describes(sentence: Sentence, place: int, lexicon: Lexicon) -> bool:
    text = sentence.at(place)
    return text.isalpha() and text in lexicon.parts.docs_with and text not in words.NUMBERS.keys() | words.LIGHT


def dials_in(sentence: Sentence, parts: Sequence[PartSaid], lexicon: Lexicon, had: Found) -> list[PartSaid]:
    """Those of the parts that are gauges, by what they are called, and are not had: a gauge is wished, or none. One
    that is had is wished where it is told where to put it: `wants it on top`."""
    told = [one.value for one in had.understood] + [one.value for one in (had.open.choices if had.open else ())]
    each = [x for one in told for x in (one if isinstance(one, list) else [one])]
    skus = {one["sku"] for one in each if isinstance(one, Mapping)}
    return [
        part
        for part in parts
        if all(lexicon.kinds.get(x) == "gauge" for x in part.skus)
        and (not (part.is_sku or skus.intersection(part.skus)) or _is_placed(sentence, part.last))
    ]


def _is_placed(sentence: Sentence, last: int) -> bool:
    """Whether the part that ends here is told where to go, by `it` in its clause or the next one."""
    clause = sentence.words[last - 1].clause
    end = sentence.clauses[min(clause + 1, len(sentence.clauses) - 1)][1]
    return any(sentence.places(words.PLACES, x, min(end, x + _BEHIND)) for x in sentence.places(("it",), last, end))


def misspelt_in(
    sentence: Sentence, parts: Sequence[PartSaid], others: Iterable[Hit], near: NearParts
) -> list[PartSaid]:
    """What may name parts but for its spelling: numbers, and where a part is named whole, names as well.

    `others`: what else is named whole.
    """
    covered = list(sentence.read)
    named = [(one.first, one.last) for one in parts] + [(one.first, one.last) for one in others]
    for first, last in named:
        covered[first:last] = [True] * (last - first)
    numbers = list(near.numbers_in(sentence, covered))
    for nearly in numbers:
        covered[nearly.first : nearly.last] = [True] * (nearly.last - nearly.first)
    names = near.names_in(sentence, covered) if parts or numbers else ()
    return [PartSaid(one.skus, one.first, one.last, is_weak=False) for one in (*numbers, *names)]


def read_have(
    sentence: Sentence,
    parts: Sequence[PartSaid],
    misspelt: Sequence[PartSaid],
    lexicon: Lexicon,
    taken: Sequence[bool],
) -> Found:
    """The parts that are there already, each with how many. Half a list is a wrong list: it is asked whole."""
    had: dict[str, int] = {}
    understood: list[Understood] = []
    offered: list[list[Choice]] = []
    within = {place for one in misspelt for place in range(one.first, one.last)}
    listed = sorted((*(x for x in parts if x.first not in within), *misspelt), key=lambda one: one.first)
    ends = {one.first: one.last for one in listed}
    before: tuple[int, str] | None = None
    for part in listed:
        how = is_had(sentence, part.first, part.last)
        if how == "no" and before is not None:
            how = _goes_on(sentence, *before, part, ends)
        if how == "no" or (how == "doubt" and part.is_weak):
            continue
        before = part.last, how
        qty, first = _quantity(sentence, part.first, part.last)
        if part.number >= 0 and (inner := _quantity(sentence, part.number, part.last))[1] != part.number:
            qty, first = (None if qty not in (1, inner[0]) else inner[0]), part.first
        sentence.mark(first, part.last)
        names = [Choice({"sku": sku, "qty": qty or 1}, lexicon.parts.parts[sku].name) for sku in part.skus]
        is_sure = len(part.skus) == 1 and part not in misspelt
        if how == "doubt" or qty is None or not is_sure:
            offered.append(names)
            continue
        had[part.skus[0]] = had.get(part.skus[0], 0) + qty
        says = f"{qty} x {names[0].says} at hand"
        understood.append(Understood.of(sentence, first, part.last, "have", names[0].value, says))
    free = [not (is_taken or place in within) for place, is_taken in enumerate(taken)]
    for first, last, found in [*_kinds_had(sentence, free, lexicon), *_rails_had(sentence, free, lexicon)]:
        sentence.mark(first, last)
        offered.append([Choice({"sku": sku, "qty": 1}, lexicon.parts.parts[sku].name) for sku in found])
    if len(had) > _MOST_PARTS or any(qty > _MOST_PIECES for qty in had.values()):
        return Found(open=Open("have", _ASKS))
    if not offered:
        return Found([{"sku": sku, "qty": qty} for sku, qty in had.items()] or None, understood)
    sure = [[Choice({"sku": sku, "qty": qty}, f"{qty} x {lexicon.parts.parts[sku].name}")] for sku, qty in had.items()]
    return Found(open=Open("have", _ASKS, tuple(islice(_whole(list(filter(None, sure + offered))), MOST_CHOICES))))


def _whole(lists: Sequence[Sequence[Choice]]) -> Iterator[Choice]:
    """What may be meant of each part, put together to whole lists; one part alone stands by itself."""
    if len(lists) < 2:
        yield from lists[0] if lists else ()
        return
    for each in product(*lists):
        yield Choice([one.value for one in each], ", ".join(one.says for one in each))


def _goes_on(sentence: Sentence, last: int, how: str, part: PartSaid, ends: Mapping[int, int]) -> str:
    """Whether a part goes on a list of what is had, behind one that ends before `last`; `ends`: of all parts.

    In doubt where more is told of it or of what follows, as in `I have A, B on top` or `I have A; B, C needed`.
    """
    between = range(last, part.first)
    joined = part.first
    while joined > last and _is_of_list(sentence, joined - 1):
        joined -= 1
    if not between or any(sentence.at(x) in _CLOSING for x in between):
        return "no"
    if joined > last:  # an aside stands between: `A left over from last time, plus B`
        if not any(sentence.at(x) in _SEPARATING for x in range(joined, part.first)):
            return "doubt" if sentence.at(joined - 1) in words.DOUBTS else "no"
        is_aside = all(sentence.at(x) in _ASIDE or not sentence.words[x].is_word for x in range(last, joined))
        how = how if is_aside else "doubt"
    stance = stance_of(sentence, part.first, part.last)
    return stance if stance != "yes" else "doubt" if _is_told_more(sentence, part.last, ends) else how


def _is_told_more(sentence: Sentence, place: int, ends: Mapping[int, int]) -> bool:
    """Whether other words stand right behind a part, or behind one that follows it in a list."""
    is_right_behind = True
    while place < len(sentence.words) and sentence.at(place) not in _CLOSING:
        if place in ends:
            place, is_right_behind = ends[place], True
            continue
        if not (_is_of_list(sentence, place) or sentence.at(place) in ("here", "already")):
            return is_right_behind
        is_right_behind = is_right_behind and sentence.at(place) not in _SEPARATING
        place += 1
    return False


def _is_of_list(sentence: Sentence, place: int) -> bool:
    """Whether a word only joins or counts the parts of a list."""
    word = sentence.words[place]
    return word.text in LISTED or word.is_number or not (word.is_word or word.text in _CLOSING)


def _quantity(sentence: Sentence, first: int, last: int) -> tuple[int | None, int]:
    """How many of a part, and where the words for that begin."""
    place = first - 1
    while place >= 0 and sentence.at(place) in ("x", "pcs", "pc", "pieces", "of", "the", "my", "stk", "our", "-"):
        place -= 1
    word = sentence.at(place) if place >= 0 else ""
    if sentence.at(last) == "x" and sentence.at(last + 1).isdigit():
        return int(sentence.at(last + 1)[:6]), first
    if word in VAGUE or (word == "a" and sentence.at(place + 1) in VAGUE):
        return None, first
    if word in words.NUMBERS and words.NUMBERS[word] > 0:
        return words.NUMBERS[word], place
    if word == "pair" or word == "both":
        return 2, place
    if word.isdigit() and sentence.words[place].clause == sentence.words[first].clause:
        values = numbers_of(word)
        return (
            (int(values[0]), place) if len(values) == 1 and values[0].is_integer() and values[0] >= 1 else (None, place)
        )
    return 1, first


def _rails_had(sentence: Sentence, free: Sequence[bool], lexicon: Lexicon) -> Iterator[tuple[int, int, Sequence[str]]]:
    """Rails of ours that are told by their finish: `I already have a graphite rail`."""
    for place in sentence.places(words.RAILS):
        finish = sentence.at(place - 1)
        if free[place] and free[place - 1] and any(finish == x.split()[-1] for x in lexicon.finishes):
            rails = [sku for sku, kind in lexicon.kinds.items() if kind == "rail"]
            found = [x for x in rails if finish in lexicon.parts.parts[x].name.casefold().replace(",", " ").split()]
            if found and is_had(sentence, place - 1, place + 1) == "yes":
                yield place - 1, place + 1, found


def _is_on_rail(sentence: Sentence, place: int) -> bool:
    """Whether it is told where a regulator is to be: `is mounted on the rail`; not that it is already."""
    end = min(sentence.clause_of(place)[1], place + _BEHIND)
    return bool(sentence.places(words.RAILS, place, end)) and not sentence.places(("already",), place, end)


def _kinds_had(sentence: Sentence, free: Sequence[bool], lexicon: Lexicon) -> Iterator[tuple[int, int, Sequence[str]]]:
    """Parts that are told by their kind alone."""
    for place in sentence.places(words.KINDS):
        if (
            not free[place]
            or sentence.at(place + 1) in words.KINDS
            or sentence.at(place + 1) in ("adapter", "line", "hose")
            or sentence.at(place - 1) == "enough"
            or is_other_gauge(sentence, place)
            or (sentence.at(place) in words.REGULATORS and _is_on_rail(sentence, place))
        ):
            continue
        how = is_had(sentence, place, place + 1)
        is_own = sentence.at(place - 1) == "own"
        if how == "yes" or (is_own and how == "doubt"):
            kind = words.KINDS[sentence.at(place)]
            yield place, place + 1, [sku for sku, x in lexicon.kinds.items() if x == kind]
