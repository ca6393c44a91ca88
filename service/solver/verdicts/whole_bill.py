"""What stops a part over the whole bill, where its own spot would do: other spots, stock, what is had, the price."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace

from service.domain.explanation import Left, Stop
from service.domain.findings import Finding
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.rules import RULE_ORDER, elsewhere, supply, wish
from service.solver.judge.options import units_at
from service.solver.search.bundles import Bundle
from service.solver.search.counting import count
from service.solver.search.diagnosis import DeadSpot, dead_spots
from service.solver.search.frontier import Ranked
from service.solver.search.limiting import limit, scarce
from service.solver.search.limits import FREE, Limits, Scarce
from service.solver.search.ranking import Ranker
from service.solver.search.setups import Setup


def stops_of_bill(setup: Setup, request: Request, revision: Revision) -> tuple[Stop, ...]:
    """Every rule over the whole bill that leaves no bill of a setup; what limits it is told where each spot has
    something to choose."""
    dead = tuple([_of_spot(one, revision) for one in dead_spots(setup)])
    return dead or tuple(_of_limits(setup, request, revision))


def _of_spot(dead: DeadSpot, revision: Revision) -> Stop:
    """What stops the part that comes furthest at a spot that nothing serves."""
    found = max(dead.rejections, key=lambda rejection: (RULE_ORDER[rejection.finding.rule], rejection.sku))
    return Stop(found.finding, None, revision.items.get(found.sku), dead.spot)


def _of_limits(setup: Setup, request: Request, revision: Revision) -> Iterator[Stop]:
    """Each limit taken for itself: what there is too little of whatever is asked, then stock, then the price."""
    unlimited = replace(request, in_stock_only=False, max_price=None)
    short = list(_of_scarcity(setup, unlimited, revision))
    if not short and request.in_stock_only:
        short = list(_of_scarcity(setup, replace(request, max_price=None), revision))
    yield from short
    if request.max_price is not None:
        in_stock_only = request.in_stock_only and not short
        lowest = _lowest_price(setup, replace(request, in_stock_only=in_stock_only, max_price=None), revision)
        if lowest is not None and lowest > request.max_price:
            finding = Finding(wish.RULE.id, wish.price_facts(request.max_price, lowest, revision.currency))
            yield Stop(finding, Left(request.max_price - lowest, "minor units"))


def _of_scarcity(setup: Setup, request: Request, revision: Revision) -> Iterator[Stop]:
    """The parts of which every bill needs more than there are; where each alone would do, what the cheapest lacks."""
    kept, limits, _ = limit(setup, request, revision)
    if kept.alive and count((kept,), limits, grouped=False):
        return
    rails = [rail for rail in setup.rails if rail.sold and rail.stock < setup.bought(rail)]
    if request.in_stock_only and len(rails) == len(setup.rails):
        yield _out_of_stock(rails[0], setup.bought(rails[0]), rails[0].stock)
        return
    most = sum((Counter(part.choices.most_units) for part in setup.components), Counter())
    limited = list(scarce(request, revision.items, most, _served_spots(setup)))
    least = {x: sum(part.choices.least_units(x.sku, x.spots) for part in setup.components) for x in limited}
    short = {x: units for x, units in least.items() if units > x.most}
    if not short:
        cheapest = _best(setup, FREE)
        found = (
            {x: sum(units_at(choice, x.sku, x.spots) for choice in cheapest.choices) for x in limited}
            if cheapest
            else {}
        )
        short = {x: units for x, units in found.items() if units > x.most}
    for x, units in short.items():
        yield _run_out(setup, revision.items[x.sku], x, units, dict(request.have))


def _run_out(setup: Setup, item: Item, limited: Scarce, units: int, have: Mapping[str, int]) -> Stop:
    """What stops a bill that needs more units of an item than there are."""
    left = Left(limited.most - units, "units")
    if not item.active or item.sold:
        to_buy = units - have.get(item.sku, 0)
        facts = {"part": item.name, **supply.stock_facts(item, to_buy), "superseded_by": item.superseded_by}
        return Stop(Finding(supply.RULE.id, facts), left, item)
    if limited.spots is None:
        facts = {"part": item.name, "wish": "allow_unsold", "wanted": None, "finish": item.finish}
        return Stop(Finding(wish.RULE.id, facts), left, item)
    served = next(
        x for part in setup.components for x in part.served if x.could_be_bought and item.sku in x.choices.skus
    )
    return Stop(Finding(elsewhere.RULE.id, elsewhere.facts(served.situation.spot, served.bought_instead)), left, item)


def _out_of_stock(rail: Item, needed: int, stock: int) -> Stop:
    facts = {"part": rail.name, **supply.stock_facts(rail, needed)}
    return Stop(Finding(supply.RULE.id, facts), Left(stock - needed, "units"), rail)


def _served_spots(setup: Setup) -> frozenset[str]:
    return frozenset(x.situation.spot for part in setup.components for x in part.served if x.could_be_bought)


def _lowest_price(setup: Setup, request: Request, revision: Revision) -> int | None:
    kept, limits, _ = limit(setup, request, revision)
    best = _best(kept, limits) if kept.alive else None
    return None if best is None else best.cost[0]


def _best(setup: Setup, limits: Limits) -> Ranked | None:
    """The cheapest bill of a setup within limits."""
    return next((one for one, _ in Ranker().best(Bundle((setup,), limits), "price", 1, grouped=False)), None)
