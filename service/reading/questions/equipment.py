"""The add-ons of a car."""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from service.domain.vehicles import Addon
from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.facts import MOST_CHOICES, Choice, Found, Open, Said, Stance, Understood
from service.reading.questions.lexicon import Called
from service.reading.questions.names import Hit, NameFinder
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of
from service.reading.questions.terms import terms_of

_NO_KIND = frozenset().union(
    *(words.SAYS_NOTHING, words.PLACES, words.SIDE, words.RAILS, words.COLOURS, words.FINISH_OF, words.LIGHT),
    *(words.HOSES, words.BOOSTS, words.BODIES),
    words.set_of("pair high twin bank banks"),
)
_SHORT, _STEM = 4, 5
_OF = re.compile(r",|\b(?:over|for|on|to|at)\b")
_JOINING = words.set_of("- , the a for of on over across at")
"""What may stand between the words of a name, or be left out of it."""
_UNFITTED = words.phrases_of("in its box, in the box, in a box, in the crate, in the post, to be fitted")
_PLANNED = words.set_of("unfitted planned scheduled intended pipeline wishlist dream dreams dreaming")
_LATER = words.set_of("wish coming comes next later spring summer autumn winter soon eventually")
_GIVEN = words.set_of("a an the my our his her this")
_MOST_ADDONS = 20
_OTHER_BLOWN = words.set_of("air ac conditioning conditioner battery phone usb head a/c")
_NO_BLOWN_BEHIND = words.set_of("gasket fuse pump timer oil hose manifold")


class AddonReader:
    """Finds the add-ons of a catalog in a text. Safe to share by threads."""

    def __init__(self, addons: Sequence[tuple[Called, Addon]], words_of_cars: set[str]) -> None:
        self._addons = {called.id: (called, addon) for called, addon in addons}
        named = [(name, called.id) for called, _ in addons for name in called.names]
        named += [(name.partition(sign)[0], id_) for sign in ",(" for name, id_ in named if sign in name]
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
            start, end = sentence.clause_of(hit.first)
            is_unfitted = any(hit.last <= x < end for x, _ in sentence.phrases(_UNFITTED))
            is_planned = is_unfitted or sentence.places(_PLANNED, start, end) or sentence.places(_LATER, hit.last, end)
            stance: Stance = "doubt" if is_planned or place in chosen else stance_of(sentence, hit.first, hit.last)
            fitting = [x for x in hit.ids if self._addons[x][1].chassis & (cars if car is None else {car})]
            stance = stance if len(fitting or hit.ids) == 1 else "doubt"
            told = [Said(x, hit.first, hit.last, self._addons[x][0].name, stance) for x in fitting or hit.ids]
            (said if fitting else wrong).extend(told)
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
