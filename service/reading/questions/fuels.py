"""Which fuel is meant: by its name, by its code as E85, or as petrol in the words of the trade."""

import re
from collections.abc import Iterable, Iterator, Sequence

from service.reading.folding import folded, singular
from service.reading.questions import words
from service.reading.questions.facts import Choice, Found, Open, Said, Understood, choices_of, now_of, settled
from service.reading.questions.lexicon import Called
from service.reading.questions.names import Hit, NameFinder
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of
from service.reading.questions.terms import KNOWN

_BRACKET = re.compile(r"\([^)]*\)")
_CODE = re.compile(r"\b([a-z])[\s-]?(\d{2,3}|5)\b")
_BLENDS = {
    "e": frozenset((5, 10, 15, 20, 25, 27, 30, 40, 50, 60, 70, 75, 80, 85, 90, 95, 98, 100)),
    "m": frozenset((15, 85, 100)),
}
_NEAR_CODE = 3
_NAMES = {"unleaded"}
_GRADES = words.set_of("normal regular plain ordinary usual pump")
"""What may stand before the name of a fuel, and tells no other."""
_ASKED = "Which fuel does it run on?"
_ALCOHOLS = {"ethanol": "e", "bioethanol": "e", "methanol": "m"}
_PLEASED = words.set_of("happy nice great fine good pleased quick fast")
_PRAISE = words.set_of("super premium")
_ENDS_OF = words.set_of("and with now . , ; : ! ? ) - /") | {""}
_RUN_ON = words.set_of("on run running runs burns uses takes")


class FuelReader:
    """Finds the fuels of a catalog in a text. Safe to share by threads."""

    def __init__(self, fuels: Sequence[Called]) -> None:
        self._fuels = {fuel.id: fuel for fuel in fuels}
        named = [(name, fuel.id) for fuel in fuels for name in fuel.names]
        named += [(_BRACKET.sub("", name), fuel.id) for fuel in fuels for name in fuel.names]
        short = {text: fuel.id for fuel in fuels if (text := _letters(fuel.name))}
        named += [(text, fuel.id) for text in short for fuel in fuels if _has_words(fuel.name, text)]
        self._finder = NameFinder(named, words.FUELS_TOLD - _NAMES)
        self._grades: dict[str, set[str]] = {}
        for name, id_ in named:
            if (word := folded(name)) in words.FUELS_TOLD - _NAMES:
                self._grades.setdefault(word, set()).add(id_)
        self._codes: dict[tuple[str, int], list[str]] = {}
        for fuel in fuels:
            for letter, figure in _CODE.findall(folded(" ; ".join((fuel.id, *map(_unbracketed, fuel.names))))):
                known = self._codes.setdefault((letter, int(figure)), [])
                known += [] if fuel.id in known else [fuel.id]
        self._petrols = tuple(fuel.id for fuel in fuels if _is_petrol(fuel))

    def read(self, sentence: Sentence, named: Iterable[Hit]) -> Found:
        """The fuel that is meant, or what is to be asked of it. `named`: where cars are named whole."""
        of_cars = {x for hit in named for x in range(hit.first, hit.last)}
        said = list(self._said(sentence, of_cars))
        for one in said:
            sentence.mark(one.first, one.last)
        said = now_of(sentence, said)
        fact = settled(said)
        if fact is not None and isinstance(fact.value, str):
            told = [x for x in said if x.stance == "yes"]
            understood = [Understood.of(sentence, x.first, x.last, "fuel", fact.value, fact.says) for x in told]
            return Found(fact.value, understood)
        if not said:
            return Found()
        meant = [x for x in said if x.stance != "no"]
        others = tuple(Choice(fuel.id, fuel.name) for fuel in self._fuels.values())
        first = choices_of(meant)
        return Found(open=Open("fuel", _ASKED, (*first, *(x for x in others if x not in first))))

    def _said(self, sentence: Sentence, of_cars: set[int]) -> Iterator[Said]:
        taken: set[int] = set()
        for first, last, letter, share in _shares(sentence):
            known = tuple(self._codes.get((letter, share), ()))
            taken.update(range(first, last))
            for one in known or (None,):
                yield self._meant(sentence, one, first, last, is_sure=len(known) == 1)
        hits = [hit for hit in self._finder.hits(sentence) if taken.isdisjoint(range(hit.first, hit.last))]
        for hit in hits:
            if _is_grade(sentence, hit, hits):
                sentence.mark(hit.first, hit.last)
                continue
            if sentence.at(hit.first - 1) in _GRADES:
                sentence.mark(hit.first - 1, hit.first)
            taken.update(range(hit.first, hit.last))
            if (
                sentence.at(hit.last) in words.GAUGES
                or _is_manner(sentence, hit.last - 1)
                or _is_exclaimed(sentence, hit)
            ):
                continue
            for id_ in hit.ids:
                yield self._meant(sentence, id_, hit.first, hit.last, is_sure=len(hit.ids) == 1)
        for first, last, letter, figure in _codes(sentence):
            if first in taken:
                continue
            known = tuple(self._codes.get((letter, figure), ()))
            if known or figure in _BLENDS[letter]:
                taken.update(range(first, last))
                for one in known or (None,):
                    yield self._meant(sentence, one, first, last, is_sure=len(known) == 1)
        for place in sentence.places(words.PETROLS):
            if place not in taken:
                taken.add(place)
                first = place - (sentence.at(place - 1) in words.FUELS_TOLD)
                for one in self._petrols or (None,):
                    yield self._meant(sentence, one, first, place + 1, is_sure=len(self._petrols) == 1)
        for place in sentence.places(self._grades):
            ids = self._grades[sentence.at(place)]
            is_run = sentence.at(place - 1) in _RUN_ON
            is_alone = sentence.clause_of(place)[0] == place
            if place not in taken and (is_run or is_alone) and sentence.at(place + 1) in _ENDS_OF:
                taken.add(place)
                for id_ in ids:
                    yield self._meant(sentence, id_, place - is_run, place + 1, is_sure=is_run and len(ids) == 1)
        for place in sentence.places(("octane", "ron")):
            number = next((x for x in (place - 1, place + 1) if sentence.at(x).isdigit()), None)
            if number is not None and taken.isdisjoint(range(place - 2, place + 3)):
                yield self._meant(sentence, None, min(place, number), max(place, number) + 1, is_sure=False)
        for place in sentence.places(("race", "racing")):
            if place not in taken and sentence.at(place + 1) in ("fuel", "gas", "petrol", "gasoline"):
                taken.update((place, place + 1))
                yield self._meant(sentence, None, place, place + 2, is_sure=False)
        for place in sentence.places(words.FUELS_ASKED):
            if place in taken or place in of_cars or _is_manner(sentence, place):
                continue
            if self._is_of_code(sentence, place):
                sentence.mark(place, place + 1)
            elif not _is_other(sentence, place, taken):
                yield self._asked(sentence, place)

    def _is_of_code(self, sentence: Sentence, place: int) -> bool:
        """Whether a word is one of the name of a fuel whose code stands near it: `methanol blend M85`."""
        start, end = sentence.clause_of(place)
        near = (max(start, place - _NEAR_CODE), min(end, place + _NEAR_CODE + 1))
        for first, last, letter, figure in _codes(sentence):
            if near[0] <= first and last <= near[1]:
                ids = self._codes.get((letter, figure), ())
                if any(sentence.at(place) in folded(self._fuels[id_].name).split() for id_ in ids):
                    return True
        return False

    def _asked(self, sentence: Sentence, place: int) -> Said:
        if sentence.at(place) == "gas" and sentence.at(place - 1) == "pump" and len(self._petrols) == 1:
            return self._meant(sentence, self._petrols[0], place - 1, place + 1, is_sure=True)
        return self._meant(sentence, None, place, place + 1, is_sure=False)

    def _meant(self, sentence: Sentence, id_: str | None, first: int, last: int, *, is_sure: bool) -> Said:
        says = "" if id_ is None else self._fuels[id_].name
        stance = stance_of(sentence, first, last)
        return Said(id_, first, last, says, "doubt" if stance == "yes" and not is_sure else stance)


def _has_words(name: str, text: str) -> bool:
    """Whether all words of a text are among those of a name, so that they may mean it."""
    return set(text.split()) <= {word.text for word in Sentence(_unbracketed(name)).words}


def _is_grade(sentence: Sentence, hit: Hit, hits: Sequence[Hit]) -> bool:
    """Whether a word only tells the grade of a fuel that is named right beside it."""
    is_one = hit.last - hit.first == 1 and sentence.at(hit.first) in words.FUELS_TOLD
    return is_one and any(other.last == hit.first or other.first == hit.last for other in hits)


def _is_exclaimed(sentence: Sentence, hit: Hit) -> bool:
    """Whether a word that may be a fuel only praises: `Super, thanks`, `that's super`."""
    if sentence.at(hit.first) not in _PRAISE or hit.last - hit.first > 1:
        return False
    start, end = sentence.clause_of(hit.first)
    is_begin = start == 0 or sentence.words[start - 1].sentence != sentence.words[start].sentence
    alone = not any(x.is_word for x in (*sentence.words[start : hit.first], *sentence.words[hit.last : end]))
    return (is_begin and alone) or sentence.at(hit.first - 1) in ("that's", "it's")


def _is_manner(sentence: Sentence, place: int) -> bool:
    """Whether a word that may be a fuel only tells how much: `super quick delivery`."""
    behind = sentence.at(place + 1)
    is_free = behind.isalpha() and (behind not in KNOWN or behind in _PLEASED)
    return sentence.at(place) in _PRAISE and is_free and sentence.at(place - 1) not in _RUN_ON


def _shares(sentence: Sentence) -> Iterator[tuple[int, int, str, int]]:
    """What has a share of alcohol, as `petrol with 10 % ethanol`: its words, the letter of such blends, the share."""
    for place in sentence.places(_ALCOHOLS):
        number = place - 2 - (sentence.at(place - 1) in ("of", "cent"))
        if sentence.at(number + 1) not in ("%", "percent", "per", "pct") or not sentence.at(number).isdigit():
            continue
        petrol = number - 2 if sentence.at(number - 1) in ("with", "containing", "and", "plus") else number
        is_petrol = sentence.at(petrol) in words.PETROLS
        yield petrol if is_petrol else number, place + 1, _ALCOHOLS[sentence.at(place)], int(sentence.at(number)[:3])


_BURNING = words.set_of("heater heaters stove generator bottle strut struts")
"""What burns or holds a fuel of its own, or only is called by one."""


def _is_other(sentence: Sentence, place: int, taken: set[int]) -> bool:
    """Whether a word tells the grade of a petrol that is named beside it, or is of another thing."""
    if place + 1 in taken or place - 1 in taken:
        return True
    if sentence.at(place + 1) in _BURNING:
        return True
    return sentence.at(place) == "premium" and sentence.at(place + 1) in ("quality", "parts", "customer")


def _codes(sentence: Sentence) -> Iterator[tuple[int, int, str, int]]:
    """Letters with a number that may be a blend: E85, e 85, E-85."""
    for place in sentence.places(_BLENDS):
        behind = place + 1 + (sentence.at(place + 1) == "-")
        figure = sentence.at(behind)
        if (
            figure.isdigit()
            and len(figure) <= 3
            and not (
                sentence.at(place - 1) == "'" or (sentence.is_glued(behind + 1) and sentence.at(behind + 1).isalpha())
            )
        ):
            yield place, behind + 1, sentence.at(place), int(figure)


def _unbracketed(name: str) -> str:
    return _BRACKET.sub(" ", name)


def _letters(name: str) -> str:
    """The words of a name without its code and figures, where they are more than a word of every fuel."""
    kept = [word.text for word in Sentence(_unbracketed(name)).words if word.is_word and len(word.text) > 1]
    is_own = any(word not in words.FUELS_TOLD and word not in words.PETROLS for word in kept)
    has_code = bool(_CODE.search(folded(name)))
    return " ".join(kept) if is_own and (not has_code or len(kept) == 1) and not _is_blend(name, kept) else ""


def _is_blend(name: str, kept: Sequence[str]) -> bool:
    """Whether the name is a code with words of other fuels: `E10 gasoline` is not gasoline, nor ethanol."""
    found = _CODE.search(folded(_unbracketed(name)))
    return (
        found is not None and int(found[2]) != 100 and any(x in words.PETROLS or x in words.FUELS_ASKED for x in kept)
    )


def _is_petrol(fuel: Called) -> bool:
    for name in (fuel.id, fuel.name):
        kept = [singular(word.text) for word in Sentence(_unbracketed(name)).words if word.is_word]
        if (
            kept
            and all(x in words.PETROLS or x in words.FUELS_TOLD for x in kept)
            and any(x in words.PETROLS for x in kept)
        ):
            return True
    return False
