"""The outlines of a request: a shape of rail, a placement, a place for the gauge, and what serves the spots of each.

No power, hose, stock or budget makes a difference to them, so that the next request finds them as they are.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from service.domain.findings import Finding, Rejection
from service.domain.parts import OWN_RAIL, Item, Opening, RailShape
from service.domain.request import Ground, Request, SpotSituation
from service.domain.revision import Revision
from service.domain.vehicles import Duty, DutyEntry, Hookup, bank_of, place_of
from service.rules import layout, wish
from service.solver.judge.situations import PlacedLayout, Situations
from service.solver.judge.spots import ServedSpot, SpotJudge


def shapes_of(request: Request | Ground, revision: Revision) -> tuple[RailShape, ...]:
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


class Outlined(NamedTuple):
    """The outlines on one ground, and what stops rails and placements on the way."""

    outlines: tuple[Outline, ...]
    rejections: tuple[Rejection, ...]


class Outliner:
    """Lays out what is settled before flow is judged, and notes what stops rails and placements on the way."""

    def __init__(self, revision: Revision, spots: SpotJudge, ground: Ground) -> None:
        self._revision = revision
        self._spots = spots
        self._ground = ground
        self._situations = Situations(ground)
        self.rejections: list[Rejection] = []
        self._served: dict[int, tuple[Plan, tuple[ServedSpot, ...]]] = {}

    @property
    def banks_fit(self) -> bool:
        return layout.banks_fit(self._ground.layout, self._ground.chassis)

    @property
    def shapes(self) -> tuple[RailShape, ...]:
        return shapes_of(self._ground, self._revision)

    def outlined(self) -> Outlined:
        """All outlines."""
        if not self.banks_fit:
            facts = layout.banks_facts(self._ground.layout, self._ground.chassis)
            self._reject((rail for shape in self.shapes for rail in shape.rails), layout.RULE.id, facts)
        shapes = self.shapes if self.banks_fit else ()
        outlines = [outline for shape in shapes for outline in self.on(shape, tuple(self._fit_rails(shape)))]
        return Outlined(tuple(outlines), tuple(self.rejections))

    def plans(self) -> Iterator[tuple[PlacedLayout, Plan]]:
        """What is settled together on any shape of rail in any placement, whatever rails may be used."""
        for shape in self.shapes:
            for _, site, duties in self.duty_assignments(shape):
                for plan in self.plan(site, duties):
                    yield site, plan

    def on(self, shape: RailShape, rails: tuple[Item, ...]) -> Iterator[Outline]:
        """The outlines of rails of a shape, whether or not these keep the rules for parts."""
        for index, site, duties, plans in self._planned(shape, rails) if rails else ():
            yield Outline(index, site, duties, rails, plans, tuple([self._serving(plan) for plan in plans]))

    def _serving(self, plan: Plan) -> tuple[ServedSpot, ...]:
        """What serves the spots of a plan; shapes that differ in their bore alone have the same plans."""
        known = self._served.get(id(plan))
        if known is None:
            served = tuple([self._spots.served(x, self._ground.parts, plan.plugs) for x in plan.spots])
            known = self._served[id(plan)] = plan, served
        return known[1]

    def _planned(self, shape: RailShape, rails: tuple[Item, ...]) -> list[Planned]:
        """The duty assignments on a shape of rail with their plans, which car, layout, room and gauge alone decide."""
        ground = self._ground
        key = (shape.face, ground.chassis, ground.layout, ground.clearances, ground.addons, ground.gauge)
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

    def duty_assignments(
        self, shape: RailShape, rails: tuple[Item, ...] = ()
    ) -> Iterator[tuple[int, PlacedLayout, dict[str, Duty]]]:
        """Each placement (by its place in the layout) that a shape of rail has the spots for, with each way to give
        every spot a duty; where there is none, these rails are rejected."""
        chassis = self._ground.chassis
        openings = {spot: opening for place, opening in shape.spots.items() for spot in chassis.on_banks(place)}
        for index, placement in enumerate(self._ground.layout.placements):
            site = self._site(shape, placement, openings, rails)
            if site is not None:
                for duties in self._duties(site, rails):
                    yield index, site, duties

    def _fit_rails(self, shape: RailShape) -> Iterator[Item]:
        judge = self._spots.parts(self._ground.parts)
        have = dict(self._ground.parts.have)
        for rail in shape.rails:
            if rail.sku == OWN_RAIL:  # somebody else's: there is nothing to judge it by
                yield rail
                continue
            is_had = have.get(rail.sku, 0) >= self._ground.chassis.banks
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
        ground = self._ground
        if not layout.spots_exist(placement, openings):
            self._reject(rails, layout.RULE.id, layout.spots_facts(ground.layout, placement, openings))
            return None
        hookups: dict[str, Hookup] = {}
        for spot, entry in placement.items():
            if entry.duty == "link":
                continue
            hookup = entry.own_hose or ground.chassis.hookups.get(entry.hookup_kind or "")
            if hookup is None:
                facts = layout.hookup_facts(ground.layout, ground.chassis, entry.hookup_kind or entry.duty)
                self._reject(rails, layout.RULE.id, facts)
                return None
            hookups[spot] = hookup
        return PlacedLayout(shape, placement, openings, hookups)

    def _reject(self, rails: Iterable[Item], rule: str, facts: Mapping[str, object]) -> None:
        self.rejections += [Rejection(rail.sku, None, Finding(rule, facts)) for rail in rails]

    def _duties(self, site: PlacedLayout, rails: tuple[Item, ...]) -> Iterator[dict[str, Duty]]:
        """Each way to give every spot a duty: the placement's, the gauge's, closed."""
        gauge = self._ground.gauge
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
