"""The calls of the client, their answers read strictly: by the documents of this version, which know each value."""

from collections.abc import Mapping
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

_FOUND_ANSWER = TypeAdapter(FoundAnswer)
_BRIEF_ANSWER = TypeAdapter(BriefAnswer)
_RECALLED_BILL = TypeAdapter(RecalledBill)
_SHEET = TypeAdapter(Sheet)
_EXPLANATION = TypeAdapter(Explanation)
_READ_QUESTION = TypeAdapter(ReadQuestion)
_DROP_CURVES = TypeAdapter(DropCurves)
_READ_ORDER = TypeAdapter(ReadOrder)
_ORDER_CHECK = TypeAdapter(OrderCheck)
_RECALLED_ORDER_CHECK = TypeAdapter(RecalledOrderCheck)
_CHASSIS_LAYOUTS = TypeAdapter(ChassisLayouts)
_JOINT_ANSWER = TypeAdapter(JointAnswer)
_CASE_FILE = TypeAdapter(CaseFile)


def strictly(call: Call[Any], adapter: TypeAdapter[T]) -> Call[T]:
    """The same call with its answer read as a document whose values are all known; fields may still be added."""

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
    return strictly(calls.find_bills(question, detail=detail), _FOUND_ANSWER)


def find_bills_in_brief(question: Any) -> Call[BriefAnswer]:
    """The same, with prices and parts alone."""
    return strictly(calls.find_bills_in_brief(question), _BRIEF_ANSWER)


def find_bills_by_query(question: Any, etag: str | None = None, detail: Said = "reasons") -> Call[Fetched[FoundAnswer]]:
    """The same by a query, which can be cached; `etag` is that of the answer that the caller has."""
    asked: dict[str, Any] = {**query_of(question)}
    return strictly(calls.find_bills_by_query(**asked, detail=detail), _FOUND_ANSWER).fetched(etag)


def recall_bill(key: str) -> Call[RecalledBill]:
    """A bill again, in its own revision."""
    return strictly(calls.recall_bill(key), _RECALLED_BILL)


def sheet(key: str) -> Call[Sheet]:
    """The assembly sheet of a bill."""
    return strictly(calls.get_sheet(key), _SHEET)


def explain(question: Any) -> Call[Explanation]:
    """Why a part is, or is not, in the bills of a request."""
    return strictly(calls.explain_part(question), _EXPLANATION)


def read_order(order: Any) -> Call[ReadOrder]:
    """The lines of an order as somebody wrote it; what is not sure is asked back."""
    return strictly(calls.read_order(order), _READ_ORDER)


def read_question(question: Any) -> Call[ReadQuestion]:
    """What a customer's sentence asks for; what is missing or could be two things is asked back."""
    return strictly(calls.read_question(question), _READ_QUESTION)


def drop_curves(chassis_id: str, *, revision: int | None = None) -> Call[DropCurves]:
    """Drop against power, the layouts of a car side by side."""
    return strictly(calls.get_drop_curves(chassis_id, revision=revision), _DROP_CURVES)


def check_order(order: Any) -> Call[OrderCheck]:
    """An order judged and kept."""
    return strictly(calls.check_order(order), _ORDER_CHECK)


def recall_order_check(check_id: str) -> Call[RecalledOrderCheck]:
    """A check again, and how the newest catalog judges the order."""
    return strictly(calls.recall_order_check(check_id), _RECALLED_ORDER_CHECK)


def chassis_layouts(
    chassis_id: str, wishes: Mapping[str, Any] | None = None, *, revision: int | None = None
) -> Call[ChassisLayouts]:
    """Each layout for a car; `wishes` are the fields of a question for bills but chassis and layout."""
    asked: dict[str, Any] = {**query_of(wishes or {}), "revision": revision}
    return strictly(calls.list_chassis_layouts(chassis_id, **asked), _CHASSIS_LAYOUTS)


def join(question: Any) -> Call[JointAnswer]:
    """Whether two ports or parts meet, and what joins them if not."""
    return strictly(calls.join_ports(question), _JOINT_ANSWER)


def contract_cases(revision: int | None = None, etag: str | None = None) -> Call[Fetched[CaseFile]]:
    """The standing cases of a revision."""
    return strictly(calls.list_contract_cases(revision=revision), _CASE_FILE).fetched(etag)


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
