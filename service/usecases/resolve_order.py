"""An order's names looked up in its revision: the request that it makes for each layout, and how its lines are read."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.orders import Order, Ordered, Reading, is_compared
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.vehicles import Layout
from service.usecases.resolve_request import resolve_request, with_skus

_NOT_OF_BILLS = {"key", "lines", "layout", "sets", "revision"}


@dataclass(frozen=True, eq=False)
class ResolvedOrder:
    """`requests`: one for each layout that may do, in the order of the catalog; `bill_request`: the same as asked.

    `readings`: the first has each superseded SKU count as its last successor. A second one, where some of these are
    still in the range, has them count as what they are: an order of just what a bill takes is right, whatever has
    followed since. `gauge_told`: a gauge among what is ordered tells that one is wanted.
    """

    requests: tuple[Request, ...]
    bill_request: BillRequest
    readings: tuple[Reading, ...]
    unknown: tuple[str, ...]
    gauge_told: bool


@dataclass(frozen=True, eq=False)
class OrderedUnits:
    """The units of an order by SKU, of known ones and of others."""

    known: dict[str, int]
    unknown: tuple[str, ...]


def ordered_units(asked: OrderRequest, revision: Revision) -> OrderedUnits:
    """The units of all lines, each SKU once as first named."""
    ordered = Counter[str]()
    for line in asked.lines:
        ordered[revision.sku_of(line.sku)] += line.qty
    known = {sku: qty for sku, qty in ordered.items() if sku in revision.items}
    return OrderedUnits(known, tuple(sku for sku in ordered if sku not in revision.items))


def resolve_order(asked: OrderRequest, revision: Revision) -> ResolvedOrder:
    """The order as it is judged. Raises RequestFaultsError with all faults; an unknown SKU in a line is none."""
    items = revision.items
    ordered = ordered_units(asked, revision)
    gauge_told = "gauge" not in asked.model_fields_set and any(
        items[successor(items, x)].kind == "gauge" for x in ordered.known
    )
    wishes = asked.model_dump(exclude=_NOT_OF_BILLS, exclude_unset=True)
    if gauge_told:
        wishes["gauge"] = "any"
    layout = next(iter(revision.layouts), "none") if asked.layout is None else asked.layout
    bill_request = with_skus(
        BillRequest.model_validate({**wishes, "layout": layout, "group_variants": False}), revision
    )
    request = resolve_request(bill_request, revision)
    return ResolvedOrder(
        requests=tuple(replace(request, layout=one) for one in _layouts(request, asked.layout, revision)),
        bill_request=bill_request,
        readings=readings_of(ordered.known, request, asked.sets, items),
        unknown=ordered.unknown,
        gauge_told=gauge_told,
    )


def readings_of(
    known: Mapping[str, int], request: Request, sets: int, items: Mapping[str, Item]
) -> tuple[Reading, ...]:
    """The ways in which units of known SKUs may be read."""
    last = _read(known, {sku: successor(items, sku) for sku in known}, request, sets, items)
    in_range = {sku: successor(items, sku, until_active=True) for sku in known}
    if all(read.counts_as == in_range[read.sku] for read in last.lines):
        return (last,)
    return last, _read(known, in_range, request, sets, items)


def _layouts(request: Request, asked: str | None, revision: Revision) -> Sequence[Layout]:
    """The layouts for as many banks as the car has, and the one that is asked for; all where there are none."""
    every = tuple(revision.layouts.values())
    return [x for x in every if x.id == asked or x.banks == request.chassis.banks] or every


def successor(items: Mapping[str, Item], sku: str, *, until_active: bool = False) -> str:
    """The last successor of a known SKU; `until_active`: itself or the first one that is still in the range."""
    item = items[sku]
    while item.superseded_by is not None and not (until_active and item.active):
        item = items[item.superseded_by]
    return item.sku


def _read(
    known: Mapping[str, int], counts_as: Mapping[str, str], request: Request, sets: int, items: Mapping[str, Item]
) -> Reading:
    lines = tuple(Ordered(sku, qty, counts_as[sku]) for sku, qty in known.items())
    units = Counter[str]()
    for line in lines:
        if is_compared(items[line.counts_as]):
            units[line.counts_as] += line.qty
    list_price = sum(qty * items[sku].price for sku, qty in units.items())
    return Reading(lines, Order(units, dict(request.have), sets, list_price))
