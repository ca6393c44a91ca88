"""Standing cases of the catalog beside bills, in the same kinds as a partner's. Their questions name no revision and no
key: they are asked of the catalog that they stand in."""

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import AfterValidator, BeforeValidator, Field
from pydantic_core import PydanticCustomError

from service.documents import contract_kinds as kinds
from service.documents.contract import CaseQuestion, CatalogCase, with_kind
from service.documents.fields import Document, End, Id, Spot, Text, whole
from service.documents.order import MAX_LINES, OrderLine
from service.documents.request import Narrowing


class _Case(Document):
    id: Id
    says: Text


class CaseOrder(Narrowing):
    """An order, and the car that it is for."""

    chassis: Id
    layout: Annotated[Id | None, Field(description="default: the one nearest to the order")] = None
    lines: Annotated[list[OrderLine], Field(min_length=1, max_length=MAX_LINES)]
    sets: Annotated[int, Field(ge=1, le=1_000), BeforeValidator(whole)] = 1


class CatalogOrderCase(_Case):
    """An order held to a car."""

    kind: Literal["order_check"]
    request: CaseOrder
    promises: kinds.OrderPromises


class CasePart(CaseQuestion):
    """A request for bills, and the part that the question is about."""

    sku: Id
    spot: Annotated[Spot | None, Field(description="default: every spot that the rails offer")] = None


class CatalogExplainCase(_Case):
    """A part, and why it is in the bills or is not."""

    kind: Literal["explain"]
    request: CasePart
    promises: kinds.ExplainPromises


class CaseCar(Narrowing):
    """A car, with wishes."""

    chassis: Id


class CatalogLayoutsCase(_Case):
    """The layouts of a car."""

    kind: Literal["layouts"]
    request: CaseCar
    promises: kinds.LayoutsPromises


class CaseItem(Document):
    """An item by its SKU."""

    sku: Id


class CatalogItemCase(_Case):
    """An item."""

    kind: Literal["item"]
    request: CaseItem
    promises: kinds.ItemPromises


class CaseSide(Document):
    """A part, perhaps one of its ports; or a bare port by standard and end."""

    sku: Id | None = None
    port: Id | None = None
    standard: Id | None = None
    end: End | None = None


def _of_one_kind(side: CaseSide) -> CaseSide:
    is_part = side.sku is not None and side.standard is None and side.end is None
    is_port = side.standard is not None and side.end is not None and side.sku is None and side.port is None
    if not (is_part or is_port):
        raise PydanticCustomError(
            "one_kind_of_side", "a part (sku, and port if one is meant) or a bare port (standard and end)"
        )
    return side


_Side = Annotated[CaseSide, AfterValidator(_of_one_kind)]


class CaseJoint(Document):
    """Two sides, in either order."""

    one: _Side
    other: _Side


class CatalogJointCase(_Case):
    """Two sides, and whether they meet."""

    kind: Literal["joint"]
    request: CaseJoint
    promises: kinds.JointPromises


OtherCatalogCase: TypeAlias = (
    CatalogOrderCase | CatalogExplainCase | CatalogLayoutsCase | CatalogItemCase | CatalogJointCase
)
AnyCatalogCase = Annotated[CatalogCase | OtherCatalogCase, Field(discriminator="kind"), BeforeValidator(with_kind)]


def told(case: OtherCatalogCase) -> kinds.OtherCase:
    """A case of the catalog as one that is served."""
    asked: dict[str, Any] = case.request.model_dump(exclude_unset=True)
    if isinstance(case, CatalogExplainCase):
        about: dict[str, Any] = {name: asked.pop(name) for name in ("sku", "spot") if name in asked}
        asked = {"request": {name: value for name, value in asked.items() if value is not None}, **about}
    plain = {"id": case.id, "says": case.says, "kind": case.kind, "request": asked}
    model: Any = kinds.CASES[case.kind]
    read: kinds.OtherCase = model.model_validate(plain | {"promises": case.promises})
    return read
