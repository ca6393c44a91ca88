"""Assess bills: the numbers beside their validity, each worked out once for what it depends on."""

from collections.abc import Hashable, Iterable
from functools import lru_cache

from service.assessment.feeding import Feeder, Feeding
from service.assessment.gauges import gauge_checks
from service.assessment.mounting import mounting_checks
from service.assessment.rail_flow import RailFlow, spread_checks, surely_even
from service.assessment.sealing import Sealing
from service.assessment.vapour import vapour_checks
from service.domain.answer import Bill
from service.domain.assessment import Assessment, Check, ShortAssessment
from service.domain.flows import PathFlow
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
        self._even: dict[Hashable, bool] = {}

    def assess(self, bill: Bill) -> Assessment:
        """The assessment of a valid bill of the request."""
        fed = self._fed(bill)
        resting, behind = self._at_rest(bill)
        checks = (*fed.checks, *resting, *self._along(bill, fed), *behind)
        return Assessment(power=fed.power, supply=fed.supply, sizing=fed.sizing, checks=checks)

    def power(self, bill: Bill) -> Power:
        """The power that a valid bill of the request carries."""
        return self._fed(bill).power

    def in_short(self, bill: Bill) -> ShortAssessment:
        """The power of a valid bill of the request, and how many checks caution: these are told by bounds where they
        can be."""
        fed = self._fed(bill)
        most_l_h, link = fed.most_returned_l_h, _link(bill)
        along = (bill.rail, bill.placement, most_l_h, link and link.drop_kpa)
        is_even = self._even.get(along)
        if is_even is None:
            flow = _rail_flow(bill, fed, self._request, most_l_h)
            is_even = self._even[along] = surely_even(flow, self._assessor.revision.policies)
        uneven = 0 if is_even else _cautions(self._along(bill, fed))
        resting = sum(map(_cautions, self._at_rest(bill)))
        return ShortAssessment(fed.power, fed.cautions + resting + uneven)

    def _along(self, bill: Bill, fed: Feeding) -> tuple[Check, ...]:
        """The checks along the rails."""
        along = (fed, bill.rail, _link(bill), *bill.duties.items())
        if along not in self._known:
            returned = None if fed.supply is None else fed.supply.returned_l_h
            self._known[along] = self._assessor.rail_flow(_rail_flow(bill, fed, self._request, returned))
        return self._known[along]

    def _at_rest(self, bill: Bill) -> tuple[tuple[Check, ...], tuple[Check, ...]]:
        """The checks that hang on no flow: those that are told before the checks along the rails, and those behind."""
        assessor, request, known = self._assessor, self._request, self._known
        behind: list[Check] = []
        if "gauge" in bill.duties.values():
            behind += gauge_checks(bill, request, assessor.revision)
        joints = tuple(bill.joints)
        if joints not in known:
            known[joints] = tuple(assessor.sealing.checks(joints, request))
        behind += known[joints]
        if bill.rail not in known:
            known[bill.rail] = assessor.mounting(bill.rail, request.chassis, request.addons, request.pressure_kpa)
        return assessor.vapour(request.chassis, request.fuel), (*behind, *known[bill.rail])


def _cautions(checks: Iterable[Check]) -> int:
    return sum([check.verdict == "caution" for check in checks])


def _link(bill: Bill) -> PathFlow | None:
    return next((path for path in bill.paths if path.duty == "link"), None)


def _rail_flow(bill: Bill, fed: Feeding, request: Request, settled_l_h: float | None) -> RailFlow:
    """The flow along the rails. The pump settles the returned flow; without a pump it is the feed less the demand."""
    carried, plumbing = bill.carried, fed.plumbing
    returned = max(0.0, carried.feed_l_h * len(plumbing.feeds) - carried.demand_l_h) if plumbing.returns else 0.0
    if settled_l_h is not None:
        returned = settled_l_h
    return RailFlow(
        rail=bill.rail,
        duties=tuple(bill.duties.items()),
        carried=carried,
        returned_l_h=round(returned, 1),
        linked_kpa=next((round(path.drop_kpa, 2) for path in bill.paths if path.duty == "link"), None),
        base_kpa=request.chassis.base_kpa,
        fluid=request.fuel.fluid,
    )
