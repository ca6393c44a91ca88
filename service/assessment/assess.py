"""Assess bills: the numbers beside their validity, each worked out once for what it depends on."""

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
    """Assesses the valid bills of one revision; keeps what a request's bills share."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._sealing = Sealing(revision)
        self._feeder = Feeder(revision.policies)
        self._vapour = lru_cache(256)(self._checks_of_vapour)
        self._spread = lru_cache(2048)(self._checks_of_rail_flow)
        self._mounting = lru_cache(1024)(self._checks_of_mounting)

    def assess(self, bill: Bill, request: Request) -> Assessment:
        """What engineering says of a valid bill of a request."""
        fed = self._feeder.feeding(bill, request)
        return Assessment(
            power=fed.power,
            supply=fed.supply,
            sizing=fed.sizing,
            checks=(
                *fed.checks,
                *self._vapour(request.chassis, request.fuel),
                *self._spread(_rail_flow(bill, fed, request)),
                *gauge_checks(bill, request, self._revision),
                *self._sealing.checks(bill.joints, request),
                *self._mounting(bill.rail, request.chassis, request.addons, request.pressure_kpa),
            ),
        )

    def power(self, bill: Bill, request: Request) -> Power:
        """Return the power that a valid bill of a request carries, the same as in its assessment."""
        return self._feeder.feeding(bill, request).power

    def _checks_of_vapour(self, chassis: Chassis, fuel: Fuel) -> tuple[Check, ...]:
        return tuple(vapour_checks(chassis, fuel, self._revision.policies))

    def _checks_of_rail_flow(self, flow: RailFlow) -> tuple[Check, ...]:
        return tuple(spread_checks(flow, self._revision.policies))

    def _checks_of_mounting(
        self, rail: Item, chassis: Chassis, addons: tuple[Addon, ...], pressure_kpa: float
    ) -> tuple[Check, ...]:
        if rail.sku == OWN_RAIL:
            return ()
        return tuple(mounting_checks(rail, chassis, addons, pressure_kpa, self._revision))


def _rail_flow(bill: Bill, fed: Feeding, request: Request) -> RailFlow:
    """What runs along the rails: what returns is the pump's to tell, else what the demand leaves of the feed."""
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
