"""How the engine of a bill is fed, worked out once for all bills that are fed alike."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from service.assessment.injection import injector_checks
from service.assessment.plumbing import Lines, Plumbing, plumbing_of
from service.assessment.power import limits_of, power_of
from service.assessment.sizing import sizing_of
from service.assessment.supply import pump_checks, supply_of
from service.domain.answer import Bill
from service.domain.assessment import Check, Sizing, Supply
from service.domain.lazy import lazy
from service.domain.power import Power
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.work import kept
from service.solver.supply_limits import SupplyLimits

_KEPT = 8192


@dataclass(frozen=True, eq=False)
class Feeding:
    """The plumbing of a bill, and the most that its paths, pump and injectors supply."""

    request: Request
    policies: Policies
    demand_l_h: float
    plumbing: Plumbing
    sizing: Sizing
    limits: SupplyLimits

    @lazy
    def power(self) -> Power:
        """How much power the bill carries."""
        return power_of(self.plumbing, self.sizing, self.limits, self.request, self.policies)

    @lazy
    def supply(self) -> Supply | None:
        """Where the pump settles; None where no pump is told of."""
        return supply_of(self.plumbing, self.limits, self.request, self.demand_l_h)

    @lazy
    def checks(self) -> tuple[Check, ...]:
        """Whether pump and injectors feed the power that is asked."""
        injectors = injector_checks(self.limits.injectors, self.request, self.demand_l_h)
        return (*pump_checks(self.supply), *injectors)


class Feeder:
    """Finds how the bills of one revision are fed."""

    def __init__(self, policies: Policies) -> None:
        self._policies = policies
        self._told = lru_cache(256)(_told_of_the_feed)
        self._found: Callable[[Request, Lines, float], Feeding] = kept(_KEPT, self._find)

    def of(self, request: Request) -> Callable[[Bill], Feeding]:
        """What finds the feeding of each valid bill of a request."""
        told = self._told(request)
        known: dict[tuple[Lines, float], Feeding] = {}

        def feeding(bill: Bill) -> Feeding:
            fed = Lines.of(bill, request), bill.carried.demand_l_h
            if fed not in known:
                known[fed] = self._found(told, *fed)
            return known[fed]

        return feeding

    def _find(self, request: Request, lines: Lines, demand_l_h: float) -> Feeding:
        plumbing = plumbing_of(lines, request, self._policies)
        sizing = sizing_of(plumbing, lines.placement, request, self._policies)
        limits = limits_of(plumbing, sizing, request)
        return Feeding(request, self._policies, demand_l_h, plumbing, sizing, limits)


def _told_of_the_feed(request: Request) -> Request:
    """A request without what only chooses among parts."""
    return replace(
        request,
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
