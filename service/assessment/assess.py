"""Assess bills: the numbers beside their validity, each worked out once for what it depends on."""

from functools import lru_cache

from service.assessment.injection import injector_checks
from service.assessment.mounting import mounting_checks
from service.assessment.plumbing import plumbing_of
from service.assessment.rail_flow import spread_checks
from service.assessment.sealing import sealing_checks
from service.assessment.sizing import sizing_of
from service.assessment.supply import pump_checks, supply_of
from service.assessment.vapour import vapour_checks
from service.domain.answer import Bill
from service.domain.assessment import Assessment, Check
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import Request
from service.domain.revision import Revision


class Assessor:
    """Assesses the valid bills of one revision; keeps what a request's bills share."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._of_request = lru_cache(64)(self._checks_of_request)
        self._sealing = lru_cache(256)(self._checks_of_standards)
        self._mounting = lru_cache(256)(self._checks_of_rail)

    def assess(self, bill: Bill, request: Request) -> Assessment:
        """What engineering says of a valid bill of a request."""
        policies = self._revision.policies
        demand = bill.carried.demand_l_h
        plumbing = plumbing_of(bill, request, policies)
        supply = supply_of(plumbing, request, demand)
        returned = max(0.0, bill.carried.feed_l_h * max(1, len(plumbing.feeds)) - demand) if plumbing.returns else 0.0
        if supply is not None and supply.returned_l_h is not None:
            returned = supply.returned_l_h
        return Assessment(
            supply=supply,
            sizing=sizing_of(plumbing, bill.placement, request, policies),
            checks=(
                *pump_checks(supply),
                *self._of_request(request, demand),
                *spread_checks(bill, request, policies, returned),
                *self._sealing(tuple(bill.joints), request),
                *self._mounting(bill.rail, request),
            ),
        )

    def _checks_of_request(self, request: Request, demand_l_h: float) -> tuple[Check, ...]:
        return (*injector_checks(request, demand_l_h), *vapour_checks(request, self._revision.policies))

    def _checks_of_standards(self, standards: tuple[str, ...], request: Request) -> tuple[Check, ...]:
        return tuple(sealing_checks(standards, request, self._revision))

    def _checks_of_rail(self, rail: Item, request: Request) -> tuple[Check, ...]:
        return () if rail.sku == OWN_RAIL else tuple(mounting_checks(rail, request, self._revision))
