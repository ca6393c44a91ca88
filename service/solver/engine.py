"""The checker: (compiled revision, request) -> answer. Exact, and without building every bill."""

from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from itertools import chain

from service.domain.answer import Answer, Bill
from service.domain.explanation import Explanation
from service.domain.findings import Finding, Rejection
from service.domain.orders import Order
from service.domain.parts import Item, RailShape
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.why_not import NOTHING, WhyNot
from service.domain.work import TooCostlyError, kept, spend
from service.engineering import power_kw
from service.rules import closed
from service.solver.flows import bsfc_g_kwh
from service.solver.judge.components import Component
from service.solver.judge.judges import Judges
from service.solver.judge.options import Choice, Choices
from service.solver.judge.picked import CHAINS_A_STEP
from service.solver.judge.spots import ServedSpot
from service.solver.orders.nearest import Approach, Approacher, LayoutChoices
from service.solver.search.bundles import Bundle
from service.solver.search.carrying import Carrier
from service.solver.search.diagnosis import furthest_of_each, no_rail
from service.solver.search.finder import BillFinder, Survey, counted
from service.solver.search.largest import largest_demand_l_h
from service.solver.search.limits import added
from service.solver.search.outlines import shapes_of
from service.solver.search.setups import Setup, Surveyor
from service.solver.verdicts.explaining import explain
from service.solver.verdicts.places import ItemPlaces, PlaceFinder, feasible_setups, skus_in
from service.solver.why_not.advisor import Advisor
from service.solver.why_not.stories import obstacle

LEAST_POWER_KW = 0.1
"""The least that a request may name."""


@dataclass(frozen=True, slots=True)
class BillName:
    """What tells a bill from every other one of its request: rail, placement, gauge spot, chains by spot."""

    rail: str
    placement: int
    gauge: str | None
    chains: Mapping[str, tuple[str, ...]]


class Engine:
    """Answers requests on one compiled revision; keeps what one request worked out for the next."""

    def __init__(self, revision: Revision) -> None:
        self.revision = revision
        self.judges = Judges.of(revision)
        self._finder = BillFinder(self.judges)
        self._approacher = Approacher(revision.items)
        self._layout_choices = kept(256, self._choices_of_layout)
        self._advisor = Advisor(self.judges, self._finder)
        self._neighbours = lru_cache(256)(self._mating_with_rails)

    def prepare(self, orders: Iterable[str]) -> Iterator[None]:
        """Answer every car and layout without a wish before anybody asks, in each of these orders; a request a step."""
        for order_by in orders:
            for request in asked_beforehand(self.revision):
                with suppress(TooCostlyError):  # whoever asks for it is told
                    self.answer(replace(request, order_by=order_by))
                yield

    def answer(self, request: Request, *, choices_told: bool = True) -> Answer:
        """Count the valid bills, give the best ones in order, and tell what stops other parts.

        `choices_told`: whether bills say what else of their group would do in each place.
        """
        survey = self._finder.survey(request)
        total = counted(request, survey.bundles)
        best = self._finder.best(request, survey.bundles)
        return Answer(
            request,
            total,
            partial(self._finder.built, best, grouped=request.group_variants and choices_told),
            partial(self._rejections, request, survey),
            partial(self.why_not, request) if not total else (lambda: NOTHING),
        )

    def first(self, request: Request) -> tuple[int, Bill | None]:
        """The number of valid bills (or groups), and the first of them without what else would do in its places."""
        asked = replace(request, limit=1)
        bundles = self._finder.bundles(asked)
        best = self._finder.built(self._finder.best(asked, bundles), grouped=False)
        return counted(asked, bundles), next(best, None)

    def recall(self, request: Request, name: BillName) -> Bill | None:
        """The bill of that name, None where the request has no such bill."""
        for bundle in self._finder.bundles(request):
            for setup in bundle.setups:
                gauge = next((spot for spot, duty in setup.duties.items() if duty == "gauge"), None)
                if setup.placement == name.placement and gauge == name.gauge:
                    chosen = _chosen(setup, bundle, name)
                    if chosen is not None:
                        return self._finder.build(setup, *chosen, bundle, grouped=request.group_variants)
        return None

    def why_not(self, request: Request) -> WhyNot:
        """For a request without bills: which wishes conflict and why, and the least changes that help."""
        return self._advisor.why_not(request)

    def obstacle(self, request: Request) -> Finding:
        """For a request without bills: what stops the part that came furthest at a spot that nothing serves."""
        rejection = obstacle(request, self.judges)
        if rejection is None:
            return no_rail(request)
        facts = {"sku": rejection.sku or None, "spot": rejection.spot, **rejection.finding.facts}
        return Finding(rejection.finding.rule, facts)

    def usable(self, request: Request) -> set[str]:
        """The SKUs that valid bills of the request take in, mounting parts and boxed ones too."""
        return skus_in(feasible_setups(self._finder.bundles(request)), request)

    def places(self, request: Request, item: Item) -> ItemPlaces:
        """Where an item is in the valid bills of a request."""
        bundles = self._finder.bundles(request)
        columns = [part.choices for bundle in bundles for setup in bundle.setups for part in setup.components]
        spend(sum(1 + choices.size // CHAINS_A_STEP for choices in columns), "part")
        return PlaceFinder(self.revision, item).places(request, bundles)

    def rejections(self, request: Request) -> tuple[Rejection, ...]:
        """What stops the parts that are in no bill of a request."""
        return self._rejections(request, self._finder.survey(request))

    def first_carrying(self, request: Request, power_kw: float) -> Bill | None:
        """The first bill, in the request's order, that carries a power [kW]; None where none does."""
        asked = replace(request, limit=1, group_variants=False)
        carrier = Carrier(asked, self.revision.policies)
        bundles = []
        for bundle in self._finder.bundles(asked):
            parts = [part for setup in bundle.setups for part in carrier.parts(setup, lambda kw: float(kw >= power_kw))]
            bundles.append(replace(bundle, setups=tuple(part.setup for part in parts if part.level)))
        return next(iter(self._finder.built(self._finder.best(asked, bundles), grouped=False)), None)

    def none_carries(self, request: Request, power_kw: float) -> bool:
        """Whether pump or injectors supply less than a power [kW] takes, whatever the lines and the regulator."""
        return Carrier(request, self.revision.policies).most_supplied_kw < power_kw

    def largest_power_kw(self, request: Request) -> float | None:
        """The most power [kW] that some bill of the request's layout carries, whatever power the request names; None
        where there is no such bill, infinite where nothing of it is rated."""
        asked = replace(request, power_kw=LEAST_POWER_KW)
        setups = [setup for bundle in self._finder.bundles(asked) for setup in bundle.setups]
        demand = max((largest_demand_l_h(setup, asked, self.revision.policies) for setup in setups), default=None)
        if demand is None:
            return None
        return power_kw(demand, bsfc_g_kwh(asked), asked.fuel.fluid.density_kg_m3)

    def explain(self, request: Request, item: Item, spot: str | None = None) -> Explanation:
        """Why an item is, or is not, in the bills of a request: at one spot, or wherever it could be."""
        return explain(self.judges, self._finder, request, item, spot)

    def approaches(self, requests: Iterable[Request], order: Order) -> list[Approach]:
        """How near the bills of requests (one for each layout) come to an order."""
        ledger = self._approacher.ledger(order)
        return [
            Approach(self._layout_choices(request, order.sets), ledger, self.revision.items) for request in requests
        ]

    def _choices_of_layout(self, request: Request, sets: int) -> LayoutChoices:
        surveyor = Surveyor(self.judges, request)
        return LayoutChoices(
            surveyor.outlines,
            request.chassis.banks,
            kept(1, lambda: self._finder.bundles(request, sets, surveyor)),
        )

    def count(self, request: Request) -> int:
        """The number of valid bills, or of groups, as the request asks."""
        return self._finder.count(request)

    def lowest_price(self, request: Request) -> int | None:
        """The price of the cheapest bill, None where there is none."""
        return self._finder.lowest_price(request)

    def _rejections(self, request: Request, survey: Survey) -> tuple[Rejection, ...]:
        """For each part and spot that is in no bill, the finding that came furthest; sorted by spot and SKU."""
        components = _each_once(survey.setups)
        columns = [column for component in components for column in component.choices.columns]
        spend(sum(1 + choices.size // CHAINS_A_STEP for choices in columns), "bills")
        rails, parts = _taken(survey.bundles)
        used: set[tuple[str, str | None]] = {(rail.sku, None) for rail in rails}
        used.update(*(choices.heads for choices in parts))
        furthest = furthest_of_each(chain(_stopped(components, used), survey.untold()), used)
        told = {sku for sku, _ in used} | {sku for sku, _ in furthest}
        told.update(sku for choices in parts for sku in choices.skus)
        for item in self._neighbours(shapes_of(request, self.revision)) if survey.bundles else ():
            if item.sku not in told:
                finding = Finding(closed.RULE.id, closed.no_spot_facts(item.kind))
                furthest[item.sku, None] = Rejection(item.sku, None, finding)
        return tuple(furthest[key] for key in sorted(furthest, key=lambda key: (key[1] or "", key[0])))

    def _mating_with_rails(self, shapes: tuple[RailShape, ...]) -> tuple[Item, ...]:
        """The parts that mate with a spot of some rail of these shapes."""
        openings = {opening for shape in shapes for opening in shape.spots.values()}
        found = {item.sku: item for opening in openings for item, _ in self.revision.mating.get(opening, ())}
        return tuple(found.values())


def asked_beforehand(revision: Revision) -> Iterator[Request]:
    """Every chassis and layout without a wish, on the first fuel."""
    fuel = next(iter(revision.fuels.values()))
    for chassis in revision.chassis.values():
        for layout in revision.layouts.values():
            yield Request(chassis, layout, fuel, chassis.stock_kw)


def _chosen(setup: Setup, bundle: Bundle, name: BillName) -> tuple[Item, list[Choice]] | None:
    """The rail and the choices of the bill of that name; None where the setup has no such bill within the limits."""
    rail = next((rail for rail in setup.rails if rail.sku == name.rail), None)
    found = [component.choices.find(name.chains) for component in setup.components]
    choices = [choice for choice in found if choice is not None]
    spots = {option.spot for choice in choices for option in choice.options}
    if rail is None or len(choices) < len(setup.components) or spots != name.chains.keys():
        return None
    needs = bundle.limits.of_rail(setup.rail_price(rail))
    for choice in choices:
        needs = added(needs, bundle.limits.of(choice))
    if bundle.limits.watching and not bundle.limits.allow(needs):
        return None
    return rail, choices


def _taken(bundles: Iterable[Bundle]) -> tuple[set[Item], set[Choices]]:
    """The rails and the sets of choices of bundles, each once."""
    setups = [setup for bundle in bundles for setup in bundle.setups]
    return {rail for setup in setups for rail in setup.rails}, {x.choices for setup in setups for x in setup.components}


def _stopped(components: Iterable[Component], used: AbstractSet[tuple[str, str | None]]) -> Iterator[Rejection]:
    """What stops parts in components, but for those that are used: at a spot that several of them have, and by the
    flow, once."""
    known: set[ServedSpot] = set()
    told = set(used)
    for component in components:
        for served in component.served:
            if served not in known:
                known.add(served)
                yield from served.rejections
        over = component.over_policy(told)
        told.update((rejection.sku, rejection.spot) for rejection in over)
        yield from over


def _each_once(setups: Iterable[Setup]) -> list[Component]:
    """The components of setups before anything is limited; those that judge the same chains alike are the same."""
    found: dict[object, Component] = {}
    for component in (component for setup in setups for component in setup.components):
        found.setdefault((component.served, component.states), component)
    return list(found.values())
