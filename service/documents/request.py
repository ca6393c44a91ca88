"""What is asked: the body of POST /v1/bills, and the wishes that other questions share with it."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from service.documents.engine_side import InjectorFlow, Regulator
from service.documents.fields import Clearance, Document, End, FlowLh, Id, Label, Money, Place, PowerKw, whole
from service.documents.pump import PumpCurve, PumpVolts

OrderBy = Literal["price", "pieces", "drop", "lead", "margin", "power"]
Detail = Literal["brief", "reasons", "full"]
Gauge = Annotated[
    str,
    Field(
        pattern=r"^(none|any|([12]\.)?(left|centre|right|top))$",
        description="none, any, or a spot: left, centre, right, top (1.left ... 2.top on two banks)",
    ),
]
RevisionNumber = Annotated[int, Field(ge=1, le=2**31 - 1), BeforeValidator(whole)]
AskedRevision = Annotated[RevisionNumber | None, Field(description="default: the newest")]
HoseM = Annotated[float, Field(ge=0, le=100, description="metres")]
PartCount = Annotated[int, Field(ge=1, le=10_000), BeforeValidator(whole)]


class HadPart(Document):
    """So many units of a part of the catalog that the customer already has."""

    sku: Id
    qty: PartCount


class OwnSpot(Document):
    """What a spot of the customer's own rail offers."""

    standard: Id
    end: End


class Car(Document):
    """A chassis, and perhaps how fuel is to run."""

    chassis: Id
    layout: Id | None = None


class Narrowing(Document):
    """The wishes that narrow the answer, and what the customer already has."""

    fuel: Annotated[Id | None, Field(description="default: the catalog's first fuel")] = None
    power_kw: Annotated[PowerKw | None, Field(description="default: the chassis's stock power")] = None
    pump_l_h: Annotated[
        FlowLh | None,
        Field(description="default, with a return: what the pump moves at idle, else demand times recirculation"),
    ] = None
    pump: Annotated[
        PumpCurve | None, Field(description="the pump's curve; default: the car's own, where the catalog tells it")
    ] = None
    pump_v: Annotated[
        PumpVolts | None,
        Field(description="of `pump`, or of the car's own pump; default: the pump gets what its curve is told for"),
    ] = None
    regulator: Annotated[Regulator | None, Field(description="a fact; default: what the part or the car tells")] = None
    injectors: Annotated[InjectorFlow | None, Field(description="a fact; default: the car's own")] = None
    feed_hose_m: HoseM | None = None
    return_hose_m: HoseM | None = None
    boost_kpa: Annotated[float, Field(ge=0, le=1_000)] = 0.0
    addons: Annotated[list[Id], Field(max_length=20, default_factory=list)]
    clearances: Annotated[
        list[Clearance],
        Field(max_length=40, default_factory=list, description="the smallest of car, add-ons and these counts"),
    ]
    gauge: Gauge = "none"
    finish: Label | None = None
    exclude: Annotated[list[Id], Field(max_length=200, default_factory=list)]
    in_stock_only: bool = False
    allow_unsold: bool = True
    max_price: Money | None = None
    have: Annotated[
        list[HadPart],
        Field(max_length=50, default_factory=list, description="parts at hand; the same SKU twice adds up"),
    ]
    own_rail: Annotated[
        Annotated[dict[Place, OwnSpot], Field(min_length=1, max_length=4)] | None,
        Field(description="a rail by somebody else, by its spots (both banks alike), in place of the catalog's"),
    ] = None


class Wishes(Narrowing, Car):
    """A chassis, perhaps a layout, the wishes that narrow the answer, and what the customer already has."""


class BillRequest(Wishes):
    """A chassis, a layout, and the wishes that narrow the answer."""

    layout: Id
    limit: Annotated[int, Field(ge=1, le=100), BeforeValidator(whole)] = 10
    group_variants: bool = True
    order_by: Annotated[
        OrderBy, Field(description="margin: the most left of the tightest limit first; power: what carries most first")
    ] = "price"
    revision: AskedRevision = None


class DetailedRequest(BillRequest):
    """The same, and how much is told of what is found."""

    detail: Annotated[
        Detail,
        Field(description="brief: prices and parts; reasons: with the reason for every line; full: with every figure"),
    ] = "reasons"

    def question(self) -> BillRequest:
        """What is asked, however much is told of it."""
        fields = {name: getattr(self, name) for name in BillRequest.model_fields}
        return BillRequest.model_construct(self.model_fields_set - {"detail"}, **fields)
