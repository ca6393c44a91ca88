"""Assembly sheets of the explain layer, from catalog and request."""

from functools import cache
from typing import Any

from service.assembly import assemble
from service.documents.folder import load_catalog, seed_folder
from service.documents.request import BillRequest
from service.documents.sheet import Sheet
from service.explain.report import report_bill
from service.explain.sheet import report_sheet
from service.explain.telling import Telling
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.engine import edition

KEY = "1key"

THROUGH_FLOW = {"chassis": "fennic-16", "layout": "return-6", "gauge": "centre"}
TWO_BANKS = {"chassis": "morrow-40", "layout": "pair-return-8-link-regulator", "gauge": "2.top"}
BY_LINE = {"chassis": "fennic-16", "layout": "bulkhead-centre", "addons": ["blower-tor"]}
SITUATIONS = {"through_flow_with_side_gauge": THROUGH_FLOW, "two_banks_linked": TWO_BANKS, "by_line": BY_LINE}


@cache
def seed() -> Edition:
    """The seed catalog made ready to answer."""
    return Edition(1, load_catalog(seed_folder()))


def sheet_of_seed(asked: dict[str, Any]) -> Sheet:
    """The sheet of the first bill that the seed catalog has for a request."""
    return sheets_in(seed(), asked)[0]


def sheet_of_best(document: dict[str, Any], asked: dict[str, Any]) -> Sheet:
    """The sheet of the first bill that a catalog has for a request."""
    return sheets_in(edition(document), asked)[0]


def sheets_in(ready: Edition, asked: dict[str, Any]) -> list[Sheet]:
    """The sheet of every bill that is shown, under a key that stays."""
    revision = ready.revision
    request = resolve_request(BillRequest.model_validate(asked), revision)
    return [
        report_sheet(
            assemble(bill, request, revision),
            report_bill(bill, Telling(request, revision), KEY, ready.assessor.assess(bill, request)),
            request,
            revision,
        )
        for bill in ready.engine.answer(request).bills
    ]
