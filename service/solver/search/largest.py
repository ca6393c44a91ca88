"""The most that the engine may burn in any bill of a setup: each path's best chains, the scarcest path deciding."""

from math import inf

from service.domain.request import Request
from service.domain.revision import Policies
from service.solver.flow_capacity import capacity_l_h, demand_limit_l_h, most_l_h
from service.solver.flows import parts_of_demand
from service.solver.judge.components import Component
from service.solver.judge.picked import Picked
from service.solver.search.setups import Setup


def largest_demand_l_h(setup: Setup, request: Request, policies: Policies) -> float:
    """The demand [L/h] at which no bill of the setup carries more; infinite where nothing is rated."""
    parts = parts_of_demand(request, request.layout.placements[setup.placement], policies)
    return min(
        (
            demand_limit_l_h(_most_l_h(part), share)
            for part in setup.components
            if part.flowing
            for share in (parts[part.states[0].duty],)
        ),
        default=inf,
    )


def _most_l_h(part: Component) -> float:
    """The most that paths carry. One of its own carries no more for losing more; those that share their flow may."""
    if len(part.states) == 1:
        return max(capacity_l_h(part.states, (run,)) for run in part.choices.leanest_runs)
    columns = [choices.runs_by_bores for choices in part.choices.columns if isinstance(choices, Picked)]
    if len(columns) == len(part.states):
        return most_l_h(part.states, columns)
    return max(capacity_l_h(part.states, runs) for runs in part.choices.by_runs)
