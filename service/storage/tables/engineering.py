"""The tables of what the catalog may tell for engineering: one row where it is told, none where it is not."""

from typing import get_args

from service.documents.engine_side import Regulates
from service.documents.fields import PLACES
from service.documents.hardware import StraightThread, StrengthClass
from service.storage.tables.base import CatalogRow, key, one_of, refers

FOLLOWS = get_args(Regulates.model_fields["follows"].annotation)
_FORMS = get_args(StraightThread.model_fields["form"].annotation)


class PortThreadRow(CatalogRow, table=True):
    """The straight thread of a port standard."""

    __tablename__ = "port_thread"
    __table_args__ = (key("standard"), refers("standard", "port_standard", "id"), one_of("form", _FORMS))

    standard: str
    diameter_mm: float
    pitch_mm: float
    form: str


class PortGlandRow(CatalogRow, table=True):
    """The room of the ring of an O-ring boss."""

    __tablename__ = "port_gland"
    __table_args__ = (key("standard"), refers("standard", "port_standard", "id"))

    standard: str
    inside_mm: float
    outside_mm: float
    depth_mm: float
    diameter_tol_mm: float
    depth_tol_mm: float
    source: str | None


class PortTaperRow(CatalogRow, table=True):
    """A taper pipe thread."""

    __tablename__ = "port_taper"
    __table_args__ = (key("standard"), refers("standard", "port_standard", "id"))

    standard: str
    outside_mm: float
    pitch_mm: float
    hand_tight_mm: float


class FuelVapourRow(CatalogRow, table=True):
    """A point of a fuel's vapour pressure."""

    __tablename__ = "fuel_vapour"
    __table_args__ = (key("fuel", "position"), refers("fuel", "fuel", "id"))

    fuel: str
    c: float
    kpa_abs: float


class ItemRingRow(CatalogRow, table=True):
    """The O-ring that an item is."""

    __tablename__ = "item_ring"
    __table_args__ = (key("item"), refers("item", "item", "sku"))

    item: str
    inside_mm: float
    section_mm: float
    inside_tol_mm: float
    section_tol_mm: float


class ItemScrewRow(CatalogRow, table=True):
    """The screw that an item is."""

    __tablename__ = "item_screw"
    __table_args__ = (
        key("item"),
        refers("item", "item", "sku"),
        refers("material", "material", "id"),
        one_of("thread_form", _FORMS),
        one_of("strength_class", get_args(StrengthClass)),
    )

    item: str
    thread_diameter_mm: float
    thread_pitch_mm: float
    thread_form: str
    strength_class: str
    length_mm: float
    torque_min_nm: float
    torque_max_nm: float
    nut_factor_min: float
    nut_factor_max: float
    material: str


class ItemSpacerRow(CatalogRow, table=True):
    """The spacer that an item is."""

    __tablename__ = "item_spacer"
    __table_args__ = (key("item"), refers("item", "item", "sku"), refers("material", "material", "id"))

    item: str
    height_mm: float
    height_tol_mm: float
    outside_mm: float
    inside_mm: float
    material: str


class ItemSeatsRow(CatalogRow, table=True):
    """How a rail takes its injectors."""

    __tablename__ = "item_seats"
    __table_args__ = (key("item"), refers("item", "item", "sku"), refers("material", "material", "id"))

    item: str
    roof_mm: float
    roof_tol_mm: float
    cup_depth_mm: float
    foot_mm: float
    material: str


class ItemRegulatesRow(CatalogRow, table=True):
    """What an item that is a regulator can be set to, and what it follows."""

    __tablename__ = "item_regulates"
    __table_args__ = (key("item"), refers("item", "item", "sku"), one_of("follows", FOLLOWS))

    item: str
    min_kpa: float
    max_kpa: float
    follows: str


class ItemInjectorPositionRow(CatalogRow, table=True):
    """Where along a rail an injector is."""

    __tablename__ = "item_injector_position"
    __table_args__ = (key("item", "position"), refers("item", "item", "sku"))

    item: str
    mm: float


class ItemSpotPositionRow(CatalogRow, table=True):
    """Where along a rail a spot is."""

    __tablename__ = "item_spot_position"
    __table_args__ = (key("item", "spot"), refers("item", "item", "sku"), one_of("spot", PLACES))

    item: str
    spot: str
    mm: float


class ChassisPumpPointRow(CatalogRow, table=True):
    """A point of the curve of a car's pump."""

    __tablename__ = "chassis_pump_point"
    __table_args__ = (key("chassis", "position"), refers("chassis", "chassis", "id"))

    chassis: str
    kpa: float
    l_h: float


class ChassisPumpVoltsRow(CatalogRow, table=True):
    """The voltage of a car's pump: of its curve, and in the car."""

    __tablename__ = "chassis_pump_volts"
    __table_args__ = (key("chassis"), refers("chassis", "chassis", "id"))

    chassis: str
    rated: float
    fed: float


class ChassisInjectorsRow(CatalogRow, table=True):
    """The injectors of an engine."""

    __tablename__ = "chassis_injectors"
    __table_args__ = (key("chassis"), refers("chassis", "chassis", "id"), refers("material", "material", "id"))

    chassis: str
    static_l_h: float
    rated_kpa: float
    max_duty: float | None
    length_mm: float
    length_tol_mm: float
    upper_ring_mm: float
    lower_ring_mm: float
    bore_mm: float
    material: str


class ChassisRegulatorRow(CatalogRow, table=True):
    """The regulator of a car."""

    __tablename__ = "chassis_regulator"
    __table_args__ = (
        key("chassis"),
        refers("chassis", "chassis", "id"),
        one_of("at", ("tank", "rail")),
        one_of("follows", FOLLOWS),
    )

    chassis: str
    at: str | None
    follows: str | None


class ChassisManifoldRow(CatalogRow, table=True):
    """Where rail and injectors of an engine stand."""

    __tablename__ = "chassis_manifold"
    __table_args__ = (key("chassis"), refers("chassis", "chassis", "id"), refers("material", "material", "id"))

    chassis: str
    seat_mm: float
    seat_tol_mm: float
    thread_mm: float
    material: str
    cold_c: float
    hot_c: float


class ChassisTankRow(CatalogRow, table=True):
    """The fuel of a car before its pump, and in its rail after a hot stop."""

    __tablename__ = "chassis_tank"
    __table_args__ = (key("chassis"), refers("chassis", "chassis", "id"))

    chassis: str
    fuel_c: float
    soak_c: float
    lift_m: float
    inlet_loss_kpa: float
    rest_kpa: float
