"""The paths of a bill as fuel meets them: by bank, with the states that they are held to."""

from collections.abc import Iterator, Mapping
from operator import attrgetter
from typing import NamedTuple

from service.domain.answer import Bill
from service.domain.chains import Run
from service.domain.flows import FlowDemand
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.vehicles import Duty, DutyEntry, bank_of
from service.hydraulics import Passage
from service.solver.flows import FlowState, crosses, flow_state
from service.solver.supply_limits import Regulation, regulation, regulator_of
from service.solver.system import System, Ways, ways

_SPOT = attrgetter("spot")
_UNMOVED = FlowDemand(0.0, 0.0, 0.0, 0.0)


class Paths(NamedTuple):
    """Paths with one duty that share a flow: feeds into one rail; else one alone. Their states hold no flow."""

    duty: Duty
    spots: tuple[str, ...]
    states: tuple[FlowState, ...]
    runs: tuple[Run, ...]


class Lines(NamedTuple):
    """All of a bill of a request that its plumbing depends on: bills with equal lines are fed alike.

    `rail`: the passage of the rail; `runs`: by spot those of the chains that carry fuel; `regulators`: that of
    each return, in the order of spots.
    """

    placement: int
    rail: Passage | None
    runs: tuple[tuple[str, Run], ...]
    regulators: tuple[Item | None, ...]

    @classmethod
    def of(cls, bill: Bill, request: Request) -> "Lines":
        placement = request.layout.placements[bill.placement]
        flowing = [placed for placed in bill.chains if placed.spot in placement]
        returns = sorted((placed for placed in flowing if placement[placed.spot].duty == "return"), key=_SPOT)
        runs = tuple([(placed.spot, placed.chain.run) for placed in flowing])
        return cls(bill.placement, bill.rail.passage, runs, tuple([regulator_of(placed.chain) for placed in returns]))


class Plumbing(NamedTuple):
    """All paths of a bill, the lines that they make, where the pressure is held, and the regulators on its rails."""

    feeds: tuple[Paths, ...]
    returns: tuple[Paths, ...]
    links: tuple[Paths, ...]
    system: System
    regulation: Regulation
    regulators: tuple[Item, ...]


def plumbing_of(lines: Lines, request: Request, policies: Policies) -> Plumbing:
    """The plumbing of a bill of a request that has these lines."""
    placement = request.layout.placements[lines.placement]
    paths = list(_paths(lines, placement, request, policies))
    feeds, returns, links = (tuple(x for x in paths if x.duty == duty) for duty in ("feed", "return", "link"))
    left = {bank_of(x.spots[0]) for x in returns}
    system = System(
        feeds=tuple(map(_ways, feeds)),
        links=tuple(map(_ways, links)),
        crosses=crosses(placement),
        returns=tuple(map(_ways, returns)),
        return_banks=max(1, len(left)),
    )
    first = lines.regulators[0] if lines.regulators else None
    held = regulation(request, first, returns=bool(returns))
    regulators = {item.sku: item for item in lines.regulators if item is not None}
    return Plumbing(feeds, returns, links, system, held, tuple(regulators.values()))


def _paths(lines: Lines, placement: Mapping[str, DutyEntry], request: Request, policies: Policies) -> Iterator[Paths]:
    together: dict[object, list[tuple[str, FlowState, Run]]] = {}
    for spot, run in lines.runs:
        entry = placement[spot]
        state = flow_state(request, entry, _UNMOVED, policies, lines.rail)
        key = bank_of(spot) if entry.duty == "feed" else (spot,)
        together.setdefault(key, []).append((spot, state, run))
    for found in together.values():
        spots, states, runs = zip(*found, strict=True)
        yield Paths(states[0].duty, spots, states, runs)


def _ways(paths: Paths) -> Ways:
    return ways(paths.states, paths.runs)
