"""Work out what else could be asked where a request has no bill, or its best bill carries less than is asked."""

from collections.abc import Iterator
from dataclasses import replace

from service.documents.fields import PLACES
from service.domain.alternatives import MOST_ALTERNATIVES, NO_ALTERNATIVES, Alternative, Alternatives, Changed
from service.domain.answer import Bill
from service.domain.power import Power
from service.domain.request import Request
from service.domain.work import spend
from service.solver.search.outlines import shapes_of
from service.usecases.library import Edition

STEPS_OF_A_BILL = 300
"""What it takes to assess and word one."""


def alternatives(edition: Edition, request: Request, best: Power | None) -> Alternatives:
    """The alternatives to a request whose best bill has that power; None: it has no bill.

    Other places for the gauge first, in the order of places; then other layouts, by the price shown.
    """
    if best is not None and (best.verdict != "over" or edition.engine.none_carries(request, best.asked_kw)):
        return NO_ALTERNATIVES
    gauges = [_alternative(edition, replace(request, gauge=spot), "gauge", best) for spot in _spots(edition, request)]
    others = [x for x in edition.revision.layouts.values() if x.banks == request.chassis.banks and x != request.layout]
    layouts = [_alternative(edition, replace(request, layout=layout), "layout", best) for layout in others]
    found = [x for x in gauges if x is not None]
    found += sorted((x for x in layouts if x is not None), key=lambda x: x.price)
    return Alternatives(tuple(found[:MOST_ALTERNATIVES]), len(found) > MOST_ALTERNATIVES)


def _spots(edition: Edition, request: Request) -> Iterator[str]:
    """Each other place for a gauge that is asked for."""
    if request.gauge == "none":
        return
    offered = {place for shape in shapes_of(request, edition.revision) for place in shape.spots}
    spots = (spot for place in PLACES if place in offered for spot in request.chassis.on_banks(place))
    yield from (spot for spot in spots if spot != request.gauge)


def _alternative(edition: Edition, request: Request, changes: Changed, best: Power | None) -> Alternative | None:
    """What a changed request gives; None where that does not help."""
    total_valid, bill = edition.engine.first(request)
    if bill is None:
        return None
    power = _power(edition, bill, request)
    if best is not None and power.verdict == "over":
        bill = edition.engine.first_carrying(request, best.asked_kw)
        if bill is None:
            return None
        power = _power(edition, bill, request)
    value = request.gauge if changes == "gauge" else request.layout.id
    return Alternative(changes, value, total_valid, bill.price, power)


def _power(edition: Edition, bill: Bill, request: Request) -> Power:
    spend(STEPS_OF_A_BILL, "bills")
    return edition.assessor.power(bill, request)
