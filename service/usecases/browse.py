"""Browse the catalog: items by what they are, meet and fit; the layouts of a chassis with what they cost."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import isinf
from typing import Any, TypeVar

from service.documents.answer import LayoutChoice, Reason
from service.documents.catalog import Chassis as ChassisDocument
from service.documents.catalog import Item
from service.documents.nearest import nearest
from service.documents.packed import Objects
from service.documents.request import BillRequest
from service.domain.findings import Finding
from service.domain.parts import OPPOSITE_END, Opening
from service.domain.request import Request
from service.domain.revision import Fuel
from service.domain.tongue import named
from service.domain.vehicles import Chassis
from service.domain.work import TooCostlyError, part
from service.explain.figures import figure_of
from service.explain.power import power_told
from service.explain.reasons import broken
from service.explain.too_costly import too_costly_here
from service.explain.wishes import with_nearest_finish
from service.usecases.errors import NotFoundError
from service.usecases.library import Edition
from service.usecases.long_work import begin_long_work
from service.usecases.resolve_request import resolve_request

D = TypeVar("D")


@dataclass(frozen=True)
class ItemFilter:
    """What items must all be: of a kind, meeting a port (standard, end), standing in a bill for a chassis, holding
    words, of these SKUs, of a status, sold by the maker or not; None: whatever they are."""

    kind: str | None = None
    mates: tuple[str, str] | None = None
    fits: str | None = None
    words: str | None = None
    skus: frozenset[str] | None = None
    status: str | None = None
    sold: bool | None = None


def list_items(edition: Edition, wanted: ItemFilter) -> Objects[Item]:
    """The items that pass a filter, in catalog order. Raises NotFoundError for an unknown port standard or chassis."""
    chosen = list(_chosen(edition, wanted))
    if not chosen:
        return edition.catalog.items
    return edition.catalog.items.only(sorted(set.intersection(*chosen), key=edition.positions.__getitem__))


def _chosen(edition: Edition, wanted: ItemFilter) -> Iterator[set[str]]:
    """For each filter that names what it leaves the SKUs that it does."""
    index, standards, mates = edition.revision.index, edition.revision.standards, wanted.mates
    if mates is not None and mates[0] not in standards:
        raise NotFoundError("port standard", mates[0], tuple(nearest(mates[0], standards)))
    if wanted.skus is not None:
        yield set(wanted.skus & edition.items.keys())
    for picks_few, few in ((_is("retired", wanted.status), index.retired), (_is(False, wanted.sold), index.unsold)):
        if picks_few is not None:
            yield set(few) if picks_few else edition.items.keys() - few
    if wanted.kind is not None:
        yield set(index.by_kind.get(wanted.kind, ()))
    if mates is not None:
        yield set(index.by_opening.get(Opening(mates[0], OPPOSITE_END.get(mates[1], "")), ()))
    if wanted.words is not None:
        yield set(edition.item_search.found(wanted.words))
    if wanted.fits is not None:
        yield edition.skus_fitting(find_chassis(edition, wanted.fits))


def _is(value: object, wanted: object) -> bool | None:
    return None if wanted is None else wanted == value


def list_chassis(edition: Edition, words: str | None) -> Objects[ChassisDocument]:
    """The cars whose names, ids or engines hold all words, in catalog order; without words all."""
    return edition.catalog.chassis if words is None else edition.catalog.chassis.only(edition.car_search.found(words))


def find_item(edition: Edition, sku: str) -> Item:
    """The item of that SKU, in whatever case it is written. Raises NotFoundError."""
    item = edition.items.get(edition.revision.sku_of(sku))
    if item is None:
        raise NotFoundError("item", sku, tuple(nearest(sku, edition.items)))
    return item


def find(documents: Objects[D], kind: str, wanted: str) -> D:
    """The document of that id in a section; `kind` names the section's things. Raises NotFoundError."""
    document = documents.get(wanted)
    if document is None:
        raise NotFoundError(kind, wanted, tuple(nearest(wanted, documents.texts)))
    return document


def find_chassis(edition: Edition, wanted: str) -> Chassis:
    """The compiled chassis of that id. Raises NotFoundError."""
    chassis = edition.revision.chassis.get(wanted)
    if chassis is None:
        raise NotFoundError("chassis", wanted, tuple(nearest(wanted, edition.revision.chassis)))
    return chassis


def chassis_layouts(edition: Edition, chassis_id: str, wishes: Mapping[str, Any] | None = None) -> list[LayoutChoice]:
    """Each layout with its number of bills, lowest price and what its best bill carries, or the rule that rules it out;
    of one that takes too much work, why.

    `wishes`: the fields of a request for bills but chassis and layout; without any: variants grouped, the stock power,
    the catalog's first fuel.
    Raises NotFoundError for an unknown chassis, RequestFaultsError for wishes that do not fit it.
    """
    chassis = find_chassis(edition, chassis_id)
    layouts = list(edition.revision.layouts.values())
    if not layouts:
        return []
    asked = {**(wishes or {}), "chassis": chassis.id, "layout": layouts[0].id, "limit": 1}
    first = resolve_request(BillRequest.model_validate(asked), edition.revision)
    found: list[LayoutChoice] = []
    for place, layout in enumerate(layouts):
        request = replace(first, layout=layout)
        try:
            with part(len(layouts) - place):
                found.append(_choice(edition, request))
        except TooCostlyError as error:
            begin_long_work()  # what took too much of a few steps may not take too much of many
            found.append(_unknown(request, error))
    return found


def _obstacle(edition: Edition, request: Request, obstacle: Finding) -> Reason:
    return with_nearest_finish(broken(obstacle), request.finish, edition.revision)


def _choice(edition: Edition, request: Request) -> LayoutChoice:
    engine, layout = edition.engine, request.layout
    answer = engine.answer(request)
    best = next(iter(answer.bills), None)
    obstacle = engine.obstacle(request) if best is None else None
    cheapest = best.price if best is not None and request.order_by == "price" else engine.lowest_price(request)
    return {
        "layout": layout.id,
        "name": named(layout.name),
        "summary": named(layout.summary),
        "total_valid": answer.total_valid,
        "power": None if best is None else power_told(edition.assessor.power(best, request)),
        "duties": None if best is None else dict(best.duties),
        "largest_power_kw": figure_of(_finite(engine.largest_power_kw(request))),
        "lowest_price": None if best is None else cheapest,
        "ruled_out_by": _obstacle(edition, request, obstacle) if obstacle else None,
        "too_costly": None,
    }


def _unknown(request: Request, error: TooCostlyError) -> LayoutChoice:
    """A layout of which it takes too much work to tell anything."""
    layout = request.layout
    return {
        "layout": layout.id,
        "name": named(layout.name),
        "summary": named(layout.summary),
        "total_valid": None,
        "power": None,
        "duties": None,
        "largest_power_kw": None,
        "lowest_price": None,
        "ruled_out_by": None,
        "too_costly": too_costly_here(error),
    }


def find_fuel(edition: Edition, wanted: str | None) -> Fuel:
    """The compiled fuel of that id, the catalog's first where None. Raises NotFoundError."""
    fuels = edition.revision.fuels
    fuel = next(iter(fuels.values())) if wanted is None else fuels.get(wanted)
    if fuel is None:
        raise NotFoundError("fuel", str(wanted), tuple(nearest(str(wanted), fuels)))
    return fuel


def _finite(power_kw: float | None) -> float | None:
    return None if power_kw is None or isinf(power_kw) else power_kw
