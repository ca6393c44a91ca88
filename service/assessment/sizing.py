"""The power that the plumbing of a bill carries: that of the demand at which its first path reaches a limit."""

from math import inf
from operator import itemgetter

from service.assessment.plumbing import Plumbing
from service.domain.assessment import Limiting, Sizing
from service.domain.request import Request
from service.domain.revision import Policies
from service.engineering import power_kw
from service.solver.flow_capacity import capacity, demand_limit_l_h
from service.solver.flows import bsfc_g_kwh, parts_of_demand


def sizing_of(plumbing: Plumbing, placement: int, request: Request, policies: Policies) -> Sizing:
    """The greatest demand and power at which every path keeps its limits, and which path is then at which."""
    parts = parts_of_demand(request, request.layout.placements[placement], policies)
    found = [
        (demand_limit_l_h(most.l_h, parts[paths.duty]), paths, most)
        for paths in (*plumbing.feeds, *plumbing.returns, *plumbing.links)
        for most in (capacity(paths.states, paths.runs),)
    ]
    demand, paths, most = min(found, key=itemgetter(0), default=(inf, None, None))
    if paths is None or most is None or most.path is None or most.bound is None or demand == inf:
        return Sizing(None, None, None)
    power = power_kw(demand, bsfc_g_kwh(request), request.fuel.fluid.density_kg_m3)
    return Sizing(demand, power, Limiting(paths.duty, (paths.spots[most.path],), most.bound))
