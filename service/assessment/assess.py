"""Assess bills: the numbers beside their validity, each worked out once for what it depends on."""

from collections.abc import Hashable
from functools import lru_cache

from service.assessment.feeding import Feeder, Feeding
from service.assessment.gauges import gauge_checks
from service.assessment.mounting import mounting_checks
from service.assessment.rail_flow import RailFlow, spread_checks
from service.assessment.sealing import Sealing
from service.assessment.vapour import vapour_checks
from service.domain.answer import Bill
from service.domain.assessment import Assessment, Check
from service.domain.parts import OWN_RAIL, Item
from service.domain.power import Power
from service.domain.request import Request
from service.domain.revision import Fuel, Revision
from service.domain.vehicles import Addon, Chassis


class Assessor:
    """Assesses the valid bills of one revision; keeps what requests share."""

    def __init__(self, revision: Revision) -> None:
        self.revision = revision
        self.sealing = Sealing(revision)
        self.feeder = Feeder(revision.policies)
        self.vapour = lru_cache(256)(self._checks_of_vapour)
        self.rail_flow = lru_cache(2048)(self._checks_of_rail_flow)
        self.mounting = lru_cache(1024)(self._checks_of_mounting)

    def of(self, request: Request) -> "RequestAssessor":
        """An assessor of the bills of one request."""
        return RequestAssessor(self, request)

    def assess(self, bill: Bill, request: Request) -> Assessment:
        """The assessment of a valid bill of a request."""
        return self.of(request).assess(bill)

    def power(self, bill: Bill, request: Request) -> Power:
        """Return the power that a valid bill of a request carries, the same as in its assessment."""
        return self.feeder.of(request)(bill).power

    def _checks_of_vapour(self, chassis: Chassis, fuel: Fuel) -> tuple[Check, ...]:
        return tuple(vapour_checks(chassis, fuel, self.revision.policies))

    def _checks_of_rail_flow(self, flow: RailFlow) -> tuple[Check, ...]:
        return tuple(spread_checks(flow, self.revision.policies))

    def _checks_of_mounting(
        self, rail: Item, chassis: Chassis, addons: tuple[Addon, ...], pressure_kpa: float
    ) -> tuple[Check, ...]:
        if rail.sku == OWN_RAIL:
            return ()
        return tuple(mounting_checks(rail, chassis, addons, pressure_kpa, self.revision))


class RequestAssessor:
    """Assesses the bills of one request, which share most of what is looked at."""

    def __init__(self, assessor: Assessor, request: Request) -> None:
        self._assessor = assessor
        self._request = request
        self._fed = assessor.feeder.of(request)
        self._known: dict[Hashable, tuple[Check, ...]] = {}

    def assess(self, bill: Bill) -> Assessment:
        """The assessment of a valid bill of the request."""
        assessor, request, known = self._assessor, self._request, self._known
        fed = self._fed(bill)
        checks = [*fed.checks, *assessor.vapour(request.chassis, request.fuel)]
        link = next((path for path in bill.paths if path.duty == "link"), None)
        along = (fed, bill.rail, link, *bill.duties.items())
        if along not in known:
            known[along] = assessor.rail_flow(_rail_flow(bill, fed, request))
        checks += known[along]
        if "gauge" in bill.duties.values():
            checks += gauge_checks(bill, request, assessor.revision)
        joints = tuple(bill.joints)
        if joints not in known:
            known[joints] = tuple(assessor.sealing.checks(joints, request))
        checks += known[joints]
        if bill.rail not in known:
            known[bill.rail] = assessor.mounting(bill.rail, request.chassis, request.addons, request.pressure_kpa)
        checks += known[bill.rail]
        return Assessment(power=fed.power, supply=fed.supply, sizing=fed.sizing, checks=tuple(checks))


def _rail_flow(bill: Bill, fed: Feeding, request: Request) -> RailFlow:
    """The flow along the rails. The pump settles the returned flow; without a pump it is the feed less the demand."""
    carried, plumbing, supply = bill.carried, fed.plumbing, fed.supply
    returned = max(0.0, carried.feed_l_h * len(plumbing.feeds) - carried.demand_l_h) if plumbing.returns else 0.0
    if supply is not None and supply.returned_l_h is not None:
        returned = supply.returned_l_h
    return RailFlow(
        rail=bill.rail,
        duties=tuple(bill.duties.items()),
        carried=carried,
        returned_l_h=round(returned, 1),
        linked_kpa=next((round(path.drop_kpa, 2) for path in bill.paths if path.duty == "link"), None),
        base_kpa=request.chassis.base_kpa,
        fluid=request.fuel.fluid,
    )
