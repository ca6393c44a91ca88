"""Check an order: the valid bill nearest to it, or one very bill, and the changes that make it that bill."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.orders import Difference, Nearness, Order, Reading, difference
from service.domain.request import Request
from service.explain.order_changes import changes_between, sold_units
from service.explain.order_report import NearestTold, OrderTold, report_impossible, report_order
from service.explain.report import report_bill
from service.explain.telling import Telling
from service.solver.orders.nearest import Nearest, nearest_first
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition
from service.usecases.recall_bill import held_by, recall_in
from service.usecases.resolve_order import ResolvedOrder, ordered_units, readings_of, resolve_order

MOST_OTHERS = 5
"""How many other layouts are listed that the order could be made to fit."""
MOST_TIES = 20
"""How many are listed that take as few changes as the one that is shown."""
MOST_OBSTACLES = 10
"""Where none has a bill, for how many layouts it is told why."""

_Placed = tuple[int, Nearest]
"""The nearest bill of a layout, and the place of the layout in the catalog."""


@dataclass(frozen=True, eq=False)
class _Judged:
    """An order in one reading: its nearest bill, if there is any, and those of other layouts, the nearest first."""

    reading: Reading
    nearest: _Placed | None
    others: Sequence[_Placed]

    @property
    def changes(self) -> float:
        return float("inf") if self.nearest is None else self.nearest[1].difference.changes

    @property
    def listed(self) -> Iterator[_Placed]:
        """Of the others a handful, or all that take as few changes as the nearest bill, up to a bound."""
        for number, placed in enumerate(self.others):
            if number < (MOST_TIES if placed[1].difference.changes == self.changes else MOST_OTHERS):
                yield placed


def check_order(edition: Edition, asked: OrderRequest) -> OrderResult:
    """Judge an order in an edition. Raises RequestFaultsError, NotFoundError for a key that names no bill there."""
    if asked.key is not None:
        return _check_against(edition, asked, asked.key)
    resolved = resolve_order(asked, edition.revision)
    judged = min((_judge(edition, resolved, reading, asked.layout) for reading in resolved.readings), key=_changes)
    order = OrderTold(judged.reading, asked.layout, resolved.unknown, resolved.gauge_told)
    others = [_nearness_of(edition, resolved, judged.reading, placed) for placed in judged.listed]
    if judged.nearest is None:
        return report_impossible(order, others, edition.revision, _obstacles(edition, resolved, order))
    place, nearest = judged.nearest
    request, bill = resolved.requests[place], nearest.bill
    bill_request = resolved.bill_request.model_copy(update={"layout": request.layout.id})
    key = key_maker(edition.number, bill_request)(bill)
    document = report_bill(bill, Telling(request, edition.revision), key, edition.assessor.assess(bill, request))
    found = NearestTold(_nearness_of(edition, resolved, judged.reading, judged.nearest), bill, request, document)
    return report_order(order, found, others, edition.revision, partial(edition.engine.rejections, request))


def _check_against(edition: Edition, asked: OrderRequest, key: str) -> OrderResult:
    """Judge an order by the bill of a key alone."""
    recalled = recall_in(edition, held_by(key), key)
    bill, request, items = recalled.bill, recalled.request, edition.revision.items
    ordered = ordered_units(asked, edition.revision)
    needed = sold_units(bill)
    readings = readings_of(ordered.known, request, asked.sets, items)
    told = [(difference(reading.order, needed, items), reading) for reading in readings]
    least, reading = min(told, key=lambda one: one[0].changes)
    order = OrderTold(reading, request.layout.id, ordered.unknown, gauge_told=False, has_key=True)
    found = NearestTold(_nearness(edition, reading, request, bill, least), bill, request, recalled.document)
    return report_order(order, found, (), edition.revision, partial(edition.engine.rejections, request))


def _judge(edition: Edition, resolved: ResolvedOrder, reading: Reading, layout: str | None) -> _Judged:
    """Judge an order in one reading."""
    approaches = edition.engine.approaches(resolved.requests, reading.order)
    if layout is not None:
        place = next(place for place, request in enumerate(resolved.requests) if request.layout.id == layout)
        own = approaches[place].nearest
        found = nearest_first(approaches, MOST_OTHERS + 1)
        return _Judged(reading, None if own is None else (place, own), [x for x in found if x[0] != place])
    found = nearest_first(approaches, MOST_OTHERS + 1, MOST_TIES + 1)
    nearest = min(found, key=lambda placed: (placed[1].rank, placed[0]), default=None)
    return _Judged(reading, nearest, [x for x in found if x is not nearest])


def _changes(judged: _Judged) -> float:
    return judged.changes


def _nearness_of(edition: Edition, resolved: ResolvedOrder, reading: Reading, placed: _Placed) -> Nearness:
    place, nearest = placed
    return _nearness(edition, reading, resolved.requests[place], nearest.bill, nearest.difference)


def _nearness(edition: Edition, reading: Reading, request: Request, bill: Bill, told: Difference) -> Nearness:
    """How near a bill comes to an order; swaps are looked for only where some units go and others come."""
    swapped = 0
    if told.added and told.removed:
        swapped = sum(swap.qty for swap in changes_between(reading, bill, edition.revision.items).swap)
    return Nearness(request.layout.id, told.added.total(), told.removed.total(), swapped, told.price_change)


def _obstacles(edition: Edition, resolved: ResolvedOrder, order: OrderTold) -> Iterator[tuple[Request, Finding | None]]:
    """What stands in the way in the layout asked for, else in each; None where only several sets are too many."""
    requests = [request for request in resolved.requests if order.layout in (None, request.layout.id)]
    for request in requests[:MOST_OBSTACLES]:
        is_for_one = order.reading.order.sets > 1 and _has_bill(edition, request, order.reading.order)
        yield request, None if is_for_one else edition.engine.obstacle(request)


def _has_bill(edition: Edition, request: Request, order: Order) -> bool:
    """Whether there is a bill for one set."""
    [approach] = edition.engine.approaches([request], replace(order, sets=1))
    return approach.nearest is not None
