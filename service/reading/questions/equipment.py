"""The add-ons of a car and the finish of its parts."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise, takewhile

from service.domain.vehicles import Addon
from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.asides import is_called
from service.reading.questions.facts import (
    MOST_CHOICES,
    Choice,
    Found,
    Open,
    Said,
    Stance,
    Understood,
    choices_of,
    settled,
)
from service.reading.questions.lexicon import Called
from service.reading.questions.names import Hit, NameFinder
from service.reading.questions.owned import is_had
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of
from service.reading.questions.terms import terms_of

_NO_KIND = (
    frozenset().union(
        words.SAYS_NOTHING,
        words.PLACES,
        words.SIDE,
        words.RAILS,
        words.COLOURS,
        words.FINISH_OF,
        words.LIGHT,
        words.HOSES,
    )
    | words.set_of("over plate pair kit high twin for rail bank banks both")
    | words.BOOSTS
    | words.BODIES
)
_SHORT, _STEM, _LONGEST_WHY = 4, 5, 7
_FINISHES = words.set_of("finish finishes colour color colours colors")
_WISHED = words.set_of("love like want wants need needs wish prefer fancy")
_MATCHING = words.set_of("match matching matches suit suiting complement go")
_NO_WHY = words.COLOURS | words.GAUGES | words.BREAKS | words.DENIALS | words.DOUBTS | {"or", "and", "if", "max"}
_NO_NOUN = frozenset().union(
    *(words.LIGHT, words.SAYS_NOTHING, words.FINISH_OF, words.COLOURS, words.JOINS, words.BREAKS, words.PLACES),
    *(words.DENIED_BEHIND, words.KINDS, words.OF_CAR, words.BUDGETS, words.GAUGES, words.BLOWN, words.HAVE_BEHIND),
    words.set_of("or max maximum most under below as everywhere only"),
)
"""What may follow a colour that is not said of it."""
_OF = re.compile(r",|\b(?:over|for|on|to|at)\b")
_JOINING = words.set_of("- , the a for of on over across at")
"""What may stand between the words of a name, or be left out of it."""
_PLANNED = words.set_of("planned scheduled intended pipeline coming comes next later")
_GIVEN = words.set_of("a an the my our his her this")
_MOST_ADDONS = 20
_OTHER_BLOWN = words.set_of("air ac conditioning conditioner battery phone usb head a/c")
_NO_BLOWN_BEHIND = words.set_of("gasket fuse pump timer oil hose manifold")


class AddonReader:
    """Finds the add-ons of a catalog in a text. Safe to share by threads."""

    def __init__(self, addons: Sequence[tuple[Called, Addon]], words_of_cars: set[str]) -> None:
        self._addons = {called.id: (called, addon) for called, addon in addons}
        named = [(name, called.id) for called, _ in addons for name in called.names]
        named += [(name.partition(",")[0], id_) for name, id_ in named if "," in name]
        self._finder = NameFinder(named, words.BLOWN)
        self._kinds: dict[str, frozenset[str]] = {}
        self._terms = {called.id: frozenset(x for name in called.names for x in terms_of(name)) for called, _ in addons}
        self._no_kind = _NO_KIND | words_of_cars
        for called, _ in addons:
            for word in {x for name in called.names for part in _OF.split(name)[::2] for x in terms_of(part)}:
                if isinstance(word, str) and len(word) > 3 and word not in _NO_KIND and word not in words_of_cars:
                    self._kinds[word] = self._kinds.get(word, frozenset()) | {called.id}

    def names_in(self, sentence: Sentence) -> list[Hit]:
        """Where add-ons are named whole."""
        return self._finder.hits(sentence)

    def read(self, sentence: Sentence, car: str | None, cars: frozenset[str]) -> tuple[Found, list[Addon]]:
        """The add-ons that are meant, and those of them that are sure; `cars`: all that may be meant."""
        said: list[Said] = []
        wrong: list[Said] = []
        taken: set[int] = set()
        hits = self._finder.hits(sentence)
        longer = list(self._by_words(sentence, hits, frozenset((car,)) if car else cars))
        hits = [x for x in hits if not any(y.first < x.last and x.first < y.last for y in longer)] + longer
        hits.sort(key=lambda x: x.first)
        chosen = _chosen_from(sentence, hits)
        for place, hit in enumerate(hits):
            taken.update(range(hit.first, hit.last))
            sentence.mark(hit.first, hit.last)
            is_doubtful = place in chosen or bool(sentence.places(_PLANNED, hit.last, sentence.clause_of(hit.first)[1]))
            stance: Stance = "doubt" if is_doubtful else stance_of(sentence, hit.first, hit.last)
            for id_ in hit.ids:
                fits = bool(self._addons[id_][1].chassis & cars) if car is None else car in self._addons[id_][1].chassis
                one = Said(
                    id_, hit.first, hit.last, self._addons[id_][0].name, stance if len(hit.ids) == 1 else "doubt"
                )
                (said if fits else wrong).append(one)
        sure = {str(x.value) for x in said if x.stance == "yes"} - {str(x.value) for x in said if x.stance != "yes"}
        is_blown = any(self._addons[x][1].boost_kpa for x in sure)
        kinds, more = self._kinds_said(sentence, taken, is_blown=is_blown)
        is_open = bool(more) or any(x.stance == "doubt" for x in said) or any(x.stance != "no" for x in wrong)
        is_open = is_open or bool({x.value for x in said if x.stance == "yes"} - sure)
        told = [x for x in said if str(x.value) in sure and x.stance == "yes"]
        understood = [Understood.of(sentence, x.first, x.last, "addons", x.value, x.says) for x in told]
        ids = list(dict.fromkeys(str(x.value) for x in told))[:_MOST_ADDONS]
        addons = [self._addons[x][1] for x in ids]
        doubted = [str(x.value) for x in said if str(x.value) not in sure and x.stance != "no"]
        question = self._asked(car, cars, [*doubted, *kinds], sure) if is_open else None
        return Found(ids or None, understood, question), addons

    def _by_words(self, sentence: Sentence, hits: Sequence[Hit], cars: frozenset[str]) -> Iterator[Hit]:
        """Where words of the name of one add-on alone, of all that go with the cars, tell it: `the large turbo kit`."""
        named = {x for hit in hits for x in range(hit.first, hit.last)}
        sure = [hit for hit in hits if len(hit.ids) == 1 and self._addons[hit.ids[0]][1].chassis & cars]
        taken = {x for hit in sure for x in range(hit.first, hit.last)}
        fitting = {id_: self._terms[id_] for id_, (_, addon) in self._addons.items() if addon.chassis & cars}
        known = frozenset().union(*fitting.values()) - _GIVEN
        place = 0
        while place < len(sentence.words):
            last = place
            while last not in taken and singular(sentence.at(last)) in known:
                last += 1
                behind = last
                while behind < last + _SHORT and sentence.at(behind) in _JOINING:
                    behind += 1
                last = behind if singular(sentence.at(behind)) in known else last
            terms = {singular(sentence.at(x)) for x in range(place, last)} & known
            told = [id_ for id_, own in fitting.items() if terms <= own]
            is_kind = any(x in words.BLOWN or x in self._kinds for x in terms)
            is_apart = any(x not in words.BLOWN and x not in self._no_kind for x in terms) and len(terms) > 1
            is_apart = is_apart or len(terms - {"of"}) > 2
            own = [x for x in range(place, last) if not sentence.cars[x] and sentence.at(x) not in self._no_kind]
            is_read = any(sentence.read[x] for x in own if x not in named)
            is_read = is_read or all(x in named or sentence.at(x) in _JOINING for x in range(place, last))
            if len(told) == 1 and is_kind and is_apart and not is_read:
                yield Hit((told[0],), place, last)
            place = max(last, place + 1)

    def _kinds_said(self, sentence: Sentence, taken: set[int], *, is_blown: bool) -> tuple[list[str], list[int]]:
        """Of equipment that is told by its kind alone: the add-ons that may be, and the places that are to be asked."""
        ids: list[str] = []
        more: list[int] = []
        for place, word in enumerate(sentence.words):
            one = singular(word.text)
            is_forced = (sentence.at(place - 1), word.text) == ("forced", "induction")
            is_turbo = word.text in words.BLOWN or is_forced
            if place in taken or sentence.read[place] or not (is_turbo or one in self._kinds):
                continue
            if is_turbo and (sentence.at(place - 1) in _OTHER_BLOWN or sentence.at(place + 1) in _NO_BLOWN_BEHIND):
                continue
            stance = stance_of(sentence, place - is_forced, place + 1)
            sentence.mark(place - is_forced, place + 1)
            blown = [x for x in self._kinds.get(one, ()) if self._addons[x][1].boost_kpa]
            if stance == "no" or (is_blown and (is_turbo or blown)):
                continue
            more.append(place)
            ids += sorted(self._kinds.get(one, ()))
            kin = [x for kind, known in self._kinds.items() if is_turbo and kind[:_STEM] == one[:_STEM] for x in known]
            ids += sorted(kin)
            ids += [x for x, (_, addon) in self._addons.items() if is_turbo and addon.boost_kpa]
        return ids, more

    def _asked(self, car: str | None, cars: frozenset[str], first: Sequence[str], sure: set[str]) -> Open:
        ids = [x for x in dict.fromkeys([*first, *self._addons]) if x not in sure]
        fitting = [x for x in ids if (car in self._addons[x][1].chassis if car else self._addons[x][1].chassis & cars)]
        choices = [Choice(x, self._addons[x][0].name) for x in fitting]
        return Open(
            "addons", "Which of this equipment is on the car?", (*choices[:MOST_CHOICES], Choice(None, "none of these"))
        )


def _chosen_from(sentence: Sentence, hits: Sequence[Hit]) -> set[int]:
    """Which of some names are offered for choice: `this or that`."""
    found: set[int] = set()
    for place, (one, other) in enumerate(pairwise(hits)):
        between = [sentence.at(x) for x in range(one.last, other.first)]
        if len(between) <= _SHORT and "or" in between:
            found.update((place, place + 1))
    return found


class FinishReader:
    """Finds the finishes of a catalog in a text. Safe to share by threads."""

    def __init__(self, finishes: Sequence[str]) -> None:
        self._finishes = tuple(finishes)
        turned = [(" ".join(reversed(name.split())), name) for name in finishes]
        self._finder = NameFinder([*((name, name) for name in finishes), *turned])

    def read(self, sentence: Sentence, taken: Sequence[bool], cars: Sequence[bool], offered: Sequence[str]) -> Found:
        """The finish that is meant; `taken`: words that name other things, `cars`: those that name cars."""
        said = [*self._said(sentence, taken, cars)]
        said += self._unknown(sentence, taken, cars, {x for one in said for x in range(one.first, one.last)})
        for one in said:
            sentence.mark(one.first, one.last)
        said = [x for x in said if x.says != "car"]
        fact = settled(said)
        if fact is not None and isinstance(fact.value, str):
            told = [x for x in said if x.stance == "yes"]
            return Found(
                fact.value, [Understood.of(sentence, x.first, x.last, "finish", x.value, x.says) for x in told]
            )
        asked = [x for x in sentence.places(("finish", "finishes", "colours", "colors")) if sentence.is_question(x)]
        if not said and not asked:
            return Found()
        known = [Choice(x, f"{x} finish") for x in (offered or self._finishes)]
        first = [x for x in choices_of([x for x in said if x.stance != "no"]) if x not in known]
        return Found(open=Open("finish", "Which finish are the rail and its parts to have?", (*first, *known)))

    def _said(self, sentence: Sentence, taken: Sequence[bool], cars: Sequence[bool]) -> Iterator[Said]:
        for hit in self._finder.hits(sentence):
            if taken[hit.first] or sentence.read[hit.first] or is_had(sentence, hit.first, hit.last) == "yes":
                continue  # of what is there already
            of = _finish_of(sentence, hit.first, hit.last, cars)
            stance = stance_of(sentence, hit.first, hit.last)
            if stance == "yes" and (of == "doubt" or _is_told_of(sentence, hit.first)):
                stance = "doubt"
            if stance == "yes":
                _mark_why(sentence, hit.last)
            yield Said(hit.ids[0], hit.first, hit.last, "car" if of == "car" else f"{hit.ids[0]} finish", stance)

    def _unknown(
        self, sentence: Sentence, taken: Sequence[bool], cars: Sequence[bool], known: set[int]
    ) -> Iterator[Said]:
        """Colours that no finish of the catalog has, where they are said of the rail."""
        for place in sentence.places(words.COLOURS):
            if place in known or taken[place] or cars[place]:
                continue
            of = _finish_of(sentence, place, place + 1, cars)
            start, end = sentence.clause_of(place)
            near = sentence.places(
                words.RAILS | {"finish", "everything", "anodised", "anodized", "parts"},
                max(start, place - 4),
                min(end, place + 4),
            )
            stance = stance_of(sentence, place, place + 1)
            if of == "yes" and near and stance != "no":
                yield Said(None, place, place + 1, "", "doubt")
            elif of == "car":
                yield Said(None, place, place + 1, "car", "no")


def _finish_of(sentence: Sentence, first: int, last: int, cars: Sequence[bool]) -> str:
    """What a finish or a colour is said of: yes, the parts; car; or doubt."""
    start, end = sentence.clause_of(first)
    following = last + (sentence.at(last) in ("-", "coloured", "colored", "painted", "metallic", "finish"))
    if following < len(cars) and cars[following] and sentence.at(following - 1) != "finish":
        while following < len(cars) and cars[following]:
            following += 1
        return "yes" if sentence.at(following) in words.RAILS else "car"
    if sentence.at(first - 1) in ("is", "was") and first > 1 and cars[first - 2]:
        return "car"
    following = last + 1 + (sentence.at(last + 1) in _GIVEN)
    if sentence.at(last) == "for" and following < len(cars) and cars[following]:
        return "yes"
    parts = [x for x in sentence.places(words.FINISH_OF, start, end) if not cars[x] and not first <= x < last]
    if _is_of_noun(sentence, last) and sentence.at(first - 1) != "in":
        return "car"
    if sentence.at(last) in ("one", "ones") and sentence.at(last + 1) == "for":
        return "yes"
    car_words = [x for x in sentence.places(words.OF_CAR, start, end) if not _is_of_parts(sentence, x, parts)]
    if car_words and (not parts or min(abs(x - first) for x in car_words) < min(abs(x - first) for x in parts)):
        return "car"
    named = [x for x in range(start, end) if cars[x]]
    if any(sentence.places(("for",), x, y) for x in parts for y in named):
        return "yes"  # `a rail for the ...: satin`
    if parts:
        is_near = not named or min(abs(x - first) for x in parts) <= min(abs(x - first) for x in named)
        return "yes" if is_near else "doubt"
    if named:
        return "doubt"
    if sentence.at(first - 1) == "in" and sentence.places(_WISHED, start, first):
        return "yes"
    if sentence.at(first - 1) == "says" and sentence.at(first - 3) == "my" and not is_called(sentence.at(first - 2)):
        sentence.mark(first - 3, first)
        return "yes"
    clause = sentence.words[first].clause
    if sentence.at(start - 1) == "(" and start > 1 and cars[start - 2]:
        return "car"
    before = sentence.clauses[clause - 1] if clause else (0, 0)
    if any(cars[x] for x in range(*before)):
        return "doubt"
    begun = [start, *(x + 1 for x in sentence.places(("so", "but", "rather"), start, first))]
    alone = all(
        not w.is_word or w.text in words.SAYS_NOTHING or w.text in words.LIGHT or w.text == "in"
        for w in sentence.words[begun[-1] : first]
    )
    return "yes" if alone and clause else "doubt"


def _is_told_of(sentence: Sentence, first: int) -> bool:
    """Whether it is told that something has a finish: `everything in there is black`; not `the finish is satin`."""
    place = first - 1 - (sentence.at(first - 1) in ("all", "in", "also"))
    return sentence.at(place) in ("is", "are") and not sentence.places(_FINISHES, sentence.clause_of(first)[0], place)


def _mark_why(sentence: Sentence, last: int) -> None:
    """Take what a finish goes with as read: `to match the valve cover`."""
    _, end = sentence.clause_of(last - 1)
    if sentence.at(last) in _MATCHING or (sentence.at(last) == "to" and sentence.at(last + 1) in _MATCHING):
        behind = range(last, min(end, last + _LONGEST_WHY))
        told = takewhile(lambda x: sentence.words[x].is_word and sentence.at(x) not in _NO_WHY, behind)
        sentence.mark(last, max(told, default=last) + 1)


def _is_of_noun(sentence: Sentence, last: int) -> bool:
    """Whether a colour stands right before a thing that is none of ours: `red brake calipers`."""
    word = sentence.at(last)
    is_noun = word.isalpha() and word not in _NO_NOUN and singular(word) not in sentence.trade
    return is_noun and not sentence.at(last + 1)[:1].isdigit()


def _is_of_parts(sentence: Sentence, place: int, parts: Sequence[int]) -> bool:
    """Whether a word for colour is said of parts: `colour of the rail`."""
    return sentence.at(place) in ("colour", "color", "coloured", "colored") and bool(parts)
