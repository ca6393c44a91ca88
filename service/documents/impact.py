"""What a change of the catalog does: the impact of one revision against another, and what changed by revision."""

from typing import Annotated, Any, Literal, NotRequired

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.money import InMoney

WhatChanged = Literal["added", "removed", "changed"]
WhatBecame = Literal["added", "retired", "removed", "changed"]
SectionKind = Literal["item", "chassis", "layout", "addon", "fuel"]
OutcomeName = Literal["broken", "lost", "gained", "new", "gone", "other best", "price", "power", "count", "same"]
OriginName = Literal["case", "partner", "grid", "asked"]


class CatalogChange(TypedDict):
    """One object that is in one of two catalogs alone, or differs."""

    kind: Annotated[str, Field(description="item, chassis, layout, addon, fuel, fuel_order, policies ...")]
    id: str
    what: WhatChanged
    fields: Annotated[list[str], Field(description="the top-level fields that differ, where it is in both")]


class SeenAnswer(InMoney):
    """An answer as it is compared: how many bills there are, and what the best one costs and carries."""

    total_valid: int
    price: Annotated[int | None, Field(description="of the best bill, minor units; null where there is none")]
    key: Annotated[str | None, Field(description="of the best bill, in its revision; null between files")]
    carries_kw: float | None


class ImpactQuestion(TypedDict):
    """A standing question whose answer is another."""

    origin: OriginName
    id: NotRequired[Annotated[str, Field(description="of a case")]]
    kind: NotRequired[
        Annotated[
            str, Field(description="of a case that is not of bills: order_check, explain, layouts, item or joint")
        ]
    ]
    account: NotRequired[Annotated[str, Field(description="whose case it is, where it is a partner's")]]
    request: Annotated[dict[str, Any], Field(description="what has its default is left out")]
    outcome: OutcomeName
    before: Annotated[SeenAnswer | None, Field(description="null: not there, or a case of another kind than bills")]
    after: Annotated[SeenAnswer | None, Field(description="null: not there, or a case of another kind than bills")]
    text: str
    because: Annotated[
        list[CatalogChange],
        Field(description="for broken, lost and gained: the changes without which the outcome would be another"),
    ]


class ImpactOrders(TypedDict):
    """The kept order checks that are judged otherwise: another verdict, layout or change."""

    looked_at: Annotated[int, Field(description="how many were judged again: the last 1,000 that are kept, at most")]
    otherwise: Annotated[int, Field(description="how many of them are judged otherwise")]
    ids: NotRequired[
        Annotated[list[str], Field(description="of those; told only where pages of the workshop are served")]
    ]


ImpactAnswer = TypedDict(
    "ImpactAnswer",
    {
        "from": Annotated[int | str, Field(description="the revision that is taken as it was, or its path")],
        "to": Annotated[int | str, Field(description="the revision that is held against it, or its path")],
        "counts": Annotated[dict[str, int], Field(description="questions by outcome")],
        "needs_accept": Annotated[bool, Field(description="a promise or a bill is lost: publishing it takes a reason")],
        "changes": list[CatalogChange],
        "questions": Annotated[list[ImpactQuestion], Field(description="without those whose answer is the same")],
        "not_asked": Annotated[list[dict[str, Any]], Field(description="requests that take too much work to answer")],
        "orders": NotRequired[ImpactOrders],
        "next": Annotated[str | None, Field(description="path of the next page of questions; null on the last")],
    },
)
"""What one revision does to the standing questions of another."""


class RevisionTold(TypedDict):
    """A published revision without its content."""

    number: int
    published: Annotated[str, Field(json_schema_extra={"format": "date-time"}, description="in UTC")]
    maker: str
    digest: Annotated[str, Field(description="of the content: equal catalogs have equal ones")]
    counts: Annotated[dict[str, int], Field(description="elements by section")]
    author: NotRequired[Annotated[str, Field(description="who published it, as far as that was said")]]
    reason: NotRequired[Annotated[str, Field(description="why")]]
    accept: NotRequired[Annotated[str, Field(description="why, although answers were lost with it")]]


class RevisionPage(TypedDict):
    """Revisions, the newest first."""

    results: list[RevisionTold]
    next: NotRequired[Annotated[str, Field(description="path of the next page")]]


class SectionChange(TypedDict):
    """An item, car, layout, add-on or fuel that a revision added, retired, removed or changed."""

    kind: SectionKind
    id: str
    what: WhatBecame
    fields: Annotated[list[str], Field(description="the top-level fields that differ, where it was there before")]


class RevisionChanges(TypedDict):
    """What one revision changed against the one before it."""

    revision: int
    changes: list[SectionChange]


class ChangesSince(TypedDict):
    """What changed since a revision, by revision, the first after it first."""

    since: int
    revision: Annotated[int, Field(description="the newest")]
    revisions: list[RevisionChanges]
    next: NotRequired[Annotated[str, Field(description="path of what changed after the last of these")]]


class BeingWorkedOut(TypedDict):
    """An answer that is worked out in the background: ask again."""

    revision: int
    text: str
