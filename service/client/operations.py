"""Every operation of the public API as a call; each is told here once, for both clients."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Generic, Literal, TypeVar
from urllib.parse import quote

import httpx
from pydantic import TypeAdapter

from service.client.calls import Call, read_as
from service.client.errors import BrokenAnswerError
from service.client.sections import Detail, Listed, Page, Section, uses_of
from service.documents.answer import ChassisLayouts, RecalledBill
from service.documents.contract_kinds import CaseFile
from service.documents.explain import ExplainRequest, Explanation
from service.documents.found import BriefAnswer, FoundAnswer
from service.documents.health import Ready
from service.documents.joint import JointAnswer, JointQuestion
from service.documents.order import OrderRequest
from service.documents.order_answer import OrderCheck, RecalledOrderCheck
from service.documents.order_reading import OrderText, ReadOrder
from service.documents.question_parameters import Question, plain, query_of
from service.documents.question_reading import QuestionText, ReadQuestion
from service.documents.sheet import Sheet
from service.documents.uses import Use

T = TypeVar("T")
D = TypeVar("D")

_FOUND_ANSWER = TypeAdapter(FoundAnswer)
_BRIEF_ANSWER = TypeAdapter(BriefAnswer)
_RECALLED_BILL = TypeAdapter(RecalledBill)
_SHEET = TypeAdapter(Sheet)
_EXPLANATION = TypeAdapter(Explanation)
_READ_ORDER = TypeAdapter(ReadOrder)
_READ_QUESTION = TypeAdapter(ReadQuestion)
_ORDER_CHECK = TypeAdapter(OrderCheck)
_RECALLED_ORDER_CHECK = TypeAdapter(RecalledOrderCheck)
_CHASSIS_LAYOUTS = TypeAdapter(ChassisLayouts)
_JOINT_ANSWER = TypeAdapter(JointAnswer)
_CASE_FILE = TypeAdapter(CaseFile)
_READY = TypeAdapter(Ready)


Said = Literal["reasons", "full"]
"""The details that give the reasons."""


@dataclass(frozen=True)
class Fetched(Generic[T]):
    """What a conditional request gave: content with its entity tag, or None where the caller's own is still right."""

    content: T | None
    etag: str | None


def find_bills(question: Question, detail: Said = "reasons") -> Call[FoundAnswer]:
    """The bills for a car, a layout and wishes."""
    return Call("POST", "/v1/bills", read_as(_FOUND_ANSWER), body={**plain(question), "detail": detail})


def find_bills_in_brief(question: Question) -> Call[BriefAnswer]:
    """The same, with prices and parts alone."""
    return Call("POST", "/v1/bills", read_as(_BRIEF_ANSWER), body={**plain(question), "detail": "brief"})


def find_bills_by_query(
    question: Question, etag: str | None = None, detail: Said = "reasons"
) -> Call[Fetched[FoundAnswer]]:
    """The same by a query, which can be cached; `etag` is that of the answer that the caller has."""
    return _conditional("/v1/bills", _FOUND_ANSWER, {**query_of(question), "detail": detail}, etag)


def recall_bill(key: str) -> Call[RecalledBill]:
    """A bill again, in its own revision."""
    return Call("GET", f"/v1/bills/{_segment(key)}", read_as(_RECALLED_BILL))


def sheet(key: str) -> Call[Sheet]:
    """The assembly sheet of a bill."""
    return Call("GET", f"/v1/bills/{_segment(key)}/sheet", read_as(_SHEET))


def explain(question: ExplainRequest | Mapping[str, Any]) -> Call[Explanation]:
    """Why a part is, or is not, in the bills of a request."""
    return Call("POST", "/v1/explain", read_as(_EXPLANATION), body=plain(question))


def read_question(question: QuestionText | Mapping[str, Any]) -> Call[ReadQuestion]:
    """What a customer's words ask for; what is not sure is asked back."""
    return Call("POST", "/v1/questions/read", read_as(_READ_QUESTION), body=plain(question))


def read_order(order: OrderText | Mapping[str, Any]) -> Call[ReadOrder]:
    """The lines of an order as somebody wrote it; what is not sure is asked back."""
    return Call("POST", "/v1/orders/read", read_as(_READ_ORDER), body=plain(order))


def check_order(order: OrderRequest | Mapping[str, Any], idempotency_key: str | None = None) -> Call[OrderCheck]:
    """An order judged and kept; with an idempotency key of the caller's own it is kept once, however often it is sent.

    With `key` in the place of car and wishes the order is compared with that very bill.
    """
    headers = {} if idempotency_key is None else {"Idempotency-Key": idempotency_key}
    return Call(
        "POST",
        "/v1/order-checks",
        read_as(_ORDER_CHECK, 200, 201),
        body=plain(order),
        headers=headers,
        repeatable=bool(headers),
    )


def recall_order_check(check_id: str) -> Call[RecalledOrderCheck]:
    """A check again, and how the newest catalog judges the order."""
    return Call("GET", f"/v1/order-checks/{_segment(check_id)}", read_as(_RECALLED_ORDER_CHECK))


def chassis_layouts(
    chassis_id: str, wishes: Mapping[str, Any] | None = None, *, fuel: str | None = None, revision: int | None = None
) -> Call[ChassisLayouts]:
    """Each layout for a car: what it carries, how many bills, from what price, or the rule against it.

    `wishes`: the fields of a question for bills but chassis and layout.
    """
    path = f"/v1/chassis/{_segment(chassis_id)}/layouts"
    params = query_of(wishes or {}) | _given(fuel=fuel, revision=revision)
    return Call("GET", path, read_as(_CHASSIS_LAYOUTS), params)


def join(question: JointQuestion | Mapping[str, Any]) -> Call[JointAnswer]:
    """Whether two ports or parts meet, and what joins them if not."""
    return Call("POST", "/v1/joints", read_as(_JOINT_ANSWER), body=plain(question))


def uses(sku: str, *, limit: int | None = None, revision: int | None = None) -> Call[Page[Use]]:
    """The first page of what a part could be used for; `each(uses_of(sku))` of a client gives all of it."""
    return page(uses_of(sku), limit=limit, revision=revision)


def page(section: Listed[D], *, limit: int | None = None, revision: int | None = None, **filters: str) -> Call[Page[D]]:
    """The first page of a list; items take the filters `kind`, `mates` and `fits`."""
    return Call("GET", section.path, read_as(section.page), _given(limit=limit, revision=revision, **filters))


def page_after(section: Listed[D], before: Page[D]) -> Call[Page[D]] | None:
    """The page after that one, None after the last. Raises BrokenAnswerError for a link that leads elsewhere."""
    if before.next is None:
        return None
    if not (before.next.startswith(f"{section.path}?") and before.next.isascii() and before.next.isprintable()):
        raise BrokenAnswerError(200, f"the next page is no page of {section.path}")
    return Call("GET", before.next, read_as(section.page))


def detail(section: Section[D], wanted: str, *, revision: int | None = None) -> Call[Detail[D]]:
    """One document of a section by its id (of an item: its SKU)."""
    return Call("GET", f"{section.path}/{_segment(wanted)}", read_as(section.detail), _given(revision=revision))


def contract_cases(revision: int | None = None, etag: str | None = None) -> Call[Fetched[CaseFile]]:
    """The standing cases of a revision."""
    return _conditional("/v1/contract/cases", _CASE_FILE, _given(revision=revision), etag)


def health() -> Call[Ready]:
    """Whether it can answer questions: else an UnavailableError."""
    return Call("GET", "/v1/health", read_as(_READY))


def _conditional(path: str, adapter: TypeAdapter[T], params: Mapping[str, str], etag: str | None) -> Call[Fetched[T]]:
    read_whole = read_as(adapter)

    def read(response: httpx.Response) -> Fetched[T]:
        tag = response.headers.get("etag")
        if response.status_code == httpx.codes.NOT_MODIFIED and etag is not None:
            return Fetched(None, tag)
        return Fetched(read_whole(response), tag)

    return Call("GET", path, read, params, headers={} if etag is None else {"If-None-Match": etag})


def _segment(text: str) -> str:
    return quote(text, safe="")


def _given(**params: object) -> dict[str, str]:
    return {name: str(value) for name, value in params.items() if value is not None}
