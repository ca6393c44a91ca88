"""Standing cases: a question, and what its answer has to keep to. In a catalog, and in a file of a partner's own.

A catalog's case may ask for the exact best bill (`keyed`); what is served, and a partner's file, tell that bill's key.
"""

from typing import Annotated, Literal, get_args

from pydantic import BeforeValidator, Field

from service.documents.fields import Document, Id, Label, Money, Text, whole
from service.documents.request import AskedRevision, OrderBy, Wishes
from service.domain.money import Tax

Skus = Annotated[list[Id], Field(min_length=1, max_length=50)]


class PriceRange(Document):
    """What a bill may cost, both ends included."""

    at_least: Money
    at_most: Money


class Promises(Document):
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


class CatalogCase(Document):
    """A case of the catalog; `says` tells in plain words what it is about."""

    id: Id
    says: Text
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


class FileCase(Document):
    """A case of a file."""

    id: Id
    says: Text
    request: PinnedQuestion
    promises: FilePromises
    account: Annotated[Account | None, Field(description="whose case it is; none: the catalog's own")] = None


class PartnerCase(FileCase):
    """A case that a partner has the service keep, under its account's name."""

    account: Annotated[
        Account | None, Field(description="whose case it is: the account of the key that is shown, or left out")
    ] = None


PromiseName = Literal["has_bill", "contains", "never_contains", "price", "keyed"]
PROMISES: tuple[PromiseName, ...] = get_args(PromiseName)


class KeptCase(Document):
    """A partner's case as it is kept; `not_kept`: the promises that its answer does not keep as it is."""

    case: FileCase
    revision: Annotated[int, Field(description="the revision of the catalog that was asked")]
    currency: str
    tax: Tax | None
    not_kept: Annotated[
        list[PromiseName], Field(description="what the answer does not keep today: an impact cannot break it")
    ]


class CaseFile(Document):
    """The cases that `GET /v1/contract/cases` serves, and those of a partner's own file."""

    revision: AskedRevision = None
    currency: Annotated[Label | None, Field(description="of the prices that are promised")] = None
    tax: Tax | None = None
    cases: Annotated[list[FileCase], Field(max_length=10_000)]
