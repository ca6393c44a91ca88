"""What several promises ask of a deployment: the bills of one question with every figure, and more calls."""

from collections.abc import Mapping
from typing import Any

from typing_extensions import TypedDict

from service.client import Call, ClientError
from service.client import operations as calls
from service.contract import operations
from service.contract.outcomes import Broken
from service.contract.site import BrokenError, NotTriedError, Site
from service.documents.drawing import BillDrawing
from service.documents.found import FoundAnswer, FoundBill


class _Revision(TypedDict):
    number: int
    counts: dict[str, int]


class _Revisions(TypedDict):
    results: list[_Revision]


def drawing(key: str) -> Call[BillDrawing]:
    """The drawing of a bill."""
    return operations.strictly(calls.get_drawing(key), BillDrawing)


def newest(site: Site) -> _Revision:
    """The newest revision, with how much of each it has. Raises BrokenError where none is told."""
    listed = site.ask(operations.strictly(calls.list_revisions(limit=1), _Revisions))["results"]
    if not listed:
        raise BrokenError(Broken("no revision is told, though one is answered from", "#/results", "a revision", "none"))
    return listed[0]


def full(site: Site, **wishes: Any) -> FoundAnswer:
    """The answer to the site's question with every figure, perhaps with other wishes."""
    return site.ask(operations.find_bills(site.question() | wishes, "full"))


def bills_of(site: Site) -> list[FoundBill]:
    """The bills of the site's question with every figure. Raises NotTriedError where there is none."""
    bills = full(site)["bills"]
    if not bills:
        raise NotTriedError("the question has no bill, though its case is promised one")
    return bills


def first_bill(site: Site) -> FoundBill:
    """The best of them."""
    return bills_of(site)[0]


def first_bills_of_cases(site: Site, revision: int) -> list[FoundBill]:
    """The first bill of each case that is promised one, of this revision; what is refused is the matter of its case."""
    first: list[FoundBill] = []
    for case in site.bill_cases(has_bill=True):
        try:
            answer = site.ask(operations.find_bills(case.request.model_dump(exclude_unset=True)))
        except ClientError:
            continue
        first += answer["bills"][:1] if answer["revision"] == revision else []
    return first


def wishes_of(question: Mapping[str, Any]) -> dict[str, Any]:
    """The wishes of a question alone."""
    return {name: value for name, value in question.items() if name not in ("chassis", "layout", "limit", "revision")}


def bought(bill: FoundBill, sets: int = 1) -> list[dict[str, Any]]:
    """The lines of an order of what a bill buys."""
    return [{"sku": line["sku"], "qty": line["qty"] * sets} for line in bill["lines"] if line["source"] == "buy"]


def alike(one: float | None, other: float | None) -> bool:
    """Whether two figures that were rounded apart may mean the same."""
    if one is None or other is None:
        return one is other
    return abs(one - other) <= 1e-3 * max(abs(one), abs(other), 1e-3)
