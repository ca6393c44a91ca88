"""The catalog document, format portwright-catalog/1: its shape. What must hold between its parts is in `integrity`."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from service.documents.catalog_cases import AnyCatalogCase
from service.documents.catalog_joints import Joint
from service.documents.engine_side import ChassisRegulator, Injectors, Manifold, Regulates, Tank
from service.documents.fields import (
    Aliases,
    Banks,
    Clearance,
    Country,
    Days,
    Document,
    End,
    Gtin,
    Id,
    Label,
    LanguageTag,
    LengthMm,
    Money,
    Name,
    Part0To1,
    Place,
    PowerKw,
    PressureKpa,
    Quantity,
    SizeMm,
    Spot,
    Stock,
    TemperatureC,
    Text,
    TurnDeg,
    Url,
    whole,
)
from service.documents.hardware import Gland, PartRange, PipeTaper, RailSeats, Ring, Screw, Spacer, StraightThread
from service.documents.pump import PumpCurve, PumpVolts
from service.domain.money import Tax

FORMAT = "portwright-catalog/1"

Kind = Literal[
    "rail",
    "fitting",
    "plug",
    "gauge",
    "line",
    "regulator",
    "seal",
    "fastener",
    "spacer",
    "clip",
    "bracket",
    "consumable",
]
Rating = Literal["A", "B", "C", "D"]
HookupKind = Literal["factory-line", "bulkhead", "own-hose"]


class Maker(Document):
    name: Name
    currency: Label
    tax: Annotated[Tax, Field(description="net: tax comes on top of all prices; gross: it is in them")] | None = None
    second_language: LanguageTag = None


class PortStandard(Document):
    """A published connection in one size."""

    id: Id
    name: Name
    family: Label
    size: Text
    seal: Literal["o-ring", "cone", "taper", "bead"]
    published: Text
    joint: Id
    thread: StraightThread | None = None
    gland: Gland | None = None
    taper: PipeTaper | None = None
    second_name: Name | None = None


class Bsfc(Document):
    """Brake-specific fuel consumption, g/kWh, naturally aspirated and boosted."""

    na: Annotated[float, Field(gt=0, le=3_000)]
    boosted: Annotated[float, Field(gt=0, le=3_000)]


class VapourPoint(Document):
    """A point of a fuel's vapour pressure."""

    c: TemperatureC
    kpa_abs: Annotated[float, Field(gt=0, le=100_000)]


class Fuel(Document):
    id: Id
    name: Name
    density_kg_m3: Annotated[float, Field(ge=10, le=2_000)]
    viscosity_mpa_s: Annotated[float, Field(ge=0.001, le=1_000)]
    stoich_afr: Annotated[float, Field(gt=0, le=100)]
    bsfc_g_kwh: Bsfc
    source: Text
    lhv_mj_kg: Annotated[float, Field(ge=1, le=150, description="lower heating value")] | None = None
    cautions: Annotated[list[Text], Field(min_length=1, max_length=20)] | None = None
    heat_capacity_j_kg_k: Annotated[float, Field(ge=100, le=20_000)] | None = None
    vapour: Annotated[list[VapourPoint], Field(min_length=2, max_length=50)] | None = None
    aliases: Aliases = None
    second_name: Name | None = None
    second_cautions: Annotated[list[Text], Field(min_length=1, max_length=20)] | None = None


class Material(Document):
    id: Id
    name: Name
    ratings: dict[Id, Rating]
    min_c: TemperatureC
    max_c: TemperatureC
    source: Text
    conductivity_w_m_k: Annotated[float, Field(gt=0, le=5_000)] | None = None
    expansion_1_k: Annotated[float, Field(ge=0, le=0.001)] | None = None
    shear_mpa: Annotated[float, Field(gt=0, le=5_000)] | None = None
    aliases: Aliases = None
    second_name: Name | None = None


class Flow(Document):
    """What the fuel runs through: a bore with its length, minor-loss coefficient and wall roughness."""

    bore_mm: Annotated[float, Field(ge=0.1, le=1_000)]
    length_mm: Annotated[float, Field(ge=0, le=100_000)]
    loss_k: Annotated[float, Field(ge=0, le=10_000)]
    roughness_mm: Annotated[float, Field(ge=0, le=10)]


class Port(Document):
    """A port of an item; `spot` tells its place on a rail and stands on rails alone."""

    id: Id
    standard: Id
    end: End
    spot: Place | None = None


class Supplied(Document):
    """What comes in the box of an item: for a spot of the rail, for a mounting role, or just so."""

    sku: Id
    qty: Quantity
    spot: Place | None = None
    role: Id | None = None


class Item(Document):
    sku: Id
    name: Name
    kind: Kind
    family: Label | None = None
    finish: Label | None = None
    sold: bool
    status: Literal["active", "retired"]
    superseded_by: Id | None = None
    price: Money
    stock: Stock
    lead_days: Days
    mass_g: Annotated[float, Field(ge=0, le=1_000_000)]
    gtin: Gtin | None = None
    mpn: Annotated[Label | None, Field(description="the number that its own maker gives it")] = None
    country: Annotated[
        Country | None, Field(description="where it is made, by ISO 3166-1 alpha-2; its form alone is looked at")
    ] = None
    url: Annotated[Url | None, Field(description="address of its page")] = None
    image: Annotated[Url | None, Field(description="address of a picture of it")] = None
    ports: list[Port]
    wetted: list[Id]
    max_kpa: PressureKpa | None = None
    standout_mm: LengthMm | None = None
    across_mm: LengthMm | None = None
    hex_mm: Annotated[float, Field(gt=0, le=500, description="across the flats that a wrench takes")] | None = None
    drive: Annotated[Label, Field(description="the key that turns it, where no wrench does")] | None = None
    outlet_deg: Annotated[TurnDeg, Field(description="how far its second port is turned; 0: straight on")] | None = None
    min_bend_mm: Annotated[SizeMm, Field(description="least radius of a hose, inside its bend")] | None = None
    flow: Flow | None = None
    patterns: list[Id] | None = None
    supplied: list[Supplied] | None = None
    ring: Ring | None = None
    screw: Screw | None = None
    spacer: Spacer | None = None
    seats: RailSeats | None = None
    injector_positions_mm: Annotated[list[LengthMm], Field(min_length=1, max_length=48)] | None = None
    spot_positions_mm: Annotated[dict[Place, LengthMm], Field(min_length=1)] | None = None
    regulates: Regulates | None = None
    aliases: Aliases = None
    second_name: Name | None = None


IN_TRADE = frozenset({"gtin", "mpn", "country", "url", "image"})
"""Fields of an item that are for shops alone: nothing is worked out from them."""


class Reach(Document):
    """The window, in standout from the spot, in which a hookup can be reached."""

    min_mm: LengthMm
    max_mm: LengthMm


class Hookup(Document):
    """An end that the car offers."""

    id: Id
    standard: Id
    end: End
    flow: Flow | None = None
    spots: dict[Spot, Reach] | None = None


class Mounting(Document):
    role: Id
    sku: Id
    qty: Quantity


class ChassisMounting(Mounting):
    optional: bool | None = None


class Chassis(Document):
    """A vehicle application: its engine, rail pattern, hookups, clearances and base pressure."""

    id: Id
    name: Name
    engine: Name
    cylinders: Annotated[int, Field(ge=1, le=48), BeforeValidator(whole)]
    banks: Banks
    pattern: Id
    base_kpa: PressureKpa
    stock_kw: PowerKw
    hookups: list[Hookup]
    clearances: list[Clearance]
    mounting: list[ChassisMounting]
    pump: PumpCurve | None = None
    pump_v: PumpVolts | None = None
    injectors: Injectors | None = None
    regulator: ChassisRegulator | None = None
    manifold: Manifold | None = None
    tank: Tank | None = None
    aliases: Aliases = None
    second_name: Name | None = None


class Fastener(Document):
    """Screws or nuts of one kind that hold an add-on on."""

    sku: Id
    qty: Quantity


class Addon(Document):
    """Equipment on the car that changes the rules."""

    id: Id
    name: Name
    chassis: list[Id]
    boost_kpa: PressureKpa
    clearances: list[Clearance]
    mounting: list[Mounting]
    raises_seat_mm: LengthMm | None = None
    fasteners: Annotated[list[Fastener], Field(min_length=1, max_length=20, description="hold it on")] | None = None
    aliases: Aliases = None
    second_name: Name | None = None


class LayoutHookup(Document):
    """Where a duty leads. All but `kind` is that of an own-hose; the car tells what its own lines are."""

    kind: HookupKind
    standard: Id | None = None
    end: End | None = None
    flow: Flow | None = None
    hex_mm: Annotated[float, Field(gt=0, le=500, description="across the flats of the hose's nut")] | None = None
    min_bend_mm: Annotated[SizeMm, Field(description="least radius of the hose, inside its bend")] | None = None


class DutyEntry(Document):
    duty: Literal["feed", "return", "link"]
    hookup: LayoutHookup | None = None
    to_spot: Spot | None = None
    via: list[Kind] | None = None


class Layout(Document):
    """How fuel runs: which spots have which duties, and to which hookups."""

    id: Id
    name: Name
    summary: Text
    banks: Banks
    placements: list[dict[Spot, DutyEntry]]
    aliases: Aliases = None
    second_name: Name | None = None
    second_summary: Text | None = None


class Policies(Document):
    """What decides whether a bill is valid; then, where the maker sets them, limits past which it is cautioned of.

    `power_reserve`: the part of the power asked that a set-up carries on top, below which it is called tight.
    """

    max_chain: Annotated[int, Field(ge=1, le=12), BeforeValidator(whole)]
    flow_margin: Annotated[float, Field(gt=0, le=100)]
    max_feed_drop_kpa: PressureKpa
    max_return_drop_kpa: PressureKpa
    max_velocity_m_s: Annotated[float, Field(gt=0, le=1_000)]
    recirculation: Annotated[float, Field(ge=0, le=1_000)]
    vapour_margin_kpa: PressureKpa | None = None
    seal_insertion_mm: LengthMm | None = None
    squeeze: PartRange | None = None
    max_gland_fill: Part0To1 | None = None
    max_proof_part: Part0To1 | None = None
    max_spread_percent: Annotated[float, Field(ge=0, le=100)] | None = None
    power_reserve: Part0To1 | None = None


class Catalog(Document):
    """The whole catalog: one JSON object, or a folder with one JSON file a section."""

    format: Literal["portwright-catalog/1"]
    maker: Maker
    port_standards: list[PortStandard]
    joints: list[Joint]
    fuels: Annotated[list[Fuel], Field(min_length=1)]
    materials: list[Material]
    items: list[Item]
    chassis: list[Chassis]
    addons: list[Addon]
    layouts: list[Layout]
    policies: Policies
    contract_cases: Annotated[list[AnyCatalogCase], Field(min_length=1)] | None = None
