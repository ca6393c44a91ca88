"""How much power the plumbing of a bill carries: the demand at which its first path is at a limit, solved backwards."""

from math import inf

from service.assessment.plumbing import Paths, Plumbing
from service.domain.assessment import Limiting, Sizing
from service.domain.request import Request
from service.domain.revision import Policies
from service.engineering import power_kw
from service.solver.flow_capacity import capacity, demand_limit_l_h
from service.solver.flows import bsfc_g_kwh, parts_of_demand


def sizing_of(plumbing: Plumbing, placement: int, request: Request, policies: Policies) -> Sizing:
    """The greatest demand and power at which every path keeps its limits, and which path is then at which."""
    parts = parts_of_demand(request, request.layout.placements[placement], policies)
    paths = (*plumbing.feeds, *plumbing.returns, *plumbing.links)
    demand, first = min(((_demand_l_h(x, parts[x.duty]), x) for x in paths), key=lambda x: x[0], default=(inf, None))
    if first is None or demand == inf:
        return Sizing(None, None, None)
    power = power_kw(demand, bsfc_g_kwh(request), request.fuel.fluid.density_kg_m3)
    return Sizing(demand, power, _limiting(first))


def _demand_l_h(paths: Paths, part: float) -> float:
    return demand_limit_l_h(capacity(paths.states, paths.runs).l_h, part)


def _limiting(paths: Paths) -> Limiting | None:
    _, path, bound = capacity(paths.states, paths.runs)
    return None if path is None or bound is None else Limiting(paths.duty, (paths.spots[path],), bound)
