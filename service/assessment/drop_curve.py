"""The pressure drop of a bill's plumbing over the power: the bill stays, the demand changes."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from service.assessment.plumbing import Lines, Paths, plumbing_of
from service.domain.answer import Bill
from service.domain.flows import FlowDemand
from service.domain.profiles import DropPoint
from service.domain.request import Request
from service.domain.revision import Policies
from service.solver.flow_judge import FlowJudge
from service.solver.flows import FlowState, Loss, flow_demand


def drop_curve(bill: Bill, request: Request, policies: Policies, powers_kw: Iterable[float]) -> tuple[DropPoint, ...]:
    """For each power [kW] the path that is nearest to its limit of drop; of several, the first that fuel meets."""
    plumbing = plumbing_of(Lines.of(bill, request), request, policies)
    placement = request.layout.placements[bill.placement]
    paths = (*plumbing.feeds, *plumbing.links, *plumbing.returns)
    judge = FlowJudge()
    found = []
    for power_kw in powers_kw:
        carried = flow_demand(replace(request, power_kw=power_kw), placement, policies)
        losses = [one for group in paths for one in _losses(group, carried, judge)]
        worst = max((_point(power_kw, carried.demand_l_h, *loss) for loss in losses), key=lambda point: point.part)
        found.append(replace(worst, within=all(state.holds(lost) for _, state, lost in losses)))
    return tuple(found)


def _losses(paths: Paths, carried: FlowDemand, judge: FlowJudge) -> Iterator[tuple[str, FlowState, Loss]]:
    """What paths that share a flow lose, each with its spot."""
    flows = {"feed": carried.feed_l_h, "return": carried.return_l_h, "link": carried.link_l_h}
    states = tuple(state._replace(flow_l_h=flows[paths.duty]) for state in paths.states)
    return zip(paths.spots, states, judge.losses(states, paths.runs), strict=True)


def _point(power_kw: float, demand_l_h: float, spot: str, state: FlowState, lost: Loss) -> DropPoint:
    return DropPoint(power_kw, demand_l_h, state.duty, (spot,), lost.flow_l_h, lost.drop_kpa, state.limit_kpa, True)
