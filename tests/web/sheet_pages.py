"""Pages of assembly sheets with all that stands beside them, over the seed catalog."""

from typing import Any

from service.documents.request import BillRequest
from service.explain.report import report_bill
from service.explain.telling import Telling
from service.usecases.assembly_sheet import sheet_of
from service.usecases.recall_bill import Recalled
from service.usecases.resolve_request import resolve_request
from service.web.pages.pictures import Pictures
from service.web.pages.rendering import STYLESHEET_PATH, Units
from service.web.pages.sheet import Beside, sheet_page
from service.web.pages.today import Today
from tests.explain.sheets import KEY, seed


def page_of_seed(
    asked: dict[str, Any], *, units: Units = "metric", today: Today | None = None, printed: bool = False, link: str = ""
) -> str:
    """The page of the best bill's sheet; `printed`: as a PDF is made of it."""
    ready = seed()
    request = resolve_request(BillRequest.model_validate(asked | {"limit": 1}), ready.revision)
    [bill] = ready.engine.answer(request).bills
    document = report_bill(bill, Telling(request, ready.revision), KEY, ready.assessor.assess(bill, request))
    pictures = Pictures(ready, each_whole=printed)
    layout = pictures.of_layout(request.layout, bill.duties)
    beside = Beside(pictures, layout, today, units, "" if printed else "?units=inch")
    stylesheet = None if printed else STYLESHEET_PATH
    return sheet_page(
        sheet_of(Recalled(ready, request, bill, document)), link=link, stylesheet=stylesheet, beside=beside
    )
