"""Cases of a partner's own file beside bills: an order check, an explanation, layouts, an item, a joint.

Each asks one question of the API and says what holds of the answer; what is not told is not promised.
"""

from typing import Annotated, Literal, TypeAlias

from pydantic import BeforeValidator, Field

from service.documents.contract import Account, FileCase, FilePromises, PriceRange
from service.documents.explain import ExplainRequest
from service.documents.fields import Document, Id, Text, whole
from service.documents.joint import JointQuestion
from service.documents.order import OrderRequest
from service.documents.order_answer import Verdict
from service.documents.request import AskedRevision, Narrowing

_Words = Annotated[list[Annotated[str, Field(min_length=1, max_length=500)]], Field(min_length=1, max_length=20)]
_Ids = Annotated[list[Id], Field(min_length=1, max_length=50)]


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


class OwnPromises(FilePromises, Priced):
    """What holds of bills."""


class OwnCase(FileCase):
    """A case of bills in a partner's own file."""

    kind: Literal["bills"] = "bills"
    promises: OwnPromises


class _Case(Document):
    id: Id
    says: Text
    account: Account | None = None


class OrderPromises(Timed):
    """What holds of an order check."""

    verdict: Verdict | None = None
    layout: Annotated[Id | None, Field(description="of the bill that is nearest to the order")] = None
    edits: Annotated[int | None, Field(ge=0, description="at most so many changes; a swap is one")] = None


class OrderCase(_Case):
    """An order held to a car, or to the key of a bill. Each time it is asked an order check is kept."""

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
    type[OwnCase] | type[OrderCase] | type[ExplainCase] | type[LayoutsCase] | type[ItemCase] | type[JointCase]
)
CASES: dict[str, CaseModel] = {
    "bills": OwnCase,
    "order_check": OrderCase,
    "explain": ExplainCase,
    "layouts": LayoutsCase,
    "item": ItemCase,
    "joint": JointCase,
}
"""By kind; a case that tells none is of bills."""
