"""The calls of the client, their answers read strictly: by the documents of this version, which know each value."""

from collections.abc import Mapping
from functools import cache
from typing import Any, Literal, TypeVar

import httpx
from pydantic import TypeAdapter, ValidationError

from service.client import BrokenAnswerError, Call, Fetched, answer, given, segment
from service.client import operations as calls
from service.contract.sections import Detail, Listed, Page, Section
from service.documents.answer import ChassisLayouts, RecalledBill
from service.documents.contract_kinds import CaseFile
from service.documents.drawing import DropCurves
from service.documents.explain import Explanation
from service.documents.found import BriefAnswer, FoundAnswer
from service.documents.joint import JointAnswer
from service.documents.order_answer import OrderCheck, RecalledOrderCheck
from service.documents.order_reading import ReadOrder
from service.documents.question_parameters import query_of
from service.documents.question_reading import ReadQuestion
from service.documents.rendering import printable
from service.documents.sheet import Sheet

T = TypeVar("T")
D = TypeVar("D")

Said = Literal["reasons", "full"]
"""The details that give the reasons."""


@cache
def _adapter(document: Any) -> TypeAdapter[Any]:
    return TypeAdapter(document)


def strictly(call: Call[Any], document: type[T]) -> Call[T]:
    """The same call with its answer read as a document whose values are all known; fields may still be added."""
    known: Any = document  # hashable, as every class is, which mypy does not know of type[T]
    adapter: TypeAdapter[T] = _adapter(known)

    def read(response: httpx.Response) -> T:
        call.read(response)
        try:
            return adapter.validate_json(response.content, strict=True, extra="allow")
        except ValidationError as error:
            first = error.errors(include_url=False, include_input=False)[0]
            place = printable("/".join(map(str, first["loc"])))
            reason = f"its content is not what it should be: at {place}: {first['msg']}"
            raise BrokenAnswerError(response.status_code, reason) from None

    return call.reading(read)


def find_bills(question: Any, detail: Said = "reasons") -> Call[FoundAnswer]:
    """The bills for a car, a layout and wishes."""
    return strictly(calls.find_bills(question, detail=detail), FoundAnswer)


def find_bills_in_brief(question: Any) -> Call[BriefAnswer]:
    """The same, with prices and parts alone."""
    return strictly(calls.find_bills_in_brief(question), BriefAnswer)


def find_bills_by_query(question: Any, etag: str | None = None, detail: Said = "reasons") -> Call[Fetched[FoundAnswer]]:
    """The same by a query, which can be cached; `etag` is that of the answer that the caller has."""
    asked: dict[str, Any] = {**query_of(question)}
    return strictly(calls.find_bills_by_query(**asked, detail=detail), FoundAnswer).fetched(etag)


def recall_bill(key: str) -> Call[RecalledBill]:
    """A bill again, in its own revision."""
    return strictly(calls.recall_bill(key), RecalledBill)


def sheet(key: str) -> Call[Sheet]:
    """The assembly sheet of a bill."""
    return strictly(calls.get_sheet(key), Sheet)


def explain(question: Any) -> Call[Explanation]:
    """Why a part is, or is not, in the bills of a request."""
    return strictly(calls.explain_part(question), Explanation)


def read_order(order: Any) -> Call[ReadOrder]:
    """The lines of an order as somebody wrote it; what is not sure is asked back."""
    return strictly(calls.read_order(order), ReadOrder)


def read_question(question: Any) -> Call[ReadQuestion]:
    """What a customer's sentence asks for; what is missing or could be two things is asked back."""
    return strictly(calls.read_question(question), ReadQuestion)


def drop_curves(chassis_id: str, *, revision: int | None = None) -> Call[DropCurves]:
    """Drop against power, the layouts of a car side by side."""
    return strictly(calls.get_drop_curves(chassis_id, revision=revision), DropCurves)


def check_order(order: Any) -> Call[OrderCheck]:
    """An order judged and kept."""
    return strictly(calls.check_order(order), OrderCheck)


def recall_order_check(check_id: str) -> Call[RecalledOrderCheck]:
    """A check again, and how the newest catalog judges the order."""
    return strictly(calls.recall_order_check(check_id), RecalledOrderCheck)


def chassis_layouts(
    chassis_id: str, wishes: Mapping[str, Any] | None = None, *, revision: int | None = None
) -> Call[ChassisLayouts]:
    """Each layout for a car; `wishes` are the fields of a question for bills but chassis and layout."""
    asked: dict[str, Any] = {**query_of(wishes or {}), "revision": revision}
    return strictly(calls.list_chassis_layouts(chassis_id, **asked), ChassisLayouts)


def join(question: Any) -> Call[JointAnswer]:
    """Whether two ports or parts meet, and what joins them if not."""
    return strictly(calls.join_ports(question), JointAnswer)


def contract_cases(revision: int | None = None, etag: str | None = None) -> Call[Fetched[CaseFile]]:
    """The standing cases of a revision."""
    return strictly(calls.list_contract_cases(revision=revision), CaseFile).fetched(etag)


def page(section: Listed[D], *, limit: int | None = None, revision: int | None = None) -> Call[Page[D]]:
    """The first page of a list."""
    asked = {"limit": limit, "revision": revision}
    return strictly(Call("GET", section.path, answer(dict[str, Any]), params=given(asked)), section.page)


def page_after(section: Listed[D], before: Page[D]) -> Call[Page[D]] | None:
    """The page after that one, None after the last. Raises BrokenAnswerError for a link that leads elsewhere."""
    if before.next is None:
        return None
    if not (before.next.startswith(f"{section.path}?") and before.next.isascii() and before.next.isprintable()):
        raise BrokenAnswerError(200, f"the next page is no page of {section.path}")
    return strictly(Call("GET", before.next, answer(dict[str, Any])), section.page)


def detail(section: Section[D], wanted: str, *, revision: int | None = None) -> Call[Detail[D]]:
    """One document of a section by its id (of an item: its SKU)."""
    path, asked = f"{section.path}/{segment(wanted)}", given({"revision": revision})
    return strictly(Call("GET", path, answer(dict[str, Any]), params=asked), section.detail)
