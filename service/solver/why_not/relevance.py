"""Which wishes of a request can make a difference: the others are in no conflict and in no repair."""

from collections.abc import Iterable, Iterator
from functools import partial

from service.domain.request import SpotSituation
from service.domain.wishes import Wishes
from service.rules import SPOT_RULES, ChainRule, PartRule
from service.solver.judge.judges import Judges
from service.solver.judge.spots import SpotJudge
from service.solver.search.outlines import Plan
from service.solver.why_not.spot_cases import Variants, mask_under, rails_keeping
from service.solver.why_not.validity import FLOW_WISHES, adds_boost

_OVER_THE_WHOLE_BILL = ("allow_unsold", "gauge", "in_stock_only", "max_price")


def relevant(judges: Judges, wishes: Wishes) -> list[str]:
    """The wishes, sorted, that change what some rule decides of a chain or a rail, the flow, where the gauge goes, or
    what is limited over the whole bill."""
    variants = Variants(wishes, ())
    names = list(wishes.values)
    found = {name for name in names if name in (*FLOW_WISHES, *_OVER_THE_WHOLE_BILL) or adds_boost(variants, name)}
    seen: set[tuple[SpotSituation, Plan]] = set()
    for chosen in [(), *([("gauge",)] if "gauge" in names else [])]:
        outliner = judges.outliner(variants.request(chosen))
        for shape in outliner.shapes:
            for name, rule in _swaying(set(names) - found):
                kept = partial(rails_keeping, judges.revision, variants, shape)
                if isinstance(rule, PartRule) and kept(rule, ()) != kept(rule, (name,)):
                    found.add(name)
        for _, plan in outliner.plans():
            for spot in plan.spots:
                if (spot, plan) not in seen:
                    seen.add((spot, plan))
                    found |= set(_swaying_chains(variants, judges.spots, spot, plan, set(names) - found))
    return sorted(found)


def _swaying(names: Iterable[str]) -> Iterator[tuple[str, PartRule | ChainRule]]:
    return ((name, rule) for rule in SPOT_RULES for name in names if rule.is_swayed_by(name))


def _swaying_chains(
    variants: Variants, spots: SpotJudge, spot: SpotSituation, plan: Plan, names: set[str]
) -> Iterator[str]:
    table = spots.table(spot)
    for name, rule in _swaying(names):
        for plugs in (None, plan.plugs) if plan.plugs else (None,):
            if len({mask_under(variants, table, rule, spot, plugs, taken) for taken in ((), (name,))}) > 1:
                yield name
