"""What the customer has: parts, a rail by another maker, hoses of some length; and what must be in stock."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from service.domain.units import distance
from service.reading.questions import words
from service.reading.questions.facts import MOST_CHOICES, Choice, Found, Open, Said, Understood, choices_of, settled
from service.reading.questions.lexicon import Lexicon
from service.reading.questions.measures import Measure, numbers_of
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of

_BEFORE, _BEHIND = 40, 7
_MOST_PIECES, _LONGEST_M = 10_000, 100
_LISTED = (
    words.set_of("and & , x pcs of the a an my our his one piece pieces already got also some to both own + plus")
    | words.NUMBERS.keys()
)
_HAD = words.set_of("have has got own owns i've we've having he's she's keep reuse existing there's are is")
_NOT_MINE = words.set_of("you you've they shop who anyone")
_FAR = 5
_VAGUE = words.set_of("some several few couple various many")


@dataclass(frozen=True, slots=True)
class PartSaid:
    """Words that name a part of the catalog whole; `is_weak`: they may be words of every day."""

    skus: tuple[str, ...]
    first: int
    last: int
    is_weak: bool


def parts_in(sentence: Sentence, lexicon: Lexicon) -> list[PartSaid]:
    """The parts that a text names."""
    tokens = sentence.tokens
    found = []
    for one in lexicon.parts.mentions(sentence.plain, tokens):
        first, last = sentence.within(tokens[one.first].start, tokens[one.last - 1].end)
        is_short = one.last - one.first == 1 and not tokens[one.first].is_number
        found.append(
            PartSaid(tuple(dict.fromkeys((*one.skus, *one.torn))), first, max(last, first + 1), one.is_weak or is_short)
        )
    return found


def read_have(sentence: Sentence, parts: Sequence[PartSaid], lexicon: Lexicon, taken: Sequence[bool]) -> Found:
    """The parts that are there already, each with how many."""
    had: dict[str, int] = {}
    understood: list[Understood] = []
    offered: list[Choice] = []
    is_open = False
    for part in parts:
        how = _is_had(sentence, part.first, part.last)
        if how == "no" or (how == "doubt" and part.is_weak):
            continue
        qty, first = _quantity(sentence, part.first, part.last)
        sentence.mark(first, part.last)
        names = [Choice({"sku": sku, "qty": qty or 1}, lexicon.parts.parts[sku].name) for sku in part.skus]
        if how == "doubt" or len(part.skus) != 1 or qty is None or (part.is_weak and not _is_whole_weak(part)):
            is_open = True
            offered += names
            continue
        had[part.skus[0]] = had.get(part.skus[0], 0) + qty
        says = f"{qty} x {names[0].says} at hand"
        understood.append(Understood(sentence.quote(first, part.last), "have", names[0].value, says))
    kinds = list(_kinds_had(sentence, taken))
    for place, kind in kinds:
        sentence.mark(place, place + 1)
        offered += [
            Choice({"sku": sku, "qty": 1}, lexicon.parts.parts[sku].name)
            for sku, x in lexicon.kinds.items()
            if x == kind
        ]
    if had and any(qty > _MOST_PIECES for qty in had.values()):
        had, is_open = {}, True
    asks = "Which part of ours is there already, and how many of it?"
    question = Open("have", asks, tuple(offered[:MOST_CHOICES])) if is_open or kinds else None
    parts_had = [{"sku": sku, "qty": qty} for sku, qty in had.items()]
    return Found(parts_had[:50] or None, understood if had else [], question)


def _is_whole_weak(part: PartSaid) -> bool:
    """Whether a short name is one all the same: it is the customer's words for a thing that is had."""
    return len(part.skus) == 1


def _is_had(sentence: Sentence, first: int, last: int) -> str:
    """Whether words tell what somebody has: yes, no or doubt."""
    start, end = sentence.clause_of(first)
    if stance_of(sentence, first, last) == "no":
        return "no"
    behind = [sentence.at(x) for x in range(last, min(end, last + _BEHIND))]
    if any(
        x
        in ("is", "are", "lies", "lie", "lying", "sits", "sit", "already", "in", "here", "there", "left", "were", "was")
        for x in behind[:2]
    ):
        known = [x for x in behind if x in words.HAVE_BEHIND and (x != "left" or behind[0] in ("is", "are"))]
        if (
            known
            and not any(x in ("not", "needed", "wanted") for x in behind)
            and not (behind[0] in ("is", "are") and behind[-1:] == ["?"])
        ):
            return "yes"
    for place in range(first - 1, max(start - 1, first - _BEFORE), -1):
        word = sentence.at(place)
        if word in _HAD:
            return _holder(sentence, start, place, first)
        if word in ("there", "existing", "spare") and "already" in behind:
            return "yes"
        is_listed = word in _LISTED or not sentence.words[place].is_word
        is_listed = is_listed or word in ("here", "lying", "new", "brand", "old", "there", "already")
        if not is_listed and not _is_of_part(sentence, place, start):
            return "doubt" if "already" in behind or sentence.places(("already",), start, first) else "no"
    return _carried(sentence, start, first)


def _is_of_part(sentence: Sentence, place: int, start: int) -> bool:
    """Whether a word is of another part that is listed before: it has been read as one that is had."""
    return sentence.read[place] and place > start


def _carried(sentence: Sentence, start: int, first: int) -> str:
    """Whether a list of what somebody has goes on from the clause before."""
    clause = sentence.words[first].clause
    if clause == 0 or sentence.at(start - 1) not in (",", "and", "/", "+"):
        return "no"
    before = sentence.clauses[clause - 1]
    return (
        "yes"
        if sentence.places(_HAD, *before)
        and any(sentence.read[x] for x in range(*before))
        and sentence.places(("already", "and"), before[0], first)
        else "no"
    )


def _holder(sentence: Sentence, start: int, verb: int, first: int) -> str:
    before = [sentence.at(x) for x in range(max(start, verb - 4), verb)]
    if any(x in _NOT_MINE for x in before):
        return "no"
    if sentence.at(verb) in ("is", "are"):
        return (
            "yes"
            if sentence.at(verb - 1) == "there" and sentence.places(("already",), start, sentence.clause_of(first)[1])
            else "no"
        )
    if any(
        x in ("to", "should", "must", "would", "want", "need", "could", "do", "does", "can", "may", "like")
        for x in before[-2:]
    ) and not sentence.places(("already",), start, first):
        return "no"
    return "yes"


def _quantity(sentence: Sentence, first: int, last: int) -> tuple[int | None, int]:
    """How many of a part, and where the words for that begin."""
    place = first - 1
    while place >= 0 and sentence.at(place) in ("x", "pcs", "pc", "pieces", "of", "the", "my", "stk", "our", "-"):
        place -= 1
    word = sentence.at(place) if place >= 0 else ""
    if sentence.at(last) == "x" and sentence.at(last + 1).isdigit():
        return int(sentence.at(last + 1)[:6]), first
    if word in _VAGUE or (word == "a" and sentence.at(place + 1) in _VAGUE):
        return None, first
    if word in words.NUMBERS and words.NUMBERS[word] > 0:
        return words.NUMBERS[word], place
    if word == "pair" or word == "both":
        return 2, place
    if word and sentence.words[place].is_number and sentence.words[place].clause == sentence.words[first].clause:
        values = numbers_of(word)
        return (
            (int(values[0]), place) if len(values) == 1 and values[0].is_integer() and values[0] >= 1 else (None, place)
        )
    return 1, first


def _kinds_had(sentence: Sentence, taken: Sequence[bool]) -> Iterator[tuple[int, str]]:
    for place in sentence.places(words.KINDS):
        if (
            taken[place]
            or sentence.at(place + 1) in words.KINDS
            or sentence.at(place + 1) in ("adapter", "line", "hose")
        ):
            continue
        how = _is_had(sentence, place, place + 1)
        is_own = sentence.at(place - 1) == "own"
        if how == "yes" or (is_own and how == "doubt"):
            yield place, words.KINDS[sentence.at(place)]


def read_own_rail(sentence: Sentence, lexicon: Lexicon, taken: Sequence[bool]) -> Found:
    """A rail by another maker: what its spots offer has to be asked."""
    for place in sentence.places(words.RAILS):
        if taken[place] or not _is_foreign(sentence, place):
            continue
        sentence.mark(place, place + 1)
        start, end = sentence.clause_of(place)
        for other in sentence.places(words.OTHERS_MAKE | words.MAKERS | {"own"}, start, end):
            sentence.mark(other, other + 1)
        choices = tuple(Choice(x.id, x.name) for x in lexicon.standards[:MOST_CHOICES])
        asks = "Which connection does each spot of that rail offer, and which end, male or female?"
        return Found(open=Open("own_rail", asks, choices))
    return Found()


def _is_foreign(sentence: Sentence, place: int) -> bool:
    start, end = sentence.clause_of(place)
    before = [sentence.at(x) for x in range(max(start, place - 5), place)]
    behind = [sentence.at(x) for x in range(place + 1, min(end, place + 8))]
    stance = stance_of(sentence, place, place + 1)
    if stance == "no" and "your" not in before and "yours" not in behind:
        return False
    if any(x in ("else's", "elses", "aftermarket", "foreign") for x in before) or "own" in before[-1:]:
        return True
    if any(
        x in ("third", "party", "maker's", "competitor's", "brand's", "manufacturer's", "make", "brand", "maker", "non")
        for x in before[-3:]
    ) and any(x in words.OTHERS_MAKE | {"third", "party", "non"} for x in before):
        return True
    joined = " ".join(behind)
    if any(x in words.OTHERS_MAKE for x in behind) and any(
        x in words.MAKERS | {"else", "somebody", "someone", "else's"} for x in behind
    ):
        return True
    if (
        ("not" in behind and any(x in ("yours", "one") for x in behind))
        or "isn't yours" in joined
        or "not your" in " ".join(before)
    ):
        return True
    had = any(x in ("have", "has", "got", "keep", "keeping", "reuse", "existing", "keeps", "retain") for x in before)
    is_asked = any(x in ("you", "do", "to", "would", "should") for x in before)
    if (
        had
        and not is_asked
        and (
            "already" in (*before, *behind)
            or any(x in ("keep", "keeping", "existing", "keeps", "reuse", "retain") for x in before)
            or before[-1:] in (["a"], ["his"])
        )
        and behind[:1] != ["for"]
    ):
        return True
    return (
        behind[:1] in (["is"], ["already"])
        and any(x in ("there", "fitted", "installed") for x in behind[:4])
        and "already" in behind
    )


def read_hoses(
    sentence: Sentence, hoses: Sequence[Measure], *, has_return: bool | None, returns_none: bool
) -> tuple[Found, Found]:
    """The lengths of the hoses, m: of feed and return. `returns_none`: the layout is known, nothing returns."""
    said: dict[str, list[Said]] = {"feed": [], "return": [], "any": []}
    for one in hoses:
        role = _hose_role(sentence, one)
        sentence.mark(one.first, one.last)
        stance = stance_of(sentence, one.first, one.last) if len(one.values) == 1 else "doubt"
        for mm in one.values:
            m = round(mm / 1000, 4)
            for name in ("feed", "return") if role == "both" else (role,):
                said[name].append(Said(m, one.first, one.last, distance(m), stance))
    if said["any"] and (returns_none or has_return is not True):
        said["feed"] += said.pop("any")
    elif said.get("any"):
        said["feed"] += [Said(x.value, x.first, x.last, x.says, "doubt") for x in said["any"]]
    return _hose(sentence, "feed", said["feed"]), _hose(sentence, "return", said["return"])


def _hose(sentence: Sentence, name: str, said: Sequence[Said]) -> Found:
    field = f"{name}_hose_m"
    one = settled(said)
    if one is not None and isinstance(one.value, float) and one.value <= _LONGEST_M:
        told = [x for x in said if x.stance == "yes"]
        return Found(
            one.value,
            [Understood(sentence.quote(x.first, x.last), field, x.value, f"{name} hose of {x.says}") for x in told],
        )
    if any(x.stance != "no" for x in said):
        return Found(open=Open(field, f"How long is the {name} hose?", choices_of(said)))
    return Found()


def _hose_role(sentence: Sentence, one: Measure) -> str:
    start, end = sentence.clause_of(one.first)
    near: list[tuple[float, str]] = []
    for role, known in (("feed", words.FEEDS), ("return", words.RETURNS)):
        for x in sentence.places(known, start, end):
            between = range(x + 1, one.first) if x < one.first else range(one.last, x)
            near.append((len(between) + 5 * sum(sentence.at(y) in ("and", "&", "with") for y in between), role))
    if any(sentence.at(x) == "both" for x in range(start, end)) or (
        len(near) > 1 and len({x[1] for x in near}) > 1 and sentence.places(("each",), start, end)
    ):
        return "both"
    best = min(near, default=(_FAR, "any"))
    return best[1] if best[0] < _FAR else "any"


def read_stock(sentence: Sentence) -> Found:
    """Whether only what lies in stock may be used."""
    said: list[Said] = []
    phrases = (
        "in stock",
        "from stock",
        "ex stock",
        "stock only",
        "on the shelf",
        "off the shelf",
        "ab lager",
        "auf lager",
        "on hand",
        "stock parts only",
        "stock items only",
        "nothing on back order",
        "no back orders",
        "no backorder",
        "nothing on backorder",
        "on stock",
        "in your stock",
        "available immediately",
        "immediately available",
        "available from stock",
        "have to hand",
    )
    for first, last in sentence.phrases(phrases):
        if sentence.at(first) == "nothing" or sentence.at(first) == "no":
            said.append(Said(True, first, last, "in stock only"))
            continue
        start, end = sentence.clause_of(first)
        stance = stance_of(sentence, first, last)
        near = [sentence.at(x) for x in range(start, min(end, last + 4))]
        is_asked = "?" in (sentence.at(end - 1), sentence.at(end)) or (
            any(x in ("if", "ideally", "preferably", "what's", "whether") for x in near) and "only" not in near
        )
        if any(x in ("matter", "needn't", "irrespective", "regardless", "necessarily") for x in near) or (
            stance == "no" and not _is_double(near)
        ):
            stance = "no"
        elif _is_double(near) or (stance == "doubt" and "except" in near):
            stance = "yes"
        elif is_asked or (
            sentence.at(first - 1) in ("is", "are", "isn't", "not")
            and "must" not in near
            and "only" not in near
            and "that" not in near
            and "what" not in near
        ):
            stance = "doubt"
        said.append(Said(True, first, last, "in stock only", stance))
    for one in said:
        sentence.mark(one.first, one.last)
    fact = settled(said)
    if fact is not None:
        told = [x for x in said if x.stance == "yes"]
        return Found(True, [Understood(sentence.quote(x.first, x.last), "in_stock_only", True, x.says) for x in told])
    if any(x.stance != "no" for x in said):
        choices = (Choice(True, "only what is in stock"), Choice(False, "what has to be ordered as well"))
        return Found(open=Open("in_stock_only", "Is it to be made of what is in stock alone?", choices))
    return Found()


def _is_double(near: Sequence[str]) -> bool:
    """Whether two denials make a wish: nothing that is not in stock."""
    return "nothing" in near and any(x in ("not", "isn't", "but") for x in near)
