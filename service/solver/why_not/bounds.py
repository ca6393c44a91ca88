"""Which subsets of the wishes leave a bill within stock and budget, and within what is had."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache, partial
from typing import NamedTuple

from service.domain.parts import OWN_RAIL, Item, RailShape
from service.domain.request import Request
from service.domain.work import spend
from service.solver.flows import FlowState
from service.solver.judge.components import Component
from service.solver.judge.judges import Judges
from service.solver.judge.options import Choices
from service.solver.judge.spots import ServedSpot
from service.solver.judge.tables import bits
from service.solver.search.limiting import SERVED, free, had, scarce
from service.solver.search.limits import Limits, Needs, Spent, spent_on_rails, summed
from service.solver.search.needs import needs_of
from service.solver.search.outlines import Plan
from service.solver.why_not.spot_cases import SpotCase, Variants
from service.solver.why_not.truth import Cases, Truth, Universe, crossed, merged

_WISHES = ("allow_unsold", "in_stock_only", "max_price")


class PlanCase(NamedTuple):
    """What is left to choose from at spots that are settled together, and in which state their paths are."""

    spot_cases: tuple[SpotCase, ...]
    states: tuple[FlowState, ...]


class AssignmentCases(NamedTuple):
    """A shape of rail with a duty for every spot, and the cases of its rails and of each plan's options."""

    shape: RailShape
    rails: Cases[int]
    plans: list[Plan]
    plan_cases: list[Cases[PlanCase]]


Parts = list[tuple[Component, Truth]]
"""What is left to choose at spots that are settled together, and in which subsets."""


class Bounds:
    """Holds duty assignments to what is limited over the whole bill."""

    def __init__(self, judges: Judges, variants: Variants, universe: Universe) -> None:
        self._judges = judges
        self._variants = variants
        self._universe = universe
        limiting = _WISHES if variants.request(()).have else _WISHES[1:]
        self._names = [name for name in limiting if name in universe.names]
        self._known_needs: dict[tuple[Choices, frozenset[str], Limits], frozenset[Needs]] = {}
        self._components: dict[PlanCase, Component] = {}

    def within(self, assignment: AssignmentCases, asked: Truth) -> Truth:
        """Those of the subsets asked about that leave a bill of this assignment; all leave one but for its limits."""
        found = 0
        parts = cache(partial(self._parts, assignment, asked))
        for chosen, truth in self._universe.choosing(self._names):
            request = self._variants.request(chosen)
            left = truth & asked
            if left and (request.in_stock_only or request.have or request.max_price is not None):
                left = self._limited(assignment, parts, request, left)
            found |= left
        return found

    def _parts(self, assignment: AssignmentCases, asked: Truth) -> list[Parts]:
        """What each plan leaves to choose, and where."""
        return [
            [(self._component(plan, plan_case), truth) for plan_case, truth in plan_cases.items() if truth & asked]
            for plan, plan_cases in zip(assignment.plans, assignment.plan_cases, strict=True)
        ]

    def _limited(
        self, assignment: AssignmentCases, parts: Callable[[], list[Parts]], request: Request, asked: Truth
    ) -> Truth:
        """What a bill takes of what is limited is summed up from spot to spot, for all subsets at once."""
        if request.max_price is not None and not request.have:
            cheapest = min([_spent_on(rail, request).price for rail in assignment.shape.rails])
            cheapest += sum([min(map(_lowest_price, plan_cases)) for plan_cases in assignment.plan_cases])
            if cheapest > request.max_price:
                return 0
        components = [
            [(part, truth & asked) for part, truth in found if truth & asked and part.choices.size] for found in parts()
        ]
        if not all(components):  # at the very limit of a path, rounding may leave nothing
            return 0
        limits = self._limits(request, [[part for part, _ in found] for found in components])
        cases = merged(
            (frozenset(_needs_of_rails(_rails(assignment, mask), request, limits)), truth & asked)
            for mask, truth in assignment.rails.items()
            if mask
        )
        for found in components:
            needs = merged((self._needs(part, limits), truth) for part, truth in found)
            joined = crossed(cases, needs, lambda one, other: _sums(one, other, limits))
            cases = {sums: truth for sums, truth in joined.items() if sums}
        within = 0
        for sums, truth in cases.items():
            within |= truth if sums else 0
        return within

    def _needs(self, part: Component, limits: Limits) -> frozenset[Needs]:
        served = frozenset([x.situation.spot for x in part.served if x.could_be_bought])
        key = (part.choices, served, limits)
        found = self._known_needs.get(key)
        if found is None:
            found = self._known_needs[key] = _needs(part.choices, served, limits)
        return found

    def _limits(self, request: Request, components: list[list[Component]]) -> Limits:
        """What may run out in some bill of the assignment; `spots` of the scarce are left to each component."""
        if not (request.have or request.in_stock_only):
            return Limits(request.max_price)
        most: Counter[str] = Counter()
        for plan_cases in components:
            units: Counter[str] = Counter()
            for part in plan_cases:
                units |= Counter(part.choices.most_units)
            most += units
        items = self._judges.revision.items
        return Limits(
            request.max_price,
            tuple(scarce(request, items, most, SERVED)),
            tuple(had(request, items, most)),
            free(request, most),
        )

    def _component(self, plan: Plan, plan_case: PlanCase) -> Component:
        found = self._components.get(plan_case)
        if found is None:
            served = tuple(
                ServedSpot(
                    self._judges.spots,
                    spot,
                    self._variants.parts(()),
                    spot_case.table,
                    spot_case.kept,
                    spot_case.kept,
                    spot_case.kept if spot_case.own else 0,
                    spot_case.bought,
                )
                for spot, spot_case in zip(plan.spots, plan_case.spot_cases, strict=True)
            )
            found = self._components[plan_case] = self._judges.flows.component(served, plan_case.states)
        return found


def _lowest_price(plan_case: PlanCase) -> int:
    """No choice costs less, whatever flows."""
    return sum([x.choices.lowest_price for x in plan_case.spot_cases])


def _rails(assignment: AssignmentCases, mask: int) -> list[Item]:
    return [assignment.shape.rails[place] for place in bits(mask)]


def _needs_of_rails(rails: list[Item], request: Request, limits: Limits) -> Iterator[Needs]:
    for rail in rails:
        spent = _spent_on(rail, request)
        if not request.in_stock_only or not rail.sold or rail.stock >= spent.pieces:
            yield limits.of_rail(spent.price)


def _spent_on(rail: Item, request: Request) -> Spent:
    had = request.chassis.banks if rail.sku == OWN_RAIL else dict(request.have).get(rail.sku, 0)
    return spent_on_rails(rail, max(0, request.chassis.banks - had))


def _needs(choices: Choices, served: frozenset[str], limits: Limits) -> frozenset[Needs]:
    """The least that choices take of what is limited; `served`: spots that a bought chain serves."""
    if not limits.watching:
        return frozenset({()})
    if not (limits.scarce or limits.had or limits.free):
        return frozenset({(choices.lowest_price,)})
    own = replace(limits, scarce=tuple(x if x.spots is None else x._replace(spots=served) for x in limits.scarce))
    return needs_of(choices, own).least


def _sums(one: frozenset[Needs], other: frozenset[Needs], limits: Limits) -> frozenset[Needs]:
    spend(len(one) * len(other), "wishes")
    return summed(one, other, limits) if limits.watching else one
