"""Bills of the seed catalog to draw: every layout on cars that have it, on two fuels."""

from functools import cache
from typing import Any, NamedTuple

from service.documents.answer import Bill
from service.documents.drawing import BillDrawing
from service.documents.request import BillRequest
from service.usecases.bill_keys import decode_key
from service.usecases.draw_bill import drawing_of
from service.usecases.find_bills import answer_in
from service.usecases.recall_bill import recall_in
from tests.explain.sheets import seed

CARS = ("fennic-16", "hollin-25", "morrow-46")
FUELS = ("petrol", "e85")


class Drawn(NamedTuple):
    """A bill as the API gives it, with its drawing."""

    bill: Bill
    drawing: BillDrawing


def drawn_in(edition: Any, asked: dict[str, Any]) -> list[Drawn]:
    """The bills of a request, each with its drawing."""
    bills = answer_in(edition, BillRequest.model_validate(asked))["bills"]
    return [Drawn(bill, drawing_of(recall_in(edition, decode_key(bill["key"]), bill["key"]))) for bill in bills]


@cache
def seed_drawings() -> dict[str, Drawn]:
    """By car, layout and fuel the first bill of the seed catalog."""
    return {
        f"{chassis} {layout} {fuel}": drawn
        for chassis in CARS
        for layout in seed().revision.layouts
        for fuel in FUELS
        for drawn in drawn_in(seed(), {"chassis": chassis, "layout": layout, "fuel": fuel, "limit": 1})
    }
