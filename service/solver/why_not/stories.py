"""What led to a dead end: the setup that comes nearest, its spots that nothing serves, what stops the parts there."""

from collections.abc import Iterable

from service.domain.findings import Finding, Rejection
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.why_not import DeadEnd, Stopped
from service.rules import RULE_BY_ID, RULE_ORDER, mates, pattern, supply, wish
from service.solver.search.limiting import limit
from service.solver.search.limits import Limits
from service.solver.search.setups import Setup, Surveyor
from service.solver.search.sifting import told

MOST_RULES_TOLD = 3


def dead_ends(surveyor: Surveyor, request: Request, revision: Revision) -> tuple[DeadEnd, ...]:
    """The dead ends of a request without a bill, in the setup that has the fewest."""
    setups = surveyor.setups()
    if setups:
        return _of_setup(min(setups, key=lambda setup: len(setup.dead)), request, revision)
    rails = _stopped(surveyor.rejections)
    if not rails:
        finding = Finding(pattern.RULE.id, pattern.no_rail_facts(request.chassis.pattern))
        rails = (Stopped("", finding, 0),)
    return (DeadEnd(None, None, rails),)


def _of_setup(setup: Setup, request: Request, revision: Revision) -> tuple[DeadEnd, ...]:
    dead = []
    for place in setup.dead:
        spot = setup.spots[place]
        unmet = Stopped("", Finding(mates.RULE.id, mates.unmet_facts(spot)), 0)
        stopped = _stopped(setup.components[place].rejections) or (unmet,)
        dead.append(DeadEnd(spot, setup.duties[spot], stopped))
    return tuple(dead) or _of_whole_bill(setup, request, revision)


def _of_whole_bill(setup: Setup, request: Request, revision: Revision) -> tuple[DeadEnd, ...]:
    """Where each spot is served for itself: what stock, budget or the parts at hand leave no bill of."""
    kept, limits, untold = limit(setup, request, revision)
    rejections = [] if kept.alive else list(told(untold))
    if not rejections:
        return tuple(DeadEnd(None, None, (stopped,)) for stopped in _run_out(kept, limits, revision))
    return (DeadEnd(None, None, _stopped(rejections)),)


def _run_out(setup: Setup, limits: Limits, revision: Revision) -> Iterable[Stopped]:
    for scarce in limits.scarce:
        most = sum(component.choices.most_units.get(scarce.sku, 0) for component in setup.components)
        item = revision.items[scarce.sku]
        yield Stopped(scarce.sku, Finding(supply.RULE.id, supply.stock_facts(item, most)), 0)
    if limits.max_price is not None:
        lowest = sum(component.choices.lowest_price for component in setup.components)
        lowest += min(map(setup.rail_price, setup.rails))
        yield Stopped("", Finding(wish.RULE.id, wish.price_facts(limits.max_price, lowest, revision.currency)), 0)


def _stopped(rejections: Iterable[Rejection]) -> tuple[Stopped, ...]:
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
