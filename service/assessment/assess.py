"""Assess a bill: the numbers beside its validity."""

from service.assessment.injection import injector_checks
from service.assessment.plumbing import plumbing_of
from service.assessment.sizing import sizing_of
from service.assessment.supply import pump_checks, supply_of
from service.domain.answer import Bill
from service.domain.assessment import Assessment
from service.domain.request import Request
from service.domain.revision import Revision


def assess(bill: Bill, request: Request, revision: Revision) -> Assessment:
    """What engineering says of a valid bill of a request."""
    plumbing = plumbing_of(bill, request, revision.policies)
    supply = supply_of(plumbing, request, bill.carried.demand_l_h)
    return Assessment(
        supply=supply,
        sizing=sizing_of(plumbing, bill.placement, request, revision.policies),
        checks=(
            *pump_checks(supply),
            *injector_checks(request, bill.carried.demand_l_h),
        ),
    )
