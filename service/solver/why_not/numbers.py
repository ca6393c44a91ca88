"""The least change of one number that gives a request a bill, from the break points of the catalog.

Between two break points nothing changes: no chain begins or ceases to fit, no path to flow enough. So only the values
beside them are tried, from the given one outwards.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator
from functools import cache, partial
from itertools import pairwise, product
from math import floor, isfinite

from service.domain.chains import Run
from service.domain.request import Request
from service.domain.wishes import FLOW_NUMBERS, NUMBERS, Range, Wishes, measure_of
from service.domain.work import spend
from service.hydraulics import fuel_demand_l_h
from service.hydraulics.sharing import root
from service.solver.flow_capacity import capacity_l_h
from service.solver.flows import FlowState, bsfc_g_kwh, flow_demand, flow_state, returns
from service.solver.judge.judges import Judges
from service.solver.judge.situations import PlacedLayout
from service.solver.search.outlines import Plan
from service.solver.why_not.rule_points import RulePoints


class NumberChanger:
    """Finds least changes on one revision."""

    def __init__(self, judges: Judges, is_valid: Callable[[Request], bool]) -> None:
        self._judges = judges
        self._revision = judges.revision
        self._is_valid = is_valid

    def least_change(self, wishes: Wishes, name: str) -> float | None:
        """The value nearest to the given one, in tenths, with which the request has a bill; None where none has."""
        given = wishes.values[name]
        points = sorted({point for point in self._break_points(wishes, name) if isfinite(point)})
        tried: dict[tuple[int, int], bool] = {}
        for value in _beside(points, given, NUMBERS[measure_of(name) or ""]):
            cell = bisect_left(points, value), bisect_right(points, value)
            if cell not in tried:
                tried[cell] = self._is_valid(wishes.request_with(wishes.values, {name: value}))
            if tried[cell]:
                return value
        return None

    def _break_points(self, wishes: Wishes, name: str) -> Iterator[float]:
        measure = measure_of(name)
        request = wishes.request_with(wishes.values)
        outliner = self._judges.outliner(request)
        of_rules = RulePoints(self._judges, wishes, name)
        for shape in outliner.shapes:
            yield from of_rules.of_parts(shape.rails)
        for site, plan in outliner.plans():
            sways_flow = measure in FLOW_NUMBERS or (
                measure == "boost_kpa" and request.pump is not None and returns(site.placement)
            )
            if plan.entries and sways_flow:
                yield from self._flow_points(wishes, name, plan, site)
            for spot in plan.spots:
                yield from of_rules.of_chains(spot)
        if measure == "boost_kpa":
            yield 0.0
            yield from self._kinks(wishes, name) if any(map(returns, request.layout.placements)) else ()

    def _flow_points(self, wishes: Wishes, name: str, plan: Plan, site: PlacedLayout) -> Iterator[float]:
        """Where paths begin or cease to flow enough."""
        policies = self._revision.policies

        @cache
        def states(value: float) -> tuple[FlowState, ...]:
            request = wishes.request_with(wishes.values, {name: value})
            carried = flow_demand(request, site.placement, policies)
            return tuple(flow_state(request, entry, carried, policies, site.shape.passage) for entry in plan.entries)

        def spare(most: float, value: float) -> float:
            spend(1, "wishes")
            return min(most, 1e12) - states(value)[0].flow_l_h

        def spare_with_hose(runs: tuple[Run, ...], value: float) -> float:
            return spare(capacity_l_h(states(value), runs), value)

        given = wishes.values[name]
        segments = list(pairwise(sorted({*NUMBERS[name], *self._kinks(wishes, name)})))
        tables = [self._judges.spots.table(spot) for spot in plan.spots]
        together = product(*(table.picked(table.chains.whole, False).runs for table in tables))
        if name.endswith("_hose_m"):
            for runs in together:
                yield from _roots(partial(spare_with_hose, runs), segments)
        else:
            for most in {capacity_l_h(states(given), runs) for runs in together}:
                yield from _roots(partial(spare, most), segments)

    def _kinks(self, wishes: Wishes, name: str) -> Iterator[float]:
        """Where what the pump moves takes over from what the engine asks for, or hands over to it."""
        request = wishes.request_with(wishes.values)
        fuel, margin = request.fuel, self._revision.policies.flow_margin
        per_kw = fuel_demand_l_h(1.0, bsfc_g_kwh(request), fuel.fluid.density_kg_m3) * margin
        if name == "power_kw" and request.pumped_l_h is not None:
            points: tuple[float, ...] = (request.pumped_l_h / per_kw,)
        elif name == "boost_kpa" and request.pump is not None:
            held_kpa = request.held_kpa(request.boost_kpa - request.own_boost_kpa)
            points = tuple(round(kpa - held_kpa, 6) for kpa, _ in request.pump.as_fed.points)
        else:
            points = (request.power_kw * per_kw,) if name == "pump_l_h" else ()
        yield from (point for point in points if NUMBERS[name].least < point < NUMBERS[name].most)


def _roots(function: Callable[[float], float], segments: Iterable[tuple[float, float]]) -> Iterator[float]:
    """Where a function that is monotonic on each segment changes sign."""
    for low, high in segments:
        at_low, at_high = function(low), function(high)
        if (at_low < 0) != (at_high < 0):
            yield root(function, low, high, rtol=1e-12, maxiter=500)


def _beside(points: Iterable[float], given: float, allowed: Range) -> list[float]:
    """The tenths next to the points within the allowed range, the nearest to the given value first."""
    tenths = {floor(point * 10) + step for point in (*points, given) for step in (-1, 0, 1, 2)}
    values = [tenth / 10 for tenth in tenths]
    return sorted(
        (value for value in values if allowed.least <= value <= allowed.most and value != given),
        key=lambda value: (abs(value - given), value),
    )
