"""One revision, ready to answer: its documents with all that is worked out of them."""

import logging
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import chain
from time import monotonic, thread_time

from service.assessment import Assessor
from service.documents import catalog as documents
from service.documents.catalog import Catalog, Item
from service.documents.compile import compile_revision
from service.documents.packed import PackedCatalog, packed
from service.domain.lazy import lazy
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.units import KW_PER_HP
from service.domain.vehicles import Chassis, Layout
from service.domain.work import TooCostlyError, giving_way, kept, metered
from service.reading.folding import folded
from service.reading.names import Names
from service.reading.orders import OrderReader
from service.reading.questions.lexicon import lexicon_of
from service.reading.questions.reader import QuestionReader
from service.reading.searching import Search
from service.reading.vocabulary import Part, Vocabulary
from service.solver.engine import Engine
from service.solver.search.bill_orders import KEPT_ORDERS
from service.usecases.pacing import PAUSES, PAUSES_UNSEEN, PacedMeter

_PREPARING_S = 0.5
"""The most processor time that a preparation takes; first answers work out what is left."""
_SOON_S = 0.2
"""So long at most a new edition is prepared before it answers."""
_PREPARING_STEPS = 5_000_000
_KEPT_PAIRS = 1024

_log = logging.getLogger(__name__)


class Edition:
    """One revision, ready to answer: its documents, compiled, with its engine."""

    def __init__(self, number: int, catalog: Catalog | PackedCatalog) -> None:
        self.number = number
        self.catalog = packed(catalog)
        if isinstance(catalog, Catalog):
            vars(self)["document"] = catalog

    @lazy
    def document(self) -> Catalog:
        """The catalog as one document: for what looks at all of it."""
        return self.catalog.whole()

    @lazy
    def revision(self) -> Revision:
        return compile_revision(self.catalog, self.number)

    @lazy
    def engine(self) -> Engine:
        return Engine(self.revision)

    @lazy
    def assessor(self) -> Assessor:
        return Assessor(self.revision)

    @property
    def items(self) -> Mapping[str, Item]:
        """The item documents by SKU, in catalog order."""
        return self.catalog.items.by_id

    @lazy
    def order_reader(self) -> OrderReader:
        return OrderReader(Vocabulary(map(_part_in_both, self.catalog.items), _names_of_cars(self.catalog)))

    @lazy
    def vocabulary(self) -> Vocabulary:
        return Vocabulary(map(_part, self.catalog.items), _names_of_cars(self.catalog))

    @lazy
    def question_reader(self) -> QuestionReader:
        catalog = self.catalog
        engines = {chassis.id: chassis.engine for chassis in catalog.chassis}
        aliases = {
            "chassis": _aliases(catalog.chassis),
            "fuels": _aliases(catalog.fuels),
            "addons": _aliases(catalog.addons),
            "layouts": _aliases(catalog.layouts),
            "materials": _aliases(catalog.materials),
        }
        return QuestionReader(lexicon_of(self.revision, self.vocabulary, engines, aliases))

    @lazy
    def names(self) -> dict[str, Names]:
        """By field of a request, what its ids are called."""
        return {
            "chassis": _names(self.catalog.chassis),
            "layout": _names(self.catalog.layouts),
            "fuel": _names(self.catalog.fuels),
            "addons": _names(self.catalog.addons),
        }

    @lazy
    def words_of_cars(self) -> dict[str, str]:
        """By the id of each car all that it is called, in one text as texts are compared."""
        return {x.id: _words(x.id, x.name, x.aliases) for x in self.catalog.chassis}

    @lazy
    def car_search(self) -> Search:
        """Finds cars by what they are called and by their engines."""
        return Search({x.id: f"{self.words_of_cars[x.id]} {_engine(x)}" for x in self.catalog.chassis})

    @lazy
    def item_search(self) -> Search:
        """Finds items by what they are called and what they are."""
        return Search({x.sku: " ".join((x.name, x.sku, *(x.aliases or ()), *_traits(x))) for x in self.catalog.items})

    @lazy
    def finishes(self) -> tuple[str, ...]:
        """The finishes of the catalog, by name."""
        return tuple(sorted({item.finish for item in self.catalog.items if item.finish is not None}))

    @lazy
    def positions(self) -> dict[str, int]:
        """The place of each SKU in the catalog."""
        return {sku: position for position, sku in enumerate(self.items)}

    @lazy
    def skus_in(self) -> Callable[[Chassis, Layout], set[str]]:
        """Gives the SKUs that stand in a valid bill of a layout for a chassis, plainly asked, with or without a gauge,
        and its mounting parts; kept for those that were asked for last."""
        return kept(_KEPT_PAIRS, self._usable_in)

    def _usable_in(self, chassis: Chassis, layout: Layout) -> set[str]:
        return set().union(*map(self.engine.usable, self.plainly(chassis, layout)))

    def plainly(self, chassis: Chassis, layout: Layout) -> tuple[Request, Request]:
        """The requests without a wish, at the stock power on the first fuel: without a gauge, and with one."""
        fuel = next(iter(self.revision.fuels.values()))
        without = Request(chassis, layout, fuel, chassis.stock_kw)
        return without, replace(without, gauge="any")

    def skus_fitting(self, chassis: Chassis) -> set[str]:
        """The SKUs of `skus_in` for any layout."""
        return set().union(*(self.skus_in(chassis, layout) for layout in self.revision.layouts.values()))


def _names(section: Iterable[documents.Chassis | documents.Layout | documents.Fuel | documents.Addon]) -> Names:
    return Names({one.id: (one.name, *(one.aliases or ())) for one in section})


def _aliases(
    section: Iterable[documents.Chassis | documents.Layout | documents.Fuel | documents.Addon | documents.Material],
) -> dict[str, tuple[str, ...]]:
    return {one.id: tuple(one.aliases or ()) for one in section}


def _words(id_: str, name: str, aliases: Iterable[str] | None) -> str:
    return folded(" ".join((name, id_, *(aliases or ()))))


def _traits(item: Item) -> Iterator[str]:
    return filter(None, (item.kind, item.family, item.finish))


def _engine(car: documents.Chassis) -> str:
    return f"{car.engine} {car.pattern} {car.cylinders} cylinders {car.stock_kw:g} kw {car.stock_kw / KW_PER_HP:.0f} hp"


def _part(item: Item) -> Part:
    return Part(item.sku, item.name, tuple(item.aliases or ()), item.family, item.price if item.sold else None)


def _part_in_both(item: Item) -> Part:
    """A part that is called by its name in the second language too, as orders are written in both."""
    part = _part(item)
    return replace(part, aliases=(*part.aliases, item.second_name)) if item.second_name else part


def _names_of_cars(catalog: PackedCatalog) -> Iterator[str]:
    for chassis in catalog.chassis:
        yield from (chassis.id, chassis.name, chassis.engine, *(chassis.aliases or ()))


def open_edition(number: int, catalog: Catalog | PackedCatalog) -> Edition:
    """An edition whose index stands; each part of it is compiled when it is first asked for."""
    edition = Edition(number, catalog)
    edition.engine  # noqa: B018 worked out now and not in the first request
    return edition


class Preparation:
    """What first requests would have to wait for, worked out before; for as long as `gives_way` says, most of the time
    is left to others."""

    def __init__(self, edition: Edition, gives_way: Callable[[], bool]) -> None:
        self._edition = edition
        self._usual = edition.engine.prepare(KEPT_ORDERS[:1])
        self._rest = edition.engine.prepare(KEPT_ORDERS[1:])
        self._gives_way = gives_way

    def begin(self) -> None:
        """Prepare the usual order for a moment, before the edition answers."""
        self._go_on(self._usual, monotonic, _SOON_S, PAUSES)

    def finish(self) -> None:
        """Do the rest that takes little time of the processor."""
        self._go_on(chain(self._usual, self._rest), thread_time, _PREPARING_S, PAUSES_UNSEEN)

    def _go_on(self, steps: Iterator[None], clock: Callable[[], float], seconds: float, pauses: int) -> None:
        until = clock() + seconds
        meter = PacedMeter(_PREPARING_STEPS, self._gives_way, pauses)  # not that of whoever asks first
        with metered(meter), giving_way(meter.pace.step):
            try:
                for _ in steps:
                    if clock() > until:
                        break
            except TooCostlyError:
                _log.info("revision %d is large: the rest is found in its first answers", self._edition.number)
