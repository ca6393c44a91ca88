"""The standing questions of a catalog: its cases, partners' cases, the grid of cars and layouts, what was asked."""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from service.documents.contract import CaseQuestion, Promises
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
class Kept:
    """The standing questions that the service keeps beside the catalog: partners' cases, and what was really asked,
    open inquiries among it."""

    partners: Sequence[Standing] = field(default=())
    asked: Sequence[Standing] = field(default=())


class Pair(NamedTuple):
    """A question with whether it is there before and after."""

    question: Standing
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


def standing_questions(catalog: PackedCatalog, kept: Kept = Kept()) -> list[Standing]:
    """Return the standing questions of a catalog, in their order; those of a car or layout that it has not are not
    there."""
    every = (*_cases(catalog), *kept.partners, *_grid(catalog), *kept.asked)
    return [question for question in every if is_known(question, catalog)]


def paired(before: Iterable[Standing], after: Iterable[Standing]) -> list[Pair]:
    """Return the questions of two catalogs, each once. One that is in both is asked as it stands in the first, so that
    its promises are those of the first."""
    was = {question.name: question for question in before}
    is_ = {question.name: question for question in after}
    return [Pair(was.get(name) or is_[name], name in was, name in is_) for name in {**was, **is_}]


def is_known(question: Standing, catalog: PackedCatalog) -> bool:
    """Return whether a catalog has the car and the layout of a question."""
    request, texts = question.request, catalog.texts
    return request.chassis in texts["chassis"] and request.layout in texts["layouts"]


def _cases(catalog: PackedCatalog) -> Iterator[Standing]:
    for case in catalog.contract_cases:
        yield Standing("case", request_of(case.request), case.promises, case.id)


def _grid(catalog: PackedCatalog) -> Iterator[Standing]:
    layouts = [(layout.id, layout.banks) for layout in catalog.layouts]
    for chassis in catalog.chassis:
        for layout, banks in layouts:
            if banks == chassis.banks:
                yield Standing("grid", BillRequest.model_validate({"chassis": chassis.id, "layout": layout}))
