"""A bill into the facts of its assembly sheet."""

from service.assembly.spots import rail_plans
from service.assembly.steps import steps
from service.domain.answer import Bill
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet


def assemble(bill: Bill, request: Request, revision: Revision) -> Sheet:
    """The steps of a bill in working order, and its rails with all that stands at their spots."""
    plans = rail_plans(bill)
    return Sheet(tuple(steps(bill, plans, request, revision)), plans, request.chassis.cylinders)
