"""What led to a dead end: the setup that comes nearest, its spots that nothing serves, what stops the parts there."""

from collections.abc import Iterable
from itertools import chain, islice

from service.domain.findings import Finding, Rejection
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.why_not import DeadEnd, Stopped
from service.rules import RULE_BY_ID, RULE_ORDER, supply, wish
from service.solver.judge.judges import Judges
from service.solver.search.diagnosis import dead_spots, furthest, nearest_of, no_rail, unmet
from service.solver.search.limiting import limit
from service.solver.search.limits import Limits
from service.solver.search.setups import Setup, Surveyor
from service.solver.search.sifting import told

MOST_RULES_TOLD = 3


def dead_ends(surveyor: Surveyor, request: Request, revision: Revision) -> tuple[DeadEnd, ...]:
    """The dead ends of a request without a bill, in the setup that has the fewest."""
    setup = nearest_of(surveyor.setups())
    if setup is None:
        return (DeadEnd(None, None, told_first(surveyor.rejections) or (Stopped("", no_rail(request), 0),)),)
    dead = [DeadEnd(spot, duty, told_first(rejections)) for spot, duty, rejections in dead_spots(setup)]
    return tuple(dead) or _of_whole_bill(setup, request, revision)


def obstacle(request: Request, judges: Judges) -> Rejection | None:
    """What came furthest where nothing goes on, without what breaks stock or budget alone; None: no rail at all."""
    surveyor = Surveyor(judges, request)
    setups = surveyor.setups()
    if not setups:
        return furthest(surveyor.rejections)
    limited = [(setup, *limit(setup, request, judges.revision)) for setup in setups]
    dead = [one for one in limited if not one[1].alive] or limited
    whole, kept, limits, untold = min(dead, key=lambda one: len(one[1].dead))
    also = list(told(untold))
    for spot, _, rejections in islice(dead_spots(kept), 1):
        here = [x for x in chain(rejections, also) if x.spot == spot and x.sku]
        if here or any(one.spot == spot for one in dead_spots(whole)):
            return furthest(here) or Rejection(whole.rails[0].sku, spot, unmet(spot).finding)
    short = (Rejection(x.sku, None, x.finding) for x in _run_out(whole, limits, judges.revision))
    return next(short, None) if kept.alive else furthest(also) or next(short, None)


def _of_whole_bill(setup: Setup, request: Request, revision: Revision) -> tuple[DeadEnd, ...]:
    """Where each spot is served for itself: what stock, budget or the parts at hand leave no bill of."""
    kept, limits, untold = limit(setup, request, revision)
    rejections = [] if kept.alive else list(told(untold))
    if not rejections:
        return tuple(DeadEnd(None, None, (stopped,)) for stopped in _run_out(kept, limits, revision))
    return (DeadEnd(None, None, told_first(rejections)),)


def _run_out(setup: Setup, limits: Limits, revision: Revision) -> Iterable[Stopped]:
    for scarce in limits.scarce:
        most = sum(component.choices.most_units.get(scarce.sku, 0) for component in setup.components)
        item = revision.items[scarce.sku]
        yield Stopped(scarce.sku, Finding(supply.RULE.id, supply.stock_facts(item, most)), 0)
    if limits.max_price is not None:
        lowest = sum(component.choices.lowest_price for component in setup.components)
        lowest += min(map(setup.rail_price, setup.rails))
        yield Stopped("", Finding(wish.RULE.id, wish.price_facts(limits.max_price, lowest, revision.currency)), 0)


def told_first(rejections: Iterable[Rejection]) -> tuple[Stopped, ...]:
    """By rule, those that come furthest first: the part that is nearest to being kept, and how many there are."""
    by_rule: dict[str, dict[str, Rejection]] = {}
    for rejection in rejections:
        alike = by_rule.setdefault(rejection.finding.rule, {})
        other = alike.get(rejection.sku)
        if other is None or _short(rejection) < _short(other):
            alike[rejection.sku] = rejection
    telling = [rule for rule, alike in by_rule.items() if any(map(_swayed, alike.values()))] or list(by_rule)
    told = sorted(((rule, by_rule[rule]) for rule in telling), key=lambda found: -RULE_ORDER[found[0]])[
        :MOST_RULES_TOLD
    ]
    nearest = [(min(alike.values(), key=lambda x: (_short(x), x.sku)), len(alike) - 1) for _, alike in told]
    return tuple(Stopped(rejection.sku, rejection.finding, others) for rejection, others in nearest)


def _swayed(rejection: Rejection) -> bool:
    """Whether a wish could make a difference to it."""
    return RULE_BY_ID[rejection.finding.rule].a_wish_could_help(rejection.finding.facts)


def _short(rejection: Rejection) -> float:
    """By how much a part misses what its rule asks, where the rule measures."""
    return RULE_BY_ID[rejection.finding.rule].shortfall(rejection.finding.facts)
