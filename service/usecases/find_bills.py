"""Find bills: a request in, the answer out."""

from functools import cache
from typing import NamedTuple

from service.assembly import rail_plans
from service.documents.answer import Answer
from service.documents.found import BriefAnswer, FoundAnswer
from service.documents.request import BillRequest, Detail
from service.documents.sheet import SheetRail
from service.domain import answer as solved
from service.domain.alternatives import Alternatives
from service.domain.assessment import Assessment, ShortAssessment
from service.domain.work import spend
from service.explain.found import report_brief, report_found
from service.explain.report import Assess, KeyOf, report_answer
from service.explain.sheet_rails import rail_told
from service.solver.engine import BillName
from service.usecases.alternatives import STEPS_OF_A_BILL, alternatives
from service.usecases.bill_keys import KeyMaker
from service.usecases.library import Edition, Library
from service.usecases.resolve_request import resolve_request, with_skus


def find_bills(library: Library, request: BillRequest) -> Answer:
    """The answer to a request in the revision that it names, else in the newest.

    Raises RequestFaultsError, NoCatalogError, NotFoundError (an unknown revision).
    """
    return answer_in(library.edition(request.revision), request)


def answer_in(edition: Edition, request: BillRequest) -> Answer:
    """The answer to a request in an edition, each bill by itself. Raises RequestFaultsError."""
    found = _find(edition, request)
    return report_answer(found.answer, edition.revision, found.key_of, found.assess, found.alternatives)


def seen_in(edition: Edition, request: BillRequest) -> tuple[Answer, list[list[SheetRail]]]:
    """The answer to a request in an edition, and of each of its bills the rails as they are built. Raises
    RequestFaultsError."""
    found = _find(edition, request)
    told = report_answer(found.answer, edition.revision, found.key_of, found.assess, found.alternatives)
    return told, [[rail_told(rail) for rail in rail_plans(bill)] for bill in found.answer.bills]


def found_in(edition: Edition, request: BillRequest, detail: Detail) -> BriefAnswer | FoundAnswer:
    """The answer to a request in an edition, in this detail. Raises RequestFaultsError."""
    if detail == "brief":
        return _brief(edition, request)
    found = _find(edition, request)
    return report_found(found.answer, edition.revision, found.key_of, found.assess, found.alternatives, detail)


def _brief(edition: Edition, request: BillRequest) -> BriefAnswer:
    request = with_skus(request, edition.revision)
    resolved = resolve_request(request, edition.revision)
    answer = edition.engine.answer(resolved, choices_told=False)
    assessor = edition.assessor.of(resolved)

    def assessed(bill: solved.Bill) -> ShortAssessment:
        spend(STEPS_OF_A_BILL, "bills")
        return assessor.in_short(bill)

    best = next(iter(answer.bills), None)
    others = alternatives(edition, resolved, None if best is None else assessor.power(best))
    return report_brief(answer, edition.revision, key_maker(edition.number, request), assessed, others)


class _Found(NamedTuple):
    """What was found for a request, and how its bills are named and assessed."""

    answer: solved.Answer
    key_of: KeyOf
    assess: Assess
    alternatives: Alternatives


def _find(edition: Edition, request: BillRequest) -> _Found:
    request = with_skus(request, edition.revision)
    resolved = resolve_request(request, edition.revision)
    answer = edition.engine.answer(resolved)
    assessor = edition.assessor.of(resolved)

    @cache
    def assessed(bill: solved.Bill) -> Assessment:
        spend(STEPS_OF_A_BILL, "bills")
        return assessor.assess(bill)

    best = next(iter(answer.bills), None)
    others = alternatives(edition, resolved, None if best is None else assessed(best).power)
    return _Found(answer, key_maker(edition.number, request), assessed, others)


def key_maker(revision: int, request: BillRequest) -> KeyOf:
    """What gives each bill of a request its key."""
    keys = KeyMaker(revision, request)
    return lambda bill: keys.key_of(name_of(bill))


def name_of(bill: solved.Bill) -> BillName:
    """What tells the bill from every other one of its request."""
    return BillName(
        rail=bill.rail.sku,
        placement=bill.placement,
        gauge=next((spot for spot, duty in bill.duties.items() if duty == "gauge"), None),
        chains={placed.spot: placed.chain.skus for placed in bill.chains},
    )
