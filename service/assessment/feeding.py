"""The feeding of an engine: what lines, pump and injectors supply, kept for the bills that are fed alike."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from service.assessment.injection import injector_checks
from service.assessment.plumbing import Lines, Plumbing, plumbing_of
from service.assessment.power import limits_of, power_limits, power_of
from service.assessment.sizing import sizing_of
from service.assessment.supply import pump_checks, supply_of
from service.domain.answer import Bill
from service.domain.assessment import Check, Sizing, Supply
from service.domain.lazy import Newest, lazy
from service.domain.power import Power, PowerLimit
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.work import kept
from service.solver.supply_limits import SupplyLimits

_KEPT = 8192
_NEAR = 1e-6
"""Where a pump settles is known more exactly than to this part of a flow."""


@dataclass(frozen=True, eq=False)
class Capability:
    """The plumbing of a bill and the most that its paths, pump and injectors supply, whatever power is asked."""

    plumbing: Plumbing
    sizing: Sizing
    supplied: SupplyLimits
    limits: tuple[PowerLimit, ...]


@dataclass(frozen=True, eq=False)
class Feeding:
    """A capability beside the demand [L/h] of the power that is asked."""

    request: Request
    policies: Policies
    demand_l_h: float
    capability: Capability

    @property
    def plumbing(self) -> Plumbing:
        return self.capability.plumbing

    @property
    def sizing(self) -> Sizing:
        return self.capability.sizing

    @lazy
    def power(self) -> Power:
        """The power that the bill carries."""
        able = self.capability
        return power_of(able.plumbing, able.supplied, able.limits, self.request, self.policies)

    @lazy
    def supply(self) -> Supply | None:
        """The point where the pump settles; None where neither car nor request has a pump."""
        return supply_of(self.plumbing, self.capability.supplied, self.request, self.demand_l_h)

    @lazy
    def checks(self) -> tuple[Check, ...]:
        """The checks of pump and injectors against the demand."""
        injectors = injector_checks(self.capability.supplied.injectors, self.request, self.demand_l_h)
        return (*pump_checks(self.supply), *injectors)

    @lazy
    def cautions(self) -> int:
        """How many of these checks caution; the pump's point is worked out only where the demand is near its end."""
        supplied, demand_l_h = self.capability.supplied, self.demand_l_h
        if supplied.pump is not None and abs(demand_l_h - supplied.pump.flow_l_h) <= _NEAR * demand_l_h:
            return sum([check.verdict == "caution" for check in self.checks])
        ends = [limit.flow_l_h for limit in (supplied.pump, supplied.injectors) if limit is not None]
        return sum([end_l_h < demand_l_h for end_l_h in ends])

    @lazy
    def most_returned_l_h(self) -> float | None:
        """No less than what goes back when the pump settles [L/h]: as if the lines lost nothing; None: not known."""
        pump, supplied = self.request.pump, self.capability.supplied
        if pump is None or supplied.pump is None or not self.plumbing.returns:
            return None
        return max(0.0, pump.as_fed.flow_l_h(supplied.held_kpa) - self.demand_l_h)


class Feeder:
    """Finds the feeding of the bills of one revision."""

    def __init__(self, policies: Policies) -> None:
        self._policies = policies
        self._lines = Newest(_KEPT)
        self._capability: Callable[[Request, Lines], Capability] = kept(_KEPT, self._find)

    def of(self, request: Request) -> Callable[[Bill], Feeding]:
        """A function that gives the feeding of each valid bill of a request."""
        unasked = _told_of_the_feed(request)
        known: dict[Lines, Feeding] = {}

        def feeding(bill: Bill) -> Feeding:
            lines = self._lines.once(bill.parts, lambda: Lines.of(bill, request))
            fed = known.get(lines)
            if fed is None:
                able = self._capability(unasked, lines)
                fed = known[lines] = Feeding(request, self._policies, bill.carried.demand_l_h, able)
            return fed

        return feeding

    def _find(self, request: Request, lines: Lines) -> Capability:
        plumbing = plumbing_of(lines, request, self._policies)
        sizing = sizing_of(plumbing, lines.placement, request, self._policies)
        supplied = limits_of(plumbing, sizing, request)
        return Capability(plumbing, sizing, supplied, tuple(power_limits(plumbing, sizing, supplied, request)))


def _told_of_the_feed(request: Request) -> Request:
    """A request without the power that it asks, and without what only chooses among parts."""
    return replace(
        request,
        power_kw=request.chassis.stock_kw,
        power_told=False,
        clearances=(),
        gauge="none",
        finish=None,
        exclude=frozenset(),
        in_stock_only=False,
        allow_unsold=True,
        max_price=None,
        have=(),
        own_rail=None,
        limit=1,
        group_variants=True,
        order_by="price",
    )
