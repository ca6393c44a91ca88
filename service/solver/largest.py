"""The most that the engine may burn in any bill of a world: each path's best chains, the scarcest path deciding."""

from collections.abc import Sequence
from math import inf

from service.domain.request import Request
from service.domain.revision import Policies
from service.solver.components import Component, Runs
from service.solver.flow_capacity import demand_limit_l_h, most_l_h
from service.solver.flows import parts_of_demand
from service.solver.worlds import World


def largest_demand_l_h(world: World, request: Request, policies: Policies) -> float:
    """The demand [L/h] at which no bill of the world carries more; infinite where nothing is rated."""
    parts = parts_of_demand(request, request.layout.placements[world.placement], policies)
    return min(
        (
            demand_limit_l_h(most_l_h(part.states, _columns(part)), share)
            for part in world.components
            if part.flowing
            for share in (parts[part.states[0].duty],)
        ),
        default=inf,
    )


def _columns(part: Component) -> list[Sequence[Runs]]:
    """The runs to choose from. A path of its own carries no more for losing more; one that shares its flow may."""
    if len(part.states) == 1:
        return [part.choices.leanest_runs]
    return [[(run,) for run in choices.runs] for choices in part.choices.columns]
