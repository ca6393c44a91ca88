"""What is answered to an order: the bill nearest to it, and what makes the one into the other."""

from typing import Annotated, Literal, NotRequired

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.answer import Bill, Reason
from service.documents.money import InMoney

Verdict = Annotated[
    Literal["complete", "short", "surplus", "wrong", "impossible"],
    Field(
        description="complete: nothing to change; short: only to add; surplus: only to remove; wrong: both; "
        "impossible: no bill is valid"
    ),
]
_PriceChange = Annotated[
    int | None,
    Field(description="minor units: the price of the bill less that of what was ordered; null without a bill"),
]


class Change(TypedDict):
    """So many units of a SKU to add or to remove, and why."""

    sku: str
    qty: int
    why: str


Swap = TypedDict(
    "Swap",
    {
        "out": str,
        "in": str,
        "qty": int,
        "spot": Annotated[str | None, Field(description="where the new part goes; null for a rail")],
        "why": str,
    },
)
"""One part in another's place; it stands neither among what is added nor among what is removed."""


class OtherLayout(TypedDict):
    """Another layout that the order could be made to fit."""

    layout: str
    changes: Annotated[int, Field(description="units added plus units removed; a swap is one of each")]
    verdict: Verdict
    price_change: _PriceChange
    tie: Annotated[
        NotRequired[bool],
        Field(description="whether it takes as few changes as the one that is shown: the order could be meant for it"),
    ]
    edits: Annotated[NotRequired[int], Field(description="the changes as people count them: a swap is one")]


class OrderExtra(TypedDict):
    """Something ordered that is not compared: whether it goes with the bill."""

    sku: str
    qty: int
    goes: bool
    text: str


class FromElsewhere(TypedDict):
    """So many units that the bill takes and that we do not sell: no change of the order, but to be got as well."""

    sku: str
    qty: int
    text: str


class StockLine(TypedDict):
    """Stock beside what all sets need of a SKU; what the customer has is needed no more."""

    sku: str
    need: Annotated[int, Field(description="units to be got from us for all sets")]
    in_stock: int
    short: Annotated[int, Field(description="units that are needed beyond the stock")]
    rest_days: Annotated[int, Field(description="days until the short ones come; 0 where none is short")]


class Ships(TypedDict):
    """When the right order ships; what is got elsewhere is left out."""

    now: Annotated[int, Field(description="whole sets for which all is in stock")]
    rest_days: Annotated[int, Field(description="days until the other sets can follow; 0 where there are none")]


class Note(TypedDict):
    """What to know of a SKU that was ordered."""

    sku: str
    text: str


class OrderResult(InMoney):
    """An order judged: the valid bill nearest to it, and the changes that lead there."""

    revision: int
    sets: int
    verdict: Verdict
    layout: str | None
    bill: Bill | None
    add: list[Change]
    remove: list[Change]
    swap: list[Swap]
    elsewhere: Annotated[
        NotRequired[list[FromElsewhere]],
        Field(description="what the bill takes that we do not sell; missing in checks that are older than this field"),
    ]
    price_change: _PriceChange
    edits: Annotated[
        NotRequired[int | None],
        Field(description="the changes as people count them: a swap is one; null without a bill"),
    ]
    stock: Annotated[NotRequired[list[StockLine]], Field(description="of each SKU that the right order buys")]
    ships: Annotated[NotRequired[Ships | None], Field(description="null without a bill")]
    also_possible: Annotated[
        list[OtherLayout],
        Field(description="the nearest first: at most 5, but up to 20 that take as few changes as the one shown"),
    ]
    extras: list[OrderExtra]
    notes: list[Note]
    reasons: list[Reason]


class OrderCheck(OrderResult):
    """A judged order as it is kept."""

    id: Annotated[str, Field(description="names the check for good")]


class Current(TypedDict):
    """How the newest revision judges the order."""

    revision: int
    same: Annotated[bool, Field(description="the same verdict, layout and changes; prices and texts may differ")]
    verdict: Annotated[Verdict | None, Field(description="null where the order cannot be judged any more")]
    text: str


class RecalledOrderCheck(OrderCheck):
    """An order check given again word for word, with what the newest revision has to say of it."""

    current: Current
