"""The standing questions of a catalog: its cases, partners' cases, the grid of cars and layouts, what was asked."""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple, TypeAlias

from service.documents.catalog_cases import told
from service.documents.contract import CaseQuestion, CatalogCase, Promises, Timed
from service.documents.contract_kinds import ExplainCase, LayoutsCase, OrderCase, OtherCase
from service.documents.packed import PackedCatalog
from service.documents.request import BillRequest
from service.domain.lazy import lazy
from service.impact.seen import Body

Origin = Literal["case", "partner", "grid", "asked"]
ORIGINS: tuple[Origin, ...] = ("case", "partner", "grid", "asked")
"""Where a standing question comes from, in the order of telling."""


@dataclass(frozen=True)
class Standing:
    """One standing question. `body`: the very bill that is promised, where a partner's key promises one; `times`: how
    often it was really asked."""

    origin: Origin
    request: BillRequest
    promises: Promises | None = None
    id: str | None = None
    account: str | None = None
    body: Body | None = None
    times: int = 0

    @lazy
    def text(self) -> str:
        """The request in its canonical form: one text for all ways to ask the same."""
        return canonical(self.request)

    @lazy
    def name(self) -> tuple[str, ...]:
        """What makes it the same question in two catalogs."""
        if self.origin in ("case", "partner"):
            return (self.origin, self.account or "", self.id or "")
        return (self.origin, self.text)

    @lazy
    def rank(self) -> tuple[int, str, str, str]:
        """The order of telling among questions of one outcome."""
        return ORIGINS.index(self.origin), self.text, self.account or "", self.id or ""


@dataclass(frozen=True)
class StandingCase:
    """A standing case of another kind than bills: an order check, an explanation, layouts, an item or a joint."""

    origin: Origin
    case: OtherCase
    account: str | None = None

    @property
    def id(self) -> str:
        return self.case.id

    @property
    def promises(self) -> Timed:
        return self.case.promises

    @lazy
    def text(self) -> str:
        """The question in its canonical form."""
        return json.dumps([self.case.kind, self.request], sort_keys=True, separators=(",", ":"), ensure_ascii=False)

    @lazy
    def request(self) -> dict[str, object]:
        """The question as it is told: what has its default is left out, and the revision is."""
        return self.case.request.model_dump(mode="json", exclude_defaults=True, exclude={"revision"})

    @lazy
    def name(self) -> tuple[str, ...]:
        """What makes it the same question in two catalogs."""
        return (self.origin, self.account or "", self.id)

    @lazy
    def rank(self) -> tuple[int, str, str, str]:
        """The order of telling among questions of one outcome."""
        return ORIGINS.index(self.origin), self.text, self.account or "", self.id

    @property
    def car(self) -> tuple[str | None, str | None]:
        """The car and the layout that it is about, where it is about one."""
        match self.case:
            case ExplainCase(request=asked):
                return asked.request.chassis, asked.request.layout
            case OrderCase(request=asked):
                return asked.chassis, asked.layout
            case LayoutsCase(request=asked):
                return asked.chassis, None
        return None, None


Question: TypeAlias = Standing | StandingCase


@dataclass(frozen=True)
class Kept:
    """The standing questions that the service keeps beside the catalog: partners' cases, and what was really asked,
    open inquiries among it."""

    partners: Sequence[Question] = field(default=())
    asked: Sequence[Standing] = field(default=())


class Pair(NamedTuple):
    """A question with whether it is there before and after."""

    question: Question
    before: bool
    after: bool


def canonical(request: BillRequest) -> str:
    """Return a request as one text: what has its default is left out, names are sorted."""
    return json.dumps(told_request(request), sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def told_request(request: BillRequest) -> dict[str, object]:
    """Return a request as it is told: what has its default is left out, and the revision is."""
    return request.model_dump(mode="json", exclude_defaults=True, exclude={"revision"})


def request_of(question: CaseQuestion) -> BillRequest:
    """Return the request for bills of a case, of no revision."""
    return BillRequest.model_validate(question.model_dump(exclude_none=True, exclude={"revision"}))


def standing_questions(catalog: PackedCatalog, kept: Kept = Kept()) -> list[Question]:
    """Return the standing questions of a catalog, in their order; those of a car or layout that it has not are not
    there."""
    every = (*_cases(catalog), *kept.partners, *_grid(catalog), *kept.asked)
    return [question for question in every if is_known(question, catalog)]


def paired(before: Iterable[Question], after: Iterable[Question]) -> list[Pair]:
    """Return the questions of two catalogs, each once. One that is in both is asked as it stands in the first, so that
    its promises are those of the first."""
    was = {question.name: question for question in before}
    is_ = {question.name: question for question in after}
    return [Pair(was.get(name) or is_[name], name in was, name in is_) for name in {**was, **is_}]


def is_known(question: Question, catalog: PackedCatalog) -> bool:
    """Return whether a catalog has the car and the layout of a question."""
    chassis, layouts = catalog.texts["chassis"], catalog.texts["layouts"]
    if isinstance(question, Standing):
        return question.request.chassis in chassis and question.request.layout in layouts
    car, layout = question.car
    return (car is None or car in chassis) and (layout is None or layout in layouts)


def _cases(catalog: PackedCatalog) -> Iterator[Question]:
    for case in catalog.contract_cases:
        if isinstance(case, CatalogCase):
            yield Standing("case", request_of(case.request), case.promises, case.id)
        else:
            yield StandingCase("case", told(case))


def _grid(catalog: PackedCatalog) -> Iterator[Standing]:
    layouts = [(layout.id, layout.banks) for layout in catalog.layouts]
    for chassis in catalog.chassis:
        for layout, banks in layouts:
            if banks == chassis.banks:
                yield Standing("grid", BillRequest.model_validate({"chassis": chassis.id, "layout": layout}))
