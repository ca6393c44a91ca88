"""Reading an order: the body of POST /v1/orders/read, and what was read."""

from typing import Annotated

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.fields import Document, Id
from service.documents.money import InMoney
from service.documents.request import AskedRevision

MOST_TEXT = 200_000


class OrderText(Document):
    """An order as somebody wrote it."""

    text: Annotated[
        str, Field(max_length=MOST_TEXT, description="the rows of an e-mail or a sheet, as they came; at most 5,000")
    ]
    chassis: Annotated[Id | None, Field(description="parts that fit it are offered first where one is asked back")] = (
        None
    )
    revision: AskedRevision = None


class ReadCandidate(TypedDict):
    """A part and a quantity that may be meant."""

    sku: str
    name: str
    qty: int
    likeness: Annotated[int, Field(ge=0, le=100, description="100: it is called so, word for word")]


class ReadLine(TypedDict):
    """A part of the order. A row that names several parts gives several lines."""

    row: Annotated[int, Field(ge=1, description="the row of the text, from 1")]
    text: Annotated[str, Field(description="the row as it came")]
    sku: str | None
    qty: Annotated[int | None, Field(description="null where several may be meant")]
    sure: Annotated[bool, Field(description="one part and one quantity are meant, and nothing else can be")]
    asks: Annotated[str | None, Field(description="what a person has to settle; null where it is sure")]
    candidates: Annotated[list[ReadCandidate], Field(description="the likeliest first")]


class UnreadRow(TypedDict):
    """A row that is no part: a greeting, a price, an address, or what nobody could make a part of."""

    row: Annotated[int, Field(ge=1)]
    text: str


class ReadTotal(InMoney):
    """What all lines cost by the list."""

    price: Annotated[int, Field(description="integer minor units; what is not sold by the maker is not in it")]


class ReadOrder(TypedDict):
    """An order as it was read."""

    revision: int
    lines: list[ReadLine]
    unread: list[UnreadRow]
    total: Annotated[ReadTotal | None, Field(description="null until every line is sure")]
