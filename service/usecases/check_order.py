"""Check an order: the valid bill nearest to it, and the changes that make it that bill."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.domain.findings import Finding
from service.domain.orders import Nearness, Order, Reading
from service.domain.request import Request
from service.explain.order_report import NearestTold, OrderTold, report_impossible, report_order
from service.explain.report import report_bill
from service.explain.telling import Telling
from service.solver.orders.nearest import Nearest, nearest_first
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition
from service.usecases.resolve_order import ResolvedOrder, resolve_order

MOST_OTHERS = 5
"""How many other layouts are listed that the order could be made to fit."""
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
        return float("inf") if self.nearest is None else self.nearest[1].changes


def check_order(edition: Edition, asked: OrderRequest) -> OrderResult:
    """Judge an order in an edition. Raises RequestFaultsError."""
    resolved = resolve_order(asked, edition.revision)
    judged = min((_judge(edition, resolved, reading, asked.layout) for reading in resolved.readings), key=_changes)
    order = OrderTold(judged.reading, asked.layout, resolved.unknown, resolved.gauge_told)
    others = [_nearness(resolved, placed) for placed in judged.others[:MOST_OTHERS]]
    if judged.nearest is None:
        return report_impossible(order, others, edition.revision, _obstacles(edition, resolved, order))
    place, nearest = judged.nearest
    request, bill = resolved.requests[place], nearest.bill
    bill_request = resolved.bill_request.model_copy(update={"layout": request.layout.id})
    key = key_maker(edition.number, bill_request)(bill)
    document = report_bill(bill, Telling(request, edition.revision), key, edition.assessor.assess(bill, request))
    found = NearestTold(_nearness(resolved, judged.nearest), bill, request, document)
    return report_order(order, found, others, edition.revision, partial(edition.engine.rejections, request))


def _judge(edition: Edition, resolved: ResolvedOrder, reading: Reading, layout: str | None) -> _Judged:
    """What comes nearest to an order, read in one way; of layouts whose bills are alike in everything, the first."""
    approaches = edition.engine.approaches(resolved.requests, reading.order)
    if layout is not None:
        place = next(place for place, request in enumerate(resolved.requests) if request.layout.id == layout)
        own = approaches[place].nearest
        found = nearest_first(approaches, MOST_OTHERS + 1)
        return _Judged(reading, None if own is None else (place, own), [x for x in found if x[0] != place])
    found = nearest_first(approaches, MOST_OTHERS + 1)
    nearest = min(found, key=lambda placed: (placed[1].rank, placed[0]), default=None)
    return _Judged(reading, nearest, [x for x in found if x is not nearest])


def _changes(judged: _Judged) -> float:
    return judged.changes


def _nearness(resolved: ResolvedOrder, placed: _Placed) -> Nearness:
    place, nearest = placed
    layout = resolved.requests[place].layout.id
    return Nearness(layout, nearest.added.total(), nearest.removed.total(), nearest.price_change)


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
