"""The reader of questions: a text to the fields of a request, what is to be asked, and what was not read."""

from collections.abc import Iterable, Iterator, Sequence

from service.domain.work import spend
from service.reading.questions import words
from service.reading.questions.accounting import stories_in
from service.reading.questions.asides import asides_in
from service.reading.questions.boost import read_boost
from service.reading.questions.budget import read_budget
from service.reading.questions.cars import CarReader
from service.reading.questions.equipment import AddonReader
from service.reading.questions.excluded import ExclusionReader
from service.reading.questions.facts import Found, QuestionReading
from service.reading.questions.finishes import FinishReader
from service.reading.questions.fuels import FuelReader
from service.reading.questions.gauges import gauges_in, open_gauge, read_gauge
from service.reading.questions.guarding import asked_back, guarded, left_over, single
from service.reading.questions.hoses import read_hoses
from service.reading.questions.layouts import LayoutReader
from service.reading.questions.lengths import lengths_in
from service.reading.questions.lexicon import Lexicon
from service.reading.questions.measures import Measure, measures_in
from service.reading.questions.misspelt import NearParts
from service.reading.questions.own_rail import OwnRailReader
from service.reading.questions.owned import PartSaid, dials_in, misspelt_in, parts_in, read_have
from service.reading.questions.power import read_power
from service.reading.questions.pumps import read_flows, read_regulator
from service.reading.questions.rooms import read_rooms
from service.reading.questions.sentence import Sentence
from service.reading.questions.spelling import Spelling
from service.reading.questions.spots import Anchor, attributed, mark_banks, spots_in
from service.reading.questions.stock import read_stock
from service.reading.questions.terms import terms_of
from service.reading.questions.units import UNITS
from service.reading.questions.unknown import NameSaid, absent_in, names_in, unknown_car
from service.reading.questions.unsold import read_unsold

_FIELDS = (
    "chassis", "layout", "fuel", "power_kw", "boost_kpa", "addons", "gauge", "finish", "clearances", "feed_hose_m",
    "return_hose_m", "pump", "injectors", "regulator", "max_price", "in_stock_only", "allow_unsold", "exclude", "have",
    "own_rail",
)  # fmt: skip
_ANOTHER = "Is it this car, or one that is not in the catalog?"
_TO = words.set_of("to into at from in on")
_STEPS_A_WORD = 5
_FAR_DENIAL = 4
_OF_NAMES = frozenset("-._/")
_TELLING = words.set_of("lph l cc ccm v volt volts gal")
"""Units of pumps and injectors: nothing is made of them, and they matter."""
_MOST_UNREAD = _MOST_UNDERSTOOD = 100
_MOST_OF_A_KIND = 100
"""So many amounts, spots, gauges and parts of a text are looked at; nobody says more of them in a question."""


class QuestionReader:
    """Reads questions by the words of a catalog. Built once a revision; safe to share by threads."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._lexicon = lexicon
        self._cars = CarReader(lexicon.cars)
        self._by_id = {car.called.id: car for car in lexicon.cars}
        self._fuels = FuelReader(lexicon.fuels)
        self._addons = AddonReader(lexicon.addons, self._cars.words)
        self._own_rails = OwnRailReader(lexicon)
        self._exclusions = ExclusionReader(lexicon)
        self._finishes = FinishReader(lexicon.finishes)
        self._layouts = LayoutReader(lexicon.layouts)
        self._near = NearParts(lexicon.parts)
        self._spelling = Spelling(*_words_of(lexicon, self._cars.words))
        self._trade = frozenset(lexicon.parts.docs_with)
        self._traits = {layout.called.id: layout.traits for layout in lexicon.layouts}

    def read(self, text: str) -> QuestionReading:
        """All that a text says, asks and leaves unread. Never raises, whatever is written."""
        sentence = Sentence(text, self._spelling.right)
        spend(1 + _STEPS_A_WORD * len(sentence.words), "order")
        sentence.trade = self._trade
        parts = parts_in(sentence, self._lexicon)[:_MOST_OF_A_KIND]
        strong = [part for part in parts if not part.is_weak]
        taken = _covered(sentence, strong)
        sentence.read = list(taken)
        found: dict[str, Found] = {}
        others = [one for reader in (self._cars, self._layouts, self._addons) for one in reader.names_in(sentence)]
        nearly = misspelt_in(sentence, parts, others, self._near)
        found["have"] = read_have(sentence, parts, nearly, self._lexicon, taken)
        nearly = [one for one in nearly if sentence.read[one.first]]
        taken = [a or b for a, b in zip(taken, _covered(sentence, nearly), strict=True)]
        dials = dials_in(sentence, parts, self._lexicon, found["have"])
        for one in dials:
            sentence.mark(one.first, one.last)
        parts = [part for part in parts if part not in dials]
        for hit in self._addons.names_in(sentence):
            sentence.mark(hit.first, hit.last)  # before cars are looked for: they may hold the names of engines
        found["fuel"] = self._fuels.read(sentence, self._cars.names_in(sentence))
        before = list(sentence.read)
        found["chassis"], cars = self._cars.read(sentence)
        car_words = [now and not old for now, old in zip(sentence.read, before, strict=True)]
        sentence.cars = car_words
        sentence.asides, apart, sentence.is_mine_told = asides_in(sentence, car_words)
        sentence.apart = apart | stories_in(sentence)
        id_ = found["chassis"].value if isinstance(found["chassis"].value, str) else None
        car = None if id_ is None else self._by_id[id_]
        measures = measures_in(sentence, self._lexicon.currency)[:_MOST_OF_A_KIND]
        measures = [one for one in measures if not sentence.read[one.first]]  # a figure of a name is no amount
        measures = list(_of_mine(sentence, measures))
        names = self._layouts.names_in(sentence)
        found |= read_flows(sentence, measures, car.chassis.base_kpa if car else None)
        found["regulator"] = read_regulator(sentence, measures)
        found["in_stock_only"] = read_stock(sentence)
        found["allow_unsold"] = read_unsold(sentence)
        found["max_price"] = read_budget(sentence, measures, self._lexicon.currency)
        named = _covered(sentence, [PartSaid((), hit.first, hit.last, is_weak=False) for hit in names])
        lengths = lengths_in(sentence, measures, self._layouts.widths)
        covered = [a or b or c for a, b, c in zip(before, car_words, named, strict=True)]
        spots = spots_in(sentence, covered)[:_MOST_OF_A_KIND]
        nearby = spots_in(sentence, [a or b for a, b in zip(before, car_words, strict=True)])[:_MOST_OF_A_KIND]
        found["own_rail"] = self._own_rails.read(sentence, spots, taken)
        spots = [one for one in spots if not any(sentence.read[one.first : one.last])]
        flows = self._layouts.flows_in(sentence, taken, measures, lengths.sizes)
        found["finish"] = self._finishes.read(
            sentence, [a or b for a, b in zip(taken, named, strict=True)], car_words, car.finishes if car else ()
        )
        gauges = [*gauges_in(sentence, sentence.read), *(max(one.first, one.number) for one in dials)][:_MOST_OF_A_KIND]
        anchors: dict[Anchor, list[int]] = {
            "gauge": gauges,
            "room": [one.first for one in lengths.rooms] + sentence.places(words.ROOM),
            "layout": [*flows.places, *(x.first for x in lengths.hoses), *sentence.places(words.HOSES | words.FEEDS)],
        }
        told = attributed(sentence, spots, anchors)
        if not (gauges or lengths.rooms or sentence.places(words.ROOM | words.GAUGES)):
            led = [x for x in told[None] if flows.sizes and sentence.places(_TO, x.first - 2, x.first)]
            told["layout"] += led  # nothing else is anywhere
        mark_banks(sentence, spots)
        banks = frozenset(self._by_id[x].chassis.banks for x in cars) or frozenset((1, 2))
        found["layout"] = self._layouts.read(sentence, flows, told["layout"], banks)
        found["gauge"] = read_gauge(sentence, gauges, told["gauge"], car)
        of_rooms = [one for one in measures if one not in lengths.hoses]
        found["clearances"] = read_rooms(sentence, lengths.rooms, of_rooms, told["room"], nearby, car)
        layout = found["layout"].value
        nothing_returns = isinstance(layout, str) and not self._traits[layout].has_return
        has_return = self._traits[layout].has_return if isinstance(layout, str) else flows.has_return
        found["feed_hose_m"], found["return_hose_m"] = read_hoses(
            sentence, lengths.hoses, has_return=has_return, returns_none=nothing_returns
        )
        found["addons"], addons = self._addons.read(sentence, id_, cars)
        is_blown = any(x.boost_kpa for x in addons)
        found["boost_kpa"] = read_boost(sentence, measures, is_blown)
        stock_kw = car.chassis.stock_kw if car else None
        found["power_kw"] = read_power(sentence, measures, stock_kw, self._by_id, is_blown=is_blown)
        loose = [x for x in (*told[None], *told["room"]) if not sentence.read[x.first]]
        if loose and found["gauge"].value == "any":
            found["gauge"] = Found(open=open_gauge(car, loose))
        found["exclude"] = self._exclusions.read(sentence, [x for x in parts if not x.is_weak])
        return _reading(sentence, found, measures, strong)


def _words_of(lexicon: Lexicon, cars: Iterable[str]) -> tuple[set[str], set[str]]:
    """The words that may be misspelt, those of fuels, add-ons and finishes; and all others of the catalog."""
    told = [*lexicon.finishes, *(x.name for x in lexicon.fuels), *(x.name for x, _ in lexicon.addons)]
    own = {str(term) for text in told for term in terms_of(text)}
    layouts = {str(term) for x in lexicon.layouts for name in x.called.names for term in terms_of(name)}
    return own, {*layouts, *cars, *lexicon.parts.docs_with}


def _of_mine(sentence: Sentence, measures: Sequence[Measure]) -> Iterator[Measure]:
    """Amounts without another's, where those of the car in question are told apart from it as `mine`."""
    own = {one.kind for one in measures if one.first not in sentence.asides}
    for one in measures:
        if sentence.is_mine_told and one.first in sentence.asides and one.kind in own:
            sentence.set_aside(one.first, one.last)
        else:
            yield one


def _covered(sentence: Sentence, parts: Iterable[PartSaid]) -> list[bool]:
    covered = [False] * len(sentence.words)
    for part in parts:
        covered[part.first : part.last] = [True] * (part.last - part.first)
    return covered


def _reading(
    sentence: Sentence, found: dict[str, Found], measures: Sequence[Measure], parts: Sequence[PartSaid]
) -> QuestionReading:
    names = names_in(sentence)
    if _is_displaced(sentence, found["chassis"], names):
        found["chassis"] = asked_back("chassis", _ANOTHER, found["chassis"])
    found["chassis"] = guarded(sentence, "chassis", found["chassis"])
    unknown = None
    if found["chassis"].value is None:
        unknown = unknown_car(sentence, names, measures, found, sentence.nearly)
    ordered = [found["chassis"], *(guarded(sentence, name, found[name]) for name in _FIELDS[1:])]
    open_again = left_over(sentence, measures, parts)
    ordered = [single(x, one, ordered, open_again) for x, one in zip(_FIELDS, ordered, strict=True)]
    _leave_unread(sentence, parts, ordered)
    request = {name: one.value for name, one in zip(_FIELDS, ordered, strict=True) if one.value is not None}
    told = {(x.words, x.field, x.says): x for one in ordered for x in one.understood}
    understood = tuple(told.values())[:_MOST_UNDERSTOOD]
    questions = [one.open for one in ordered if one.open is not None]
    return QuestionReading(request, understood, tuple(questions), tuple(_unread(sentence)), unknown)


def _leave_unread(sentence: Sentence, parts: Sequence[PartSaid], told: Sequence[Found]) -> None:
    """Take the parts that are named as unread of which nothing was made, nor asked."""
    heard = {x for one in told for y in one.understood for x in range(y.first, y.last)}
    is_asked = any(one.open is not None and one.open.field in ("have", "exclude") for one in told)
    for part in () if is_asked else parts:
        if heard.isdisjoint(range(part.first, part.last)):
            sentence.read[part.first : part.last] = [False] * (part.last - part.first)


def _is_displaced(sentence: Sentence, found: Found, names: Sequence[NameSaid]) -> bool:
    """Whether another car than the one that was found is surely named as well, or no car of the catalog is meant."""
    if found.value is None:
        return False
    is_other = any(x.is_sure and sentence.asides.isdisjoint(range(x.first, x.last)) for x in names)
    return is_other or bool(absent_in(sentence))


def _unread(sentence: Sentence) -> Iterator[str]:
    """Runs of words that nothing was made of and that may matter."""
    first = -1
    told = 0
    for place in range(len(sentence.words) + 1):
        is_within = first >= 0 and sentence.at(place) in _OF_NAMES and sentence.is_glued(place + 1)
        if is_within and sentence.is_glued(place) and _may_matter(sentence, place + 1):
            continue  # of a number of a part
        if place < len(sentence.words) and _may_matter(sentence, place):
            first = _from_denial(sentence, place) if first < 0 else first
        elif first >= 0 and told < _MOST_UNREAD:
            told += 1
            yield sentence.quote(first, place)
            first = -1


def _from_denial(sentence: Sentence, place: int) -> int:
    """A place, or the denial before it: `don't use nitrile seals`, where `use` says nothing."""
    start, _ = sentence.clause_of(place)
    for before in range(place - 1, max(start, place - _FAR_DENIAL) - 1, -1):
        if sentence.read[before] or not sentence.words[before].is_word:
            break
        if sentence.at(before) in words.DENIALS:
            return before
        if not (sentence.at(before) in words.LIGHT or sentence.at(before) in words.SAYS_NOTHING):
            break
    return place


def _may_matter(sentence: Sentence, place: int) -> bool:
    word = sentence.words[place]
    is_heard = sentence.read[place] and place not in sentence.of_others
    if is_heard or not (word.is_word or word.is_number):
        return False
    if word.is_number:
        if word.is_code:
            return False
        unit = sentence.at(place + 1)
        return unit not in UNITS or unit in _TELLING or UNITS[unit][0] != "other"
    return word.text not in words.SAYS_NOTHING and word.text not in words.LIGHT and len(word.text) > 1
