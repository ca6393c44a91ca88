"""The setups of a request: a shape of rail, a placement, a place for the gauge; and what each leaves to choose."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from service.domain.findings import Rejection
from service.domain.flows import FlowDemand
from service.domain.lazy import lazy
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import Ground, PartSituation, Request, SpotSituation
from service.domain.vehicles import Duty, DutyEntry
from service.solver.flows import FlowState, flow_demand, flow_state
from service.solver.judge.components import Component
from service.solver.judge.judges import Judges
from service.solver.judge.situations import PlacedLayout
from service.solver.judge.spots import ServedSpot
from service.solver.search.limits import Spent, spent_on_rails
from service.solver.search.outlines import Outline, Outlined


@dataclass(eq=False)
class Setup:
    """Everything is settled but the rail's variant and one choice for each component; `spots` are where those stand."""

    placement: int
    duties: dict[str, Duty]
    spots: tuple[str, ...]
    rails: tuple[Item, ...]
    banks: int
    carried: FlowDemand
    components: tuple[Component, ...]
    have: Mapping[str, int]
    """Units by SKU that the customer has."""
    parts: PartSituation

    def bought(self, rail: Item) -> int:
        """How many units of a rail have to be got."""
        return max(0, self.banks - self.have.get(rail.sku, 0))

    @lazy
    def priced_rails(self) -> tuple[tuple[Item, Spent], ...]:
        return tuple([(rail, self.spent_on(rail)) for rail in self.rails])

    def spent_on(self, rail: Item) -> Spent:
        return spent_on_rails(rail, self.bought(rail))

    def rail_price(self, rail: Item) -> int:
        return self.spent_on(rail).price

    @lazy
    def situations(self) -> dict[str, SpotSituation]:
        """The situations that the spots were judged in."""
        return {x.situation.spot: x.situation for component in self.components for x in component.served}

    @property
    def dead(self) -> list[int]:
        """The places of the components that leave nothing to choose."""
        return [place for place, component in enumerate(self.components) if not component.choices.size]

    @property
    def alive(self) -> bool:
        return bool(self.rails) and not self.dead


Components = dict[tuple[tuple[ServedSpot, ...], tuple[FlowState, ...]], Component]
"""Components by the spots and the states that they are of."""


class Surveyor:
    """Lays out the setups of one request."""

    def __init__(self, judges: Judges, request: Request) -> None:
        self._request = request
        self._judges = judges
        self._ground = Ground.of(request)
        self._have = dict(request.have)
        if request.own_rail is not None:
            self._have[OWN_RAIL] = request.chassis.banks
        self._carried: dict[int, FlowDemand] = {}

    @lazy
    def _outlined(self) -> Outlined:
        return self._judges.outlined(self._ground)

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The setups before flow is judged."""
        return self._outlined.outlines

    @property
    def rejections(self) -> tuple[Rejection, ...]:
        """What stops rails and placements."""
        return self._outlined.rejections

    def setups(self) -> list[Setup]:
        return self.setups_of(self.outlines)

    def live_setups(self) -> list[Setup]:
        """The setups that may have a bill."""
        return self.setups_of(outline for outline in self.outlines if outline.alive)

    def setups_of(self, outlines: Iterable[Outline]) -> list[Setup]:
        """What is left of outlines once flow is judged. Nothing of it is kept from one call to the next: a thread that
        finds what another one has just made would count fewer steps."""
        known: Components = {}
        return [self._setup(outline, known) for outline in outlines]

    def _setup(self, outline: Outline, known: Components) -> Setup:
        index, site, duties, rails, plans, served = outline
        carried = self._carried.get(index)
        if carried is None:
            carried = self._carried[index] = flow_demand(self._request, site.placement, self._judges.revision.policies)
        spots = tuple([plan.spots[0].spot for plan in plans])
        components = []
        for plan, together in zip(plans, served, strict=True):
            states = tuple([self._state(entry, site, carried) for entry in plan.entries])
            component = known.get((together, states))
            if component is None:
                component = known[together, states] = self._judges.flows.component(together, states)
            components.append(component)
        banks = self._request.chassis.banks
        return Setup(index, duties, spots, rails, banks, carried, tuple(components), self._have, self._ground.parts)

    def _state(self, entry: DutyEntry, site: PlacedLayout, carried: FlowDemand) -> FlowState:
        return flow_state(self._request, entry, carried, self._judges.revision.policies, site.shape.passage)
