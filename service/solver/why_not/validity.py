"""Under which subsets of its wishes a request has a valid bill, all subsets at once."""

from collections.abc import Iterator

from service.domain.parts import RailShape
from service.domain.request import Request
from service.domain.vehicles import DutyEntry
from service.domain.wishes import Wishes
from service.domain.work import spend
from service.hydraulics import Passage
from service.solver.flows import FlowState, flow_demand, flow_state, returns
from service.solver.judge.judges import Judges
from service.solver.judge.situations import PlacedLayout
from service.solver.search.outlines import Plan
from service.solver.why_not.bounds import AssignmentCases, Bounds, PlanCase
from service.solver.why_not.spot_cases import SpotCase, SpotCases, Variants
from service.solver.why_not.truth import Cases, Truth, Universe, crossed, merged

FLOW_WISHES = ("fuel", "power_kw", "pump_l_h", "feed_hose_m", "return_hose_m")
States = tuple[FlowState, ...]


class Validity:
    """Judges the subsets of a universe of wishes; those of `fixed` are in each of them."""

    def __init__(
        self,
        judges: Judges,
        wishes: Wishes,
        universe: Universe,
        fixed: tuple[str, ...] = (),
    ) -> None:
        self._judges = judges
        self._universe = universe
        self._variants = Variants(wishes, fixed)
        self._spot_cases = SpotCases(judges, self._variants, universe)
        self._known_states: dict[tuple[tuple[DutyEntry, ...], int, Passage | None], Cases[States]] = {}
        self._bounds = Bounds(judges, self._variants, universe)

    def truth(self) -> Truth:
        """The subsets that have a valid bill."""
        valid = 0
        gauges = [name for name in ("gauge",) if name in self._universe.names]
        for chosen, gauged in self._universe.choosing(gauges):
            request = self._variants.request(chosen)
            outliner = self._judges.outliner(request)
            for shape in outliner.shapes if outliner.banks_fit else ():
                rails = self._spot_cases.of_rails(shape)
                for _, site, duties in outliner.duty_assignments(shape):
                    left = gauged & self._universe.none_of(rails.get(0, 0) | valid)
                    if left:
                        valid |= self._of_assignment(shape, rails, site, outliner.plan(site, duties), left)
        return valid

    def _of_assignment(
        self, shape: RailShape, rails: Cases[int], site: PlacedLayout, plans: list[Plan], asked: Truth
    ) -> Truth:
        """Those of the subsets asked about that have a bill with these duties."""
        alive = asked
        plan_cases: list[Cases[PlanCase]] = []
        for plan in plans:
            found = self._of_plan(plan, site, alive)
            alive &= _any(found)
            if not alive:
                return 0
            plan_cases.append(found)
        return self._bounds.within(AssignmentCases(shape, rails, plans, plan_cases), alive)

    def _of_plan(self, plan: Plan, site: PlacedLayout, asked: Truth) -> Cases[PlanCase]:
        """What is left to choose from at spots that are settled together, where anything is."""
        spot_cases = [self._spot_cases.of_spot(spot, plan.plugs) for spot in plan.spots]
        together: Cases[tuple[SpotCase, ...]] = {(): asked}
        for cases in spot_cases:
            living = {spot_case: truth for spot_case, truth in cases.items() if spot_case.kept}
            together = crossed(together, living, lambda chosen, spot_case: (*chosen, spot_case))
        if not plan.entries:
            return {PlanCase(chosen, ()): truth for chosen, truth in together.items()}
        states = [(one, _unmoved(one), truth) for one, truth in self._states(plan, site).items()]
        spend(len(together) * len(states), "wishes")
        found: Cases[PlanCase] = {}
        for chosen, left in together.items():
            choices = tuple([x.choices for x in chosen])
            for moved, still, truth in states:
                if left & truth and self._judges.flows.most_l_h(still, choices) >= _flow_l_h(moved):
                    found[PlanCase(chosen, moved)] = left & truth
        return found

    def _states(self, plan: Plan, site: PlacedLayout) -> Cases[States]:
        """The states of the flowing paths."""
        key = (plan.entries, id(site.placement), site.shape.passage)
        if key not in self._known_states:
            swaying = {"fuel", "power_kw", *[f"{entry.duty}_hose_m" for entry in plan.entries if entry.own_hose]}
            swaying |= {"pump_l_h"} if returns(site.placement) else set()
            boosts = list(self._boosted(site))
            self._known_states[key] = merged(
                (self._state_of(plan, site, chosen + boost), truth & boosted)
                for chosen, truth in self._universe.choosing(name for name in self._universe.names if name in swaying)
                for boost, boosted in boosts
            )
        return self._known_states[key]

    def _boosted(self, site: PlacedLayout) -> Iterator[tuple[tuple[str, ...], Truth]]:
        """With boost and without: how much makes no difference to what the engine burns, but it does to what the pump
        moves through a return."""
        boosting = [name for name in self._universe.names if adds_boost(self._variants, name)]
        if self._variants.request(()).pump is not None and returns(site.placement):
            yield from self._universe.choosing(boosting)
            return
        boosted = 0
        for name in boosting:
            boosted |= self._universe.having(name)
        yield (), self._universe.none_of(boosted)
        if boosting:
            yield (boosting[0],), boosted

    def _state_of(self, plan: Plan, site: PlacedLayout, chosen: tuple[str, ...]) -> States:
        request, policies = self._variants.request(chosen), self._judges.revision.policies
        carried = flow_demand(request, site.placement, policies)
        return tuple(flow_state(request, entry, carried, policies, site.shape.passage) for entry in plan.entries)


def is_valid(judges: Judges, request: Request) -> bool:
    """Whether a request has any valid bill."""
    wishes = Wishes(request, judges.revision)
    return bool(Validity(judges, wishes, Universe(()), tuple(wishes.values)).truth())


def _unmoved(states: States) -> States:
    """The same where nothing flows yet."""
    return tuple([state._replace(flow_l_h=0.0) for state in states])


def _flow_l_h(states: States) -> float:
    """What the paths carry in all: each alone, or feeds into one rail together."""
    return states[0].flow_l_h


def _any(cases: Cases[PlanCase]) -> Truth:
    found = 0
    for truth in cases.values():
        found |= truth
    return found


def adds_boost(variants: Variants, name: str) -> bool:
    if name.partition("/")[0] not in ("boost_kpa", "addons"):
        return False
    return variants.request((name,)).boost_kpa > variants.request(()).boost_kpa
