"""The setups of a request: a shape of rail, a placement, a place for the gauge; and what each leaves to choose."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from service.domain.findings import Finding, Rejection
from service.domain.flows import FlowDemand
from service.domain.lazy import lazy
from service.domain.parts import OWN_RAIL, Item, Opening, RailShape
from service.domain.request import PartSituation, Request, SpotSituation
from service.domain.revision import Revision
from service.domain.vehicles import Duty, DutyEntry, Hookup, bank_of, place_of
from service.rules import layout, wish
from service.solver.flows import FlowState, flow_demand, flow_state
from service.solver.judge.components import Component
from service.solver.judge.judges import Judges
from service.solver.judge.situations import PlacedLayout, Situations
from service.solver.judge.spots import ServedSpot
from service.solver.search.limits import Spent, spent_on_rails


@dataclass(frozen=True, eq=False)
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


def shapes_of(request: Request, revision: Revision) -> tuple[RailShape, ...]:
    """The shapes of rail that a request is about: its own rail's, else those of the chassis's pattern."""
    if request.own_rail is not None:
        return (request.own_rail,)
    return revision.shapes.get(request.chassis.pattern, ())


class Plan(NamedTuple):
    """Spots that are settled together, before anything is judged; `plugs` come with the rail for the spot, `entries`
    are the duties of those that fuel flows through."""

    spots: tuple[SpotSituation, ...]
    plugs: tuple[Item, ...]
    entries: tuple[DutyEntry, ...]


Planned = tuple[int, PlacedLayout, dict[str, Duty], tuple[Plan, ...]]


class Outline(NamedTuple):
    """A setup before flow is judged: for each plan what serves its spots."""

    placement: int
    site: PlacedLayout
    duties: dict[str, Duty]
    rails: tuple[Item, ...]
    plans: tuple[Plan, ...]
    served: tuple[tuple[ServedSpot, ...], ...]

    @property
    def alive(self) -> bool:
        """Whether something serves each spot while flow is not judged."""
        return all(spot.kept for together in self.served for spot in together)


class Surveyor:
    """Lays out the setups of one request and notes what stops rails and placements on the way."""

    def __init__(self, judges: Judges, request: Request) -> None:
        self._revision = judges.revision
        self._request = request
        self._spots = judges.spots
        self._flows = judges.flows
        self._parts = PartSituation.of(request)
        self._situations = Situations(request)
        self._have = dict(request.have)
        if request.own_rail is not None:
            self._have[OWN_RAIL] = request.chassis.banks
        self.rejections: list[Rejection] = []
        self._served: dict[int, tuple[Plan, tuple[ServedSpot, ...]]] = {}
        self._components: dict[tuple[int, tuple[FlowState, ...]], Component] = {}
        self._carried: dict[int, FlowDemand] = {}

    @property
    def banks_fit(self) -> bool:
        return layout.banks_fit(self._request.layout, self._request.chassis)

    def setups(self) -> list[Setup]:
        if not self.banks_fit:
            facts = layout.banks_facts(self._request.layout, self._request.chassis)
            rails = (rail for shape in shapes_of(self._request, self._revision) for rail in shape.rails)
            self._reject(rails, layout.RULE.id, facts)
        return [self._setup(outline) for outline in self.outlines]

    def live_setups(self) -> list[Setup]:
        """The setups that may have a bill."""
        return [self._setup(outline) for outline in self.outlines if outline.alive]

    @lazy
    def outlines(self) -> list[Outline]:
        """The setups before flow is judged."""
        shapes = shapes_of(self._request, self._revision) if self.banks_fit else ()
        return [outline for shape in shapes for outline in self._outlined(shape, tuple(self._fit_rails(shape)))]

    @property
    def shapes(self) -> tuple[RailShape, ...]:
        return shapes_of(self._request, self._revision)

    def plans(self) -> Iterator[tuple[PlacedLayout, Plan]]:
        """What is settled together on any shape of rail in any placement, whatever rails may be used."""
        for shape in self.shapes:
            for _, site, duties in self.duty_assignments(shape):
                for plan in self.plan(site, duties):
                    yield site, plan

    def setups_on(self, shape: RailShape, rails: tuple[Item, ...]) -> Iterator[Setup]:
        """The setups of rails of a shape, whether or not these keep the rules for parts."""
        yield from map(self._setup, self._outlined(shape, rails))

    def _outlined(self, shape: RailShape, rails: tuple[Item, ...]) -> Iterator[Outline]:
        for index, site, duties, plans in self._planned(shape, rails) if rails else ():
            yield Outline(index, site, duties, rails, plans, tuple([self._serving(plan) for plan in plans]))

    def _serving(self, plan: Plan) -> tuple[ServedSpot, ...]:
        """What serves the spots of a plan; shapes that differ in their bore alone have the same plans."""
        known = self._served.get(id(plan))
        if known is None:
            served = tuple([self._spots.served(x, self._parts, plan.plugs) for x in plan.spots])
            known = self._served[id(plan)] = plan, served
        return known[1]

    def _planned(self, shape: RailShape, rails: tuple[Item, ...]) -> list[Planned]:
        """The duty assignments on a shape of rail with their plans, which car, layout, room and gauge alone decide."""
        request = self._request
        key = (shape.face, request.chassis, request.layout, request.clearances, request.addons, request.gauge)
        found = self._spots.plans.get(key)
        if found is None:
            rejected = len(self.rejections)
            known: dict[Plan, Plan] = {}
            found = [
                (*one, tuple([known.setdefault(plan, plan) for plan in self.plan(*one[1:])]))
                for one in self.duty_assignments(shape, rails)
            ]
            if len(self.rejections) == rejected:  # else the next request has to be told as well
                self._spots.plans.put(key, found, 1 + sum(len(plans) for *_, plans in found))
        return [(index, site.on(shape), duties, plans) for index, site, duties, plans in found]

    def _setup(self, outline: Outline) -> Setup:
        index, site, duties, rails, plans, served = outline
        carried = self._carried.get(index)
        if carried is None:
            carried = self._carried[index] = flow_demand(self._request, site.placement, self._revision.policies)
        spots = tuple(plan.spots[0].spot for plan in plans)
        components = tuple([self._component(*one, site, carried) for one in zip(plans, served, strict=True)])
        banks = self._request.chassis.banks
        return Setup(index, duties, spots, rails, banks, carried, components, self._have, self._parts)

    def duty_assignments(
        self, shape: RailShape, rails: tuple[Item, ...] = ()
    ) -> Iterator[tuple[int, PlacedLayout, dict[str, Duty]]]:
        """Each placement (by its place in the layout) that a shape of rail has the spots for, with each way to give
        every spot a duty; where there is none, these rails are rejected."""
        chassis = self._request.chassis
        openings = {spot: opening for place, opening in shape.spots.items() for spot in chassis.on_banks(place)}
        for index, placement in enumerate(self._request.layout.placements):
            site = self._site(shape, placement, openings, rails)
            if site is not None:
                for duties in self._duties(site, rails):
                    yield index, site, duties

    def _fit_rails(self, shape: RailShape) -> Iterator[Item]:
        judge = self._spots.parts(self._parts)
        for rail in shape.rails:
            if rail.sku == OWN_RAIL:  # somebody else's: there is nothing to judge it by
                yield rail
                continue
            is_had = self._have.get(rail.sku, 0) >= self._request.chassis.banks
            broken = judge.broken_if_had(rail) if is_had else judge.broken(rail)
            if broken is None:
                yield rail
            else:
                self.rejections.append(Rejection(rail.sku, None, judge.finding(rail, broken)))

    def _site(
        self,
        shape: RailShape,
        placement: Mapping[str, DutyEntry],
        openings: Mapping[str, Opening],
        rails: tuple[Item, ...],
    ) -> PlacedLayout | None:
        """The placement on the rail; None, with the rails rejected, where rail or car lack what it needs."""
        request = self._request
        if not layout.spots_exist(placement, openings):
            self._reject(rails, layout.RULE.id, layout.spots_facts(request.layout, placement, openings))
            return None
        hookups: dict[str, Hookup] = {}
        for spot, entry in placement.items():
            if entry.duty == "link":
                continue
            hookup = entry.own_hose or request.chassis.hookups.get(entry.hookup_kind or "")
            if hookup is None:
                facts = layout.hookup_facts(request.layout, request.chassis, entry.hookup_kind or entry.duty)
                self._reject(rails, layout.RULE.id, facts)
                return None
            hookups[spot] = hookup
        return PlacedLayout(shape, placement, openings, hookups)

    def _reject(self, rails: Iterable[Item], rule: str, facts: Mapping[str, object]) -> None:
        self.rejections += [Rejection(rail.sku, None, Finding(rule, facts)) for rail in rails]

    def _duties(self, site: PlacedLayout, rails: tuple[Item, ...]) -> Iterator[dict[str, Duty]]:
        """Each way to give every spot a duty: the placement's, the gauge's, closed."""
        gauge = self._request.gauge
        placement = site.placement
        plain: dict[str, Duty] = {
            spot: placement[spot].duty if spot in placement else "closed" for spot in sorted(site.openings)
        }
        if gauge == "none":
            yield plain
        elif gauge == "any":
            free = [spot for spot, duty in plain.items() if duty == "closed"]
            yield from ({**plain, spot: "gauge"} for spot in free)
            if not free:
                self._reject(rails, wish.RULE.id, wish.gauge_facts(gauge))
        elif plain.get(gauge) == "closed":
            yield {**plain, gauge: "gauge"}
        else:
            self._reject(rails, wish.RULE.id, wish.gauge_facts(gauge, gauge, plain.get(gauge)))

    def plan(self, site: PlacedLayout, duties: Mapping[str, Duty]) -> list[Plan]:
        """What is settled together, by spot, where nothing flows first; feeds into one rail share its flow."""
        plans: dict[str, Plan] = {}
        feeds: dict[str, list[str]] = {}
        at = self._situations
        for spot, duty in duties.items():
            if duty == "feed":
                feeds.setdefault(bank_of(spot), []).append(spot)
            elif duty == "return":
                plans[spot] = Plan((at.hooked(site, spot),), (), (site.placement[spot],))
            elif duty == "link":
                far = site.placement[spot].to_spot or spot
                if spot < far:
                    plans[spot] = Plan((at.linking(site, spot, far),), (), (site.placement[spot],))
            else:
                plugs = site.shape.plugs.get(place_of(spot), ()) if duty == "closed" else ()
                plans[spot] = Plan((at.at_rest(site, spot, duty),), plugs, ())
        for together in feeds.values():
            hooked = tuple(at.hooked(site, spot) for spot in together)
            plans[together[0]] = Plan(hooked, (), tuple(site.placement[spot] for spot in together))
        return [plans[spot] for spot in sorted(plans, key=lambda spot: (bool(plans[spot].entries), spot))]

    def _component(
        self, plan: Plan, served: tuple[ServedSpot, ...], site: PlacedLayout, carried: FlowDemand
    ) -> Component:
        states = tuple([self._state(entry, site, carried) for entry in plan.entries])
        known = self._components.get((id(plan), states))
        if known is None:
            known = self._components[id(plan), states] = self._made(served, states)
        return known

    def _made(self, served: tuple[ServedSpot, ...], states: tuple[FlowState, ...]) -> Component:
        if not states:
            return Component(served[0].choices, served)
        if len(states) == 1:
            return self._flows.single(served[0], states[0])
        return self._flows.shared(tuple(zip(served, states, strict=True)))

    def _state(self, entry: DutyEntry, site: PlacedLayout, carried: FlowDemand) -> FlowState:
        return flow_state(self._request, entry, carried, self._revision.policies, site.shape.passage)
