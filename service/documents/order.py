"""What is ordered: the body of POST /v1/order-checks."""

from typing import Annotated

from pydantic import BeforeValidator, Field

from service.documents.fields import Document, Id, whole
from service.documents.request import AskedRevision, PartCount, Wishes

MAX_LINES = 200


class OrderLine(Document):
    """So many units of a SKU."""

    sku: Id
    qty: PartCount


class OrderRequest(Wishes):
    """An order, the car that it is for, and the wishes that a right order would meet."""

    layout: Annotated[Id | None, Field(description="default: the one nearest to the order")] = None
    lines: Annotated[
        list[OrderLine],
        Field(min_length=1, max_length=MAX_LINES, description="what is ordered; the same SKU twice adds up"),
    ]
    sets: Annotated[
        int, Field(ge=1, le=1_000, description="for how many such cars the order is"), BeforeValidator(whole)
    ] = 1
    revision: AskedRevision = None
