"""Standing cases: a question, and what its answer has to keep to. In a catalog, and in a file of a partner's own.

A catalog's case may ask for the exact best bill (`keyed`); what is served, and a partner's file, tell that bill's key.
Cases of other kinds than bills: `contract_kinds` and `catalog_cases`.
"""

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from service.documents.fields import Document, Id, Money, Text, whole
from service.documents.request import AskedRevision, OrderBy, Wishes

Skus = Annotated[list[Id], Field(min_length=1, max_length=50)]
_Words = Annotated[list[Annotated[str, Field(min_length=1, max_length=500)]], Field(min_length=1, max_length=20)]


class PriceRange(Document):
    """What may be paid, both ends included."""

    at_least: Money
    at_most: Money


class Timed(Document):
    """What may be promised of every answer."""

    max_ms: Annotated[
        Annotated[int, Field(ge=1, le=60_000), BeforeValidator(whole)] | None,
        Field(description="milliseconds: the median of five answers, each asked anew, takes at most so long"),
    ] = None
    must_say: Annotated[_Words | None, Field(description="words that stand in some text of the answer")] = None


class Priced(Timed):
    """The same of an answer with money in it."""

    currency: Annotated[
        str | None, Field(pattern="^[A-Z]{3}$", description="the code that the answer tells", examples=["EUR"])
    ] = None


class Promises(Priced):
    """What holds of the answer; what is not told is not promised."""

    has_bill: bool
    contains: Annotated[Skus | None, Field(description="SKUs that stand in the first bill")] = None
    never_contains: Annotated[Skus | None, Field(description="SKUs that stand in no bill that is listed")] = None
    price: Annotated[PriceRange | None, Field(description="of the first bill")] = None


class CatalogPromises(Promises):
    keyed: Annotated[bool | None, Field(description="true: which bill is the first is promised too")] = None


class FilePromises(Promises):
    key: Annotated[str | None, Field(min_length=1, max_length=40_000, description="of the first bill")] = None


class CaseQuestion(Wishes):
    """The fields of a request for bills, without a revision: a catalog's case is asked of its own."""

    layout: Id
    limit: Annotated[int, Field(ge=1, le=100), BeforeValidator(whole)] | None = None
    group_variants: bool | None = None
    order_by: OrderBy | None = None


class PinnedQuestion(CaseQuestion):
    """The same, perhaps of one revision."""

    revision: AskedRevision = None


BILLS: Literal["bills"] = "bills"


def with_kind(told: Any) -> Any:
    """Take a case that tells no kind as one of bills."""
    return {**told, "kind": BILLS} if isinstance(told, dict) and "kind" not in told else told


class CatalogCase(Document):
    """A case of the catalog; `says` tells in plain words what it is about."""

    id: Id
    says: Text
    kind: Literal["bills"] = BILLS
    request: CaseQuestion
    promises: CatalogPromises


ACCOUNT = r"^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$"
Account = Annotated[
    str,
    Field(
        min_length=1,
        max_length=60,
        pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*$",
        description="whose case it is: a name of the partner's own, without slashes",
        examples=["shop-7"],
    ),
]
CaseAccount = Annotated[
    Account | None,
    Field(description="whose case it is; left out: the catalog's own, or the account of the key that is shown"),
]


class FileCase(Document):
    """A case of bills in a file."""

    id: Id
    says: Text
    kind: Literal["bills"] = BILLS
    request: PinnedQuestion
    promises: FilePromises
    account: CaseAccount = None
