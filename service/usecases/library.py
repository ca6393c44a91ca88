"""The revisions at hand: each loaded and compiled once, kept while it is asked for."""

import gc
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property, lru_cache
from threading import Lock
from time import perf_counter

from service.assessment import Assessor
from service.documents.catalog import Catalog, Item
from service.documents.compile import compile_revision
from service.documents.pasted_order import SkuReader
from service.domain.parts import Opening
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.vehicles import Chassis
from service.solver.engine import Engine
from service.storage.digest import catalog_digest
from service.storage.errors import UnknownRevisionError
from service.storage.revisions import Progress, RevisionStore
from service.usecases.errors import NoCatalogError, NotFoundError

KEPT_EDITIONS = 4
PREPARING_S = 1.0
"""So long at most chains are looked for when an edition is opened; what is left is found in the first answers."""
_COLLECTOR_THRESHOLDS = (1_000, 10, 1_000)


@dataclass(frozen=True, eq=False)
class Edition:
    """One revision, ready to answer: its document, compiled, with its engine."""

    number: int
    catalog: Catalog

    @cached_property
    def revision(self) -> Revision:
        return compile_revision(self.catalog, self.number)

    @cached_property
    def engine(self) -> Engine:
        return Engine(self.revision)

    @cached_property
    def assessor(self) -> Assessor:
        return Assessor(self.revision)

    @cached_property
    def items(self) -> dict[str, Item]:
        """The item documents by SKU, in catalog order."""
        return {item.sku: item for item in self.catalog.items}

    @cached_property
    def sku_reader(self) -> SkuReader:
        return SkuReader(self.items)

    @cached_property
    def positions(self) -> dict[str, int]:
        """The place of each SKU in the catalog."""
        return {sku: position for position, sku in enumerate(self.items)}

    @cached_property
    def skus_by_kind(self) -> dict[str, set[str]]:
        kinds: dict[str, set[str]] = {}
        for item in self.catalog.items:
            kinds.setdefault(item.kind, set()).add(item.sku)
        return kinds

    @cached_property
    def skus_by_opening(self) -> dict[Opening, set[str]]:
        """The SKUs by what their ports meet."""
        meeting: dict[Opening, set[str]] = {}
        for item in self.catalog.items:
            for port in item.ports:
                meeting.setdefault(Opening(port.standard, port.end).mate, set()).add(item.sku)
        return meeting

    @cached_property
    def _fitting(self) -> dict[str, dict[str, set[str]]]:
        return {}

    def skus_by_layout(self, chassis: Chassis) -> dict[str, set[str]]:
        """For each layout the SKUs that stand in a valid bill of it for the chassis at its stock power on the first
        fuel, with or without a gauge, and its mounting parts; worked out once a chassis."""
        if chassis.id not in self._fitting:
            fuel = next(iter(self.revision.fuels.values()))
            self._fitting[chassis.id] = {
                layout.id: set().union(
                    *(
                        self.engine.usable(Request(chassis, layout, fuel, chassis.stock_kw, gauge=gauge))
                        for gauge in ("none", "any")
                    )
                )
                for layout in self.revision.layouts.values()
            }
        return self._fitting[chassis.id]

    def skus_fitting(self, chassis: Chassis) -> set[str]:
        """The SKUs of `skus_by_layout` for any layout."""
        return set().union(*self.skus_by_layout(chassis).values())


def open_edition(number: int, catalog: Catalog) -> Edition:
    """An edition, compiled now and not in its first request.

    It is large and lives long: the garbage collector would look through it in the midst of answers, for nothing. So
    all that is there now is taken from its sight, and it comes less often; it does come for older editions.
    """
    edition = Edition(number, catalog)
    until = perf_counter() + PREPARING_S
    for _ in edition.engine.prepare():
        if perf_counter() > until:
            break
    gc.unfreeze()
    gc.collect()
    gc.freeze()
    gc.set_threshold(*_COLLECTOR_THRESHOLDS)
    return edition


class Library:
    """Opens editions from the store. Safe to share by threads."""

    def __init__(self, store: RevisionStore) -> None:
        self._store = store
        self._opening = Lock()
        self._editions = lru_cache(KEPT_EDITIONS)(self._open)

    def edition(self, number: int | None = None) -> Edition:
        """The edition of that number, of the newest where None.

        Raises NoCatalogError while there is none, NotFoundError for a number that is not known.
        """
        if number is None:
            number = self._store.latest()
            if number is None:
                raise NoCatalogError("no catalog has been imported yet")
        with self._opening:  # one thread opens an edition, the others wait for it
            return self._editions(number)

    def _open(self, number: int) -> Edition:
        try:
            return open_edition(number, self._store.load(number))
        except UnknownRevisionError as error:
            raise NotFoundError("revision", str(number)) from error

    def publish(self, catalog: Catalog, progress: Progress | None = None) -> tuple[int, bool]:
        """Keep a checked catalog as the newest revision; (its number, whether it is new).

        A catalog equal to the newest revision makes no new one.
        """
        newest = next(iter(self._store.summaries()), None)
        if newest is not None and newest.digest == catalog_digest(catalog):
            return newest.number, False
        return self._store.add(catalog, created_at=datetime.now(UTC), progress=progress), True
