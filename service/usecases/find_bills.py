"""Find bills: a request in, the answer out."""

from collections.abc import Callable
from functools import cache

from service.documents.answer import Answer
from service.documents.request import BillRequest
from service.domain.answer import Bill
from service.domain.assessment import Assessment
from service.domain.work import spend
from service.explain.report import report_answer
from service.solver.engine import BillName
from service.usecases.alternatives import STEPS_OF_A_BILL, alternatives
from service.usecases.bill_keys import encode_key
from service.usecases.library import Edition, Library
from service.usecases.resolve_request import resolve_request


def find_bills(library: Library, request: BillRequest) -> Answer:
    """The answer to a request in the revision that it names, else in the newest.

    Raises RequestFaultsError, NoCatalogError, NotFoundError (an unknown revision).
    """
    return answer_in(library.edition(request.revision), request)


def answer_in(edition: Edition, request: BillRequest) -> Answer:
    """The answer to a request in an edition. Raises RequestFaultsError."""
    resolved = resolve_request(request, edition.revision)
    answer = edition.engine.answer(resolved)

    @cache
    def assessed(bill: Bill) -> Assessment:
        spend(STEPS_OF_A_BILL, "bills")
        return edition.assessor.assess(bill, request=resolved)

    best = next(iter(answer.bills), None)
    others = alternatives(edition, resolved, None if best is None else assessed(best).power)
    return report_answer(answer, edition.revision, key_maker(edition.number, request), assessed, others)


def key_maker(revision: int, request: BillRequest) -> Callable[[Bill], str]:
    """What gives each bill of a request its key."""
    return lambda bill: encode_key(revision, request, name_of(bill))


def name_of(bill: Bill) -> BillName:
    """What tells the bill from every other one of its request."""
    return BillName(
        rail=bill.rail.sku,
        placement=bill.placement,
        gauge=next((spot for spot, duty in bill.duties.items() if duty == "gauge"), None),
        chains={placed.spot: placed.chain.skus for placed in bill.chains},
    )
