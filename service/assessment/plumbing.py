"""The paths of a bill as fuel meets them: by bank, with the states that they are held to."""

from collections.abc import Iterator
from typing import NamedTuple

from service.domain.answer import Bill
from service.domain.chains import Chain, Run
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.vehicles import Duty, bank_of
from service.solver.flows import FlowState, crosses, flow_state
from service.solver.supply_limits import Regulation, regulation
from service.solver.system import System, Ways, ways


class Paths(NamedTuple):
    """Paths with one duty that share a flow: feeds into one rail; else one alone. Their states hold no flow."""

    duty: Duty
    spots: tuple[str, ...]
    states: tuple[FlowState, ...]
    runs: tuple[Run, ...]


class Plumbing(NamedTuple):
    """All paths of a bill, the lines that they make, where the pressure is held, and the chain of the first return."""

    feeds: tuple[Paths, ...]
    returns: tuple[Paths, ...]
    links: tuple[Paths, ...]
    system: System
    regulation: Regulation
    back: Chain | None


def plumbing_of(bill: Bill, request: Request, policies: Policies) -> Plumbing:
    """The plumbing of a bill of a request."""
    paths = list(_paths(bill, request, policies))
    feeds, returns, links = (tuple(x for x in paths if x.duty == duty) for duty in ("feed", "return", "link"))
    left = {bank_of(x.spots[0]) for x in returns}
    chains = {placed.spot: placed.chain for placed in bill.chains}
    back = chains[min(x.spots[0] for x in returns)] if returns else None
    system = System(
        feeds=tuple(map(_ways, feeds)),
        links=tuple(map(_ways, links)),
        crosses=crosses(request.layout.placements[bill.placement]),
        returns=tuple(map(_ways, returns)),
        return_banks=max(1, len(left)),
    )
    return Plumbing(feeds, returns, links, system, regulation(request, back), back)


def _paths(bill: Bill, request: Request, policies: Policies) -> Iterator[Paths]:
    placement = request.layout.placements[bill.placement]
    together: dict[object, list[tuple[str, FlowState, Run]]] = {}
    for placed in bill.chains:
        entry = placement.get(placed.spot)
        if entry is not None:
            state = flow_state(request, entry, bill.carried, policies, bill.rail.passage)._replace(flow_l_h=0.0)
            key = bank_of(placed.spot) if entry.duty == "feed" else (placed.spot,)
            together.setdefault(key, []).append((placed.spot, state, placed.chain.run))
    for found in together.values():
        spots, states, runs = zip(*found, strict=True)
        yield Paths(states[0].duty, spots, states, runs)


def _ways(paths: Paths) -> Ways:
    return ways(paths.states, paths.runs)
