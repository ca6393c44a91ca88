"""Cases beside bills, as they are served and as a partner writes them: an order check, an explanation, layouts, an
item, a joint.

Each asks one question of the API and says what holds of the answer; what is not told is not promised.
"""

from functools import cache
from typing import Annotated, Literal, TypeAlias, get_args

from pydantic import BeforeValidator, Field, RootModel, TypeAdapter

from service.documents.contract import CaseAccount, FileCase, Priced, PriceRange, Timed, with_kind
from service.documents.explain import ExplainRequest
from service.documents.fields import Document, Id, Label, Text
from service.documents.joint import JointQuestion
from service.documents.order import OrderRequest
from service.documents.order_answer import Verdict
from service.documents.request import AskedRevision, Narrowing
from service.domain.money import Tax

_Ids = Annotated[list[Id], Field(min_length=1, max_length=50)]


class _Case(Document):
    id: Id
    says: Text
    account: CaseAccount = None


class OrderPromises(Timed):
    """What holds of an order check."""

    verdict: Verdict | None = None
    layout: Annotated[Id | None, Field(description="of the bill that is nearest to the order")] = None
    edits: Annotated[int | None, Field(ge=0, description="at most so many changes; a swap is one")] = None


class OrderCase(_Case):
    """An order held to a car, or to the key of a bill. Each time it is asked over HTTP an order check is kept."""

    kind: Literal["order_check"]
    request: OrderRequest
    promises: OrderPromises


class ExplainPromises(Priced):
    """What holds of an explanation."""

    in_bills: bool | None = None
    where: Annotated[_Ids | None, Field(description="the spots at which it stands, all of these")] = None
    stopped_by: Annotated[_Ids | None, Field(description="rules that stop it somewhere, all of these")] = None


class ExplainCase(_Case):
    """A part, and why it is in the bills or is not."""

    kind: Literal["explain"]
    request: ExplainRequest
    promises: ExplainPromises


class CarQuestion(Narrowing):
    """A car, with wishes, and perhaps a revision."""

    chassis: Id
    revision: AskedRevision = None


class LayoutsPromises(Priced):
    """What holds of the layouts of a car."""

    with_bills: Annotated[_Ids | None, Field(description="layouts that have a bill")] = None
    without_bills: Annotated[_Ids | None, Field(description="layouts that have none")] = None


class LayoutsCase(_Case):
    """The layouts of a car."""

    kind: Literal["layouts"]
    request: CarQuestion
    promises: LayoutsPromises


class ItemQuestion(Document):
    """An item, perhaps of a revision."""

    sku: Id
    revision: AskedRevision = None


class ItemPromises(Timed):
    """What holds of an item."""

    exists: bool = True
    price: Annotated[PriceRange | None, Field(description="of one, minor units")] = None
    status: Literal["active", "retired"] | None = None


class ItemCase(_Case):
    """An item by its SKU."""

    kind: Literal["item"]
    request: ItemQuestion
    promises: ItemPromises


class JointPromises(Priced):
    """What holds of a joint."""

    meets: bool | None = None
    bridged_by: Annotated[_Ids | None, Field(description="SKUs of the bridge, in order")] = None


class JointCase(_Case):
    """Two sides, and whether they meet."""

    kind: Literal["joint"]
    request: JointQuestion
    promises: JointPromises


OtherCase: TypeAlias = OrderCase | ExplainCase | LayoutsCase | ItemCase | JointCase
AnyCase: TypeAlias = FileCase | OtherCase
CaseModel: TypeAlias = (
    type[FileCase] | type[OrderCase] | type[ExplainCase] | type[LayoutsCase] | type[ItemCase] | type[JointCase]
)
CASES: dict[str, CaseModel] = {
    "bills": FileCase,
    "order_check": OrderCase,
    "explain": ExplainCase,
    "layouts": LayoutsCase,
    "item": ItemCase,
    "joint": JointCase,
}
"""By kind; a case that tells none is of bills."""
ToldCase = Annotated[AnyCase, Field(discriminator="kind"), BeforeValidator(with_kind)]


class StandingCase(RootModel[ToldCase]):
    """A standing case of whatever kind, as it is told."""


class PartnerCase(RootModel[ToldCase]):
    """A case that a partner has the service keep, under its account's name."""


@cache
def _adapter() -> TypeAdapter[AnyCase]:
    return TypeAdapter(ToldCase)


def case_of(text: str) -> AnyCase:
    """Read a case that is kept as JSON. Raises ValidationError."""
    return _adapter().validate_json(text)


PromiseName = Literal[
    "has_bill",
    "contains",
    "never_contains",
    "price",
    "keyed",
    "verdict",
    "layout",
    "edits",
    "in_bills",
    "where",
    "stopped_by",
    "with_bills",
    "without_bills",
    "exists",
    "status",
    "meets",
    "bridged_by",
    "currency",
    "must_say",
]
PROMISES: tuple[PromiseName, ...] = get_args(PromiseName)
"""What a catalog can keep or break, in the order of telling; how long an answer takes is tried over HTTP alone."""


class KeptCase(Document):
    """A partner's case as it is kept; `not_kept`: the promises that its answer does not keep as it is."""

    case: ToldCase
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
    cases: Annotated[list[ToldCase], Field(max_length=10_000)]
